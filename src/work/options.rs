//! What can be chosen on a sheet, worked out for its page.

use super::Shop;
use super::doing::{Done, FieldFault, Refused};
use super::job::JobHead;
use crate::engine::SheetKey;
use crate::sheets::{Choice, sheet};
use jiff::Timestamp;

/// A choice as its page shows it.
#[derive(Clone, Debug)]
pub struct ChoiceView {
    pub title: String,
    /// Where, and what goes there.
    pub rows: Vec<(String, String)>,
    pub said: String,
}

/// The page of what can be chosen on a sheet.
#[derive(Clone, Debug)]
pub struct OptionsView {
    pub head: JobHead,
    pub sheet: SheetKey,
    pub sheet_title: &'static str,
    pub title: &'static str,
    pub purpose: &'static str,
    /// What is to be typed; none where the readings are enough.
    pub asks: Option<&'static str>,
    /// The choices, the best first; or what is missing to work them out.
    pub choices: Result<Vec<ChoiceView>, FieldFault>,
}

/// More than any shelf's list.
const LONGEST: usize = 4000;

impl Shop {
    /// What can be chosen on a sheet, from what stands and what was typed.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job, or nothing to choose on the sheet.
    pub async fn options(&self, job: i64, key: SheetKey, typed: &str, now: Timestamp) -> Done<OptionsView> {
        let of = sheet(key);
        let options = of.options.as_ref().ok_or(Refused::NotFound)?;
        let look = self.look_at_job(job, now).await?;
        let book = look.job.book();
        let fault = |words: String| FieldFault::new("typed", words);
        let choices = match FieldFault::too_long("typed", typed, LONGEST) {
            Some(too_long) => Err(too_long),
            None => (options.work_out)(&book, typed).map_err(fault),
        };
        let view = |choice: Choice| ChoiceView {
            title: choice.title,
            rows: choice.rows.into_iter().map(|(place, words)| (book.setup.architecture.label(place), words)).collect(),
            said: choice.said,
        };
        Ok(OptionsView {
            head: look.head(),
            sheet: key,
            sheet_title: of.title,
            title: options.title,
            purpose: options.purpose,
            asks: options.asks,
            choices: choices.map(|choices| choices.into_iter().map(view).collect()),
        })
    }
}
