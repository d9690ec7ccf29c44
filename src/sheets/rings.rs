//! Piston rings.

use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, Ring, Setup, SheetKey};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Rings,
    edition: EDITION,
    title: "Piston rings",
    purpose: "",
    caution: "",
    reads: &[],
    finds: &[],
    main: FindingFeature::RingGap(Ring::Top),
    compared: &[FindingFeature::RingGap(Ring::Top)],
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
