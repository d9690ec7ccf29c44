//! Notes to a job or one of its steps.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::attached::{Attached, StepAsked, address, kept, refused};
use super::on_job::doing;
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::Shop;

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/notes", get(show).post(add))
        .route("/jobs/{number}/notes/{note}/withdraw", post(withdraw))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct NoteForm {
    key: String,
    step: String,
    text: String,
    /// "phone" on the phone's page.
    on: String,
}

#[derive(Template)]
#[template(path = "bench/notes.html")]
struct NotesPage<'a> {
    frame: Frame,
    of: Attached,
    form: &'a FormState,
}

type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(asked): Query<StepAsked>) -> Answer {
    page(visit, &shop, job, &FormState::of(&asked)).await
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(form): Form<NoteForm>) -> Answer {
    let mut state = FormState::of(&form);
    let asked = StepAsked { step: form.step };
    match shop.add_note(&doing(&visit, &state), job, asked.key(), &form.text).await {
        Ok(()) if form.on == "phone" => Ok(kept(&visit, &with_step(&format!("/jobs/{job}/phone"), &asked))),
        Ok(()) => Ok(kept(&visit, &address(job, asked.key()))),
        Err(why) => {
            state.refuse_each(why.faults()?);
            match refused(&visit, &state) {
                Some(answer) => Ok(answer),
                None => page(visit, &shop, job, &state).await,
            }
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, note)): Path<(i64, i64)>,
    Form(form): Form<NoteForm>,
) -> Answer {
    let state = FormState::of(&form);
    let asked = StepAsked { step: form.step };
    shop.withdraw_note(&doing(&visit, &state), job, note).await?;
    Ok(kept(&visit, &with_step(&format!("/jobs/{job}/notes"), &asked)))
}

fn with_step(page: &str, asked: &StepAsked) -> String {
    asked.key().map_or_else(|| page.to_owned(), |key| format!("{page}?step={key}"))
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let asked = StepAsked { step: form.value("step").to_owned() };
    let of = Attached::load(shop, job, asked.key(), visit.at).await?;
    let frame = of.frame(visit, "Notes").refused(form.is_refused());
    forms::show(form, &NotesPage { frame, of, form })
}
