//! Why a job or a step waits: said, and ended in one tap.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::move_part::day;
use super::needs::wait_words;
use super::when::civil;
use crate::record::steps::Step;
use crate::record::waits::{self, NewWait, Wait, Why};

/// What is typed of something awaited.
#[derive(Clone, Debug, Default)]
pub struct WaitForm {
    /// A step's key; empty for the whole job.
    pub step: String,
    /// For whom or what, by its key.
    pub why: String,
    pub words: String,
    /// Civil days; empty: since today, expected nobody knows when.
    pub since: String,
    pub expected: String,
}

/// Something awaited, in words.
#[derive(Clone, Debug)]
pub struct WaitView {
    pub id: i64,
    /// "the customer’s answer (ported heads)".
    pub what: String,
    /// The step that waits; none for the whole job.
    pub step: Option<String>,
    /// "since 3 June 2026, expected 12 June 2026".
    pub when: String,
    pub late: bool,
    /// Nobody said when it is expected.
    pub undated: bool,
    /// Who said so, and when.
    pub said: String,
}

/// What can be waited for: key and word.
pub(super) fn kinds_of_wait() -> Vec<(&'static str, &'static str)> {
    Why::ALL.iter().map(|why| (why.key(), why.word())).collect()
}

impl JobLook {
    fn wait_view(&self, wait: &Wait) -> WaitView {
        let said = &wait.said;
        let expected = said.expected.map_or_else(String::new, |day| format!(", expected {}", civil(day)));
        let step = self.steps.iter().find(|step| Some(step.id) == said.step);
        WaitView {
            id: wait.id,
            what: wait_words(said.why, &said.words),
            step: step.map(|step| step.title.clone()),
            when: format!("since {}{expected}", civil(said.since)),
            late: said.expected.is_some_and(|expected| expected < self.when.today()),
            undated: said.expected.is_none(),
            said: self.when.stamp(&wait.stamp),
        }
    }

    /// What is waited for still: by a step and its whole job, or by the job and all its steps.
    pub(super) fn waiting(&self, waits: &[Wait], step: Option<&Step>) -> Vec<WaitView> {
        let of_step = |wait: &&Wait| {
            wait.ended.is_none() && step.is_none_or(|step| wait.said.step.is_none_or(|waits| waits == step.id))
        };
        waits.iter().filter(of_step).map(|wait| self.wait_view(wait)).collect()
    }
}

impl WaitForm {
    fn understood(&self, look: &JobLook) -> Done<NewWait> {
        let mut faults = Vec::new();
        let why = Why::from_key(&self.why);
        if why.is_none() {
            faults.push(FieldFault::new("why", "choose what is waited for"));
        }
        faults.extend(FieldFault::too_long("words", &self.words, 200));
        let step = look.steps.iter().find(|step| step.key == self.step);
        if step.is_none() && !self.step.is_empty() {
            faults.push(FieldFault::new("step", "choose the step from the list"));
        }
        let mut on = |field: &str, typed: &str| day(field, typed).map_err(|why| faults.push(why)).ok().flatten();
        let today = look.when.today();
        let (since, expected) = (on("since", &self.since).unwrap_or(today), on("expected", &self.expected));
        if since > today {
            faults.push(FieldFault::new("since", "this day has not come yet: enter the day from which it waits"));
        }
        if expected.is_some_and(|expected| expected < since) {
            let words = format!("it waits since {}: enter a day from then on, or none", civil(since));
            faults.push(FieldFault::new("expected", words));
        }
        let (Some(why), true) = (why, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        Ok(NewWait { step: step.map(|step| step.id), why, words: self.words.trim().to_owned(), since, expected })
    }
}

impl Shop {
    /// Says why a job or one of its steps waits.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job; [`Refused::Faults`] for what cannot be.
    pub async fn begin_waiting(&self, doing: &Doing, job: i64, form: &WaitForm) -> Done<()> {
        let new = form.understood(&self.look_at_job(job, doing.at).await?)?;
        let Some(mut w) = self.begin(doing, "wait", Some(job)).await? else { return Ok(()) };
        waits::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// What was waited for has come.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where nothing of this job is waited for by this number.
    pub async fn end_waiting(&self, doing: &Doing, job: i64, wait: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "end waiting", Some(job)).await? else { return Ok(()) };
        if !waits::end(&mut w, job, wait).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
