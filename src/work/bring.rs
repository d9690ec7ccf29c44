//! The readings of a thing that came from another job: which of them this engine has a place for, taken into its rounds.
//!
//! They stay where they were read. Here stands a copy that says by whom, when and where it was read, so that what is changed,
//! chosen or struck out here is of this job alone.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use super::job::JobLook;
use super::parts::Stock;
use super::rounds::counting_or_first;
use crate::engine::{ItemKind, ItemRef, Place, SheetKey, SlotFeature, SlotKey};
use crate::record::items;
use crate::record::readings::{self, Brought, NewReading, Reading, ReadingState};
use crate::record::rounds::{self, Round};
use crate::sheets::{Change, Slot, home_of_reading, sheet};
use jiff::Timestamp;
use std::collections::BTreeMap;

/// What another job read of a thing that is fitted here.
#[derive(Clone, Debug)]
pub struct ReadElsewhere {
    pub job: i64,
    /// How many readings of it stand there in the rounds that count.
    pub readings: usize,
    /// How many of them can be taken in here.
    pub to_bring: usize,
    /// Why the others cannot, or need not be.
    pub left: Vec<String>,
}

/// Why a reading of the other job is not taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Left {
    Came,
    NotFitted,
    NoPlace,
    WithOthers,
    Stale,
    Covered,
    ReadHere,
    OtherHeat,
}

impl Left {
    fn words(self) -> &'static str {
        match self {
            Self::Came => "taken in already",
            Self::NotFitted => "once it is fitted here",
            Self::WithOthers => "read together with other parts of that engine",
            Self::NoPlace => "of what this engine does not have",
            Self::Stale => "stale: something was changed after they were read",
            Self::Covered => "waiting for their second reading there",
            Self::ReadHere => "of what this job’s round has read already: begin a round for them first",
            Self::OtherHeat => "taken at another temperature than this job's round: begin a round at theirs first",
        }
    }
}

/// A reading with the slot it belongs in here.
struct ToBring<'a> {
    reading: &'a Reading,
    read_in: &'a Round,
    sheet: SheetKey,
    slot: Slot,
}

/// The readings of a thing that stand in the rounds that count of another job, held against what this job asks and has.
struct Offer<'a> {
    to_bring: Vec<ToBring<'a>>,
    left: BTreeMap<Left, usize>,
}

impl<'a> Offer<'a> {
    /// `others` are all jobs besides this one that had the thing, `there` among them.
    fn of(here: &JobLook, there: &'a JobLook, others: &[JobLook], item: i64) -> Self {
        let mut offer = Self { to_bring: Vec::new(), left: BTreeMap::new() };
        let at = here.job.items.iter().find(|fitted| fitted.item == item).map(|fitted| fitted.at);
        let mut asked = at.map(|at| Asked { here, others, at, slots: BTreeMap::new(), heat: BTreeMap::new() });
        for round in there.job.rounds.iter().filter(|round| round.counts) {
            for reading in there.job.standing_in(round).into_iter().filter(|reading| reading.item == item) {
                let Some(read_in) = there.job.round(reading.round) else { continue };
                let judged =
                    asked.as_mut().ok_or(Left::NotFitted).and_then(|asked| asked.judge(there, reading, read_in));
                match judged {
                    Ok((sheet, slot)) => offer.to_bring.push(ToBring { reading, read_in, sheet, slot }),
                    Err(why) => *offer.left.entry(why).or_default() += 1,
                }
            }
        }
        offer
    }
}

/// Part and gauge in °C; none where nobody said.
type Heat = (Option<f64>, Option<f64>);

/// What this job asks of a thing that is fitted in it.
struct Asked<'a> {
    here: &'a JobLook,
    others: &'a [JobLook],
    at: ItemRef,
    slots: BTreeMap<SheetKey, Vec<Slot>>,
    /// At which temperatures each sheet's round is read: one that has no reading yet takes those of the first that comes.
    heat: BTreeMap<SheetKey, Heat>,
}

