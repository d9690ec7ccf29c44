//! What is done on a step's page: signed, stopped, resumed, reopened, set aside. Each leads back to the step.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, step_address};
use super::refused::conflict;
use super::step::{StepForm, page};
use crate::web::{FormState, PageError, Visit};
use crate::work::{Doing, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/steps/{step}/sign", post(sign))
        .route("/jobs/{number}/steps/{step}/check", post(check))
        .route("/jobs/{number}/steps/{step}/stop", post(stop))
        .route("/jobs/{number}/steps/{step}/resume", post(resume))
        .route("/jobs/{number}/steps/{step}/reopen", post(reopen))
        .route("/jobs/{number}/steps/{step}/aside", post(set_aside))
}

/// Which step of which job.
type At = Path<(i64, String)>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct SignForm {
    key: String,
    /// The act that had last changed the step when it was shown.
    saw: Option<i64>,
    /// Public id of the name tapped.
    person: String,
    /// Why it is signed though it rests on stale readings.
    despite: String,
}

impl SignForm {
    /// Done by the name tapped, whoever is at the tablet.
    fn doing(&self, visit: &Visit, state: &FormState) -> Doing {
        let person = Some(self.person.clone()).filter(|person| !person.is_empty());
        Doing { person, ..doing(visit, state) }
    }
}

async fn sign(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<SignForm>) -> Answer {
    let state = FormState::of(&form);
    let done = shop.sign_step(&form.doing(&visit, &state), job, &step, form.saw, &form.despite).await;
    let yours = "Your name under this step".to_owned();
    answer(visit, &shop, job, &step, done, (StepForm::Sign, state), yours).await
}

async fn check(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<SignForm>) -> Answer {
    let state = FormState::of(&form);
    let done = shop.check_again(&form.doing(&visit, &state), job, &step).await;
    let yours = "Your second check of this step".to_owned();
    answer(visit, &shop, job, &step, done, (StepForm::Check, state), yours).await
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct StopForm {
    key: String,
    /// "main cap 3, second torque step".
    stopped_at: String,
}

async fn stop(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<StopForm>) -> Answer {
    let state = FormState::of(&form);
    let done = shop.stop_here(&doing(&visit, &state), job, &step, &form.stopped_at).await;
    answer(visit, &shop, job, &step, done, (StepForm::Stop, state), form.stopped_at).await
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ResumeForm {
    key: String,
    mark: i64,
}

async fn resume(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<ResumeForm>) -> Answer {
    shop.resume(&doing(&visit, &FormState::of(&form)), job, form.mark).await?;
    Ok(Redirect::to(&step_address(job, &step)).into_response())
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ReopenForm {
    key: String,
    saw: Option<i64>,
    why: String,
}

async fn reopen(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<ReopenForm>) -> Answer {
    let state = FormState::of(&form);
    let done = shop.reopen_step(&doing(&visit, &state), job, &step, form.saw, &form.why).await;
    answer(visit, &shop, job, &step, done, (StepForm::Reopen, state), form.why).await
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct AsideForm {
    key: String,
    saw: Option<i64>,
    /// `elsewhere`; otherwise the step is not on this job.
    done: String,
    by_whom: String,
}

async fn set_aside(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(form): Form<AsideForm>,
) -> Answer {
    let state = FormState::of(&form);
    let elsewhere = (form.done == "elsewhere").then_some(&*form.by_whom);
    let done = shop.set_step_aside(&doing(&visit, &state), job, &step, form.saw, elsewhere).await;
    let yours = elsewhere.map_or_else(|| "Not on this job".to_owned(), |whom| format!("Done elsewhere by {whom}"));
    answer(visit, &shop, job, &step, done, (StepForm::Elsewhere, state), yours).await
}

type Answer = Result<Response, PageError>;

/// Back to the step; refused, the step's page with the form as typed.
async fn answer(
    visit: Visit,
    shop: &Shop,
    job: i64,
    step: &str,
    done: Result<(), Refused>,
    (which, mut state): (StepForm, FormState),
    yours: String,
) -> Answer {
    match done {
        Ok(()) => Ok(Redirect::to(&step_address(job, step)).into_response()),
        Err(Refused::Conflict { stands }) => Err(conflict("this step", stands, yours, step_address(job, step))),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop, job, step, Some((which, state))).await
        }
    }
}
