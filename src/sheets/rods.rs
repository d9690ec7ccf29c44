//! Rods: the home of big ends without shells and of small ends; length, bend and twist; side clearance on their pins. Pins are
//! the pistons'.

use super::as_read::{AsRead, judge_all};
use super::housing::Housing;
use super::pin_fit::PinFit;
use super::shape::spread;
use super::{Basis, Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, ItemKind, Pins, Place, Setup, SheetKey, SlotFeature, Spot, TargetFeature};
use crate::metrology::GaugeKind;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Rods,
    edition: EDITION,
    title: "Rods",
    purpose: "Big end without shells, small end and its pin, length, bend and twist of every rod; side clearance on every pin.",
    caution: "Cap on its own rod, bolts and lubricant as they will run. Hold rod and cap by their sides in soft jaws, never by the \
              beam. A pressed or shrunk pin wants heat or a press: it burns, and what binds can burst; gloves, shield, support \
              under the boss.",
    reads: &[],
    finds: &[
        FindingFeature::RodHousingSize,
        FindingFeature::RodHousingOutOfRound,
        FindingFeature::SmallEndSize,
        FindingFeature::PinInRod,
        FindingFeature::RodLength,
        FindingFeature::RodLengthSpread,
        FindingFeature::RodBend,
        FindingFeature::RodTwist,
        FindingFeature::RodSideClearance,
    ],
    main: FindingFeature::RodHousingSize,
    compared: &[FindingFeature::RodHousingSize, FindingFeature::RodLength],
    options: None,
    slots,
    work_out,
};

const BIG_END: &str = "big end";
const SMALL_END: &str = "small end";
const STRAIGHT: &str = "length and straightness";
const SIDE: &str = "side clearance";

fn slots(setup: &Setup) -> Vec<Slot> {
    use GaugeKind::{BoreGauge, Feeler, Indicator, Other};
    use SlotFeature as F;
    let engine = &setup.architecture;
    let mut slots = Vec::new();
    for cylinder in engine.cylinders_in_order() {
        let of_rod = |feature, label, group, gauge, (low, high)| {
            Slot::of(setup, cylinder, (feature, label, group, gauge, ItemKind::Rod)).between(low, high)
        };
        slots.extend([
            of_rod(F::RodHousing(Spot::Vertical), "big end, vertical", BIG_END, BoreGauge, (0.01, 0.5)),
            of_rod(F::RodHousing(Spot::Parting), "big end, near the parting line", BIG_END, BoreGauge, (0.01, 0.5)),
            of_rod(F::SmallEnd, "small end", SMALL_END, BoreGauge, (0.005, 0.2)),
            of_rod(F::RodLength, "length, centre to centre", STRAIGHT, Other, (0.03, 1.0)),
            of_rod(F::RodBend, "bend, over the fixture’s length", STRAIGHT, Indicator, (0.0, 0.005)),
            of_rod(F::RodTwist, "twist, over the fixture’s length", STRAIGHT, Indicator, (0.0, 0.005)),
        ]);
    }
    let together = if engine.pins() == Pins::Shared { "both rods of the pin together" } else { "rod on its pin" };
    slots.extend(engine.throw_places().map(|throw| {
        let row = (F::RodSideClearance, together, SIDE, Feeler, ItemKind::Crank);
        Slot::of(setup, throw, row).between(0.0, 0.003)
    }));
    slots
}

const fn as_read(slot: SlotFeature, finding: FindingFeature, name: &'static str) -> AsRead {
    AsRead { slot, stated: None, finding, name }
}

const BIG_END_SIZE: Housing = Housing {
    slot: SlotFeature::RodHousing,
    size: FindingFeature::RodHousingSize,
    round: FindingFeature::RodHousingOutOfRound,
    target: TargetFeature::RodHousing,
    name: BIG_END,
};

const PIN_IN_ROD: PinFit = PinFit {
    bore: SlotFeature::SmallEnd,
    name: "small end",
    finding: FindingFeature::PinInRod,
    held: "interference: the rod holds the pin, fitted by heat or press",
};

fn work_out(book: &Book) -> Vec<Finding> {
    use FindingFeature as F;
    let engine = &book.setup.architecture;
    let small_end = as_read(SlotFeature::SmallEnd, F::SmallEndSize, "small end");
    let bend = as_read(SlotFeature::RodBend, F::RodBend, "bend");
    let twist = as_read(SlotFeature::RodTwist, F::RodTwist, "twist");
    let side = as_read(SlotFeature::RodSideClearance, F::RodSideClearance, "side clearance");
    let mut findings = Vec::new();
    for cylinder in engine.cylinders_in_order() {
        findings.extend(BIG_END_SIZE.at(book, cylinder));
        findings.extend(small_end.if_asked(book, cylinder));
        findings.extend(PIN_IN_ROD.at(book, cylinder));
        findings.extend(length(book, cylinder));
        findings.extend([&bend, &twist].into_iter().filter_map(|read| read.if_read(book, cylinder)));
    }
    let apart = Finding::new(F::RodLengthSpread, Place::AllCylinders, Basis::Readings);
    findings.extend(spread(apart, &F::RodLength, &findings, book));
    findings.extend(engine.throw_places().filter_map(|throw| side.if_asked(book, throw)));
    judge_all(&mut findings, book);
    findings
}

/// The length as read; said to be wrong where the two ends would run into each other.
fn length(book: &Book, cylinder: Place) -> Option<Finding> {
    let length = as_read(SlotFeature::RodLength, FindingFeature::RodLength, "length");
    let mut finding = length.if_asked(book, cylinder)?;
    let words = book.words();
    let read = |slot| book.figure(slot, cylinder).map(|(value, _)| value.value());
    if let (Some(length), Some(big), Some(small)) =
        (&finding.value, read(SlotFeature::RodHousing(Spot::Vertical)), read(SlotFeature::SmallEnd))
        && length.value() <= f64::midpoint(big, small)
    {
        finding.remarks.push(format!(
            "cannot be: at {} between centres a big end of {} and a small end of {} run into each other; look at all three",
            words.size_number(length.value()),
            words.size_number(big),
            words.size(small)
        ));
    }
    Some(finding)
}
