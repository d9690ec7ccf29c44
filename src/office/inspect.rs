//! A part that came in, looked at; and the label for what of it lies apart.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::{doing, frame};
use crate::web::{Field, FormState, Frame, PageError, Visit, forms, svg};
use crate::work::{InspectionForm, InspectionView, LabelView, LookedForm, Refused, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/parts/{part}/inspect", get(show).post(inspect))
        .route("/jobs/{number}/parts/{part}/inspect/points", post(add_point))
        .route("/jobs/{number}/parts/{part}/inspect/points/{point}/withdraw", post(withdraw_point))
        .route("/jobs/{number}/parts/{part}/label", get(label))
        .route("/jobs/{number}/parts/{part}/label.pdf", get(print_label))
}

type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/inspect.html")]
struct InspectPage<'a> {
    frame: Frame,
    view: InspectionView,
    form: &'a FormState,
}

impl InspectPage<'_> {
    fn address(&self) -> String {
        address(self.view.head.job, &self.view.row.public_id)
    }

    fn of(&self, place: &usize, name: &str) -> Field {
        self.form.field(&format!("{name}-{place}"))
    }
}

#[derive(Template)]
#[template(path = "office/label.html")]
struct LabelPage {
    frame: Frame,
    view: LabelView,
}

impl LabelPage {
    fn address(&self) -> String {
        address(self.view.head.job, &self.view.row.public_id)
    }

    fn picture(&self) -> String {
        svg::to_svg(&self.view.drawing, "label", &|_| None)
    }
}

fn address(job: i64, part: &str) -> String {
    format!("/jobs/{job}/parts/{part}")
}

async fn show(visit: Visit, State(shop): State<Shop>, Path((job, part)): Path<(i64, String)>) -> Answer {
    page(visit, &shop, job, &part, &FormState::blank()).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, part: &str, form: &FormState) -> Answer {
    let view = shop.inspection(job, part, visit.at).await?;
    let frame = frame(visit, &view.head, &format!("Look over {}", view.row.description))
        .under("Parts", format!("/jobs/{job}/parts"))
        .under(&*view.row.description, address(job, part))
        .refused(form.is_refused());
    forms::show(form, &InspectPage { frame, view, form })
}

/// On to another page, or this one again with what is wrong.
async fn answer(
    visit: Visit,
    shop: &Shop,
    (job, part): (i64, &str),
    mut form: FormState,
    (done, then): (Result<(), Refused>, String),
) -> Answer {
    match done {
        Ok(()) => Ok(Redirect::to(&then).into_response()),
        Err(refused) => {
            form.refuse_each(refused.faults()?);
            page(visit, shop, job, part, &form).await
        }
    }
}

/// Each point comes with its own words, as the shop may have changed its list meanwhile.
async fn inspect(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Answer {
    let places: Vec<String> =
        fields.iter().filter_map(|(name, _)| name.strip_prefix("what-").map(str::to_owned)).collect();
    let state = FormState::from_pairs(fields);
    let looked = |place: &String| LookedForm {
        what: state.value(&format!("what-{place}")).to_owned(),
        good: match state.value(&format!("is-{place}")) {
            "good" => Some(true),
            "not-so" => Some(false),
            _ => None,
        },
        words: state.value(&format!("word-{place}")).to_owned(),
    };
    let form = InspectionForm { looked: places.iter().map(looked).collect(), wrong: state.value("wrong").to_owned() };
    let done = shop.inspect(&doing(&visit, &state), job, &part, &form).await;
    let then = address(job, &part);
    answer(visit, &shop, (job, &part), state, (done, then)).await
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct PointForm {
    key: String,
    point: String,
    any: String,
}

async fn add_point(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part)): Path<(i64, String)>,
    Form(form): Form<PointForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.add_point(&doing(&visit, &state), (job, &part), &form.point, !form.any.is_empty()).await;
    let then = format!("{}/inspect", address(job, &part));
    answer(visit, &shop, (job, &part), state, (done, then)).await
}

async fn withdraw_point(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, part, point)): Path<(i64, String, i64)>,
    Form(form): Form<PointForm>,
) -> Answer {
    let state = FormState::of(&form);
    let done = shop.withdraw_point(&doing(&visit, &state), point).await;
    let then = format!("{}/inspect", address(job, &part));
    answer(visit, &shop, (job, &part), state, (done, then)).await
}

async fn label(visit: Visit, State(shop): State<Shop>, Path((job, part)): Path<(i64, String)>) -> Answer {
    let view = shop.quarantine_label(job, &part, visit.at).await?;
    let frame = frame(visit, &view.head, "Quarantine label")
        .under("Parts", format!("/jobs/{job}/parts"))
        .under(&*view.row.description, address(job, &part));
    Ok(Html(LabelPage { frame, view }.render()?).into_response())
}

async fn print_label(visit: Visit, State(shop): State<Shop>, Path((job, part)): Path<(i64, String)>) -> Answer {
    let pdf = shop.quarantine_label(job, &part, visit.at).await?.pdf;
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, format!("inline; filename=\"quarantine-{job}.pdf\"")),
    ];
    Ok((headers, pdf).into_response())
}
