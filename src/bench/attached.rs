//! What notes and photos share: they belong to a job, or to one of its steps.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::on_job::{frame, job_address, step_address};
use crate::web::{Frame, PageError, Visit};
use crate::work::{JobHead, NoteView, PhotoView, Shop};

/// A step's key in an address, or none for the whole job.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct StepAsked {
    pub step: String,
}

impl StepAsked {
    pub fn key(&self) -> Option<&str> {
        Some(&*self.step).filter(|key| !key.is_empty())
    }
}

/// A job or a step of it, with what is attached.
pub(super) struct Attached {
    pub head: JobHead,
    /// Key and title.
    pub step: Option<(String, String)>,
    pub notes: Vec<NoteView>,
    pub photos: Vec<PhotoView>,
}

impl Attached {
    pub async fn load(shop: &Shop, job: i64, step: Option<&str>, now: Timestamp) -> Result<Self, PageError> {
        let Some(key) = step else {
            let view = shop.job(job, now).await?;
            return Ok(Self { head: view.head, step: None, notes: view.notes, photos: view.photos });
        };
        let view = shop.step(job, key, now).await?;
        let step = Some((view.row.key, view.row.title));
        Ok(Self { head: view.head, step, notes: view.notes, photos: view.photos })
    }

    /// The key of the step, or nothing.
    pub fn step_key(&self) -> &str {
        self.step.as_ref().map_or("", |(key, _)| key)
    }

    pub fn frame(&self, visit: Visit, title: &str) -> Frame {
        let job = self.head.job;
        let frame = frame(visit, &self.head, title).under(format!("Job {job}"), job_address(job));
        match &self.step {
            Some((key, title)) => frame.under(title, step_address(job, key)),
            None => frame,
        }
    }
}

/// The page of the step, or of the job.
pub(super) fn address(job: i64, step: Option<&str>) -> String {
    step.map_or_else(|| job_address(job), |step| step_address(job, step))
}
