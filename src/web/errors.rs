//! What a page says when it cannot be what was asked for: what happened, what was kept, the way on.
//!
//! A handler returns a [`PageError`]; the layer around all pages lays it out, for a person as a page, for a script as
//! JSON. What the server's own layers refuse (a body too large, a form that cannot be read) is laid out the same way.

use std::any::Any;
use std::fmt::Display;

use askama::Template;
use axum::Json;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use serde::Serialize;

use super::{Frame, Visit};

/// Two texts for the same thing, from two tablets.
#[derive(Clone, Debug)]
pub struct Conflict {
    /// What they disagree on: "the note on main cap 3".
    pub about: String,
    /// What stands in the record now.
    pub theirs: String,
    /// What was about to be saved.
    pub yours: String,
    /// The page where it can be saved again.
    pub address: String,
}

/// Why a page cannot be shown or a form not be taken.
#[derive(Clone, Debug)]
pub enum PageError {
    /// 404.
    NotFound,
    /// 405: the address exists, but not for this.
    NotThatWay,
    /// 409: someone else was quicker.
    Conflict(Box<Conflict>),
    /// 413: the body exceeds the limit.
    TooLarge,
    /// 400: the body is no form that a page here sends.
    Unreadable,
    /// 422: refused, with what was expected, where no form stands to say it beside a field.
    Refused(String),
    /// 401: from the shop's network, by something that has not entered its PIN.
    NotLetIn,
    /// 403: asked for from a tablet.
    OnlyOnShopComputer,
    /// 403: sent by a page of another site, or by something that does not say where from.
    Foreign,
    /// 421: asked for by a name that is not this server's.
    WrongHost,
    /// 507: the disk of the shop's computer is full.
    NoRoom,
    /// 500: the details go to the log.
    Failed(String),
}

impl PageError {
    /// A failure that is nobody's doing; the details go to the log and not to the page.
    pub fn failed(details: impl Display) -> Self {
        Self::Failed(details.to_string())
    }

