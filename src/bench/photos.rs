//! Photos of a job or one of its steps: a page of its own, so that a camera that pushes the page out loses nothing.

use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::attached::{Attached, StepAsked};
use super::on_job::doing;
use crate::web::forms;
use crate::web::server::PHOTOS;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{Photo, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/photos", get(show).post(add).layer(DefaultBodyLimit::max(PHOTOS)))
        .route("/jobs/{number}/photos/{photo}/withdraw", post(withdraw))
}

#[derive(Template)]
#[template(path = "bench/photos.html")]
struct PhotosPage<'a> {
    frame: Frame,
    of: Attached,
    form: &'a FormState,
}

type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(asked): Query<StepAsked>) -> Answer {
    page(visit, &shop, job, &FormState::of(&asked)).await
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, parts: Multipart) -> Answer {
    let (mut state, files) = forms::with_files(parts, "photos").await?;
    let asked = StepAsked { step: state.value("step").to_owned() };
    let photos = files.into_iter().map(|(name, bytes)| Photo { name, bytes }).collect();
    match shop.add_photos(&doing(&visit, &state), job, asked.key(), photos, state.value("caption")).await {
        Ok(()) => Ok(back(job, &asked)),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &state).await
        }
    }
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct WithdrawForm {
    key: String,
    step: String,
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, photo)): Path<(i64, i64)>,
    Form(form): Form<WithdrawForm>,
) -> Answer {
    let state = FormState::of(&form);
    let asked = StepAsked { step: form.step };
    shop.withdraw_photo(&doing(&visit, &state), job, photo).await?;
    Ok(back(job, &asked))
}

/// More photos may follow: back to this page.
fn back(job: i64, asked: &StepAsked) -> Response {
    let step = asked.key().map_or_else(String::new, |key| format!("?step={key}"));
    Redirect::to(&format!("/jobs/{job}/photos{step}")).into_response()
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let asked = StepAsked { step: form.value("step").to_owned() };
    let of = Attached::load(shop, job, asked.key(), visit.at).await?;
    let frame = of.frame(visit, "Photos").refused(form.is_refused());
    forms::show(form, &PhotosPage { frame, of, form })
}
