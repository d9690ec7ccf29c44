//! What of the findings a card can show, in the order of the engine, and what its columns are called.

use crate::engine::FindingFeature as F;
use crate::engine::{FindingFeature, Off, Passing, Plane, PressedIn, Ring, SheetKey, Spot, Weighed};

/// Findings that a line of the card speaks for.
pub(super) struct Measured {
    /// The line's key.
    pub key: &'static str,
    pub title: &'static str,
    /// What stands in one table where a card shows several of them.
    pub together: &'static str,
    /// Where its figures are taken.
    pub sheet: SheetKey,
    pub features: &'static [FindingFeature],
}

const CYLINDERS: &str = "Cylinders";
const MAINS: &str = "Main bearing clearance";
const RODS: &str = "Rods and pins";

/// Every group, in the order of the card.
pub(super) static MEASURED: [Measured; 17] = [
    group(
        "measured-block",
        "Block",
        "Block",
        SheetKey::Block,
        &[F::WallLeast, F::DeckHeight, F::DeckTilt, F::DeckFlatness],
    ),
    group(
        "measured-bores",
        "Cylinder bores",
        CYLINDERS,
        SheetKey::CylinderBores,
        &[F::BoreSize, F::BoreOutOfRound, F::BoreTaper, F::BoreSpread],
    ),
    group("measured-skirts", "Piston skirts", CYLINDERS, SheetKey::Pistons, &[F::SkirtDiameter]),
    group("measured-pistons", "Piston clearance", CYLINDERS, SheetKey::CylinderBores, &[F::PistonClearance]),
    group(
        "measured-rings",
        "Ring end gaps",
        "Ring end gaps",
        SheetKey::Rings,
        &[F::RingGap(Ring::Top), F::RingGap(Ring::Second), F::RingGap(Ring::Rail)],
    ),
    group(
        "measured-housings",
        "Main housings",
        "Main housings",
        SheetKey::MainBearings,
        &[F::MainHousingSize, F::MainHousingOutOfRound, F::MainLine(Off::Vertical), F::MainLine(Off::Sideways)],
    ),
    group(
        "measured-mains",
        MAINS,
        MAINS,
        SheetKey::MainBearings,
        &[
            F::MainClearance(Spot::Vertical),
            F::MainClearance(Spot::Parting),
            F::MainClearanceRatio,
            F::MainClearanceHot,
            F::MainRoutes,
            F::MainClearanceSpread,
        ],
    ),
    group(
        "measured-journals",
        "Main journals",
        "Main journals",
        SheetKey::Crankshaft,
        &[F::MainJournalSize, F::MainJournalOutOfRound, F::MainJournalTaper],
    ),
    group(
        "measured-crank",
        "Crank",
        "Crank",
        SheetKey::Crankshaft,
        &[F::RodJournalSize, F::RodJournalOutOfRound, F::RodJournalTaper, F::Stroke, F::EndPlay, F::TurningCrank],
    ),
    group(
        "measured-rod-bearings",
        "Rod bearing clearance",
        "Rod bearing clearance",
        SheetKey::RodBearings,
        &[
            F::RodClearance(Spot::Vertical),
            F::RodClearance(Spot::Parting),
            F::RodClearanceRatio,
            F::RodClearanceHot,
            F::RodRoutes,
            F::RodClearanceSpread,
        ],
    ),
    group(
        "measured-rods",
        "Rods",
        RODS,
        SheetKey::Rods,
        &[F::RodHousingSize, F::RodHousingOutOfRound, F::RodLength, F::PinInRod],
    ),
    group(
        "measured-sleeves",
        "Sleeves in the block",
        "Sleeves in the block",
        SheetKey::PressFits,
        &[
            F::FitInterference(PressedIn::Sleeve),
            F::FitHot(PressedIn::Sleeve),
            F::FitLost(PressedIn::Sleeve),
            F::FitHolds(PressedIn::Sleeve),
        ],
    ),
    group(
        "measured-bushes",
        "Small ends’ bushes",
        "Small ends’ bushes",
        SheetKey::PressFits,
        &[
            F::FitInterference(PressedIn::Bush),
            F::FitHot(PressedIn::Bush),
            F::FitLost(PressedIn::Bush),
            F::FitHolds(PressedIn::Bush),
        ],
    ),
    group("measured-pins", "Pins in the pistons", RODS, SheetKey::Pistons, &[F::PinInPiston]),
    group(
        "measured-compression",
        "Deck and compression",
        "Deck and compression",
        SheetKey::Compression,
        &[F::DeckClearance, F::Squish, F::ChamberVolume, F::CompressionRatio, F::EffectiveRatio, F::CompressionSpread],
    ),
    group(
        "measured-balance",
        "Weights and balance",
        "Weights and balance",
        SheetKey::Balance,
        &[
            F::Bobweight,
            F::WeightSpread(Weighed::Piston),
            F::WeightSpread(Weighed::SmallEnd),
            F::WeightSpread(Weighed::BigEnd),
            F::Residual(Plane::Front),
            F::Residual(Plane::Rear),
        ],
    ),
    group(
        "measured-turning",
        "Turning clearances",
        "Turning clearances",
        SheetKey::TurningClearances,
        &[
            F::Clear(Passing::RodToBlock),
            F::Clear(Passing::RodToCam),
            F::Clear(Passing::CounterweightToBlock),
            F::Clear(Passing::CounterweightToPiston),
            F::Clear(Passing::ToPan),
            F::Clear(Passing::ToTray),
        ],
    ),
];

