//! The parts of a job: a list by how far each is, and a page for each with what became of it.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms};
use crate::work::{MoveForm, PartForm, PartView, PartsView, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/parts", get(show).post(add))
        .route("/jobs/{number}/parts/{part}", get(show_one).post(change))
        .route("/jobs/{number}/parts/{part}/moves", post(add_move))
        .route("/jobs/{number}/parts/{part}/moves/{move}/withdraw", post(withdraw_move))
        .route("/jobs/{number}/parts/{part}/readings", post(bring_readings))
        .route("/jobs/{number}/parts/{part}/withdraw", post(withdraw))
}

type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Typed {
    key: String,
    /// The act that had last changed the part when its form was shown.
    saw: Option<i64>,
    description: String,
    maker: String,
    part_number: String,
    quantity: String,
    serial: String,
    supplier: String,
    whose: String,
    origin: String,
    as_it_came: String,
    shelf: String,
    step: String,
    cost: String,
    price: String,
    core: String,
    replaces: String,
    note: String,
}

impl From<Typed> for PartForm {
    fn from(typed: Typed) -> Self {
        Self {
            description: typed.description,
            maker: typed.maker,
            part_number: typed.part_number,
            quantity: typed.quantity,
            serial: typed.serial,
            supplier: typed.supplier,
            whose: typed.whose,
            origin: typed.origin,
            as_it_came: typed.as_it_came,
            shelf: typed.shelf,
            step: typed.step,
            cost: typed.cost,
            price: typed.price,
            core: typed.core,
            replaces: typed.replaces,
            note: typed.note,
        }
    }
}

impl From<PartForm> for Typed {
    fn from(form: PartForm) -> Self {
        Self {
            key: String::new(),
            saw: None,
            description: form.description,
            maker: form.maker,
            part_number: form.part_number,
            quantity: form.quantity,
            serial: form.serial,
            supplier: form.supplier,
            whose: form.whose,
            origin: form.origin,
            as_it_came: form.as_it_came,
            shelf: form.shelf,
            step: form.step,
            cost: form.cost,
            price: form.price,
            core: form.core,
            replaces: form.replaces,
            note: form.note,
        }
    }
}

#[derive(Template)]
#[template(path = "office/parts_of_job.html")]
struct PartsPage<'a> {
    frame: Frame,
    view: PartsView,
    form: &'a FormState,
}

#[derive(Template)]
#[template(path = "office/part.html")]
struct PartPage<'a> {
    frame: Frame,
    view: PartView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    said: FormState,
    moved: FormState,
    quicker: Option<Quicker>,
}

impl PartPage<'_> {
    fn address(&self) -> String {
        address(self.view.head.job, &self.view.row.public_id)
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    let blank = Typed { quantity: "1".to_owned(), ..Typed::default() };
    list(visit, &shop, job, &FormState::of(&blank)).await
}

async fn list(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.parts(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Parts").refused(form.is_refused());
    forms::show(form, &PartsPage { frame, view, form })
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(typed): Form<Typed>) -> Answer {
    let mut state = FormState::of(&typed);
    match shop.add_part(&doing(&visit, &state), job, &typed.into()).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/parts")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            list(visit, &shop, job, &state).await
        }
    }
}

/// Which form of a part's page came back refused.
enum CameBack {
    Said(FormState),
    Moved(FormState),
    /// Someone was quicker with what is said of it.
    Quicker(FormState),
    /// What is wrong is of neither.
    Else(FormState),
}

async fn one(visit: Visit, shop: &Shop, job: i64, part: &str, back: Option<CameBack>) -> Answer {
    let view = shop.part(job, part, visit.at).await?;
    let as_it_stands = || FormState::of(&Typed { saw: Some(view.act), ..view.form.clone().into() });
    let likely = || {
        FormState::of(&MoveTyped {
            kind: view.next.first().map_or("", |(key, _)| key).to_owned(),
            quantity: view.next_quantity.to_string(),
            day: view.today.to_string(),
            ..MoveTyped::default()
        })
    };
    let mut quicker = None;
    let (form, said, moved) = match back {
        None => (FormState::blank(), as_it_stands(), likely()),
        Some(CameBack::Said(state)) => (state.clone(), state, likely()),
        Some(CameBack::Moved(state)) => (state.clone(), as_it_stands(), state),
        Some(CameBack::Quicker(state)) => {
            quicker = Some(Quicker::of(&state, named(&view.form)));
            let typed = state.clone().with("saw", view.act.to_string());
            (state, typed, likely())
        }
        Some(CameBack::Else(state)) => (state, as_it_stands(), likely()),
    };
    let frame = frame(visit, &view.head, &view.row.description)
        .under("Parts", format!("/jobs/{job}/parts"))
        .refused(form.is_refused());
    let page = PartPage { frame, view, form: &form, said, moved, quicker };
    quicker::show(&form, page.quicker.as_ref(), &page)
}

