//! What can be chosen on a sheet, from its input and what is typed beside it.

use super::sheet_input::{FORMAT, SheetInput};
use crate::engine::{Place, SheetKey};
use crate::sheets::sheet;
use serde::Serialize;

/// What can be chosen, the best first.
#[derive(Clone, Debug, Serialize)]
pub struct SheetChoices {
    pub format: u64,
    pub sheet: SheetKey,
    pub title: &'static str,
    pub choices: Vec<ChoiceResult>,
}

/// One choice for all its places.
#[derive(Clone, Debug, Serialize)]
pub struct ChoiceResult {
    pub title: String,
    pub places: Vec<ChosenResult>,
    pub said: String,
}

/// What goes where, and what it gives.
#[derive(Clone, Debug, Serialize)]
pub struct ChosenResult {
    pub place: Place,
    pub words: String,
}

/// Works out what can be chosen.
///
/// # Errors
/// In words: what is missing for it, or that nothing is chosen on this sheet.
pub fn choose(key: SheetKey, input: &SheetInput, typed: &str) -> Result<SheetChoices, String> {
    let options = sheet(key).options.as_ref().ok_or_else(|| format!("nothing is chosen on {}", sheet(key).title))?;
    let choices = (options.work_out)(&input.book, typed)?.into_iter().map(|choice| ChoiceResult {
        title: choice.title,
        places: choice.rows.into_iter().map(|(place, words)| ChosenResult { place, words }).collect(),
        said: choice.said,
    });
    Ok(SheetChoices { format: FORMAT, sheet: key, title: options.title, choices: choices.collect() })
}
