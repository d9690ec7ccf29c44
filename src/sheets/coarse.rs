//! Whether a gauge tells enough for what its readings decide: its step against the tightest limit they feed.
//!
//! A tenth of the tolerance is the old rule of the toolroom (common practice, no source). A coarser gauge is warned about
//! and widens the uncertainty by its own step; one whose step exceeds the whole tolerance can decide nothing.

use super::expect::journal_target;
use super::{Book, Slot};
use crate::engine::{FindingFeature, Off, Ring, SheetKey, SlotFeature, SlotKey, Spot};
use std::collections::BTreeMap;

/// What a step does to a decision. Lengths in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coarse {
    /// A tenth of the tolerance or finer, or no limit to decide by.
    Fine,
    /// Coarser than a tenth of the tolerance.
    Coarse { tolerance: f64 },
    /// Coarser than the whole tolerance.
    Useless { tolerance: f64 },
}

/// Differences below this part of a step come from arithmetic.
const ARITHMETIC: f64 = 1e-6;

/// How a reading told to `step` (m) stands against the tightest limit that the slot feeds.
pub fn coarse(book: &Book, slot: &SlotKey, step: f64) -> Coarse {
    let tolerances = feeds(&slot.feature).iter().filter_map(|feature| tolerance(book, feature, slot));
    match tolerances.min_by(f64::total_cmp) {
        Some(tolerance) if step > tolerance * (1.0 + ARITHMETIC) => Coarse::Useless { tolerance },
        Some(tolerance) if step > tolerance / 10.0 * (1.0 + ARITHMETIC) => Coarse::Coarse { tolerance },
        _ => Coarse::Fine,
    }
}

/// Of a sheet, each gauge that is too coarse for what it feeds, once: what is said of it.
pub fn coarse_gauges(book: &Book, sheet: SheetKey) -> Vec<String> {
    let slots = (super::sheet(sheet).slots)(&book.setup);
    let of_sheet: BTreeMap<&SlotKey, &Slot> = slots.iter().map(|slot| (&slot.key, slot)).collect();
    // The step and the tightest tolerance of each gauge.
    let mut worst: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for told in book.told().all().filter(|told| of_sheet.contains_key(&told.slot)) {
        let Some(step) = told.step else { continue };
        let (Coarse::Coarse { tolerance } | Coarse::Useless { tolerance }) = coarse(book, &told.slot, step) else {
            continue;
        };
        let known = worst.entry(&told.gauge).or_insert((step, tolerance));
        if step / tolerance > known.0 / known.1 {
            *known = (step, tolerance);
        }
    }
    let words = book.words();
    let said = |(gauge, (step, tolerance)): (&str, (f64, f64))| {
        format!(
            "{gauge} was read to {}, and the tightest limit it feeds is {} wide: a tenth of that, {}, would decide more \
             surely. The coarser step is counted in what the figures are good to.",
            words.step(step),
            words.step(tolerance),
            words.step(tolerance / 10.0)
        )
    };
    worst.into_iter().map(said).collect()
}

/// The findings with a limit that a reading goes into.
fn feeds(slot: &SlotFeature) -> &'static [FindingFeature] {
    use FindingFeature as F;
    match slot {
        SlotFeature::BoreStated => &[F::BoreSize, F::PistonClearance],
        SlotFeature::Bore(..) => &[F::BoreSize, F::BoreOutOfRound, F::BoreTaper, F::BoreSpread, F::PistonClearance],
        SlotFeature::SkirtStated | SlotFeature::Skirt => &[F::SkirtDiameter, F::PistonClearance],
        SlotFeature::MainClearanceStated => &[F::MainClearance(Spot::Vertical)],
        SlotFeature::MainClearanceDirect(Spot::Parting) => &[F::MainClearance(Spot::Parting)],
        SlotFeature::MainClearanceDirect(Spot::Vertical)
        | SlotFeature::MainPlasticStrip
        | SlotFeature::MainShellBore(_)
        | SlotFeature::MainHousing(_)
        | SlotFeature::MainShellWall(_) => &[F::MainClearance(Spot::Vertical), F::MainClearanceSpread],
        SlotFeature::MainJournal(..) => &[
            F::MainClearance(Spot::Vertical),
            F::MainClearanceSpread,
            F::MainJournalSize,
            F::MainJournalOutOfRound,
            F::MainJournalTaper,
        ],
        SlotFeature::RodClearanceStated => &[F::RodClearance(Spot::Vertical)],
        SlotFeature::RodClearanceDirect(Spot::Parting) => &[F::RodClearance(Spot::Parting)],
        SlotFeature::RodClearanceDirect(Spot::Vertical)
        | SlotFeature::RodPlasticStrip
        | SlotFeature::RodShellBore(_)
        | SlotFeature::RodShellWall(_) => &[F::RodClearance(Spot::Vertical), F::RodClearanceSpread],
        SlotFeature::RodJournal(..) => &[
            F::RodClearance(Spot::Vertical),
            F::RodClearanceSpread,
            F::RodJournalSize,
            F::RodJournalOutOfRound,
            F::RodJournalTaper,
        ],
        SlotFeature::RodHousing(_) => {
            &[F::RodClearance(Spot::Vertical), F::RodClearanceSpread, F::RodHousingSize, F::RodHousingOutOfRound]
        }
        SlotFeature::SmallEnd => &[F::SmallEndSize, F::PinInRod],
        SlotFeature::Pin => &[F::PinInRod, F::PinInPiston],
        SlotFeature::PinBore => &[F::PinInPiston],
        SlotFeature::DeckStated => &[F::DeckClearance, F::Squish],
        SlotFeature::Deck(_) => &[F::DeckClearance, F::Squish, F::PistonRock],
        SlotFeature::RingGap(Ring::Top) => &[F::RingGap(Ring::Top)],
        SlotFeature::RingGap(Ring::Second) => &[F::RingGap(Ring::Second)],
        SlotFeature::RingGap(Ring::Rail) => &[F::RingGap(Ring::Rail)],
        SlotFeature::MainLine(Off::Vertical) => &[F::MainLineStep(Off::Vertical), F::MainLineSpread(Off::Vertical)],
        SlotFeature::MainLine(Off::Sideways) => &[F::MainLineStep(Off::Sideways), F::MainLineSpread(Off::Sideways)],
        _ => &[],
    }
}

/// How wide a limit is: from its lower end to its upper; of what cannot be below zero, from zero. One end alone of a size or
/// a clearance leaves it open.
fn tolerance(book: &Book, feature: &FindingFeature, slot: &SlotKey) -> Option<f64> {
    let place = if slot.place.whole() == feature.whole() { slot.place } else { feature.whole() };
    let band = book.limit(feature, place)?.band(journal_target(&book.setup, feature, slot.place))?;
    let least = band.min().or_else(|| feature.is_a_difference().then_some(0.0))?;
    Some(band.max()? - least).filter(|width| *width > 0.0)
}
