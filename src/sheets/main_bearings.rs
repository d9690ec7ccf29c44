//! Main bearings: the clearance by any of four routes, and whether routes agree. Journals are the crankshaft's.

use super::as_read::judge_all;
use super::bearing::Line;
use super::film::FilmFindings;
use super::housing::Housing;
use super::{Book, Finding, Options, Sheet, Slot, choose_shells, journal, main_line};
use crate::engine::{
    Bearings, FindingFeature, ItemKind, Off, Place, Seating, Setup, SheetKey, SlotFeature, Spot, TargetFeature,
};

const EDITION: u32 = 6;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::MainBearings,
    edition: EDITION,
    title: "Main bearings",
    purpose: "Clearance at every main, by the bore gauge on the journal, shells in, housing and shells, or plastic strip; and how straight their housings stand in line.",
    caution: "Caps on their own places, fasteners and lubricant as they will run. Measure shells at the crown, no dirt behind them.",
    reads: &[],
    finds: &[
        FindingFeature::MainClearance(Spot::Vertical),
        FindingFeature::MainClearance(Spot::Parting),
        FindingFeature::MainClearanceRatio,
        FindingFeature::MainRoutes,
        FindingFeature::MainClearanceSpread,
        FindingFeature::MainClearanceHot,
        FindingFeature::MainFilm,
        FindingFeature::MainFilmPower,
        FindingFeature::Crush(Bearings::Mains),
        FindingFeature::CrushInterference(Bearings::Mains),
        FindingFeature::ShellHousing(Bearings::Mains),
        FindingFeature::Seats(Bearings::Mains, Seating::Width),
        FindingFeature::Seats(Bearings::Mains, Seating::TangWidth),
        FindingFeature::Seats(Bearings::Mains, Seating::TangPlace),
        FindingFeature::MainLine(Off::Vertical),
        FindingFeature::MainLine(Off::Sideways),
        FindingFeature::MainLineStep(Off::Vertical),
        FindingFeature::MainLineStep(Off::Sideways),
        FindingFeature::MainLineSpread(Off::Vertical),
        FindingFeature::MainLineSpread(Off::Sideways),
        FindingFeature::MainHousingSize,
        FindingFeature::MainHousingOutOfRound,
    ],
    main: FindingFeature::MainClearance(Spot::Vertical),
    compared: &[FindingFeature::MainClearance(Spot::Vertical), FindingFeature::MainHousingSize],
    options: Some(Options {
        title: "Choose shells",
        purpose: "Which halves bring every main closest to its target: by nominal steps from a trial clearance, or from those on the shelf by their walls; of poured ones, which leaves to leave in their packs.",
        asks: Some(choose_shells::ASKS),
        work_out: |book, typed| choose_shells::work_out(&MAINS, book, typed),
    }),
    slots,
    work_out,
};

const MAINS: Line = Line {
    bearings: Bearings::Mains,
    stated: SlotFeature::MainClearanceStated,
    direct: SlotFeature::MainClearanceDirect,
    shell_bore: SlotFeature::MainShellBore,
    housing: SlotFeature::MainHousing,
    wall: SlotFeature::MainShellWall,
    strip: SlotFeature::MainPlasticStrip,
    journal: journal::MAIN,
    runs_on: |_, main| main,
    clearance: FindingFeature::MainClearance,
    ratio: FindingFeature::MainClearanceRatio,
    routes: FindingFeature::MainRoutes,
    spread: FindingFeature::MainClearanceSpread,
    hot: FindingFeature::MainClearanceHot,
    film: FilmFindings {
        smallest: FindingFeature::MainFilm,
        power: FindingFeature::MainFilmPower,
        load: TargetFeature::MainLoad,
        length: TargetFeature::MainLength,
    },
    target: TargetFeature::MainClearance,
    housing_target: TargetFeature::MainHousing,
    wall_target: TargetFeature::MainShellWall,
    coating: TargetFeature::MainShellCoating,
    made_for: TargetFeature::MainShellHousing,
    housing_of: ItemKind::Block,
    shells_of: ItemKind::MainShells,
    reads_housing: true,
};

const HOUSING: Housing = Housing {
    slot: SlotFeature::MainHousing,
    size: FindingFeature::MainHousingSize,
    round: FindingFeature::MainHousingOutOfRound,
    target: TargetFeature::MainHousing,
    name: "housing",
};

fn slots(setup: &Setup) -> Vec<Slot> {
    [MAINS.slots(setup), main_line::slots(setup)].concat()
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mains = book.setup.architecture.main_places();
    let mut housings: Vec<Finding> = mains.flat_map(|main| HOUSING.if_read(book, main)).collect();
    judge_all(&mut housings, book);
    [MAINS.work_out(book), main_line::work_out(book), housings].concat()
}

/// A bearing's clearance at temperatures of its housing, in m and K.
pub(super) fn warm(book: &Book, place: Place) -> Option<Vec<(f64, f64)>> {
    MAINS.curve(book, place)
}
