//! The main line: how straight the main housings stand, by a bar and a feeler or by a dial run through them.

use super::as_read::{AsRead, judge_all};
use super::shape::spread;
use super::{Basis, Book, Finding, Slot};
use crate::engine::{FindingFeature, ItemKind, Off, Place, Setup, SlotFeature};
use crate::metrology::GaugeKind;

const GROUP: &str = "main line";
const WAYS: [(Off, &str); 2] = [
    (Off::Vertical, "off the line, vertical, above it plus"),
    (Off::Sideways, "off the line, sideways, to the left plus"),
];

/// Each main by one way, then by the other, as a bar or a dial is set for either.
pub(super) fn slots(setup: &Setup) -> Vec<Slot> {
    let of = |(off, label)| {
        let row = (SlotFeature::MainLine(off), label, GROUP, GaugeKind::Indicator, ItemKind::Block);
        setup.architecture.main_places().map(move |main| Slot::of(setup, main, row.clone()).between(-0.001, 0.001))
    };
    WAYS.into_iter().flat_map(of).collect()
}

/// What was read of each main, its step from the one before, and the largest less the smallest.
pub(super) fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings: Vec<Finding> = WAYS.into_iter().flat_map(|(off, _)| one_way(book, off)).collect();
    judge_all(&mut findings, book);
    findings
}

fn one_way(book: &Book, off: Off) -> Vec<Finding> {
    let feature = FindingFeature::MainLine(off);
    let read =
        AsRead { slot: SlotFeature::MainLine(off), stated: None, finding: feature.clone(), name: "off the line" };
    let mains: Vec<Place> = book.setup.architecture.main_places().collect();
    let mut findings: Vec<Finding> = mains.iter().filter_map(|&main| read.if_read(book, main)).collect();
    let steps: Vec<Finding> = mains.windows(2).filter_map(|pair| step(book, off, &findings, pair)).collect();
    let apart = Finding::new(FindingFeature::MainLineSpread(off), Place::AllMains, Basis::Readings);
    let apart = spread(apart, &feature, &findings, book);
    findings.extend(steps.into_iter().chain(apart));
    findings
}

/// From one main to the next, where both were read.
fn step(book: &Book, off: Off, read: &[Finding], pair: &[Place]) -> Option<Finding> {
    let of = |place: Place| read.iter().find(|finding| finding.key.place == place);
    let (before, here) = (of(pair[0])?, of(pair[1])?);
    let (one, other) = (here.value.as_ref()?, before.value.as_ref()?);
    let words = book.words();
    let mut finding = Finding::new(FindingFeature::MainLineStep(off), pair[1], Basis::Readings);
    finding.working.push(format!(
        "|{} − {}| = {}",
        words.small(one.value()),
        words.small(other.value()),
        words.small((one.value() - other.value()).abs())
    ));
    finding.set_difference(one, other, 2);
    finding.readings = before.readings.iter().chain(&here.readings).cloned().collect();
    Some(finding)
}
