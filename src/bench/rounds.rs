//! Rounds of a sheet: a new one begun, another one let count, the temperatures it is read at.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::sheet::{Asked, CameBack, SheetForm, page, sheet_address, sheet_of};
use crate::web::{FormState, PageError, Visit};
use crate::work::{Condition, RoundForm, Shop, TemperaturesForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/sheets/{sheet}/rounds", post(begin))
        .route("/jobs/{number}/sheets/{sheet}/rounds/{round}/count", post(let_count))
        .route("/jobs/{number}/sheets/{sheet}/temperatures", post(note_temperatures))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct NewRoundForm {
    key: String,
    kind: String,
    plate: String,
    fasteners: String,
    lubricant: String,
    torque: String,
    shells: String,
    temperature: String,
    gauge_temperature: String,
}

async fn begin(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Form(form): Form<NewRoundForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    let mut state = FormState::of(&form);
    let NewRoundForm { kind, plate, fasteners, lubricant, torque, shells, temperature, gauge_temperature, .. } = form;
    let condition = Condition { plate, fasteners, lubricant, torque, shells };
    let temperatures = TemperaturesForm { parts: temperature, gauge: gauge_temperature };
    let new = RoundForm { kind, condition, temperatures };
    if let Err(refused) = shop.begin_round(&doing(&visit, &state), job, sheet, &new).await {
        state.refuse_each(refused.faults()?);
        let back = CameBack { which: SheetForm::Round, form: state, question: None };
        return page(visit, &shop, job, sheet, &Asked::default(), Some(back)).await;
    }
    Ok(Redirect::to(&sheet_address(job, sheet)).into_response())
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct CountForm {
    key: String,
}

async fn let_count(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet, round)): Path<(i64, String, i64)>,
    Form(form): Form<CountForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    shop.let_round_count(&doing(&visit, &FormState::of(&form)), job, sheet, round).await?;
    Ok(Redirect::to(&sheet_address(job, sheet)).into_response())
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct TemperatureForm {
    key: String,
    /// Other fields than a new round's: both forms stand on one page.
    parts_at: String,
    gauge_at: String,
    /// One of the usual ones, touched: of parts and gauge alike.
    usual: String,
    /// The slot to go on with.
    slot: String,
}

async fn note_temperatures(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Form(form): Form<TemperatureForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    let mut state = FormState::of(&form);
    let asked = Asked::slot(&form.slot);
    let noted = if form.usual.is_empty() {
        TemperaturesForm { parts: form.parts_at, gauge: form.gauge_at }
    } else {
        TemperaturesForm { parts: form.usual, gauge: String::new() }
    };
    if let Err(refused) = shop.set_temperatures(&doing(&visit, &state), job, sheet, &noted).await {
        state.refuse_each(refused.faults()?);
        let back = CameBack { which: SheetForm::Temperatures, form: state, question: None };
        return page(visit, &shop, job, sheet, &asked, Some(back)).await;
    }
    Ok(Redirect::to(&asked.address(&sheet_address(job, sheet))).into_response())
}
