//! The shop's gauges: what each is, and what a bare "+2" means on it.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{GaugeForm, GaugeKind, GaugeView, Refused, STEP_UNITS, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/shop/gauges", get(list).post(add)).route("/shop/gauges/{id}", get(show).post(change))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct OneForm {
    key: String,
    saw: i64,
    name: String,
    kind: String,
    serial: String,
    step: String,
}

impl OneForm {
    fn typed(&self) -> GaugeForm {
        GaugeForm {
            name: self.name.clone(),
            kind: self.kind.clone(),
            serial: self.serial.clone(),
            step: self.step.clone(),
        }
    }
}

/// The list with a form to add one, or one gauge with a form to change it.
#[derive(Template)]
#[template(path = "office/gauges.html")]
struct GaugesPage<'a> {
    frame: Frame,
    gauges: Vec<GaugeView>,
    /// The gauge that is changed, by its public id, and the act its form saw.
    changes: Option<(String, i64)>,
    form: &'a FormState,
    quicker: Option<Quicker>,
}

impl GaugesPage<'_> {
    const STEPS: [(&'static str, &'static str, &'static str); 3] = [
        ("thou", "Thou", "+2 is 0.002 in above what it is set to"),
        ("tenth", "Tenths", "+2 is 0.0002 in above what it is set to"),
        ("micrometre", "Micrometres", "+2 is 0.002 mm above what it is set to"),
    ];

    fn kinds() -> Vec<(&'static str, &'static str)> {
        let known = GaugeKind::ALL.into_iter().map(|kind| (kind.key(), kind.word()));
        std::iter::once(("", "choose")).chain(known).collect()
    }
}

async fn list(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let gauges = shop.gauges().await?;
    page(visit, gauges, None, &FormState::blank(), None)
}

async fn add(visit: Visit, State(shop): State<Shop>, Form(form): Form<OneForm>) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    match shop.keep_gauge(&doing(&visit, &state), None, &form.typed()).await {
        Ok(()) => Ok(Redirect::to("/shop/gauges").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop.gauges().await?, None, &state, None)
        }
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>) -> Result<Response, PageError> {
    let gauges = shop.gauges().await?;
    let gauge = find(&gauges, &id)?;
    let form = FormState::from_pairs(named(gauge).into_iter().map(|(name, _, text)| (name, text)));
    let changes = Some((id, gauge.saw));
    page(visit, gauges, changes, &form, None)
}

async fn change(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    Form(form): Form<OneForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    match shop.keep_gauge(&doing(&visit, &state), Some((&id, form.saw)), &form.typed()).await {
        Ok(()) => Ok(Redirect::to("/shop/gauges").into_response()),
        Err(Refused::Conflict { .. }) => {
            let gauges = shop.gauges().await?;
            let gauge = find(&gauges, &id)?;
            let (quicker, changes) = (Quicker::of(&state, named(gauge)), Some((id, gauge.saw)));
            page(visit, gauges, changes, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let gauges = shop.gauges().await?;
            find(&gauges, &id)?;
            page(visit, gauges, Some((id, form.saw)), &state, None)
        }
    }
}

/// What a bare +2 is on a gauge: "2 tenths".
pub(super) fn two(gauge: &GaugeView) -> String {
    gauge.step.show(gauge.step.to_si(2.0), 0)
}

fn find<'a>(gauges: &'a [GaugeView], id: &str) -> Result<&'a GaugeView, PageError> {
    gauges.iter().find(|gauge| gauge.id == id).ok_or(PageError::NotFound)
}

/// Every field by name, with its label and what stands in it.
fn named(gauge: &GaugeView) -> Vec<(String, String, String)> {
    let step = STEP_UNITS.into_iter().find(|(_, unit)| *unit == gauge.step).map_or("", |(key, _)| key);
    let fields = [
        ("name", "Name", gauge.name.as_str()),
        ("kind", "Kind", gauge.kind.key()),
        ("serial", "Serial", gauge.serial.as_str()),
        ("step", "A bare +2", step),
    ];
    fields.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.to_owned())).to_vec()
}

fn page(
    visit: Visit,
    gauges: Vec<GaugeView>,
    changes: Option<(String, i64)>,
    form: &FormState,
    quicker: Option<Quicker>,
) -> Result<Response, PageError> {
    let above = |title: &str| visit.office(title).under("Shop floor", "/").under("The shop", "/shop");
    let frame = match &changes {
        Some(_) => above("Change a gauge").under("Gauges", "/shop/gauges"),
        None => above("Gauges"),
    };
    let page = GaugesPage { frame: frame.refused(form.is_refused()), gauges, changes, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}
