//! Piston skirts at the maker's gauge point: their home. The cylinder bores ask for them.

use super::as_read::{AsRead, judge_all};
use super::slot::SlotRow;
use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, ItemKind, Place, Setup, SheetKey, SlotFeature};
use crate::metrology::GaugeKind::OutsideMicrometer;

const EDITION: u32 = 2;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Pistons,
    edition: EDITION,
    title: "Piston skirts",
    purpose: "Each skirt across the pin, at the height the piston maker states.",
    caution: "Measure at the maker's gauge point only, at one temperature with the bores; note a coated skirt.",
    reads: &[],
    finds: &[FindingFeature::SkirtDiameter],
    main: FindingFeature::SkirtDiameter,
    compared: &[FindingFeature::SkirtDiameter],
    options: None,
    slots,
    work_out,
};

const STATED: SlotRow = (SlotFeature::SkirtStated, "one figure for all", "skirt", OutsideMicrometer, ItemKind::Piston);
const SKIRT: SlotRow = (SlotFeature::Skirt, "skirt at gauge point", "skirt", OutsideMicrometer, ItemKind::Piston);

fn slots(setup: &Setup) -> Vec<Slot> {
    let slot = |place, row| Slot::of(setup, place, row).between(0.01, 1.0);
    let each = setup.architecture.cylinders_in_order().into_iter().map(|place| slot(place, SKIRT));
    std::iter::once(slot(Place::AllCylinders, STATED)).chain(each).collect()
}

fn work_out(book: &Book) -> Vec<Finding> {
    let skirt = AsRead {
        slot: SlotFeature::Skirt,
        stated: Some(SlotFeature::SkirtStated),
        finding: FindingFeature::SkirtDiameter,
        name: "skirt",
    };
    let cylinders = book.setup.architecture.cylinders_in_order();
    let mut findings: Vec<Finding> = cylinders.into_iter().map(|place| skirt.at(book, place)).collect();
    judge_all(&mut findings, book);
    findings
}
