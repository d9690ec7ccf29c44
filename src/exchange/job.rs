//! The whole of a job as one document: every reading with its state, every note and file, those withdrawn marked so, every
//! call and every sign-off as it was seen.
//!
//! Lengths are in m, instants in UTC. People stand in it by public id and name; what else is known of them stays in the
//! record. Files stand in it by their digest.

use super::job_beside::{FileOut, NoteOut};
use super::job_charges::ChargesOut;
use super::job_endings::{EndingOut, SupplierOut};
use super::job_gauges::{GaugeOut, GaugeSettingOut, gauges_of};
use super::job_parts::{
    CallOut, CardOut, EngineOut, ItemOut, PastLimitOut, PersonOut, ReadingOut, RoundOut, Stamped, StepOut, StoppedOut,
    TargetOut,
};
use super::job_said::{ExpansionOut, RecheckOut, SecondReadingOut, SetAnswerOut, TighteningOut};
use super::job_settling::SettlingOut;
use super::job_supply::SupplyOut;
use crate::engine::Limit;
use crate::metrology::Rule;
use crate::record::{self, Connection};
use crate::record::{
    acceptances, attachments, cards, endings, facts, gauges, limits, made_sizes, notes, parts, people, rechecks,
    second_checks, second_readings, sendings, set_answers, sign_offs, steps, stop_marks, suppliers, tightenings,
};
use crate::work::{JobRecord, WorkingUnit};
use serde::Serialize;
use std::collections::BTreeMap;

/// Raised when a reader of old documents would misread a new one.
const FORMAT: u32 = 1;

/// A job as a document.
#[derive(Serialize)]
pub struct JobDocument {
    format: u32,
    job: i64,
    id: String,
    kind: &'static str,
    title: String,
    wants: String,
    unit: WorkingUnit,
    rule: Rule,
    opened: Stamped,
    closed: bool,
    customer: Option<PersonOut>,
    /// Whoever did something on the job.
    people: Vec<PersonOut>,
    engine: EngineOut,
    items: Vec<ItemOut>,
    targets: Vec<TargetOut>,
    /// Those that hold.
    limits: Vec<Limit>,
    /// Everything that was set or lifted, the newest first.
    limits_past: Vec<PastLimitOut>,
    gauges: Vec<GaugeOut>,
    gauge_settings: Vec<GaugeSettingOut>,
    rounds: Vec<RoundOut>,
    /// What of a round was checked again without a new figure.
    rechecks: Vec<RecheckOut>,
    second_readings: Vec<SecondReadingOut>,
    set_answers: Vec<SetAnswerOut>,
    /// The shop's own coefficients, where it does not go by the usual ones.
    expansions: Vec<ExpansionOut>,
    readings: Vec<ReadingOut>,
    steps: Vec<StepOut>,
    /// Those withdrawn as well.
    tightened: Vec<TighteningOut>,
    /// Those resumed as well.
    stopped: Vec<StoppedOut>,
    /// Those withdrawn as well, with who withdrew them and when.
    notes: Vec<NoteOut>,
    /// As the notes.
    files: Vec<FileOut>,
    /// Those withdrawn as well.
    calls: Vec<CallOut>,
    /// Parts, work sent out, changes, waits, hours, promises, decisions.
    #[serde(flatten)]
    supply: SupplyOut,
    /// Time worked, quote, changes agreed, charges, payments, invoices.
    #[serde(flatten)]
    charges: ChargesOut,
    /// Storage, cores, settlements.
    #[serde(flatten)]
    settling: SettlingOut,
    facts: BTreeMap<String, String>,
    cards: Vec<CardOut>,
    /// Whoever supplies a part of the job or does work on it.
    suppliers: Vec<SupplierOut>,
    /// Those withdrawn as well.
    endings: Vec<EndingOut>,
}

