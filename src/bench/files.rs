//! Photos and other files of the record, as bytes, handed on as they are read: a long video takes no memory. What an address names never changes.

use axum::Router;
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use tokio_util::io::ReaderStream;

use crate::web::PageError;
use crate::work::{PhotoSize, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/files/{id}/{size}", get(file))
}

async fn file(State(shop): State<Shop>, Path((id, size)): Path<(String, String)>) -> Result<Response, PageError> {
    let size = match &*size {
        "as-received" => PhotoSize::AsReceived,
        "preview" => PhotoSize::Preview,
        "thumb" => PhotoSize::Thumb,
        _ => return Err(PageError::NotFound),
    };
    let file = shop.file(&id, size).await?;
    let shown = if file.shown { "inline" } else { "attachment" };
    let headers = [
        (header::CONTENT_TYPE, file.media_type),
        (header::CONTENT_LENGTH, file.bytes.to_string()),
        (header::CONTENT_DISPOSITION, shown.to_owned()),
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable".to_owned()),
    ];
    Ok((headers, Body::from_stream(ReaderStream::new(file.contents))).into_response())
}
