//! The names this server answers to, and whose pages may send it something.
//!
//! A page of some other site, open on the same tablet, must reach nothing here: neither by a name that it points at this
//! machine (421), nor by a form or script that posts to it (403). A browser says whose page sends; who does not say is
//! let in nowhere.

use std::net::IpAddr;

use axum::extract::Request;
use axum::http::uri::Authority;
use axum::http::{HeaderMap, Method, header};

use crate::web::PageError;

/// By what name a request asks, if this server answers to it and the request comes from a page of its own.
pub(super) fn asked_by(request: &Request, answers_to: impl Fn(&str) -> bool) -> Result<Authority, PageError> {
    let named = request.uri().authority().cloned().or_else(|| host(request.headers()));
    let named = named.filter(|named| answers_to(named.host())).ok_or(PageError::WrongHost)?;
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if reads || is_from_own_page(request.headers(), &named) { Ok(named) } else { Err(PageError::Foreign) }
}

/// Whether a name means the machine itself, whoever says it.
pub(super) fn is_loopback(host: &str) -> bool {
    host.eq_ignore_ascii_case("localhost") || address(host).is_some_and(|address| address.is_loopback())
}

/// The address a name is, if it is one. A foreign site can point a name of its own at this machine, but not an address.
pub(super) fn address(host: &str) -> Option<IpAddr> {
    host.trim_start_matches('[').trim_end_matches(']').parse().ok()
}

fn host(headers: &HeaderMap) -> Option<Authority> {
    headers.get(header::HOST)?.to_str().ok()?.parse().ok()
}

/// Whether a browser says that a page of ours sends this. Every one states an origin with what it posts; some leave it
/// out within one site, and then state that instead.
fn is_from_own_page(headers: &HeaderMap, named: &Authority) -> bool {
    match headers.get(header::ORIGIN) {
        Some(origin) => is_own(origin.as_bytes(), named),
        None => headers.get("sec-fetch-site").is_some_and(|site| site == "same-origin"),
    }
}

/// Whether the page that sends something was served under the same name and port.
fn is_own(origin: &[u8], named: &Authority) -> bool {
    let origin = String::from_utf8_lossy(origin);
    let from = origin.strip_prefix("http://").or_else(|| origin.strip_prefix("https://"));
    from.is_some_and(|from| from.eq_ignore_ascii_case(named.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::Body;
    use axum::http::request::Builder;

    fn answer(also: &str, method: &str, host: &str, origin: Option<&str>) -> &'static str {
        let mut request = Request::builder().method(method).uri("/jobs").header("host", host);
        if let Some(origin) = origin {
            request = request.header("origin", origin);
        }
        asked(also, request)
    }

    fn asked(also: &str, request: Builder) -> &'static str {
        let request = request.body(Body::empty()).expect("a request");
        match asked_by(&request, |host| is_loopback(host) || host == also) {
            Ok(_) => "in",
            Err(PageError::WrongHost) => "wrong host",
            Err(_) => "foreign",
        }
    }

    #[test]
    fn answers_to_its_own_names_only() {
        let at_home = |host| answer("", "GET", host, None);
        for own in ["127.0.0.1:8040", "localhost:8040", "LocalHost", "[::1]:8040", "127.0.0.1"] {
            assert_eq!(at_home(own), "in", "{own}");
        }
        for other in ["shop.example:8040", "192.168.1.4", "localhost.example", "127.0.0.1.example", "", "a b"] {
            assert_eq!(at_home(other), "wrong host", "{other}");
        }
        assert_eq!(answer("shop.example", "GET", "shop.example:80", None), "in");
    }

    #[test]
    fn lets_no_foreign_page_send_anything() {
        let post = |origin| answer("", "POST", "127.0.0.1:8040", origin);
        assert_eq!(post(Some("http://127.0.0.1:8040")), "in");
        for foreign in ["http://127.0.0.1:9000", "http://shop.example", "null", "", "http://127.0.0.1:8040.example"] {
            assert_eq!(post(Some(foreign)), "foreign", "{foreign}");
        }
        assert_eq!(answer("", "GET", "127.0.0.1:8040", Some("http://shop.example")), "in");
    }

    #[test]
    fn lets_nothing_in_that_does_not_say_where_it_comes_from() {
        for method in ["POST", "PUT", "PATCH", "DELETE", "OPTIONS"] {
            assert_eq!(answer("", method, "127.0.0.1:8040", None), "foreign", "{method}");
            let from = |site| {
                let request = Request::builder().method(method).uri("/jobs").header("host", "127.0.0.1:8040");
                asked("", request.header("sec-fetch-site", site))
            };
            assert_eq!(from("same-origin"), "in", "{method}");
            for site in ["same-site", "cross-site", "none", ""] {
                assert_eq!(from(site), "foreign", "{method} {site}");
            }
        }
    }
}
