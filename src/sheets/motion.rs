//! Motion and load.

use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, Setup, SheetKey};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Motion,
    edition: EDITION,
    title: "Motion and load",
    purpose: "",
    caution: "",
    reads: &[],
    finds: &[],
    main: FindingFeature::BoltLoad,
    compared: &[FindingFeature::BoltLoad],
    options: None,
    slots,
    work_out,
};

fn slots(_setup: &Setup) -> Vec<Slot> {
    Vec::new()
}

fn work_out(_book: &Book) -> Vec<Finding> {
    Vec::new()
}
