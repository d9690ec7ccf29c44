//! The whole of a job as one document: every reading with its state, every call and sign-off as it was seen.
//!
//! People stand in it by name where they did something; the customer's own data stay in the record.

use crate::engine::{Architecture, Limit, SlotKey, TargetKey};
use crate::quantity::Unit;
use crate::record::readings::{Reading, Says};
use crate::record::rounds::Condition;
use crate::record::steps::StepState;
use crate::record::{self, Connection, Stamp};
use crate::record::{acceptances, attachments, cards, facts, notes, sign_offs, steps, stop_marks};
use crate::work::JobRecord;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Raised when a reader of old documents would misread a new one.
const FORMAT: u32 = 1;

/// A job as a document. Lengths are in m, instants in UTC.
#[derive(Serialize)]
pub struct JobDocument {
    format: u32,
    job: i64,
    id: String,
    kind: &'static str,
    title: String,
    wants: String,
    unit: &'static str,
    rule: &'static str,
    opened: By,
    closed: bool,
    engine: EngineOut,
    items: Vec<ItemOut>,
    targets: Vec<TargetOut>,
    limits: Vec<Limit>,
    rounds: Vec<RoundOut>,
    readings: Vec<ReadingOut>,
    steps: Vec<StepOut>,
    stopped: Vec<StoppedOut>,
    notes: Vec<NoteOut>,
    files: Vec<FileOut>,
    calls: Vec<CallOut>,
    facts: BTreeMap<String, String>,
    cards: Vec<CardOut>,
}

#[derive(Serialize)]
struct By {
    at: String,
    by: Option<String>,
}

impl From<&Stamp> for By {
    fn from(stamp: &Stamp) -> Self {
        Self { at: stamp.at.to_string(), by: stamp.by.clone() }
    }
}

#[derive(Serialize)]
struct EngineOut {
    id: String,
    #[serde(flatten)]
    architecture: Architecture,
    block_material: Option<&'static str>,
    head_material: Option<&'static str>,
}

#[derive(Serialize)]
struct ItemOut {
    id: String,
    kind: &'static str,
    place: String,
    serial: String,
}

#[derive(Serialize)]
struct TargetOut {
    #[serde(flatten)]
    key: TargetKey,
    value: f64,
    typed: String,
}

#[derive(Serialize)]
struct RoundOut {
    id: i64,
    sheet: &'static str,
    kind: &'static str,
    number: i64,
    condition: Condition,
    temperature_c: Option<f64>,
    counts: bool,
    begun: By,
}

