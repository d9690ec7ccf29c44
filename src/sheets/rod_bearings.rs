//! Rod bearings: the clearance by any of four routes, and whether routes agree. Journals are the crankshaft's, big ends the
//! rods'.

use super::bearing::Line;
use super::film::FilmFindings;
use super::{Book, Finding, Options, Sheet, Slot, choose_shells, journal};
use crate::engine::{
    Architecture, Bearings, FindingFeature, ItemKind, Place, Seating, Setup, SheetKey, SlotFeature, Spot, TargetFeature,
};

const EDITION: u32 = 4;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::RodBearings,
    edition: EDITION,
    title: "Rod bearings",
    purpose: "Clearance of every rod, by the bore gauge on its journal, shells in, big end and shells, or plastic strip.",
    caution: "Each cap on its own rod, bolts and lubricant as they will run. Rod and cap in a vice with soft jaws, never by the beam.",
    reads: &[],
    finds: &[
        FindingFeature::RodClearance(Spot::Vertical),
        FindingFeature::RodClearance(Spot::Parting),
        FindingFeature::RodClearanceRatio,
        FindingFeature::RodRoutes,
        FindingFeature::RodClearanceSpread,
        FindingFeature::RodClearanceHot,
        FindingFeature::RodFilm,
        FindingFeature::RodFilmPower,
        FindingFeature::Crush(Bearings::Rods),
        FindingFeature::CrushInterference(Bearings::Rods),
        FindingFeature::ShellHousing(Bearings::Rods),
        FindingFeature::Seats(Bearings::Rods, Seating::Width),
        FindingFeature::Seats(Bearings::Rods, Seating::TangWidth),
        FindingFeature::Seats(Bearings::Rods, Seating::TangPlace),
    ],
    main: FindingFeature::RodClearance(Spot::Vertical),
    compared: &[FindingFeature::RodClearance(Spot::Vertical)],
    options: Some(Options {
        title: "Choose shells",
        purpose: "Which halves bring every rod closest to its target: by nominal steps from a trial clearance, or from those on the shelf by their walls; of poured ones, which leaves to leave in their packs.",
        asks: Some(choose_shells::ASKS),
        work_out: |book, typed| choose_shells::work_out(&RODS, book, typed),
    }),
    slots,
    work_out,
};

const RODS: Line = Line {
    bearings: Bearings::Rods,
    stated: SlotFeature::RodClearanceStated,
    direct: SlotFeature::RodClearanceDirect,
    shell_bore: SlotFeature::RodShellBore,
    housing: SlotFeature::RodHousing,
    wall: SlotFeature::RodShellWall,
    strip: SlotFeature::RodPlasticStrip,
    journal: journal::ROD,
    runs_on: Architecture::throw_of,
    clearance: FindingFeature::RodClearance,
    ratio: FindingFeature::RodClearanceRatio,
    routes: FindingFeature::RodRoutes,
    spread: FindingFeature::RodClearanceSpread,
    hot: FindingFeature::RodClearanceHot,
    film: FilmFindings {
        smallest: FindingFeature::RodFilm,
        power: FindingFeature::RodFilmPower,
        load: TargetFeature::RodLoad,
        length: TargetFeature::RodBearingLength,
    },
    target: TargetFeature::RodClearance,
    housing_target: TargetFeature::RodHousing,
    wall_target: TargetFeature::RodShellWall,
    coating: TargetFeature::RodShellCoating,
    made_for: TargetFeature::RodShellHousing,
    housing_of: ItemKind::Rod,
    shells_of: ItemKind::Rod,
    reads_housing: false,
};

fn slots(setup: &Setup) -> Vec<Slot> {
    RODS.slots(setup)
}

fn work_out(book: &Book) -> Vec<Finding> {
    RODS.work_out(book)
}

/// A bearing's clearance at temperatures of its housing, in m and K.
pub(super) fn warm(book: &Book, place: Place) -> Option<Vec<(f64, f64)>> {
    RODS.curve(book, place)
}
