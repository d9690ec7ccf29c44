//! The parts of a job as its pages show them: how far each is, whose, where it lies, which step waits for it.

use super::account::Account;
use super::bring::ReadElsewhere;
use super::cores::CoreRow;
use super::doing::{Done, Refused};
use super::floor::StepLink;
use super::inspect::to_look_at;
use super::job::{JobHead, JobLook};
use super::keep_part::PartForm;
use super::made::{Made, MadeGlance};
use super::money::Purse;
use super::supply::{PartState, Supply, still_to};
use super::when::civil;
use super::{PhotoView, Shop};
use crate::charges::money::Money;
use crate::engine::{ItemKind, Place};
use crate::record::carried::{self, MadeFor};
use crate::record::part_moves::{self, MoveKind, PartMove};
use crate::record::parts::{self, Origin, Part, Whose};
use crate::record::settings;
use crate::record::suppliers::{self, Supplier};
use jiff::Timestamp;
use jiff::civil::Date;

/// One part in a list.
#[derive(Clone, Debug)]
pub struct PartRow {
    pub public_id: String,
    pub description: String,
    /// Maker and part number.
    pub made_as: String,
    pub state: PartState,
    /// "on order", "to be brought".
    pub stands: &'static str,
    /// "6 of 8 here".
    pub counted: String,
    /// "due 3 June 2026", "came 3 June 2026".
    pub when: String,
    pub late: bool,
    /// How many lie apart, refused.
    pub apart: i64,
    /// The customer's own: at his risk.
    pub customers: bool,
    pub supplier: Option<String>,
    pub shelf: String,
    pub step: Option<StepLink>,
    /// The part that has taken its place.
    pub replaced_by: Option<String>,
}

/// The page of a job's parts.
#[derive(Clone, Debug)]
pub struct PartsView {
    pub head: JobHead,
    /// By how far they are, those still wanted first; empty groups are left out.
    pub groups: Vec<(&'static str, Vec<PartRow>)>,
    /// Parts made for other jobs that this engine carries.
    pub carried: Vec<MadeFor>,
    pub choices: PartChoices,
}

/// What a part's form offers: key and word.
#[derive(Clone, Debug)]
pub struct PartChoices {
    pub suppliers: Vec<(String, String)>,
    pub steps: Vec<(String, String)>,
    /// Parts whose place it may take.
    pub replaces: Vec<(String, String)>,
    /// "EUR".
    pub currency: &'static str,
}

/// One thing that became of a part.
#[derive(Clone, Debug)]
pub struct MoveView {
    pub id: i64,
    /// "8 received, 3 June 2026".
    pub what: String,
    pub words: String,
    pub when: String,
}

/// A part's page.
#[derive(Clone, Debug)]
pub struct PartView {
    pub head: JobHead,
    pub row: PartRow,
    /// As its form shows it.
    pub form: PartForm,
    pub moves: Vec<MoveView>,
    /// What can become of it next: key and word, the likeliest first.
    pub next: Vec<(&'static str, &'static str)>,
    /// How many the next move is likely of.
    pub next_quantity: i64,
    pub today: Date,
    /// Items it can be fitted as: key and word.
    pub items: Vec<(&'static str, &'static str)>,
    pub places: Vec<(String, String)>,
    pub changes: Vec<(&'static str, &'static str)>,
    pub choices: PartChoices,
    pub photos: Vec<PhotoView>,
    /// How many are here and were not looked at.
    pub to_look_at: i64,
    /// Of one made here: its dimensions, and the engines that carry one.
    pub made: Option<MadeGlance>,
    /// What other jobs read of the thing it is.
    pub read_elsewhere: Vec<ReadElsewhere>,
    pub cost: Option<String>,
    pub price: Option<String>,
    /// Deposit asked for one old part in exchange.
    pub core: Option<String>,
    /// The deposits that were charged, with what became of each.
    pub cores: Vec<CoreRow>,
    pub note: String,
    pub act: i64,
}

/// A job's parts with what became of them, and who supplies.
pub(super) struct Stock {
    pub parts: Vec<Part>,
    pub moves: Vec<PartMove>,
    pub suppliers: Vec<Supplier>,
    pub purse: Purse,
}

impl Stock {
    pub async fn load(db: &mut crate::record::Connection, job: Option<i64>) -> Done<Self> {
        Ok(Self {
            parts: parts::of(db, job).await?.into_iter().filter(|part| !part.withdrawn).collect(),
            moves: part_moves::of(db, job).await?,
            suppliers: suppliers::all(db).await?,
            purse: Purse::of(&settings::all(db).await?),
        })
    }

