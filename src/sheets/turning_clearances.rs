//! What turns against what stands: rods and bolts, counterweights, pan and tray, through two turns.

use super::as_read::{AsRead, judge_all};
use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, ItemKind, Passing, Place, Setup, SheetKey, SlotFeature};
use crate::metrology::GaugeKind;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::TurningClearances,
    edition: EDITION,
    title: "Turning clearances",
    purpose: "The closest that rods, bolts and counterweights come to block, cam, pistons, pan and tray, through two full turns.",
    caution: "Turn by hand only, plugs out; keep fingers out of the throws. Aluminium rods stretch and want twice the room of steel.",
    reads: &[],
    finds: &[
        FindingFeature::Clear(Passing::RodToBlock),
        FindingFeature::Clear(Passing::RodToCam),
        FindingFeature::Clear(Passing::CounterweightToBlock),
        FindingFeature::Clear(Passing::CounterweightToPiston),
        FindingFeature::Clear(Passing::ToPan),
        FindingFeature::Clear(Passing::ToTray),
    ],
    main: FindingFeature::Clear(Passing::RodToBlock),
    compared: &[FindingFeature::Clear(Passing::RodToBlock)],
    options: None,
    slots,
    work_out,
};

/// Of what each is read, and how it is called at the bench.
const PASSING: [(Passing, ItemKind, &str); 6] = [
    (Passing::RodToBlock, ItemKind::Block, "rod or bolt to block"),
    (Passing::RodToCam, ItemKind::Block, "rod or bolt to cam"),
    (Passing::CounterweightToBlock, ItemKind::Block, "counterweight to block"),
    (Passing::CounterweightToPiston, ItemKind::Crank, "counterweight to piston"),
    (Passing::ToPan, ItemKind::Crank, "closest to the pan"),
    (Passing::ToTray, ItemKind::Crank, "closest to the tray"),
];

/// The places of one, bench order.
fn places(setup: &Setup, passing: Passing) -> Vec<Place> {
    setup.architecture.places_of(FindingFeature::Clear(passing).whole())
}

fn slots(setup: &Setup) -> Vec<Slot> {
    let at = |(passing, item, label): (Passing, ItemKind, &'static str)| {
        let row = move || (SlotFeature::Clear(passing), label, "two full turns", GaugeKind::Feeler, item);
        let slot = move |place| Slot { material: None, ..Slot::of(setup, place, row()).between(0.0, 0.05) };
        places(setup, passing).into_iter().map(slot).collect::<Vec<_>>()
    };
    PASSING.into_iter().flat_map(at).collect()
}

fn work_out(book: &Book) -> Vec<Finding> {
    let of = |(passing, _, name): (Passing, ItemKind, &'static str)| {
        let read =
            AsRead { slot: SlotFeature::Clear(passing), stated: None, finding: FindingFeature::Clear(passing), name };
        let asked = passing == Passing::RodToBlock;
        let at = move |place| if asked { Some(read.at(book, place)) } else { read.if_read(book, place) };
        places(&book.setup, passing).into_iter().filter_map(at).collect::<Vec<_>>()
    };
    let mut findings: Vec<Finding> = PASSING.into_iter().flat_map(of).collect();
    judge_all(&mut findings, book);
    findings
}
