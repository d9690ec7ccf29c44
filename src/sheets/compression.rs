//! Deck and compression.

use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, Setup, SheetKey};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Compression,
    edition: EDITION,
    title: "Deck and compression",
    purpose: "",
    caution: "",
    reads: &[],
    finds: &[],
    main: FindingFeature::CompressionRatio,
    compared: &[FindingFeature::CompressionRatio],
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
