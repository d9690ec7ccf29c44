//! Search over everything kept in words: jobs, people, suppliers, families; each with what was found.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use axum_extra::extract::Query;
use serde::{Deserialize, Serialize};

use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{FoundView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/search", get(show))
}

/// What is looked for.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    q: String,
}

#[derive(Template)]
#[template(path = "office/search.html")]
struct SearchPage {
    frame: Frame,
    view: FoundView,
    form: FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(asked): Query<Asked>) -> Result<Response, PageError> {
    let view = shop.search(&asked.q).await?;
    let frame = visit.office("Find").under("Shop floor", "/");
    Ok(Html(SearchPage { frame, view, form: FormState::of(&asked) }.render()?).into_response())
}
