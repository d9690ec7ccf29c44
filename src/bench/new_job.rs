//! A new job in half a minute, as on the phone: who, what it is, what he wants; layout, cylinders and mains.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, job_address};
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{NewJob, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/new", get(show).post(open))
}

/// The form as posted, and what an address can start it from: `?family=` or `?engine_of=&kind=refresh`.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct NewJobForm {
    key: String,
    name: String,
    phone: String,
    title: String,
    wants: String,
    family: String,
    layout: String,
    /// One of the numbers to tap.
    cylinders: String,
    /// Another number than those to tap.
    other_cylinders: String,
    mains: String,
    other_mains: String,
    unit: String,
    /// Number of the job this engine was built in before.
    engine_of: String,
    kind: String,
}

impl NewJobForm {
    fn parsed(&self) -> NewJob {
        let number = |tapped: &String, other: &String| if other.trim().is_empty() { tapped } else { other }.clone();
        NewJob {
            name: self.name.clone(),
            phone: self.phone.clone(),
            title: self.title.clone(),
            wants: self.wants.clone(),
            family: self.family.clone(),
            layout: self.layout.clone(),
            cylinders: number(&self.cylinders, &self.other_cylinders),
            mains: number(&self.mains, &self.other_mains),
            unit: self.unit.clone(),
            engine_of: self.engine_of.clone(),
            kind: self.kind.clone(),
        }
    }
}

type Choices = &'static [(&'static str, &'static str)];

#[derive(Template)]
#[template(path = "bench/new_job.html")]
struct NewJobPage<'a> {
    frame: Frame,
    form: &'a FormState,
    /// Public id and name with engine.
    families: Vec<(String, String)>,
}

impl NewJobPage<'_> {
    const LAYOUTS: Choices = &[("inline", "inline"), ("vee", "vee"), ("opposed", "opposed")];
    const CYLINDERS: Choices = &[
        ("1", "1"),
        ("2", "2"),
        ("3", "3"),
        ("4", "4"),
        ("5", "5"),
        ("6", "6"),
        ("8", "8"),
        ("10", "10"),
        ("12", "12"),
    ];
    const MAINS: Choices = &[("2", "2"), ("3", "3"), ("4", "4"), ("5", "5"), ("6", "6"), ("7", "7"), ("9", "9")];
    const UNITS: Choices = &[("inch", "inch"), ("millimetre", "millimetre")];
    const KINDS: Choices = &[("refresh", "refresh"), ("repair", "repair"), ("new", "new build")];

    /// Whether it is an engine that has been here before.
    fn comes_back(&self) -> bool {
        ["engine_of", "kind"].iter().any(|name| {
            let field = self.form.field(name);
            field.fault.is_some() || !field.value.is_empty()
        })
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Query(start): Query<NewJobForm>) -> Result<Response, PageError> {
    page(visit, &shop, &FormState::of(&start)).await
}

async fn open(visit: Visit, State(shop): State<Shop>, Form(form): Form<NewJobForm>) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    match shop.open_job(&doing(&visit, &state), &form.parsed()).await {
        Ok(number) => Ok(Redirect::to(&job_address(number)).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &state).await
        }
    }
}

async fn page(visit: Visit, shop: &Shop, form: &FormState) -> Result<Response, PageError> {
    let kept =
        shop.families().await?.into_iter().map(|family| (family.id, format!("{}: {}", family.name, family.engine)));
    let families = [(String::new(), "none".to_owned())].into_iter().chain(kept).collect();
    let frame = visit.bench("New job").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &NewJobPage { frame, form, families })
}
