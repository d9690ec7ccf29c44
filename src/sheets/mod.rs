//! One file per measuring job: which readings to take, in what order; what follows from them.
//!
//! To add one: write its file, name it in [`crate::engine::SheetKey`], list it in [`sheet`]. It then has its bench page,
//! validation, verdicts, command-line form, tables on page and paper, and its place in the history.

mod as_read;
mod balance;
mod bearing;
mod block;
mod book;
mod choose_deck;
mod choose_fit;
mod choose_pistons;
mod choose_shells;
mod choose_shims;
mod coarse;
mod complete;
mod compression;
mod crankshaft;
mod crush;
mod cylinder_bores;
mod disagreement;
mod expect;
mod figure;
mod film;
mod finding;
mod fit;
mod housing;
mod journal;
mod made_stale;
mod main_bearings;
mod main_line;
mod misread;
mod motion;
mod options;
mod pictures;
mod pin_fit;
mod piston_deck;
mod pistons;
mod press_fits;
mod rings;
mod rod_bearings;
mod rods;
mod room;
mod seating;
mod second_reading;
mod settle;
mod shape;
mod slot;
mod stiffness;
mod taken;
mod things;
mod told;
mod turning_clearances;
mod warm_bearing;
mod whole_set;
mod words;

pub use book::Book;
pub use coarse::{Coarse, coarse, coarse_gauges};
pub use expect::{Background, Expectation, ExpectedFrom, FamilyHistory, acceptance, expectation};
pub use finding::{Basis, Finding, Standing};
pub use made_stale::{Change, MADE_STALE, MadeStale};
pub use misread::{Odd, Slip, misread};
pub use options::{Choice, Options};
pub use pictures::mark_of;
pub use second_reading::Wanted;
pub use slot::{Depth, ON_THE_DECK, ON_THE_JOURNAL, Slot, ValueFault};
pub use taken::{ReadAt, Take, TakeValue, Taken, TakenValue};
pub use things::things_read;
pub use whole_set::{EarlierRound, SetDoubt, set_doubts, told_in_full};
pub use words::Words;

use crate::engine::{FindingFeature, Place, Setup, SheetKey, SlotFeature};

/// A measuring job.
pub struct Sheet {
    pub key: SheetKey,
    /// Raised whenever the same readings can give other findings; golden findings pin it.
    pub edition: u32,
    pub title: &'static str,
    pub purpose: &'static str,
    /// Read first: what can hurt someone, or spoil the reading.
    pub caution: &'static str,
    /// Sheets whose findings this one asks for. A test refuses cycles.
    pub reads: &'static [SheetKey],
    /// Findings whose home is here.
    pub finds: &'static [FindingFeature],
    /// The finding it is first taken for: its places stand on the engine's plan and on one scale.
    pub main: FindingFeature,
    /// Findings whose rounds stand side by side.
    pub compared: &'static [FindingFeature],
    /// Every reading to take, in bench order.
    pub slots: fn(&Setup) -> Vec<Slot>,
    /// What can be chosen, worked out on demand.
    pub options: Option<Options>,
    /// What follows from the readings in the book.
    pub work_out: fn(&Book) -> Vec<Finding>,
}

/// The sheet of a key.
pub fn sheet(key: SheetKey) -> &'static Sheet {
    match key {
        SheetKey::Block => &block::SHEET,
        SheetKey::Crankshaft => &crankshaft::SHEET,
        SheetKey::Rods => &rods::SHEET,
        SheetKey::Pistons => &pistons::SHEET,
        SheetKey::CylinderBores => &cylinder_bores::SHEET,
        SheetKey::Rings => &rings::SHEET,
        SheetKey::MainBearings => &main_bearings::SHEET,
        SheetKey::RodBearings => &rod_bearings::SHEET,
        SheetKey::Compression => &compression::SHEET,
        SheetKey::Balance => &balance::SHEET,
        SheetKey::Motion => &motion::SHEET,
        SheetKey::TurningClearances => &turning_clearances::SHEET,
        SheetKey::PressFits => &press_fits::SHEET,
    }
}

/// A bearing's clearance at temperatures of its housing, in K and m, from cold to hot; none on other sheets, or where it is not
/// told hot.
pub fn clearance_over_temperature(key: SheetKey, book: &Book, place: Place) -> Option<Vec<(f64, f64)>> {
    match key {
        SheetKey::MainBearings => main_bearings::warm(book, place),
        SheetKey::RodBearings => rod_bearings::warm(book, place),
        _ => None,
    }
}

/// The sheet that a reading kept on one belongs to: main journals were read with the main bearings before they had their home with
/// the crankshaft.
pub fn home_of_reading(kept_on: SheetKey, slot: &SlotFeature) -> SheetKey {
    match (kept_on, slot) {
        (SheetKey::MainBearings, SlotFeature::MainJournal(..)) => SheetKey::Crankshaft,
        _ => kept_on,
    }
}

/// The sheet that a finding's feature has its home in.
pub fn home_of(feature: &FindingFeature) -> Option<SheetKey> {
    SheetKey::ALL.into_iter().find(|&key| sheet(key).finds.contains(feature))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_finding_has_one_home() {
        for (text, feature) in FindingFeature::all() {
            let homes = SheetKey::ALL.into_iter().filter(|&key| sheet(key).finds.contains(&feature)).count();
            assert_eq!(homes, 1, "{text}");
        }
    }

    #[test]
    fn sheets_ask_each_other_without_a_cycle() {
        fn walk(key: SheetKey, path: &mut Vec<SheetKey>) {
            assert!(!path.contains(&key), "cycle: {path:?} then {key:?}");
            path.push(key);
            for &next in sheet(key).reads {
                walk(next, path);
            }
            path.pop();
        }
        for key in SheetKey::ALL {
            walk(key, &mut Vec::new());
        }
    }
}
