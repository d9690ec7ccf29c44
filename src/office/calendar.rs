//! When the shop works: hours at the bench for each weekday, how many hands, and the days it is closed.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{CalendarView, ClosureForm, Refused, Shop, WEEKDAYS, WeekForm};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/shop/calendar", get(show).post(keep))
        .route("/shop/calendar/closed", post(close))
        .route("/shop/calendar/closed/{day}/open", post(open))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/calendar.html")]
struct CalendarPage<'a> {
    frame: Frame,
    view: CalendarView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    week: FormState,
    closure: FormState,
    quicker: Option<Quicker>,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct WeekTyped {
    key: String,
    saw: i64,
    monday: String,
    tuesday: String,
    wednesday: String,
    thursday: String,
    friday: String,
    saturday: String,
    sunday: String,
    hands: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ClosureTyped {
    key: String,
    from: String,
    until: String,
    words: String,
}

/// Which form came back refused.
enum CameBack {
    Week(FormState),
    Quicker(FormState),
    Closure(FormState),
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Answer {
    page(visit, &shop, None).await
}

/// Every field of the week by name, with its label and what stands in it.
fn named(week: &WeekForm) -> Vec<(String, String, String)> {
    let hours = WEEKDAYS.iter().zip(&week.hours).map(|((name, label), hours)| (*name, *label, hours));
    let all = hours.chain([("hands", "Hands at the bench", &week.hands)]);
    all.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone())).collect()
}

async fn page(visit: Visit, shop: &Shop, back: Option<CameBack>) -> Answer {
    let view = shop.bench_calendar(visit.at).await?;
    let stands = named(&view.week);
    let as_it_stands = || {
        let fields = stands.iter().map(|(name, _, text)| (name.clone(), text.clone()));
        FormState::from_pairs(fields.chain([("saw".to_owned(), view.saw.to_string())]))
    };
    let mut quicker = None;
    let (form, week, closure) = match back {
        None => (FormState::blank(), as_it_stands(), FormState::blank()),
        Some(CameBack::Week(state)) => (state.clone(), state, FormState::blank()),
        Some(CameBack::Closure(state)) => (state.clone(), as_it_stands(), state),
        Some(CameBack::Quicker(state)) => {
            quicker = Some(Quicker::of(&state, stands.clone()));
            let week = state.clone().with("saw", view.saw.to_string());
            (state, week, FormState::blank())
        }
    };
    let frame = visit.office("Calendar").under("Shop floor", "/").under("The shop", "/shop").refused(form.is_refused());
    let page = CalendarPage { frame, view, form: &form, week, closure, quicker };
    quicker::show(&form, page.quicker.as_ref(), &page)
}

async fn keep(visit: Visit, State(shop): State<Shop>, Form(typed): Form<WeekTyped>) -> Answer {
    let mut state = FormState::of(&typed);
    let WeekTyped { monday, tuesday, wednesday, thursday, friday, saturday, sunday, hands, saw, .. } = typed;
    let form = WeekForm { hours: [monday, tuesday, wednesday, thursday, friday, saturday, sunday], hands };
    match shop.keep_week(&doing(&visit, &state), saw, &form).await {
        Ok(()) => Ok(Redirect::to("/shop/calendar").into_response()),
        Err(Refused::Conflict { .. }) => page(visit, &shop, Some(CameBack::Quicker(state))).await,
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, Some(CameBack::Week(state))).await
        }
    }
}

async fn close(visit: Visit, State(shop): State<Shop>, Form(typed): Form<ClosureTyped>) -> Answer {
    let mut state = FormState::of(&typed);
    let form = ClosureForm { from: typed.from, until: typed.until, words: typed.words };
    match shop.close_days(&doing(&visit, &state), &form).await {
        Ok(()) => Ok(Redirect::to("/shop/calendar#closed").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, Some(CameBack::Closure(state))).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct OpenForm {
    key: String,
}

async fn open(visit: Visit, State(shop): State<Shop>, Path(day): Path<String>, Form(form): Form<OpenForm>) -> Answer {
    shop.open_day(&doing(&visit, &FormState::of(&form)), &day).await?;
    Ok(Redirect::to("/shop/calendar#closed").into_response())
}
