//! What is wrong with a document, every fault at once with its path; and how a part of it is taken out and read.

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use std::fmt;

/// One fault of a document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputFault {
    /// Where: `readings[3].value`; empty for the document as a whole.
    pub path: String,
    /// What is wrong, and what to write instead.
    pub message: String,
}

impl fmt::Display for InputFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.path.is_empty() { f.write_str(&self.message) } else { write!(f, "{}: {}", self.path, self.message) }
    }
}

/// The faults found so far.
#[derive(Default)]
pub(super) struct Faults(Vec<InputFault>);

impl Faults {
    pub fn note(&mut self, path: impl Into<String>, message: impl fmt::Display) {
        self.0.push(InputFault { path: path.into(), message: message.to_string() });
    }

    /// The value, or nothing once its fault is noted.
    pub fn unless<T, E: fmt::Display>(&mut self, path: impl Into<String>, outcome: Result<T, E>) -> Option<T> {
        outcome.map_err(|fault| self.note(path, fault)).ok()
    }

    /// Reads one part; unknown fields are refused by name.
    pub fn part<T: DeserializeOwned>(&mut self, path: &str, value: Value) -> Option<T> {
        self.unless(path, serde_json::from_value(value))
    }

    /// Reads each part of a list by itself, so that one fault does not hide the next.
    pub fn list<T: DeserializeOwned>(&mut self, path: &str, parts: Vec<Value>) -> Vec<(String, T)> {
        let read = |(index, value)| {
            let path = format!("{path}[{index}]");
            self.part(&path, value).map(|part| (path, part))
        };
        parts.into_iter().enumerate().filter_map(read).collect()
    }

    /// Takes a field that must be there.
    pub fn take(&mut self, document: &mut Map<String, Value>, name: &str) -> Option<Value> {
        let found = document.remove(name);
        if found.is_none() {
            self.note(name, "is missing");
        }
        found
    }

    /// Takes a list that may be left out.
    pub fn take_list(&mut self, document: &mut Map<String, Value>, name: &str) -> Vec<Value> {
        document.remove(name).and_then(|value| self.part(name, value)).unwrap_or_default()
    }

    /// The outcome, or every fault that was noted.
    pub fn or<T>(self, outcome: Option<T>) -> Result<T, Vec<InputFault>> {
        match outcome {
            Some(outcome) if self.0.is_empty() => Ok(outcome),
            _ => Err(self.0),
        }
    }
}
