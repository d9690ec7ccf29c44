//! By exception: what a round did not read anew stands as an earlier round read it, where somebody says he checked it again.
//!
//! A check without a new figure is no new reading, so none is made: the earlier ones stand, with what they are good to, and
//! every finding that rests on them says so.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use super::job::JobLook;
use crate::engine::{Place, SheetKey};
use crate::record::rechecks;
use crate::record::rounds::Round;

/// What was checked again, in words.
#[derive(Clone, Debug)]
pub struct RecheckView {
    pub id: i64,
    /// "everything", or the place.
    pub what: String,
    /// "as round 1, final".
    pub earlier: String,
    pub when: String,
}

/// What can be checked again, and what was.
#[derive(Clone, Debug, Default)]
pub struct ExceptView {
    /// Earlier rounds of the sheet with readings, newest first: number and name.
    pub earlier: Vec<(i64, String)>,
    pub done: Vec<RecheckView>,
}

fn name(round: &Round) -> String {
    format!("round {}, {}", round.number, round.kind.word())
}

pub(super) fn except_view(look: &JobLook, round: Option<&Round>) -> ExceptView {
    let Some(round) = round else { return ExceptView::default() };
    let job = &look.job;
    let earlier = job.rounds.iter().rev().filter(|other| {
        other.sheet == round.sheet && other.number < round.number && job.readings.iter().any(|r| r.round == other.id)
    });
    let view = |recheck: &rechecks::Recheck| RecheckView {
        id: recheck.id,
        what: recheck
            .place
            .map_or_else(|| "everything not read anew".to_owned(), |place| job.engine.architecture.label(place)),
        earlier: job.round(recheck.earlier).map_or_else(String::new, |round| format!("as {}", name(round))),
        when: look.when.stamp(&recheck.stamp),
    };
    ExceptView {
        earlier: earlier.map(|round| (round.number, name(round))).collect(),
        done: job.rechecks.iter().filter(|recheck| recheck.round == round.id).map(view).collect(),
    }
}

impl Shop {
    /// Says that a round's parts were checked again and are as an earlier round read them: at one place, or at all of them.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there are no such rounds, nothing was read in the earlier one, or there is no such place.
    pub async fn recheck(
        &self,
        doing: &Doing,
        job: i64,
        (sheet, round, earlier): (SheetKey, i64, i64),
        place: Option<Place>,
    ) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let numbered =
            |number| look.job.rounds.iter().find(|r| r.sheet == sheet && r.number == number).ok_or(Refused::NotFound);
        let (round, earlier) = (numbered(round)?, numbered(earlier)?);
        let was_read = look.job.readings.iter().any(|reading| reading.round == earlier.id);
        let is_there = place.is_none_or(|place| look.job.engine.architecture.has(place));
        if earlier.number >= round.number || !was_read || !is_there {
            return Err(Refused::NotFound);
        }
        let same = |r: &rechecks::Recheck| (r.round, r.earlier, r.place) == (round.id, earlier.id, place);
        if look.job.rechecks.iter().any(same) {
            return Ok(());
        }
        let Some(mut w) = self.begin(doing, "check again", Some(job)).await? else { return Ok(()) };
        rechecks::insert(&mut w, job, round.id, earlier.id, place).await?;
        Ok(w.commit().await?)
    }

    /// Takes back that something was checked again; it stays in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn take_recheck_back(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "take check back", Some(job)).await? else { return Ok(()) };
        if !rechecks::withdraw(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
