//! A sheet to print: blank, to write on where no tablet goes, or filled with what was read.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::get;
use axum_extra::extract::Query;
use serde::Deserialize;

use super::armed;
use super::on_job::{frame, job_address};
use super::sheet::{sheet_address, sheet_of};
use super::shown;
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{PlaceView, SheetView, Shop, SlotView};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}/paper", get(show))
}

#[derive(Default, Deserialize)]
#[serde(default)]
struct Asked {
    /// Not empty: without what was read.
    blank: String,
    /// A round's number; the one that counts where none is asked for.
    round: Option<i64>,
}

#[derive(Template)]
#[template(path = "bench/sheet_paper.html")]
struct PaperPage<'a> {
    frame: Frame,
    view: &'a SheetView,
    ways: Vec<Way<'a>>,
    blank: bool,
}

/// One way of measuring as a table: places down, its readings across.
struct Way<'a> {
    name: &'a str,
    unit: &'a str,
    labels: Vec<&'a str>,
    rows: Vec<Row<'a>>,
}

/// One place.
struct Row<'a> {
    label: &'a str,
    target: &'a str,
    /// What was read; none where the place has no such reading to take.
    cells: Vec<Option<Vec<&'a str>>>,
}

impl PaperPage<'_> {
    fn places(&self) -> impl Iterator<Item = &PlaceView> {
        self.view.places.iter().filter(|place| !place.findings.is_empty())
    }
}

fn ways(view: &SheetView, blank: bool) -> Vec<Way<'_>> {
    let places: Vec<&PlaceView> = view.places.iter().filter(|place| !armed::is_whole(place)).collect();
    let slots = || places.iter().flat_map(|place| &place.slots).filter(|slot| !slot.stated);
    let mut ways: Vec<Way> = Vec::new();
    for slot in slots() {
        match ways.iter_mut().find(|way| way.name == slot.group) {
            Some(way) if way.labels.contains(&slot.label) => {}
            Some(way) => way.labels.push(slot.label),
            None => ways.push(Way { name: slot.group, unit: slot.unit, labels: vec![slot.label], rows: Vec::new() }),
        }
    }
    for way in &mut ways {
        let of_way = |place: &'_ &PlaceView| place.slots.iter().any(|slot| !slot.stated && slot.group == way.name);
        way.rows =
            places.iter().copied().filter(of_way).map(|place| row(place, way.name, &way.labels, blank)).collect();
    }
    ways
}

fn row<'a>(place: &'a PlaceView, way: &str, labels: &[&str], blank: bool) -> Row<'a> {
    let slots: Vec<&SlotView> = place.slots.iter().filter(|slot| !slot.stated && slot.group == way).collect();
    let cell = |label: &&str| {
        let slot = slots.iter().find(|slot| slot.label == *label)?;
        let read = slot.readings.iter().filter(|_| !blank).map(|reading| reading.shown.as_str());
        Some(read.collect())
    };
    Row {
        label: &place.label,
        target: slots.iter().find_map(|slot| slot.target.as_deref()).unwrap_or_default(),
        cells: labels.iter().map(cell).collect(),
    }
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let sheet = sheet_of(&sheet)?;
    let view = shop.sheet(job, sheet, asked.round, visit.at).await?;
    let blank = !asked.blank.is_empty();
    let page = PaperPage {
        frame: frame(visit, &view.head, if blank { "To write on" } else { "On paper" })
            .under(format!("Job {job}"), job_address(job))
            .under(view.title, sheet_address(job, sheet)),
        ways: ways(&view, blank),
        view: &view,
        blank,
    };
    forms::show(&FormState::blank(), &page)
}
