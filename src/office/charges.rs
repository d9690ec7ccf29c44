//! `/jobs/{n}/charges`: the list of what is charged, what waits to come on it, discounts, deposits, payments and the balance.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;

use super::on_job::{doing, frame};
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{ChargesView, DiscountForm, LineForm, LineView, PaymentForm, Refused, Shop, given_on};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/charges", get(show).post(add))
        .route("/jobs/{number}/charges/list", post(list_all))
        .route("/jobs/{number}/charges/{line}", get(show_line).post(change))
        .route("/jobs/{number}/charges/{line}/withdraw", post(withdraw))
        .route("/jobs/{number}/discounts", post(discount))
        .route("/jobs/{number}/discounts/{id}/withdraw", post(withdraw_discount))
        .route("/jobs/{number}/deposits", post(deposit))
        .route("/jobs/{number}/deposits/{id}/withdraw", post(withdraw_deposit))
        .route("/jobs/{number}/cores/{line}/{fate}", post(core))
        .route("/jobs/{number}/payments", post(pay))
        .route("/jobs/{number}/payments/{id}/withdraw", post(withdraw_payment))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

/// Whether a line is charged: key and words.
pub(super) const PRICED: [(&str, &str); 4] = [
    ("charged", "charged"),
    ("warranty", "under warranty, not charged"),
    ("own-error", "our own error, not charged"),
    ("customers-own", "the customer’s own part"),
];

#[derive(Template)]
#[template(path = "office/charges.html")]
struct ChargesPage<'a> {
    frame: Frame,
    view: ChargesView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
}

impl ChargesPage<'_> {
    fn given_on() -> Vec<(String, &'static str)> {
        given_on()
    }
}

#[derive(Template)]
#[template(path = "office/charge.html")]
struct ChargePage<'a> {
    frame: Frame,
    view: LineView,
    saw: i64,
    form: &'a FormState,
    quicker: Option<Quicker>,
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    page(visit, &shop, job, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.charges(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Charges").refused(form.is_refused());
    forms::show(form, &ChargesPage { frame, view, form })
}

/// Done and back to the page, or the page with what is wrong.
async fn answered(
    visit: Visit,
    shop: &Shop,
    job: i64,
    mut state: FormState,
    done: Result<(), Refused>,
    at: &str,
) -> Answer {
    match done {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/charges{at}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop, job, &state).await
        }
    }
}

fn line_form(state: &FormState) -> LineForm {
    let text = |name: &str| state.value(name).to_owned();
    LineForm {
        kind: text("kind"),
        text: text("text"),
        step: text("step"),
        how_many: text("how_many"),
        unit: text("unit"),
        priced: text("priced"),
        each: text("each"),
        mark_up: text("mark_up"),
        tax: text("tax"),
        under: text("under"),
    }
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.add_charge(&doing(&visit, &state), job, &line_form(&state)).await;
    answered(visit, &shop, job, state, done, "").await
}

async fn list_all(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.list_charges(&doing(&visit, &state), job).await;
    answered(visit, &shop, job, state, done, "").await
}

/// A line as its form shows it, name by name.
fn named(form: &LineForm) -> Vec<(String, String, String)> {
    [
        ("text", "What the customer reads", &form.text),
        ("step", "Step", &form.step),
        ("how_many", "How many", &form.how_many),
        ("unit", "Unit", &form.unit),
        ("priced", "Charged", &form.priced),
        ("each", "Price of one", &form.each),
        ("mark_up", "Mark-up", &form.mark_up),
        ("tax", "Tax", &form.tax),
        ("under", "Belongs to", &form.under),
    ]
    .map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone()))
    .to_vec()
}

fn lay_out(visit: Visit, view: LineView, saw: i64, form: &FormState, quicker: Option<Quicker>) -> Answer {
    let job = view.head.job;
    let frame = frame(visit, &view.head, &view.row.text)
        .under("Charges", format!("/jobs/{job}/charges"))
        .refused(form.is_refused());
    let page = ChargePage { frame, view, saw, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}

async fn show_line(visit: Visit, State(shop): State<Shop>, Path((job, line)): Path<(i64, i64)>) -> Answer {
    let view = shop.charge(job, line, visit.at).await?;
    let form = FormState::from_pairs(named(&view.form).into_iter().map(|(name, _, text)| (name, text)));
    let saw = view.act;
    lay_out(visit, view, saw, &form, None)
}

async fn change(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, line)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let saw = state.value("saw").parse().unwrap_or_default();
    match shop.change_charge(&doing(&visit, &state), job, line, saw, &line_form(&state)).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/charges")).into_response()),
        Err(Refused::Conflict { .. }) => {
            let view = shop.charge(job, line, visit.at).await?;
            let quicker = Quicker::of(&state, named(&view.form));
            let saw = view.act;
            lay_out(visit, view, saw, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let view = shop.charge(job, line, visit.at).await?;
            lay_out(visit, view, saw, &state, None)
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, line)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_charge(&doing(&visit, &state), job, line).await;
    answered(visit, &shop, job, state, done, "").await
}

async fn discount(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form =
        DiscountForm { text: text("discount"), on: text("given_on"), percent: text("percent"), amount: text("off") };
    let done = shop.give_discount(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#discounts").await
}

async fn withdraw_discount(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, id)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_discount(&doing(&visit, &state), job, id).await;
    answered(visit, &shop, job, state, done, "#discounts").await
}

async fn deposit(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = PaymentForm {
        amount: text("deposit"),
        day: text("deposit_day"),
        words: text("deposit_words"),
        ..PaymentForm::default()
    };
    let done = shop.ask_deposit(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#paid").await
}

async fn withdraw_deposit(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, id)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_deposit(&doing(&visit, &state), job, id).await;
    answered(visit, &shop, job, state, done, "#paid").await
}

async fn pay(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = PaymentForm {
        kind: text("paid"),
        amount: text("amount"),
        day: text("paid_on"),
        words: text("paid_words"),
        sure: !text("sure").is_empty(),
    };
    let done = shop.keep_payment(&doing(&visit, &state), job, &form).await;
    answered(visit, &shop, job, state, done, "#paid").await
}

async fn withdraw_payment(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, id)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_payment(&doing(&visit, &state), job, id).await;
    answered(visit, &shop, job, state, done, "#paid").await
}

/// What became of an old part that a deposit was asked for.
async fn core(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, line, fate)): Path<(i64, i64, String)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let doing = doing(&visit, &state);
    let done = match &*fate {
        "back" => shop.give_core_back(&doing, job, line).await,
        "scrapped" => shop.scrap_core(&doing, job, line).await,
        "not-scrapped" => shop.unscrap_core(&doing, job, line).await,
        _ => return Err(PageError::NotFound),
    };
    answered(visit, &shop, job, state, done, "#cores").await
}
