//! Who is at this tablet: a name is tapped, or added. Nobody proves anything; acts record that it was only named.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{CookieJar, Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::forms;
use crate::web::theme::inside;
use crate::web::visit::{Who, cookie_of};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{PersonForm, PersonView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/who", get(show).post(tap)).route("/who/new", post(add))
}

/// A name tapped, or a name to add.
#[derive(Serialize, Deserialize)]
#[serde(default)]
struct WhoForm {
    key: String,
    /// Public id of the name tapped.
    person: String,
    /// A name to add.
    name: String,
    /// The page to come back to.
    back: String,
}

impl Default for WhoForm {
    fn default() -> Self {
        Self { key: String::new(), person: String::new(), name: String::new(), back: "/".to_owned() }
    }
}

#[derive(Template)]
#[template(path = "bench/who.html")]
struct WhoPage<'a> {
    frame: Frame,
    hands: Vec<PersonView>,
    form: &'a FormState,
}

impl WhoPage<'_> {
    fn is_here(&self, person: &PersonView) -> bool {
        self.frame.visit.who.as_ref().is_some_and(|who| who.id == person.id)
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(form): Query<WhoForm>) -> Result<Response, PageError> {
    page(visit, &shop, &FormState::of(&form)).await
}

async fn tap(
    visit: Visit,
    State(shop): State<Shop>,
    cookies: CookieJar,
    Form(form): Form<WhoForm>,
) -> Result<Response, PageError> {
    let hands = shop.hands().await?;
    if let Some(person) = hands.into_iter().find(|person| person.id == form.person) {
        return Ok(come_back(cookies, &Who { id: person.id, name: person.name }, &form.back));
    }
    let mut state = FormState::of(&form);
    state.refuse("person", "Tap one of the names, or add yours");
    page(visit, &shop, &state).await
}

async fn add(
    visit: Visit,
    State(shop): State<Shop>,
    cookies: CookieJar,
    Form(form): Form<WhoForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let new = PersonForm { name: form.name.clone(), phone: String::new() };
    match shop.add_hand(&doing(&visit, &state), &new).await {
        Ok(id) => Ok(come_back(cookies, &Who { id, name: form.name.trim().to_owned() }, &form.back)),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &state).await
        }
    }
}

fn come_back(cookies: CookieJar, who: &Who, back: &str) -> Response {
    (cookies.add(cookie_of(who)), Redirect::to(inside(back))).into_response()
}

async fn page(visit: Visit, shop: &Shop, form: &FormState) -> Result<Response, PageError> {
    let hands = shop.hands().await?;
    let title = if hands.is_empty() { "Who works here?" } else { "Who is at this tablet?" };
    let frame = visit.bench(title).under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &WhoPage { frame, hands, form })
}
