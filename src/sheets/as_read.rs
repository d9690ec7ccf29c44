//! Findings that are what was read, without more: a size, a runout, a mass.

use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, Place, SlotFeature, TargetFeature};

/// What is read, how it is called, and the finding it becomes.
pub(super) struct AsRead {
    pub slot: SlotFeature,
    /// The slot of a figure for the place as a whole, or for all places; none where there is no such slot.
    pub stated: Option<SlotFeature>,
    pub finding: FindingFeature,
    /// "skirt": what is missing is the "skirt of cylinder 3".
    pub name: &'static str,
}

impl AsRead {
    /// What was read or stated at a place; where neither was, what is missing, for which its target may stand in.
    pub fn at(&self, book: &Book, place: Place) -> Finding {
        let target = TargetFeature::of_slot(&self.slot).and_then(|feature| book.setup.target(feature, place));
        let finding = self.read(book, place).unwrap_or_else(|| {
            let missing = format!("{} of {}", self.name, book.setup.architecture.label(place));
            let basis = if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } };
            Finding::new(self.finding.clone(), place, basis)
        });
        Finding { target, ..finding }
    }

    /// The same; none where it was neither read nor stated.
    pub fn if_read(&self, book: &Book, place: Place) -> Option<Finding> {
        let finding = self.read(book, place)?;
        let target = TargetFeature::of_slot(&self.slot).and_then(|feature| book.setup.target(feature, place));
        Some(Finding { target, ..finding })
    }

    /// What was read or stated; where neither was, what is missing if a target was set, so that somebody asks for it.
    pub fn if_asked(&self, book: &Book, place: Place) -> Option<Finding> {
        let finding = self.at(book, place);
        (!matches!(finding.basis, Basis::Missing { .. })).then_some(finding)
    }

    fn read(&self, book: &Book, place: Place) -> Option<Finding> {
        let checked = book.taken(self.slot.clone(), place).filter(|taken| taken.checked().is_some());
        if let Some((value, taken)) = book.figure(self.slot.clone(), place) {
            let working = vec![format!("{} {}", self.name, book.words().said(self.finding.measure(), value.value()))];
            let finding = Finding::new(self.finding.clone(), place, Basis::Readings);
            return Some(Finding { value: Some(value), working, readings: taken.readings.clone(), ..finding });
        }
        let stated = self.stated.as_ref().and_then(|stated| book.stated(stated, place));
        let taken = checked.or(stated)?;
        Some(Finding::stated(self.finding.clone(), place, taken, book.words()))
    }
}

/// Judges every finding by its limit.
pub(super) fn judge_all(findings: &mut [Finding], book: &Book) {
    for finding in findings {
        let limit = book.limit(&finding.key.feature, finding.key.place);
        finding.judge_by(limit, None, book.rule);
    }
}
