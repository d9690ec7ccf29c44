//! Someone was quicker: the form as typed, and beside it what stands in the record now, to put both together.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};

use crate::web::{Field, FormState, PageError, forms};

/// A field that was typed otherwise than it stands in the record.
#[derive(Clone, Debug)]
pub(super) struct Differs {
    pub field: Field,
    pub label: String,
    pub stands: String,
}

/// What somebody else saved after the form was shown.
#[derive(Clone, Debug)]
pub(super) struct Quicker {
    pub differs: Vec<Differs>,
}

impl Quicker {
    /// The fields, each with name, label and what stands, that were typed otherwise.
    pub fn of(form: &FormState, stands: impl IntoIterator<Item = (String, String, String)>) -> Self {
        let differs =
            stands.into_iter().map(|(name, label, stands)| Differs { field: form.field(&name), label, stands });
        // A browser sends line breaks as two characters.
        let typed = |differs: &Differs| differs.field.value.replace("\r\n", "\n");
        Self { differs: differs.filter(|differs| typed(differs).trim() != differs.stands.trim()).collect() }
    }
}

/// The page with its form: 409 if somebody was quicker, 422 if it was refused.
pub(super) fn show(
    form: &FormState,
    quicker: Option<&Quicker>,
    page: &impl askama::Template,
) -> Result<Response, PageError> {
    match quicker {
        Some(_) => Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response()),
        None => forms::show(form, page),
    }
}
