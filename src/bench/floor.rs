//! The shop floor at a glance: every engine in the shop, as on a wall list.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use super::on_job::{job_address, step_address};
use super::shown;
use crate::web::{Frame, PageError, Visit};
use crate::work::{FloorRow, FloorView, Mark, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/", get(show))
}

#[derive(Template)]
#[template(path = "bench/floor.html")]
struct FloorPage {
    frame: Frame,
    view: FloorView,
    carry_on: Option<CarryOn>,
}

/// Where this tablet left off.
struct CarryOn {
    words: String,
    address: String,
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let view = shop.floor(&visit.device, visit.at).await?;
    let row = view.carry_on.and_then(|job| view.rows.iter().find(|row| row.job == job));
    let carry_on = row.map(carry_on);
    Ok(Html(FloorPage { frame: visit.bench("Shop floor"), view, carry_on }.render()?).into_response())
}

/// At the step that was left half done, or the only one begun; else at the job.
fn carry_on(row: &FloorRow) -> CarryOn {
    let only = if row.at.len() == 1 { row.at.first() } else { None };
    match row.stopped.last().map(|(step, _)| step).or(only) {
        Some(step) => CarryOn {
            words: format!("Carry on with job {}: {}", row.job, step.title),
            address: step_address(row.job, &step.key),
        },
        None => CarryOn { words: format!("Carry on with job {}", row.job), address: job_address(row.job) },
    }
}
