//! The parts of a job's document: each kind of thing that is kept, as it goes out.

use crate::engine::{Architecture, FindingKey, ItemKind, Limit, Place, SheetKey, SlotKey, TargetKey};
use crate::metrology::Material;
use crate::quantity::Unit;
use crate::record::Stamp;
use crate::record::acceptances::Acceptance;
use crate::record::cards::CardIssue;
use crate::record::engines::Engine;
use crate::record::items::Fitted;
use crate::record::limits::PastLimit;
use crate::record::people::Person;
use crate::record::readings::{Reading, Says};
use crate::record::rounds::{Condition, Round};
use crate::record::second_checks::SecondCheck;
use crate::record::sign_offs::SignOff;
use crate::record::steps::{Step, StepState};
use crate::record::stop_marks::StopMark;
use crate::record::targets::Target;
use crate::work::JobRecord;
use jiff::Timestamp;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// When something was done, and by whom.
#[derive(Serialize)]
pub(super) struct Stamped {
    at: Timestamp,
    by: Option<String>,
}

impl From<&Stamp> for Stamped {
    fn from(stamp: &Stamp) -> Self {
        Self { at: stamp.at, by: stamp.by.clone() }
    }
}

#[derive(Serialize)]
pub(super) struct PersonOut {
    id: String,
    name: String,
}

impl From<&Person> for PersonOut {
    fn from(person: &Person) -> Self {
        Self { id: person.public_id.clone(), name: person.name.clone() }
    }
}

#[derive(Serialize)]
pub(super) struct EngineOut {
    id: String,
    #[serde(flatten)]
    architecture: Architecture,
    block_material: Option<Material>,
    head_material: Option<Material>,
    crank_material: Option<Material>,
    piston_material: Option<Material>,
    cap_material: Option<Material>,
    rod_material: Option<Material>,
    sleeve_material: Option<Material>,
    bush_material: Option<Material>,
}

impl From<&Engine> for EngineOut {
    fn from(engine: &Engine) -> Self {
        Self {
            id: engine.public_id.clone(),
            architecture: engine.architecture.clone(),
            block_material: engine.materials.block,
            head_material: engine.materials.head,
            crank_material: engine.materials.crank,
            piston_material: engine.materials.pistons,
            cap_material: engine.materials.caps,
            rod_material: engine.materials.rods,
            sleeve_material: engine.materials.sleeves,
            bush_material: engine.materials.bushes,
        }
    }
}

#[derive(Serialize)]
pub(super) struct ItemOut {
    id: String,
    kind: ItemKind,
    place: Place,
    serial: String,
    note: String,
    /// Whether it is in the engine no more.
    taken_out: bool,
}

impl ItemOut {
    pub fn of(item: &Fitted, taken_out: bool) -> Self {
        Self {
            id: item.public_id.clone(),
            kind: item.at.kind,
            place: item.at.place,
            serial: item.serial.clone(),
            note: item.note.clone(),
            taken_out,
        }
    }
}

#[derive(Serialize)]
pub(super) struct TargetOut {
    #[serde(flatten)]
    key: TargetKey,
    value: f64,
    typed: String,
}

impl From<&Target> for TargetOut {
    fn from(target: &Target) -> Self {
        Self { key: target.key, value: target.si, typed: target.typed.clone() }
    }
}

/// A limit as it was set; lifted where it has no figures.
#[derive(Serialize)]
pub(super) struct PastLimitOut {
    #[serde(flatten)]
    limit: Limit,
    reason: String,
    set: Stamped,
}

impl From<&PastLimit> for PastLimitOut {
    fn from(past: &PastLimit) -> Self {
        Self { limit: past.limit.clone(), reason: past.reason.clone(), set: Stamped::from(&past.stamp) }
    }
}

#[derive(Serialize)]
pub(super) struct RoundOut {
    id: i64,
    sheet: SheetKey,
    kind: &'static str,
    number: i64,
    condition: Condition,
    temperature_c: Option<f64>,
    gauge_temperature_c: Option<f64>,
    counts: bool,
    begun: Stamped,
}

impl From<&Round> for RoundOut {
    fn from(round: &Round) -> Self {
        Self {
            id: round.id,
            sheet: round.sheet,
            kind: round.kind.key(),
            number: round.number,
            condition: round.condition.clone(),
            temperature_c: round.temperature_c,
            gauge_temperature_c: round.gauge_temperature_c,
            counts: round.counts,
            begun: Stamped::from(&round.made),
        }
    }
}

