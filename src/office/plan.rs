//! A job's plan: the date to tell, what decides it, what it waits for; the day promised, and why it waits, written down.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::{FormState, Frame, PageError, Visit, forms, svg};
use crate::work::{PlanAsked, PlanView, PromiseForm, Shop, WaitForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/plan", get(show))
        .route("/jobs/{number}/promises", post(promise))
        .route("/jobs/{number}/waits", post(wait))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/plan.html")]
struct PlanPage<'a> {
    frame: Frame,
    view: PlanView,
    form: &'a FormState,
    promise: FormState,
    wait: FormState,
    first: FormState,
}

impl PlanPage<'_> {
    fn picture(&self) -> String {
        self.view.picture.as_ref().map_or_else(String::new, |picture| svg::to_svg(picture, "plan", &|_| None))
    }
}

/// What else the page is asked.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    moves: String,
    first: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct PromiseTyped {
    key: String,
    day: String,
    told: String,
    sure: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct WaitTyped {
    key: String,
    step: String,
    why: String,
    words: String,
    since: String,
    expected: String,
}

/// Which form came back refused.
enum CameBack {
    Promise(FormState),
    Wait(FormState),
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(asked): Query<Asked>) -> Answer {
    page(visit, &shop, job, &asked, None).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, asked: &Asked, back: Option<CameBack>) -> Answer {
    let also = PlanAsked { moves: asked.moves == "yes", first: asked.first.parse().ok() };
    let view = shop.plan(job, also, visit.at).await?;
    let (mut promise, mut wait) = (FormState::blank(), FormState::blank());
    if let Some(told) = &view.told {
        promise = promise.with("day", told.given_day.clone());
    }
    let form = match back {
        None => FormState::blank(),
        Some(CameBack::Promise(state)) => {
            promise = state.clone();
            state
        }
        Some(CameBack::Wait(state)) => {
            wait = state.clone();
            state
        }
    };
    let frame = frame(visit, &view.head, "Plan").refused(form.is_refused());
    let page = PlanPage { frame, view, form: &form, promise, wait, first: FormState::of(asked) };
    forms::show(&form, &page)
}

async fn promise(
    visit: Visit,
    State(shop): State<Shop>,
    Path(job): Path<i64>,
    Form(typed): Form<PromiseTyped>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let form = PromiseForm { day: typed.day, words: typed.told, sure: !typed.sure.is_empty() };
    match shop.promise(&doing(&visit, &state), job, &form).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/plan#promised")).into_response()),
        Err(refused) => {
            let named =
                |(field, words): (String, String)| (if field == "words" { "told".to_owned() } else { field }, words);
            state.refuse_each(refused.faults()?.map(named));
            page(visit, &shop, job, &Asked::default(), Some(CameBack::Promise(state))).await
        }
    }
}

async fn wait(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(typed): Form<WaitTyped>) -> Answer {
    let mut state = FormState::of(&typed);
    let WaitTyped { step, why, words, since, expected, .. } = typed;
    match shop.begin_waiting(&doing(&visit, &state), job, &WaitForm { step, why, words, since, expected }).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/plan#waits")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &Asked::default(), Some(CameBack::Wait(state))).await
        }
    }
}