impl Asked<'_> {
    fn judge(&mut self, there: &JobLook, reading: &Reading, read_in: &Round) -> Result<(SheetKey, Slot), Left> {
        let home = home_of_reading(reading.sheet, &reading.slot.feature);
        let key = SlotKey::new(reading.slot.feature.clone(), self.place(there, reading));
        let slots = self.slots.entry(home).or_insert_with(|| (sheet(home).slots)(&self.here.job.setup()));
        let of_it = |slot: &&Slot| slot.key == key && slot.item.kind == self.at.kind;
        let slot = slots.iter().find(of_it).cloned().ok_or(Left::NoPlace)?;
        if !is_of_one(self.at.kind, &key.feature) {
            return Err(Left::WithOthers);
        }
        if !there.findings.stale.of_reading(&reading.id()).is_empty() || self.was_changed_since(there, reading) {
            return Err(Left::Stale);
        }
        if there.job.is_covered(reading) {
            return Err(Left::Covered);
        }
        let round = self.here.job.counting(home);
        let is_live = |r: &Reading| matches!(r.state, ReadingState::Stands | ReadingState::Rival);
        let own = round.into_iter().flat_map(|round| self.here.job.in_slot(&key, round.id)).filter(|r| is_live(r));
        let again = round.into_iter().flat_map(|round| self.here.job.standing_in(round)).filter(|r| r.slot == key);
        let kept = self.here.job.kept_elsewhere(&key).into_iter().filter(|r| is_live(r));
        let mut read_here = own.chain(again).chain(kept).peekable();
        if read_here.peek().is_some() {
            let id = reading.id();
            let came = read_here.any(|r| r.brought.as_ref().is_some_and(|brought| brought.from == id));
            return Err(if came { Left::Came } else { Left::ReadHere });
        }
        let read = heat(read_in);
        let begun = round.filter(|round| self.here.job.readings.iter().any(|r| r.round == round.id));
        let wanted = *self.heat.entry(home).or_insert_with(|| begun.map_or(read, heat));
        if wanted == read { Ok((home, slot)) } else { Err(Left::OtherHeat) }
    }

    /// Whether yet another job did something to the thing after it was read there: a crank that was ground since.
    fn was_changed_since(&self, there: &JobLook, reading: &Reading) -> bool {
        let by_fitting = Change::by_fitting(self.at.kind);
        let others = self.others.iter().filter(|other| other.job.build.id != there.job.build.id);
        others.flat_map(|other| &other.job.changes).any(|change| {
            let said = change.said.change;
            change.stamp.at > reading.stamp.at
                && said != by_fitting
                && said.makes_stale(&reading.slot.feature).is_some()
        })
    }

    /// Where what was read there is here: a thing of which an engine has several may be fitted at another place.
    fn place(&self, there: &JobLook, reading: &Reading) -> Place {
        let slots = (sheet(reading.sheet).slots)(&there.job.setup());
        let was_at = slots.iter().find(|slot| slot.key == reading.slot).map(|slot| slot.item.place);
        if was_at == Some(reading.slot.place) { self.at.place } else { reading.slot.place }
    }
}

/// Whether a reading is of a thing of this kind by itself: nothing that another kind of thing would change.
fn is_of_one(kind: ItemKind, feature: &SlotFeature) -> bool {
    let changes = |other: &ItemKind| Change::by_fitting(*other).makes_stale(feature).is_some();
    !ItemKind::ALL.iter().filter(|other| **other != kind).any(changes)
}

fn heat(round: &Round) -> Heat {
    (round.temperature_c, round.gauge_temperature_c)
}

impl Shop {
    /// What other jobs read of a thing that is a part of this one.
    pub(super) async fn read_elsewhere(&self, here: &JobLook, item: i64, now: Timestamp) -> Done<Vec<ReadElsewhere>> {
        let others = self.others_with(here, item, now).await?;
        let mut found = Vec::new();
        for there in &others {
            let offer = Offer::of(here, there, &others, item);
            let readings = offer.to_bring.len() + offer.left.values().sum::<usize>();
            if readings > 0 {
                let left = offer.left.iter().map(|(why, count)| format!("{count} {}", why.words())).collect();
                found.push(ReadElsewhere { job: there.job.build.id, readings, to_bring: offer.to_bring.len(), left });
            }
        }
        Ok(found)
    }

    /// The other jobs whose engines have or had a thing.
    async fn others_with(&self, here: &JobLook, item: i64, now: Timestamp) -> Done<Vec<JobLook>> {
        let jobs = items::builds_of(&mut *self.record.look().await?, item).await?;
        let mut others = Vec::new();
        for job in jobs.into_iter().filter(|job| *job != here.job.build.id) {
            others.push(self.look_at_job(job, now).await?);
        }
        Ok(others)
    }

    /// Takes in what another job read of a part that is fitted here: each reading in its slot of the round that counts, as
    /// it was typed, with gauge, person and time. What is read here already, is stale there, or was read at another temperature
    /// stays out.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such part or job; [`Refused::Faults`] on field `readings` where nothing can
    /// be taken in.
    pub async fn bring_readings(&self, doing: &Doing, job: i64, public_id: &str, from: i64) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let here = self.look_at_job(job, doing.at).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let item = stock.find(public_id)?.item.ok_or(Refused::NotFound)?;
        let others = self.others_with(&here, item, doing.at).await?;
        let there = others.iter().find(|other| other.job.build.id == from).ok_or(Refused::NotFound)?;
        let offer = Offer::of(&here, there, &others, item);
        if offer.to_bring.is_empty() {
            return Err(Refused::fault("readings", format!("there is nothing more to take in from job {from}")));
        }
        let Some(mut w) = self.begin(doing, "bring readings", Some(job)).await? else { return Ok(()) };
        // Looked at again inside the transaction: another tablet may have been quicker.
        let now = readings::of_build(&mut w, job).await?;
        for ToBring { reading, read_in, sheet, slot } in offer.to_bring {
            let round = counting_or_first(&mut w, job, sheet).await?;
            if now.iter().all(|r| r.round != round) {
                rounds::set_temperatures(&mut w, round, read_in.temperature_c, read_in.gauge_temperature_c).await?;
            }
            let occupied =
                now.iter().any(|r| r.round == round && r.slot == slot.key && r.state == ReadingState::Stands);
            let new = NewReading {
                item,
                sheet,
                slot: slot.key,
                round,
                says: reading.says.clone(),
                typed: reading.typed.clone(),
                unit: reading.unit,
                resolution: reading.resolution,
                gauge: reading.gauge,
                gauge_setting: reading.gauge_setting,
                saw: None,
                corrects: None,
                why: String::new(),
                as_read: reading.as_read,
                moved_from: None,
                brought: Some(Brought { from: reading.id(), read_in: reading.read_in() }),
                state: if occupied { ReadingState::Rival } else { ReadingState::Stands },
            };
            readings::insert(&mut w, job, &new).await?;
        }
        Ok(w.commit().await?)
    }
}