#[derive(Serialize)]
struct ReadingOut {
    number: i64,
    item: Option<String>,
    sheet: &'static str,
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
    corrects: Option<i64>,
    why: String,
    as_read: bool,
    moved_from: Option<String>,
    moved_to: Option<String>,
    taken: By,
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum SaysOut {
    Figure(f64),
    Range(f64, f64),
    Checked(String),
}

#[derive(Serialize)]
struct StepOut {
    key: String,
    title: String,
    state: &'static str,
    done_by: Option<String>,
    after: Vec<String>,
    sheets: Vec<&'static str>,
    signed: Vec<SignedOut>,
}

#[derive(Serialize)]
struct SignedOut {
    signed: By,
    reopened_because: Option<String>,
    seen: Value,
}

#[derive(Serialize)]
struct StoppedOut {
    step: Option<String>,
    stopped_at: String,
    marked: By,
}

#[derive(Serialize)]
struct NoteOut {
    step: Option<String>,
    text: String,
    written: By,
}

#[derive(Serialize)]
struct FileOut {
    id: String,
    name: String,
    caption: String,
    media_type: String,
    step: Option<String>,
    attached: By,
}

#[derive(Serialize)]
struct CallOut {
    finding: String,
    because: String,
    for_owner: String,
    made: By,
    seen: Value,
}

#[derive(Serialize)]
struct CardOut {
    number: i64,
    reader: &'static str,
    replaces: Option<i64>,
    sha256: String,
    issued: By,
}

/// The document of a job, from one look at the record; none where there is no such job.
///
/// # Errors
/// Where the record cannot be read.
pub async fn job(db: &mut Connection, number: i64) -> record::Result<Option<JobDocument>> {
    let Some(loaded) = JobRecord::load(db, number).await? else { return Ok(None) };
    let all_steps = steps::of(db, Some(number)).await?;
    let signs = sign_offs::of(db, Some(number)).await?;
    let step_key = |id: i64| all_steps.iter().find(|step| step.id == id).map(|step| step.key.clone());
    let at_step = |id: Option<i64>| id.and_then(step_key);
    let signed_of = |step: i64| {
        let own = signs.iter().filter(|sign| sign.step == step);
        own.map(|sign| SignedOut {
            signed: By::from(&sign.stamp),
            reopened_because: sign.reopened.then(|| sign.why.clone()),
            seen: as_seen(&sign.seen),
        })
        .collect()
    };
    let steps_out = all_steps.iter().map(|step| StepOut {
        key: step.key.clone(),
        title: step.title.clone(),
        state: step.state.key(),
        done_by: if let StepState::Elsewhere(whom) = &step.state { Some(whom.clone()) } else { None },
        after: step.after.iter().filter_map(|&id| step_key(id)).collect(),
        sheets: step.sheets.iter().map(|sheet| sheet.key()).collect(),
        signed: signed_of(step.id),
    });
    let document = JobDocument {
        format: FORMAT,
        job: loaded.build.id,
        id: loaded.build.public_id.clone(),
        kind: loaded.build.kind.word(),
        title: loaded.build.title.clone(),
        wants: loaded.build.wants.clone(),
        unit: loaded.build.unit.key(),
        rule: loaded.build.rule.key(),
        opened: By::from(&loaded.build.opened),
        closed: loaded.build.closed,
        engine: EngineOut {
            id: loaded.engine.public_id.clone(),
            architecture: loaded.engine.architecture.clone(),
            block_material: loaded.engine.block_material.map(crate::metrology::Material::key),
            head_material: loaded.engine.head_material.map(crate::metrology::Material::key),
        },
        items: loaded
            .items
            .iter()
            .map(|item| ItemOut {
                id: item.public_id.clone(),
                kind: item.at.kind.key(),
                place: item.at.place.to_string(),
                serial: item.serial.clone(),
            })
            .collect(),
        targets: loaded
            .targets
            .iter()
            .map(|target| TargetOut { key: target.key, value: target.si, typed: target.typed.clone() })
            .collect(),
        limits: loaded.limits.clone(),
        rounds: loaded
            .rounds
            .iter()
            .map(|round| RoundOut {
                id: round.id,
                sheet: round.sheet.key(),
                kind: round.kind.key(),
                number: round.number,
                condition: round.condition.clone(),
                temperature_c: round.temperature_c,
                counts: round.counts,
                begun: By::from(&round.made),
            })
            .collect(),
        readings: loaded.readings.iter().map(|reading| reading_out(&loaded, reading)).collect(),
        steps: steps_out.collect(),
        stopped: stop_marks::standing(db, Some(number))
            .await?
            .iter()
            .map(|mark| StoppedOut {
                step: step_key(mark.step),
                stopped_at: mark.stopped_at.clone(),
                marked: By::from(&mark.stamp),
            })
            .collect(),
        notes: notes::of_build(db, number)
            .await?
            .iter()
            .map(|note| NoteOut { step: at_step(note.step), text: note.text.clone(), written: By::from(&note.stamp) })
            .collect(),
        files: attachments::of_build(db, number)
            .await?
            .iter()
            .map(|file| FileOut {
                id: file.file.clone(),
                name: file.name.clone(),
                caption: file.caption.clone(),
                media_type: file.media_type.clone(),
                step: at_step(file.step),
                attached: By::from(&file.stamp),
            })
            .collect(),
        calls: acceptances::of(db, Some(number))
            .await?
            .iter()
            .map(|call| CallOut {
                finding: call.finding.to_string(),
                because: call.because.clone(),
                for_owner: call.for_owner.clone(),
                made: By::from(&call.stamp),
                seen: as_seen(&call.seen),
            })
            .collect(),
        facts: facts::of_build(db, number).await?,
        cards: cards::issues(db, number)
            .await?
            .iter()
            .map(|issue| CardOut {
                number: issue.number,
                reader: issue.audience.word(),
                replaces: issue.replaces,
                sha256: issue.sha256.clone(),
                issued: By::from(&issue.stamp),
            })
            .collect(),
    };
    Ok(Some(document))
}

fn reading_out(job: &JobRecord, reading: &Reading) -> ReadingOut {
    ReadingOut {
        number: reading.number,
        item: job.items.iter().find(|item| item.item == reading.item).map(|item| item.public_id.clone()),
        sheet: reading.sheet.key(),
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
        gauge: reading.gauge.and_then(|id| job.gauge(id)).map(|gauge| gauge.name.clone()),
        gauge_setting: reading.gauge_setting,
        state: reading.state.key(),
        corrects: reading.corrects,
        why: reading.why.clone(),
        as_read: reading.as_read,
        moved_from: reading.moved_from.clone(),
        moved_to: reading.moved_to.clone(),
        taken: By::from(&reading.stamp),
    }
}

/// What was seen, as the JSON it was kept as.
fn as_seen(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|_| Value::String(text.to_owned()))
}
