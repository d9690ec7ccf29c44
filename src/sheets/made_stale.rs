//! What a change makes stale: which readings are to be taken again, and why. One row for each change.
//!
//! Common practice, no source: makers' and a family's own words go before it.

use crate::engine::SlotFeature as F;
use crate::engine::{Bearings, ItemKind, Passing, PressedIn, SlotFeature, Weighed, kept_words};

kept_words! {
    /// Something changed, reworked or replaced after readings were taken.
    pub enum Change {
        MainFastener = "main-fastener", "other main cap fasteners";
        MainTorque = "main-torque", "main caps pulled down otherwise";
        MainLubricant = "main-lubricant", "another lubricant on the main fasteners";
        MainCap = "main-cap", "another main cap";
        LineHone = "line-hone", "main line honed";
        MainShells = "main-shells", "other main shells";
        RodShells = "rod-shells", "other rod shells";
        ShellCoating = "shell-coating", "shells coated";
        RodBolts = "rod-bolts", "other rod bolts";
        RodTorque = "rod-torque", "rod bolts pulled down otherwise";
        CrankGround = "crank-ground", "crank ground or polished";
        ThrustShell = "thrust-shell", "another thrust shell";
        HonePlate = "hone-plate", "honed with another plate, or none";
        HeadFastener = "head-fastener", "other head fasteners or torque";
        Honed = "honed", "bores honed";
        Pistons = "pistons", "other pistons";
        SkirtCoating = "skirt-coating", "skirts coated";
        Pins = "pins", "other pins";
        Rings = "rings", "other rings";
        DeckCut = "deck-cut", "deck cut";
        HeadGasket = "head-gasket", "another head gasket";
        HeadMilled = "head-milled", "head milled";
        Valves = "valves", "valves or seats cut or changed";
        Camshaft = "camshaft", "another camshaft";
        Sleeved = "sleeved", "cylinders sleeved";
        SmallEndBushes = "small-end-bushes", "small ends bushed";
        Block = "block", "another block";
        Crankshaft = "crankshaft", "another crankshaft";
        Rods = "rods", "other rods";
        Head = "head", "another cylinder head";
    }
}

impl Change {
    /// What fitting another thing of a kind changes.
    pub fn by_fitting(kind: ItemKind) -> Self {
        match kind {
            ItemKind::Block => Self::Block,
            ItemKind::Crank => Self::Crankshaft,
            ItemKind::Head => Self::Head,
            ItemKind::Rod => Self::Rods,
            ItemKind::Piston => Self::Pistons,
            ItemKind::MainShells => Self::MainShells,
        }
    }

    /// Why it makes a reading of this stale; none where it does not.
    pub fn makes_stale(self, slot: &SlotFeature) -> Option<&'static str> {
        let row = MADE_STALE.iter().find(|row| row.change == self)?;
        (row.stale)(slot).then_some(row.reason)
    }
}

/// A change, what it makes stale, and why.
pub struct MadeStale {
    pub change: Change,
    /// Whether a reading is stale by it.
    pub stale: fn(&SlotFeature) -> bool,
    pub reason: &'static str,
}

/// Every change that is known to make readings stale.
pub const MADE_STALE: [MadeStale; 30] = {
    use Change as C;
    [
        row(C::MainFastener, of_mains, "other bolts or studs pull the housing to another shape"),
        row(C::MainTorque, of_mains, "torque sets the housing’s size and shape"),
        row(C::MainLubricant, of_mains, "the same torque pulls more or less with it"),
        row(C::MainCap, of_main_line, "its register and height are its own: the line is to be honed"),
        row(C::LineHone, of_main_line, "housings are larger, and the crank may stand nearer the cam"),
        row(C::MainShells, of_main_shells, "walls differ between boxes, and families more"),
        row(C::RodShells, of_rod_shells, "walls differ between boxes, and families more"),
        row(C::ShellCoating, of_shells, "a coating takes its thickness twice from the clearance"),
        row(C::RodBolts, of_big_ends, "bolts pull the big end to another shape: it is resized and weighed anew"),
        row(C::RodTorque, of_rod_bore, "stretch or torque sets the big end’s size"),
        row(C::CrankGround, of_journals, "journals are smaller; the stroke may be another"),
        row(C::ThrustShell, of_end_play, "it sets the end play"),
        row(C::HonePlate, of_bores, "the plate stands in for the head: bores take another shape"),
        row(C::HeadFastener, of_bores_and_gasket, "they pull the bores out of round, and crush the gasket"),
        row(C::Honed, of_bores_and_gaps, "bores are larger: gaps open by π times as much"),
        row(C::Pistons, of_pistons, "skirt, height, crown, pin bore and mass are their own"),
        row(C::SkirtCoating, of_skirts, "the coating is measured over, or taken off, as its maker says"),
        row(C::Pins, of_pins, "fit and mass are their own"),
        row(C::Rings, of_rings, "gap, side and back clearance, and mass, are their own"),
        row(C::DeckCut, of_deck, "pistons stand higher; bores may need a plate again"),
        row(C::HeadGasket, of_gasket, "thickness and bore make compression, squish and valve clearance"),
        row(C::HeadMilled, of_chambers, "chambers are smaller; the valves stand nearer"),
        row(C::Valves, of_chambers, "a valve’s height is part of its chamber"),
        row(C::Camshaft, of_cam, "its lobes pass rods and bolts elsewhere"),
        row(C::Sleeved, of_sleeved, "a sleeve presses the block: bores beside it and the deck move, walls are others"),
        row(
            C::SmallEndBushes,
            of_small_ends,
            "a bush closes when it is pressed in, and is bored to a length of its own",
        ),
        row(C::Block, of_block, "bores, decks and main line are its own, and what runs past its walls"),
        row(C::Crankshaft, of_crank, "journals, throws and counterweights are its own"),
        row(C::Rods, of_rods, "ends, length, straightness and mass are their own"),
        row(C::Head, of_chambers, "its chambers are its own"),
    ]
};

