//! `/money`: what every job is quoted, invoiced and paid, and whose answer or money is awaited.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use crate::web::{Frame, PageError, Visit};
use crate::work::{GlanceView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/money", get(show)).route("/money/invoices.csv", get(for_the_books))
}

#[derive(Template)]
#[template(path = "office/money.html")]
struct MoneyPage {
    frame: Frame,
    view: GlanceView,
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let view = shop.money(visit.at).await?;
    Ok(Html(MoneyPage { frame: visit.office("Money").under("Shop floor", "/"), view }.render()?).into_response())
}

async fn for_the_books(State(shop): State<Shop>) -> Result<Response, PageError> {
    Ok(rows(shop.invoices_csv().await?, "invoices"))
}

/// Comma-separated values to keep under this name.
pub(super) fn rows(csv: String, name: &str) -> Response {
    let about = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}.csv\"")),
    ];
    (about, csv).into_response()
}
