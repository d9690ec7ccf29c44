//! What can be chosen on a sheet: shells from the shelf, pistons for bores; and the choice accepted, with its reason.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame, job_address};
use super::sheet::{sheet_address, sheet_of};
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms};
use crate::work::{OptionsView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/sheets/{sheet}/options", get(show).post(decide))
        .route("/jobs/{number}/sheets/{sheet}/decisions/{decision}/withdraw", post(withdraw))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    /// What was typed for it, such as the walls of shells on the shelf.
    typed: String,
}

#[derive(Template)]
#[template(path = "bench/options.html")]
struct OptionsPage<'a> {
    frame: Frame,
    view: OptionsView,
    address: String,
    form: &'a FormState,
}

type At = Path<(i64, String)>;
type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, sheet)): At, Query(asked): Query<Asked>) -> Answer {
    page(visit, &shop, job, &sheet, &FormState::of(&asked)).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, sheet: &str, form: &FormState) -> Answer {
    let key = sheet_of(sheet)?;
    let view = shop.options(job, key, form.value("typed"), visit.at).await?;
    let frame = frame(visit, &view.head, view.title)
        .under(format!("Job {job}"), job_address(job))
        .under(view.sheet_title, sheet_address(job, key))
        .refused(form.is_refused());
    forms::show(form, &OptionsPage { frame, address: sheet_address(job, key), form, view })
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct DecideForm {
    key: String,
    typed: String,
    /// The title of the choice.
    choice: String,
    reason: String,
}

async fn decide(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): At,
    Form(form): Form<DecideForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    let key = sheet_of(&sheet)?;
    match shop.decide(&doing(&visit, &state), job, key, &form.typed, &form.choice, &form.reason).await {
        Ok(()) => Ok(Redirect::to(&sheet_address(job, key)).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &sheet, &state).await
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet, decision)): Path<(i64, String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let key = sheet_of(&sheet)?;
    shop.withdraw_decision(&doing(&visit, &FormState::of(&form)), job, decision).await?;
    Ok(Redirect::to(&format!("{}/options", sheet_address(job, key))).into_response())
}
