//! A bearing's housing as it is read: its size and how round it is.

use super::shape::{Section, out_of_round};
use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, Place, SlotFeature, Spot, TargetFeature};
use crate::metrology::Measured;

/// Which housing, and what is found of it.
pub(super) struct Housing {
    pub slot: fn(Spot) -> SlotFeature,
    pub size: FindingFeature,
    pub round: FindingFeature,
    pub target: TargetFeature,
    /// "big end".
    pub name: &'static str,
}

impl Housing {
    /// The housing as read vertically, with what was read near the parting line beside it: it is judged by the worse of them.
    /// Where neither was, what is missing.
    pub fn at(&self, book: &Book, place: Place) -> Vec<Finding> {
        if self.is_read(book, place) {
            return self.if_read(book, place);
        }
        let target = book.setup.target(self.target, place);
        let missing = format!("{} of {}", self.name, book.setup.architecture.label(place));
        let basis = if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } };
        vec![Finding { target, ..Finding::new(self.size.clone(), place, basis) }]
    }

    /// The same; nothing where it was not read.
    pub fn if_read(&self, book: &Book, place: Place) -> Vec<Finding> {
        let words = book.words();
        let begin = |feature: &FindingFeature| Finding::new(feature.clone(), place, Basis::Readings);
        let [vertical, parting] = [Spot::Vertical, Spot::Parting].map(|spot| book.figure((self.slot)(spot), place));
        let both = [vertical.as_ref(), parting.as_ref()];
        let read: Vec<&Measured> = both.into_iter().flatten().map(|(value, _)| value).collect();
        let Some(main) = read.first() else { return Vec::new() };
        let readings: Vec<String> = both.into_iter().flatten().flat_map(|(_, taken)| taken.readings.clone()).collect();
        let mut size = Finding {
            target: book.setup.target(self.target, place),
            value: Some((*main).clone()),
            readings: readings.clone(),
            ..begin(&self.size)
        };
        for (way, figure) in ["vertically", "near the parting line"].into_iter().zip(both) {
            match figure {
                Some((value, _)) => size.working.push(format!("{way} {}", words.size(value.value()))),
                None => size.remarks.push(format!("not read {way}")),
            }
        }
        size.set_ends(&read);
        let sections = [Section { at: self.name, across: both.map(|figure| figure.map(|(value, _)| value)) }];
        let round = Finding { readings, ..begin(&self.round) };
        std::iter::once(size).chain(out_of_round(round, &sections, words)).collect()
    }

    fn is_read(&self, book: &Book, place: Place) -> bool {
        [Spot::Vertical, Spot::Parting].into_iter().any(|spot| book.figure((self.slot)(spot), place).is_some())
    }
}
