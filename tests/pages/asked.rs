//! Asking the router as a browser would, and what it answered.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use tower::ServiceExt;

/// The name the tests call the server by.
pub const HOST: &str = "127.0.0.1:8040";

/// The instant at which everything in these tests happens.
pub fn noon() -> jiff::Timestamp {
    "2026-03-02T12:00:00Z".parse().expect("an instant")
}

/// An answer, read to its end.
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub text: String,
    /// As it came, packed or not.
    pub bytes: usize,
}

impl Answer {
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().expect("a header in ASCII"))
    }

    /// What a browser would send back of the cookie of this name.
    pub fn cookie(&self, name: &str) -> Option<String> {
        let set = self.headers.get_all(header::SET_COOKIE).iter().filter_map(|value| value.to_str().ok());
        set.map(|set| set.split(';').next().unwrap_or(set)).find(|set| set.starts_with(name)).map(str::to_owned)
    }
}

/// A request by the server's own name.
pub fn get(address: &str) -> axum::http::request::Builder {
    Request::get(address).header("host", HOST)
}

/// A form as a page of ours posts it.
pub fn post(address: &str) -> axum::http::request::Builder {
    Request::post(address)
        .header("host", HOST)
        .header("origin", format!("http://{HOST}"))
        .header("content-type", "application/x-www-form-urlencoded")
}

pub async fn ask(router: &Router, request: axum::http::request::Builder, body: impl Into<Body>) -> Answer {
    let request = request.body(body.into()).expect("a request");
    let response = router.clone().oneshot(request).await.expect("the router always answers");
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, usize::MAX).await.expect("a whole body");
    let text = String::from_utf8_lossy(&bytes).into_owned();
    Answer { status: parts.status, headers: parts.headers, text, bytes: bytes.len() }
}
