//! Piston skirts at the maker's gauge point: their home. The cylinder bores ask for them.

use super::{Basis, Book, Depth, Finding, Sheet, Slot};
use crate::engine::{
    FindingFeature, FindingKey, ItemKind, ItemRef, Place, Setup, SheetKey, SlotFeature, SlotKey, TargetFeature,
};
use crate::metrology::GaugeKind;
use crate::quantity::Dimension;

const EDITION: u32 = 1;

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
        material: None,
        set_at_each_place: false,
    };
    let mut slots = vec![slot(SlotFeature::SkirtStated, Place::AllCylinders, Depth::Stated, "all skirts")];
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
    let begin = |basis| {
        let key = FindingKey::new(FindingFeature::SkirtDiameter, place);
        Finding { target, ..Finding::new(key, Dimension::Length, false, basis) }
    };
    let missing = format!("skirt of the piston in {}", book.setup.architecture.label(place));
    let read = book.taken(SlotFeature::Skirt, place).map(|taken| (taken, Basis::Readings));
    let stated = book.taken(SlotFeature::SkirtStated, Place::AllCylinders).map(|taken| (taken, Basis::Stated));
    let mut finding = match read.or(stated) {
        Some((taken, basis)) => {
            let basis = taken.checked().map_or(basis, |how| Basis::Checked { how: how.to_owned() });
            let mut finding = begin(basis);
            finding.readings.clone_from(&taken.readings);
            finding.range = taken.range();
            finding.value = taken.figure();
            finding.working.extend(finding.value.as_ref().map(|v| format!("skirt {}", words.size(v.value()))));
            finding
        }
        None if target.is_some() => begin(Basis::Target { missing }),
        None => begin(Basis::Missing { missing }),
    };
    finding.judge_by(book.limit(&FindingFeature::SkirtDiameter, place), None, book.rule);
    finding
}
