//! Fasteners tightened at a step: said for all of them at once, with the exceptions. Each form leads back to the step.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, step_address};
use super::step::{StepForm, page};
use crate::web::{FormState, PageError, Visit};
use crate::work::{Shop, TighteningForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/steps/{step}/tightened", post(tighten))
        .route("/jobs/{number}/steps/{step}/tightened/withdraw", post(withdraw))
}

type At = Path<(i64, String)>;
type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct TightenedForm {
    key: String,
    fasteners: String,
    to: String,
    steps: String,
    in_order: String,
    exceptions: String,
    gauge: String,
    lubricant: String,
}

async fn tighten(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(form): Form<TightenedForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    let said = TighteningForm {
        fasteners: form.fasteners,
        to: form.to,
        steps: form.steps,
        in_order: !form.in_order.is_empty(),
        exceptions: form.exceptions,
        gauge: form.gauge,
        lubricant: form.lubricant,
    };
    match shop.tighten(&doing(&visit, &state), job, &step, &said).await {
        Ok(()) => Ok(Redirect::to(&format!("{}#tightened", step_address(job, &step))).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &step, Some((StepForm::Tightened, state))).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct WithdrawForm {
    key: String,
    id: i64,
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(form): Form<WithdrawForm>,
) -> Answer {
    shop.withdraw_tightening(&doing(&visit, &FormState::of(&form)), job, form.id).await?;
    Ok(Redirect::to(&format!("{}#tightened", step_address(job, &step))).into_response())
}
