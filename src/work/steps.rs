//! What is done with a step: begun, stopped, resumed, signed, reopened, left out, done elsewhere.

use super::Shop;
use super::changed::seen_now;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::record::steps::{Step, StepState};
use crate::record::{Connection, Writing, acts, sign_offs, steps, stop_marks};

const REOPEN: &str = "reopen step";

impl Shop {
    /// The id of a step by its key, and none for an empty key.
    pub(super) async fn step_id(&self, job: i64, key: Option<&str>) -> Done<Option<i64>> {
        match key {
            Some(key) => Ok(Some(find_step(&mut *self.record.look().await?, job, key).await?.id)),
            None => Ok(None),
        }
    }

    /// Signs a step with the name tapped; everything is kept as it is seen now. `saw` is the act that had last changed the
    /// step when the form was shown, none where none was; `despite` says why where it rests on stale readings.
    ///
    /// # Errors
    /// Where nobody's name is tapped, it is stale and nothing is said to that, or a conflict where somebody else was quicker.
    pub async fn sign_step(&self, doing: &Doing, job: i64, key: &str, saw: Option<i64>, despite: &str) -> Done<()> {
        let person = self.somebody(doing, "person").await?;
        let look = self.look_at_job(job, doing.at).await?;
        let step = look.steps.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        let findings = look.findings.of_step(&step.sheets);
        let stale = findings.into_iter().filter(|finding| look.findings.stale.is_stale(finding)).count();
        let despite = if stale > 0 { despite.trim() } else { "" };
        if stale > 0 && despite.is_empty() {
            let what = "say why it is signed although figures are stale, or read them anew first";
            return Err(Refused::fault("despite", what));
        }
        let seen = seen_now(&look.job, &look.findings, step);
        let Some((mut w, step)) = self.begin_with_open(doing, "sign step", job, key, saw).await? else {
            return Ok(());
        };
        sign_offs::insert(&mut w, job, step.id, person, &seen, despite).await?;
        steps::set_state(&mut w, step.id, &StepState::Signed).await?;
        for mark in look.marks.iter().filter(|mark| mark.step == step.id) {
            stop_marks::resume(&mut w, job, mark.id).await?;
        }
        Ok(w.commit().await?)
    }

    /// Reopens a step that was signed, left out or done elsewhere; `saw` as in signing.
    ///
    /// # Errors
    /// Where no reason is given, or a conflict where it is open or was changed since.
    pub async fn reopen_step(&self, doing: &Doing, job: i64, key: &str, saw: Option<i64>, why: &str) -> Done<()> {
        if why.trim().is_empty() {
            return Err(Refused::fault("why", "say why the step is opened again"));
        }
        find_step(&mut *self.record.look().await?, job, key).await?;
        let Some(mut w) = self.begin(doing, REOPEN, Some(job)).await? else { return Ok(()) };
        let step = find_step(&mut w, job, key).await?;
        if !step.state.is_done() || saw.is_some_and(|saw| saw != step.act) {
            return Err(as_it_stands(&mut w, &step).await?);
        }
        sign_offs::reopen(&mut w, step.id, why.trim()).await?;
        steps::set_state(&mut w, step.id, &StepState::Begun).await?;
        Ok(w.commit().await?)
    }

    /// Marks a step as not on this job, or as done elsewhere by whom; `saw` as in signing.
    ///
    /// # Errors
    /// Where it is not said by whom, or a conflict where somebody else was quicker.
    pub async fn set_step_aside(
        &self,
        doing: &Doing,
        job: i64,
        key: &str,
        saw: Option<i64>,
        elsewhere: Option<&str>,
    ) -> Done<()> {
        let state = match elsewhere.map(str::trim) {
            None => StepState::NotOnJob,
            Some("") => return Err(Refused::fault("by_whom", "say who did it")),
            Some(whom) => StepState::Elsewhere(whom.to_owned()),
        };
        let Some((mut w, step)) = self.begin_with_open(doing, "set step aside", job, key, saw).await? else {
            return Ok(());
        };
        steps::set_state(&mut w, step.id, &state).await?;
        Ok(w.commit().await?)
    }

    /// "Stopped here: main cap 3, second torque step."
    ///
    /// # Errors
    /// Where it is not said where, or a conflict where the step is not open any more.
    pub async fn stop_here(&self, doing: &Doing, job: i64, key: &str, stopped_at: &str) -> Done<()> {
        if stopped_at.trim().is_empty() {
            let fault = FieldFault::new("stopped_at", "say where: such as “main cap 3, second torque step”");
            return Err(Refused::Faults(vec![fault]));
        }
        let Some((mut w, step)) = self.begin_with_open(doing, "stop here", job, key, None).await? else {
            return Ok(());
        };
        stop_marks::insert(&mut w, job, step.id, stopped_at.trim()).await?;
        begin_step(&mut w, &step).await?;
        Ok(w.commit().await?)
    }

