//! A job's page and its steps' pages: where it is, what each step waits for, what is open.

use super::changed::changed_since;
use super::doing::{Done, Refused};
use super::findings::{FindingView, JobFindings, Tally, Wording};
use super::floor::{StepLink, waits_for};
use super::job_record::JobRecord;
use super::needs::Needs;
use super::promises::PromiseView;
use super::sheet::sheet_rows;
use super::tightenings::{TighteningView, tightened, wrenches};
use super::times::step_time;
use super::waits::{WaitView, kinds_of_wait};
use super::when::When;
use super::{CheckView, PhotoView, Shop};
use crate::engine::{SheetKey, WorkingUnit};
use crate::record::acceptances::Acceptance;
use crate::record::attachments::Attachment;
use crate::record::notes::Note;
use crate::record::second_checks::SecondCheck;
use crate::record::sign_offs::SignOff;
use crate::record::steps::{Step, StepState};
use crate::record::stop_marks::StopMark;
use crate::record::tightenings::Tightening;
use crate::record::{
    acceptances, acts, attachments, notes, people, promises, second_checks, settings, sign_offs, steps, stop_marks,
    tightenings, waits,
};
use crate::sheets::sheet;
use jiff::Timestamp;
use std::sync::Arc;

/// What stands on top of every page of a job.
#[derive(Clone, Debug)]
pub struct JobHead {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    pub phone: Option<String>,
    /// "vee 8, 5 mains".
    pub engine: String,
    pub unit: WorkingUnit,
    /// "new", "refresh", "repair".
    pub kind: &'static str,
    pub closed: bool,
}

/// One step in the list of a job.
#[derive(Clone, Debug)]
pub struct StepRow {
    pub key: String,
    pub title: String,
    pub state: StepState,
    /// Titles of steps not done that it follows; empty where it can begin.
    pub waits_for: Vec<String>,
    /// What else it needs and is not here: "crank: six weeks"; none of a step that is done.
    pub needs: Vec<String>,
    pub sheets: Vec<(SheetKey, &'static str)>,
    pub tally: Tally,
    pub stopped: Vec<String>,
    pub signed: Option<SignView>,
}

impl StepRow {
    /// All that it waits for: steps first, then what else it needs.
    pub fn waits(&self) -> String {
        self.waits_for.iter().chain(&self.needs).map(String::as_str).collect::<Vec<_>>().join(", ")
    }
}

/// Who signed a step.
#[derive(Clone, Debug)]
pub struct SignView {
    pub by: String,
    pub when: String,
    /// What is different now from what was seen then: "readings changed". None where nothing is.
    pub changed: Option<String>,
    /// Why it was signed although stale; empty where it was not.
    pub despite: String,
    /// Why it was reopened; none while it stands.
    pub reopened: Option<String>,
    /// Who looked it over once more.
    pub checks: Vec<CheckView>,
}

/// A note to read.
#[derive(Clone, Debug)]
pub struct NoteView {
    pub id: i64,
    pub text: String,
    pub when: String,
}

/// A job's page.
#[derive(Clone, Debug)]
pub struct JobView {
    pub head: JobHead,
    pub wants: String,
    pub steps: Vec<StepRow>,
    /// Sheets that no step takes: key and title.
    pub other_sheets: Vec<(SheetKey, &'static str)>,
    pub tally: Tally,
    pub undecided: usize,
    pub notes: Vec<NoteView>,
    pub photos: Vec<PhotoView>,
    pub opened: String,
    /// The day told to the customer.
    pub promised: Option<PromiseView>,
}

/// A step's page.
#[derive(Clone, Debug)]
pub struct StepView {
    pub head: JobHead,
    pub row: StepRow,
    pub purpose: String,
    pub caution: String,
    /// Each sheet with how its findings stand.
    pub sheets: Vec<super::SheetRow>,
    /// Out, on the line or missing, with the calls made.
    pub open: Vec<FindingView>,
    /// Marks not resumed: id and words.
    pub stopped: Vec<(i64, String, String)>,
    pub notes: Vec<NoteView>,
    pub photos: Vec<PhotoView>,
    /// Fasteners tightened at the step.
    pub tightened: Vec<TighteningView>,
    pub time: super::StepTime,
    /// What tightens them: public id and name.
    pub wrenches: Vec<(String, String)>,
    /// Earlier sign-offs, newest first.
    pub signed_before: Vec<SignView>,
    /// Names to sign with: public id and name.
    pub people: Vec<(String, String)>,
    /// What it or its whole job waits for, besides parts and work sent out.
    pub waits: Vec<WaitView>,
    /// What can be waited for: key and word.
    pub kinds_of_wait: Vec<(&'static str, &'static str)>,
    /// The next step that can begin.
    pub next: Option<StepLink>,
    /// The newest act that changed this step: what its forms saw.
    pub act: i64,
}

/// All that a job's pages are made of.
pub(super) struct JobLook {
    pub job: JobRecord,
    pub findings: Arc<JobFindings>,
    pub steps: Vec<Step>,
    pub calls: Vec<Acceptance>,
    pub marks: Vec<StopMark>,
    pub signs: Vec<SignOff>,
    pub checks: Vec<SecondCheck>,
    pub notes: Vec<Note>,
    pub photos: Vec<Attachment>,
    /// Fasteners tightened; those withdrawn as well.
    pub tightened: Vec<Tightening>,
    pub people: Vec<people::Person>,
    pub when: When,
}

impl JobLook {
    pub fn wording(&self) -> Wording<'_> {
        Wording {
            architecture: &self.job.engine.architecture,
            unit: self.job.build.unit,
            calls: &self.calls,
            stale: &self.findings.stale,
            when: &self.when,
        }
    }

