//! A job's money at its end: what is charged, what is paid, kept or given back, what is open still, what goes to whom.

use super::account::{Account, too_large};
use super::doing::Done;
use super::endings::with_the_engine;
use super::job::JobLook;
use super::when::{When, civil};
use crate::charges::line::Line;
use crate::charges::money::Money;
use crate::charges::payment::Balance;
use crate::charges::settle::{self, Settlement, Span, storage_due};
use crate::charges::total::total;
use crate::record::endings::{Ending, EndingKind, KeptGone, KeptThing, Whither};
use crate::record::settlements::{KeptSettlement, NewSettlement};
use jiff::civil::Date;

/// A job's money at its end.
pub(super) struct AtTheEnd {
    pub kind: EndingKind,
    /// On invoices that stand.
    pub invoiced: Money,
    /// On the list and on no invoice.
    pub listed: Money,
    /// Done or bought, and not on the list.
    pub waiting: Money,
    pub settlement: Settlement,
}

impl AtTheEnd {
    /// What a settlement keeps of it.
    pub fn kept(&self, ending: Option<i64>, day: Date, words: &str) -> NewSettlement {
        let Settlement { owed, received, forfeited, held, refund, to_pay, .. } = self.settlement;
        NewSettlement { ending, day, words: words.to_owned(), owed, received, forfeited, held, refund, to_pay }
    }

    /// Whether a settlement says other figures.
    pub fn differs_from(&self, settled: &KeptSettlement) -> bool {
        let NewSettlement { ending, day, words, .. } = &settled.said;
        self.kept(*ending, *day, words) != settled.said
    }
}

/// The same ending in the words of the room of charges.
pub(super) fn as_settled(kind: EndingKind) -> settle::Ending {
    match kind {
        EndingKind::HandedOver => settle::Ending::HandedOver,
        EndingKind::Parked => settle::Ending::Parked,
        EndingKind::ShortBlock => settle::Ending::ShortBlock,
        EndingKind::Cancelled => settle::Ending::Cancelled,
        EndingKind::SoldOn => settle::Ending::SoldOn,
        EndingKind::Scrapped => settle::Ending::Scrapped,
    }
}

/// Storage of a stay that is not charged.
pub(super) struct Due {
    pub weeks: u32,
    pub span: Span,
    /// The day until which the engine stayed, or stays so far.
    pub until: Date,
    /// Why it is stored.
    why: &'static str,
}

impl Due {
    pub fn words(&self) -> String {
        let weeks = if self.weeks == 1 { "1 week".to_owned() } else { format!("{} weeks", self.weeks) };
        format!("{weeks} of storage begun since {}, {}", civil(self.span.from), self.why)
    }
}

/// A thing that goes, or all that go with the engine.
pub(super) struct Going<'a> {
    pub key: String,
    pub things: Vec<&'a KeptThing>,
    /// What says that it has gone.
    pub gone: Option<&'a KeptGone>,
}

impl Account {
    /// The ending that stands.
    pub fn ending(&self) -> Option<&Ending> {
        self.endings.iter().rev().find(|ending| !ending.withdrawn)
    }

    /// How a job that is `closed` ended, or that it rests; one that just left was handed over.
    pub fn ended(&self, closed: bool) -> Option<EndingKind> {
        let noted = self.ending().map(|ending| ending.said.kind);
        noted.or(closed.then_some(EndingKind::HandedOver))
    }

    /// The money of the job, were it to end so.
    pub fn at_the_end(&self, kind: EndingKind) -> Done<AtTheEnd> {
        let lines = self.open_lines();
        let waiting = self.waiting()?;
        let all: Vec<Line> = lines.iter().cloned().chain(waiting.iter().map(|one| self.line(0, &one.said))).collect();
        let payments: Vec<_> = self.payments.iter().map(|kept| kept.said).collect();
        let issued = self.invoices.iter().map(|kept| kept.invoice.sum.gross);
        let invoiced = Balance::of(issued, &payments).map_err(too_large)?.charged;
        let (listed, open) = (self.with_tax(&lines)?, self.with_tax(&all)?);
        let owed = invoiced.plus(open).map_err(too_large)?;
        Ok(AtTheEnd {
            kind,
            invoiced,
            listed,
            waiting: open.less(listed).map_err(too_large)?,
            settlement: settle::settle(as_settled(kind), owed, &payments).map_err(too_large)?,
        })
    }

    /// What lines come to with tax, less the discounts that no invoice has taken off.
    fn with_tax(&self, lines: &[Line]) -> Done<Money> {
        if lines.is_empty() {
            return Ok(Money::ZERO);
        }
        let discounts: Vec<_> =
            self.discounts.iter().filter(|kept| !self.is_taken_off(kept.id)).map(|kept| kept.said.clone()).collect();
        Ok(total(lines, &discounts, &self.taxes()?, self.purse.terms).map_err(too_large)?.sum.gross)
    }

