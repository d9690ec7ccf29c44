//! One reading's page: what it says, what became of it, and what else was read in the same slot.

use super::Shop;
use super::correct::{find, rivals};
use super::doing::Done;
use super::job::JobHead;
use super::reading_view::{ReadingView, reading_view};
use crate::engine::{SheetKey, SlotKey};
use crate::sheets::{home_of_reading, sheet};
use jiff::Timestamp;

/// A reading's page.
#[derive(Clone, Debug)]
pub struct OneReadingView {
    pub head: JobHead,
    pub sheet: SheetKey,
    pub sheet_title: &'static str,
    pub slot: SlotKey,
    /// Whether this edition still asks for the slot; a reading of one that it does not can only be looked at or withdrawn.
    pub asked: bool,
    /// "main 2, clearance, vertical".
    pub whereabouts: String,
    /// The unit of a bare figure.
    pub unit: &'static str,
    /// "trial, round 2".
    pub round: String,
    pub reading: ReadingView,
    /// All others of the slot in the same round, in order of taking.
    pub others: Vec<ReadingView>,
    /// Those between which somebody has to choose, this one among them; empty otherwise.
    pub rivals: Vec<ReadingView>,
}

impl Shop {
    /// One reading with its place and slot in words, and what else was read there.
    ///
    /// # Errors
    /// [`super::Refused::NotFound`] where there is none.
    pub async fn reading(&self, job: i64, number: i64, now: Timestamp) -> Done<OneReadingView> {
        let look = self.look_at_job(job, now).await?;
        let reading = find(&look, number)?;
        let home = home_of_reading(reading.sheet, &reading.slot.feature);
        let of = sheet(home);
        let slots = (of.slots)(&look.job.setup());
        let slot = slots.iter().find(|slot| slot.key == reading.slot);
        let measure = reading.slot.feature.measure();
        let unit = look.job.build.unit.of(measure);
        let place = look.job.engine.architecture.label(reading.slot.place);
        let covered = look.job.is_covered(reading);
        let view = |r: &_| {
            let view = reading_view(&look, r, measure);
            if covered { view.covered() } else { view }
        };
        let undecided = rivals(&look, reading);
        let in_slot = look.job.in_slot(&reading.slot, reading.round);
        Ok(OneReadingView {
            head: look.head(),
            sheet: home,
            sheet_title: of.title,
            slot: reading.slot.clone(),
            asked: slot.is_some(),
            whereabouts: match slot {
                Some(slot) => format!("{place}, {}", slot.label),
                None => reading.slot.to_string(),
            },
            unit: unit.symbol(),
            round: look
                .job
                .round(reading.round)
                .map_or_else(String::new, |round| format!("{}, round {}", round.kind.word(), round.number)),
            others: in_slot.filter(|other| other.number != number).map(view).collect(),
            rivals: if undecided.iter().any(|rival| rival.number == number) {
                undecided.into_iter().map(view).collect()
            } else {
                Vec::new()
            },
            reading: view(reading),
        })
    }
}
