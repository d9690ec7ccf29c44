//! Dates told to customers.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::move_part::day;
use super::when::{When, civil};
use crate::record::promises::{self, Promise};

/// What is typed of a promise.
#[derive(Clone, Debug, Default)]
pub struct PromiseForm {
    /// A civil day.
    pub day: String,
    /// How it was put, and to whom.
    pub words: String,
    /// It is so, although the day is past.
    pub sure: bool,
}

/// A date told to a customer.
#[derive(Clone, Debug)]
pub struct PromiseView {
    /// "15 June 2026".
    pub day: String,
    pub words: String,
    /// The day has passed.
    pub late: bool,
    /// Who told it, and when.
    pub told: String,
}

impl PromiseView {
    pub(super) fn of(promise: &Promise, when: &When) -> Self {
        Self {
            day: civil(promise.day),
            words: promise.words.clone(),
            late: promise.day < when.today(),
            told: when.stamp(&promise.stamp),
        }
    }
}

/// The promise of a job that holds: its newest.
pub(super) fn promise_of(promises: &[Promise], job: i64) -> Option<&Promise> {
    promises.iter().rev().find(|promise| promise.build == job)
}

impl Shop {
    /// Keeps a date told to the customer; those told before stay in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job; [`Refused::Faults`] for what is no day, or one past that nobody said is so.
    pub async fn promise(&self, doing: &Doing, job: i64, form: &PromiseForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let mut faults = Vec::new();
        let on = day("day", &form.day).map_err(|why| faults.push(why)).ok().flatten();
        if faults.is_empty() && on.is_none() {
            faults.push(FieldFault::new("day", "enter the day that is promised"));
        }
        if on.is_some_and(|on| on < look.when.today()) && !form.sure {
            faults.push(FieldFault::new("day", "this day is past: tick “It is so” to keep it, or enter another"));
        }
        faults.extend(FieldFault::too_long("words", &form.words, 400));
        let (Some(on), true) = (on, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let Some(mut w) = self.begin(doing, "promise", Some(job)).await? else { return Ok(()) };
        promises::insert(&mut w, job, on, form.words.trim()).await?;
        Ok(w.commit().await?)
    }
}
