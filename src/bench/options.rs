//! What can be chosen on a sheet: shells from the shelf, pistons for bores. Nothing is kept here.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use axum_extra::extract::Query;
use serde::{Deserialize, Serialize};

use super::on_job::{frame, job_address};
use super::sheet::{sheet_address, sheet_of};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{OptionsView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}/options", get(show))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    /// What was typed for it, such as the walls of shells on the shelf.
    typed: String,
}

#[derive(Template)]
#[template(path = "bench/options.html")]
struct OptionsPage {
    frame: Frame,
    view: OptionsView,
    address: String,
    form: FormState,
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let key = sheet_of(&sheet)?;
    let view = shop.options(job, key, &asked.typed, visit.at).await?;
    let page = OptionsPage {
        frame: frame(visit, &view.head, view.title)
            .under(format!("Job {job}"), job_address(job))
            .under(view.sheet_title, sheet_address(job, key)),
        address: sheet_address(job, key),
        form: FormState::of(&asked),
        view,
    };
    Ok(Html(page.render()?).into_response())
}