    pub fn find(&self, public_id: &str) -> Done<&Part> {
        self.parts.iter().find(|part| part.public_id == public_id).ok_or(Refused::NotFound)
    }

    pub fn replaced_by(&self, part: &Part) -> Option<&Part> {
        self.parts.iter().find(|other| other.said.replaces == Some(part.id))
    }

    pub fn supply(&self, part: &Part) -> Supply {
        Supply::of(part, self.replaced_by(part).is_some(), self.moves.iter())
    }

    pub fn moves_of(&self, part: i64) -> impl Iterator<Item = &PartMove> {
        self.moves.iter().filter(move |one| one.said.part == part && !one.withdrawn)
    }

    pub fn supplier(&self, id: Option<i64>) -> Option<&Supplier> {
        self.suppliers.iter().find(|supplier| Some(supplier.id) == id)
    }
}

impl JobLook {
    pub(super) fn part_row(&self, stock: &Stock, part: &Part) -> PartRow {
        let (said, supply) = (&part.said, stock.supply(part));
        let state = supply.state();
        let due = supply.due.filter(|_| !supply.is_here()).map(|day| format!("due {}", civil(day)));
        let came = supply.last_received.map(|day| format!("came {}", civil(day)));
        let step = self.steps.iter().find(|step| Some(step.id) == said.step);
        PartRow {
            public_id: part.public_id.clone(),
            description: said.description.clone(),
            made_as: [&*said.maker, &*said.part_number]
                .into_iter()
                .filter(|t| !t.is_empty())
                .collect::<Vec<_>>()
                .join(" "),
            state,
            stands: match state {
                PartState::Wanted => still_to(said.whose, said.origin),
                other => other.word(),
            },
            counted: counted(&supply),
            when: due.or(came).unwrap_or_default(),
            late: supply.is_late(self.when.today()),
            apart: supply.apart,
            customers: said.whose == Whose::Customer,
            supplier: stock.supplier(said.supplier).map(|supplier| supplier.said.name.clone()),
            shelf: said.shelf.clone(),
            step: step.map(StepLink::to),
            replaced_by: stock.replaced_by(part).map(|other| other.said.description.clone()),
        }
    }

