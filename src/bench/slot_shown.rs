//! Slots and their readings as the templates of a sheet show them.

use crate::web::svg;
use crate::work::{FindingView, PlaceView, ReadingView, RoundKind, SlotView, Standing, Wanted};

/// How a place stands: its mark and its word.
pub(super) fn mark(place: &PlaceView) -> String {
    svg::verdict(place.mark)
}

/// Whether what was typed says more than what is shown.
pub(super) fn typed_otherwise(reading: &ReadingView) -> bool {
    let number = reading.shown.split('\u{a0}').next().unwrap_or_default();
    reading.typed != number && reading.typed != reading.shown.replace('\u{a0}', " ")
}

/// The reading of a slot that took another one's place.
pub(super) fn correction<'a>(slot: &'a SlotView, struck: &ReadingView) -> Option<&'a ReadingView> {
    let mut all = slot.readings.iter().chain(&slot.struck);
    all.find(|reading| reading.corrects == Some(struck.number))
}

/// What a figure for all places is of, where a sheet asks for several: "piston", or else its group.
pub(super) fn stated_of(slot: &SlotView) -> &str {
    slot.label.strip_suffix(", one figure for all").unwrap_or(slot.group)
}

/// Whether somebody has to make a call on a finding: one that is only missing waits to be read.
pub(super) fn wants_call(finding: &FindingView) -> bool {
    finding.needs_call() && finding.standing != Standing::Missing
}

/// What is still wanted of a slot that is read twice.
pub(super) const fn wanted(wanted: &Wanted) -> &'static str {
    match wanted {
        Wanted::Second => "taken, covered until the second",
        Wanted::Another => "they differ by more than the gauge can tell: read it once more",
    }
}

/// Within which a reading of the slot looks good, for the script that compares: "least most", empty for none.
pub(super) fn accept(slot: &SlotView) -> String {
    pair(slot.accept)
}

/// Outside which it looks odd.
pub(super) fn expect(slot: &SlotView) -> String {
    pair(slot.expect)
}

/// From which bare figure on it is in the smaller unit, and what one of that is.
pub(super) fn bare_from(slot: &SlotView) -> String {
    pair(slot.bare_from)
}

/// What a deviation is added to, and what one step of it is.
pub(super) fn deviation(slot: &SlotView) -> String {
    pair(slot.deviation)
}

fn pair(pair: Option<(f64, f64)>) -> String {
    pair.map_or_else(String::new, |(one, other)| format!("{one:e} {other:e}"))
}

/// What a round can be for: key and word.
pub(super) fn round_kinds() -> [(&'static str, &'static str); 5] {
    RoundKind::ALL.map(|kind| (kind.key(), kind.word()))
}
