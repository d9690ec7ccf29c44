//! What was said of a job's readings and fasteners as a whole, as it goes out in its document.

use super::job_parts::Stamped;
use crate::engine::{Place, SlotFeature};
use crate::metrology::{Expansion, Material};
use crate::record::Stamp;
use crate::record::rechecks::Recheck;
use crate::record::set_answers::SetAnswer;
use crate::record::tightenings::{Exception, TightenedTo, Tightening};
use crate::work::JobRecord;
use serde::Serialize;

/// Fasteners tightened. Figures are in N·m, rad or m.
#[derive(Serialize)]
pub(super) struct TighteningOut {
    step: Option<String>,
    fasteners: String,
    typed: String,
    steps: Vec<TightenedTo>,
    step_count: Option<i64>,
    in_order: bool,
    exceptions: Vec<Exception>,
    gauge: Option<String>,
    lubricant: String,
    said: Stamped,
    withdrawn: Option<Stamped>,
}

impl TighteningOut {
    pub fn of(job: &JobRecord, step: Option<String>, one: &Tightening) -> Self {
        let said = &one.said;
        Self {
            step,
            fasteners: said.fasteners.clone(),
            typed: said.typed.clone(),
            steps: said.steps.clone(),
            step_count: said.step_count,
            in_order: said.in_order,
            exceptions: said.exceptions.clone(),
            gauge: said.gauge.and_then(|id| job.gauge(id)).map(|gauge| gauge.public_id.clone()),
            lubricant: said.lubricant.clone(),
            said: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn.as_ref().map(Stamped::from),
        }
    }
}

/// What was checked again without a new figure; rounds by their ids.
#[derive(Serialize)]
pub(super) struct RecheckOut {
    round: i64,
    earlier: i64,
    place: Option<Place>,
    said: Stamped,
    withdrawn: Option<Stamped>,
}

impl From<&Recheck> for RecheckOut {
    fn from(recheck: &Recheck) -> Self {
        Self {
            round: recheck.round,
            earlier: recheck.earlier,
            place: recheck.place,
            said: Stamped::from(&recheck.stamp),
            withdrawn: recheck.withdrawn.as_ref().map(Stamped::from),
        }
    }
}

/// A question about a whole set, answered: it is right as it was read.
#[derive(Serialize)]
pub(super) struct SetAnswerOut {
    round: i64,
    doubt: String,
    question: String,
    answered: Stamped,
}

impl From<&(SetAnswer, String, Stamp)> for SetAnswerOut {
    fn from((answer, question, stamp): &(SetAnswer, String, Stamp)) -> Self {
        let (round, doubt) = (answer.round, answer.doubt.clone());
        Self { round, doubt, question: question.clone(), answered: Stamped::from(stamp) }
    }
}

/// That a feature is read twice from then on, or no more.
#[derive(Serialize)]
pub(super) struct SecondReadingOut {
    feature: String,
    wanted: bool,
    said: Stamped,
}

impl From<&(SlotFeature, bool, Stamp)> for SecondReadingOut {
    fn from((feature, wanted, stamp): &(SlotFeature, bool, Stamp)) -> Self {
        Self { feature: feature.text(), wanted: *wanted, said: Stamped::from(stamp) }
    }
}

/// How the shop says a material expands, per K.
#[derive(Serialize)]
pub(super) struct ExpansionOut {
    material: Material,
    per_kelvin: f64,
    low: f64,
    high: f64,
    source: String,
}

impl From<(&Material, &Expansion)> for ExpansionOut {
    fn from((material, expansion): (&Material, &Expansion)) -> Self {
        Self {
            material: *material,
            per_kelvin: expansion.per_kelvin,
            low: expansion.span.0,
            high: expansion.span.1,
            source: expansion.source.to_string(),
        }
    }
}
