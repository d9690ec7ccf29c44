//! `/jobs/{n}/quote`: what is offered, what the customer answered, changes to it, and what is done without being agreed.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::Deserialize;

use super::on_job::{doing, frame};
use super::quicker::{self, Quicker};
use crate::web::{Field, FormState, Frame, PageError, Visit};
use crate::work::{
    AgreedChangeForm, AnswerForm, Asked, HOWS, QuoteLineForm, QuoteLineView, QuoteView, Refused, Shop, TermsForm,
};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/quote", get(show).post(keep_line))
        .route("/jobs/{number}/quote/lines/{line}/withdraw", post(withdraw_line))
        .route("/jobs/{number}/quote/terms", post(keep_terms))
        .route("/jobs/{number}/quote/answer", post(answer))
        .route("/jobs/{number}/quote/changes", post(propose))
        .route("/jobs/{number}/quote/changes/{change}/answer", post(answer_change))
        .route("/jobs/{number}/quote/changes/{change}/withdraw", post(withdraw_change))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

/// The line whose form is shown.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    line: Option<i64>,
}

#[derive(Template)]
#[template(path = "office/quote.html")]
struct QuotePage<'a> {
    frame: Frame,
    view: QuoteView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    quicker: Option<Quicker>,
}

impl QuotePage<'_> {
    /// Whether lines may be changed.
    fn is_draft(&self) -> bool {
        matches!(self.view.answer.asked, Asked::NotYet | Asked::Declined)
    }

    /// A field beside the lines: as it came back refused, or as it stands.
    fn term(&self, name: &str, stands: &str) -> Field {
        let mut field = self.form.field(name);
        if !self.form.is_refused() || self.form.value("saw_terms").is_empty() {
            stands.clone_into(&mut field.value);
        }
        field
    }

    /// What can happen to the quote next: key and words.
    fn next(&self) -> &'static [(&'static str, &'static str)] {
        match self.view.answer.asked {
            Asked::NotYet => &[("sent", "Sent to him"), ("agreed", "He agreed"), ("declined", "He declined")],
            Asked::Awaited => &[("agreed", "He agreed"), ("declined", "He declined"), ("taken-back", "Taken back")],
            Asked::Agreed => &[("taken-back", "Taken back, to be drawn up anew")],
            Asked::Declined => &[("sent", "Sent to him anew"), ("taken-back", "Taken back")],
        }
    }

    /// What can happen to a change next.
    fn next_of_change(asked: &Asked) -> &'static [(&'static str, &'static str)] {
        match asked {
            Asked::NotYet => &[("sent", "Sent to him"), ("agreed", "He agreed"), ("declined", "He declined")],
            Asked::Awaited => &[("agreed", "He agreed"), ("declined", "He declined")],
            Asked::Agreed | Asked::Declined => &[],
        }
    }

    fn hows() -> Vec<(&'static str, &'static str)> {
        std::iter::once(("", "no answer yet")).chain(HOWS).collect()
    }

    /// Whether this change's form came back refused.
    fn is_of_change(&self, change: i64) -> bool {
        self.form.is_refused() && self.form.value("change") == change.to_string()
    }
}

/// A line as its form shows it.
fn as_typed(line: &QuoteLineView) -> FormState {
    let fields = [
        ("line", line.id.to_string()),
        ("saw", line.act.to_string()),
        ("step", line.form.step.clone()),
        ("text", line.form.text.clone()),
        ("hours", line.form.hours.clone()),
        ("amount", line.form.amount.clone()),
    ];
    FormState::from_pairs(fields.map(|(name, text)| (name.to_owned(), text)))
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(shown): Query<Shown>) -> Answer {
    let view = shop.quote(job, visit.at).await?;
    let line = shown.line.and_then(|id| view.lines.iter().find(|line| line.id == id));
    let form = line.map_or_else(FormState::blank, as_typed);
    lay_out(visit, view, &form, None)
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.quote(job, visit.at).await?;
    lay_out(visit, view, form, None)
}

