//! A sheet at the bench: the engine as the map, the slots of one place beside it, and what follows from them.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::get;
use axum_extra::extract::Query;
use serde::Deserialize;

use super::armed::{self, Armed};
use super::columns;
use super::on_job::{frame, job_address, step_address};
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit, svg};
use crate::work::{
    GaugeChoice, PlaceView, ReadingView, RoundView, SheetKey, SheetView, Shop, SlotKey, SlotView, TemperaturesForm,
};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/sheets/{sheet}", get(show))
}

/// What of the sheet is asked for; what is empty goes by what was read last.
#[derive(Clone, Default, Deserialize)]
#[serde(default)]
pub(super) struct Asked {
    /// A place's key.
    at: String,
    /// The slot that the entry field is for.
    slot: String,
    /// A round's number; the one that counts where none is asked for.
    round: String,
    /// Number of the reading just kept.
    kept: String,
    /// The value that was asked about and is read again.
    #[serde(rename = "asked")]
    questioned: String,
}

impl Asked {
    /// The page with the entry field on a slot.
    pub fn slot(slot: &str) -> Self {
        Self { slot: slot.to_owned(), ..Self::default() }
    }

    /// The address of the sheet's page as it is asked for.
    pub fn address(&self, sheet: &str) -> String {
        let slot = SlotKey::parse(&self.slot);
        if slot.is_retired() { sheet.to_owned() } else { format!("{sheet}?slot={slot}#entry") }
    }

    fn round(&self) -> Result<Option<i64>, PageError> {
        if self.round.is_empty() {
            return Ok(None);
        }
        self.round.parse().map(Some).map_err(|_| PageError::NotFound)
    }
}

/// The forms of the page that can come back.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum SheetForm {
    Reading,
    Round,
    Gauge,
    Temperatures,
}

/// A form that came back, with what is asked about it.
pub(super) struct CameBack {
    pub which: SheetForm,
    pub form: FormState,
    /// The reading looks odd: keep it as read, or read again.
    pub question: Option<String>,
}

#[derive(Template)]
#[template(path = "bench/sheet.html")]
struct SheetPage<'a> {
    frame: Frame,
    view: &'a SheetView,
    address: String,
    place: &'a PlaceView,
    armed: Option<Armed<'a>>,
    walk: String,
    kept: Option<(String, &'a ReadingView)>,
    question: Option<String>,
    /// The value that was asked about and is read again.
    asked: &'a str,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    entry: FormState,
    round: FormState,
    gauge: FormState,
    temperatures: FormState,
    /// Whether somebody has come here to type: the field takes the focus.
    typing: bool,
}

/// The slots of a place that belong to one route.
struct Route<'a> {
    name: &'a str,
    slots: Vec<&'a SlotView>,
}

impl Route<'_> {
    fn title(&self) -> &str {
        if self.slots.iter().all(|slot| slot.stated) { "in one figure, or checked good" } else { self.name }
    }

    fn read(&self) -> usize {
        self.slots.iter().filter(|slot| slot.saw.is_some() || slot.read_elsewhere.is_some()).count()
    }

    /// The unit of all its slots, to stand above their figures.
    fn unit(&self) -> &str {
        let first = self.slots.first().map_or("", |slot| slot.unit);
        if self.slots.iter().all(|slot| slot.unit == first) { first } else { "" }
    }

    /// Its figures, one under the other.
    fn column(&self) -> columns::Column {
        columns::Column::of(self.slots.iter().flat_map(|slot| &slot.readings).map(|reading| reading.shown.as_str()))
    }

    fn undecided(&self) -> bool {
        self.slots.iter().any(|slot| !slot.rivals.is_empty())
    }
}

