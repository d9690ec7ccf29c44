//! A form on its way round: what was typed, kept beside what is wrong with it, until all of it can be taken.
//!
//! The cycle of every form here: the page shows `FormState::blank`; the post arrives as a Form of plain texts; the
//! handler notes every fault at once with [`FormState::refuse`]; if there is one, the same page is shown again with
//! status 422, else the parsed New… goes to work. The macros that show it are in templates/shared/form.html.

use std::collections::BTreeMap;

use axum::body::Bytes;
use axum::extract::multipart::{Multipart, MultipartError};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::PageError;
use super::server::FORM;
use super::token::{is_token, token};

/// A form with nothing but its key: a button that does something.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
pub struct KeyForm {
    key: String,
}

/// One field as the page shows it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Field {
    pub name: String,
    /// As typed.
    pub value: String,
    /// What to enter instead.
    pub fault: Option<String>,
}

impl Field {
    /// Its id on the page; the summary of faults links to it.
    pub fn id(&self) -> String {
        format!("field-{}", self.name)
    }

    /// Which elements say more about it.
    pub fn described_by(&self, hint: &str) -> String {
        let id = self.id();
        match (hint.is_empty(), self.fault.is_some()) {
            (true, false) => String::new(),
            (false, false) => format!("{id}-hint"),
            (true, true) => format!("{id}-fault"),
            (false, true) => format!("{id}-hint {id}-fault"),
        }
    }
}

/// A part of a form with files in one field.
pub enum Part<'a> {
    /// A field's name and text.
    Text(String, String),
    File(Box<FilePart<'a>>),
}

/// A file on its way in.
pub struct FilePart<'a> {
    /// As the browser calls it.
    pub name: String,
    part: axum::extract::multipart::Field<'a>,
}

impl FilePart<'_> {
    /// What comes next of it.
    ///
    /// # Errors
    /// As [`next_part`].
    pub async fn next(&mut self) -> Result<Option<Bytes>, PageError> {
        self.part.chunk().await.map_err(unreadable)
    }
}

/// The next part of a form with files in one field.
///
/// # Errors
/// [`PageError::TooLarge`] or [`PageError::Unreadable`] where the post cannot be read.
pub async fn next_part<'a>(parts: &'a mut Multipart, files_in: &str) -> Result<Option<Part<'a>>, PageError> {
    let Some(mut part) = parts.next_field().await.map_err(unreadable)? else { return Ok(None) };
    let field = part.name().unwrap_or_default().to_owned();
    if field == files_in {
        let name = part.file_name().unwrap_or_default().to_owned();
        return Ok(Some(Part::File(Box::new(FilePart { name, part }))));
    }
    let mut text = Vec::new();
    while let Some(bytes) = part.chunk().await.map_err(unreadable)? {
        // Files go elsewhere as they come; a text is held in memory, and is no longer than on any other page.
        if text.len() + bytes.len() > FORM {
            return Err(PageError::TooLarge);
        }
        text.extend_from_slice(&bytes);
    }
    Ok(Some(Part::Text(field, String::from_utf8_lossy(&text).into_owned())))
}

/// A file as it came: its name and its bytes.
pub type FileSent = (String, Vec<u8>);

/// A form with files in one field, held in memory: its texts, and the files. A file field left empty by the browser has no
/// name and no bytes, and gives none.
///
/// # Errors
/// As [`next_part`].
pub async fn with_files(mut parts: Multipart, files_in: &str) -> Result<(FormState, Vec<FileSent>), PageError> {
    let (mut texts, mut files) = (Vec::new(), Vec::new());
    while let Some(part) = next_part(&mut parts, files_in).await? {
        match part {
            Part::Text(field, text) => texts.push((field, text)),
            Part::File(file) => {
                let FilePart { name, part } = *file;
                let bytes = part.bytes().await.map_err(unreadable)?.to_vec();
                if !(name.is_empty() && bytes.is_empty()) {
                    files.push((name, bytes));
                }
            }
        }
    }
    Ok((FormState::from_pairs(texts), files))
}

#[expect(clippy::needless_pass_by_value, reason = "map_err hands it over")]
fn unreadable(error: MultipartError) -> PageError {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE { PageError::TooLarge } else { PageError::Unreadable }
}

/// A whole form as the page shows it.
#[derive(Clone, Debug)]
pub struct FormState {
    /// Made by the server for one showing of the form: the same form sent twice is one act.
    key: String,
    typed: BTreeMap<String, String>,
    faults: Vec<Field>,
}

