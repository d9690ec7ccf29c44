//! Keeping a job as a family: what the next engine of its kind can start from.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{FamilyForm, LimitsView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/family", get(show).post(save))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct KeepForm {
    key: String,
    name: String,
    note: String,
}

#[derive(Template)]
#[template(path = "office/keep_family.html")]
struct KeepPage<'a> {
    frame: Frame,
    view: LimitsView,
    form: &'a FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(number): Path<i64>) -> Result<Response, PageError> {
    page(visit, &shop, number, &FormState::blank()).await
}

async fn save(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<KeepForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let new = FamilyForm { name: form.name, note: form.note, saw: 0 };
    match shop.keep_as_family(&doing(&visit, &state), number, &new).await {
        Ok(id) => Ok(Redirect::to(&format!("/families/{id}?kept=yes")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, number, &state).await
        }
    }
}

async fn page(visit: Visit, shop: &Shop, number: i64, form: &FormState) -> Result<Response, PageError> {
    let view = shop.limits(number, visit.at).await?;
    let frame = frame(visit, &view.head, "Keep as a family").refused(form.is_refused());
    forms::show(form, &KeepPage { frame, view, form })
}