const fn group(
    key: &'static str,
    title: &'static str,
    together: &'static str,
    sheet: SheetKey,
    features: &'static [FindingFeature],
) -> Measured {
    Measured { key, title, together, sheet, features }
}

/// The sheet where the figures of a line are taken; none of lines that show no figures.
pub fn sheet_of_line(key: &str) -> Option<SheetKey> {
    MEASURED.iter().find(|group| group.key == key).map(|group| group.sheet)
}

/// What a column is called, under a title that says what it is of.
pub(super) fn short(feature: &FindingFeature) -> &str {
    match feature {
        F::BoreSize => "bore",
        F::BoreOutOfRound
        | F::MainJournalOutOfRound
        | F::RodJournalOutOfRound
        | F::RodHousingOutOfRound
        | F::MainHousingOutOfRound => "out-of-round",
        F::BoreTaper | F::MainJournalTaper | F::RodJournalTaper => "taper",
        F::SkirtDiameter => "skirt",
        F::PistonClearance => "clearance",
        F::MainClearance(Spot::Vertical) | F::RodClearance(Spot::Vertical) => "vertical",
        F::MainClearance(Spot::Parting) | F::RodClearance(Spot::Parting) => "at parting line",
        F::MainClearanceRatio | F::RodClearanceRatio => "by diameter",
        F::MainClearanceHot | F::RodClearanceHot => "hot",
        F::MainRoutes | F::RodRoutes => "two routes apart",
        F::BoreSpread => "bores, largest less smallest",
        F::MainClearanceSpread | F::RodClearanceSpread => "vertical, largest less smallest",
        F::MainJournalSize => "size",
        F::RodJournalSize => "rod journal",
        F::RingGap(Ring::Top) => "top",
        F::RingGap(Ring::Second) => "second",
        F::RingGap(Ring::Rail) => "oil rail",
        F::RodHousingSize => "big end",
        F::MainHousingSize => "housing",
        F::RodLength => "length",
        F::PinInRod => "pin in rod",
        F::PinInPiston => "pin in piston",
        F::DeckClearance => "deck",
        F::ChamberVolume => "chamber",
        F::CompressionRatio => "ratio",
        F::EffectiveRatio => "from inlet closing",
        F::CompressionSpread => "ratios, highest less lowest",
        F::WallLeast => "least wall",
        F::DeckHeight => "height",
        F::DeckTilt => "corners apart",
        F::DeckFlatness => "flatness",
        F::MainLine(Off::Vertical) => "off the line, vertical",
        F::MainLine(Off::Sideways) => "sideways",
        F::FitInterference(_) => "tight",
        F::FitHot(_) => "tight when hot",
        F::FitLost(_) => "loose when warmer by",
        F::FitHolds(_) => "held by",
        _ => feature.title(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::home_of;

    #[test]
    fn every_group_stands_once_and_its_findings_are_of_its_sheet() {
        let keys: std::collections::BTreeSet<&str> = MEASURED.iter().map(|group| group.key).collect();
        assert_eq!(keys.len(), MEASURED.len());
        for group in &MEASURED {
            for feature in group.features {
                assert_eq!(home_of(feature), Some(group.sheet), "{}: {}", group.key, feature.text());
            }
        }
    }
}
