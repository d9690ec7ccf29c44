//! A part made in the shop: what its drawing asks for, what was read of it, and the engines that carry one.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::{Field, FormState, Frame, KeyForm, PageError, Visit, forms, svg};
use crate::work::{MadeReadingForm, MadeReadingView, MadeSizeForm, MadeSizeView, MadeView, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/parts/{part}/made", get(show).post(ask))
        .route("/jobs/{number}/parts/{part}/made/{size}/withdraw", post(withdraw))
        .route("/jobs/{number}/parts/{part}/made/{size}/readings", post(read))
        .route("/jobs/{number}/parts/{part}/made/{size}/readings/{reading}/withdraw", post(withdraw_reading))
        .route("/jobs/{number}/parts/{part}/carried", post(carry))
        .route("/jobs/{number}/parts/{part}/carried/{carried}/withdraw", post(carry_no_more))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/made.html")]
struct MadePage<'a> {
    frame: Frame,
    view: MadeView,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
}

impl MadePage<'_> {
    fn address(&self) -> String {
        address(self.view.head.job, &self.view.part)
    }

    fn of(&self, size: &MadeSizeView, name: &str) -> Field {
        let mut field = self.form.field(&format!("{name}-{}", size.id));
        if name == "gauge" && !self.form.is_refused() {
            field.value.clone_from(&size.gauge);
        }
        field
    }

    fn strip(&self, size: &MadeSizeView) -> String {
        let strip = size.strip.as_ref();
        strip.map_or_else(String::new, |strip| svg::to_svg(strip, &format!("size-{}", size.id), &|_| None))
    }

    fn judged(&self, reading: &MadeReadingView) -> String {
        reading.judged.map_or_else(String::new, |(mark, word)| svg::worded(mark, word))
    }

    fn gauges(&self) -> Vec<(&str, &str)> {
        let known = self.view.gauges.iter().map(|gauge| (&*gauge.id, &*gauge.name));
        std::iter::once(("", "no gauge named")).chain(known).collect()
    }
}

fn address(job: i64, part: &str) -> String {
    format!("/jobs/{job}/parts/{part}")
}

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, part)): Path<(i64, String)>) -> Answer {
    page(visit, &shop, job, &part, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, part: &str, form: &FormState) -> Answer {
    let view = shop.made(job, part, visit.at).await?;
    let frame = frame(visit, &view.head, &format!("Dimensions of {}", view.description))
        .under("Parts", format!("/jobs/{job}/parts"))
        .under(&*view.description, address(job, part))
        .refused(form.is_refused());
    forms::show(form, &MadePage { frame, view, form })
}

/// Back to the page, or the page again with what is wrong.
async fn answer(
    visit: Visit,
    shop: &Shop,
    (job, part): (i64, &str),
    mut form: FormState,
    done: Result<(), Refused>,
) -> Answer {
    match done {
        Ok(()) => Ok(Redirect::to(&format!("{}/made", address(job, part))).into_response()),
        Err(refused) => {
            form.refuse_each(refused.faults()?);
            page(visit, shop, job, part, &form).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    key: String,
    name: String,
    size: String,
    over: String,
    under: String,
}

async fn ask(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(typed): Form<Asked>,
) -> Answer {
    let state = FormState::of(&typed);
    let form = MadeSizeForm { name: typed.name, size: typed.size, over: typed.over, under: typed.under };
    let done = shop.ask_made_size(&doing(&visit, &state), job, &part, &form).await;
    answer(visit, &shop, (job, &part), state, done).await
}

/// Fields of a dimension's own form bear its number, as all stand on one page.
async fn read(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, size)): Path<(i64, String, i64)>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Answer {
    let state = FormState::from_pairs(fields);
    let typed = |name: &str| state.value(&format!("{name}-{size}")).to_owned();
    let form = MadeReadingForm { read: typed("read"), gauge: typed("gauge"), sure: !typed("sure").is_empty() };
    let done = shop.read_made_size(&doing(&visit, &state), job, &part, size, &form).await;
    answer(visit, &shop, (job, &part), state, done).await
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, size)): Path<(i64, String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.withdraw_made_size(&doing(&visit, &state), job, &part, size).await;
    answer(visit, &shop, (job, &part), state, done).await
}

async fn withdraw_reading(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, size, reading)): Path<(i64, String, i64, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.withdraw_made_reading(&doing(&visit, &state), job, &part, (size, reading)).await;
    answer(visit, &shop, (job, &part), state, done).await
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct CarryForm {
    key: String,
    by: String,
    words: String,
}

async fn carry(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(form): Form<CarryForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.carry(&doing(&visit, &state), job, &part, (&form.by, &form.words)).await;
    answer(visit, &shop, (job, &part), state, done).await
}

async fn carry_no_more(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, id)): Path<(i64, String, i64)>,
    Form(form): Form<KeyForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.carry_no_more(&doing(&visit, &state), job, &part, id).await;
    answer(visit, &shop, (job, &part), state, done).await
}
