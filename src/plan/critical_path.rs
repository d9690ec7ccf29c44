//! The critical path: when each step can begin and must, and how much room it has.
//!
//! Durations are in any one unit, and so are the answers; all are known beforehand and there are hands enough for all. One
//! pair of hands, or parts that may come late, want the simulation.

use thiserror::Error;

use super::graph::Graph;
use super::three_point::ThreePoint;
use statrs::distribution::{ContinuousCDF, Normal};

/// A float below this part of the whole is none: sums of the same steps in another order differ by less.
const NO_FLOAT: f64 = 1e-9;

/// Why there is no critical path.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum DurationFault {
    #[error("each step needs a duration of its own: {steps} steps, {durations} durations")]
    Count { steps: usize, durations: usize },
    #[error("a step takes some time or none, never less, and no more than can be counted")]
    Duration { step: usize },
}

/// Longest duration taken: sums of as many as there can be stay finite.
const TOO_LONG: f64 = 1e12;

/// When a step can begin and end, and when it must.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Times {
    pub earliest_start: f64,
    pub earliest_finish: f64,
    pub latest_start: f64,
    pub latest_finish: f64,
    /// LS − ES: how much later it may begin without a later end of all.
    pub total_float: f64,
    /// How much later it may end without any other step beginning later.
    pub free_float: f64,
}

/// The times of all steps and the longest way through them.
#[derive(Clone, Debug, PartialEq)]
pub struct CriticalPath {
    pub times: Vec<Times>,
    /// From the first beginning to the last end.
    pub length: f64,
    /// The steps without float, in the order of the work.
    pub critical: Vec<usize>,
}

impl CriticalPath {
    /// ES = max EF(before), EF = ES + d, LF = min LS(after), LS = LF − d, float = LS − ES (CPM; any textbook of planning).
    pub fn new(graph: &Graph, durations: &[f64]) -> Result<Self, DurationFault> {
        checked(graph, durations)?;
        let mut times = vec![Times::default(); graph.len()];
        for &step in graph.order() {
            let start = graph.after(step).iter().map(|&before| times[before].earliest_finish).fold(0.0, f64::max);
            times[step].earliest_start = start;
            times[step].earliest_finish = start + durations[step];
        }
        let length = times.iter().map(|time| time.earliest_finish).fold(0.0, f64::max);
        for &step in graph.order().iter().rev() {
            let following = || graph.followers(step).iter();
            let finish = following().map(|&next| times[next].latest_start).fold(length, f64::min);
            let next_start = following().map(|&next| times[next].earliest_start).fold(length, f64::min);
            let time = &mut times[step];
            time.latest_finish = finish;
            time.latest_start = finish - durations[step];
            time.total_float = room(time.latest_start - time.earliest_start, length);
            time.free_float = room(next_start - time.earliest_finish, length);
        }
        let critical = graph.order().iter().copied().filter(|&step| times[step].total_float == 0.0).collect();
        Ok(Self { times, length, critical })
    }

    /// The largest sum of what `of_step` says along a critical way from first to last.
    fn widest(&self, graph: &Graph, of_step: impl Fn(usize) -> f64) -> f64 {
        let mut sums = vec![0.0; graph.len()];
        for &step in &self.critical {
            let touches = |before: &usize| {
                let gap = self.times[step].earliest_start - self.times[*before].earliest_finish;
                self.times[*before].total_float == 0.0 && room(gap, self.length) == 0.0
            };
            let before = graph.after(step).iter().filter(|before| touches(before)).map(|&before| sums[before]);
            sums[step] = before.fold(0.0, f64::max) + of_step(step);
        }
        sums.into_iter().fold(0.0, f64::max)
    }
}

/// A float that is nothing but rounding is none.
fn room(float: f64, length: f64) -> f64 {
    if float <= NO_FLOAT * length { 0.0 } else { float }
}

fn checked(graph: &Graph, durations: &[f64]) -> Result<(), DurationFault> {
    if durations.len() != graph.len() {
        return Err(DurationFault::Count { steps: graph.len(), durations: durations.len() });
    }
    match durations.iter().position(|duration| !(0.0..=TOO_LONG).contains(duration)) {
        Some(step) => Err(DurationFault::Duration { step }),
        None => Ok(()),
    }
}

/// What PERT says of the whole: the critical path of the means, and how far it may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Pert {
    pub path: CriticalPath,
    /// Of the critical path; of several, the one that varies most.
    pub variance: f64,
}

impl Pert {
    /// PERT as textbooks have it: tₑ = (a + 4m + b)/6 and σ² = ((b − a)/6)² of each step.
    ///
    /// Only one path is looked at, so it is too hopeful wherever a second is nearly as long: the simulation is not.
    pub fn new(graph: &Graph, steps: &[ThreePoint]) -> Result<Self, DurationFault> {
        let means: Vec<f64> = steps.iter().map(ThreePoint::mean).collect();
        let path = CriticalPath::new(graph, &means)?;
        let variance = path.widest(graph, |step| steps[step].variance());
        Ok(Self { path, variance })
    }

    /// The chance that all is done within a time, by the normal distribution of the critical path's sum.
    pub fn chance_within(&self, time: f64) -> f64 {
        match Normal::new(self.path.length, self.variance.sqrt()) {
            Ok(normal) => normal.cdf(time),
            Err(_) => f64::from(u8::from(time >= self.path.length)),
        }
    }
}
