//! How a job ends or where it rests, as its page shows it: what can go where, what is still awaited.

use super::Shop;
use super::doing::{Done, Refused};
use super::edit_job::item_label;
use super::job::{JobHead, JobLook};
use super::supplies::{AwayLine, PartLine, Supplies};
use super::when::civil;
use crate::engine::{ItemKind, Place};
use crate::record::endings::{self, Ending, EndingKind, KeptThing, Whither};
use crate::record::items::Fitted;
use crate::record::parts::{Part, Whose};
use crate::record::{Connection, builds};
use jiff::Timestamp;

/// A thing of a job, and where it goes by default.
#[derive(Clone, Debug)]
pub struct ThingField {
    /// Its key in the form.
    pub key: String,
    /// "crank", "rod, cylinder 3", "2 rod bolts".
    pub what: String,
    pub serial: String,
    /// Whose it is; empty for what is part of the engine.
    pub whose: &'static str,
    /// Where it goes unless somebody says otherwise; none: with the engine.
    pub usual: Option<Whither>,
}

/// An ending that stands, in words.
#[derive(Clone, Debug)]
pub struct EndingShown {
    /// "cancelled".
    pub kind: &'static str,
    pub day: String,
    pub words: String,
    /// The day from which storage runs.
    pub storage_from: Option<String>,
    /// What went where: "back to the customer", with what.
    pub went: Vec<(String, Vec<String>)>,
    pub when: String,
}

/// The page of a job's ending.
#[derive(Clone, Debug)]
pub struct EndingView {
    pub head: JobHead,
    pub stands: Option<EndingShown>,
    /// Those taken back: "parked, 3 March 2026".
    pub taken_back: Vec<String>,
    pub things: Vec<ThingField>,
    /// What is on order and away still.
    pub awaited: Vec<PartLine>,
    pub away: Vec<AwayLine>,
    /// Today, as a form takes it.
    pub today: String,
    /// What its form saw.
    pub saw: String,
}

/// A thing that an ending disposes of.
pub(super) enum Thing<'a> {
    Item(&'a Fitted),
    /// With how many of it are here and not in the engine.
    Part(&'a Part, i64),
}

impl Thing<'_> {
    pub fn key(&self) -> String {
        match self {
            Self::Item(item) => format!("item-{}", item.public_id),
            Self::Part(part, _) => format!("part-{}", part.public_id),
        }
    }

    pub fn what(&self, look: &JobLook) -> String {
        let architecture = &look.job.engine.architecture;
        match self {
            Self::Item(item) => {
                let label = item_label(architecture, item.at);
                let one_of_many = item.at.place != Place::Engine && item.at.kind != ItemKind::Head;
                if one_of_many { format!("{label}, {}", architecture.label(item.at.place)) } else { label }
            }
            Self::Part(part, 1) => part.said.description.clone(),
            Self::Part(part, count) => format!("{count} {}", part.said.description),
        }
    }

    /// Where it goes unless somebody says otherwise; none: with the engine.
    pub fn usual(&self) -> Option<Whither> {
        match self {
            Self::Item(_) => None,
            Self::Part(part, _) if part.said.whose == Whose::Customer => Some(Whither::Customer),
            Self::Part(..) => Some(Whither::Shelf),
        }
    }

    fn field(&self, look: &JobLook) -> ThingField {
        let (serial, whose) = match self {
            Self::Item(item) => (item.serial.clone(), ""),
            Self::Part(part, _) => (part.said.serial.clone(), part.said.whose.word()),
        };
        ThingField { key: self.key(), what: self.what(look), serial, whose, usual: self.usual() }
    }
}

/// Where the engine goes when its job ends so; none where it stays.
pub(super) fn with_the_engine(kind: EndingKind) -> Option<Whither> {
    match kind {
        EndingKind::Parked => None,
        EndingKind::HandedOver | EndingKind::ShortBlock | EndingKind::Cancelled => Some(Whither::Customer),
        EndingKind::SoldOn => Some(Whither::Buyer),
        EndingKind::Scrapped => Some(Whither::Scrap),
    }
}

/// What the job has: the things fitted in its engine, and its parts that are here and not in it.
pub(super) fn things<'a>(look: &'a JobLook, supplies: &'a Supplies) -> Vec<Thing<'a>> {
    let items = look.job.items.iter().map(Thing::Item);
    let beside = supplies.parts.iter().filter_map(|part| {
        let supply = supplies.supply(part);
        let here = supply.here - supply.fitted.min(supply.here);
        (here > 0).then_some(Thing::Part(part, here))
    });
    items.chain(beside).collect()
}

/// The ending of a job that stands.
pub(super) async fn standing(db: &mut Connection, job: i64) -> Done<Option<Ending>> {
    Ok(endings::of(db, Some(job)).await?.into_iter().rev().find(|ending| !ending.withdrawn))
}

/// What a form about a job's ending saw: the newest act on the job's own row, and the ending that stood.
pub(super) fn saw(act: i64, stands: Option<&Ending>) -> String {
    format!("{act}-{}", stands.map_or(0, |ending| ending.id))
}

/// "cancelled, 3 March 2026".
pub(super) fn in_words(ending: &Ending) -> String {
    format!("{}, {}", ending.said.kind.word(), civil(ending.said.day))
}

/// "parked since 3 March 2026, storage from 1 April 2026": of a job that is still in the shop.
pub(super) fn parked(ending: &Ending) -> String {
    let storage = ending.said.storage_from.map(|from| format!(", storage from {}", civil(from))).unwrap_or_default();
    format!("{} since {}{storage}", ending.said.kind.word(), civil(ending.said.day))
}

fn shown(look: &JobLook, ending: &Ending, things: &[KeptThing]) -> EndingShown {
    let mut went: Vec<(String, Vec<String>)> = Vec::new();
    for thing in things.iter().filter(|thing| thing.ending == ending.id).map(|thing| &thing.said) {
        let whither = match thing.to_build {
            Some(job) => format!("to job {job}"),
            None => thing.whither.word().to_owned(),
        };
        match went.iter_mut().find(|(known, _)| *known == whither) {
            Some((_, what)) => what.push(thing.what.clone()),
            None => went.push((whither, vec![thing.what.clone()])),
        }
    }
    EndingShown {
        kind: ending.said.kind.word(),
        day: civil(ending.said.day),
        words: ending.said.words.clone(),
        storage_from: ending.said.storage_from.map(civil),
        went,
        when: look.when.stamp(&ending.stamp),
    }
}

impl Shop {
    /// The page of a job's ending.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn ending(&self, job: i64, now: Timestamp) -> Done<EndingView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let act = builds::by_id(&mut db, job).await?.ok_or(Refused::NotFound)?.act;
        let all = endings::of(&mut db, Some(job)).await?;
        let gone = endings::things(&mut db, Some(job)).await?;
        let supplies = Supplies::of(&mut db, Some(job), now).await?;
        let stands = all.iter().rev().find(|ending| !ending.withdrawn);
        let on_order = supplies.on_order();
        Ok(EndingView {
            head: look.head(),
            stands: stands.map(|ending| shown(&look, ending, &gone)),
            taken_back: all.iter().filter(|ending| ending.withdrawn).map(in_words).collect(),
            things: things(&look, &supplies).iter().map(|thing| thing.field(&look)).collect(),
            awaited: on_order.iter().map(|(part, supply)| supplies.line(part, supply, supply.awaited())).collect(),
            away: supplies.away().into_iter().map(|one| supplies.away_line(one)).collect(),
            today: look.when.today().to_string(),
            saw: saw(act, stands),
        })
    }
}
