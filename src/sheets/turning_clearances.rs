//! Turning clearances.

use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, Passing, Setup, SheetKey};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::TurningClearances,
    edition: EDITION,
    title: "Turning clearances",
    purpose: "",
    caution: "",
    reads: &[],
    finds: &[],
    main: FindingFeature::Clear(Passing::RodToBlock),
    compared: &[FindingFeature::Clear(Passing::RodToBlock)],
    slots,
    work_out,
};

fn slots(_setup: &Setup) -> Vec<Slot> {
    Vec::new()
}

fn work_out(_book: &Book) -> Vec<Finding> {
    Vec::new()
}