    /// Stays that storage may be charged for: while it was parked; and since it is `ready`, where the quote says what a week
    /// costs.
    fn stays(&self, when: &When, ready: Option<Date>) -> Vec<(Span, &'static str)> {
        let parked = self.endings.iter().filter_map(|ending| {
            let from = ending.said.storage_from?;
            let until = ending.until.map_or(when.today(), |at| when.date(at));
            Some((Span { from, until }, "while it was parked"))
        });
        let left = self.ending().map_or(when.today(), |ending| ending.said.day);
        let agreed = ready.filter(|_| self.quote_terms.storage_week.is_some());
        let ready = agreed.map(|from| (Span { from, until: left }, "since it is ready"));
        parked.chain(ready).filter(|(stay, _)| stay.from <= stay.until).collect()
    }

    /// Storage that is due and not charged.
    pub fn storage(&self, when: &When, ready: Option<Date>) -> Vec<Due> {
        let due = |(stay, why): (Span, &'static str)| {
            let charged = self.stored.iter().map(|kept| kept.said).filter(|span| span.from < stay.until);
            let charged = charged.map(|span| span.until).max();
            let (weeks, span) = storage_due(stay, charged, self.purse.storage_free_days).ok().flatten()?;
            Some(Due { weeks, span, until: stay.until, why })
        };
        self.stays(when, ready).into_iter().filter_map(due).collect()
    }

    /// What a week of storage costs: as the quote says, or the shop's settings.
    pub fn storage_week(&self) -> Option<Money> {
        self.quote_terms.storage_week.or(self.purse.storage_week)
    }

    /// What goes by the ending that stands, all that goes with the engine as one.
    pub fn going(&self) -> Vec<Going<'_>> {
        let Some(ending) = self.ending() else { return Vec::new() };
        let gone = |thing: &KeptThing| self.gone.iter().find(|gone| gone.said.thing == thing.id);
        let with_engine = |thing: &&KeptThing| {
            thing.said.item.is_some() && Some(thing.said.whither) == with_the_engine(ending.said.kind)
        };
        let (engine, others): (Vec<&KeptThing>, Vec<&KeptThing>) =
            self.things.iter().filter(|thing| thing.ending == ending.id).partition(with_engine);
        let one = |things: Vec<&'_ KeptThing>| {
            let gone = things.iter().map(|thing| gone(thing)).collect::<Option<Vec<_>>>();
            gone.and_then(|gone| gone.first().copied())
        };
        let engine =
            (!engine.is_empty()).then(|| Going { key: "engine".to_owned(), gone: one(engine.clone()), things: engine });
        let others = others.into_iter().map(|thing| Going {
            key: format!("thing-{}", thing.id),
            things: vec![thing],
            gone: gone(thing),
        });
        engine.into_iter().chain(others).collect()
    }

    /// Whether it is settled, in figures that still hold.
    pub fn is_settled(&self, end: &AtTheEnd) -> bool {
        self.settlement.as_ref().is_some_and(|settled| !end.differs_from(settled))
    }

    /// What is open still of a job that ended so, in words; of one that rests: the storage.
    pub fn unsettled(&self, end: &AtTheEnd, when: &When, ready: Option<Date>) -> Done<Vec<String>> {
        let show = |amount| self.purse.show(amount);
        let mut open: Vec<String> = self.storage(when, ready).iter().map(Due::words).collect();
        if end.kind == EndingKind::Parked {
            return Ok(open);
        }
        let Settlement { refund, to_pay, .. } = end.settlement;
        for (amount, words) in [
            (end.waiting, "done or bought and not on the charges"),
            (end.listed, "charged and on no invoice"),
            (to_pay, "to be paid"),
            (refund, "to be given back"),
        ] {
            if amount != Money::ZERO {
                open.push(format!("{} {words}", show(amount)));
            }
        }
        let cores = self.core_rows(when)?.into_iter().filter(|core| core.is_open);
        open.extend(cores.map(|core| format!("the core of “{}”, {}, {}", core.text, core.amount, core.words)));
        match self.going().iter().filter(|going| going.gone.is_none()).count() {
            0 => {}
            1 => open.push("1 thing has not gone".to_owned()),
            many => open.push(format!("{many} things have not gone")),
        }
        Ok(open)
    }

    /// What a form that settles the job saw.
    pub fn saw(&self, end: &AtTheEnd) -> String {
        let ending = self.ending().map_or(0, |ending| ending.id);
        let settled = self.settlement.as_ref().map_or(0, |settled| settled.id);
        let Settlement { owed, received, .. } = end.settlement;
        format!("{ending} {settled} {} {}", owed.minor(), received.minor())
    }
}

impl JobLook {
    /// The day from which all was done, while it is.
    pub(super) fn ready_since(&self) -> Option<Date> {
        let done = !self.steps.is_empty() && self.steps.iter().all(|step| step.state.is_done());
        let last = self.signs.iter().rev().find(|sign| !sign.reopened).filter(|_| done)?;
        Some(self.when.date(last.stamp.at))
    }
}

/// Whether a thing that goes so stays with the shop or its supplier, and is not the customer's to pay.
pub(super) fn stays_with_the_shop(whither: Whither) -> bool {
    matches!(whither, Whither::Shelf | Whither::Supplier)
}
