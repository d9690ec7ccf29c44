//! What steps need besides other steps: parts that are not here, work that is away, what somebody waits for.
//!
//! Readings that a change made stale are none of it: they are taken at the bench, and keep nobody waiting.

use super::doing::Done;
use super::supply::{Supply, still_to};
use crate::engine::SheetKey;
use crate::plan;
use crate::record::Connection;
use crate::record::awaited::{self, Came, MayWait};
use crate::record::sendings::{self, Sending};
use crate::record::steps::{Step, StepState};
use crate::record::waits::{self, Wait, Why};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Something a step needs that is not here.
#[derive(Clone, Debug)]
pub(super) struct Needed {
    /// "crank", "line honing, to be sent out", "the customer’s answer: ported heads".
    pub what: String,
    /// When it is said to come.
    pub due: Option<Date>,
    pub source: Source,
}

/// Where something comes from that a step needs.
#[derive(Clone, Copy, Debug)]
pub(super) enum Source {
    Part {
        part: i64,
        supplier: Option<i64>,
        /// The day of the order, or of the promise that took the place of an earlier one; none while nobody ordered all of it.
        ordered: Option<Date>,
    },
    Sent {
        sending: i64,
        supplier: Option<i64>,
        sent: Option<Date>,
        /// The sheet that says what came back.
        sheet: Option<SheetKey>,
    },
    Wait {
        wait: i64,
        why: Why,
        since: Date,
    },
}

impl Needed {
    /// None where all of it is here.
    fn part(one: &MayWait) -> Option<Self> {
        let supply = Supply::added_up(one.quantity, one.moves.iter().copied());
        if supply.is_here() {
            return None;
        }
        let to_order = supply.to_order();
        let named = |came: &&Came| came.due.is_some() && came.due == supply.due;
        let renewed = one.moves.iter().rev().find(named).map(|came| came.day);
        let still = still_to(one.whose, one.origin);
        let what = match to_order {
            0 => one.description.clone(),
            some if some == one.quantity => format!("{}, {still}", one.description),
            some => format!("{}, {some} {still}", one.description),
        };
        let source = Source::Part {
            part: one.part,
            supplier: one.supplier,
            ordered: renewed.max(supply.first_ordered).filter(|_| to_order == 0),
        };
        Some(Self { what, due: supply.due, source })
    }

    fn sent(one: &Sending) -> Self {
        let said = &one.said;
        let what = if said.sent.is_some() { said.what.clone() } else { format!("{}, to be sent out", said.what) };
        let source = Source::Sent { sending: one.id, supplier: said.supplier, sent: said.sent, sheet: said.sheet };
        Self { what, due: said.due, source }
    }

    fn wait(one: &Wait) -> Self {
        let said = &one.said;
        let source = Source::Wait { wait: one.id, why: said.why, since: said.since };
        Self { what: wait_words(said.why, &said.words), due: said.expected, source }
    }

    pub fn need(&self) -> plan::Need<'_> {
        plan::Need { what: &self.what, met: false, due: self.due }
    }

    /// "crank: six weeks".
    pub fn said(&self, today: Date) -> String {
        self.need().said(today)
    }
}

/// "the customer’s answer (ported heads)".
pub(super) fn wait_words(why: Why, words: &str) -> String {
    if words.is_empty() { why.word().to_owned() } else { format!("{} ({words})", why.word()) }
}

/// All that the steps of a job need and that is not here, by step; and what the whole job waits for.
#[derive(Debug, Default)]
pub(super) struct Needs {
    of_step: BTreeMap<i64, Vec<Needed>>,
    whole: Vec<Needed>,
}

impl Needs {
    /// Those of a job.
    pub async fn load(db: &mut Connection, job: i64) -> Done<Self> {
        Ok(Self::by_job(db, Some(job)).await?.remove(&job).unwrap_or_default())
    }

    /// Those of every job in the shop, or of one, by the job.
    pub async fn by_job(db: &mut Connection, job: Option<i64>) -> Done<BTreeMap<i64, Self>> {
        let mut by_job: BTreeMap<i64, Self> = BTreeMap::new();
        let mut keep = |job: i64, step: Option<i64>, needed: Needed| {
            let of = by_job.entry(job).or_default();
            step.map_or(&mut of.whole, |step| of.of_step.entry(step).or_default()).push(needed);
        };
        for one in awaited::of(db, job).await? {
            if let Some(needed) = Needed::part(&one) {
                keep(one.build, Some(one.step), needed);
            }
        }
        for one in sendings::of(db, job).await?.iter().filter(|one| !one.withdrawn && one.said.back.is_none()) {
            if one.said.step.is_some() {
                keep(one.build, one.said.step, Needed::sent(one));
            }
        }
        for one in waits::of(db, job).await?.iter().filter(|one| one.ended.is_none()) {
            keep(one.build, one.said.step, Needed::wait(one));
        }
        Ok(by_job)
    }

    /// What a step needs: parts first, then what is away, then what is waited for, also by its whole job.
    pub fn of<'a>(&'a self, step: &Step) -> impl Iterator<Item = &'a Needed> + use<'a> {
        self.of_step.get(&step.id).into_iter().flatten().chain(&self.whole)
    }

    /// The same in words, for a step that is not done: "crank: six weeks".
    pub fn in_words(&self, step: &Step, today: Date) -> Vec<String> {
        let open = !step.state.is_done();
        self.of(step).filter(|_| open).map(|needed| needed.said(today)).collect()
    }

    /// The same of several steps, each once.
    pub fn of_several<'a>(&self, steps: impl Iterator<Item = &'a &'a Step>, today: Date) -> Vec<String> {
        let mut words: Vec<String> = Vec::new();
        for said in steps.flat_map(|step| self.in_words(step, today)) {
            if !words.contains(&said) {
                words.push(said);
            }
        }
        words
    }

    /// What a job's steps wait for, as the plan takes it; each is expected to take so many hours.
    pub fn plan_steps<'a>(&'a self, steps: &[Step], hours: impl Fn(&Step) -> f64) -> Vec<plan::Step<'a>> {
        let places: BTreeMap<i64, usize> = steps.iter().enumerate().map(|(place, step)| (step.id, place)).collect();
        let one = |step: &Step| plan::Step {
            state: match step.state {
                StepState::Ahead => plan::State::Ahead,
                StepState::Begun => plan::State::Begun,
                StepState::Signed | StepState::Elsewhere(_) => plan::State::Done,
                StepState::NotOnJob => plan::State::NotOnJob,
            },
            after: step.after.iter().filter_map(|id| places.get(id).copied()).collect(),
            hours: hours(step),
            needs: self.of(step).map(Needed::need).collect(),
        };
        steps.iter().map(one).collect()
    }
}
