//! Pistons and pins: the home of skirts at the maker's gauge point, which the cylinder bores ask for, of pins and their bores,
//! compression heights and crown volumes.

use super::as_read::{AsRead, judge_all};
use super::pin_fit::PinFit;
use super::shape::spread;
use super::slot::SlotRow;
use super::{Basis, Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, ItemKind, Measure, Place, Setup, SheetKey, SlotFeature};
use crate::metrology::GaugeKind::{self, BoreGauge, Burette, DepthMicrometer, OutsideMicrometer};
use crate::metrology::Measured;

const EDITION: u32 = 3;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Pistons,
    edition: EDITION,
    title: "Pistons and pins",
    purpose: "Each skirt across the pin, at the height the piston maker states; pins and their bores, compression height, crown volume.",
    caution: "Measure at the maker's gauge point only, at one temperature with the bores; note a coated skirt. Pin locks fly: \
              glasses on. Of a piston pulled down for the burette, take off what it was pulled down by.",
    reads: &[],
    finds: &[
        FindingFeature::SkirtDiameter,
        FindingFeature::PinInPiston,
        FindingFeature::CompressionHeight,
        FindingFeature::CompressionHeightSpread,
        FindingFeature::PistonVolume,
    ],
    main: FindingFeature::SkirtDiameter,
    compared: &[FindingFeature::SkirtDiameter],
    options: None,
    slots,
    work_out,
};

const ALL: &str = "one figure for all";
const ONE: &str = "one figure";
const HEIGHT: &str = "compression height";
const VOLUME: &str = "crown volume";
const STATED: SlotRow = (SlotFeature::SkirtStated, ALL, "skirt", OutsideMicrometer, ItemKind::Piston);
const SKIRT: SlotRow = (SlotFeature::Skirt, "skirt at gauge point", "skirt", OutsideMicrometer, ItemKind::Piston);
const PIN: SlotRow = (SlotFeature::Pin, "pin", "pin", OutsideMicrometer, ItemKind::Piston);
const PIN_BORE: SlotRow = (SlotFeature::PinBore, "pin bore", "pin", BoreGauge, ItemKind::Piston);

/// What is read of each piston and may be stated of one or of all, and what it can be.
struct OfCrown {
    stated: SlotFeature,
    each: SlotFeature,
    label: &'static str,
    group: &'static str,
    gauge: GaugeKind,
    possible: (f64, f64),
}

const OF_CROWN: [OfCrown; 2] = [
    OfCrown {
        stated: SlotFeature::CompressionHeightStated,
        each: SlotFeature::CompressionHeight,
        label: "compression height, pin centre to crown",
        group: HEIGHT,
        gauge: DepthMicrometer,
        possible: (0.005, 0.3),
    },
    OfCrown {
        stated: SlotFeature::PistonVolumeStated,
        each: SlotFeature::PistonVolume,
        label: "crown volume, a dome below zero",
        group: VOLUME,
        gauge: Burette,
        possible: (-0.0005, 0.0005),
    },
];

impl OfCrown {
    /// One figure for all; of each piston one figure, and its reading.
    fn slots(&self, setup: &Setup) -> Vec<Slot> {
        let (low, high) = self.possible;
        let slot = |place, feature: &SlotFeature, label| {
            let row = (feature.clone(), label, self.group, self.gauge, ItemKind::Piston);
            Slot::of(setup, place, row).between(low, high)
        };
        let of_one = |place| [slot(place, &self.stated, ONE), slot(place, &self.each, self.label)];
        let each = setup.architecture.cylinders_in_order().into_iter().flat_map(of_one);
        std::iter::once(slot(Place::AllCylinders, &self.stated, ALL)).chain(each).collect()
    }
}

fn slots(setup: &Setup) -> Vec<Slot> {
    let cylinders = setup.architecture.cylinders_in_order();
    let slot = |place, row| Slot::of(setup, place, row).between(0.01, 1.0);
    let mut slots = vec![slot(Place::AllCylinders, STATED)];
    slots.extend(cylinders.iter().map(|&place| slot(place, SKIRT)));
    for place in cylinders {
        let [pin, bore] = [PIN, PIN_BORE].map(|row| Slot::of(setup, place, row).between(0.005, 0.1));
        // A pin is no piston alloy, and grows as the steel gauge it is read with: nothing is to be brought to 20 °C.
        slots.extend([Slot { material: None, ..pin }, bore]);
    }
    slots.extend(OF_CROWN.iter().flat_map(|of_crown| of_crown.slots(setup)));
    slots
}

const PIN_IN_PISTON: PinFit = PinFit {
    bore: SlotFeature::PinBore,
    name: "pin bore",
    finding: FindingFeature::PinInPiston,
    held: "interference: the piston holds the pin, and is warmed to take it",
};

fn work_out(book: &Book) -> Vec<Finding> {
    let cylinders = book.setup.architecture.cylinders_in_order();
    let skirt = AsRead {
        slot: SlotFeature::Skirt,
        stated: Some(SlotFeature::SkirtStated),
        finding: FindingFeature::SkirtDiameter,
        name: "skirt",
    };
    let mut findings: Vec<Finding> = cylinders.iter().map(|&place| skirt.at(book, place)).collect();
    findings.extend(cylinders.iter().filter_map(|&place| PIN_IN_PISTON.at(book, place)));
    findings.extend(cylinders.iter().filter_map(|&place| height(book, place)));
    let apart = Finding::new(FindingFeature::CompressionHeightSpread, Place::AllCylinders, Basis::Readings);
    findings.extend(spread(apart, &FindingFeature::CompressionHeight, &findings, book));
    findings.extend(cylinders.iter().filter_map(|&place| volume(book, place)));
    judge_all(&mut findings, book);
    findings
}

/// The compression height; said to be wrong where the pin would stand out of the crown.
fn height(book: &Book, place: Place) -> Option<Finding> {
    let read = AsRead {
        slot: SlotFeature::CompressionHeight,
        stated: Some(SlotFeature::CompressionHeightStated),
        finding: FindingFeature::CompressionHeight,
        name: HEIGHT,
    };
    let mut finding = read.if_asked(book, place)?;
    let pin = book.figure(SlotFeature::PinBore, place).or_else(|| book.figure(SlotFeature::Pin, place));
    if let (Some(height), Some((pin, _))) = (&finding.value, pin)
        && height.value() <= pin.value() / 2.0
    {
        let words = book.words();
        finding.remarks.push(format!(
            "cannot be: a pin of {} stands out of a crown {} above its centre; look at both",
            words.size(pin.value()),
            words.size(height.value())
        ));
    }
    Some(finding)
}

/// The crown's volume, and whether it is a dish or a dome.
fn volume(book: &Book, place: Place) -> Option<Finding> {
    let read = AsRead {
        slot: SlotFeature::PistonVolume,
        stated: Some(SlotFeature::PistonVolumeStated),
        finding: FindingFeature::PistonVolume,
        name: VOLUME,
    };
    let mut finding = read.if_asked(book, place)?;
    if let Some(volume) = finding.value.as_ref().map(Measured::value).filter(|volume| *volume != 0.0) {
        let shape = if volume > 0.0 { "dish" } else { "dome" };
        finding.remarks.push(format!("a {shape} of {}", book.words().said(Measure::VOLUME, volume.abs())));
    }
    Some(finding)
}
