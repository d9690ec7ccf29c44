//! Where a family differs from the map of changes: what is stale on its engines besides, or is not.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms};
use crate::work::{FamilyChangeForm, FamilyChangesView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/families/{id}/changes", get(show).post(differ))
        .route("/families/{id}/changes/{change}/withdraw", post(withdraw))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/family_changes.html")]
struct ChangesPage<'a> {
    frame: Frame,
    view: FamilyChangesView,
    form: &'a FormState,
}

impl ChangesPage<'_> {
    const STALE: [(&'static str, &'static str); 2] = [("stale", "is stale by it"), ("", "is not stale by it")];
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(family): Path<String>) -> Answer {
    page(visit, &shop, &family, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, family: &str, form: &FormState) -> Answer {
    let view = shop.family_changes(family, visit.at).await?;
    let frame = visit
        .office("What makes stale")
        .under("Shop floor", "/")
        .under("Families", "/families")
        .under(view.name.clone(), format!("/families/{family}"));
    forms::show(form, &ChangesPage { frame: frame.refused(form.is_refused()), view, form })
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct DifferForm {
    key: String,
    change: String,
    slot: String,
    stale: String,
    reason: String,
}

async fn differ(
    visit: Visit,
    State(shop): State<Shop>,
    Path(family): Path<String>,
    Form(form): Form<DifferForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    let said =
        FamilyChangeForm { change: form.change, slot: form.slot, stale: form.stale == "stale", reason: form.reason };
    match shop.differ_on_change(&doing(&visit, &state), &family, &said).await {
        Ok(()) => Ok(Redirect::to(&format!("/families/{family}/changes")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &family, &state).await
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((family, change)): Path<(String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    shop.differ_no_more(&doing(&visit, &FormState::of(&form)), &family, change).await?;
    Ok(Redirect::to(&format!("/families/{family}/changes")).into_response())
}
