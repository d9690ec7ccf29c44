//! The crankshaft: journals and their shape, runout of the mains, stroke and throws, fillets, end play, and what turns it.

use super::as_read::{AsRead, judge_all};
use super::shape::spread;
use super::slot::SlotRow;
use super::{Basis, Book, Finding, Sheet, Slot, journal};
use crate::engine::{FindingFeature, ItemKind, Place, Setup, SheetKey, SlotFeature, TargetFeature};
use crate::metrology::{self, GaugeKind};

const EDITION: u32 = 2;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Crankshaft,
    edition: EDITION,
    title: "Crankshaft",
    purpose: "Every main and rod journal, runout of the mains, stroke of each throw, fillets, end play with each cap, and the torque that turns it.",
    caution: "A crank is heavy: sling it, mind fingers between it and the block. Never lay it on its throws.",
    reads: &[],
    finds: &[
        FindingFeature::MainJournalSize,
        FindingFeature::MainJournalOutOfRound,
        FindingFeature::MainJournalTaper,
        FindingFeature::MainRunout,
        FindingFeature::MainFillet,
        FindingFeature::RodJournalSize,
        FindingFeature::RodJournalOutOfRound,
        FindingFeature::RodJournalTaper,
        FindingFeature::RodFillet,
        FindingFeature::Stroke,
        FindingFeature::StrokeSpread,
        FindingFeature::ThrowAngle,
        FindingFeature::EndPlayChange,
        FindingFeature::EndPlay,
        FindingFeature::TurningCrank,
        FindingFeature::TurningAdded,
    ],
    main: FindingFeature::RodJournalSize,
    compared: &[FindingFeature::MainJournalSize, FindingFeature::RodJournalSize, FindingFeature::EndPlay],
    options: None,
    slots,
    work_out,
};

const MAIN_JOURNALS: &str = "main journals";
const RUNOUT: &str = "runout";
const FILLETS: &str = "fillets";
const ROD_JOURNALS: &str = "rod journals";
const THROWS: &str = "throws";
const END_PLAY: &str = "end play";
const TURNING: &str = "turning it by hand";

fn slots(setup: &Setup) -> Vec<Slot> {
    use GaugeKind::{Indicator, Other, TorqueWrench};
    use SlotFeature as F;
    let engine = &setup.architecture;
    let at = |place, row: SlotRow| Slot::of(setup, place, row);
    let of_crank = |feature, label, group, gauge| (feature, label, group, gauge, ItemKind::Crank);
    let mut slots = Vec::new();
    for main in engine.main_places() {
        slots.extend(journal::MAIN.rows(MAIN_JOURNALS).map(|row| at(main, row).between(0.01, 0.5)));
        slots.push(at(main, of_crank(F::MainRunout, "runout, full reading", RUNOUT, Indicator)));
        slots.push(at(main, of_crank(F::MainFillet, "fillet radius", FILLETS, Other)).between(1e-4, 0.02));
    }
    for throw in engine.throw_places() {
        slots.extend(journal::ROD.rows(ROD_JOURNALS).map(|row| at(throw, row).between(0.01, 0.5)));
        slots.push(at(throw, of_crank(F::RodFillet, "fillet radius", FILLETS, Other)).between(1e-4, 0.02));
        slots.push(at(throw, of_crank(F::Stroke, "stroke", THROWS, Indicator)).between(0.01, 0.5));
        slots.push(at(throw, of_crank(F::ThrowAngle, "out of its angle", THROWS, Other)).between(-0.2, 0.2));
    }
    slots.extend(
        engine
            .main_places()
            .map(|main| at(main, of_crank(F::EndPlayAtCap, "with caps up to this one down", END_PLAY, Indicator))),
    );
    slots.push(at(Place::Engine, of_crank(F::EndPlay, "with all caps down", END_PLAY, Indicator)));
    let crank_alone = of_crank(F::TurningCrank, "crank alone", TURNING, TorqueWrench);
    slots.push(at(Place::Engine, crank_alone));
    for cylinder in engine.cylinders_in_order() {
        let with_piston = of_crank(F::TurningWithPiston, "with this piston in", TURNING, TorqueWrench);
        slots.push(at(cylinder, with_piston));
    }
    slots
}

const fn as_read(slot: SlotFeature, finding: FindingFeature, name: &'static str) -> AsRead {
    AsRead { slot, stated: None, finding, name }
}

