//! The work a job sent out: a list, and a page for each with what is asked and how it came back; it prints as the sheet that
//! goes with the parts.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms, svg};
use crate::work::{AskForm, AskedView, Condition, Refused, SendingForm, SendingView, SendingsView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/sent-out", get(show).post(add))
        .route("/jobs/{number}/sent-out/{sending}", get(show_one).post(change))
        .route("/jobs/{number}/sent-out/{sending}/asked", post(ask))
        .route("/jobs/{number}/sent-out/{sending}/asked/{asked}/withdraw", post(ask_no_more))
        .route("/jobs/{number}/sent-out/{sending}/withdraw", post(withdraw))
}

type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Typed {
    key: String,
    /// The act that had last changed it when the form was shown.
    saw: Option<i64>,
    supplier: String,
    what: String,
    step: String,
    sheet: String,
    plate: String,
    fasteners: String,
    lubricant: String,
    torque: String,
    shells: String,
    words: String,
    sent: String,
    due: String,
    back: String,
    before_round: String,
    after_round: String,
    cost: String,
    price: String,
    change: String,
    place: String,
}

impl From<Typed> for SendingForm {
    fn from(typed: Typed) -> Self {
        let Typed { plate, fasteners, lubricant, torque, shells, .. } = typed;
        Self {
            condition: Condition { plate, fasteners, lubricant, torque, shells },
            supplier: typed.supplier,
            what: typed.what,
            step: typed.step,
            sheet: typed.sheet,
            words: typed.words,
            sent: typed.sent,
            due: typed.due,
            back: typed.back,
            before_round: typed.before_round,
            after_round: typed.after_round,
            cost: typed.cost,
            price: typed.price,
            change: typed.change,
            place: typed.place,
        }
    }
}

impl From<SendingForm> for Typed {
    fn from(form: SendingForm) -> Self {
        let Condition { plate, fasteners, lubricant, torque, shells } = form.condition;
        Self {
            key: String::new(),
            saw: None,
            supplier: form.supplier,
            what: form.what,
            step: form.step,
            sheet: form.sheet,
            plate,
            fasteners,
            lubricant,
            torque,
            shells,
            words: form.words,
            sent: form.sent,
            due: form.due,
            back: form.back,
            before_round: form.before_round,
            after_round: form.after_round,
            cost: form.cost,
            price: form.price,
            change: form.change,
            place: form.place,
        }
    }
}

#[derive(Template)]
#[template(path = "office/sent_out.html")]
struct SendingsPage<'a> {
    frame: Frame,
    view: SendingsView,
    form: &'a FormState,
}

#[derive(Template)]
#[template(path = "office/sending.html")]
struct SendingPage<'a> {
    frame: Frame,
    view: SendingView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    said: FormState,
    asks: FormState,
    quicker: Option<Quicker>,
}

impl SendingPage<'_> {
    fn address(&self) -> String {
        address(self.view.head.job, &self.view.row.public_id)
    }

    /// How what was asked came back: its mark and its word.
    fn came_back(&self, asked: &AskedView) -> String {
        asked.came_back.map_or_else(String::new, |(mark, word)| svg::worded(mark, word))
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    list(visit, &shop, job, &FormState::blank()).await
}

async fn list(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.sendings(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Sent out").refused(form.is_refused());
    forms::show(form, &SendingsPage { frame, view, form })
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(typed): Form<Typed>) -> Answer {
    let mut state = FormState::of(&typed);
    match shop.add_sending(&doing(&visit, &state), job, &typed.into()).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/sent-out")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            list(visit, &shop, job, &state).await
        }
    }
}

/// Which form of the page came back refused.
enum CameBack {
    Said(FormState),
    Asked(FormState),
    /// Someone was quicker with what is said of it.
    Quicker(FormState),
    /// What is wrong is of neither.
    Else(FormState),
}

async fn one(visit: Visit, shop: &Shop, job: i64, sending: &str, back: Option<CameBack>) -> Answer {
    let view = shop.sending(job, sending, visit.at).await?;
    let as_it_stands = || FormState::of(&Typed { saw: Some(view.act), ..view.form.clone().into() });
    let mut quicker = None;
    let (form, said, asks) = match back {
        None => (FormState::blank(), as_it_stands(), FormState::blank()),
        Some(CameBack::Said(state)) => (state.clone(), state, FormState::blank()),
        Some(CameBack::Asked(state)) => (state.clone(), as_it_stands(), state),
        Some(CameBack::Quicker(state)) => {
            quicker = Some(Quicker::of(&state, named(&view.form)));
            let typed = state.clone().with("saw", view.act.to_string());
            (state, typed, FormState::blank())
        }
        Some(CameBack::Else(state)) => (state, as_it_stands(), FormState::blank()),
    };
    let frame = frame(visit, &view.head, &view.row.what)
        .under("Sent out", format!("/jobs/{job}/sent-out"))
        .refused(form.is_refused());
    let page = SendingPage { frame, view, form: &form, said, asks, quicker };
    quicker::show(&form, page.quicker.as_ref(), &page)
}

/// Every field by name, with its label and what stands in it.
fn named(form: &SendingForm) -> Vec<(String, String, String)> {
    let fields = [
        ("what", "What is to be done", &form.what),
        ("words", "What else is asked", &form.words),
        ("sent", "Left on", &form.sent),
        ("due", "Promised back for", &form.due),
        ("back", "Back on", &form.back),
        ("cost", "Cost", &form.cost),
        ("price", "Price", &form.price),
    ];
    fields.into_iter().map(|(name, label, stands)| (name.to_owned(), label.to_owned(), stands.clone())).collect()
}

async fn show_one(visit: Visit, State(shop): State<Shop>, Path((job, sending)): Path<(i64, String)>) -> Answer {
    one(visit, &shop, job, &sending, None).await
}

fn address(job: i64, sending: &str) -> String {
    format!("/jobs/{job}/sent-out/{sending}")
}

async fn change(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sending)): Path<(i64, String)>,
    Form(typed): Form<Typed>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let saw = typed.saw;
    match shop.change_sending(&doing(&visit, &state), job, &sending, saw, &typed.into()).await {
        Ok(()) => Ok(Redirect::to(&address(job, &sending)).into_response()),
        Err(Refused::Conflict { .. }) => one(visit, &shop, job, &sending, Some(CameBack::Quicker(state))).await,
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &sending, Some(CameBack::Said(state))).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct AskTyped {
    key: String,
    feature: String,
    asked_at: String,
    least: String,
    most: String,
}

async fn ask(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sending)): Path<(i64, String)>,
    Form(typed): Form<AskTyped>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let form = AskForm { feature: typed.feature, place: typed.asked_at, least: typed.least, most: typed.most };
    match shop.ask_of_sending(&doing(&visit, &state), job, &sending, &form).await {
        Ok(()) => Ok(Redirect::to(&address(job, &sending)).into_response()),
        Err(refused) => {
            let named = |(field, words): (String, String)| {
                (if field == "place" { "asked_at".to_owned() } else { field }, words)
            };
            state.refuse_each(refused.faults()?.map(named));
            one(visit, &shop, job, &sending, Some(CameBack::Asked(state))).await
        }
    }
}

async fn ask_no_more(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sending, asked)): Path<(i64, String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    shop.ask_no_more(&doing(&visit, &FormState::of(&form)), job, &sending, asked).await?;
    Ok(Redirect::to(&address(job, &sending)).into_response())
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sending)): Path<(i64, String)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    match shop.withdraw_sending(&doing(&visit, &state), job, &sending).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/sent-out")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &sending, Some(CameBack::Else(state))).await
        }
    }
}
