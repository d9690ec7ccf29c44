//! A job's limits: what holds, where each comes from, what was set before; set, change or lift one, with a reason.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{LimitField, LimitForm, LimitView, LimitsView, SecondField, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/limits", get(show).post(save))
        .route("/jobs/{number}/limits/second", post(read_twice))
}

/// Which limit is being set: on a finding, at a place or at every one.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Asked {
    on: String,
    place: String,
    kept: String,
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct SetForm {
    key: String,
    /// A finding feature's key.
    feature: String,
    /// A place's key; empty for every place.
    place: String,
    /// `diameter` for figures per journal diameter.
    by: String,
    least: String,
    most: String,
    condition: String,
    source: String,
    reason: String,
    /// `lift`, or else it is set.
    deed: String,
}

#[derive(Template)]
#[template(path = "office/limits.html")]
struct LimitsPage<'a> {
    frame: Frame,
    view: LimitsView,
    /// The key of the finding whose limit is being set, if any is.
    on: Option<String>,
    form: &'a FormState,
    kept: bool,
}

impl LimitsPage<'_> {
    fn of(&self, field: &LimitField) -> impl Iterator<Item = &LimitView> {
        self.view.limits.iter().filter(|limit| limit.feature == field.feature)
    }

    fn being_set(&self) -> Option<&LimitField> {
        self.view.fields.iter().find(|field| self.on.as_ref() == Some(&field.key))
    }

    /// What stands at the place being set, and can be lifted.
    fn standing(&self) -> Option<&LimitView> {
        let field = self.being_set()?;
        self.of(field).find(|limit| place_of(limit) == self.form.value("place"))
    }

    fn place(&self, limit: &LimitView) -> String {
        place_of(limit)
    }

    fn places(&self, field: &LimitField) -> Vec<(String, String)> {
        std::iter::once((String::new(), "every place".to_owned())).chain(field.places.iter().cloned()).collect()
    }

    /// The first place that has no limit of its own.
    fn next_place(&self, field: &LimitField) -> String {
        let own = |place: &str| self.of(field).any(|limit| place_of(limit) == place);
        self.places(field).into_iter().map(|(place, _)| place).find(|place| !own(place)).unwrap_or_default()
    }

    fn second_address(&self) -> String {
        format!("/jobs/{}/limits/second", self.view.head.job)
    }

    /// What a bare figure is taken for.
    fn bare(&self, field: &LimitField) -> String {
        let own = match field.unit {
            "thou" => "A bare figure is thou; one below 0.1, such as .0025, is inches.",
            "µm" => "A bare figure is µm; one below 1, such as 0.06, is mm.",
            unit => &format!("A bare figure is {unit}."),
        };
        let unit = self.view.ratio_unit;
        if field.per_diameter { format!("{own} By journal diameter it is {unit}.") } else { own.to_owned() }
    }

    fn kinds(&self, field: &LimitField) -> [(&'static str, String); 2] {
        [
            ("", format!("as they are, {}", field.unit)),
            ("diameter", format!("by journal diameter, {}", self.view.ratio_unit)),
        ]
    }
}

fn place_of(limit: &LimitView) -> String {
    limit.place_key.map_or_else(String::new, |place| place.to_string())
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let view = shop.limits(number, visit.at).await?;
    let on = if asked.on.is_empty() { None } else { Some(field(&view, &asked.on)?) };
    let stands = on.and_then(|field| {
        view.limits.iter().find(|limit| limit.feature == field.feature && place_of(limit) == asked.place)
    });
    let mut form = SetForm { feature: asked.on.clone(), place: asked.place, ..SetForm::default() };
    if let Some(limit) = stands {
        form = SetForm {
            by: if limit.per_diameter { "diameter".to_owned() } else { String::new() },
            least: limit.least.clone(),
            most: limit.most.clone(),
            condition: limit.condition.clone(),
            source: limit.source.clone(),
            ..form
        };
    }
    let on = on.map(|field| field.key.clone());
    page(visit, view, on, &FormState::of(&form), !asked.kept.is_empty())
}

async fn save(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<SetForm>,
) -> Result<Response, PageError> {
    let mut state = FormState::of(&form);
    let limit = LimitForm {
        feature: form.feature.clone(),
        place: form.place,
        per_diameter: form.by == "diameter",
        least: form.least,
        most: form.most,
        condition: form.condition,
        source: form.source,
        reason: form.reason,
        lift: form.deed == "lift",
    };
    match shop.set_limit(&doing(&visit, &state), number, &limit).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{number}/limits?kept=yes")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let view = shop.limits(number, visit.at).await?;
            let unknown = || PageError::Refused("Choose what the limit is on from the list.".to_owned());
            let on = field(&view, &form.feature).map_err(|_| unknown())?.key.clone();
            page(visit, view, Some(on), &state, false)
        }
    }
}

/// Which features are read twice: those ticked.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct SecondForm {
    pub key: String,
    pub second: Vec<String>,
}

impl SecondForm {
    /// What identifies the post.
    pub fn state(&self) -> FormState {
        FormState::from_pairs([("key".to_owned(), self.key.clone())])
    }
}

async fn read_twice(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<SecondForm>,
) -> Result<Response, PageError> {
    shop.read_twice(&doing(&visit, &form.state()), number, &form.second).await?;
    Ok(Redirect::to(&format!("/jobs/{number}/limits?kept=yes#second")).into_response())
}

/// How many of the features that can be read twice are to be.
pub(super) fn chosen(fields: &[SecondField]) -> usize {
    fields.iter().filter(|field| field.wanted).count()
}

/// The finding of this key that a limit can be set on.
fn field<'a>(view: &'a LimitsView, key: &str) -> Result<&'a LimitField, PageError> {
    view.fields.iter().find(|field| field.key == key).ok_or(PageError::NotFound)
}

fn page(
    visit: Visit,
    view: LimitsView,
    on: Option<String>,
    form: &FormState,
    kept: bool,
) -> Result<Response, PageError> {
    let frame = frame(visit, &view.head, "Limits").refused(form.is_refused());
    forms::show(form, &LimitsPage { frame, view, on, form, kept })
}