fn work_out(book: &Book) -> Vec<Finding> {
    use FindingFeature as F;
    let engine = &book.setup.architecture;
    let mut findings = Vec::new();
    let runout = as_read(SlotFeature::MainRunout, F::MainRunout, "runout");
    let fillet = as_read(SlotFeature::MainFillet, F::MainFillet, "fillet");
    for main in engine.main_places() {
        // A main's clearance can be read without its journal, so that nothing is missing until one is.
        findings.extend(journal::MAIN.at(book, main).iter().flat_map(|read| journal::MAIN.found(book, main, read)));
        findings.extend([&runout, &fillet].into_iter().filter_map(|read| read.if_read(book, main)));
    }
    let of_throw = [
        as_read(SlotFeature::RodFillet, F::RodFillet, "fillet"),
        as_read(SlotFeature::Stroke, F::Stroke, "stroke"),
        as_read(SlotFeature::ThrowAngle, F::ThrowAngle, "out by"),
    ];
    for throw in engine.throw_places() {
        findings.extend(rod_journal(book, throw));
        findings.extend(of_throw.iter().filter_map(|read| read.if_read(book, throw)));
    }
    let apart = Finding::new(F::StrokeSpread, Place::AllThrows, Basis::Readings);
    findings.extend(spread(apart, &F::Stroke, &findings, book));
    findings.extend(end_play(book));
    findings.extend(turning(book));
    judge_all(&mut findings, book);
    findings
}

/// What was read of a rod journal, or that it is missing.
fn rod_journal(book: &Book, throw: Place) -> Vec<Finding> {
    if let Some(journal) = journal::ROD.at(book, throw) {
        return journal::ROD.found(book, throw, &journal);
    }
    let target = book.setup.target(TargetFeature::RodJournal, throw);
    let missing = format!("journal of {}", book.setup.architecture.label(throw));
    let basis = if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } };
    vec![Finding { target, ..Finding::new(FindingFeature::RodJournalSize, throw, basis) }]
}

/// End play with all caps down, and what each cap changed of it: a thrust shell out of line shows at its own cap.
fn end_play(book: &Book) -> Vec<Finding> {
    let mut findings = vec![as_read(SlotFeature::EndPlay, FindingFeature::EndPlay, "end play").at(book, Place::Engine)];
    let mains: Vec<Place> = book.setup.architecture.main_places().collect();
    for pair in mains.windows(2) {
        let read = |main: Place| book.figure(SlotFeature::EndPlayAtCap, main);
        let (Some((before, one)), Some((after, other))) = (read(pair[0]), read(pair[1])) else { continue };
        let Ok(change) = metrology::difference(&after, &before) else { continue };
        let words = book.words();
        let within = change.value().abs() <= change.expanded(2.0);
        findings.push(Finding {
            working: vec![format!(
                "{} − {} = {}",
                words.small(after.value()),
                words.small(before.value()),
                words.small(change.value())
            )],
            remarks: if within { vec!["no more than the gauge can tell".to_owned()] } else { Vec::new() },
            readings: one.readings.iter().chain(&other.readings).cloned().collect(),
            value: Some(change),
            ..Finding::new(FindingFeature::EndPlayChange, pair[1], Basis::Readings)
        });
    }
    findings
}

/// What turns the crank alone, and what each piston adds to what turned it before, in bench order.
fn turning(book: &Book) -> Vec<Finding> {
    let alone = as_read(SlotFeature::TurningCrank, FindingFeature::TurningCrank, "crank alone");
    let mut findings: Vec<Finding> = alone.if_read(book, Place::Engine).into_iter().collect();
    let mut before = book.figure(SlotFeature::TurningCrank, Place::Engine);
    let words = book.words();
    for cylinder in book.setup.architecture.cylinders_in_order() {
        let Some((with, taken)) = book.figure(SlotFeature::TurningWithPiston, cylinder) else { continue };
        if let Some((without, earlier)) = &before
            && let Ok(added) = metrology::difference(&with, without)
        {
            let said = |si: f64| words.said(FindingFeature::TurningAdded.measure(), si);
            findings.push(Finding {
                working: vec![format!("{} − {} = {}", said(with.value()), said(without.value()), said(added.value()))],
                readings: earlier.readings.iter().chain(&taken.readings).cloned().collect(),
                value: Some(added),
                ..Finding::new(FindingFeature::TurningAdded, cylinder, Basis::Readings)
            });
        }
        before = Some((with, taken));
    }
    findings
}
