//! What can go ahead now, over every engine in the shop, the most urgent first; and why all else waits.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use crate::web::{Frame, PageError, Visit};
use crate::work::{ReadyView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/ready", get(show))
}

#[derive(Template)]
#[template(path = "bench/ready.html")]
struct ReadyPage {
    frame: Frame,
    view: ReadyView,
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let view = shop.ready(visit.at).await?;
    let frame = visit.bench("Ready now").under("Shop floor", "/");
    Ok(Html(ReadyPage { frame, view }.render()?).into_response())
}