    /// Begins what is done with a step that was shown open, none where it was done already; a conflict where the step was
    /// closed since, or closed and opened again. One that was only begun since may be gone on with: who takes a reading
    /// comes back to the page as it was.
    async fn begin_with_open(
        &self,
        doing: &Doing,
        what: &str,
        job: i64,
        key: &str,
        saw: Option<i64>,
    ) -> Done<Option<(Writing, Step)>> {
        find_step(&mut *self.record.look().await?, job, key).await?;
        let Some(mut w) = self.begin(doing, what, Some(job)).await? else { return Ok(None) };
        let step = find_step(&mut w, job, key).await?;
        let changed = saw.is_some_and(|saw| saw != step.act);
        if step.state.is_done() || changed && acts::what(&mut w, step.act).await?.as_deref() == Some(REOPEN) {
            return Err(as_it_stands(&mut w, &step).await?);
        }
        Ok(Some((w, step)))
    }

    /// Takes up work that was left half done.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn resume(&self, doing: &Doing, job: i64, mark: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "resume", Some(job)).await? else { return Ok(()) };
        if !stop_marks::resume(&mut w, job, mark).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// The steps that a reading of a sheet begins: those that take it and whose predecessors are done, unless one of them is
    /// under way. A part that is not here or something awaited keeps no step from beginning: who has read it has begun.
    pub(super) async fn steps_with(&self, job: i64, sheet: crate::engine::SheetKey) -> Done<Vec<Step>> {
        let all = steps::of(&mut *self.record.look().await?, Some(job)).await?;
        let list: Vec<&Step> = all.iter().collect();
        if list.iter().any(|step| step.sheets.contains(&sheet) && step.state == StepState::Begun) {
            return Ok(Vec::new());
        }
        let can_begin = |step: &&Step| {
            step.sheets.contains(&sheet)
                && step.state == StepState::Ahead
                && super::floor::waits_for(step, &list).is_empty()
        };
        Ok(list.iter().copied().filter(can_begin).cloned().collect())
    }

    /// Marks the first step that a reading of this sheet belongs to as begun.
    pub(super) async fn begin_for_sheet(&self, w: &mut Writing, steps: &[Step]) -> Done<()> {
        if let Some(step) = steps.first() {
            begin_step(w, step).await?;
        }
        Ok(())
    }

    pub(super) async fn begin_step_by_id(&self, w: &mut Writing, job: i64, id: Option<i64>) -> Done<()> {
        let Some(id) = id else { return Ok(()) };
        if let Some(step) = steps::of(w, Some(job)).await?.iter().find(|step| step.id == id) {
            begin_step(w, step).await?;
        }
        Ok(())
    }

    /// Lets an engine leave the shop: its job is closed.
    ///
    /// # Errors
    /// Where the record cannot be written.
    pub async fn close_job(&self, doing: &Doing, job: i64) -> Done<()> {
        let _ = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "close job", Some(job)).await? else { return Ok(()) };
        crate::record::builds::close(&mut w, job).await?;
        Ok(w.commit().await?)
    }
}

async fn begin_step(w: &mut Writing, step: &Step) -> Done<()> {
    if step.state == StepState::Ahead {
        steps::set_state(w, step.id, &StepState::Begun).await?;
    }
    Ok(())
}

async fn find_step(db: &mut Connection, job: i64, key: &str) -> Done<Step> {
    steps::of(db, Some(job)).await?.into_iter().find(|step| step.key == key).ok_or(Refused::NotFound)
}

/// The conflict with a step as it stands.
async fn as_it_stands(db: &mut Connection, step: &Step) -> Done<Refused> {
    let stands = match &step.state {
        StepState::Signed => {
            let signs = sign_offs::of(db, Some(step.build)).await?;
            let by = signs.iter().rev().find(|sign| sign.step == step.id).map_or("", |sign| &sign.person);
            format!("signed already by {by}: reopen it first")
        }
        StepState::Elsewhere(whom) => format!("done elsewhere by {whom}: open it again first"),
        StepState::NotOnJob => "not on this job: open it again first".to_owned(),
        StepState::Ahead | StepState::Begun => "open again".to_owned(),
    };
    Ok(Refused::Conflict { stands: format!("{} is {stands}", step.title) })
}