impl FormState {
    /// A form nobody has typed in.
    pub fn blank() -> Self {
        Self { key: token(), typed: BTreeMap::new(), faults: Vec::new() }
    }

    /// A form that shows what a Form holds: what was posted, or what to start from. Its fields are texts or ticks; a
    /// field `key` is the form's own.
    pub fn of(form: &impl Serialize) -> Self {
        let Ok(Value::Object(fields)) = serde_json::to_value(form) else { return Self::blank() };
        Self::from_pairs(fields.into_iter().map(|(name, value)| (name, as_typed(value))))
    }

    /// A form whose fields are not known beforehand, such as one field for each slot of a sheet.
    pub fn from_pairs(pairs: impl IntoIterator<Item = (String, String)>) -> Self {
        let mut typed: BTreeMap<String, String> = pairs.into_iter().collect();
        let key = typed.remove("key").filter(|key| is_token(key)).unwrap_or_else(token);
        Self { key, typed, faults: Vec::new() }
    }

    /// The key that keeps it from acting twice.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Notes what to enter in a field instead of what was typed.
    pub fn refuse(&mut self, name: &str, what_to_enter: impl Into<String>) {
        let value = self.value(name).to_owned();
        self.faults.push(Field { name: name.to_owned(), value, fault: Some(what_to_enter.into()) });
    }

    /// Notes what to enter in each of several fields, by name, as a sentence.
    pub fn refuse_each(&mut self, faults: impl IntoIterator<Item = (String, String)>) {
        for (name, what_to_enter) in faults {
            self.refuse(&name, sentence(&what_to_enter));
        }
    }

    /// Takes what was parsed, or notes why it could not be.
    pub fn take<T, E: std::fmt::Display>(&mut self, name: &str, parsed: Result<T, E>) -> Option<T> {
        parsed.map_err(|fault| self.refuse(name, fault.to_string())).ok()
    }

    pub const fn is_refused(&self) -> bool {
        !self.faults.is_empty()
    }

    /// What is wrong, in the order noted.
    pub fn faults(&self) -> &[Field] {
        &self.faults
    }

    /// The form with another text in a field.
    #[must_use]
    pub fn with(mut self, name: &str, text: String) -> Self {
        self.typed.insert(name.to_owned(), text);
        self
    }

    /// What was typed in a field.
    pub fn value(&self, name: &str) -> &str {
        self.typed.get(name).map_or("", String::as_str)
    }

    /// A field as the page shows it.
    pub fn field(&self, name: &str) -> Field {
        let fault = self.faults.iter().find(|fault| fault.name == name).and_then(|field| field.fault.clone());
        Field { name: name.to_owned(), value: self.value(name).to_owned(), fault }
    }
}

/// With a capital first, as a sentence stands on a page.
pub fn sentence(message: &str) -> String {
    let mut letters = message.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn as_typed(value: Value) -> String {
    match value {
        Value::String(text) => text,
        Value::Null | Value::Bool(false) => String::new(),
        Value::Bool(true) => "yes".to_owned(),
        other => other.to_string(),
    }
}

/// The page with its form: 422 if the form was refused.
pub fn show(form: &FormState, page: &impl askama::Template) -> Result<Response, PageError> {
    let status = if form.is_refused() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Serialize)]
    struct NoteForm {
        key: String,
        note: String,
        seen: bool,
    }

    #[test]
    fn keeps_what_was_typed_beside_its_fault() {
        let key = token();
        let mut form = FormState::of(&NoteForm { key: key.clone(), note: "cap 3 <tight>".into(), seen: true });
        assert_eq!((form.key(), form.value("note"), form.value("seen")), (&*key, "cap 3 <tight>", "yes"));
        assert_eq!(form.take::<f64, _>("note", "4.37x".parse::<f64>().map_err(|_| "enter a length")), None);
        let field = form.field("note");
        assert_eq!((&*field.value, field.fault.as_deref()), ("cap 3 <tight>", Some("enter a length")));
        assert_eq!(field.described_by("in inches"), "field-note-hint field-note-fault");
        assert!(form.is_refused() && form.field("seen").fault.is_none());
    }

    #[test]
    fn a_forged_key_is_replaced() {
        let form = FormState::from_pairs([("key".to_owned(), "'; --".to_owned())]);
        assert!(is_token(form.key()));
    }
}
