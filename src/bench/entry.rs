//! A reading typed at the bench: kept, kept as a rival, asked about, or refused with what to enter.
//!
//! A form's post is led back to the page with the next slot armed. A script's post is answered in JSON, and the script
//! then asks for the page to see what follows.

use axum::Json;
use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::sheet::{Asked, CameBack, SheetForm, page, sheet_address, sheet_of};
use crate::web::{FormState, PageError, Visit};
use crate::work::{NewEntry, SheetKey, Shop, SlotKey, Took};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}/readings", post(take))
}

#[derive(Clone, Default, Serialize, Deserialize)]
#[serde(default)]
struct ReadingForm {
    key: String,
    slot: String,
    /// As typed; for what was checked, how.
    value: String,
    /// Number of the reading that stood there; empty for none.
    saw: String,
    /// Public id of the gauge that the page named; empty where it named none.
    gauge: String,
    /// Pressed: it was checked good, without a figure.
    checked: bool,
    /// The value that was asked about; sent again, it is kept as read.
    asked: String,
}

impl ReadingForm {
    fn entry(self, sheet: SheetKey) -> NewEntry {
        NewEntry {
            sheet,
            slot: SlotKey::parse(&self.slot),
            as_read: asked_before(&self.asked, &self.value),
            text: self.value,
            checked: self.checked,
            saw: self.saw.parse().ok(),
            gauge: Some(self.gauge).filter(|gauge| !gauge.is_empty()),
        }
    }
}

/// Whether a value was asked about already and is sent all the same: the same is never asked about twice.
pub(super) fn asked_before(asked: &str, value: &str) -> bool {
    !asked.trim().is_empty() && asked.trim() == value.trim()
}

/// What became of a reading, for a script.
#[derive(Serialize)]
#[serde(tag = "took", rename_all = "snake_case")]
enum Answer {
    Kept { number: i64, next: Option<String> },
    Rival { number: i64 },
    Odd { question: String },
    Refused { said: String },
}

async fn take(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Form(form): Form<ReadingForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    let mut state = FormState::of(&form);
    let slot = form.slot.clone();
    let took = match shop.take(&doing(&visit, &state), job, &form.entry(sheet)).await {
        Ok(took) => took,
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            return refuse(visit, &shop, job, sheet, &slot, state).await;
        }
    };
    if visit.by_script {
        return Ok(Json(answer(took)).into_response());
    }
    let address = sheet_address(job, sheet);
    match took {
        Took::Kept { number, next: Some(next) } => {
            Ok(Redirect::to(&format!("{address}?slot={next}&kept={number}#entry")).into_response())
        }
        Took::Kept { number, next: None } => {
            let place = SlotKey::parse(&slot).place;
            Ok(Redirect::to(&format!("{address}?at={place}&kept={number}#entry")).into_response())
        }
        Took::Rival { .. } => Ok(Redirect::to(&format!("{address}?slot={slot}#entry")).into_response()),
        Took::Odd { question } => {
            let back = CameBack { which: SheetForm::Reading, form: state, question: Some(question) };
            page(visit, &shop, job, sheet, &Asked::slot(&slot), Some(back)).await
        }
    }
}

fn answer(took: Took) -> Answer {
    match took {
        Took::Kept { number, next } => Answer::Kept { number, next: next.map(|next| next.to_string()) },
        Took::Rival { number } => Answer::Rival { number },
        Took::Odd { question } => Answer::Odd { question },
    }
}

async fn refuse(
    visit: Visit,
    shop: &Shop,
    job: i64,
    sheet: SheetKey,
    slot: &str,
    form: FormState,
) -> Result<Response, PageError> {
    if visit.by_script {
        let said: Vec<&str> = form.faults().iter().filter_map(|field| field.fault.as_deref()).collect();
        let refused = Answer::Refused { said: said.join(" ") };
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Json(refused)).into_response());
    }
    let back = CameBack { which: SheetForm::Reading, form, question: None };
    page(visit, shop, job, sheet, &Asked::slot(slot), Some(back)).await
}
