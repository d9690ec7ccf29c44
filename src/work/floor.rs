//! The shop floor at a glance: every engine in the shop, where it is, what is out, what is half done.

use super::Shop;
use super::doing::Done;
use super::findings::{JobFindings, Tally};
use super::job_record::JobRecord;
use super::needs::Needs;
use super::promises::{PromiseView, promise_of};
use super::when::When;
use crate::record::steps::{Step, StepState};
use crate::record::{acceptances, acts, builds, endings, engines, people, promises, settings, steps, stop_marks};
use jiff::Timestamp;
use std::sync::Arc;

/// A step to go to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLink {
    pub key: String,
    pub title: String,
}

impl StepLink {
    pub(super) fn to(step: &Step) -> Self {
        Self { key: step.key.clone(), title: step.title.clone() }
    }
}

/// One engine on the floor.
#[derive(Clone, Debug)]
pub struct FloorRow {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    /// "vee 8, 5 mains".
    pub engine: String,
    /// The steps begun and not signed.
    pub at: Vec<StepLink>,
    /// The steps that can begin: what they follow is done, and what they need is here.
    pub next: Vec<StepLink>,
    /// What keeps the others that follow nothing open: "crank: six weeks"; each once.
    pub waits: Vec<String>,
    /// The day told to the customer.
    pub promised: Option<PromiseView>,
    /// Steps done, and steps in all.
    pub done: (usize, usize),
    pub tally: Tally,
    /// Slots in which two readings wait for someone to choose.
    pub undecided: usize,
    /// "main cap 3, second torque step", with its step.
    pub stopped: Vec<(StepLink, String)>,
    /// "parked since 3 March 2026"; none where work goes on.
    pub parked: Option<String>,
    /// "today 14:05 by Ada".
    pub touched: String,
}

/// The floor.
#[derive(Clone, Debug)]
pub struct FloorView {
    pub rows: Vec<FloorRow>,
    /// The job this tablet last worked on, if it is still in the shop.
    pub carry_on: Option<i64>,
    /// How many jobs have left the shop.
    pub left: usize,
}

impl Shop {
    /// The floor as it is now, the engine last touched first.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn floor(&self, device: &str, now: Timestamp) -> Done<FloorView> {
        let mut look = self.record.look().await?;
        let builds = builds::all(&mut look).await?;
        let engines = engines::all(&mut look).await?;
        let people = people::all(&mut look).await?;
        let steps = steps::of(&mut look, None).await?;
        let marks = stop_marks::standing(&mut look, None).await?;
        let calls = acceptances::of(&mut look, None).await?;
        let endings = endings::of(&mut look, None).await?;
        let mut needs = Needs::by_job(&mut look, None).await?;
        let promises = promises::of(&mut look, None).await?;
        let touched = acts::newest_by_build(&mut look).await?;
        let carry_on = acts::last_build_of_device(&mut look, device).await?;
        let when = When::new(&super::shop_settings::zone(&settings::all(&mut look).await?), now);

        let mut rows = Vec::new();
        for build in builds.iter().filter(|build| !build.closed) {
            let newest = touched.iter().find(|touch| touch.build == build.id);
            let findings = self.findings_in(&mut look, build.id, newest.map_or(0, |touch| touch.act)).await?;
            let needs = needs.remove(&build.id).unwrap_or_default();
            let own: Vec<&Step> = steps.iter().filter(|step| step.build == build.id).collect();
            let calls: Vec<_> = calls.iter().filter(|call| call.build == build.id).cloned().collect();
            let engine = engines.iter().find(|engine| engine.id == build.engine);
            let open = |step: &Step| step.state == StepState::Ahead && waits_for(step, &own).is_empty();
            let step_of = |id: i64| own.iter().find(|step| step.id == id).map(|step| StepLink::to(step));
            rows.push((
                newest.map_or(0, |touch| touch.act),
                FloorRow {
                    job: build.id,
                    title: build.title.clone(),
                    customer: build.customer.and_then(|id| people.iter().find(|p| p.id == id)).map(|p| p.name.clone()),
                    engine: engine.map_or_else(String::new, |engine| engine.architecture.summary()),
                    at: links(&own, |step| step.state == StepState::Begun),
                    next: links(&own, |step| open(step) && needs.of(step).next().is_none()),
                    waits: needs.of_several(own.iter().filter(|step| open(step)), when.today()),
                    promised: promise_of(&promises, build.id).map(|promise| PromiseView::of(promise, &when)),
                    done: (own.iter().filter(|step| step.state.is_done()).count(), own.len()),
                    tally: findings.tally(findings.begun(), &calls),
                    undecided: findings.undecided,
                    stopped: marks
                        .iter()
                        .filter(|mark| mark.build == build.id)
                        .filter_map(|mark| Some((step_of(mark.step)?, mark.stopped_at.clone())))
                        .collect(),
                    parked: endings
                        .iter()
                        .find(|one| one.build == build.id && !one.withdrawn)
                        .map(super::endings::parked),
                    touched: newest.map_or_else(String::new, |touch| when.stamp(&touch.stamp)),
                },
            ));
        }
        rows.sort_by_key(|(act, _)| std::cmp::Reverse(*act));
        let rows: Vec<FloorRow> = rows.into_iter().map(|(_, row)| row).collect();
        Ok(FloorView {
            carry_on: carry_on.filter(|job| rows.iter().any(|row| row.job == *job)),
            left: builds.len() - rows.len(),
            rows,
        })
    }

    /// The findings of a job as of its newest act, worked out once.
    pub(super) async fn findings_in(
        &self,
        db: &mut crate::record::Connection,
        job: i64,
        act: i64,
    ) -> Done<Arc<JobFindings>> {
        if let Some(known) = self.memo.get(job, act) {
            return Ok(known);
        }
        let loaded = JobRecord::load(db, job).await?.ok_or(super::Refused::NotFound)?;
        Ok(self.memo.put(job, act, JobFindings::of(&loaded)))
    }
}

fn links(steps: &[&Step], which: impl Fn(&Step) -> bool) -> Vec<StepLink> {
    steps.iter().filter(|step| which(step)).map(|step| StepLink::to(step)).collect()
}

/// Titles of the steps that a step still waits for. One that is not on this job hands on what it would wait for itself.
pub(super) fn waits_for(step: &Step, all: &[&Step]) -> Vec<String> {
    let mut titles: Vec<String> = Vec::new();
    for before in step.after.iter().filter_map(|id| all.iter().find(|other| other.id == *id)) {
        let open = match before.state {
            StepState::NotOnJob => waits_for(before, all),
            _ if before.state.is_done() => Vec::new(),
            _ => vec![before.title.clone()],
        };
        for title in open {
            if !titles.contains(&title) {
                titles.push(title);
            }
        }
    }
    titles
}
