//! One request as the pages see it: which tablet, who is at it, in which light, at what instant.

use axum::extract::{FromRequestParts, Request, State};
use axum::http::request::Parts;
use axum::http::{HeaderName, HeaderValue, Method, Uri, header};
use axum::middleware::Next;
use axum::response::Response;
use axum_extra::extract::CookieJar;
use axum_extra::extract::cookie::{Cookie, SameSite};

use super::errors;
use super::errors::PageError;
use super::frame::{Frame, Room};
use super::token::{is_token, token};

/// Reads the clock; the command line hands in the real one, a test a fixed one.
pub type Clock = fn() -> jiff::Timestamp;

const DEVICE: &str = "witnessmark-device";
const WHO: &str = "witnessmark-who";
const THEME: &str = "witnessmark-theme";
const NUMBER: HeaderName = HeaderName::from_static("x-request-id");

/// Who tapped the name on this tablet. Named only: nobody has proved anything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Who {
    /// The person's public id, 32 hexadecimal digits.
    pub id: String,
    /// As called in the shop.
    pub name: String,
}

/// In which light the tablet is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Sun through the door.
    Bright,
    /// A dim shop.
    Dark,
    /// As the tablet itself is set.
    #[default]
    ByTheDevice,
}

impl Theme {
    pub const ALL: [Self; 3] = [Self::Bright, Self::Dark, Self::ByTheDevice];

    /// As kept in the cookie and in the page's `data-theme`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bright => "bright",
            Self::Dark => "dark",
            Self::ByTheDevice => "device",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|theme| theme.word() == word)
    }
}

/// One request. A handler takes it as an argument; `Frame` puts it around the page.
#[derive(Clone, Debug)]
pub struct Visit {
    /// The tablet's random id, 32 hexadecimal digits, kept in its cookie.
    pub device: String,
    pub who: Option<Who>,
    pub theme: Theme,
    /// The one instant of this request: everything it writes bears it.
    pub at: jiff::Timestamp,
    /// Path and query asked for, to come back to.
    pub address: String,
    /// Names this request in the log and on a page that reports a failure.
    pub number: String,
    /// Whether a script asks, which reads JSON, and not a person, who reads a page.
    pub by_script: bool,
    /// Whether it sends something, rather than asks for a page.
    pub sends: bool,
    is_new_device: bool,
}

impl Visit {
    fn new(request: &Request, at: jiff::Timestamp) -> Self {
        let cookies = CookieJar::from_headers(request.headers());
        let kept = |name: &str| cookies.get(name).map(Cookie::value);
        let device = kept(DEVICE).filter(|id| is_token(id));
        let wants = request.headers().get(header::ACCEPT).and_then(|accept| accept.to_str().ok());
        Self {
            is_new_device: device.is_none(),
            device: device.map_or_else(token, str::to_owned),
            who: kept(WHO).and_then(read_who),
            theme: kept(THEME).and_then(Theme::from_word).unwrap_or_default(),
            at,
            address: address(request.method(), request.uri()),
            sends: !matches!(*request.method(), Method::GET | Method::HEAD),
            number: token()[..8].to_owned(),
            by_script: wants.is_some_and(|wants| wants.starts_with("application/json")),
        }
    }

    /// The frame of a page used at the bench.
    pub fn bench(self, title: impl Into<String>) -> Frame {
        Frame::new(self, Room::Bench, title.into())
    }

    /// The frame of a page used in the office.
    pub fn office(self, title: impl Into<String>) -> Frame {
        Frame::new(self, Room::Office, title.into())
    }
}

/// Where a page can be come back to: a post has no page of its own.
fn address(method: &Method, uri: &Uri) -> String {
    match uri.path_and_query() {
        Some(asked) if method == Method::GET => asked.as_str().to_owned(),
        _ => "/".to_owned(),
    }
}

fn read_who(kept: &str) -> Option<Who> {
    let (id, name) = kept.split_once(' ')?;
    is_token(id).then(|| Who { id: id.to_owned(), name: name.to_owned() })
}

impl<S: Sync> FromRequestParts<S> for Visit {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, PageError> {
        parts
            .extensions
            .get::<Self>()
            .cloned()
            .ok_or_else(|| PageError::failed("a page stands outside the server's layers"))
    }
}

/// The cookie that keeps who is at this tablet.
pub fn cookie_of(who: &Who) -> Cookie<'static> {
    kept(WHO, format!("{} {}", who.id, who.name))
}

/// The cookie that keeps in which light this tablet is read.
pub fn cookie_of_theme(theme: Theme) -> Cookie<'static> {
    kept(THEME, theme.word().to_owned())
}

/// A cookie that this browser keeps, sends to this server only, and shows to no script.
pub(super) fn kept(name: &'static str, value: String) -> Cookie<'static> {
    Cookie::build((name, value)).path("/").http_only(true).same_site(SameSite::Strict).permanent().build()
}

/// The layer that makes the visit, gives a new tablet its cookie, and lays out what went wrong as a page.
pub async fn receive(State(clock): State<Clock>, mut request: Request, next: Next) -> Response {
    let visit = Visit::new(&request, clock());
    request.extensions_mut().insert(visit.clone());
    let device = visit.is_new_device.then(|| kept(DEVICE, visit.device.clone()));
    let number = visit.number.clone();
    let mut response = errors::lay_out(visit, next.run(request).await);
    if let Some(value) = device.and_then(|cookie| HeaderValue::from_str(&cookie.encoded().to_string()).ok()) {
        response.headers_mut().append(header::SET_COOKIE, value);
    }
    if let Ok(value) = HeaderValue::from_str(&number) {
        response.headers_mut().insert(NUMBER, value);
    }
    response
}
