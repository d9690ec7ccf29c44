//! `/jobs/{n}/time`: time worked on a job, typed or by a clock.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::Deserialize;

use super::on_job::{doing, frame, job_address};
use crate::web::theme::inside;
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{Charged, Shop, TimeForm, TimeView};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/time", get(show).post(keep))
        .route("/jobs/{number}/time/{id}/withdraw", post(withdraw))
        .route("/jobs/{number}/clock", post(start))
        .route("/clocks/{clock}/stop", post(stop))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

/// The step that time is typed for.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    step: String,
}

#[derive(Template)]
#[template(path = "bench/time.html")]
struct TimePage<'a> {
    frame: Frame,
    view: TimeView,
    form: &'a FormState,
}

/// Whether time is charged: key and words.
pub(super) const CHARGED: [(&str, &str); 3] =
    [("charged", "Charged"), ("warranty", "Warranty"), ("own-error", "Our own error")];

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(shown): Query<Shown>) -> Answer {
    let who = visit.who.as_ref().map(|who| who.id.clone()).unwrap_or_default();
    let form = FormState::from_pairs([
        ("step".to_owned(), shown.step),
        ("person".to_owned(), who),
        ("charged".to_owned(), Charged::Charged.key().to_owned()),
    ]);
    page(visit, &shop, job, form).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: FormState) -> Answer {
    let view = shop.time(job, visit.who.as_ref().map(|who| who.id.as_str()), visit.at).await?;
    let form = if form.value("day").is_empty() { form.with("day", view.today.clone()) } else { form };
    let frame = frame(visit, &view.head, "Time").under(format!("Job {job}"), job_address(job));
    forms::show(&form, &TimePage { frame: frame.refused(form.is_refused()), view, form: &form })
}

async fn keep(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = TimeForm {
        person: text("person"),
        step: text("step"),
        day: text("day"),
        hours: text("hours"),
        rate: text("rate"),
        charged: text("charged"),
        words: text("words"),
    };
    match shop.keep_time(&doing(&visit, &state), job, &form).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/time")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, state).await
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, id)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    match shop.withdraw_time(&doing(&visit, &state), job, id).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/time")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, state).await
        }
    }
}

async fn start(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let back = inside(state.value("back")).to_owned();
    match shop.start_clock(&doing(&visit, &state), job, state.value("step")).await {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, state).await
        }
    }
}

async fn stop(visit: Visit, State(shop): State<Shop>, Path(clock): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let back = inside(state.value("back")).to_owned();
    shop.stop_clock(&doing(&visit, &state), clock).await?;
    Ok(Redirect::to(&back).into_response())
}
