//! What is done with a step: begun, stopped, resumed, signed, reopened, left out, done elsewhere.

use super::Shop;
use super::changed::seen_now;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::record::steps::{Step, StepState};
use crate::record::{Writing, sign_offs, steps, stop_marks};

impl Shop {
    async fn find_step(&self, job: i64, key: &str) -> Done<Step> {
        let all = steps::of(&mut *self.record.look().await?, Some(job)).await?;
        all.into_iter().find(|step| step.key == key).ok_or(Refused::NotFound)
    }

    /// The id of a step by its key, and none for an empty key.
    pub(super) async fn step_id(&self, job: i64, key: Option<&str>) -> Done<Option<i64>> {
        match key {
            Some(key) => Ok(Some(self.find_step(job, key).await?.id)),
            None => Ok(None),
        }
    }

    /// Signs a step with the name tapped; everything is kept as it is seen now.
    ///
    /// # Errors
    /// Where nobody's name is tapped, or the step is signed already.
    pub async fn sign_step(&self, doing: &Doing, job: i64, key: &str) -> Done<()> {
        let person = self.somebody(doing, "person").await?;
        let look = self.look_at_job(job, doing.at).await?;
        let step = look.steps.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        if step.state == StepState::Signed {
            return Err(Refused::Conflict { stands: format!("{} is signed already", step.title) });
        }
        let seen = seen_now(&look.job, &look.findings, step);
        let Some(mut w) = self.begin(doing, "sign step", Some(job)).await? else { return Ok(()) };
        sign_offs::insert(&mut w, job, step.id, person, &seen).await?;
        steps::set_state(&mut w, step.id, &StepState::Signed).await?;
        for mark in look.marks.iter().filter(|mark| mark.step == step.id) {
            stop_marks::resume(&mut w, job, mark.id).await?;
        }
        Ok(w.commit().await?)
    }

    /// Reopens a step that was signed, left out or done elsewhere.
    ///
    /// # Errors
    /// Where no reason is given.
    pub async fn reopen_step(&self, doing: &Doing, job: i64, key: &str, why: &str) -> Done<()> {
        if why.trim().is_empty() {
            return Err(Refused::fault("why", "say why the step is opened again"));
        }
        let step = self.find_step(job, key).await?;
        let Some(mut w) = self.begin(doing, "reopen step", Some(job)).await? else { return Ok(()) };
        sign_offs::reopen(&mut w, step.id, why.trim()).await?;
        steps::set_state(&mut w, step.id, &StepState::Begun).await?;
        Ok(w.commit().await?)
    }

    /// Marks a step as not on this job, or as done elsewhere by whom.
    ///
    /// # Errors
    /// Where it is not said by whom, or the step is signed.
    pub async fn set_step_aside(&self, doing: &Doing, job: i64, key: &str, elsewhere: Option<&str>) -> Done<()> {
        let step = self.find_step(job, key).await?;
        if step.state == StepState::Signed {
            return Err(Refused::Conflict { stands: format!("{} is signed: reopen it first", step.title) });
        }
        let state = match elsewhere.map(str::trim) {
            None => StepState::NotOnJob,
            Some("") => return Err(Refused::fault("by_whom", "say who did it")),
            Some(whom) => StepState::Elsewhere(whom.to_owned()),
        };
        let Some(mut w) = self.begin(doing, "set step aside", Some(job)).await? else { return Ok(()) };
        steps::set_state(&mut w, step.id, &state).await?;
        Ok(w.commit().await?)
    }

    /// "Stopped here: main cap 3, second torque step."
    ///
    /// # Errors
    /// Where it is not said where.
    pub async fn stop_here(&self, doing: &Doing, job: i64, key: &str, stopped_at: &str) -> Done<()> {
        let step = self.find_step(job, key).await?;
        if stopped_at.trim().is_empty() {
            let fault = FieldFault::new("stopped_at", "say where: such as “main cap 3, second torque step”");
            return Err(Refused::Faults(vec![fault]));
        }
        let Some(mut w) = self.begin(doing, "stop here", Some(job)).await? else { return Ok(()) };
        stop_marks::insert(&mut w, job, step.id, stopped_at.trim()).await?;
        begin_step(&mut w, &step).await?;
        Ok(w.commit().await?)
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

    /// The steps that a reading of a sheet begins: those that take it and can begin, unless one of them is under way.
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

    /// Takes a job up again that was closed by mistake.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn reopen_job(&self, doing: &Doing, job: i64) -> Done<()> {
        let _ = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "reopen job", Some(job)).await? else { return Ok(()) };
        crate::record::builds::reopen(&mut w, job).await?;
        Ok(w.commit().await?)
    }
}

async fn begin_step(w: &mut Writing, step: &Step) -> Done<()> {
    if step.state == StepState::Ahead {
        steps::set_state(w, step.id, &StepState::Begun).await?;
    }
    Ok(())
}
