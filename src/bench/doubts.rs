//! What is asked of a whole set of readings: answered in one tap, and not asked again.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::sheet::{sheet_address, sheet_of};
use crate::web::{FormState, PageError, Visit};
use crate::work::Shop;

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}/rounds/{round}/answer", post(answer))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct AnswerForm {
    key: String,
    /// What was asked of which set.
    doubt: String,
}

async fn answer(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet, round)): Path<(i64, String, i64)>,
    Form(form): Form<AnswerForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    shop.answer_doubt(&doing(&visit, &FormState::of(&form)), job, sheet, round, &form.doubt).await?;
    Ok(Redirect::to(&format!("{}?round={round}", sheet_address(job, sheet))).into_response())
}
