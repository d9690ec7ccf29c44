//! What the pages of the office share: the frame of a job's page, and who does what a form asks for.

use crate::web::{FormState, Frame, Visit};
use crate::work::{Doing, JobHead};

/// The frame of a page of a job, with its number and colour mark on top.
pub(super) fn frame(visit: Visit, head: &JobHead, title: &str) -> Frame {
    let job = head.job;
    let above = visit.office(title).under("Shop floor", "/").under(format!("Job {job}"), format!("/jobs/{job}"));
    above.on_job(job, &*head.title)
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