    pub fn head(&self) -> JobHead {
        let build = &self.job.build;
        let customer = build.customer.and_then(|id| self.people.iter().find(|person| person.id == id));
        JobHead {
            job: build.id,
            title: build.title.clone(),
            customer: customer.map(|person| person.name.clone()),
            phone: customer.map(|person| person.phone.clone()).filter(|phone| !phone.is_empty()),
            engine: self.job.engine.architecture.summary(),
            unit: build.unit,
            kind: build.kind.word(),
            closed: build.closed,
        }
    }

    fn row(&self, step: &Step, needs: &Needs) -> StepRow {
        let all: Vec<&Step> = self.steps.iter().collect();
        let findings = self.findings.of_step(&step.sheets);
        let last = self.signs.iter().rev().find(|sign| sign.step == step.id && !sign.reopened);
        StepRow {
            key: step.key.clone(),
            title: step.title.clone(),
            state: step.state.clone(),
            waits_for: waits_for(step, &all),
            needs: needs.in_words(step, self.when.today()),
            sheets: step.sheets.iter().map(|&key| (key, sheet(key).title)).collect(),
            tally: self.findings.tally(findings, &self.calls),
            stopped: self
                .marks
                .iter()
                .filter(|mark| mark.step == step.id)
                .map(|mark| mark.stopped_at.clone())
                .collect(),
            signed: last.filter(|_| step.state == StepState::Signed).map(|sign| self.sign_view(sign, step)),
        }
    }

    fn sign_view(&self, sign: &SignOff, step: &Step) -> SignView {
        SignView {
            by: sign.person.clone(),
            when: self.when.at(sign.stamp.at),
            changed: changed_since(&sign.seen, &self.job, &self.findings, step),
            despite: sign.despite.clone(),
            reopened: sign.reopened.then(|| sign.why.clone()),
            checks: CheckView::of(sign, &self.checks, &self.when),
        }
    }

