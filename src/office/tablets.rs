//! The shop's tablets, on its computer: the address to open on them, the PIN they enter once, and which are let in.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::door::{Addresses, Network, OnShopComputer};
use crate::web::{Entrance, FormState, Frame, PageError, Visit, forms, svg};
use crate::work::{Shop, TabletView, pin_fault};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/shop/tablets", get(show))
        .route("/shop/tablets/pin", post(set_pin))
        .route("/shop/tablets/end", post(end_all))
        .route("/shop/tablets/{id}/end", post(end))
}

/// The network of this shop, known there by this port, these names and addresses.
pub fn network(shop: &Shop, port: u16, names: Vec<String>, addresses: Addresses) -> Network {
    let shop = shop.clone();
    Network::new(port, names, addresses, move |session, device| {
        let shop = shop.clone();
        async move { Ok(shop.tablet_let_in(&session, &device).await?) }
    })
}

/// Whether the page follows a new PIN.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    kept: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct PinForm {
    key: String,
    /// The one-time code, or the PIN until now.
    proof: String,
    pin: String,
}

/// An address to open on a tablet, and the same for its camera.
struct Address {
    text: String,
    code: String,
}

#[derive(Template)]
#[template(path = "office/tablets.html")]
struct TabletsPage<'a> {
    frame: Frame,
    /// Whether the shop's network is listened to at all.
    open: bool,
    addresses: Vec<Address>,
    has_pin: bool,
    wrong_tries: u32,
    tablets: Vec<TabletView>,
    form: &'a FormState,
    kept: bool,
}

async fn show(
    visit: Visit,
    OnShopComputer(entrance): OnShopComputer,
    State(shop): State<Shop>,
    Query(shown): Query<Shown>,
) -> Result<Response, PageError> {
    page(visit, &entrance, &shop, &FormState::blank(), !shown.kept.is_empty()).await
}

async fn set_pin(
    visit: Visit,
    OnShopComputer(entrance): OnShopComputer,
    State(shop): State<Shop>,
    Form(form): Form<PinForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let set = || Redirect::to("/shop/tablets?kept=yes").into_response();
    if shop.was_done(&doing(&visit, &state)).await? {
        return Ok(set());
    }
    // First, so that the code is not used up by a PIN that is none.
    if let Some(fault) = pin_fault(form.pin.trim()) {
        state.refuse_each([("pin".to_owned(), fault.to_owned())]);
    }
    if state.is_refused() || !is_proved(&visit, &entrance, &shop, &form, &mut state).await? {
        return page(visit, &entrance, &shop, &state, false).await;
    }
    shop.set_pin(&doing(&visit, &state), form.pin.trim()).await?;
    Ok(set())
}

/// Whether who sets a PIN may: knows the one until now, or sees the window in which the server was started.
async fn is_proved(
    visit: &Visit,
    entrance: &Entrance,
    shop: &Shop,
    form: &PinForm,
    state: &mut FormState,
) -> Result<bool, PageError> {
    let network = entrance.door().network().ok_or(PageError::NotFound)?;
    if network.begin_try(entrance.from(), visit.at).is_err() {
        state.refuse("proof", "There were too many wrong tries: wait a quarter of an hour, or start the program anew");
        return Ok(false);
    }
    let proved = network.take_code(&form.proof) || shop.is_pin(form.proof.trim()).await?;
    if proved {
        network.was_right(entrance.from());
    } else {
        state.refuse("proof", "Enter the code printed when the program was started, or the PIN until now");
    }
    Ok(proved)
}

async fn end(
    visit: Visit,
    _: OnShopComputer,
    State(shop): State<Shop>,
    Path(id): Path<i64>,
    Form(form): Form<PinForm>,
) -> Result<Redirect, PageError> {
    shop.end_tablets(&doing(&visit, &FormState::of(&form)), Some(id)).await?;
    Ok(Redirect::to("/shop/tablets"))
}

async fn end_all(
    visit: Visit,
    _: OnShopComputer,
    State(shop): State<Shop>,
    Form(form): Form<PinForm>,
) -> Result<Redirect, PageError> {
    shop.end_tablets(&doing(&visit, &FormState::of(&form)), None).await?;
    Ok(Redirect::to("/shop/tablets"))
}

async fn page(
    visit: Visit,
    entrance: &Entrance,
    shop: &Shop,
    form: &FormState,
    kept: bool,
) -> Result<Response, PageError> {
    let network = entrance.door().network();
    let seen = network.map(Network::seen).unwrap_or_default();
    let addresses = network.map(Network::addresses).unwrap_or_default().into_iter().enumerate();
    let addresses = addresses.filter_map(|(nth, text)| {
        let code = svg::code(&text, &format!("address-{nth}"))?;
        Some(Address { text, code })
    });
    let page = TabletsPage {
        open: network.is_some(),
        addresses: addresses.collect(),
        has_pin: shop.has_pin().await?,
        wrong_tries: network.map_or(0, |network| network.wrong_tries(visit.at)),
        tablets: shop.tablets(&seen, visit.at).await?,
        frame: visit.office("Tablets").under("Shop floor", "/").under("The shop", "/shop").refused(form.is_refused()),
        form,
        kept,
    };
    forms::show(form, &page)
}
