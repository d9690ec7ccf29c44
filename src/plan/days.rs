//! After how many days something comes: a part, a block from the machine shop, an answer.

use super::shares::Shares;

/// What is not there after three years is not waited for: the chances of the days before then are taken for the whole.
const LONGEST_WAIT: usize = 1096;
/// Less than one in ten thousand: days that hardly matter are left out.
const HARDLY: f64 = 1e-4;

/// A distribution over whole calendar days, day 0 being the one on which the wait begins.
#[derive(Clone, Debug, PartialEq)]
pub struct Days {
    /// Of each day, the share of times that it has come by its end; the last is 1.
    share: Shares,
    on_time: usize,
}

impl Days {
    /// What comes on just this day, three years off at most.
    pub fn fixed(day: u16) -> Self {
        let day = usize::from(day).min(LONGEST_WAIT);
        let mut share = vec![0.0; day];
        share.push(1.0);
        Self { share: Shares::new(share), on_time: day }
    }

    /// Of the share still to come after each day, which falls from day to day; `on_time` is the day it is said to come.
    pub(super) fn still_to_come(after: impl Fn(usize) -> f64, on_time: usize) -> Self {
        let mut share: Vec<f64> = Vec::new();
        for day in 0..=LONGEST_WAIT {
            let open = after(day);
            share.push(1.0 - open);
            if open < HARDLY {
                break;
            }
        }
        let whole = share.last().copied().filter(|&last| last > 0.0);
        match whole {
            Some(whole) => share.iter_mut().for_each(|part| *part = (*part / whole).clamp(0.0, 1.0)),
            None => share.iter_mut().rev().take(1).for_each(|last| *last = 1.0),
        }
        Self { share: Shares::new(share), on_time: on_time.min(LONGEST_WAIT) }
    }

    /// The day it is said to come, or would at best.
    pub fn on_time(&self) -> usize {
        self.on_time
    }

    /// The day by which it has come in this share of times, from 0 to 1; of none the first on which it may come.
    pub fn quantile(&self, share: f64) -> usize {
        self.share.first(share.max(f64::MIN_POSITIVE))
    }

    /// The share of times in which it has come by the end of a day.
    pub fn share_by(&self, day: usize) -> f64 {
        self.share.all().get(day).copied().unwrap_or(1.0)
    }

    pub fn mean(&self) -> f64 {
        self.share.all().iter().map(|up_to| 1.0 - up_to).sum()
    }
}
