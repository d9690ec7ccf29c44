//! Notes to a job or one of its steps.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use crate::record::{builds, notes};

/// A note is read at the bench: longer texts belong in a file.
const LONGEST: usize = 20_000;

impl Shop {
    /// Keeps a note.
    ///
    /// # Errors
    /// Where it is empty or far too long.
    pub async fn add_note(&self, doing: &Doing, job: i64, step: Option<&str>, text: &str) -> Done<()> {
        let text = text.trim();
        if text.is_empty() {
            return Err(Refused::fault("text", "write the note first"));
        }
        if text.chars().count() > LONGEST {
            return Err(Refused::fault(
                "text",
                format!("a note has at most {LONGEST} characters: attach a file instead"),
            ));
        }
        builds::by_id(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let step = self.step_id(job, step).await?;
        let Some(mut w) = self.begin(doing, "write note", Some(job)).await? else { return Ok(()) };
        notes::insert(&mut w, job, step, text).await?;
        self.begin_step_by_id(&mut w, job, step).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a note; it stays in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_note(&self, doing: &Doing, job: i64, note: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw note", Some(job)).await? else { return Ok(()) };
        if !notes::withdraw(&mut w, job, note).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
