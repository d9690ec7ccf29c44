//! `/jobs/{n}/settle`: a job that ended, rests or is about to end: what is charged, paid, given back, and what goes to whom.

use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::Deserialize;

use super::on_job::{doing, frame};
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{
    DueRow, EndingKind, GoesRow, GoneForm, METHODS, RefundForm, Refused, SettleForm, SettleView, Shop, StorageForm,
};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/settle", get(show).post(settle))
        .route("/jobs/{number}/settle/storage", post(storage))
        .route("/jobs/{number}/settle/disposal", post(disposal))
        .route("/jobs/{number}/settle/on-order", post(on_order))
        .route("/jobs/{number}/settle/refund", post(refund))
        .route("/jobs/{number}/settle/gone", post(gone))
        .route("/jobs/{number}/settle/gone/{id}/withdraw", post(withdraw_gone))
        .route("/jobs/{number}/settle/withdraw", post(withdraw))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

/// The ending that is looked at before there is one.
#[derive(Default, Deserialize)]
#[serde(default)]
struct AsIf {
    kind: String,
}

#[derive(Template)]
#[template(path = "office/settle.html")]
struct SettlePage<'a> {
    frame: Frame,
    view: SettleView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
}

impl SettlePage<'_> {
    fn kinds() -> impl Iterator<Item = (&'static str, &'static str)> {
        EndingKind::ALL.iter().map(|kind| (kind.key(), kind.word()))
    }

    /// A field that stands so until its form comes back refused; `of` is the form's own name.
    fn field(&self, of: &str, name: &str, stands: &str) -> Field {
        let mut field = self.form.field(name);
        if self.form.value("of") != of {
            stands.clone_into(&mut field.value);
        }
        field
    }

    /// Whether a form came back refused.
    fn is_of(&self, of: &str) -> bool {
        self.form.is_refused() && self.form.value("of") == of
    }

    /// The first stay that is due, or days to be typed.
    fn stay(&self) -> DueRow {
        let blank =
            DueRow { words: String::new(), from: String::new(), until: self.view.today.clone(), week: String::new() };
        self.view.due.first().cloned().unwrap_or(blank)
    }

    /// Whether a thing is ticked: all are until somebody unticks one.
    fn is_ticked(&self, row: &GoesRow) -> bool {
        !self.is_of("gone") || !self.form.value(&format!("gone-{}", row.key)).is_empty()
    }

    /// Whether anything is here that goes.
    fn some_stay(&self) -> bool {
        self.view.goes.iter().any(|row| row.gone.is_none())
    }

    fn is_on_order_ticked(&self, part: &str) -> bool {
        !self.form.value(&format!("part-{part}")).is_empty()
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(as_if): Query<AsIf>) -> Answer {
    page(visit, &shop, job, &as_if.kind, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, as_if: &str, form: &FormState) -> Answer {
    let view = shop.settle_view(job, as_if, visit.at).await?;
    let frame = frame(visit, &view.head, "Settle").under("Ending", format!("/jobs/{job}/ending"));
    forms::show(form, &SettlePage { frame: frame.refused(form.is_refused()), view, form })
}

/// Done and back to the page, or the page with what is wrong; the ending that was looked at goes round.
async fn answered(
    visit: Visit,
    shop: &Shop,
    job: i64,
    mut state: FormState,
    done: Result<(), Refused>,
    at: &str,
) -> Answer {
    let as_if = EndingKind::from_key(state.value("kind")).map_or("", EndingKind::key).to_owned();
    match done {
        Ok(()) if as_if.is_empty() => Ok(Redirect::to(&format!("/jobs/{job}/settle{at}")).into_response()),
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/settle?kind={as_if}{at}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop, job, &as_if, &state).await
        }
    }
}

async fn settle(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = SettleForm {
        saw: text("saw"),
        day: text("settled_on"),
        words: text("settled_words"),
        sure: !text("settled_sure").is_empty(),
    };
    let done = shop.settle_job(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "").await
}

async fn withdraw(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_settlement(&doing(&visit, &state), job).await;
    answered(visit, &shop, job, state, done, "").await
}

async fn storage(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = StorageForm { from: text("stored_from"), until: text("stored_until"), week: text("week") };
    let done = shop.charge_storage(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#charged").await
}

async fn disposal(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.charge_disposal(&doing(&visit, &state), job, state.value("disposal")).await;
    answered(visit, &shop, job, state, done, "#charged").await
}

/// What is ticked among fields that begin so.
fn ticked(pairs: &[(String, String)], of: &str) -> Vec<String> {
    pairs.iter().filter_map(|(name, _)| Some(name.strip_prefix(of)?.to_owned())).collect()
}

async fn on_order(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let parts = ticked(&pairs, "part-");
    let state = FormState::from_pairs(pairs);
    let done = shop.charge_on_order(&doing(&visit, &state), job, &parts).await;
    answered(visit, &shop, job, state, done, "#charged").await
}

async fn refund(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = RefundForm {
        amount: text("amount"),
        method: text("method"),
        day: text("paid_on"),
        reference: text("reference"),
        sure: !text("sure").is_empty(),
    };
    let done = shop.give_back(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#money").await
}

async fn gone(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let things = ticked(&pairs, "gone-");
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = GoneForm { things, day: text("gone_on"), words: text("gone_words") };
    let done = shop.note_gone(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#goes").await
}

async fn withdraw_gone(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, id)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_gone(&doing(&visit, &state), job, id).await;
    answered(visit, &shop, job, state, done, "#goes").await
}
