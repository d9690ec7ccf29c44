//! Which gauge is used on a sheet, and what it was zeroed on.

use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::sheet::{Asked, CameBack, SheetForm, page, sheet_address, sheet_of};
use crate::web::{FormState, PageError, Visit};
use crate::work::{SettingForm, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}/gauge", post(set))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct GaugeSetForm {
    key: String,
    /// Public id.
    gauge: String,
    zeroed_on: String,
    set_to: String,
    /// Public id of the gauge it was zeroed in.
    master: String,
    /// What a gauge that is in no register yet is called.
    new_name: String,
    /// Its kind's key.
    new_kind: String,
    /// The slot to go on with.
    slot: String,
}

async fn set(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Form(form): Form<GaugeSetForm>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    let mut state = FormState::of(&form);
    let asked = Asked::slot(&form.slot);
    let GaugeSetForm { gauge, zeroed_on, set_to, master, new_name, new_kind, .. } = form;
    let setting = SettingForm { gauge, new_name, new_kind, zeroed_on, set_to, master };
    if let Err(refused) = shop.set_gauge(&doing(&visit, &state), job, &setting).await {
        state.refuse_each(refused.faults()?);
        let back = CameBack { which: SheetForm::Gauge, form: state, question: None };
        return page(visit, &shop, job, sheet, &asked, Some(back)).await;
    }
    Ok(Redirect::to(&asked.address(&sheet_address(job, sheet))).into_response())
}
