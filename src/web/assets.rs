//! Stylesheet, scripts and icon: inside the binary, each under an address that changes with its contents.

use std::fmt::Write;

use axum::Router;
use axum::extract::{Path, RawQuery};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use rust_embed::{EmbeddedFile, RustEmbed};

use super::PageError;

#[derive(RustEmbed)]
#[folder = "static/"]
struct Static;

pub fn routes() -> Router {
    Router::new().route("/static/{*name}", get(asset))
}

/// The address of a file in static/, to be kept by the browser for good; one that is not there would be a 404.
pub fn address(name: &str) -> String {
    let version = Static::get(name).map(|file| version(&file)).unwrap_or_default();
    format!("/static/{name}?v={version}")
}

async fn asset(Path(name): Path<String>, RawQuery(query): RawQuery, headers: HeaderMap) -> Result<Response, PageError> {
    let file = Static::get(&name).ok_or(PageError::NotFound)?;
    let version = version(&file);
    let tag = format!("W/\"{version}\"");
    let by_version = query.is_some_and(|query| query == format!("v={version}"));
    let keep = if by_version { "public, max-age=31536000, immutable" } else { "no-cache" };
    let kept = [(header::CACHE_CONTROL, keep.to_owned()), (header::ETAG, tag.clone())];
    if headers.get(header::IF_NONE_MATCH).is_some_and(|known| known.as_bytes() == tag.as_bytes()) {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    let kind = [(header::CONTENT_TYPE, file.metadata.mimetype().to_owned())];
    Ok((kept, kind, file.data).into_response())
}

/// The first 64 bits of the contents' SHA-256.
fn version(file: &EmbeddedFile) -> String {
    file.metadata.sha256_hash()[..8].iter().fold(String::new(), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