    fn notes_at(&self, step: Option<i64>) -> Vec<NoteView> {
        let standing = self.notes.iter().filter(|note| note.withdrawn.is_none());
        let of_step = standing.filter(|note| step.is_none() || note.step == step);
        of_step
            .map(|note| NoteView { id: note.id, text: note.text.clone(), when: self.when.stamp(&note.stamp) })
            .collect()
    }
}

impl Shop {
    pub(super) async fn look_at_job(&self, job: i64, now: Timestamp) -> Done<JobLook> {
        let mut look = self.record.look().await?;
        let loaded = JobRecord::load(&mut look, job).await?.ok_or(Refused::NotFound)?;
        let act = acts::newest_of(&mut look, job).await?;
        let findings = match self.memo.get(job, act) {
            Some(known) => known,
            None => self.memo.put(job, act, JobFindings::of(&loaded)),
        };
        Ok(JobLook {
            findings,
            steps: steps::of(&mut look, Some(job)).await?,
            calls: acceptances::of(&mut look, Some(job)).await?,
            marks: stop_marks::standing(&mut look, Some(job)).await?,
            signs: sign_offs::of(&mut look, Some(job)).await?,
            checks: second_checks::of_build(&mut look, job).await?,
            notes: notes::of_build(&mut look, job).await?,
            photos: attachments::of_build(&mut look, job).await?,
            tightened: tightenings::of_build(&mut look, job).await?,
            people: people::all(&mut look).await?,
            when: When::new(&super::shop_settings::zone(&settings::all(&mut look).await?), now),
            job: loaded,
        })
    }

    /// A job's page.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn job(&self, job: i64, now: Timestamp) -> Done<JobView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let needs = Needs::load(&mut db, job).await?;
        let promises = promises::of(&mut db, Some(job)).await?;
        Ok(JobView {
            head: look.head(),
            wants: look.job.build.wants.clone(),
            steps: look.steps.iter().map(|step| look.row(step, &needs)).collect(),
            other_sheets: SheetKey::ALL
                .into_iter()
                .filter(|key| !look.steps.iter().any(|step| step.sheets.contains(key)))
                .map(|key| (key, sheet(key).title))
                .collect(),
            tally: look.findings.tally(look.findings.begun(), &look.calls),
            undecided: look.findings.undecided,
            notes: look.notes_at(None),
            photos: look.photos_at(None),
            opened: look.when.stamp(&look.job.build.opened),
            promised: promises.last().map(|promise| PromiseView::of(promise, &look.when)),
        })
    }

    /// A step's page.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job or step.
    pub async fn step(&self, job: i64, key: &str, now: Timestamp) -> Done<StepView> {
        let look = self.look_at_job(job, now).await?;
        let step = look.steps.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        let mut db = self.record.look().await?;
        let (needs, waits) = (Needs::load(&mut db, job).await?, waits::of(&mut db, Some(job)).await?);
        let wording = look.wording();
        let all: Vec<&Step> = look.steps.iter().collect();
        let ready = |other: &&Step| {
            other.id != step.id
                && !other.state.is_done()
                && waits_for(other, &all).iter().all(|t| *t == step.title)
                && needs.of(other).next().is_none()
        };
        let findings = look.findings.of_step(&step.sheets).into_iter();
        let signed_before = look.signs.iter().rev().filter(|sign| sign.step == step.id && sign.reopened);
        Ok(StepView {
            head: look.head(),
            row: look.row(step, &needs),
            waits: look.waiting(&waits, Some(step)),
            kinds_of_wait: kinds_of_wait(),
            purpose: step.purpose.clone(),
            caution: step.caution.clone(),
            sheets: sheet_rows(&look, &step.sheets),
            open: findings.map(|finding| wording.view(finding)).filter(FindingView::is_open).collect(),
            stopped: look
                .marks
                .iter()
                .filter(|mark| mark.step == step.id)
                .map(|mark| (mark.id, mark.stopped_at.clone(), look.when.stamp(&mark.stamp)))
                .collect(),
            notes: look.notes_at(Some(step.id)),
            photos: look.photos_at(Some(step.id)),
            tightened: tightened(&look, &look.tightened, step.id),
            time: step_time(&mut *self.record.look().await?, &look, step.id).await?,
            wrenches: wrenches(&look),
            signed_before: signed_before.map(|sign| look.sign_view(sign, step)).collect(),
            people: look
                .people
                .iter()
                .filter(|person| person.works_here)
                .map(|person| (person.public_id.clone(), person.name.clone()))
                .collect(),
            next: look.steps.iter().find(ready).map(StepLink::to),
            act: step.act,
        })
    }
}
