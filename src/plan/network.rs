//! All jobs on one floor, as one network of tasks in the order in which they go first at the bench.

use std::cmp::Ordering;

use thiserror::Error;

use super::days::Days;
use super::graph::{Graph, GraphFault};
use super::hours::Hours;
use super::random;

/// What a task takes.
#[derive(Clone, Debug, PartialEq)]
pub enum Takes {
    /// It is done as soon as what it follows is: signed, or not on this job.
    Nothing,
    /// Hours of one pair of hands, not broken off once begun.
    Bench(Hours),
    /// Calendar days and nobody's hands, counted from the day on which the last of what it follows is done, or from today:
    /// a part on its way, a block at the machine shop, an answer. What comes on a day can be used from the day after.
    Wait(Days),
}

impl Takes {
    /// What it takes in one trial, for a share drawn from 0 to 1.
    pub(super) fn drawn(&self, share: f64) -> Took {
        match self {
            Self::Nothing => Took::Nothing,
            Self::Bench(hours) => Took::Hours(hours.quantile(share)),
            Self::Wait(days) => Took::Days(days.quantile(share)),
        }
    }

    /// The same if all goes well: the least work, or come on the day it is said to.
    pub(super) fn at_best(&self) -> Self {
        match self {
            Self::Nothing => Self::Nothing,
            Self::Bench(hours) => Hours::fixed(hours.least()).map_or_else(|_| self.clone(), Self::Bench),
            Self::Wait(days) => Self::Wait(Days::fixed(u16::try_from(days.on_time()).unwrap_or(u16::MAX))),
        }
    }
}

/// What a task took in one trial.
#[derive(Clone, Copy, Debug)]
pub(super) enum Took {
    Nothing,
    Hours(f64),
    Days(usize),
}

/// A step or something waited for.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Its own among all tasks that are looked at together: what it draws hangs on this and not on its place.
    pub key: u64,
    /// The tasks of the same job that it follows, by their places: steps, and the parts it needs.
    pub after: Vec<usize>,
    pub takes: Takes,
}

/// What is still to do on one engine; done steps may be left in as [`Takes::Nothing`].
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    pub tasks: Vec<Task>,
}

/// Why jobs make no network.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NetworkFault {
    #[error("{fault}")]
    Steps { job: usize, fault: GraphFault },
    #[error("two tasks have the same key {key}")]
    SameKey { key: u64 },
}

/// A task in the network.
#[derive(Clone, Debug)]
pub(super) struct Laid<'a> {
    pub takes: &'a Takes,
    pub stream: u64,
    pub job: usize,
    /// Its place in the job.
    pub place: usize,
    /// How many tasks it follows.
    pub before: usize,
    pub followers: Vec<usize>,
    /// Whether anybody asks on which day it ends.
    pub day_matters: bool,
}

/// Tasks of all jobs; the one with the lower index goes first.
#[derive(Clone, Debug)]
pub(super) struct Network<'a> {
    pub tasks: Vec<Laid<'a>>,
}

impl<'a> Network<'a> {
    /// An earlier job goes before a later one, and in a job the task with the longest way to the end; waiting days count
    /// with the hours of an average day.
    pub(super) fn new(jobs: &'a [Job], hours_a_day: f64, seed: u64) -> Result<Self, NetworkFault> {
        let graphs = jobs.iter().enumerate().map(|(job, all)| {
            let after = all.tasks.iter().map(|task| task.after.clone()).collect();
            Graph::new(after).map_err(|fault| NetworkFault::Steps { job, fault })
        });
        let graphs: Vec<Graph> = graphs.collect::<Result<_, _>>()?;
        let mut ranked: Vec<Ranked> = jobs
            .iter()
            .zip(&graphs)
            .enumerate()
            .flat_map(|(job, (all, graph))| {
                let means: Vec<f64> = all.tasks.iter().map(|task| mean_hours(&task.takes, hours_a_day)).collect();
                let ways = graph.to_the_end(&means).into_iter().zip(&all.tasks).enumerate();
                ways.map(move |(place, (way, task))| Ranked { job, place, way, key: task.key }).collect::<Vec<_>>()
            })
            .collect();
        ranked.sort_by(Ranked::by_turn);
        one_of_each(&ranked)?;
        let mut index: Vec<Vec<usize>> = graphs.iter().map(|graph| vec![0; graph.len()]).collect();
        for (at, task) in ranked.iter().enumerate() {
            index[task.job][task.place] = at;
        }
        let tasks = ranked.iter().map(|&Ranked { job, place, key, .. }| {
            let (graph, all) = (&graphs[job], &jobs[job].tasks);
            let followers = graph.followers(place);
            let waits = |next: &usize| matches!(all[*next].takes, Takes::Wait(_) | Takes::Nothing);
            Laid {
                takes: &all[place].takes,
                stream: random::stream(seed, key),
                job,
                place,
                before: graph.after(place).len(),
                followers: followers.iter().map(|&next| index[job][next]).collect(),
                day_matters: followers.is_empty() || followers.iter().any(waits),
            }
        });
        Ok(Self { tasks: tasks.collect() })
    }

    /// What each task takes in so many trials from the `first` on: all tasks of one trial, then those of the next.
    ///
    /// Drawn task by task, as one curve is quickly read many times.
    pub(super) fn draw(&self, first: u32, trials: usize) -> Vec<Took> {
        let count = self.tasks.len();
        let mut took = vec![Took::Nothing; count * trials];
        for (task, laid) in self.tasks.iter().enumerate() {
            for (index, took) in (u64::from(first)..).zip(took.iter_mut().skip(task).step_by(count)) {
                *took = laid.takes.drawn(random::draw(laid.stream, index));
            }
        }
        took
    }
}

/// A task and what its turn at the bench goes by.
struct Ranked {
    job: usize,
    place: usize,
    way: f64,
    key: u64,
}

impl Ranked {
    fn by_turn(&self, other: &Self) -> Ordering {
        self.job.cmp(&other.job).then(other.way.total_cmp(&self.way)).then(self.key.cmp(&other.key))
    }
}

fn mean_hours(takes: &Takes, hours_a_day: f64) -> f64 {
    match takes {
        Takes::Nothing => 0.0,
        Takes::Bench(hours) => hours.mean(),
        Takes::Wait(days) => days.mean() * hours_a_day,
    }
}

fn one_of_each(ranked: &[Ranked]) -> Result<(), NetworkFault> {
    let mut keys: Vec<u64> = ranked.iter().map(|task| task.key).collect();
    keys.sort_unstable();
    match keys.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(pair) => Err(NetworkFault::SameKey { key: pair[0] }),
        None => Ok(()),
    }
}