/// The document of a job, from one look at the record; none where there is no such job.
///
/// # Errors
/// Where the record cannot be read.
pub async fn job(db: &mut Connection, number: i64) -> record::Result<Option<JobDocument>> {
    let Some(loaded) = JobRecord::load(db, number).await? else { return Ok(None) };
    let JobRecord { build, engine, items, targets, limits, rounds, readings, .. } = &loaded;
    let customer = match build.customer {
        Some(id) => people::by_id(db, id).await?,
        None => None,
    };
    let all_steps = steps::of(db, Some(number)).await?;
    let step_key = |id: i64| all_steps.iter().find(|step| step.id == id).map(|step| step.key.clone());
    let at_step = |id: Option<i64>| id.and_then(step_key);
    let signs = sign_offs::of(db, Some(number)).await?;
    let checks = second_checks::of_build(db, number).await?;
    let settings = gauges::settings_of(db, number).await?;
    let mut stopped: Vec<_> =
        stop_marks::standing(db, Some(number)).await?.into_iter().map(|mark| (mark, None)).collect();
    stopped.extend(stop_marks::resumed(db, number).await?.into_iter().map(|(mark, by)| (mark, Some(by))));
    let mut calls: Vec<_> = acceptances::of(db, Some(number)).await?.into_iter().map(|call| (call, None)).collect();
    calls.extend(acceptances::taken_back(db, number).await?.into_iter().map(|(call, by)| (call, Some(by))));
    let tightened = tightenings::of_build(db, number).await?;
    let made = made_sizes::readings(db, number).await?;
    let wrenches = tightened.iter().filter_map(|one| one.said.gauge);
    let also_used: Vec<i64> = wrenches.chain(made.iter().filter_map(|read| read.said.gauge)).collect();
    let written = notes::of_build(db, number).await?;
    let attached = attachments::of_build(db, number).await?;
    let taken_out = record::items::taken_out(db, engine.id).await?;
    let item_ids: BTreeMap<i64, String> =
        items.iter().chain(&taken_out).map(|item| (item.item, item.public_id.clone())).collect();
    let all_parts = parts::of(db, Some(number)).await?;
    let part_ids: BTreeMap<i64, String> = all_parts.iter().map(|part| (part.id, part.public_id.clone())).collect();
    let mut named: Vec<i64> = all_parts.iter().filter_map(|part| part.said.supplier).collect();
    named.extend(sendings::of(db, Some(number)).await?.iter().filter_map(|one| one.said.supplier));
    let known = suppliers::all(db).await?;
    let things = endings::things(db, Some(number)).await?;
    let gone = endings::gone(db, Some(number)).await?;
    let ending = |one: &endings::Ending| EndingOut::of(one, &things, &gone, &item_ids, &part_ids);
    Ok(Some(JobDocument {
        format: FORMAT,
        job: build.id,
        id: build.public_id.clone(),
        kind: build.kind.word(),
        title: build.title.clone(),
        wants: build.wants.clone(),
        unit: build.unit,
        rule: build.rule,
        opened: Stamped::from(&build.opened),
        closed: build.closed,
        customer: customer.as_ref().map(PersonOut::from),
        people: each(&people::who_did(db, number).await?),
        engine: EngineOut::from(engine),
        items: items
            .iter()
            .map(|item| (item, false))
            .chain(taken_out.iter().map(|item| (item, true)))
            .map(|(item, taken_out)| ItemOut::of(item, taken_out))
            .collect(),
        targets: each(targets),
        limits: limits.clone(),
        limits_past: each(&limits::past_of_build(db, number).await?),
        gauges: gauges_of(db, &loaded, &also_used).await?,
        gauge_settings: settings.iter().map(|setting| GaugeSettingOut::of(&loaded, setting)).collect(),
        rounds: each(rounds),
        rechecks: each(&rechecks::of_build(db, number).await?),
        second_readings: each(&second_readings::said_of(db, number).await?),
        set_answers: each(&set_answers::said_of(db, number).await?),
        expansions: loaded.expansions.iter().map(ExpansionOut::from).collect(),
        readings: readings.iter().map(|reading| ReadingOut::of(&loaded, &item_ids, reading)).collect(),
        steps: all_steps.iter().map(|step| StepOut::of(step, step_key, &signs, &checks)).collect(),
        tightened: tightened.iter().map(|one| TighteningOut::of(&loaded, step_key(one.said.step), one)).collect(),
        stopped: stopped.iter().map(|(mark, by)| StoppedOut::of(step_key(mark.step), mark, by.as_ref())).collect(),
        notes: written.iter().map(|note| NoteOut::of(at_step(note.step), note)).collect(),
        files: attached.iter().map(|file| FileOut::of(at_step(file.step), file)).collect(),
        calls: calls.iter().map(|(call, by)| CallOut::of(call, by.as_ref())).collect(),
        supply: SupplyOut::of(db, number, step_key, |id| Some(loaded.gauge(id)?.public_id.clone())).await?,
        charges: ChargesOut::of(db, number, step_key).await?,
        settling: SettlingOut::of(db, number).await?,
        facts: facts::of_build(db, number).await?,
        cards: each(&cards::issues(db, number).await?),
        suppliers: known.iter().filter(|one| named.contains(&one.id)).map(SupplierOut::from).collect(),
        endings: endings::of(db, Some(number)).await?.iter().map(ending).collect(),
    }))
}

/// Each of what the record gave, as the document says it.
fn each<'a, Kept, Out: From<&'a Kept>>(kept: &'a [Kept]) -> Vec<Out> {
    kept.iter().map(Out::from).collect()
}
