//! Engine families: the list of those kept, and a family's own page with its name and what is odd about it.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::limits::SecondForm;
use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{FamilyForm, FamilyPage, FamilyView, Refused, Shop, WorkingUnit};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/families", get(list))
        .route("/families/{id}", get(show).post(save))
        .route("/families/{id}/second", post(read_twice))
}

#[derive(Template)]
#[template(path = "office/families.html")]
struct FamiliesPage {
    frame: Frame,
    families: Vec<FamilyView>,
}

/// Whether the page follows a save.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    kept: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ChangeForm {
    key: String,
    saw: i64,
    name: String,
    note: String,
}

#[derive(Template)]
#[template(path = "office/family.html")]
struct OneFamilyPage<'a> {
    frame: Frame,
    view: FamilyPage,
    saw: i64,
    form: &'a FormState,
    quicker: Option<Quicker>,
    kept: bool,
}

async fn list(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let families = shop.families().await?;
    let frame = visit.office("Families").under("Shop floor", "/");
    Ok(Html(FamiliesPage { frame, families }.render()?).into_response())
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Query(shown): Query<Shown>,
) -> Result<Response, PageError> {
    let view = shop.family(&id).await?;
    let stands = [("name", &view.family.name), ("note", &view.family.note)];
    let form = FormState::from_pairs(stands.map(|(name, text)| (name.to_owned(), text.clone())));
    let saw = view.saw;
    page(visit, view, saw, &form, None, !shown.kept.is_empty())
}

async fn save(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(form): Form<ChangeForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let new = FamilyForm { name: form.name, note: form.note, saw: form.saw };
    match shop.change_family(&doing(&visit, &state), &id, &new).await {
        Ok(()) => return Ok(Redirect::to(&format!("/families/{id}?kept=yes")).into_response()),
        Err(Refused::Conflict { .. }) => {
            let view = shop.family(&id).await?;
            let stands = [("name", "Name", &view.family.name), ("note", "What is odd about it", &view.family.note)];
            let stands = stands.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone()));
            let (quicker, saw) = (Quicker::of(&state, stands), view.saw);
            return page(visit, view, saw, &state, Some(quicker), false);
        }
        Err(refused) => state.refuse_each(refused.faults()?),
    }
    let view = shop.family(&id).await?;
    page(visit, view, form.saw, &state, None, false)
}

async fn read_twice(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(form): Form<SecondForm>,
) -> Result<Response, PageError> {
    shop.read_twice_in_family(&doing(&visit, &form.state()), &id, &form.second).await?;
    Ok(Redirect::to(&format!("/families/{id}?kept=yes#second")).into_response())
}

fn page(
    visit: Visit,
    view: FamilyPage,
    saw: i64,
    form: &FormState,
    quicker: Option<Quicker>,
    kept: bool,
) -> Result<Response, PageError> {
    let frame = visit.office(view.family.name.as_str()).under("Shop floor", "/").under("Families", "/families");
    let page = OneFamilyPage { frame: frame.refused(form.is_refused()), view, saw, form, quicker, kept };
    quicker::show(form, page.quicker.as_ref(), &page)
}

impl FamiliesPage {
    fn unit(unit: &WorkingUnit) -> &'static str {
        unit_word(unit)
    }
}

impl OneFamilyPage<'_> {
    fn second_address(&self) -> String {
        format!("/families/{}/second", self.view.family.id)
    }

    fn unit(&self) -> &'static str {
        unit_word(&self.view.family.unit)
    }
}

const fn unit_word(unit: &WorkingUnit) -> &'static str {
    match unit {
        WorkingUnit::Inch => "inch",
        WorkingUnit::Millimetre => "mm",
    }
}