const fn row(change: Change, stale: fn(&SlotFeature) -> bool, reason: &'static str) -> MadeStale {
    MadeStale { change, stale, reason }
}

fn of_mains(slot: &F) -> bool {
    matches!(
        slot,
        F::MainHousing(_)
            | F::MainShellBore(_)
            | F::MainClearanceDirect(_)
            | F::MainClearanceStated
            | F::MainPlasticStrip
            | F::CrushGap(Bearings::Mains)
            | F::MainLine(_)
            | F::ShimPack(Bearings::Mains, _)
            | F::TurningCrank
    )
}

fn of_main_line(slot: &F) -> bool {
    of_mains(slot) || matches!(slot, F::DeckHeight(_) | F::EndPlay | F::EndPlayAtCap)
}

fn of_main_shells(slot: &F) -> bool {
    matches!(slot, F::MainShellWall(_) | F::ShellProud(Bearings::Mains, _) | F::OfShell(Bearings::Mains, _))
        || of_mains(slot) && !matches!(slot, F::MainHousing(_))
}

fn of_rod_shells(slot: &F) -> bool {
    matches!(
        slot,
        F::RodShellWall(_)
            | F::ShellProud(Bearings::Rods, _)
            | F::OfShell(Bearings::Rods, _)
            | F::CrushGap(Bearings::Rods)
            | F::RodShellBore(_)
            | F::RodClearanceDirect(_)
            | F::RodClearanceStated
            | F::RodPlasticStrip
            | F::Weight(Weighed::RodShells)
            | F::WeightStated(Weighed::RodShells)
    )
}

fn of_shells(slot: &F) -> bool {
    of_main_shells(slot) || of_rod_shells(slot)
}

fn of_rod_bore(slot: &F) -> bool {
    matches!(
        slot,
        F::RodHousing(_) | F::RodShellBore(_) | F::RodClearanceDirect(_) | F::RodClearanceStated | F::RodPlasticStrip
    )
}

fn of_big_ends(slot: &F) -> bool {
    of_rod_bore(slot)
        || matches!(
            slot,
            F::RodLength
                | F::Weight(Weighed::BigEnd)
                | F::WeightStated(Weighed::BigEnd)
                | F::Clear(Passing::RodToBlock | Passing::RodToCam)
        )
}

fn of_journals(slot: &F) -> bool {
    matches!(
        slot,
        F::MainJournal(..)
            | F::RodJournal(..)
            | F::Stroke
            | F::MainRunout
            | F::MainFillet
            | F::RodFillet
            | F::MainClearanceDirect(_)
            | F::MainClearanceStated
            | F::MainPlasticStrip
            | F::RodClearanceDirect(_)
            | F::RodClearanceStated
            | F::RodPlasticStrip
            | F::Residual(_)
    )
}

fn of_crank(slot: &F) -> bool {
    of_journals(slot)
        || of_end_play(slot)
        || matches!(
            slot,
            F::ThrowAngle
                | F::TurningCrank
                | F::TurningWithPiston
                | F::RodSideClearance
                | F::Deck(_)
                | F::DeckStated
                | F::Clear(_)
        )
}

fn of_rods(slot: &F) -> bool {
    of_big_ends(slot)
        || of_small_ends(slot)
        || matches!(
            slot,
            F::RodBend
                | F::RodTwist
                | F::RodSideClearance
                | F::CrushGap(Bearings::Rods)
                | F::TurningWithPiston
                | F::Deck(_)
                | F::DeckStated
        )
}

fn of_block(slot: &F) -> bool {
    of_main_line(slot)
        || of_sleeved(slot)
        || of_deck(slot)
        || matches!(slot, F::RingGap(_) | F::TurningWithPiston | F::Clear(_))
}

