//! Stylesheet, scripts and icon: inside the binary, each under an address that changes with its contents.

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

/// Scripts that go out as one file, in this order: a page asks for few files, and each behaviour keeps its own.
const BUNDLES: [(&str, &[&str]); 2] = [
    ("shop.js", &["made.js", "unsent.js", "owed.js", "outbox.js", "burst.js"]),
    ("sheet.js", &["looks.js", "parts.js", "walk.js", "entry.js", "tray.js", "keypad.js", "aloud.js"]),
];

/// The files of a bundle, or the one file of this name.
fn parts(name: &str) -> Option<Vec<EmbeddedFile>> {
    match BUNDLES.iter().find(|(bundle, _)| *bundle == name) {
        Some((_, parts)) => parts.iter().map(|part| Static::get(part)).collect(),
        None => Static::get(name).map(|file| vec![file]),
    }
}

/// Changes with the contents: the first 64 bits of each part's SHA-256, one over the other.
fn version(parts: &[EmbeddedFile]) -> String {
    let first = |part: &EmbeddedFile| {
        part.metadata.sha256_hash()[..8].iter().fold(0_u64, |all, byte| (all << 8) | u64::from(*byte))
    };
    format!("{:016x}", parts.iter().fold(0, |all, part| all ^ first(part)))
}

pub fn routes() -> Router {
    Router::new().route("/static/{*name}", get(asset))
}

/// The address of a file in static/, to be kept by the browser for good; one that is not there would be a 404.
pub fn address(name: &str) -> String {
    let version = parts(name).map(|parts| version(&parts)).unwrap_or_default();
    format!("/static/{name}?v={version}")
}

async fn asset(Path(name): Path<String>, RawQuery(query): RawQuery, headers: HeaderMap) -> Result<Response, PageError> {
    let parts = parts(&name).ok_or(PageError::NotFound)?;
    let version = version(&parts);
    let tag = format!("W/\"{version}\"");
    let by_version = query.is_some_and(|query| query == format!("v={version}"));
    let keep = if by_version { "public, max-age=31536000, immutable" } else { "no-cache" };
    let kept = [(header::CACHE_CONTROL, keep.to_owned()), (header::ETAG, tag.clone())];
    if headers.get(header::IF_NONE_MATCH).is_some_and(|known| known.as_bytes() == tag.as_bytes()) {
        return Ok((StatusCode::NOT_MODIFIED, kept).into_response());
    }
    let kind = parts.first().map(|part| part.metadata.mimetype().to_owned()).unwrap_or_default();
    let bytes = parts.iter().map(|part| part.data.as_ref()).collect::<Vec<_>>().concat();
    Ok((kept, [(header::CONTENT_TYPE, kind)], bytes).into_response())
}
