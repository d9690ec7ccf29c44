//! Crank journals: their largest diameter, on which clearances stand, and their shape.

use super::shape::{Section, out_of_round, taper};
use super::slot::SlotRow;
use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, ItemKind, Place, Plane, Quarter, SlotFeature, TargetFeature};
use crate::metrology::{GaugeKind, Measured};

/// Main or rod journals: what their readings and findings are called.
#[derive(Clone)]
pub(super) struct JournalReads {
    pub slot: fn(Plane, Quarter) -> SlotFeature,
    pub target: TargetFeature,
    pub size: FindingFeature,
    pub out_of_round: FindingFeature,
    pub taper: FindingFeature,
}

/// Main journals.
pub(super) const MAIN: JournalReads = JournalReads {
    slot: SlotFeature::MainJournal,
    target: TargetFeature::MainJournal,
    size: FindingFeature::MainJournalSize,
    out_of_round: FindingFeature::MainJournalOutOfRound,
    taper: FindingFeature::MainJournalTaper,
};

/// Rod journals.
pub(super) const ROD: JournalReads = JournalReads {
    slot: SlotFeature::RodJournal,
    target: TargetFeature::RodJournal,
    size: FindingFeature::RodJournalSize,
    out_of_round: FindingFeature::RodJournalOutOfRound,
    taper: FindingFeature::RodJournalTaper,
};

/// A journal's readings.
pub(super) struct Journal {
    pub largest: Measured,
    pub ids: Vec<String>,
    read: Vec<(Plane, Quarter, Measured)>,
}

impl JournalReads {
    /// Bench order within one journal.
    pub fn rows(&self, group: &'static str) -> [SlotRow; 4] {
        let row = |plane, quarter, label| {
            ((self.slot)(plane, quarter), label, group, GaugeKind::OutsideMicrometer, ItemKind::Crank)
        };
        [
            row(Plane::Front, Quarter::Zero, "front, 0°"),
            row(Plane::Front, Quarter::Ninety, "front, 90°"),
            row(Plane::Rear, Quarter::Zero, "rear, 0°"),
            row(Plane::Rear, Quarter::Ninety, "rear, 90°"),
        ]
    }

    /// What was read of a journal; none where nothing was.
    pub fn at(&self, book: &Book, place: Place) -> Option<Journal> {
        let mut read = Vec::new();
        let mut ids = Vec::new();
        for plane in [Plane::Front, Plane::Rear] {
            for quarter in [Quarter::Zero, Quarter::Ninety] {
                if let Some((value, taken)) = book.figure((self.slot)(plane, quarter), place) {
                    ids.extend(taken.readings.iter().cloned());
                    read.push((plane, quarter, value));
                }
            }
        }
        let largest = read.iter().map(|(.., v)| v).max_by(|a, b| a.value().total_cmp(&b.value()))?.clone();
        Some(Journal { largest, ids, read })
    }

    /// The largest diameter read, which clearances stand on, judged by the worst; and the journal's shape.
    pub fn found(&self, book: &Book, place: Place, journal: &Journal) -> Vec<Finding> {
        let mut size = Finding {
            target: book.setup.target(self.target, place),
            working: vec![format!("largest read {}", book.words().size(journal.largest.value()))],
            value: Some(journal.largest.clone()),
            readings: journal.ids.clone(),
            ..Finding::new(self.size.clone(), place, Basis::Readings)
        };
        size.set_ends(&journal.diameters());
        std::iter::once(size).chain(self.shape(book, place, journal)).collect()
    }

    /// Out-of-round and taper of a journal, as far as they were read.
    fn shape(&self, book: &Book, place: Place, journal: &Journal) -> Vec<Finding> {
        let begin = |feature: &FindingFeature| {
            let ids = journal.ids.clone();
            Finding { readings: ids, ..Finding::new(feature.clone(), place, Basis::Readings) }
        };
        let ends = [journal.section("front", Plane::Front), journal.section("rear", Plane::Rear)];
        let [front, rear] = &ends;
        let round = out_of_round(begin(&self.out_of_round), &ends, book.words());
        let taper = taper(begin(&self.taper), front, rear, ["0°", "90°"], book.words());
        round.into_iter().chain(taper).collect()
    }
}

impl Journal {
    /// Every diameter read.
    fn diameters(&self) -> Vec<&Measured> {
        self.read.iter().map(|(.., value)| value).collect()
    }

    fn at(&self, plane: Plane, quarter: Quarter) -> Option<&Measured> {
        self.read.iter().find(|(p, q, _)| (*p, *q) == (plane, quarter)).map(|(.., value)| value)
    }

    fn section(&self, at: &'static str, plane: Plane) -> Section<'_> {
        Section { at, across: [self.at(plane, Quarter::Zero), self.at(plane, Quarter::Ninety)] }
    }
}
