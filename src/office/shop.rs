//! The shop itself: what stands on its cards, its paper and its zone; the way to its people and gauges.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{GaugeView, PersonView, Refused, Shop, ShopSettings};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop", get(show).post(save))
}

/// Whether the page follows a save.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    kept: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct SettingsForm {
    key: String,
    saw: i64,
    name: String,
    address: String,
    phone: String,
    paper: String,
    zone: String,
    warranty: String,
    temperature: String,
    rule: String,
}

#[derive(Template)]
#[template(path = "office/shop.html")]
struct ShopPage<'a> {
    frame: Frame,
    hands: Vec<PersonView>,
    gauges: Vec<GaugeView>,
    saw: i64,
    form: &'a FormState,
    quicker: Option<Quicker>,
    kept: bool,
}

impl ShopPage<'_> {
    const RULES: [(&'static str, &'static str, &'static str); 2] = super::details::RULES;
    const PAPERS: [(&'static str, &'static str); 2] = [("letter", "Letter"), ("a4", "A4")];
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(shown): Query<Shown>) -> Result<Response, PageError> {
    let saw = shop.settings_seen().await?;
    let stands = named(shop.settings().await?);
    let form = FormState::from_pairs(stands.into_iter().map(|(name, _, text)| (name, text)));
    page(visit, &shop, saw, &form, None, !shown.kept.is_empty()).await
}

async fn save(visit: Visit, State(shop): State<Shop>, Form(form): Form<SettingsForm>) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let settings = ShopSettings {
        name: form.name,
        address: form.address,
        phone: form.phone,
        paper: form.paper,
        zone: form.zone,
        warranty: form.warranty,
        temperature: form.temperature,
        rule: form.rule,
    };
    match shop.change_settings(&doing(&visit, &state), form.saw, &settings).await {
        Ok(()) => Ok(Redirect::to("/shop?kept=yes").into_response()),
        Err(Refused::Conflict { .. }) => {
            let saw = shop.settings_seen().await?;
            let quicker = Quicker::of(&state, named(shop.settings().await?));
            page(visit, &shop, saw, &state, Some(quicker), false).await
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, form.saw, &state, None, false).await
        }
    }
}

/// Every field by name, with its label and what stands in it.
fn named(settings: ShopSettings) -> Vec<(String, String, String)> {
    let fields = [
        ("name", "Name", settings.name),
        ("address", "Address", settings.address),
        ("phone", "Phone", settings.phone),
        ("paper", "Paper", settings.paper),
        ("zone", "Time zone", settings.zone),
        ("warranty", "Warranty", settings.warranty),
        ("temperature", "Temperature in the shop", settings.temperature),
        ("rule", "How limits are decided", settings.rule),
    ];
    fields.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text)).to_vec()
}

async fn page(
    visit: Visit,
    shop: &Shop,
    saw: i64,
    form: &FormState,
    quicker: Option<Quicker>,
    kept: bool,
) -> Result<Response, PageError> {
    let (hands, gauges) = (shop.hands().await?, shop.gauges(visit.at).await?);
    let frame = visit.office("The shop").under("Shop floor", "/").refused(form.is_refused());
    let page = ShopPage { frame, hands, gauges, saw, form, quicker, kept };
    quicker::show(form, page.quicker.as_ref(), &page)
}
