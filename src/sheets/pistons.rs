//! Piston skirts at the maker's gauge point: their home. The cylinder bores ask for them.

use super::{Basis, Book, Depth, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, ItemKind, ItemRef, Place, Setup, SheetKey, SlotFeature, SlotKey, TargetFeature};
use crate::metrology::GaugeKind;

const EDITION: u32 = 2;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Pistons,
    edition: EDITION,
    title: "Piston skirts",
    purpose: "Each skirt across the pin, at the height the piston maker states.",
    caution: "Measure at the maker's gauge point only, at one temperature with the bores; note a coated skirt.",
    reads: &[],
    finds: &[FindingFeature::SkirtDiameter],
    slots,
    work_out,
};

fn slots(setup: &Setup) -> Vec<Slot> {
    let slot = |feature: SlotFeature, place: Place, depth, label| Slot {
        target: setup.target(TargetFeature::Skirt, place),
        key: SlotKey::new(feature, place),
        label,
        group: "skirt",
        depth,
        gauge: GaugeKind::OutsideMicrometer,
        item: ItemRef { kind: ItemKind::Piston, place },
        small: false,
        possible: (0.01, 1.0),
        material: setup.materials.pistons,
        set_at_each_place: false,
    };
    let mut slots = vec![slot(SlotFeature::SkirtStated, Place::AllCylinders, Depth::Stated, "one figure for all")];
    slots.extend(
        setup
            .architecture
            .cylinders_in_order()
            .into_iter()
            .map(|place| slot(SlotFeature::Skirt, place, Depth::Each, "skirt at gauge point")),
    );
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    book.setup.architecture.cylinders_in_order().into_iter().map(|place| skirt(book, place)).collect()
}

fn skirt(book: &Book, place: Place) -> Finding {
    let words = book.words();
    let target = book.setup.target(TargetFeature::Skirt, place);
    let begin = |basis| Finding::new(FindingFeature::SkirtDiameter, place, basis);
    let checked = book.taken(SlotFeature::Skirt, place).filter(|taken| taken.checked().is_some());
    let mut finding = if let Some((value, taken)) = book.figure(SlotFeature::Skirt, place) {
        let working = vec![format!("skirt {}", words.size(value.value()))];
        Finding { value: Some(value), working, readings: taken.readings.clone(), ..begin(Basis::Readings) }
    } else if let Some(taken) = checked.or_else(|| book.stated(&SlotFeature::SkirtStated, place)) {
        Finding::stated(FindingFeature::SkirtDiameter, place, taken, words)
    } else {
        let missing = format!("skirt of the piston in {}", book.setup.architecture.label(place));
        begin(if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } })
    };
    finding.target = target;
    finding.judge_by(book.limit(&FindingFeature::SkirtDiameter, place), None, book.rule);
    finding
}
