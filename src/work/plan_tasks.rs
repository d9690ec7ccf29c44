//! A job as the plan takes it: its steps and what they need, as tasks that follow each other.

use super::arrivals::{Arrival, Suppliers};
use super::in_shop::{InShop, JobInShop};
use super::needs::{Needed, Source};
use crate::plan::{self, CriticalPath, Graph, Takes, Task};
use crate::record::steps::{Step, StepState};
use std::collections::BTreeMap;

/// What a task is.
pub(super) enum TaskOf<'a> {
    Step(&'a Step),
    /// Something that steps need, when it comes, and the first of these steps.
    Need(&'a Needed, Arrival, &'a Step),
}

/// A job as tasks: steps first, in their order, then what they need.
#[derive(Default)]
pub(super) struct PlanTasks<'a> {
    pub job: plan::Job,
    pub of: Vec<TaskOf<'a>>,
}

/// Keys of tasks: steps, parts, work sent out and waits are counted each for itself.
fn key(id: i64, kind: u64) -> u64 {
    id.unsigned_abs() * 4 + kind
}

fn key_of(needed: &Needed) -> u64 {
    match needed.source {
        Source::Part { part, .. } => key(part, 1),
        Source::Sent { sending, .. } => key(sending, 2),
        Source::Wait { wait, .. } => key(wait, 3),
    }
}

impl<'a> PlanTasks<'a> {
    /// Steps done take nothing and wait for nothing; of one begun what is left after the hours written down for it.
    pub fn of(shop: &InShop, job: &'a JobInShop, suppliers: &Suppliers) -> Self {
        let steps = &job.steps;
        let places: BTreeMap<i64, usize> = steps.iter().enumerate().map(|(place, step)| (step.id, place)).collect();
        let mut tasks: Vec<Task> = Vec::new();
        for step in steps {
            let after = step.after.iter().filter_map(|id| places.get(id).copied());
            let (after, takes) = match step.state {
                StepState::Ahead | StepState::Begun => (after.collect(), Takes::Bench(shop.left(job, step))),
                StepState::NotOnJob => (after.collect(), Takes::Nothing),
                StepState::Signed | StepState::Elsewhere(_) => (Vec::new(), Takes::Nothing),
            };
            tasks.push(Task { key: key(step.id, 0), after, takes });
        }
        let mut of: Vec<TaskOf<'_>> = steps.iter().map(TaskOf::Step).collect();
        let mut known: BTreeMap<u64, usize> = BTreeMap::new();
        for (place, step) in steps.iter().enumerate().filter(|(_, step)| is_open(step)) {
            for needed in job.needs.of(step) {
                let own = *known.entry(key_of(needed)).or_insert_with(|| {
                    let arrival = suppliers.arrival(needed, shop.today);
                    let takes = Takes::Wait(arrival.days.clone());
                    tasks.push(Task { key: key_of(needed), after: Vec::new(), takes });
                    of.push(TaskOf::Need(needed, arrival, step));
                    tasks.len() - 1
                });
                tasks[place].after.push(own);
            }
        }
        Self { job: plan::Job { tasks }, of }
    }

    /// Earliest and latest of each task in calendar days from today, hands enough for all; bench hours count as the days
    /// that they take on average, closed ones among them. None where steps wait for each other in a circle.
    pub fn critical_path(&self, hours_a_day: f64) -> Option<CriticalPath> {
        let graph = Graph::new(self.job.tasks.iter().map(|task| task.after.clone()).collect()).ok()?;
        let days = self.job.tasks.iter().map(|task| match &task.takes {
            Takes::Nothing => 0.0,
            Takes::Bench(hours) => hours.mean() / hours_a_day,
            Takes::Wait(days) => days.mean(),
        });
        CriticalPath::new(&graph, &days.collect::<Vec<_>>()).ok()
    }
}

/// Whether there is still something to do at a step.
pub(super) fn is_open(step: &Step) -> bool {
    matches!(step.state, StepState::Ahead | StepState::Begun)
}
