//! What is asked of whole sets of readings, once; and the answers.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use super::job::JobLook;
use crate::engine::{SheetKey, SlotKey};
use crate::record::readings::{Reading, ReadingState};
use crate::record::rounds::{Round, RoundKind};
use crate::record::set_answers::{self, SetAnswer};
use crate::sheets::{Book, EarlierRound, SetDoubt, set_doubts, told_in_full};
use std::collections::BTreeSet;

/// What is asked of the sets of a round: not what somebody has answered, nor what a gauge set anew since answers.
pub(super) fn doubts(look: &JobLook, book: &Book, round: &Round, answers: &[SetAnswer]) -> Vec<SetDoubt> {
    let standing = |r: &&Reading| r.round == round.id && r.state == ReadingState::Stands;
    let readings: Vec<&Reading> = look.job.readings.iter().filter(standing).collect();
    let in_full: BTreeSet<SlotKey> =
        readings.iter().filter(|r| told_in_full(&r.typed, r.resolution)).map(|r| r.slot.clone()).collect();
    let answered =
        |doubt: &SetDoubt| answers.iter().any(|answer| answer.round == round.id && answer.doubt == doubt.key);
    let set_since = |doubt: &SetDoubt| {
        let of_set = readings.iter().filter(|r| doubt.slots.contains(&r.slot));
        let last = of_set.max_by_key(|r| r.stamp.at);
        last.is_some_and(|last| {
            let later = |made| made > last.stamp.at;
            look.job.settings.iter().any(|setting| Some(setting.gauge) == last.gauge && later(setting.made.at))
        })
    };
    let mut doubts = set_doubts(book, round.sheet, &in_full, earlier(look, round).as_ref());
    doubts.retain(|doubt| !answered(doubt) && !set_since(doubt));
    doubts
}

/// The newest earlier round of the sheet in the same condition, both taken after the machining.
fn earlier(look: &JobLook, round: &Round) -> Option<EarlierRound> {
    let measured = |kind: RoundKind| matches!(kind, RoundKind::Trial | RoundKind::Final);
    let before = look.job.rounds.iter().rfind(|other| {
        (other.sheet, &other.condition) == (round.sheet, &round.condition)
            && other.number < round.number
            && measured(other.kind)
            && measured(round.kind)
    })?;
    let name = format!("round {}, {}", before.number, before.kind.word());
    Some(EarlierRound { name, book: look.job.book_of_round(before) })
}

impl Shop {
    /// Answers what is asked of a set of a round: it is right as it was read, and is not asked again.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such round, or this is not asked of it.
    pub async fn answer_doubt(&self, doing: &Doing, job: i64, sheet: SheetKey, round: i64, doubt: &str) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let of_round = |r: &&Round| r.sheet == sheet && r.number == round;
        let round = look.job.rounds.iter().find(of_round).ok_or(Refused::NotFound)?;
        let answers = set_answers::of_build(&mut *self.record.look().await?, job).await?;
        let asked = doubts(&look, &look.job.book_of_round(round), round, &answers);
        let asked = asked.into_iter().find(|asked| asked.key == doubt).ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "answer question", Some(job)).await? else { return Ok(()) };
        let answer = SetAnswer { round: round.id, doubt: asked.key };
        set_answers::insert(&mut w, job, &answer, &asked.question).await?;
        Ok(w.commit().await?)
    }
}
