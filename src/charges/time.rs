//! What a day's acts propose as hours: a proposal, which the person adjusts.

use std::collections::BTreeMap;
use thiserror::Error;

use super::hours::Quarters;
use super::share::spread;

/// The minutes of a day.
const DAY: u16 = 24 * 60;

/// Something a person did on a job: a reading, a step begun or ended, a photo.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Act {
    pub person: String,
    /// Since midnight in the shop's zone.
    pub minute: u16,
    pub job: String,
    pub step: Option<String>,
}

/// How acts are turned into time. The defaults are our own judgement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Habits {
    /// A longer gap between two acts is a break.
    pub longest_gap_min: u16,
    /// What is counted after the last act of a day or before a break.
    pub tail_min: u16,
}

impl Default for Habits {
    fn default() -> Self {
        Self { longest_gap_min: 45, tail_min: 15 }
    }
}

/// Proposed hours of a person on a step of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposed {
    pub person: String,
    pub job: String,
    pub step: Option<String>,
    pub minutes: u32,
    /// None where the minutes round to no quarter of the day.
    pub hours: Quarters,
}

/// Why nothing is proposed.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum TimeFault {
    #[error("minute {0} is not in a day: a day ends with minute 1439")]
    Minute(u16),
    #[error("what is counted after the last act ({tail_min} min) is not longer than a break ({longest_gap_min} min)")]
    Tail { tail_min: u16, longest_gap_min: u16 },
}

/// Proposes hours from the acts of one day, by person, job and step.
///
/// The time from one act to the same person's next belongs to the earlier one's step, unless the gap is a break: then,
/// and after the last act, the tail is counted, but not past midnight. Each person's minutes are rounded to quarter
/// hours in all, and spread over the steps by largest remainder, so that the quarters sum to the rounded day.
pub fn propose(acts: &[Act], habits: Habits) -> Result<Vec<Proposed>, TimeFault> {
    let Habits { longest_gap_min, tail_min } = habits;
    if tail_min > longest_gap_min {
        return Err(TimeFault::Tail { tail_min, longest_gap_min });
    }
    if let Some(act) = acts.iter().find(|act| act.minute >= DAY) {
        return Err(TimeFault::Minute(act.minute));
    }
    let mut acts: Vec<&Act> = acts.iter().collect();
    acts.sort();
    let mut proposed = Vec::new();
    for day in acts.chunk_by(|act, next| act.person == next.person) {
        let mut minutes: BTreeMap<(&str, Option<&str>), u32> = BTreeMap::new();
        for (at, act) in day.iter().enumerate() {
            let gap = day.get(at + 1).map(|next| next.minute - act.minute).filter(|gap| *gap <= longest_gap_min);
            let counted = gap.unwrap_or(tail_min.min(DAY - act.minute));
            *minutes.entry((&act.job, act.step.as_deref())).or_default() += u32::from(counted);
        }
        let weights: Vec<i128> = minutes.values().map(|minutes| i128::from(*minutes)).collect();
        let quarters = spread((weights.iter().sum::<i128>() + 7) / 15, &weights);
        for (((job, step), minutes), quarters) in minutes.into_iter().zip(quarters) {
            proposed.push(Proposed {
                person: day[0].person.clone(),
                job: job.to_owned(),
                step: step.map(str::to_owned),
                minutes,
                hours: Quarters(u32::try_from(quarters).unwrap_or_default()),
            });
        }
    }
    Ok(proposed)
}
