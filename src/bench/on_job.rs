//! What the pages of a job share: the frame, and who does what a form asks for.

use crate::web::{FormState, Frame, Visit};
use crate::work::{Doing, JobHead};

/// The frame of a page of a job, with its number and colour mark on top.
pub(super) fn frame(visit: Visit, head: &JobHead, title: &str) -> Frame {
    visit.bench(title).under("Shop floor", "/").on_job(head.job, &*head.title)
}

/// Whoever is at the tablet does what this form asks for, once.
pub(super) fn doing(visit: &Visit, form: &FormState) -> Doing {
    Doing {
        person: visit.who.as_ref().map(|who| who.id.clone()),
        device: visit.device.clone(),
        key: form.key().to_owned(),
        at: visit.at,
    }
}

/// The address of a job's page.
pub(super) fn job_address(job: i64) -> String {
    format!("/jobs/{job}")
}

/// The address of a step's page.
pub(super) fn step_address(job: i64, step: &str) -> String {
    format!("/jobs/{job}/steps/{step}")
}
