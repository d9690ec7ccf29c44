//! The repeatability studies of a gauge: the list, and a form to plan one.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;

use super::on_job::doing;
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{PersonView, STUDY_UNITS, Shop, StudiesView, StudyForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop/gauges/{id}/studies", get(show).post(plan))
}

/// What the name of a person's tick begins with; the public id follows.
const PERSON: &str = "person-";

#[derive(Template)]
#[template(path = "office/studies.html")]
struct StudiesPage<'a> {
    frame: Frame,
    view: StudiesView,
    hands: Vec<PersonView>,
    form: &'a FormState,
}

impl StudiesPage<'_> {
    fn units() -> Vec<(&'static str, &'static str)> {
        let known = STUDY_UNITS.into_iter().map(|unit| (unit.symbol(), unit.symbol()));
        std::iter::once(("", "choose")).chain(known).collect()
    }

    fn tick(&self, hand: &PersonView) -> crate::web::Field {
        self.form.field(&format!("{PERSON}{}", hand.id))
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>) -> Result<Response, PageError> {
    let usual = [("parts", "10"), ("trials", "3")].map(|(name, text)| (name.to_owned(), text.to_owned()));
    page(visit, &shop, &id, &FormState::from_pairs(usual)).await
}

async fn plan(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(sent): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let people = sent.iter().filter_map(|(name, _)| name.strip_prefix(PERSON)).map(str::to_owned).collect();
    let mut state = FormState::from_pairs(sent);
    let typed = |name: &str| state.value(name).to_owned();
    let form = StudyForm {
        measured: typed("measured"),
        unit: typed("unit"),
        tolerance: typed("tolerance"),
        people,
        parts: typed("parts"),
        trials: typed("trials"),
    };
    match shop.plan_study(&doing(&visit, &state), &id, &form).await {
        Ok(study) => Ok(Redirect::to(&format!("/shop/studies/{study}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &id, &state).await
        }
    }
}

async fn page(visit: Visit, shop: &Shop, gauge: &str, form: &FormState) -> Result<Response, PageError> {
    let view = shop.studies(gauge, visit.at).await?;
    let hands = shop.hands().await?;
    let frame = visit.office("Repeatability studies").under("Shop floor", "/").under("The shop", "/shop");
    let frame = frame.under("Gauges", "/shop/gauges").under(&*view.gauge.name, format!("/shop/gauges/{gauge}"));
    forms::show(form, &StudiesPage { frame: frame.refused(form.is_refused()), view, hands, form })
}