fn lay_out(visit: Visit, view: QuoteView, form: &FormState, quicker: Option<Quicker>) -> Answer {
    let frame = frame(visit, &view.head, "Quote").refused(form.is_refused());
    let page = QuotePage { frame, view, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}

fn back_to(job: i64, at: &str) -> Response {
    Redirect::to(&format!("/jobs/{job}/quote{at}")).into_response()
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
        Ok(()) => Ok(back_to(job, at)),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop, job, &state).await
        }
    }
}

async fn keep_line(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = QuoteLineForm { step: text("step"), text: text("text"), hours: text("hours"), amount: text("amount") };
    let known = text("line").parse().ok().map(|line| (line, text("saw").parse().unwrap_or_default()));
    let done = shop.keep_quote_line(&doing(&visit, &state), job, known, &form).await;
    if let (Err(Refused::Conflict { .. }), Some((id, _))) = (&done, known) {
        let view = shop.quote(job, visit.at).await?;
        let line = view.lines.iter().find(|line| line.id == id).ok_or(PageError::NotFound)?;
        let stands = as_typed(line);
        let fields = [("text", "What is offered"), ("hours", "Hours"), ("amount", "Price")];
        let fields = fields.map(|(name, label)| (name.to_owned(), label.to_owned(), stands.value(name).to_owned()));
        let quicker = Quicker::of(&state, fields);
        let state = state.with("saw", line.act.to_string());
        return lay_out(visit, view, &state, Some(quicker));
    }
    answered(visit, &shop, job, state, done, "").await
}

async fn withdraw_line(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, line)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_quote_line(&doing(&visit, &state), job, line).await;
    answered(visit, &shop, job, state, done, "").await
}

async fn keep_terms(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let saw = state.value("saw_terms").parse().unwrap_or_default();
    let text = |name: &str| state.value(name).to_owned();
    let form = TermsForm {
        exclusions: text("exclusions"),
        without_calling: text("without_calling"),
        storage_week: text("storage_week"),
    };
    let done = shop.keep_quote_terms(&doing(&visit, &state), job, saw, &form).await;
    if let Err(Refused::Conflict { .. }) = done {
        let view = shop.quote(job, visit.at).await?;
        let fields = [
            ("exclusions", "Not contained", &view.exclusions),
            ("without_calling", "Without calling", &view.without_calling_typed),
            ("storage_week", "Storage, a week", &view.storage_week_typed),
        ];
        let fields = fields.map(|(name, label, stands)| (name.to_owned(), label.to_owned(), stands.clone()));
        let quicker = Quicker::of(&state, fields);
        let state = state.with("saw_terms", view.terms_act.to_string());
        return lay_out(visit, view, &state, Some(quicker));
    }
    answered(visit, &shop, job, state, done, "#terms").await
}

fn answer_form(state: &FormState) -> AnswerForm {
    let text = |name: &str| state.value(name).to_owned();
    AnswerForm {
        kind: text("kind"),
        day: text("day"),
        how: text("how"),
        words: text("words"),
        sure: !text("sure").is_empty(),
    }
}

async fn answer(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.answer_quote(&doing(&visit, &state), job, &answer_form(&state)).await;
    answered(visit, &shop, job, state, done, "#answer").await
}

async fn propose(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = AgreedChangeForm {
        text: text("proposed"),
        why: text("why"),
        price: text("price"),
        less: !text("less").is_empty(),
        days: text("days"),
    };
    match shop.propose_change(&doing(&visit, &state), job, &form).await {
        Ok(()) => Ok(back_to(job, "#changes")),
        Err(refused) => {
            // The quote's own line has a text on the same page.
            let named =
                |(field, words): (String, String)| (if field == "text" { "proposed".to_owned() } else { field }, words);
            state.refuse_each(refused.faults()?.map(named));
            page(visit, &shop, job, &state).await
        }
    }
}

async fn answer_change(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, change)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs).with("change", change.to_string());
    let done = shop.answer_change(&doing(&visit, &state), job, change, &answer_form(&state)).await;
    answered(visit, &shop, job, state, done, "#changes").await
}

async fn withdraw_change(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, change)): Path<(i64, i64)>,
    Form(pairs): Pairs,
) -> Answer {
    let state = FormState::from_pairs(pairs);
    let done = shop.withdraw_agreed_change(&doing(&visit, &state), job, change).await;
    answered(visit, &shop, job, state, done, "#changes").await
}
