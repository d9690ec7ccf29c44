//! One reading: what it says and what became of it; corrected, chosen, withdrawn, or moved to the job it belongs to.

use askama::Template;
use axum::Json;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::entry::asked_before;
use super::on_job::{doing, frame, job_address};
use super::refused::conflict;
use super::sheet::sheet_address;
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{Corrected, NewCorrection, OneReadingView, ReadingState, ReadingView, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/readings/{reading}", get(show))
        .route("/jobs/{number}/readings/{reading}/correct", post(correct))
        .route("/jobs/{number}/readings/{reading}/choose", post(choose))
        .route("/jobs/{number}/readings/{reading}/withdraw", post(withdraw))
        .route("/jobs/{number}/readings/{reading}/move", post(move_away))
}

/// The forms of the page that can come back refused.
#[derive(Clone, Copy, PartialEq, Eq)]
enum OneForm {
    Correct,
    Move,
}

#[derive(Template)]
#[template(path = "bench/reading.html")]
struct ReadingPage<'a> {
    frame: Frame,
    view: &'a OneReadingView,
    /// The page's own address.
    address: String,
    /// The sheet with its slot armed.
    back: String,
    /// What is asked about the correction typed.
    question: Option<String>,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    correct: FormState,
    elsewhere: FormState,
}

impl ReadingPage<'_> {
    fn stands(&self) -> bool {
        self.view.reading.state == ReadingState::Stands
    }

    /// Whether it counts or may yet.
    fn is_live(&self) -> bool {
        matches!(self.view.reading.state, ReadingState::Stands | ReadingState::Rival)
    }
}

/// What became of a reading, in words.
pub(super) const fn became(reading: &ReadingView) -> &'static str {
    match reading.state {
        ReadingState::Stands => "counts",
        ReadingState::Rival => "waits to be chosen",
        ReadingState::Corrected => "corrected",
        ReadingState::SetAside => "not chosen",
        ReadingState::Moved => "moved to another job",
        ReadingState::Withdrawn => "withdrawn",
    }
}

type At = Path<(i64, i64)>;
type Answer = Result<Response, PageError>;

fn reading_address(job: i64, number: i64) -> String {
    format!("/jobs/{job}/readings/{number}")
}

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, number)): At) -> Answer {
    page(visit, &shop, job, number, None, None).await
}

/// The page, with a form that came back and what is asked about it.
async fn page(
    visit: Visit,
    shop: &Shop,
    job: i64,
    number: i64,
    came_back: Option<(OneForm, FormState)>,
    question: Option<String>,
) -> Answer {
    let view = shop.reading(job, number, visit.at).await?;
    let blank = FormState::blank();
    let form = came_back.as_ref().map_or(&blank, |(_, form)| form);
    let state = |which: OneForm| match &came_back {
        Some((form, state)) if *form == which => state.clone(),
        _ => FormState::blank(),
    };
    let sheet = sheet_address(job, view.sheet);
    let page = ReadingPage {
        frame: frame(visit, &view.head, &format!("Reading {number}"))
            .under(format!("Job {job}"), job_address(job))
            .under(view.sheet_title, &*sheet)
            .refused(form.is_refused()),
        address: reading_address(job, number),
        back: if view.asked { format!("{sheet}?slot={}", view.slot) } else { sheet },
        question,
        form,
        correct: state(OneForm::Correct),
        elsewhere: state(OneForm::Move),
        view: &view,
    };
    forms::show(form, &page)
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct CorrectForm {
    key: String,
    value: String,
    why: String,
    /// The value that was asked about; typed again, it is kept as read.
    asked: String,
}

async fn correct(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, number)): At,
    Form(form): Form<CorrectForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    let as_read = asked_before(&form.asked, &form.value);
    let new = NewCorrection { text: form.value.clone(), why: form.why, as_read };
    match shop.correct(&doing(&visit, &state), job, number, &new).await {
        Ok(Corrected::Kept) => back_to_sheet(&visit, &shop, job, number).await,
        Ok(Corrected::Odd { question }) => {
            page(visit, &shop, job, number, Some((OneForm::Correct, state)), Some(question)).await
        }
        Err(Refused::Conflict { stands }) => {
            Err(conflict("this reading", stands, form.value, reading_address(job, number)))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, number, Some((OneForm::Correct, state)), None).await
        }
    }
}

/// A form of one button.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct PressedForm {
    key: String,
}

async fn choose(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, number)): At,
    Form(form): Form<PressedForm>,
) -> Answer {
    match shop.choose(&doing(&visit, &FormState::of(&form)), job, number).await {
        Ok(()) => back_to_sheet(&visit, &shop, job, number).await,
        Err(refused) => Err(pressed_late(refused, "Choose this reading", job, number)),
    }
}

/// That a reading is taken back, for a script.
#[derive(Serialize)]
#[serde(tag = "took", rename = "withdrawn")]
struct Withdrawn {}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, number)): At,
    Form(form): Form<PressedForm>,
) -> Answer {
    match shop.withdraw_reading(&doing(&visit, &FormState::of(&form)), job, number).await {
        Ok(()) if visit.by_script => Ok(Json(Withdrawn {}).into_response()),
        Ok(()) => back_to_sheet(&visit, &shop, job, number).await,
        Err(refused) => Err(pressed_late(refused, "Withdraw this reading", job, number)),
    }
}

fn pressed_late(refused: Refused, yours: &str, job: i64, number: i64) -> PageError {
    match refused {
        Refused::Conflict { stands } => {
            conflict("this reading", stands, yours.to_owned(), reading_address(job, number))
        }
        other => other.into(),
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct MoveForm {
    key: String,
    /// The number of the other job.
    to: String,
    /// Another field than a correction's: both forms stand on one page.
    why_moved: String,
}

async fn move_away(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, number)): At,
    Form(form): Form<MoveForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    let Ok(to) = form.to.trim().parse() else {
        state.refuse("to", "Enter the number of the other job");
        if form.why_moved.trim().is_empty() {
            state.refuse("why_moved", "Say why: such as “typed on the wrong job”");
        }
        return page(visit, &shop, job, number, Some((OneForm::Move, state)), None).await;
    };
    let done = shop.move_reading(&doing(&visit, &state), job, number, to, &form.why_moved).await;
    match done {
        Ok(()) => Ok(Redirect::to(&reading_address(job, number)).into_response()),
        Err(Refused::Conflict { stands }) => {
            let yours = format!("Move it to job {}", form.to.trim());
            Err(conflict("this reading", stands, yours, reading_address(job, number)))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, number, Some((OneForm::Move, state)), None).await
        }
    }
}

/// Back to the sheet, at the slot of the reading.
async fn back_to_sheet(visit: &Visit, shop: &Shop, job: i64, number: i64) -> Answer {
    let view = shop.reading(job, number, visit.at).await?;
    let sheet = sheet_address(job, view.sheet);
    let address = if view.asked { format!("{sheet}?at={}#slot-{}", view.slot.place, view.slot) } else { sheet };
    Ok(Redirect::to(&address).into_response())
}