#[derive(Serialize)]
pub(super) struct ReadingOut {
    number: i64,
    item: Option<String>,
    sheet: SheetKey,
    slot: SlotKey,
    round: i64,
    take: i64,
    #[serde(flatten)]
    says: SaysOut,
    typed: String,
    unit: Option<Unit>,
    resolution: f64,
    gauge: Option<String>,
    gauge_setting: Option<i64>,
    state: &'static str,
    /// Not shown on any page before the second is taken.
    covered: bool,
    corrects: Option<i64>,
    why: String,
    as_read: bool,
    moved_from: Option<String>,
    brought_from: Option<String>,
    moved_to: Option<String>,
    taken: Stamped,
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum SaysOut {
    Figure(f64),
    Range(f64, f64),
    Checked(String),
}

impl ReadingOut {
    /// `items` are public ids of what is or was in the engine.
    pub fn of(job: &JobRecord, items: &BTreeMap<i64, String>, reading: &Reading) -> Self {
        Self {
            number: reading.number,
            item: items.get(&reading.item).cloned(),
            sheet: reading.sheet,
            slot: reading.slot.clone(),
            round: reading.round,
            take: reading.take,
            says: match &reading.says {
                Says::Figure(value) => SaysOut::Figure(*value),
                Says::Range(low, high) => SaysOut::Range(*low, *high),
                Says::Checked { how } => SaysOut::Checked(how.clone()),
            },
            typed: reading.typed.clone(),
            unit: reading.unit,
            resolution: reading.resolution,
            gauge: reading.gauge.and_then(|id| job.gauge(id)).map(|gauge| gauge.public_id.clone()),
            gauge_setting: reading.gauge_setting,
            state: reading.state.key(),
            covered: job.is_covered(reading),
            corrects: reading.corrects,
            why: reading.why.clone(),
            as_read: reading.as_read,
            moved_from: reading.moved_from.clone(),
            brought_from: reading.brought.as_ref().map(|brought| brought.from.clone()),
            moved_to: reading.moved_to.clone(),
            taken: Stamped::from(&reading.stamp),
        }
    }
}

#[derive(Serialize)]
pub(super) struct StepOut {
    key: String,
    title: String,
    state: &'static str,
    done_by: Option<String>,
    after: Vec<String>,
    sheets: Vec<SheetKey>,
    signed: Vec<SignedOut>,
}

#[derive(Serialize)]
struct SignedOut {
    signed: Stamped,
    reopened_because: Option<String>,
    seen: Value,
    checked_again: Vec<CheckedOut>,
}

#[derive(Serialize)]
struct CheckedOut {
    checked: Stamped,
    seen: Value,
}

impl StepOut {
    pub fn of(step: &Step, key: impl Fn(i64) -> Option<String>, signs: &[SignOff], checks: &[SecondCheck]) -> Self {
        let checked = |sign: &SignOff| {
            let of_sign = checks.iter().filter(|check| check.sign_off == sign.id);
            of_sign
                .map(|check| CheckedOut { checked: Stamped::from(&check.stamp), seen: as_seen(&check.seen) })
                .collect()
        };
        let signed = signs.iter().filter(|sign| sign.step == step.id).map(|sign| SignedOut {
            signed: Stamped::from(&sign.stamp),
            reopened_because: sign.reopened.then(|| sign.why.clone()),
            seen: as_seen(&sign.seen),
            checked_again: checked(sign),
        });
        Self {
            key: step.key.clone(),
            title: step.title.clone(),
            state: step.state.key(),
            done_by: if let StepState::Elsewhere(whom) = &step.state { Some(whom.clone()) } else { None },
            after: step.after.iter().filter_map(|&id| key(id)).collect(),
            sheets: step.sheets.clone(),
            signed: signed.collect(),
        }
    }
}

#[derive(Serialize)]
pub(super) struct StoppedOut {
    step: Option<String>,
    stopped_at: String,
    marked: Stamped,
    resumed: Option<Stamped>,
}

impl StoppedOut {
    pub fn of(step: Option<String>, mark: &StopMark, resumed: Option<&Stamp>) -> Self {
        let resumed = resumed.map(Stamped::from);
        Self { step, stopped_at: mark.stopped_at.clone(), marked: Stamped::from(&mark.stamp), resumed }
    }
}

/// "My call, because …".
#[derive(Serialize)]
pub(super) struct CallOut {
    finding: FindingKey,
    because: String,
    for_owner: String,
    made: Stamped,
    withdrawn: Option<Stamped>,
    seen: Value,
}

impl CallOut {
    pub fn of(call: &Acceptance, withdrawn: Option<&Stamp>) -> Self {
        Self {
            finding: call.finding.clone(),
            because: call.because.clone(),
            for_owner: call.for_owner.clone(),
            made: Stamped::from(&call.stamp),
            withdrawn: withdrawn.map(Stamped::from),
            seen: as_seen(&call.seen),
        }
    }
}

#[derive(Serialize)]
pub(super) struct CardOut {
    number: i64,
    reader: &'static str,
    replaces: Option<i64>,
    sha256: String,
    issued: Stamped,
}

impl From<&CardIssue> for CardOut {
    fn from(issue: &CardIssue) -> Self {
        Self {
            number: issue.number,
            reader: issue.audience.word(),
            replaces: issue.replaces,
            sha256: issue.sha256.clone(),
            issued: Stamped::from(&issue.stamp),
        }
    }
}

/// What was seen, as the JSON it was kept as.
fn as_seen(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|_| Value::String(text.to_owned()))
}
