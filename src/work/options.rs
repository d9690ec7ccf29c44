//! What can be chosen on a sheet, worked out for its page.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::{JobHead, JobLook};
use crate::engine::SheetKey;
use crate::record::decisions::{self, NewDecision};
use crate::sheets::{Choice, sheet};
use jiff::Timestamp;

/// A choice as its page shows it.
#[derive(Clone, Debug)]
pub struct ChoiceView {
    pub title: String,
    /// Where, and what goes there.
    pub rows: Vec<(String, String)>,
    pub said: String,
}

/// The page of what can be chosen on a sheet.
#[derive(Clone, Debug)]
pub struct OptionsView {
    pub head: JobHead,
    pub sheet: SheetKey,
    pub sheet_title: &'static str,
    pub title: &'static str,
    pub purpose: &'static str,
    /// What is to be typed; none where the readings are enough.
    pub asks: Option<&'static str>,
    /// The choices, the best first; or what is missing to work them out.
    pub choices: Result<Vec<ChoiceView>, FieldFault>,
    /// What was decided, newest first.
    pub decided: Vec<DecisionView>,
}

/// A choice accepted.
#[derive(Clone, Debug)]
pub struct DecisionView {
    pub id: i64,
    /// Its title, what it comes to, then what goes where.
    pub chosen: Vec<String>,
    /// Titles of what else could have been chosen, with what they come to.
    pub alternatives: Vec<String>,
    pub reason: String,
    pub when: String,
}

/// More than any shelf's list.
const LONGEST: usize = 4000;

impl Shop {
    /// What can be chosen on a sheet, from what stands and what was typed.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job, or nothing to choose on the sheet.
    pub async fn options(&self, job: i64, key: SheetKey, typed: &str, now: Timestamp) -> Done<OptionsView> {
        let of = sheet(key);
        let options = of.options.as_ref().ok_or(Refused::NotFound)?;
        let look = self.look_at_job(job, now).await?;
        let decided = self.decided(&look, key).await?;
        let book = look.job.book();
        let fault = |words: String| FieldFault::new("typed", words);
        let choices = match FieldFault::too_long("typed", typed, LONGEST) {
            Some(too_long) => Err(too_long),
            None => (options.work_out)(&book, typed).map_err(fault),
        };
        let view = |choice: Choice| ChoiceView {
            title: choice.title,
            rows: choice.rows.into_iter().map(|(place, words)| (book.setup.architecture.label(place), words)).collect(),
            said: choice.said,
        };
        Ok(OptionsView {
            head: look.head(),
            sheet: key,
            sheet_title: of.title,
            title: options.title,
            purpose: options.purpose,
            asks: options.asks,
            choices: choices.map(|choices| choices.into_iter().map(view).collect()),
            decided,
        })
    }

    /// What was decided on a sheet and stands, newest first.
    pub(super) async fn decided(&self, look: &JobLook, key: SheetKey) -> Done<Vec<DecisionView>> {
        let all = decisions::of_build(&mut *self.record.look().await?, look.job.build.id).await?;
        let standing = all.into_iter().rev().filter(|one| one.withdrawn.is_none() && one.said.sheet == key);
        Ok(standing
            .map(|one| DecisionView {
                id: one.id,
                chosen: one.said.chosen,
                alternatives: one.said.alternatives,
                reason: one.said.reason,
                when: look.when.stamp(&one.stamp),
            })
            .collect())
    }

    /// Accepts one of the choices worked out from what stands now and what was typed, by its title, for a reason.
    ///
    /// # Errors
    /// [`Refused::Faults`] where no reason is given, or the choice is no longer among them.
    pub async fn decide(
        &self,
        doing: &Doing,
        job: i64,
        key: SheetKey,
        typed: &str,
        title: &str,
        reason: &str,
    ) -> Done<()> {
        let view = self.options(job, key, typed, doing.at).await?;
        let choices = view.choices.map_err(|fault| Refused::Faults(vec![fault]))?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("reason", reason, 1000).into_iter().collect();
        if reason.trim().is_empty() {
            faults.push(FieldFault::new("reason", "say why it is taken: it stays with the decision"));
        }
        let said = |choice: &ChoiceView| format!("{}: {}", choice.title, choice.said);
        let (chosen, others): (Vec<_>, Vec<_>) = choices.iter().partition(|choice| choice.title == title);
        let Some(chosen) = chosen.first() else {
            return Err(Refused::fault("reason", "this choice is not among them any more: look at them again"));
        };
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        let rows = chosen.rows.iter().map(|(place, words)| format!("{place}: {words}"));
        let new = NewDecision {
            sheet: key,
            asked: typed.trim().to_owned(),
            chosen: std::iter::once(said(chosen)).chain(rows).collect(),
            alternatives: others.into_iter().map(said).collect(),
            reason: reason.trim().to_owned(),
        };
        let Some(mut w) = self.begin(doing, "decide", Some(job)).await? else { return Ok(()) };
        decisions::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a decision.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_decision(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw decision", Some(job)).await? else { return Ok(()) };
        if !decisions::withdraw(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
