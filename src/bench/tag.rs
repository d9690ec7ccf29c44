//! The tag for an engine's stand: looked at, and printed.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use super::on_job::{frame, job_address};
use crate::web::{Frame, PageError, Reached, Visit, svg};
use crate::work::{Shop, TagView};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/tag", get(show)).route("/jobs/{number}/tag.pdf", get(print))
}

#[derive(Template)]
#[template(path = "bench/tag.html")]
struct TagPage {
    frame: Frame,
    view: TagView,
    /// Where the code leads.
    address: String,
    /// Whether a phone can get there.
    by_phones: bool,
}

impl TagPage {
    fn picture(&self) -> String {
        svg::to_svg(&self.view.drawing, "tag", &|_| None)
    }
}

fn phone_page(reached: &Reached, job: i64) -> String {
    format!("{}jobs/{job}/phone", reached.address)
}

async fn show(
    visit: Visit,
    reached: Reached,
    State(shop): State<Shop>,
    Path(job): Path<i64>,
) -> Result<Response, PageError> {
    let address = phone_page(&reached, job);
    let view = shop.tag(job, &address, visit.at).await?;
    let frame = frame(visit, &view.head, "Stand tag").under(format!("Job {job}"), job_address(job));
    Ok(Html(TagPage { frame, view, address, by_phones: reached.by_phones }.render()?).into_response())
}

async fn print(
    visit: Visit,
    reached: Reached,
    State(shop): State<Shop>,
    Path(job): Path<i64>,
) -> Result<Response, PageError> {
    let pdf = shop.tag(job, &phone_page(&reached, job), visit.at).await?.pdf;
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, format!("inline; filename=\"tag-{job}.pdf\"")),
    ];
    Ok((headers, pdf).into_response())
}
