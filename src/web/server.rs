//! The pages and what stands around them, in the order a request meets it.

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::from_fn_with_state;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate};
use tower_http::set_header::SetResponseHeaderLayer;
use tower_http::trace::TraceLayer;

use super::visit::{self, Clock};
use super::{Door, PageError, assets, door, errors, theme};

/// What a page may take in, bytes.
pub const FORM: usize = 2_000_000;
/// What a page for one document may take in, bytes.
pub const DOCUMENT: usize = 40_000_000;
/// What a page for photos may take in, bytes: the longest file and the form around it. It goes to disk as it comes.
pub const PHOTOS: usize = 201_000_000;

/// Nothing from elsewhere, no inline script or style, no form that posts elsewhere, no page of another site around ours.
/// A page may show a PDF of ours in a frame.
const POLICY: &str = "default-src 'self'; img-src 'self' data:; object-src 'none'; frame-ancestors 'self'; \
                      base-uri 'none'; form-action 'self'";

/// All of it around the pages of bench and office.
pub fn house(pages: Router, door: Door, clock: Clock) -> Router {
    let worth_packing = DefaultPredicate::new().and(NotForContentType::const_new("application/pdf"));
    let worth_packing = worth_packing
        .and(NotForContentType::const_new("application/octet-stream"))
        .and(NotForContentType::const_new("video/"));
    // A layer added later stands further out: read from the bottom, as a request does.
    pages
        .merge(theme::routes())
        .merge(assets::routes())
        .fallback(async || PageError::NotFound)
        .layer(CatchPanicLayer::custom(errors::panicked))
        .layer(DefaultBodyLimit::max(FORM))
        .layer(from_fn_with_state(door, door::guard))
        .layer(from_fn_with_state(clock, visit::receive))
        .layer(CompressionLayer::new().compress_when(worth_packing))
        .layer(stated(header::CONTENT_SECURITY_POLICY, POLICY))
        .layer(stated(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        // With none at all, a browser would send no origin with a form of ours either.
        .layer(stated(header::REFERRER_POLICY, "same-origin"))
        .layer(stated(HeaderName::from_static("cross-origin-resource-policy"), "same-origin"))
        .layer(stated(header::CACHE_CONTROL, "private, no-cache"))
        .layer(TraceLayer::new_for_http())
}

/// Says this on every answer that does not say otherwise.
fn stated(name: HeaderName, value: &'static str) -> SetResponseHeaderLayer<HeaderValue> {
    SetResponseHeaderLayer::if_not_present(name, HeaderValue::from_static(value))
}
