//! Who works here: add a name, take one off the list. What was done under a name stays.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{PersonForm, PersonView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop/people", get(show).post(add)).route("/shop/people/{id}/remove", post(remove))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct HandForm {
    key: String,
    name: String,
    phone: String,
}

#[derive(Template)]
#[template(path = "office/people.html")]
struct PeoplePage<'a> {
    frame: Frame,
    hands: Vec<PersonView>,
    form: &'a FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    page(visit, &shop, &FormState::blank()).await
}

async fn add(visit: Visit, State(shop): State<Shop>, Form(form): Form<HandForm>) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let new = PersonForm { name: form.name, phone: form.phone };
    match shop.add_hand(&doing(&visit, &state), &new).await {
        Ok(_) => Ok(Redirect::to("/shop/people").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &state).await
        }
    }
}

async fn remove(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(form): Form<HandForm>,
) -> Result<Redirect, PageError> {
    shop.remove_hand(&doing(&visit, &FormState::of(&form)), &id).await?;
    Ok(Redirect::to("/shop/people"))
}

async fn page(visit: Visit, shop: &Shop, form: &FormState) -> Result<Response, PageError> {
    let hands = shop.hands().await?;
    let frame = visit.office("People").under("Shop floor", "/").under("The shop", "/shop").refused(form.is_refused());
    forms::show(form, &PeoplePage { frame, hands, form })
}
