//! How late things come, and how long work takes, judged by what came and was done before.
//!
//! What is judged beforehand is said here with its figures; own history outweighs it as it grows. Ratios are looked at
//! (what it took over what was said), by their logarithms: twice as long and half as long are as far apart.

use jiff::civil::Date;
use thiserror::Error;

use super::belief::{Belief, LogT};
use super::calendar::days_between;
use super::days::Days;
use super::hours::Hours;
use super::three_point::ThreePoint;

/// Our own judgement, no source: half of all things take longer than 1.1 times the lead that was promised …
pub const USUAL_LATENESS: f64 = 1.1;
/// … and nine of ten come within a factor of 1.8 of that, either way …
pub const LATENESS_WITHIN: f64 = 1.8;
/// … which is so many scales of Student's t with the six degrees of freedom that a judgement counts for (any table of t).
const NINE_OF_TEN: f64 = 1.943_180;
/// Work is reckoned between the shortest and longest of a thousand times.
const WORK_CUT_OFF: f64 = 5e-4;
const WORK_CUTS: u32 = 128;

/// What contradicts what in a history.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum HistoryFault {
    #[error("it was promised for a day before its order")]
    PromisedBeforeOrder,
    #[error("it came before it was ordered")]
    ReceivedBeforeOrder,
    #[error("it is ordered for a later day than today: it is not on its way")]
    OrderedLater,
    #[error("hours planned and hours worked are figures above zero, up to a million")]
    Hours,
}

/// Something that was ordered and came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Delivery {
    pub ordered: Date,
    pub promised: Date,
    pub received: Date,
}

impl Delivery {
    /// Days it took over days promised, each at least one.
    fn ratio(&self) -> Result<f64, HistoryFault> {
        let promised = lead(self.ordered, self.promised).ok_or(HistoryFault::PromisedBeforeOrder)?;
        let taken = lead(self.ordered, self.received).ok_or(HistoryFault::ReceivedBeforeOrder)?;
        Ok(taken / promised)
    }
}

/// Days from an order to what follows it; what comes on the same day counts as one.
fn lead(ordered: Date, then: Date) -> Option<f64> {
    u32::try_from(days_between(ordered, then)).ok().map(|days| f64::from(days.max(1)))
}

/// How a supplier keeps its promises.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Promises {
    ratio: LogT,
}

impl Promises {
    /// By what a supplier promised and when it came, which may be nothing yet.
    pub fn kept(history: &[Delivery]) -> Result<Self, HistoryFault> {
        let seen: Vec<f64> = history.iter().map(|one| one.ratio().map(f64::ln)).collect::<Result<_, _>>()?;
        let before = Belief::before(USUAL_LATENESS.ln(), LATENESS_WITHIN.ln() / NINE_OF_TEN);
        Ok(Self { ratio: before.after(&seen).next() })
    }

    /// The days the next one takes over the days promised that are not exceeded in this share of times.
    ///
    /// The share is between 0 and 1 and not either: there is no longest.
    pub fn ratio(&self, share: f64) -> f64 {
        self.ratio.quantile(share)
    }

    /// When something comes that this supplier promised. Where the promise was renewed, its day counts as the order's.
    pub fn lead(&self, ordered: Date, promised: Date) -> Result<Lead, HistoryFault> {
        let days = lead(ordered, promised).ok_or(HistoryFault::PromisedBeforeOrder)?;
        Ok(Lead { days: self.ratio.times(days), said: days })
    }
}

/// How long something takes from its order, or from the day it was sent out or asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lead {
    days: LogT,
    said: f64,
}

impl Lead {
    /// Where nothing is promised: what is usual, and what earlier ones took in days.
    ///
    /// The usual range gives the middle and the spread, by PERT's mean and the variance of its beta curve, but not the
    /// end: what takes longer than the most may take longer still.
    pub fn usual(days: &ThreePoint, history: &[u16]) -> Self {
        let seen: Vec<f64> = history.iter().map(|&taken| (f64::from(taken.max(1)) / days.mean()).ln()).collect();
        Self { days: relative(days).after(&seen).next().times(days.mean()), said: days.least() }
    }

    /// Days from an order that is still to be made, day 0 being the day of it.
    pub fn from_order(&self) -> Days {
        Days::still_to_come(|day| self.days.beyond(day as f64 + 0.5), whole_days(self.said))
    }

    /// Days from today of what was ordered and is not here today: it comes tomorrow at the earliest.
    ///
    /// The longer it is overdue, the longer it may still take.
    pub fn still_out(&self, ordered: Date, today: Date) -> Result<Days, HistoryFault> {
        let waited = u32::try_from(days_between(ordered, today)).map_err(|_| HistoryFault::OrderedLater)?;
        let waited = f64::from(waited) + 0.5;
        let open = self.days.beyond(waited);
        let on_time = whole_days(self.said - waited.floor()).max(1);
        let after = |day: usize| if day == 0 { 1.0 } else { self.days.beyond(waited + day as f64) / open };
        Ok(Days::still_to_come(after, on_time))
    }
}

/// How long a step takes here: as expected, moved and spread by what such steps took over what was planned.
///
/// Without history the beta curve of PERT; with it, the logarithm of the ratio has the mean and spread of that curve
/// beforehand, and what was seen corrects both.
pub fn bench_hours(expected: &ThreePoint, history: &[Worked]) -> Result<Hours, HistoryFault> {
    if history.is_empty() {
        return Ok(Hours::pert(expected));
    }
    let seen: Vec<f64> = history.iter().map(|one| one.ratio().map(f64::ln)).collect::<Result<_, _>>()?;
    let hours = relative(expected).after(&seen).next().times(expected.mean());
    let curve = Hours::of_curve(&hours.curve(WORK_CUTS, WORK_CUT_OFF)).map_err(|_| HistoryFault::Hours)?;
    Ok(curve.at_best(expected.least()))
}

/// A step that was done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worked {
    pub planned_hours: f64,
    pub actual_hours: f64,
}

impl Worked {
    fn ratio(&self) -> Result<f64, HistoryFault> {
        let sound = |hours: f64| hours > 0.0 && hours <= 1e6;
        if sound(self.planned_hours) && sound(self.actual_hours) {
            Ok(self.actual_hours / self.planned_hours)
        } else {
            Err(HistoryFault::Hours)
        }
    }
}

/// Of what is expected, the ratio to its mean: log-normal with the same mean and variance.
fn relative(expected: &ThreePoint) -> Belief {
    let variance = (1.0 + expected.beta_variance() / expected.mean().powi(2)).ln();
    Belief::before(-variance / 2.0, variance.sqrt())
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "days below a million")]
fn whole_days(days: f64) -> usize {
    days.round() as usize
}