    const fn status(&self) -> StatusCode {
        match self {
            Self::NotFound => StatusCode::NOT_FOUND,
            Self::NotThatWay => StatusCode::METHOD_NOT_ALLOWED,
            Self::Conflict(_) => StatusCode::CONFLICT,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Unreadable => StatusCode::BAD_REQUEST,
            Self::Refused(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::NotLetIn => StatusCode::UNAUTHORIZED,
            Self::Foreign | Self::OnlyOnShopComputer => StatusCode::FORBIDDEN,
            Self::WrongHost => StatusCode::MISDIRECTED_REQUEST,
            Self::NoRoom => StatusCode::INSUFFICIENT_STORAGE,
            Self::Failed(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// What one of the server's layers meant by a bare status. A page's address that cannot be read leads nowhere.
    fn behind(status: StatusCode, visit: &Visit) -> Option<Self> {
        match status {
            StatusCode::BAD_REQUEST if !visit.sends => Some(Self::NotFound),
            StatusCode::NOT_FOUND => Some(Self::NotFound),
            StatusCode::METHOD_NOT_ALLOWED => Some(Self::NotThatWay),
            StatusCode::PAYLOAD_TOO_LARGE => Some(Self::TooLarge),
            other if other.is_client_error() => Some(Self::Unreadable),
            other if other.is_server_error() => Some(Self::failed("a layer of the server failed")),
            _ => None,
        }
    }

    const fn title(&self) -> &'static str {
        match self {
            Self::NotFound => "There is nothing here",
            Self::NotThatWay => "This page takes nothing in",
            Self::Conflict(_) => "Someone was quicker",
            Self::TooLarge => "That is too large",
            Self::Unreadable => "That could not be read",
            Self::Refused(_) => "Not saved",
            Self::NotLetIn => "This tablet is not let in",
            Self::OnlyOnShopComputer => "On the shop's computer only",
            Self::Foreign => "Sent from another site",
            Self::WrongHost => "Not by this name",
            Self::NoRoom => "No room left",
            Self::Failed(_) => "Something failed here",
        }
    }

    fn said(&self, number: &str) -> String {
        match self {
            Self::NotFound => "No job, step or page has this address. It may be mistyped, or belong to another shop's record.".into(),
            Self::NotThatWay => "Nothing was kept. Go back to the page you came from and use its buttons.".into(),
            Self::Conflict(conflict) => {
                format!("Another tablet saved {} while you were typing. Both texts are below; nothing is lost.", conflict.about)
            }
            Self::TooLarge => "Nothing was kept. A page takes up to 2 MB, a page for photos up to 200 MB at a time: send fewer at once, or a shorter video.".into(),
            Self::Unreadable => "Nothing was kept. Go back, load the page afresh and send it again.".into(),
            Self::Refused(expected) => expected.clone(),
            Self::NotLetIn => "Nothing was kept. Load the page afresh: it asks for the shop's PIN, and then goes on.".into(),
            Self::OnlyOnShopComputer => {
                "Nothing was kept. Open this page on the computer on which the shop's record runs.".into()
            }
            Self::Foreign => "Nothing was kept. Only pages of this shop's own record may send to it.".into(),
            Self::WrongHost => "Open the shop's record by the address printed when it was started.".into(),
            Self::NoRoom => "Nothing was kept: the disk of the shop's computer is full. Make room on it, then send it again.".into(),
            Self::Failed(_) => {
                format!("What you sent may not have been kept: look before you send it again. The log has the details under number {number}.")
            }
        }
    }
}

impl IntoResponse for PageError {
    /// The bare status, with the error beside it for the layer that lays it out.
    fn into_response(self) -> Response {
        let mut response = self.status().into_response();
        response.extensions_mut().insert(self);
        response
    }
}

/// A panic in a handler, for the layer that catches it.
#[expect(clippy::needless_pass_by_value, reason = "the layer hands it over")]
pub fn panicked(panic: Box<dyn Any + Send>) -> Response {
    let text = panic.downcast_ref::<String>().map(String::as_str).or_else(|| panic.downcast_ref::<&str>().copied());
    PageError::failed(format!("panicked: {}", text.unwrap_or("without a word"))).into_response()
}

#[derive(Template)]
#[template(path = "shared/error.html")]
struct ErrorPage<'a> {
    frame: Frame,
    said: String,
    conflict: Option<&'a Conflict>,
}

#[derive(Serialize)]
struct ErrorAnswer<'a> {
    title: &'a str,
    said: String,
    number: &'a str,
}

/// Puts what went wrong into the answer; one that a page has already laid out passes through.
pub fn lay_out(visit: Visit, response: Response) -> Response {
    let error = response.extensions().get::<PageError>().cloned();
    let laid_out = || is_laid_out(response.headers());
    let Some(error) = error.or_else(|| PageError::behind(response.status(), &visit).filter(|_| !laid_out())) else {
        return response;
    };
    if let PageError::Failed(details) = &error {
        tracing::error!(number = visit.number, address = visit.address, details, "a page failed");
    }
    let (status, title, said) = (error.status(), error.title(), error.said(&visit.number));
    if visit.by_script {
        return (status, Json(ErrorAnswer { title, said, number: &visit.number })).into_response();
    }
    let conflict = if let PageError::Conflict(conflict) = &error { Some(&**conflict) } else { None };
    match (ErrorPage { frame: visit.bench(title), said, conflict }).render() {
        Ok(page) => (status, Html(page)).into_response(),
        Err(_) => (status, title).into_response(),
    }
}

fn is_laid_out(headers: &HeaderMap) -> bool {
    let kind = headers.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    kind.starts_with("text/html") || kind.starts_with("application/json")
}

/// A page that cannot be rendered is a failure like any other.
impl From<askama::Error> for PageError {
    fn from(error: askama::Error) -> Self {
        Self::failed(error)
    }
}
