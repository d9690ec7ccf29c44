//! `/families/{id}/hours`: quoted against worked hours of a family, step by step over its jobs.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use crate::web::{Frame, PageError, Visit, svg};
use crate::work::{FamilyHoursView, PastStep, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/families/{id}/hours", get(show))
}

#[derive(Template)]
#[template(path = "office/family_hours.html")]
struct FamilyHoursPage {
    frame: Frame,
    view: FamilyHoursView,
}

impl FamilyHoursPage {
    fn picture(step: &PastStep) -> Option<String> {
        step.drawing.as_ref().map(|drawing| svg::to_svg(drawing, &format!("hours-{}", step.key), &|_| None))
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>) -> Result<Response, PageError> {
    let view = shop.family_hours(&id).await?;
    let frame = visit.office("Hours").under("Shop floor", "/").under("Families", "/families");
    let frame = frame.under(&*view.name, format!("/families/{id}"));
    Ok(Html(FamilyHoursPage { frame, view }.render()?).into_response())
}
