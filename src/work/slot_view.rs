//! One slot of a sheet as its page shows it: what was read in it, with what, and how the next reading will be understood.

use super::JobRecord;
use super::job::JobLook;
use super::job_record::past_due;
use super::reading_view::{ReadingView, reading_view};
use crate::engine::{Measure, SlotKey};
use crate::metrology::GaugeKind;
use crate::quantity::HowRead;
use crate::record::gauges::{Gauge, GaugeSetting};
use crate::record::readings::{Reading, ReadingState};
use crate::record::rounds::Round;
use crate::sheets::{Book, Depth, Slot, Wanted, Words, acceptance, expectation, sheet};

/// One reading to take, with what was read.
#[expect(clippy::struct_excessive_bools, reason = "each is another thing that its row says")]
#[derive(Clone, Debug)]
pub struct SlotView {
    pub key: SlotKey,
    pub label: &'static str,
    /// The route or group: "shells in, cap down".
    pub group: &'static str,
    /// One figure, a range or checked good for the place; otherwise one of every reading.
    pub stated: bool,
    /// The gauge's name, or the usual kind of gauge.
    pub gauge: String,
    pub gauge_id: Option<String>,
    /// The kind of gauge the slot asks for.
    pub gauge_kind: GaugeKind,
    /// The gauge is past its date of calibration.
    pub past_due: bool,
    /// What the gauge was last zeroed on for this job: "ring 4.3750".
    pub zeroed_on: Option<String>,
    /// What a bare "+2" means here: "2 tenths"; none where there is nothing it could be added to.
    pub plus_two: Option<String>,
    /// What a bare "+2" is added to: "over 4.3750 in, the target"; none where it stands alone, as a clearance does.
    pub plus_from: Option<String>,
    /// What a bare deviation is added to, and what one step of it is, in m.
    pub deviation: Option<(f64, f64)>,
    /// The unit of a bare figure.
    pub unit: &'static str,
    /// What the keypad offers behind a figure.
    pub keys: [&'static str; 4],
    pub target: Option<String>,
    /// Those that stand, latest last.
    pub readings: Vec<ReadingView>,
    /// Whether a change made what stands stale.
    pub stale: bool,
    /// Where those were read, if not in this round: "as round 1, checked again", "read on Main bearings, round 2".
    pub read_elsewhere: Option<String>,
    /// What is still wanted of a slot that is read twice; until the second stands the first is covered: no reading is given.
    pub wanted: Option<Wanted>,
    /// Whether it is read twice, the second time without seeing the first.
    pub read_twice: bool,
    /// Struck out, moved or set aside.
    pub struck: Vec<ReadingView>,
    /// Those between which somebody has to choose; empty otherwise.
    pub rivals: Vec<ReadingView>,
    /// The latest reading's number: what a post from this page has seen.
    pub saw: Option<i64>,
    /// Within which a reading looks good, in m.
    pub accept: Option<(f64, f64)>,
    /// Outside which a reading is odd, in m.
    pub expect: Option<(f64, f64)>,
    /// What one of a bare figure is, in m.
    pub bare: f64,
    /// From which bare figure on it is in the smaller unit, and what one of that is in m.
    pub bare_from: Option<(f64, f64)>,
}

pub(super) fn slot_view(look: &JobLook, book: &Book, round: Option<&Round>, slot: &Slot) -> SlotView {
    let job = &look.job;
    let mut all: Vec<&Reading> = round.map_or_else(Vec::new, |round| job.in_slot(&slot.key, round.id).collect());
    let live = |r: &&&Reading| matches!(r.state, ReadingState::Stands | ReadingState::Rival);
    let mut read_elsewhere = None;
    if all.iter().find(live).is_none() {
        let elsewhere = job.kept_elsewhere(&slot.key);
        let of = elsewhere.iter().find(live).and_then(|reading| job.round(reading.round));
        read_elsewhere = of.map(|round| format!("read on {}, round {}", sheet(round.sheet).title, round.number));
        all.extend(elsewhere);
    }
    let in_state =
        |state: ReadingState| -> Vec<&Reading> { all.iter().filter(|r| r.state == state).copied().collect() };
    let (standing, rivals) = (in_state(ReadingState::Stands), in_state(ReadingState::Rival));
    let struck: Vec<&Reading> = all.iter().filter(|r| !live(r)).copied().collect();
    let undecided =
        if rivals.is_empty() { Vec::new() } else { standing.iter().rev().take(1).chain(&rivals).copied().collect() };
    let wanted = book.wanted(&slot.key);
    let covered = wanted == Some(Wanted::Second);
    // What the round did not read anew stands as an earlier one read it, where somebody checked it again.
    let again = round.filter(|_| standing.is_empty() && rivals.is_empty() && !job.rechecks.is_empty());
    let again = again.map_or_else(Vec::new, |round| job.standing_in(round));
    let again: Vec<&Reading> = again.into_iter().filter(|r| r.slot == slot.key).collect();
    let rechecked = again.first().and_then(|reading| book.rechecked.get(&reading.id()).cloned());
    let read_elsewhere = read_elsewhere.or(rechecked);
    let (shown_readings, struck) = match (covered, standing.is_empty()) {
        (true, _) => (Vec::new(), Vec::new()),
        (false, true) => (again, struck),
        (false, false) => (standing.clone(), struck),
    };
    let view = |readings: &[&Reading]| readings.iter().map(|r| reading_view(look, r, slot.measure())).collect();
    let gauge = job.usual_gauge(slot);
    let setting = gauge.and_then(|gauge| job.setting(slot, gauge));
    let how = how_read(job, slot, gauge, setting);
    let words = Words { unit: job.build.unit };
    let shown = |si: f64| words.said(slot.measure(), si);
    SlotView {
        key: slot.key.clone(),
        label: slot.label,
        group: slot.group,
        stated: slot.depth == Depth::Stated,
        gauge: gauge.map_or_else(|| slot.gauge.word().to_owned(), |gauge| gauge.name.clone()),
        gauge_kind: slot.gauge,
        past_due: gauge.is_some_and(|gauge| past_due(gauge, look.when.now())),
        gauge_id: gauge.map(|gauge| gauge.public_id.clone()),
        zeroed_on: setting.map(|setting| setting.zeroed_on.clone()),
        plus_two: how.from.map(|_| how.step.show(how.step.interval_to_si(2.0), 0)),
        plus_from: how.from.filter(|_| slot.measure() == Measure::SIZE).map(|from| {
            let what = if set_to(slot, setting).is_some() { "what the gauge was set to" } else { "the target" };
            format!("over {}, {what}", words.size(from.si))
        }),
        deviation: how.from.map(|from| (from.si, how.step.interval_to_si(1.0))),
        unit: job.build.unit.of(slot.measure()).symbol(),
        keys: job.build.unit.keys(slot.measure()),
        target: slot.target.map(shown),
        saw: all.iter().rev().find(live).map(|r| r.number),
        stale: shown_readings.iter().any(|r| !look.findings.stale.of_reading(&r.id()).is_empty()),
        readings: view(&shown_readings),
        read_elsewhere,
        wanted,
        read_twice: book.read_twice.contains(&slot.key.feature),
        rivals: view(&undecided),
        struck: view(&struck),
        accept: acceptance(book, slot).map(|band| (band.min().unwrap_or(f64::MIN), band.max().unwrap_or(f64::MAX))),
        expect: expectation(book, slot).map(|expected| expected.far),
        bare: how.bare.to_si(1.0),
        bare_from: how.bare_from.map(|(from, unit)| (from, unit.to_si(1.0))),
    }
}

/// How a bare figure is read in a slot with a gauge at a setting: by what it was set to, or else by the target.
pub(super) fn how_read(job: &JobRecord, slot: &Slot, gauge: Option<&Gauge>, setting: Option<&GaugeSetting>) -> HowRead {
    let step = gauge.map_or_else(|| job.build.unit.small(), |gauge| gauge.step);
    slot.how(job.build.unit, step, set_to(slot, setting))
}

/// The size a gauge was set to, for a slot that is itself a size.
fn set_to(slot: &Slot, setting: Option<&GaugeSetting>) -> Option<f64> {
    setting.filter(|_| slot.measure() == Measure::SIZE)?.set_to
}