impl SheetPage<'_> {
    fn job(&self) -> i64 {
        self.view.head.job
    }

    /// Whether readings go into the round that is shown.
    fn counts(&self) -> bool {
        self.view.shown.as_ref().is_none_or(|round| round.counts)
    }

    fn routes(&self) -> Vec<Route<'_>> {
        let mut routes: Vec<Route> = Vec::new();
        for slot in &self.place.slots {
            match routes.iter_mut().find(|route| route.name == slot.group) {
                Some(route) => route.slots.push(slot),
                None => routes.push(Route { name: slot.group, slots: vec![slot] }),
            }
        }
        routes
    }

    /// Whether a route lies open: it is gone on with, or something was read by it.
    fn lies_open(&self, route: &Route) -> bool {
        let armed = self.armed.is_some_and(|armed| armed.slot.group == route.name);
        armed || route.read() > 0 || self.place.slots.iter().all(|slot| slot.group == route.name)
    }

    fn is_armed(&self, slot: &SlotView) -> bool {
        self.armed.is_some_and(|armed| armed.slot.key == slot.key)
    }

    /// The place that speaks for all.
    fn whole(&self) -> Option<&PlaceView> {
        self.view.places.iter().find(|place| armed::is_whole(place))
    }

    /// Whether readings of single places are being taken.
    fn is_read_one_by_one(&self) -> bool {
        self.view.places.iter().flat_map(|place| &place.slots).any(|slot| !slot.stated && slot.saw.is_some())
    }

    /// The places before and after this one.
    fn neighbours(&self) -> (Option<&PlaceView>, Option<&PlaceView>) {
        let places: Vec<&PlaceView> = self.view.places.iter().filter(|place| !armed::is_whole(place)).collect();
        let here = places.iter().position(|place| place.key == self.place.key);
        let beside = |step: isize| here.and_then(|here| places.get(here.checked_add_signed(step)?).copied());
        (beside(-1), beside(1))
    }

    fn at(&self, place: &str) -> String {
        match self.view.shown.as_ref().filter(|round| !round.counts) {
            Some(round) => format!("{}?at={place}&round={}", self.address, round.number),
            None => format!("{}?at={place}", self.address),
        }
    }

    fn arm(&self, slot: &SlotView) -> String {
        format!("{}?slot={}#entry", self.address, slot.key)
    }

    fn plan(&self) -> String {
        svg::map(&self.view.plan, "plan", &|key| Some(self.at(key)), Some(&self.place.key))
    }

    fn column(&self) -> Option<String> {
        self.view.column.as_ref().map(|drawing| svg::to_svg(drawing, "scale", &|_| None))
    }

    fn picture(&self) -> Option<String> {
        self.place.picture.as_ref().map(|drawing| svg::to_svg(drawing, "shape", &|_| None))
    }

    fn is_shown(&self, round: &RoundView) -> bool {
        self.view.shown.as_ref().is_some_and(|shown| shown.number == round.number)
    }

    /// Where a photo is kept as the record of a round.
    fn record_address(&self, round: &RoundView) -> String {
        let step = match &self.view.steps[..] {
            [(step, _)] => format!("step={step}&"),
            _ => String::new(),
        };
        format!("/jobs/{}/photos?{step}sheet={}&round={}", self.job(), self.view.sheet.key(), round.number)
    }

    /// What the figures of this place are good to, and why: title and budget.
    fn budgets(&self) -> Vec<(&str, &str)> {
        let known = self.place.findings.iter().filter(|finding| !finding.budget.is_empty());
        known.map(|finding| (finding.title.as_str(), finding.budget.as_str())).collect()
    }

    /// The newest settings of gauges, and those before.
    fn settings(&self) -> (&[String], &[String]) {
        self.view.settings.split_at(self.view.settings.len().min(2))
    }

    fn gauges(&self) -> Vec<(&str, &str)> {
        let choose = std::iter::once(("", "Choose"));
        choose.chain(self.known_gauges()).collect()
    }

    /// What a gauge can be zeroed in.
    fn masters(&self) -> Vec<(&str, &str)> {
        std::iter::once(("", "no gauge of the shop")).chain(self.known_gauges()).collect()
    }

    fn known_gauges(&self) -> impl Iterator<Item = (&str, &str)> {
        self.view.gauges.iter().map(|GaugeChoice { id, name }| (id.as_str(), name.as_str()))
    }
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, sheet)): Path<(i64, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    page(visit, &shop, job, sheet_of(&sheet)?, &asked, None).await
}

