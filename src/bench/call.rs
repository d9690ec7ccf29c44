//! "My call, because …": a finding that is out, on the line or missing, accepted with a reason; or the call taken back.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame, job_address, step_address};
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{FindingKey, FindingView, NewCall, Shop, home_of};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/steps/{step}/accept", get(show).post(accept))
        .route("/jobs/{number}/steps/{step}/accept/withdraw", post(take_back))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct CallForm {
    key: String,
    /// The finding's key.
    finding: String,
    because: String,
    for_owner: String,
}

#[derive(Template)]
#[template(path = "bench/call.html")]
struct CallPage<'a> {
    frame: Frame,
    step: &'a str,
    finding: FindingView,
    /// Where it is read: sheet and place.
    read_at: Option<String>,
    form: &'a FormState,
}

impl CallPage<'_> {
    fn job(&self) -> i64 {
        self.frame.job.as_ref().map_or(0, |job| job.number)
    }
}

type At = Path<(i64, String)>;
type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Query(form): Query<CallForm>) -> Answer {
    page(visit, &shop, job, &step, &FormState::of(&form)).await
}

async fn accept(visit: Visit, State(shop): State<Shop>, Path((job, step)): At, Form(form): Form<CallForm>) -> Answer {
    let mut state = FormState::of(&form);
    let key = FindingKey::parse(&form.finding);
    let call = NewCall { because: form.because, for_owner: form.for_owner };
    match shop.accept(&doing(&visit, &state), job, &key, &call).await {
        Ok(()) => Ok(Redirect::to(&step_address(job, &step)).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &step, &state).await
        }
    }
}

async fn take_back(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(form): Form<CallForm>,
) -> Answer {
    let key = FindingKey::parse(&form.finding);
    shop.take_call_back(&doing(&visit, &FormState::of(&form)), job, &key).await?;
    Ok(Redirect::to(&step_address(job, &step)).into_response())
}

/// The page of one finding; one that is not open in this step is not found.
async fn page(visit: Visit, shop: &Shop, job: i64, step: &str, form: &FormState) -> Answer {
    let view = shop.step(job, step, visit.at).await?;
    let key = FindingKey::parse(form.value("finding"));
    let finding = view.open.into_iter().find(|finding| finding.key == key).ok_or(PageError::NotFound)?;
    let read_at = home_of(&key.feature).map(|sheet| format!("/jobs/{job}/sheets/{}?at={}", sheet.key(), key.place));
    let frame = frame(visit, &view.head, "My call")
        .under(format!("Job {job}"), job_address(job))
        .under(view.row.title, step_address(job, step))
        .at_step(step)
        .refused(form.is_refused());
    forms::show(form, &CallPage { frame, step, finding, read_at, form })
}
