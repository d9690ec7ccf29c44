//! What can be done with a reading afterwards: corrected, chosen, withdrawn, moved; the old one always stays.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::reading_view::reading_view;
use super::rounds::counting_or_first;
use super::said_for_all::speaks_for_all;
use super::take::understand;
use crate::record::gauges;
use crate::record::readings::{self, NewReading, Reading, ReadingState};
use crate::sheets::{Slot, home_of_reading, sheet};

/// A correction as typed.
#[derive(Clone, Debug, Default)]
pub struct NewCorrection {
    pub text: String,
    pub why: String,
    /// It looked odd, and is kept as read.
    pub as_read: bool,
}

/// What became of a correction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Corrected {
    Kept,
    /// Nothing kept yet: it is off from what is expected. Keep as read, or read again.
    Odd {
        question: String,
    },
}

impl Shop {
    /// Corrects a reading: the old one stays, struck through, with who, when and why. What is odd is asked about first.
    ///
    /// # Errors
    /// Where no reason is given, the new value cannot be, or the reading no longer stands.
    pub async fn correct(&self, doing: &Doing, job: i64, number: i64, new: &NewCorrection) -> Done<Corrected> {
        if self.was_done(doing).await? {
            return Ok(Corrected::Kept);
        }
        let look = self.look_with_family(job, doing.at).await?;
        let old = find(&look, number)?.clone();
        let slot = slot_of(&look, &old)?;
        let mut faults = Vec::new();
        if new.why.trim().is_empty() {
            faults.push(FieldFault::new("why", "say why: such as “thimble misread”"));
        }
        // Read with the same gauge as it stood then, whatever it was set to since, or on the job it was moved from.
        let gauge = old.gauge.and_then(|id| look.job.gauge(id));
        let setting = match old.gauge_setting {
            Some(id) => gauges::setting_by_id(&mut *self.record.look().await?, id).await?,
            None => None,
        };
        let understood = match understand(&look, &slot, gauge, setting.as_ref(), &new.text, false) {
            Err(Refused::Faults(more)) => {
                faults.extend(more);
                return Err(Refused::Faults(faults));
            }
            other => other?,
        };
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        self.refuse_unless_standing(&look, &slot, &old)?;
        let question = understood.question(&look, &slot, Some(old.round));
        let as_read = question.is_some();
        if let Some((question, _)) = question.filter(|(_, answered)| !answered && !new.as_read) {
            return Ok(Corrected::Odd { question });
        }
        let Some(mut w) = self.begin(doing, "correct reading", Some(job)).await? else { return Ok(Corrected::Kept) };
        readings::set_state(&mut w, job, number, ReadingState::Corrected).await?;
        let corrected = NewReading {
            item: old.item,
            sheet: old.sheet,
            slot: old.slot,
            round: old.round,
            says: understood.says,
            typed: new.text.trim().to_owned(),
            unit: understood.unit,
            resolution: understood.resolution,
            gauge: old.gauge,
            gauge_setting: old.gauge_setting,
            saw: Some(number),
            corrects: Some(number),
            why: new.why.trim().to_owned(),
            as_read,
            moved_from: None,
            brought: None,
            state: ReadingState::Stands,
        };
        readings::insert(&mut w, job, &corrected).await?;
        w.commit().await?;
        Ok(Corrected::Kept)
    }

