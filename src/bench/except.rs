//! "As round 1, checked again": said of a round at once, or of one place. Leads back to the sheet.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::sheet::{sheet_address, sheet_of};
use crate::web::{FormState, PageError, Visit};
use crate::work::Shop;

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/sheets/{sheet}/rounds/{round}/recheck", post(recheck))
        .route("/jobs/{number}/sheets/{sheet}/rounds/{round}/recheck/back", post(take_back))
}

type At = Path<(i64, String, i64)>;
type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct RecheckForm {
    key: String,
    /// The number of the earlier round.
    earlier: i64,
    /// A place's key; empty for all.
    place: String,
}

async fn recheck(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet, round)): At,
    Form(form): Form<RecheckForm>,
) -> Answer {
    let key = sheet_of(&sheet)?;
    let place = match form.place.as_str() {
        "" => None,
        place => Some(place.parse().map_err(|_| PageError::NotFound)?),
    };
    let doing = doing(&visit, &FormState::of(&form));
    shop.recheck(&doing, job, (key, round, form.earlier), place).await?;
    Ok(Redirect::to(&format!("{}?round={round}#except", sheet_address(job, key))).into_response())
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct BackForm {
    key: String,
    id: i64,
}

async fn take_back(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet, round)): At,
    Form(form): Form<BackForm>,
) -> Answer {
    let key = sheet_of(&sheet)?;
    shop.take_recheck_back(&doing(&visit, &FormState::of(&form)), job, form.id).await?;
    Ok(Redirect::to(&format!("{}?round={round}#except", sheet_address(job, key))).into_response())
}
