//! The page before all others on a tablet: the shop's PIN, entered once.

use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::{CookieJar, Form, Query};
use jiff::SignedDuration;
use serde::{Deserialize, Serialize};

use crate::web::door::{self, Network};
use crate::web::theme::inside;
use crate::web::token::token;
use crate::web::{Entrance, FormState, Frame, PageError, Visit, forms};
use crate::work::{Doing, Shop};

/// What this page takes in, bytes: it is open to everybody on the network.
const MOST: usize = 8_000;

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/enter", get(show).post(enter)).layer(DefaultBodyLimit::max(MOST))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct EnterForm {
    pin: String,
    /// What the tablet is called.
    name: String,
    /// The page to go on to.
    back: String,
}

#[derive(Template)]
#[template(path = "bench/enter.html")]
struct EnterPage<'a> {
    frame: Frame,
    has_pin: bool,
    form: &'a FormState,
}

async fn show(
    visit: Visit,
    entrance: Entrance,
    State(shop): State<Shop>,
    Query(form): Query<EnterForm>,
) -> Result<Response, PageError> {
    if let Some(way_on) = way_on(&entrance, &form) {
        return Ok(way_on.into_response());
    }
    page(visit, shop.has_pin().await?, &FormState::of(&form))
}

async fn enter(
    visit: Visit,
    entrance: Entrance,
    State(shop): State<Shop>,
    cookies: CookieJar,
    Form(form): Form<EnterForm>,
) -> Result<Response, PageError> {
    let network = match (way_on(&entrance, &form), entrance.door().network()) {
        (Some(way_on), _) => return Ok(way_on.into_response()),
        (None, network) => network.ok_or(PageError::NotFound)?,
    };
    let mut state = FormState::of(&form);
    if !shop.has_pin().await? {
        return page(visit, false, &state);
    }
    if let Err(wait) = network.begin_try(entrance.from(), visit.at) {
        return too_early(visit, &mut state, wait);
    }
    if !shop.is_pin(form.pin.trim()).await? {
        state.refuse("pin", "That is not the shop's PIN. Enter the one set on the shop's computer");
        return page(visit, true, &state);
    }
    let_in(visit, &entrance, network, &shop, cookies, form).await
}

async fn let_in(
    visit: Visit,
    entrance: &Entrance,
    network: &Network,
    shop: &Shop,
    cookies: CookieJar,
    form: EnterForm,
) -> Result<Response, PageError> {
    network.was_right(entrance.from());
    let (cookie, session) = door::new_session();
    // Not by the form's own key: the browser keeps the cookie of the last answer, so that each has to let it in.
    let person = visit.who.as_ref().map(|who| who.id.clone());
    let doing = Doing { person, device: visit.device.clone(), key: token(), at: visit.at };
    match shop.let_tablet_in(&doing, &form.name, &session).await {
        Ok(()) => Ok((cookies.add(cookie), Redirect::to(inside(&form.back))).into_response()),
        Err(refused) => {
            let mut state = FormState::of(&form);
            state.refuse_each(refused.faults()?);
            page(visit, true, &state)
        }
    }
}

/// Where to go who need not enter a PIN.
fn way_on(entrance: &Entrance, form: &EnterForm) -> Option<Redirect> {
    if entrance.is_shop_computer() {
        return Some(Redirect::to("/shop/tablets"));
    }
    entrance.let_in.then(|| Redirect::to(inside(&form.back)))
}

fn too_early(visit: Visit, form: &mut FormState, wait: SignedDuration) -> Result<Response, PageError> {
    let seconds = wait.as_secs() + i64::from(wait.subsec_nanos() > 0);
    let said = if seconds < 60 { format!("{seconds} s") } else { format!("{} min", (seconds + 59) / 60) };
    form.refuse(
        "pin",
        format!("There were too many wrong tries. This one was not looked at: wait {said} and try again"),
    );
    let frame = visit.bench("Enter the shop's PIN").refused(true);
    let page = EnterPage { frame, has_pin: true, form }.render()?;
    let wait = [(header::RETRY_AFTER, seconds.to_string())];
    Ok((StatusCode::TOO_MANY_REQUESTS, wait, Html(page)).into_response())
}

fn page(visit: Visit, has_pin: bool, form: &FormState) -> Result<Response, PageError> {
    let title = if has_pin { "Enter the shop's PIN" } else { "No PIN is set yet" };
    forms::show(form, &EnterPage { frame: visit.bench(title).refused(form.is_refused()), has_pin, form })
}
