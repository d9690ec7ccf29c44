//! What a step waits for: said on its page, and ended in one tap.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, job_address, step_address};
use super::step::{StepForm, page};
use crate::web::{FormState, PageError, Visit};
use crate::work::{Shop, WaitForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/steps/{step}/waits", post(begin))
        .route("/jobs/{number}/waits/{wait}/end", post(end))
}

type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Typed {
    key: String,
    why: String,
    words: String,
    since: String,
    expected: String,
}

async fn begin(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): Path<(i64, String)>,
    Form(typed): Form<Typed>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let Typed { why, words, since, expected, .. } = typed;
    let form = WaitForm { step: step.clone(), why, words, since, expected };
    match shop.begin_waiting(&doing(&visit, &state), job, &form).await {
        Ok(()) => Ok(Redirect::to(&format!("{}#waits", step_address(job, &step))).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &step, Some((StepForm::Wait, state))).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct EndForm {
    key: String,
    /// The step whose page it was ended on; empty: the plan's.
    step: String,
}

async fn end(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, wait)): Path<(i64, i64)>,
    Form(form): Form<EndForm>,
) -> Answer {
    shop.end_waiting(&doing(&visit, &FormState::of(&form)), job, wait).await?;
    let plan = || format!("{}/plan#waits", job_address(job));
    let back = if form.step.is_empty() { plan() } else { format!("{}#waits", step_address(job, &form.step)) };
    Ok(Redirect::to(&back).into_response())
}
