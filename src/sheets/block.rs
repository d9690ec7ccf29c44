//! The block as it came, or came back: cylinder walls, and decks at their corners.

use super::as_read::{AsRead, judge_all};
use super::slot::SlotRow;
use super::{Basis, Book, Finding, Sheet, Slot, Words};
use crate::engine::{Corner, FindingFeature, ItemKind, Place, Setup, SheetKey, Side, SlotFeature, TargetFeature};
use crate::metrology::{self, GaugeKind, Measured};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Block,
    edition: EDITION,
    title: "Block",
    purpose: "The thinnest place of each cylinder wall on four sides, by sound; each deck's height at its corners, and how flat it is.",
    caution: "Pressure test shielded, and no higher than the block's jackets bear. Never stand under a hung block; strip it of plugs before heat.",
    reads: &[],
    finds: &[
        FindingFeature::Wall(Side::Thrust),
        FindingFeature::Wall(Side::Across),
        FindingFeature::Wall(Side::Front),
        FindingFeature::Wall(Side::Rear),
        FindingFeature::WallLeast,
        FindingFeature::DeckHeight,
        FindingFeature::DeckTilt,
        FindingFeature::DeckFlatness,
    ],
    main: FindingFeature::WallLeast,
    compared: &[FindingFeature::WallLeast, FindingFeature::DeckHeight],
    options: None,
    slots,
    work_out,
};

const SIDES: [(Side, &str); 4] = [
    (Side::Thrust, "wall, thrust side"),
    (Side::Across, "wall, across from thrust"),
    (Side::Front, "wall, front"),
    (Side::Rear, "wall, rear"),
];
const CORNERS: [(Corner, &str); 4] = [
    (Corner::FrontInner, "front, inner"),
    (Corner::FrontOuter, "front, outer"),
    (Corner::RearInner, "rear, inner"),
    (Corner::RearOuter, "rear, outer"),
];

fn slots(setup: &Setup) -> Vec<Slot> {
    let at = |place, row: SlotRow| Slot::of(setup, place, row);
    let of_block = |feature, label, group, gauge| (feature, label, group, gauge, ItemKind::Block);
    let mut slots = Vec::new();
    for cylinder in setup.architecture.cylinders_in_order() {
        slots.extend(SIDES.map(|(side, label)| {
            at(cylinder, of_block(SlotFeature::Wall(side), label, "by sound", GaugeKind::Other)).between(0.0005, 0.05)
        }));
    }
    for bank in setup.architecture.bank_places() {
        slots.extend(CORNERS.map(|(corner, label)| {
            let row = of_block(SlotFeature::DeckHeight(corner), label, "deck height", GaugeKind::DepthMicrometer);
            at(bank, row).between(0.03, 1.0)
        }));
        slots.push(at(
            bank,
            of_block(SlotFeature::DeckFlatness, "gap under a straight edge", "deck", GaugeKind::Feeler),
        ));
    }
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        book.setup.architecture.cylinders_in_order().into_iter().flat_map(|place| walls(book, place)).collect();
    findings.extend(book.setup.architecture.bank_places().flat_map(|bank| deck(book, bank)));
    judge_all(&mut findings, book);
    findings
}

/// Each side that was read, and the least of them.
fn walls(book: &Book, cylinder: Place) -> Vec<Finding> {
    let read = |(side, _): (Side, &str)| {
        let wall =
            AsRead { slot: SlotFeature::Wall(side), stated: None, finding: FindingFeature::Wall(side), name: "wall" };
        wall.if_read(book, cylinder)
    };
    let sides: Vec<Finding> = SIDES.into_iter().filter_map(read).collect();
    let by_value = |finding: &&Finding| finding.value.as_ref().map_or(f64::INFINITY, Measured::value);
    let least = sides.iter().min_by(|a, b| by_value(a).total_cmp(&by_value(b)));
    let least = if let Some(side) = least {
        Finding {
            value: side.value.clone(),
            working: vec![format!("least of {}: {}", Words::counted(sides.len(), "side"), side.key.feature.title())],
            readings: sides.iter().flat_map(|side| side.readings.iter().cloned()).collect(),
            ..Finding::new(FindingFeature::WallLeast, cylinder, Basis::Readings)
        }
    } else {
        let missing = format!("walls of {}", book.setup.architecture.label(cylinder));
        Finding::new(FindingFeature::WallLeast, cylinder, Basis::Missing { missing })
    };
    std::iter::once(least).chain(sides).collect()
}

/// The mean of the corners that were read, judged by the worst, and how far the highest lies above the lowest.
fn deck(book: &Book, bank: Place) -> Vec<Finding> {
    let words = book.words();
    let target = book.setup.target(TargetFeature::DeckHeight, bank);
    let read: Vec<(&str, Measured, Vec<String>)> = CORNERS
        .into_iter()
        .filter_map(|(corner, label)| {
            let (value, taken) = book.figure(SlotFeature::DeckHeight(corner), bank)?;
            Some((label, value, taken.readings.clone()))
        })
        .collect();
    let values: Vec<&Measured> = read.iter().map(|(_, value, _)| value).collect();
    let readings: Vec<String> = read.iter().flat_map(|(.., ids)| ids.iter().cloned()).collect();
    let mut findings = Vec::new();
    if let Ok(mean) = metrology::mean(&values) {
        let mut height = Finding {
            target,
            working: vec![format!("mean of {}: {}", Words::counted(values.len(), "corner"), words.size(mean.value()))],
            value: Some(mean),
            readings: readings.clone(),
            ..Finding::new(FindingFeature::DeckHeight, bank, Basis::Readings)
        };
        height.set_ends(&values);
        findings.push(height);
    }
    let by_value =
        |a: &&(&str, Measured, Vec<String>), b: &&(&str, Measured, Vec<String>)| a.1.value().total_cmp(&b.1.value());
    if let (Some(highest), Some(lowest), true) =
        (read.iter().max_by(by_value), read.iter().min_by(by_value), read.len() > 1)
    {
        let mut tilt = Finding::new(FindingFeature::DeckTilt, bank, Basis::Readings);
        tilt.set_difference(&highest.1, &lowest.1, read.len());
        tilt.working.push(format!(
            "{} {} − {} {} = {}",
            highest.0,
            words.size_number(highest.1.value()),
            lowest.0,
            words.size_number(lowest.1.value()),
            words.small(highest.1.value() - lowest.1.value())
        ));
        tilt.readings = readings;
        findings.push(tilt);
    }
    let flat = AsRead {
        slot: SlotFeature::DeckFlatness,
        stated: None,
        finding: FindingFeature::DeckFlatness,
        name: "largest gap",
    };
    findings.extend(flat.if_read(book, bank));
    findings
}