fn of_end_play(slot: &F) -> bool {
    matches!(slot, F::EndPlay | F::EndPlayAtCap)
}

fn of_bores(slot: &F) -> bool {
    matches!(slot, F::Bore(..) | F::BoreStated)
}

fn of_sleeved(slot: &F) -> bool {
    of_bores(slot) || matches!(slot, F::Wall(_) | F::DeckFlatness | F::FitBore(PressedIn::Sleeve))
}

fn of_small_ends(slot: &F) -> bool {
    matches!(
        slot,
        F::SmallEnd
            | F::RodLength
            | F::FitBore(PressedIn::Bush)
            | F::Weight(Weighed::SmallEnd)
            | F::WeightStated(Weighed::SmallEnd)
    )
}

fn of_bores_and_gasket(slot: &F) -> bool {
    of_bores(slot) || matches!(slot, F::GasketThickness)
}

fn of_bores_and_gaps(slot: &F) -> bool {
    of_bores(slot) || matches!(slot, F::RingGap(_) | F::RingBack(_))
}

fn of_skirts(slot: &F) -> bool {
    matches!(slot, F::Skirt | F::SkirtStated)
}

fn of_pins(slot: &F) -> bool {
    matches!(slot, F::Pin | F::Weight(Weighed::Pin) | F::WeightStated(Weighed::Pin))
}

fn of_pistons(slot: &F) -> bool {
    of_skirts(slot)
        || matches!(
            slot,
            F::PinBore
                | F::CompressionHeight
                | F::CompressionHeightStated
                | F::PistonVolume
                | F::PistonVolumeStated
                | F::RingSide(_)
                | F::RingBack(_)
                | F::Deck(_)
                | F::DeckStated
                | F::Clear(Passing::CounterweightToPiston)
                | F::Weight(Weighed::Piston)
                | F::WeightStated(Weighed::Piston)
        )
}

fn of_rings(slot: &F) -> bool {
    matches!(
        slot,
        F::RingGap(_)
            | F::RingSide(_)
            | F::RingBack(_)
            | F::TurningWithPiston
            | F::Weight(Weighed::Rings)
            | F::WeightStated(Weighed::Rings)
    )
}

fn of_deck(slot: &F) -> bool {
    matches!(slot, F::DeckHeight(_) | F::DeckFlatness | F::Deck(_) | F::DeckStated)
}

fn of_gasket(slot: &F) -> bool {
    matches!(slot, F::GasketThickness)
}

fn of_chambers(slot: &F) -> bool {
    matches!(slot, F::Chamber | F::ChamberStated)
}

fn of_cam(slot: &F) -> bool {
    matches!(slot, F::Clear(Passing::RodToCam))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_change_stands_once_and_makes_something_stale() {
        let changes: BTreeSet<Change> = MADE_STALE.iter().map(|row| row.change).collect();
        assert_eq!(changes.len(), MADE_STALE.len());
        for row in &MADE_STALE {
            assert!(SlotFeature::all().any(|(_, slot)| (row.stale)(&slot)), "{}", row.change.word());
            assert!(!row.change.word().is_empty() && !row.reason.is_empty());
        }
    }

    #[test]
    fn new_rod_bolts_ask_for_the_big_end_and_its_weight_and_leave_the_small_end() {
        let bolts = MADE_STALE.iter().find(|row| row.change == Change::RodBolts).unwrap();
        let stale = |text: &str| (bolts.stale)(&SlotFeature::parse(text));
        assert!(stale("rod-housing-vertical") && stale("weight-big-end") && stale("rod-clearance-vertical"));
        assert!(!stale("small-end") && !stale("weight-small-end") && !stale("rod-journal-front-0"));
    }

    #[test]
    fn a_thing_fitted_leaves_what_is_read_of_the_others() {
        let stale = |kind, text: &str| Change::by_fitting(kind).makes_stale(&SlotFeature::parse(text)).is_some();
        assert!(stale(ItemKind::Crank, "main-journal-front-0") && stale(ItemKind::Crank, "stroke"));
        assert!(!stale(ItemKind::Crank, "main-housing-vertical") && !stale(ItemKind::Crank, "rod-length"));
        assert!(stale(ItemKind::Rod, "rod-length") && !stale(ItemKind::Rod, "rod-journal-front-0"));
        assert!(stale(ItemKind::Block, "bore-top-thrust") && !stale(ItemKind::Block, "main-journal-front-0"));
        assert!(stale(ItemKind::Head, "chamber") && !stale(ItemKind::Head, "gasket-thickness"));
    }

    #[test]
    fn other_shells_leave_the_housing_as_it_was() {
        let shells = MADE_STALE.iter().find(|row| row.change == Change::MainShells).unwrap();
        assert!((shells.stale)(&SlotFeature::parse("main-shell-wall-upper")));
        assert!(!(shells.stale)(&SlotFeature::parse("main-housing-vertical")));
    }
}
