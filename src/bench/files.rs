//! Photos and other files of the record, as bytes. What an address names never changes.

use axum::Router;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;

use crate::web::PageError;
use crate::work::{PhotoSize, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/files/{id}/{size}", get(file))
}

/// What a page may show; anything else is handed over to be saved.
const PICTURES: [&str; 2] = ["image/jpeg", "image/png"];

async fn file(State(shop): State<Shop>, Path((id, size)): Path<(String, String)>) -> Result<Response, PageError> {
    let size = match &*size {
        "as-received" => PhotoSize::AsReceived,
        "preview" => PhotoSize::Preview,
        "thumb" => PhotoSize::Thumb,
        _ => return Err(PageError::NotFound),
    };
    let (media_type, bytes) = shop.file(&id, size).await?;
    let shown = if PICTURES.contains(&&*media_type) { "inline" } else { "attachment" };
    let headers = [
        (header::CONTENT_TYPE, media_type),
        (header::CONTENT_DISPOSITION, shown.to_owned()),
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable".to_owned()),
    ];
    Ok((headers, bytes).into_response())
}
