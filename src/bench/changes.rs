//! What was changed on a job after readings were taken, what is stale by it, and "re-checked, same" in one tap.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame, job_address};
use super::sheet::{sheet_address, sheet_of};
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms};
use crate::work::{ChangeForm, ChangesView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/changes", get(show).post(note))
        .route("/jobs/{number}/changes/{change}/checked", post(check))
        .route("/jobs/{number}/changes/{change}/withdraw", post(withdraw))
        .route("/jobs/{number}/checks/{check}/withdraw", post(withdraw_check))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "bench/changes.html")]
struct ChangesPage<'a> {
    frame: Frame,
    view: ChangesView,
    form: &'a FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    page(visit, &shop, job, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.changes(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Changes").under(format!("Job {job}"), job_address(job));
    forms::show(form, &ChangesPage { frame: frame.refused(form.is_refused()), view, form })
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct NoteForm {
    key: String,
    change: String,
    place: String,
    part: String,
    words: String,
}

async fn note(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(form): Form<NoteForm>) -> Answer {
    let mut state = FormState::of(&form);
    let said = ChangeForm { change: form.change, place: form.place, part: form.part, words: form.words };
    match shop.note_change(&doing(&visit, &state), job, &said).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/changes")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &state).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct CheckForm {
    key: String,
    sheet: String,
    /// Whether to go back to the sheet's page.
    on_sheet: String,
}

async fn check(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, change)): Path<(i64, i64)>,
    Form(form): Form<CheckForm>,
) -> Answer {
    let sheet = sheet_of(&form.sheet)?;
    shop.check_after_change(&doing(&visit, &FormState::of(&form)), job, change, sheet).await?;
    let back = if form.on_sheet.is_empty() { format!("/jobs/{job}/changes") } else { sheet_address(job, sheet) };
    Ok(Redirect::to(&back).into_response())
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, change)): Path<(i64, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    shop.withdraw_change(&doing(&visit, &FormState::of(&form)), job, change).await?;
    Ok(Redirect::to(&format!("/jobs/{job}/changes")).into_response())
}

async fn withdraw_check(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, check)): Path<(i64, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    shop.withdraw_check(&doing(&visit, &FormState::of(&form)), job, check).await?;
    Ok(Redirect::to(&format!("/jobs/{job}/changes")).into_response())
}
