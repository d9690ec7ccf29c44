//! A step in the plan: hours at the bench, and which steps it follows.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::errors::Conflict;
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{BeforeView, HoursForm, Refused, Shop, StepPlanView};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/plan/{step}", get(show))
        .route("/jobs/{number}/plan/{step}/hours", post(expect))
        .route("/jobs/{number}/plan/{step}/after", post(follow))
}

type At = Path<(i64, String)>;
type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/step_plan.html")]
struct StepPlanPage<'a> {
    frame: Frame,
    view: StepPlanView,
    form: &'a FormState,
    hours: FormState,
    after: FormState,
}

impl StepPlanPage<'_> {
    fn address(&self) -> String {
        format!("/jobs/{}/plan/{}", self.view.head.job, self.view.step.key)
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct HoursTyped {
    key: String,
    least: String,
    likely: String,
    most: String,
}

#[derive(Default, Deserialize)]
#[serde(default)]
struct AfterTyped {
    key: String,
    saw: Option<i64>,
    /// Keys of the steps ticked.
    after: Vec<String>,
}

/// Which form came back refused; ticks with the keys that were ticked.
enum CameBack {
    Hours(FormState),
    After(FormState, Vec<String>),
}

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, step)): At) -> Answer {
    page(visit, &shop, job, &step, None).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, step: &str, back: Option<CameBack>) -> Answer {
    let mut view = shop.step_plan(job, step, visit.at).await?;
    let HoursForm { least, likely, most } = view.hours.clone();
    let stands = || FormState::of(&HoursTyped { key: String::new(), least, likely, most });
    let (form, hours, after) = match back {
        None => (FormState::blank(), stands(), FormState::blank()),
        Some(CameBack::Hours(state)) => (state.clone(), state, FormState::blank()),
        Some(CameBack::After(state, ticked)) => {
            for before in &mut view.before {
                *before = BeforeView { follows: ticked.contains(&before.step.key), step: before.step.clone() };
            }
            (state.clone(), stands(), state)
        }
    };
    let frame = frame(visit, &view.head, &view.step.title)
        .under("Plan", format!("/jobs/{job}/plan"))
        .refused(form.is_refused());
    forms::show(&form, &StepPlanPage { frame, view, form: &form, hours, after })
}

fn plan(job: i64) -> String {
    format!("/jobs/{job}/plan#steps")
}

async fn expect(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(typed): Form<HoursTyped>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let form = HoursForm { least: typed.least, likely: typed.likely, most: typed.most };
    match shop.expect_hours(&doing(&visit, &state), job, &step, &form).await {
        Ok(()) => Ok(Redirect::to(&plan(job)).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &step, Some(CameBack::Hours(state))).await
        }
    }
}

async fn follow(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, step)): At,
    Form(typed): Form<AfterTyped>,
) -> Answer {
    let mut state = FormState::from_pairs([("key".to_owned(), typed.key)]);
    match shop.follow(&doing(&visit, &state), job, &step, typed.saw, &typed.after).await {
        Ok(()) => Ok(Redirect::to(&plan(job)).into_response()),
        Err(Refused::Conflict { stands }) => Err(PageError::Conflict(Box::new(Conflict {
            about: "this step".to_owned(),
            theirs: stands,
            yours: format!("It follows {}", typed.after.join(", ")),
            address: format!("/jobs/{job}/plan/{step}"),
        }))),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &step, Some(CameBack::After(state, typed.after))).await
        }
    }
}
