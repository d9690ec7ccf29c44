//! Parts, work sent out, what waits and what was changed, as they go out in a job's document. Money is in minor units.

use super::job_made::{CarriedOut, LookedAtOut, SizeOut};
use super::job_parts::Stamped;
use crate::engine::{Place, SheetKey};
use crate::record::changes::{ChangeChecked, ChangeMade};
use crate::record::decisions::Decision;
use crate::record::part_moves::PartMove;
use crate::record::parts::Part;
use crate::record::promises::Promise;
use crate::record::rounds::Condition;
use crate::record::sendings::{Asked, Sending};
use crate::record::step_hours::Hours;
use crate::record::suppliers::Supplier;
use crate::record::waits::Wait;
use crate::record::{
    Connection, Result, carried, changes, decisions, inspections, made_sizes, part_moves, parts, promises, sendings,
    step_hours, suppliers, waits,
};
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeMap;

/// All of it, of one job.
#[derive(Serialize)]
pub(super) struct SupplyOut {
    /// Those withdrawn as well.
    parts: Vec<PartOut>,
    /// Those withdrawn as well.
    sent_out: Vec<SendingOut>,
    /// Those withdrawn as well.
    changes: Vec<ChangeOut>,
    /// Those that ended as well.
    waits: Vec<WaitOut>,
    /// By step.
    hours: BTreeMap<String, HoursOut>,
    /// Dates told to the customer; the newest holds.
    promises: Vec<PromiseOut>,
    /// Those withdrawn as well.
    decisions: Vec<DecisionOut>,
}

impl SupplyOut {
    /// Steps by their keys, gauges by their public ids.
    pub async fn of(
        db: &mut Connection,
        job: i64,
        step_key: impl Fn(i64) -> Option<String>,
        gauge: impl Fn(i64) -> Option<String>,
    ) -> Result<Self> {
        let kept = parts::of(db, Some(job)).await?;
        let moves = part_moves::of(db, Some(job)).await?;
        let made = (made_sizes::of(db, job).await?, made_sizes::readings(db, job).await?);
        let carried = carried::of(db, job).await?;
        let looked_at = inspections::of(db, job).await?;
        let suppliers = suppliers::all(db).await?;
        let out = sendings::of(db, Some(job)).await?;
        let asked = sendings::asked(db, job).await?;
        let checked = changes::checked(db, Some(job)).await?;
        let at = |step: Option<i64>| step.and_then(&step_key);
        let named = |id: Option<i64>| suppliers.iter().find(|one| Some(one.id) == id);
        Ok(Self {
            parts: kept
                .iter()
                .map(|part| PartOut {
                    sizes: SizeOut::of_part(part.id, &made, &gauge),
                    carried_by: CarriedOut::of_part(part.id, &carried),
                    looked_at: LookedAtOut::of_part(part.id, &looked_at),
                    ..PartOut::of(part, &kept, at(part.said.step), named(part.said.supplier), &moves)
                })
                .collect(),
            sent_out: out
                .iter()
                .map(|one| SendingOut::of(one, at(one.said.step), named(one.said.supplier), &asked))
                .collect(),
            changes: changes::of(db, Some(job))
                .await?
                .iter()
                .map(|(_, change)| ChangeOut::of(change, &kept, &out, &checked))
                .collect(),
            waits: waits::of(db, Some(job)).await?.iter().map(|wait| WaitOut::of(wait, at(wait.said.step))).collect(),
            hours: step_hours::of(db, Some(job))
                .await?
                .into_iter()
                .filter_map(|(step, hours)| Some((step_key(step)?, HoursOut::from(hours))))
                .collect(),
            promises: promises::of(db, Some(job)).await?.iter().map(PromiseOut::from).collect(),
            decisions: decisions::of_build(db, job).await?.iter().map(DecisionOut::from).collect(),
        })
    }
}

#[derive(Serialize)]
struct PartOut {
    id: String,
    description: String,
    maker: String,
    part_number: String,
    quantity: i64,
    serial: String,
    supplier: Option<String>,
    whose: &'static str,
    origin: &'static str,
    as_it_came: &'static str,
    shelf: String,
    step: Option<String>,
    cost: Option<i64>,
    price: Option<i64>,
    core_deposit: Option<i64>,
    /// The id of the part it takes the place of.
    replaces: Option<String>,
    note: String,
    became: Vec<MoveOut>,
    /// Of one made here: its dimensions, those withdrawn as well.
    sizes: Vec<SizeOut>,
    carried_by: Vec<CarriedOut>,
    /// When it came in.
    looked_at: Vec<LookedAtOut>,
    written: Stamped,
    withdrawn: bool,
}