    pub(super) fn part_choices(&self, stock: &Stock, but: Option<i64>) -> PartChoices {
        let none = |word: &str| std::iter::once((String::new(), word.to_owned()));
        let suppliers = stock.suppliers.iter().filter(|supplier| !supplier.withdrawn);
        let others = stock.parts.iter().filter(|part| Some(part.id) != but && stock.replaced_by(part).is_none());
        PartChoices {
            suppliers: none("not chosen yet")
                .chain(suppliers.map(|one| (one.public_id.clone(), one.said.name.clone())))
                .collect(),
            steps: none("none waits")
                .chain(self.steps.iter().map(|step| (step.key.clone(), step.title.clone())))
                .collect(),
            replaces: none("no other part")
                .chain(others.map(|part| (part.public_id.clone(), part.said.description.clone())))
                .collect(),
            currency: stock.purse.currency.code(),
        }
    }
}

/// "6 of 8 here", "8".
fn counted(supply: &Supply) -> String {
    let needed = supply.needed;
    match supply.here {
        0 => needed.to_string(),
        here if here == needed => format!("{needed} here"),
        here => format!("{here} of {needed} here"),
    }
}

/// What can become of a part next, the likeliest first.
fn next_moves(supply: &Supply) -> Vec<MoveKind> {
    let likely = match supply.state() {
        PartState::Wanted => MoveKind::Ordered,
        PartState::Awaited => MoveKind::Received,
        PartState::Here => MoveKind::Inspected,
        PartState::Inspected => MoveKind::Fitted,
        PartState::Fitted | PartState::Replaced => MoveKind::Returned,
    };
    let others = MoveKind::ALL.iter().copied().filter(|kind| *kind != likely);
    std::iter::once(likely).chain(others).collect()
}

/// Of how many the likeliest next move is.
fn next_quantity(supply: &Supply) -> i64 {
    let of = match supply.state() {
        PartState::Wanted => supply.to_order(),
        PartState::Awaited => supply.awaited(),
        PartState::Here => supply.here - supply.inspected,
        PartState::Inspected => supply.needed - supply.fitted,
        PartState::Fitted | PartState::Replaced => supply.here,
    };
    of.max(1)
}

impl Shop {
    /// The parts of a job.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn parts(&self, job: i64, now: Timestamp) -> Done<PartsView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let stock = Stock::load(&mut db, Some(job)).await?;
        let carried = carried::by(&mut db, job).await?;
        let rows: Vec<PartRow> = stock.parts.iter().map(|part| look.part_row(&stock, part)).collect();
        let of = |title: &'static str, stands: &[&str]| {
            let these = rows.iter().filter(|row| stands.contains(&row.stands)).cloned().collect::<Vec<_>>();
            (title, these)
        };
        let groups = [
            of("To order", &[PartState::Wanted.word()]),
            of("To be brought", &[still_to(Whose::Customer, Origin::Bought)]),
            of("To be made", &[still_to(Whose::Shop, Origin::Made)]),
            of("On order", &[PartState::Awaited.word()]),
            of("Here", &[PartState::Here.word(), PartState::Inspected.word()]),
            of("Fitted", &[PartState::Fitted.word()]),
            of("Replaced", &[PartState::Replaced.word()]),
        ];
        Ok(PartsView {
            head: look.head(),
            groups: groups.into_iter().filter(|(_, rows)| !rows.is_empty()).collect(),
            carried,
            choices: look.part_choices(&stock, None),
        })
    }

    /// A part's page.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has no such part.
    pub async fn part(&self, job: i64, public_id: &str, now: Timestamp) -> Done<PartView> {
        let look = self.look_at_job(job, now).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?;
        let supply = stock.supply(part);
        let read_elsewhere = match part.item {
            Some(item) => self.read_elsewhere(&look, item, now).await?,
            None => Vec::new(),
        };
        let mut db = self.record.look().await?;
        let made = match part.said.origin {
            Origin::Made => Some(look.made_glance(&Made::load(&mut db, job).await?, part)),
            Origin::Bought | Origin::Found => None,
        };
        let money = |minor: Option<i64>| {
            let amount = minor.and_then(|minor| Money::from_minor(minor).ok())?;
            Some(stock.purse.currency.show_named(amount))
        };
        let engine = &look.job.engine.architecture;
        let moved = |one: &PartMove| {
            let said = &one.said;
            let due = said.due.map_or_else(String::new, |due| format!(", promised for {}", civil(due)));
            let at = said.place.map_or_else(String::new, |place| format!(" at {}", engine.label(place)));
            MoveView {
                id: one.id,
                what: format!("{} {}{at}, {}{due}", said.quantity, said.kind.word(), civil(said.day)),
                words: said.words.clone(),
                when: look.when.stamp(&one.stamp),
            }
        };
        Ok(PartView {
            head: look.head(),
            row: look.part_row(&stock, part),
            form: PartForm::of(&look, &stock, part),
            moves: stock.moves_of(part.id).map(moved).collect::<Vec<_>>().into_iter().rev().collect(),
            next: next_moves(&supply).into_iter().map(|kind| (kind.key(), kind.word())).collect(),
            next_quantity: next_quantity(&supply),
            today: look.when.today(),
            items: std::iter::once(("", "nothing that is measured"))
                .chain(ItemKind::ALL.iter().map(|kind| (kind.key(), kind.word())))
                .collect(),
            places: super::changes::places_of_change(&look),
            changes: std::iter::once(("", "nothing that was measured"))
                .chain(super::changes::kinds_of_change())
                .collect(),
            choices: look.part_choices(&stock, Some(part.id)),
            photos: look.photos_of(Some(part.id), None),
            to_look_at: to_look_at(&supply),
            made,
            read_elsewhere,
            cost: money(part.said.cost),
            price: money(part.said.price),
            core: money(part.said.core),
            cores: Account::load(&mut db, job).await?.cores_of_part(part, &look.when)?,
            note: part.said.note.clone(),
            act: part.act,
        })
    }
}

/// Where a part's thing is fitted, if it stands in this job's engine.
pub(super) fn fitted_at(look: &JobLook, part: &Part) -> Option<Place> {
    look.job.items.iter().find(|item| Some(item.item) == part.item).map(|item| item.at.place)
}
