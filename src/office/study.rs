//! One repeatability study: every part by everyone, entered one figure at a time, and what follows. Read at the bench.

use std::collections::BTreeMap;

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::errors::Conflict;
use crate::web::{FormState, Frame, PageError, Visit, forms, svg};
use crate::work::{Drawing, Refused, Shop, StudyEntry, StudySpotView, StudyView};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop/studies/{id}", get(show).post(read)).route("/shop/studies/{id}/withdraw", post(withdraw))
}

/// Where to read or correct next, and what was read just now.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Asked {
    at: String,
    kept: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ReadForm {
    key: String,
    /// "part.person.trial".
    spot: String,
    /// Number of the reading that stood there; empty where none did.
    saw: String,
    value: String,
    why: String,
}

#[derive(Template)]
#[template(path = "office/study.html")]
struct StudyPage<'a> {
    frame: Frame,
    view: &'a StudyView,
    /// The place typed figures go to.
    armed: Option<&'a StudySpotView>,
    kept: Option<&'a StudySpotView>,
    form: &'a FormState,
}

impl StudyPage<'_> {
    /// Parts with their places, by person and trial, as the table's columns stand.
    fn rows(&self) -> BTreeMap<i64, Vec<&StudySpotView>> {
        let mut rows: BTreeMap<i64, Vec<&StudySpotView>> = BTreeMap::new();
        for spot in &self.view.spots {
            rows.entry(spot.part).or_default().push(spot);
        }
        for spots in rows.values_mut() {
            spots.sort_by_key(|spot| (spot.place, spot.trial));
        }
        rows
    }

    fn is_armed(&self, spot: &StudySpotView) -> bool {
        self.armed.is_some_and(|armed| armed.key == spot.key)
    }

    fn has_tolerance(&self) -> bool {
        self.view.tolerance.is_some()
    }

    fn picture(&self, drawing: &Drawing, id: &str) -> String {
        svg::to_svg(drawing, id, &|_| None)
    }
}

fn address(id: &str) -> String {
    format!("/shop/studies/{id}")
}

type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Answer {
    let view = shop.study(&id, visit.at).await?;
    let armed = if asked.at.is_empty() { view.next() } else { Some(view.spot(&asked.at).ok_or(PageError::NotFound)?) };
    page(visit, &view, armed, view.spot(&asked.kept), &FormState::blank())
}

async fn read(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>, Form(form): Form<ReadForm>) -> Answer {
    let mut state = FormState::of(&form);
    let entry = StudyEntry {
        spot: form.spot.clone(),
        text: form.value.clone(),
        saw: form.saw.trim().parse().ok(),
        why: form.why,
    };
    match shop.take_in_study(&doing(&visit, &state), &id, &entry).await {
        Ok(()) => Ok(Redirect::to(&format!("{}?kept={}#entry", address(&id), form.spot)).into_response()),
        Err(Refused::Conflict { stands }) => Err(PageError::Conflict(Box::new(Conflict {
            about: "this reading of the study".to_owned(),
            theirs: stands,
            yours: form.value,
            address: format!("{}?at={}#entry", address(&id), form.spot),
        }))),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let view = shop.study(&id, visit.at).await?;
            page(visit, &view, view.spot(&form.spot), None, &state)
        }
    }
}

/// A form of one button.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct PressedForm {
    key: String,
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(form): Form<PressedForm>,
) -> Answer {
    shop.withdraw_study(&doing(&visit, &FormState::of(&form)), &id).await?;
    Ok(Redirect::to(&address(&id)).into_response())
}

fn page(
    visit: Visit,
    view: &StudyView,
    armed: Option<&StudySpotView>,
    kept: Option<&StudySpotView>,
    form: &FormState,
) -> Answer {
    let gauge = &view.gauge;
    let frame = visit.bench("Repeatability study").under("Gauges", "/shop/gauges");
    let frame = frame.under(&*gauge.name, format!("/shop/gauges/{}/studies", gauge.id)).refused(form.is_refused());
    let armed = armed.filter(|_| !view.withdrawn);
    forms::show(form, &StudyPage { frame, view, armed, kept, form })
}
