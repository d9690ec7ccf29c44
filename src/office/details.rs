//! A job's details: everything that comes later than the phone call. All of it is one form, saved at once.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use super::quicker::{self, Quicker};
use crate::web::token::is_token;
use crate::web::{FormState, Frame, PageError, Visit, svg};
use crate::work::{FactGroup, FactKey, JobForm, JobFormView, Material, Refused, Shop, TargetField, TargetGroup};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/details", get(show).post(save))
        .route("/jobs/{number}/close", post(close))
        .route("/jobs/{number}/reopen", post(reopen))
}

/// Whether the page follows a save.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Shown {
    kept: String,
}

/// A form with nothing but a button.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct ButtonForm {
    key: String,
}

/// How limits can be decided: key, word, what it means.
pub(super) const RULES: [(&str, &str, &str); 2] = [
    (
        "simple",
        "Simple",
        "in is good, out is out; where the limit lies within what the gauge can tell, that is said beside it",
    ),
    (
        "guarded",
        "Guarded",
        "where the limit lies within what the gauge can tell, the verdict is “on the line”, neither good nor out",
    ),
];

#[derive(Template)]
#[template(path = "office/details.html")]
struct DetailsPage<'a> {
    frame: Frame,
    view: JobFormView,
    /// The act that the form saw.
    saw: i64,
    form: &'a FormState,
    quicker: Option<Quicker>,
    kept: bool,
}

