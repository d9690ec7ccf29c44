//! Weights and balance.

use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, Setup, SheetKey};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Balance,
    edition: EDITION,
    title: "Weights and balance",
    purpose: "",
    caution: "",
    reads: &[],
    finds: &[],
    main: FindingFeature::Bobweight,
    compared: &[FindingFeature::Bobweight],
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
