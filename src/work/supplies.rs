//! What comes to the shop, over all its jobs: parts to order and on order, work that is away.

use super::doing::Done;
use super::floor::StepLink;
use super::supply::Supply;
use super::when::{When, civil};
use crate::record::part_moves::{self, MoveKind, PartMove};
use crate::record::parts::{self, Part};
use crate::record::sendings::{self, Sending};
use crate::record::steps::{self, Step};
use crate::record::suppliers::{self, Supplier};
use crate::record::{Connection, builds, settings};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// A part of a job in a list over all jobs.
#[derive(Clone, Debug)]
pub struct PartLine {
    pub job: i64,
    pub title: String,
    /// The part's public id.
    pub part: String,
    pub description: String,
    pub maker: String,
    pub part_number: String,
    /// How many the list is about: to order, awaited, lying apart.
    pub quantity: i64,
    /// Which step needs it.
    pub step: Option<StepLink>,
    pub supplier: Option<String>,
    pub ordered: Option<String>,
    pub due: Option<String>,
    pub late: bool,
}

/// Work of a job that is away.
#[derive(Clone, Debug)]
pub struct AwayLine {
    pub job: i64,
    pub title: String,
    /// Its public id.
    pub sending: String,
    pub what: String,
    pub supplier: Option<String>,
    pub sent: Option<String>,
    pub due: Option<String>,
    pub late: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// The parts and the work sent out of every job in the shop, as they stand.
pub(super) struct Supplies {
    pub parts: Vec<Part>,
    pub sendings: Vec<Sending>,
    pub suppliers: Vec<Supplier>,
    pub when: When,
    moves: BTreeMap<i64, Vec<PartMove>>,
    replaced: BTreeSet<i64>,
    titles: BTreeMap<i64, String>,
    steps: Vec<Step>,
}

impl Supplies {
    /// Of every job in the shop.
    pub async fn load(db: &mut Connection, now: Timestamp) -> Done<Self> {
        Self::of(db, None, now).await
    }

    /// Of one job, or of every job in the shop.
    pub async fn of(db: &mut Connection, job: Option<i64>, now: Timestamp) -> Done<Self> {
        let mut moves: BTreeMap<i64, Vec<PartMove>> = BTreeMap::new();
        for one in part_moves::of(db, job).await? {
            moves.entry(one.said.part).or_default().push(one);
        }
        let parts: Vec<Part> = parts::of(db, job).await?.into_iter().filter(|part| !part.withdrawn).collect();
        Ok(Self {
            sendings: sendings::of(db, job).await?.into_iter().filter(|one| !one.withdrawn).collect(),
            suppliers: suppliers::all(db).await?,
            when: When::new(&super::shop_settings::zone(&settings::all(db).await?), now),
            moves,
            replaced: parts.iter().filter_map(|part| part.said.replaces).collect(),
            titles: builds::all(db).await?.into_iter().map(|build| (build.id, build.title)).collect(),
            steps: steps::of(db, job).await?,
            parts,
        })
    }

    pub fn supply(&self, part: &Part) -> Supply {
        let moves = self.moves.get(&part.id).into_iter().flatten();
        Supply::of(part, self.replaced.contains(&part.id), moves)
    }

    pub fn supplier(&self, public_id: &str) -> Option<&Supplier> {
        self.suppliers.iter().find(|supplier| supplier.public_id == public_id)
    }

    fn supplier_of(&self, id: Option<i64>) -> Option<String> {
        let supplier = self.suppliers.iter().find(|supplier| Some(supplier.id) == id)?;
        Some(supplier.said.name.clone())
    }

    fn title(&self, job: i64) -> String {
        self.titles.get(&job).cloned().unwrap_or_default()
    }

    pub fn line(&self, part: &Part, supply: &Supply, quantity: i64) -> PartLine {
        let (said, step) = (&part.said, self.steps.iter().find(|step| Some(step.id) == part.said.step));
        PartLine {
            job: part.build,
            title: self.title(part.build),
            part: part.public_id.clone(),
            description: said.description.clone(),
            maker: said.maker.clone(),
            part_number: said.part_number.clone(),
            quantity,
            step: step.map(StepLink::to),
            supplier: self.supplier_of(said.supplier),
            ordered: supply.first_ordered.map(civil),
            due: supply.due.map(civil),
            late: supply.is_late(self.when.today()),
        }
    }

    /// Why the last of a part was refused; empty where none was or nobody said.
    pub fn why_refused(&self, part: &Part) -> String {
        let moves = self.moves.get(&part.id).into_iter().flatten();
        let refused = moves.filter(|one| !one.withdrawn && one.said.kind == MoveKind::Refused);
        refused.last().map(|one| one.said.words.clone()).unwrap_or_default()
    }

    /// What is on order, the most awaited first: by the day it is due, those of no named day last.
    pub fn on_order(&self) -> Vec<(&Part, Supply)> {
        let mut awaited: Vec<(&Part, Supply)> = self
            .parts
            .iter()
            .map(|part| (part, self.supply(part)))
            .filter(|(_, supply)| supply.awaited() > 0)
            .collect();
        awaited.sort_by_key(|(part, supply)| (supply.due.unwrap_or(Date::MAX), part.id));
        awaited
    }

    /// Work that went and is not back, by the day it is due.
    pub fn away(&self) -> Vec<&Sending> {
        let is_away = |one: &&Sending| one.said.sent.is_some() && one.said.back.is_none();
        let mut away: Vec<&Sending> = self.sendings.iter().filter(is_away).collect();
        away.sort_by_key(|one| (one.said.due.unwrap_or(Date::MAX), one.id));
        away
    }

    pub fn away_line(&self, one: &Sending) -> AwayLine {
        AwayLine {
            job: one.build,
            title: self.title(one.build),
            sending: one.public_id.clone(),
            what: one.said.what.clone(),
            supplier: self.supplier_of(one.said.supplier),
            sent: one.said.sent.map(civil),
            due: one.said.due.map(civil),
            late: one.said.due.is_some_and(|due| due < self.when.today()),
            act: one.act,
        }
    }
}