/// The sheet of an address.
pub(super) fn sheet_of(key: &str) -> Result<SheetKey, PageError> {
    SheetKey::from_key(key).ok_or(PageError::NotFound)
}

/// The address of a sheet's page.
pub(super) fn sheet_address(job: i64, sheet: SheetKey) -> String {
    format!("/jobs/{job}/sheets/{}", sheet.key())
}

/// The page, with the form that came back.
pub(super) async fn page(
    visit: Visit,
    shop: &Shop,
    job: i64,
    sheet: SheetKey,
    asked: &Asked,
    came_back: Option<CameBack>,
) -> Result<Response, PageError> {
    let view = shop.sheet(job, sheet, asked.round()?, visit.at).await?;
    let (place, armed) = whereabouts(&view, asked)?;
    let counts = view.shown.as_ref().is_none_or(|round| round.counts);
    let armed = armed.filter(|_| counts);
    let walk = armed.map(|armed| armed::walk(&view, armed)).transpose().map_err(PageError::failed)?;
    let blank = FormState::blank();
    let form = came_back.as_ref().map_or(&blank, |back| &back.form);
    let state = |which: SheetForm| match &came_back {
        Some(back) if back.which == which => back.form.clone(),
        _ => FormState::blank(),
    };
    let mut frame = frame(visit, &view.head, view.title).under(format!("Job {job}"), job_address(job));
    if let [(step, title)] = &view.steps[..] {
        frame = frame.under(title, step_address(job, step)).at_step(step);
    }
    let page = SheetPage {
        frame: frame.refused(form.is_refused()),
        address: sheet_address(job, sheet),
        place,
        armed,
        walk: walk.unwrap_or_default(),
        kept: kept(&view, asked),
        asked: &asked.questioned,
        question: came_back.as_ref().and_then(|back| back.question.clone()),
        form,
        entry: state(SheetForm::Reading),
        round: state(SheetForm::Round),
        gauge: state(SheetForm::Gauge),
        temperatures: match state(SheetForm::Temperatures) {
            refused if refused.is_refused() => refused,
            _ => temperatures(&view.temperatures.form),
        },
        typing: !asked.slot.is_empty() && !form.is_refused(),
        view: &view,
    };
    forms::show(form, &page)
}

/// The temperatures that are noted, in their form.
fn temperatures(noted: &TemperaturesForm) -> FormState {
    let fields = [("parts_at", &noted.parts), ("gauge_at", &noted.gauge)];
    FormState::from_pairs(fields.map(|(name, text)| (name.to_owned(), text.clone())))
}

/// The place shown and the slot armed.
fn whereabouts<'a>(view: &'a SheetView, asked: &Asked) -> Result<(&'a PlaceView, Option<Armed<'a>>), PageError> {
    if !asked.slot.is_empty() {
        let armed = armed::find(view, &SlotKey::parse(&asked.slot)).ok_or(PageError::NotFound)?;
        return Ok((armed.place, Some(armed)));
    }
    if !asked.at.is_empty() {
        let place = view.places.iter().find(|place| place.key == asked.at).ok_or(PageError::NotFound)?;
        return Ok((place, armed::at(view, place)));
    }
    if let Some(armed) = view.armed.as_ref().and_then(|key| armed::find(view, key)) {
        return Ok((armed.place, Some(armed)));
    }
    let first = view.places.iter().find(|place| !armed::is_whole(place)).or(view.places.first());
    first.map(|place| (place, None)).ok_or(PageError::NotFound)
}

/// The reading just kept, with its place and slot in words.
fn kept<'a>(view: &'a SheetView, asked: &Asked) -> Option<(String, &'a ReadingView)> {
    let number: i64 = asked.kept.parse().ok()?;
    let slots = view.places.iter().flat_map(|place| place.slots.iter().map(move |slot| (place, slot)));
    let mut readings = slots.flat_map(|(place, slot)| slot.readings.iter().map(move |reading| (place, slot, reading)));
    let (place, slot, reading) = readings.find(|(.., reading)| reading.number == number)?;
    Some((format!("{}, {}", place.label, slot.label), reading))
}
