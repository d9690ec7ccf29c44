//! Cards as documents: the preview of what a reader would get, and the cards that were issued, byte for byte.

use axum::Router;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use crate::web::{FormState, PageError, Visit};
use crate::work::{Audience, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/card/preview/{file}", get(preview))
        .route("/jobs/{number}/card/issue", post(issue))
        .route("/jobs/{number}/card/issues/{file}", get(issued))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct IssueForm {
    key: String,
    /// Whose card.
    reader: String,
}

/// `owner.pdf`, `tuner.pdf`, `shop.pdf`: as it would be issued now.
async fn preview(
    visit: Visit,
    State(shop): State<Shop>,
    Path((number, file)): Path<(i64, String)>,
) -> Result<Response, PageError> {
    let reader = file.strip_suffix(".pdf").and_then(Audience::from_word).ok_or(PageError::NotFound)?;
    let bytes = shop.preview_card(number, reader, visit.at).await?;
    Ok(document(bytes, "inline", &format!("job-{number}-card-preview-{}", reader.word())))
}

/// Issues a card: frozen from now on.
async fn issue(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(form): Form<IssueForm>,
) -> Result<Redirect, PageError> {
    let expected = || PageError::Refused("Choose whose card is issued: owner, tuner or shop.".to_owned());
    let reader = Audience::from_word(&form.reader).ok_or_else(expected)?;
    shop.issue_card(&doing(&visit, &FormState::of(&form)), number, reader).await?;
    Ok(Redirect::to(&format!("/jobs/{number}/card?reader={}&kept=issue#issues", reader.word())))
}

/// `2.pdf`: issue 2 of this job, as it left the shop.
async fn issued(State(shop): State<Shop>, Path((number, file)): Path<(i64, String)>) -> Result<Response, PageError> {
    let issue: i64 = file.strip_suffix(".pdf").and_then(|text| text.parse().ok()).ok_or(PageError::NotFound)?;
    let card = shop.issued_card(number, issue).await?;
    Ok(document(card.bytes, "attachment", &format!("job-{number}-card-{issue}-{}", card.audience.word())))
}

/// A PDF to look at (`inline`) or to keep (`attachment`), under this name.
pub(super) fn document(bytes: Vec<u8>, shown: &str, name: &str) -> Response {
    let about = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, format!("{shown}; filename=\"{name}.pdf\"")),
    ];
    (about, bytes).into_response()
}
