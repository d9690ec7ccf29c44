//! A job: what he wants, its steps and what each waits for, notes and photos.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use super::on_job::frame;
use super::{shown, step_state};
use crate::web::{Frame, PageError, Visit};
use crate::work::{JobView, Mark, Shop, StepRow, StepState};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}", get(show))
}

#[derive(Template)]
#[template(path = "bench/job.html")]
struct JobPage {
    frame: Frame,
    view: JobView,
}

impl JobPage {
    /// The step to go on with: left half done, begun, or ready to begin.
    fn go_on(&self) -> Option<&StepRow> {
        let steps = &self.view.steps;
        let left = steps.iter().find(|row| !row.stopped.is_empty());
        let begun = || steps.iter().find(|row| step_state::word(row) == "begun");
        left.or_else(begun).or_else(|| steps.iter().find(|row| step_state::is_open(row)))
    }

    fn done(&self) -> usize {
        self.view.steps.iter().filter(|row| row.state.is_done()).count()
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(number): Path<i64>) -> Result<Response, PageError> {
    let view = shop.job(number, visit.at).await?;
    let frame = frame(visit, &view.head, &format!("Job {number}"));
    Ok(Html(JobPage { frame, view }.render()?).into_response())
}
