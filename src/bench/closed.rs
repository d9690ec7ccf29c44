//! The jobs that have left the shop: one line each, found by name, by what it is, or by a serial.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use axum_extra::extract::Query;
use serde::{Deserialize, Serialize};

use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{ClosedView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/closed", get(show))
}

/// What is looked for; empty for all.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    find: String,
}

#[derive(Template)]
#[template(path = "bench/closed.html")]
struct ClosedPage {
    frame: Frame,
    view: ClosedView,
    form: FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(asked): Query<Asked>) -> Result<Response, PageError> {
    let view = shop.closed(&asked.find, visit.at).await?;
    let frame = visit.bench("Closed jobs").under("Shop floor", "/");
    Ok(Html(ClosedPage { frame, view, form: FormState::of(&asked) }.render()?).into_response())
}