    /// Chooses one of the rivals of a slot; the others are set aside.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such reading, a conflict where nothing is left to choose.
    pub async fn choose(&self, doing: &Doing, job: i64, number: i64) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let chosen = find(&look, number)?;
        let rivals: Vec<&Reading> = rivals(&look, chosen);
        if !rivals.iter().any(|r| r.number == number) {
            return Err(Refused::Conflict { stands: "somebody has chosen already".to_owned() });
        }
        let Some(mut w) = self.begin(doing, "choose reading", Some(job)).await? else { return Ok(()) };
        for rival in rivals {
            let state = if rival.number == number { ReadingState::Stands } else { ReadingState::SetAside };
            if rival.state != state {
                readings::set_state(&mut w, job, rival.number, state).await?;
            }
        }
        Ok(w.commit().await?)
    }

    /// Withdraws the reading last taken by mistake; it stays, struck through. With what was said for all at once go the
    /// exceptions that were said with it.
    ///
    /// # Errors
    /// Where it no longer stands.
    pub async fn withdraw_reading(&self, doing: &Doing, job: i64, number: i64) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let reading = find(&look, number)?;
        if !matches!(reading.state, ReadingState::Stands | ReadingState::Rival) {
            return Err(Refused::Conflict { stands: "it does not count any more".to_owned() });
        }
        let Some(mut w) = self.begin(doing, "withdraw reading", Some(job)).await? else { return Ok(()) };
        let with_it = |r: &&Reading| {
            let live = matches!(r.state, ReadingState::Stands | ReadingState::Rival);
            live && r.made == reading.made && speaks_for_all(reading.slot.place)
        };
        for other in look.job.readings.iter().filter(|r| r.number == number || with_it(r)) {
            readings::set_state(&mut w, job, other.number, ReadingState::Withdrawn).await?;
        }
        Ok(w.commit().await?)
    }

    /// Moves a reading put on the wrong job to the same slot of another; both keep the trace.
    ///
    /// # Errors
    /// Where no reason is given, there is no such job, or its engine has no such slot.
    pub async fn move_reading(&self, doing: &Doing, job: i64, number: i64, to: i64, why: &str) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let old = find(&look, number)?.clone();
        let slot = slot_of(&look, &old)?;
        let mut faults = Vec::new();
        if why.trim().is_empty() {
            faults.push(FieldFault::new("why_moved", "say why: such as “typed on the wrong job”"));
        }
        let target = match self.look_at_job(to, doing.at).await {
            Err(Refused::NotFound) => {
                faults.push(FieldFault::new("to", format!("there is no job {to}")));
                None
            }
            other => Some(other?),
        };
        if to == job {
            faults.push(FieldFault::new("to", "enter the number of the other job"));
        }
        let (Some(target), true) = (target, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        self.refuse_unless_standing(&look, &slot, &old)?;
        let home = home_of_reading(old.sheet, &old.slot.feature);
        let there = (sheet(home).slots)(&target.job.setup()).into_iter().find(|slot| slot.key == old.slot);
        let there = there.ok_or_else(|| Refused::fault("to", format!("the engine of job {to} has no such place")))?;
        let Some(mut w) = self.begin(doing, "move reading", Some(to)).await? else { return Ok(()) };
        let round = counting_or_first(&mut w, to, home).await?;
        let occupied = target.job.in_slot(&old.slot, round).any(|r| r.state == ReadingState::Stands);
        let moved = NewReading {
            item: target.job.item(there.item).ok_or(Refused::NotFound)?,
            sheet: home,
            slot: old.slot,
            round,
            says: old.says,
            typed: old.typed,
            unit: old.unit,
            resolution: old.resolution,
            gauge: old.gauge,
            gauge_setting: old.gauge_setting,
            saw: None,
            corrects: None,
            why: why.trim().to_owned(),
            as_read: old.as_read,
            moved_from: Some(format!("{job}/{number}")),
            brought: None,
            state: if occupied { ReadingState::Rival } else { ReadingState::Stands },
        };
        let number_there = readings::insert(&mut w, to, &moved).await?;
        readings::set_moved(&mut w, job, number, &format!("{to}/{number_there}")).await?;
        w.commit().await?;
        // The job it came from was touched by an act that names the other job.
        self.memo.forget(job);
        Ok(())
    }

    fn refuse_unless_standing(&self, look: &JobLook, slot: &Slot, reading: &Reading) -> Done<()> {
        if reading.state == ReadingState::Stands {
            return Ok(());
        }
        let standing =
            look.job.in_slot(&reading.slot, reading.round).filter(|r| r.state == ReadingState::Stands).last();
        let says = |r: &Reading| match reading_view(look, r, slot.measure()) {
            view if look.job.is_covered(r) => view.covered().shown,
            view => view.shown,
        };
        let stands = standing.map_or_else(|| "nothing".to_owned(), says);
        Err(Refused::Conflict { stands: format!("the slot now says: {stands}") })
    }
}

pub(super) fn find(look: &JobLook, number: i64) -> Done<&Reading> {
    look.job.readings.iter().find(|reading| reading.number == number).ok_or(Refused::NotFound)
}

fn slot_of(look: &JobLook, reading: &Reading) -> Done<Slot> {
    let home = home_of_reading(reading.sheet, &reading.slot.feature);
    let slots = (sheet(home).slots)(&look.job.setup());
    slots.into_iter().find(|slot| slot.key == reading.slot).ok_or(Refused::NotFound)
}

/// The rivals of a reading's slot with the one that stood before them; empty where nobody has to choose.
pub(super) fn rivals<'a>(look: &'a JobLook, of: &'a Reading) -> Vec<&'a Reading> {
    let all: Vec<&Reading> = look.job.in_slot(&of.slot, of.round).collect();
    if !all.iter().any(|r| r.state == ReadingState::Rival) {
        return Vec::new();
    }
    let standing = all.iter().rev().find(|r| r.state == ReadingState::Stands);
    standing.into_iter().chain(all.iter().filter(|r| r.state == ReadingState::Rival)).copied().collect()
}