async fn show_one(visit: Visit, State(shop): State<Shop>, Path((job, part)): Path<(i64, String)>) -> Answer {
    one(visit, &shop, job, &part, None).await
}

fn address(job: i64, part: &str) -> String {
    format!("/jobs/{job}/parts/{part}")
}

async fn change(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(typed): Form<Typed>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let saw = typed.saw;
    match shop.change_part(&doing(&visit, &state), job, &part, saw, &typed.into()).await {
        Ok(()) => Ok(Redirect::to(&address(job, &part)).into_response()),
        Err(Refused::Conflict { .. }) => one(visit, &shop, job, &part, Some(CameBack::Quicker(state))).await,
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &part, Some(CameBack::Said(state))).await
        }
    }
}

/// Every field by name, with its label and what stands in it.
fn named(form: &PartForm) -> Vec<(String, String, String)> {
    let fields = [
        ("description", "What it is", &form.description),
        ("maker", "Maker", &form.maker),
        ("part_number", "Part number", &form.part_number),
        ("quantity", "How many", &form.quantity),
        ("serial", "Serials or lot", &form.serial),
        ("shelf", "Lies", &form.shelf),
        ("cost", "Cost of one", &form.cost),
        ("price", "Price of one", &form.price),
        ("core", "Core deposit of one", &form.core),
        ("note", "Note", &form.note),
    ];
    fields.into_iter().map(|(name, label, stands)| (name.to_owned(), label.to_owned(), stands.clone())).collect()
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct MoveTyped {
    key: String,
    kind: String,
    #[serde(rename = "of")]
    quantity: String,
    day: String,
    due: String,
    words: String,
    item: String,
    place: String,
    change: String,
    sure: String,
}

async fn add_move(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(typed): Form<MoveTyped>,
) -> Answer {
    let mut state = FormState::of(&typed);
    let form = MoveForm {
        kind: typed.kind,
        quantity: typed.quantity,
        day: typed.day,
        due: typed.due,
        words: typed.words,
        item: typed.item,
        place: typed.place,
        change: typed.change,
        sure: !typed.sure.is_empty(),
    };
    match shop.move_part(&doing(&visit, &state), job, &part, &form).await {
        Ok(()) => Ok(Redirect::to(&address(job, &part)).into_response()),
        Err(refused) => {
            // The part's own quantity stands on the same page.
            let named =
                |(field, words): (String, String)| (if field == "quantity" { "of".to_owned() } else { field }, words);
            state.refuse_each(refused.faults()?.map(named));
            one(visit, &shop, job, &part, Some(CameBack::Moved(state))).await
        }
    }
}

async fn withdraw_move(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, id)): Path<(i64, String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    match shop.withdraw_move(&doing(&visit, &state), job, &part, id).await {
        Ok(()) => Ok(Redirect::to(&address(job, &part)).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &part, Some(CameBack::Else(state))).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct BringTyped {
    key: String,
    /// The job that read them.
    from: i64,
}

async fn bring_readings(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(typed): Form<BringTyped>,
) -> Answer {
    let mut state = FormState::of(&typed);
    match shop.bring_readings(&doing(&visit, &state), job, &part, typed.from).await {
        Ok(()) => Ok(Redirect::to(&format!("{}#field-readings", address(job, &part))).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &part, Some(CameBack::Else(state))).await
        }
    }
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let mut state = FormState::of(&form);
    match shop.withdraw_part(&doing(&visit, &state), job, &part).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/parts")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &part, Some(CameBack::Else(state))).await
        }
    }
}
