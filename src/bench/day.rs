//! `/time`: the end of the day. What somebody did proposes hours; they are adjusted and kept all at once.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::{Form, Query};
use serde::Deserialize;

use super::on_job::doing;
use super::time::CHARGED;
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{DayEntry, DayView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/time", get(show).post(keep))
}

type Answer = Result<Response, PageError>;

/// Whose day, and which.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    person: String,
    day: String,
}

#[derive(Template)]
#[template(path = "bench/day.html")]
struct DayPage<'a> {
    frame: Frame,
    view: DayView,
    form: &'a FormState,
}

impl DayPage<'_> {
    fn is_chosen(&self, id: &str) -> bool {
        self.view.person.as_ref().is_some_and(|(own, _)| own == id)
    }

    /// The field of a row's hours: what was typed, or what is proposed.
    fn hours(&self, at: &usize) -> Field {
        let field = self.form.field(&format!("hours-{at}"));
        let proposed = self.view.rows.get(*at).map(|row| row.hours.clone()).unwrap_or_default();
        if self.form.is_refused() { field } else { Field { value: proposed, ..field } }
    }

    fn charged(&self, at: &usize) -> Field {
        let field = self.form.field(&format!("charged-{at}"));
        if self.form.is_refused() { field } else { Field { value: "charged".to_owned(), ..field } }
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(shown): Query<Shown>) -> Answer {
    let own = visit.who.as_ref().map(|who| who.id.clone()).unwrap_or_default();
    let person = if shown.person.is_empty() { own } else { shown.person };
    page(visit, &shop, &person, &shown.day, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, person: &str, day: &str, form: &FormState) -> Answer {
    let view = shop.end_of_day(Some(person), day, visit.at).await?;
    let frame = visit.bench("End of the day").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &DayPage { frame, view, form })
}

async fn keep(visit: Visit, State(shop): State<Shop>, Form(pairs): Form<Vec<(String, String)>>) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let entry = |at: usize| {
        let job = state.value(&format!("job-{at}")).parse().ok()?;
        let text = |name: &str| state.value(&format!("{name}-{at}")).to_owned();
        let (step, hours, charged) = (text("step"), text("hours"), text("charged"));
        Some(DayEntry { field: format!("hours-{at}"), job, step, hours, charged })
    };
    let entries: Vec<DayEntry> = (0..).map_while(entry).collect();
    let (person, day) = (state.value("person").to_owned(), state.value("day").to_owned());
    match shop.keep_day(&doing(&visit, &state), &person, &day, &entries).await {
        Ok(()) => Ok(Redirect::to(&format!("/time?person={person}&day={day}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &person, &day, &state).await
        }
    }
}