impl DetailsPage<'_> {
    const RULES: [(&'static str, &'static str, &'static str); 2] = RULES;
    const PINS: [(&'static str, &'static str); 2] = [("single", "each on its own"), ("shared", "two on one pin")];
    const UNITS: [(&'static str, &'static str); 2] = [("inch", "inch and thou"), ("millimetre", "mm and µm")];
    const GROUPS: [(FactGroup, &'static str, &'static str); 4] = [
        (FactGroup::Engine, "The engine, in words", "Beside what is measured and aimed at."),
        (FactGroup::SetTo, "Set it to", "The large box of the card: what whoever fits and tunes it needs."),
        (FactGroup::RunIn, "Run-in", "Five lines, in the order they are done."),
        (FactGroup::Promise, "Warranty and note", "A warranty left empty is the shop's own."),
    ];

    fn materials() -> Vec<(&'static str, &'static str)> {
        let known = Material::ALL.into_iter().map(|material| (material.key(), material.word()));
        std::iter::once(("", "not known yet")).chain(known).collect()
    }

    /// Targets for all places by what they are of; a group is unfolded where any is set or refused, the first always.
    fn targets(&self) -> Vec<(&'static str, Vec<&TargetField>, bool)> {
        let of = |group: TargetGroup| {
            let of_group = |target: &&TargetField| !target.by_place && target.group == group;
            let targets: Vec<&TargetField> = self.view.targets.iter().filter(of_group).collect();
            let open = group == TargetGroup::Bores || targets.iter().any(|target| self.is_open(target));
            (group.title(), targets, open)
        };
        TargetGroup::ALL.into_iter().map(of).collect()
    }

    fn is_open(&self, target: &TargetField) -> bool {
        let field = self.form.field(&target.key);
        !field.value.is_empty() || field.fault.is_some()
    }

    /// Targets of single places under what they are of; where any is set or refused, they are shown unfolded.
    fn targets_by_place(&self) -> Vec<(String, Vec<&TargetField>, bool)> {
        let mut groups: Vec<(String, Vec<&TargetField>, bool)> = Vec::new();
        for target in self.view.targets.iter().filter(|target| target.by_place) {
            let what = target.label.split(',').next().unwrap_or_default().to_owned();
            let open = self.is_open(target);
            match groups.last_mut().filter(|(known, ..)| *known == what) {
                Some((_, targets, any)) => {
                    targets.push(target);
                    *any |= open;
                }
                None => groups.push((what, vec![target], open)),
            }
        }
        groups
    }

    fn facts(&self, group: &FactGroup) -> impl Iterator<Item = &FactKey> {
        self.view.facts.iter().map(|(fact, _)| fact).filter(move |fact| fact.group == *group)
    }

    fn plan(&self) -> String {
        svg::to_svg(&self.view.plan, "numbering", &|_| None)
    }
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Query(shown): Query<Shown>,
) -> Result<Response, PageError> {
    let view = shop.job_form(number, visit.at).await?;
    let form = FormState::from_pairs(named(&view).into_iter().map(|(name, _, text)| (name, text)));
    let saw = view.form.saw;
    page(visit, view, saw, &form, None, !shown.kept.is_empty())
}

async fn save(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut form = FormState::from_pairs(pairs.iter().cloned());
    let typed = typed(&form, &pairs);
    match shop.change_job(&doing(&visit, &form), number, &typed).await {
        Ok(()) => return Ok(Redirect::to(&format!("/jobs/{number}/details?kept=yes")).into_response()),
        Err(Refused::Conflict { .. }) => {
            let view = shop.job_form(number, visit.at).await?;
            let (quicker, saw) = (Quicker::of(&form, named(&view)), view.form.saw);
            return page(visit, view, saw, &form, Some(quicker), false);
        }
        Err(refused) => form.refuse_each(refused.faults()?),
    }
    let view = shop.job_form(number, visit.at).await?;
    page(visit, view, typed.saw, &form, None, false)
}

/// The engine leaves the shop.
async fn close(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<ButtonForm>,
) -> Result<Redirect, PageError> {
    shop.close_job(&doing(&visit, &FormState::of(&form)), number).await?;
    Ok(Redirect::to(&format!("/jobs/{number}")))
}

/// It is in the shop after all.
async fn reopen(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<ButtonForm>,
) -> Result<Redirect, PageError> {
    shop.reopen_job(&doing(&visit, &FormState::of(&form)), number).await?;
    Ok(Redirect::to(&format!("/jobs/{number}/details")))
}

fn page(
    visit: Visit,
    view: JobFormView,
    saw: i64,
    form: &FormState,
    quicker: Option<Quicker>,
    kept: bool,
) -> Result<Response, PageError> {
    let frame = frame(visit, &view.head, "Details").refused(form.is_refused());
    let page = DetailsPage { frame, view, saw, form, quicker, kept };
    quicker::show(form, page.quicker.as_ref(), &page)
}

/// Every field by name, with its label and what stands in it.
fn named(view: &JobFormView) -> Vec<(String, String, String)> {
    let form = &view.form;
    let own = [
        ("title", "What it is", &form.title),
        ("wants", "What he wants", &form.wants),
        ("customer", "Name", &form.customer),
        ("phone", "Phone", &form.phone),
        ("email", "E-mail", &form.email),
        ("address", "Address", &form.address),
        ("unit", "Worked in", &form.unit),
        ("rule", "How limits are decided", &form.rule),
        ("numbering", "Numbering", &form.numbering),
        ("firing_order", "Firing order", &form.firing_order),
        ("block_material", "Block", &form.block_material),
        ("head_material", "Heads", &form.head_material),
        ("crank_material", "Crank", &form.crank_material),
        ("piston_material", "Pistons", &form.piston_material),
        ("cap_material", "Main caps", &form.cap_material),
        ("rod_material", "Rods", &form.rod_material),
        ("sleeve_material", "Sleeves", &form.sleeve_material),
        ("bush_material", "Small ends’ bushes", &form.bush_material),
        ("pins", "Rods on crank pins", &form.pins),
    ];
    let named = |name: &str, label: &str, text: &str| (name.to_owned(), label.to_owned(), text.to_owned());
    let own = own.into_iter().map(|(name, label, text)| named(name, label, text));
    let serials = view.serials.iter().map(|field| named(&field.id, &format!("Serial, {}", field.label), &field.serial));
    let targets = view.targets.iter().map(|field| named(&field.key, &format!("Target, {}", field.label), &field.typed));
    let facts = view.facts.iter().map(|(fact, text)| named(fact.key, fact.title, text));
    own.chain(serials).chain(targets).chain(facts).collect()
}

/// What was typed. A serial's field is named by its item's public id, a target's by `feature@place`, a fact's by its key.
fn typed(form: &FormState, pairs: &[(String, String)]) -> JobForm {
    let text = |name: &str| form.value(name).to_owned();
    let of = |belongs: &dyn Fn(&str) -> bool| pairs.iter().filter(|(name, _)| belongs(name)).cloned().collect();
    JobForm {
        // Without it nothing was seen: whatever stands is newer.
        saw: form.value("saw").parse().unwrap_or_default(),
        title: text("title"),
        wants: text("wants"),
        customer: text("customer"),
        phone: text("phone"),
        email: text("email"),
        address: text("address"),
        unit: text("unit"),
        rule: text("rule"),
        numbering: text("numbering"),
        firing_order: text("firing_order"),
        block_material: text("block_material"),
        head_material: text("head_material"),
        crank_material: text("crank_material"),
        piston_material: text("piston_material"),
        cap_material: text("cap_material"),
        rod_material: text("rod_material"),
        sleeve_material: text("sleeve_material"),
        bush_material: text("bush_material"),
        pins: text("pins"),
        serials: of(&is_token),
        targets: of(&|name| name.contains('@')),
        facts: of(&|name| FactKey::find(name).is_some()),
    }
}
