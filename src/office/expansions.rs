//! How materials expand: the usual coefficients with their sources, and the shop's own instead.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{ExpansionForm, ExpansionView, Material, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop/materials", get(list)).route("/shop/materials/{key}", get(show).post(save))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct OneForm {
    key: String,
    saw: i64,
    per_kelvin: String,
    low: String,
    high: String,
    source: String,
}

/// The list of materials, or one of them with its form.
#[derive(Template)]
#[template(path = "office/materials.html")]
struct MaterialsPage<'a> {
    frame: Frame,
    all: Vec<ExpansionView>,
    /// The one that is changed, and the act its form saw.
    one: Option<(ExpansionView, i64)>,
    form: &'a FormState,
    quicker: Option<Quicker>,
}

async fn list(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    page(visit, shop.expansions().await?, None, &FormState::blank(), None)
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(key): Path<String>) -> Result<Response, PageError> {
    let all = shop.expansions().await?;
    let one = find(&all, &key)?;
    let form = FormState::from_pairs(named(&one).into_iter().map(|(name, _, text)| (name, text)));
    let saw = one.saw;
    page(visit, all, Some((one, saw)), &form, None)
}

async fn save(
    visit: Visit,
    State(shop): State<Shop>,
    Path(key): Path<String>,
    Form(form): Form<OneForm>,
) -> Result<Response, PageError> {
    let material = Material::from_key(&key).ok_or(PageError::NotFound)?;
    let mut state = FormState::of(&form);
    let OneForm { saw, per_kelvin, low, high, source, .. } = form;
    let typed = ExpansionForm { per_kelvin, low, high, source };
    match shop.set_expansion(&doing(&visit, &state), material, saw, &typed).await {
        Ok(()) => Ok(Redirect::to("/shop/materials").into_response()),
        Err(Refused::Conflict { .. }) => {
            let all = shop.expansions().await?;
            let one = find(&all, &key)?;
            let (quicker, saw) = (Quicker::of(&state, named(&one)), one.saw);
            page(visit, all, Some((one, saw)), &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let all = shop.expansions().await?;
            let one = find(&all, &key)?;
            page(visit, all, Some((one, saw)), &state, None)
        }
    }
}

fn find(all: &[ExpansionView], key: &str) -> Result<ExpansionView, PageError> {
    all.iter().find(|view| view.material.key() == key).cloned().ok_or(PageError::NotFound)
}

/// Every field by name, with its label and what stands in it.
fn named(view: &ExpansionView) -> Vec<(String, String, String)> {
    let fields = [
        ("per_kelvin", "Coefficient", &view.form.per_kelvin),
        ("low", "At least", &view.form.low),
        ("high", "At most", &view.form.high),
        ("source", "Source", &view.form.source),
    ];
    fields.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone())).to_vec()
}

fn page(
    visit: Visit,
    all: Vec<ExpansionView>,
    one: Option<(ExpansionView, i64)>,
    form: &FormState,
    quicker: Option<Quicker>,
) -> Result<Response, PageError> {
    let above = |title: &str| visit.office(title).under("Shop floor", "/").under("The shop", "/shop");
    let frame = match &one {
        Some((one, _)) => above(one.material.word()).under("Materials", "/shop/materials"),
        None => above("Materials"),
    };
    let page = MaterialsPage { frame: frame.refused(form.is_refused()), all, one, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}