impl PartOut {
    fn of(part: &Part, all: &[Part], step: Option<String>, from: Option<&Supplier>, moves: &[PartMove]) -> Self {
        let said = &part.said;
        let replaces = all.iter().find(|other| Some(other.id) == said.replaces);
        Self {
            id: part.public_id.clone(),
            description: said.description.clone(),
            maker: said.maker.clone(),
            part_number: said.part_number.clone(),
            quantity: said.quantity,
            serial: said.serial.clone(),
            supplier: from.map(|supplier| supplier.said.name.clone()),
            whose: said.whose.key(),
            origin: said.origin.key(),
            as_it_came: said.as_it_came.key(),
            shelf: said.shelf.clone(),
            step,
            cost: said.cost,
            price: said.price,
            core_deposit: said.core,
            replaces: replaces.map(|other| other.public_id.clone()),
            note: said.note.clone(),
            sizes: Vec::new(),
            carried_by: Vec::new(),
            looked_at: Vec::new(),
            became: moves.iter().filter(|one| one.said.part == part.id).map(MoveOut::from).collect(),
            written: Stamped::from(&part.stamp),
            withdrawn: part.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct MoveOut {
    kind: &'static str,
    quantity: i64,
    day: Date,
    due: Option<Date>,
    place: Option<Place>,
    words: String,
    noted: Stamped,
    withdrawn: bool,
}

impl From<&PartMove> for MoveOut {
    fn from(one: &PartMove) -> Self {
        let said = &one.said;
        Self {
            kind: said.kind.key(),
            quantity: said.quantity,
            day: said.day,
            due: said.due,
            place: said.place,
            words: said.words.clone(),
            noted: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct SendingOut {
    id: String,
    what: String,
    supplier: Option<String>,
    step: Option<String>,
    sheet: Option<SheetKey>,
    condition: Condition,
    words: String,
    asked: Vec<AskedOut>,
    sent: Option<Date>,
    due: Option<Date>,
    back: Option<Date>,
    before_round: Option<i64>,
    after_round: Option<i64>,
    cost: Option<i64>,
    price: Option<i64>,
    written: Stamped,
    withdrawn: bool,
}

impl SendingOut {
    fn of(one: &Sending, step: Option<String>, to: Option<&Supplier>, asked: &[Asked]) -> Self {
        let said = &one.said;
        Self {
            id: one.public_id.clone(),
            what: said.what.clone(),
            supplier: to.map(|supplier| supplier.said.name.clone()),
            step,
            sheet: said.sheet,
            condition: said.condition.clone(),
            words: said.words.clone(),
            asked: asked.iter().filter(|asked| asked.sending == one.id).map(AskedOut::from).collect(),
            sent: said.sent,
            due: said.due,
            back: said.back,
            before_round: said.before_round,
            after_round: said.after_round,
            cost: said.cost,
            price: said.price,
            written: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn,
        }
    }
}

/// A size asked; SI.
#[derive(Serialize)]
struct AskedOut {
    finding: String,
    least: Option<f64>,
    most: Option<f64>,
    typed: String,
}

impl From<&Asked> for AskedOut {
    fn from(asked: &Asked) -> Self {
        let (finding, typed) = (asked.finding.to_string(), asked.typed.clone());
        Self { finding, least: asked.least, most: asked.most, typed }
    }
}

#[derive(Serialize)]
struct ChangeOut {
    change: &'static str,
    place: Option<Place>,
    /// Ids of what brought it.
    part: Option<String>,
    sent_out: Option<String>,
    words: String,
    /// Readings up to this number were taken before.
    after_reading: i64,
    checked: Vec<CheckedOut>,
    noted: Stamped,
    withdrawn: bool,
}

impl ChangeOut {
    fn of(change: &ChangeMade, parts: &[Part], out: &[Sending], checked: &[(i64, ChangeChecked)]) -> Self {
        let said = &change.said;
        let part = parts.iter().find(|part| Some(part.id) == said.part);
        let sent_out = out.iter().find(|one| Some(one.id) == said.sending);
        let checked = checked.iter().map(|(_, checked)| checked).filter(|checked| checked.change == change.id);
        Self {
            change: said.change.key(),
            place: said.place,
            part: part.map(|part| part.public_id.clone()),
            sent_out: sent_out.map(|one| one.public_id.clone()),
            words: said.words.clone(),
            after_reading: change.after_reading,
            checked: checked.map(CheckedOut::from).collect(),
            noted: Stamped::from(&change.stamp),
            withdrawn: change.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct CheckedOut {
    sheet: SheetKey,
    place: Option<Place>,
    said: Stamped,
    withdrawn: bool,
}

impl From<&ChangeChecked> for CheckedOut {
    fn from(checked: &ChangeChecked) -> Self {
        let ChangeChecked { sheet, place, withdrawn, .. } = *checked;
        Self { sheet, place, said: Stamped::from(&checked.stamp), withdrawn }
    }
}

#[derive(Serialize)]
struct WaitOut {
    step: Option<String>,
    why: &'static str,
    words: String,
    since: Date,
    expected: Option<Date>,
    noted: Stamped,
    ended: Option<Stamped>,
}

impl WaitOut {
    fn of(wait: &Wait, step: Option<String>) -> Self {
        let said = &wait.said;
        Self {
            step,
            why: said.why.key(),
            words: said.words.clone(),
            since: said.since,
            expected: said.expected,
            noted: Stamped::from(&wait.stamp),
            ended: wait.ended.as_ref().map(Stamped::from),
        }
    }
}

/// Hours at the bench.
#[derive(Serialize)]
struct HoursOut {
    least: f64,
    likely: f64,
    most: f64,
}

impl From<Hours> for HoursOut {
    fn from(Hours { least, likely, most }: Hours) -> Self {
        Self { least, likely, most }
    }
}

#[derive(Serialize)]
struct PromiseOut {
    day: Date,
    words: String,
    told: Stamped,
}

impl From<&Promise> for PromiseOut {
    fn from(promise: &Promise) -> Self {
        Self { day: promise.day, words: promise.words.clone(), told: Stamped::from(&promise.stamp) }
    }
}

#[derive(Serialize)]
struct DecisionOut {
    sheet: SheetKey,
    asked: String,
    chosen: Vec<String>,
    alternatives: Vec<String>,
    reason: String,
    decided: Stamped,
    withdrawn: Option<Stamped>,
}

impl From<&Decision> for DecisionOut {
    fn from(decision: &Decision) -> Self {
        let said = &decision.said;
        Self {
            sheet: said.sheet,
            asked: said.asked.clone(),
            chosen: said.chosen.clone(),
            alternatives: said.alternatives.clone(),
            reason: said.reason.clone(),
            decided: Stamped::from(&decision.stamp),
            withdrawn: decision.withdrawn.as_ref().map(Stamped::from),
        }
    }
}
