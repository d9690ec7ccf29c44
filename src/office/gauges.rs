//! The shop's gauges: what each is, and what a bare "+2" means on it.

use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::server::DOCUMENT;
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{FieldFault, GaugeForm, GaugeKind, GaugeView, Photo, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    let certificate = post(certify).layer(DefaultBodyLimit::max(DOCUMENT));
    Router::new()
        .route("/shop/gauges", get(list).post(add))
        .route("/shop/gauges/{id}", get(show).post(change))
        .route("/shop/gauges/{id}/certificate", certificate)
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
    range_low: String,
    range_high: String,
    resolution: String,
    permissible_error: String,
    calibrated: String,
    due: String,
}

impl OneForm {
    fn typed(&self) -> GaugeForm {
        GaugeForm {
            name: self.name.clone(),
            kind: self.kind.clone(),
            serial: self.serial.clone(),
            step: self.step.clone(),
            range_low: self.range_low.clone(),
            range_high: self.range_high.clone(),
            resolution: self.resolution.clone(),
            permissible_error: self.permissible_error.clone(),
            calibrated: self.calibrated.clone(),
            due: self.due.clone(),
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

    /// Of the gauge that is changed: its certificate's file.
    fn certificate(&self) -> Option<&str> {
        let (id, _) = self.changes.as_ref()?;
        find(&self.gauges, id).ok()?.certificate.as_deref()
    }

    fn kinds() -> Vec<(&'static str, &'static str)> {
        let known = GaugeKind::ALL.into_iter().map(|kind| (kind.key(), kind.word()));
        std::iter::once(("", "choose")).chain(known).collect()
    }
}

async fn list(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let gauges = shop.gauges(visit.at).await?;
    page(visit, gauges, None, &FormState::blank(), None)
}

async fn add(visit: Visit, State(shop): State<Shop>, Form(form): Form<OneForm>) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    match shop.keep_gauge(&doing(&visit, &state), None, &form.typed()).await {
        Ok(()) => Ok(Redirect::to("/shop/gauges").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let gauges = shop.gauges(visit.at).await?;
            page(visit, gauges, None, &state, None)
        }
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>) -> Result<Response, PageError> {
    one(visit, &shop, id, None).await
}

/// One gauge as it stands, with what is wrong with its certificate.
pub(super) async fn one(
    visit: Visit,
    shop: &Shop,
    id: String,
    certificate: Option<Refused>,
) -> Result<Response, PageError> {
    let gauges = shop.gauges(visit.at).await?;
    let gauge = find(&gauges, &id)?;
    let mut form = FormState::from_pairs(named(gauge).into_iter().map(|(name, _, text)| (name, text)));
    if let Some(refused) = certificate {
        form.refuse_each(refused.faults()?);
    }
    let changes = Some((id, gauge.saw));
    page(visit, gauges, changes, &form, None)
}

/// Keeps a certificate: the page's other form is of the gauge itself.
async fn certify(
    visit: Visit,
    State(shop): State<Shop>,
    Path(id): Path<String>,
    parts: Multipart,
) -> Result<Response, PageError> {
    let (form, files) = forms::with_files(parts, "certificate").await?;
    let doing = doing(&visit, &form);
    let Some((name, bytes)) = files.into_iter().next() else {
        let none = Refused::Faults(vec![FieldFault::new("certificate", "choose the file of the certificate")]);
        return one(visit, &shop, id, Some(none)).await;
    };
    match shop.keep_certificate(&doing, &id, Photo { name, bytes }).await {
        Ok(()) => Ok(Redirect::to(&format!("/shop/gauges/{id}")).into_response()),
        Err(refused) => one(visit, &shop, id, Some(refused)).await,
    }
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
            let gauges = shop.gauges(visit.at).await?;
            let gauge = find(&gauges, &id)?;
            let (quicker, changes) = (Quicker::of(&state, named(gauge)), Some((id, gauge.saw)));
            page(visit, gauges, changes, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let gauges = shop.gauges(visit.at).await?;
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
    let form = &gauge.form;
    let fields = [
        ("name", "Name", &form.name),
        ("kind", "Kind", &form.kind),
        ("serial", "Serial", &form.serial),
        ("step", "A bare +2", &form.step),
        ("range_low", "Measures from", &form.range_low),
        ("range_high", "Measures to", &form.range_high),
        ("resolution", "Reads to", &form.resolution),
        ("permissible_error", "Error at most", &form.permissible_error),
        ("calibrated", "Calibrated", &form.calibrated),
        ("due", "Due", &form.due),
    ];
    fields.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone())).to_vec()
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
