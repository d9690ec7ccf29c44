//! What the pages of the office share: the frame of a job's page, who does what a form asks for, faults beside fields.

use crate::web::forms::sentence;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{Doing, JobHead, Refused};

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

/// Notes beside the fields of a form what to enter instead; any other refusal is a page of its own.
pub(super) fn beside_fields(form: &mut FormState, refused: Refused) -> Result<(), PageError> {
    let Refused::Faults(faults) = refused else { return Err(refused.into()) };
    for fault in faults {
        form.refuse(&fault.field, sentence(&fault.message));
    }
    Ok(())
}
