//! What notes and photos share: they belong to a job, or to one of its steps, and are sent by a script or by hand.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::on_job::{frame, job_address, step_address};
use crate::web::{FormState, Frame, PageError, Visit};
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

    /// The page of the step, or of the job.
    pub fn address(&self) -> String {
        address(self.head.job, self.step.as_ref().map(|(key, _)| &**key))
    }

    pub fn frame(&self, visit: Visit, title: &str) -> Frame {
        let job = self.head.job;
        let frame = frame(visit, &self.head, title).under(format!("Job {job}"), job_address(job));
        match &self.step {
            Some((key, title)) => frame.under(title, step_address(job, key)).at_step(key),
            None => frame,
        }
    }
}

/// The page of the step, or of the job.
pub(super) fn address(job: i64, step: Option<&str>) -> String {
    step.map_or_else(|| job_address(job), |step| step_address(job, step))
}

/// What a script is told of what it sent.
#[derive(Serialize)]
#[serde(tag = "took", rename_all = "lowercase")]
enum Took<'a> {
    /// Kept; the page that comes next.
    Kept { next: &'a str },
    /// Not kept, and why.
    Refused { said: String },
}

/// It is kept: on to the page that comes next.
pub(super) fn kept(visit: &Visit, next: &str) -> Response {
    if visit.by_script { Json(Took::Kept { next }).into_response() } else { Redirect::to(next).into_response() }
}

/// What a script is told of a form that was refused; none where a person sent it, who is shown the page again.
pub(super) fn refused(visit: &Visit, form: &FormState) -> Option<Response> {
    let said = || form.faults().iter().filter_map(|field| field.fault.as_deref()).collect::<Vec<_>>().join(" ");
    let answer = || (StatusCode::UNPROCESSABLE_ENTITY, Json(Took::Refused { said: said() })).into_response();
    visit.by_script.then(answer)
}
