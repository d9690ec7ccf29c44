//! A second check of a signed step: by somebody else, or by the same hand on a later day, and recorded as which.

use super::Shop;
use super::changed::seen_now;
use super::doing::{Doing, Done, Refused};
use super::when::When;
use crate::record::second_checks::{self, SecondCheck};
use crate::record::sign_offs::SignOff;
use crate::record::{people, steps::StepState};

/// A second check to read.
#[derive(Clone, Debug)]
pub struct CheckView {
    pub by: String,
    pub when: String,
    /// The same hand signed: said, as it is worth less than another pair of eyes.
    pub same_hand: bool,
}

impl CheckView {
    pub(super) fn of(sign: &SignOff, checks: &[SecondCheck], when: &When) -> Vec<Self> {
        let of_sign = checks.iter().filter(|check| check.sign_off == sign.id);
        of_sign
            .map(|check| Self {
                by: check.person.clone(),
                when: when.at(check.stamp.at),
                same_hand: check.person == sign.person,
            })
            .collect()
    }
}

impl Shop {
    /// Keeps that a signed step was looked over once more, with everything as it is seen now. Recorded only: nothing waits
    /// for it.
    ///
    /// # Errors
    /// Where nobody's name is tapped, or the same hand signed it this very day; a conflict where it is not signed any more.
    pub async fn check_again(&self, doing: &Doing, job: i64, key: &str) -> Done<()> {
        let person = self.somebody(doing, "check").await?;
        let look = self.look_at_job(job, doing.at).await?;
        let step = look.steps.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        let signed = look.signs.iter().rev().find(|sign| sign.step == step.id && !sign.reopened);
        let Some(signed) = signed.filter(|_| step.state == StepState::Signed) else {
            return Err(Refused::Conflict { stands: format!("{} is open again", step.title) });
        };
        let name = people::by_id(&mut *self.record.look().await?, person).await?.map(|person| person.name);
        let same_hand = name.as_ref() == Some(&signed.person);
        if same_hand && look.when.day(signed.stamp.at) == look.when.day(doing.at) {
            let message = "you signed it today: look again tomorrow, or have somebody else look";
            return Err(Refused::fault("check", message));
        }
        let seen = seen_now(&look.job, &look.findings, step);
        let Some(mut w) = self.begin(doing, "check again", Some(job)).await? else { return Ok(()) };
        second_checks::insert(&mut w, job, signed.id, person, &seen).await?;
        Ok(w.commit().await?)
    }
}
