//! How a job that ended, rests or is about to end is settled: what is charged, what is paid or given back, what goes to whom.

use super::Shop;
use super::account::{Account, too_large};
use super::doing::Done;
use super::endings::{in_words, with_the_engine};
use super::job::{JobHead, JobLook};
use super::when::{When, civil};
use crate::charges::line::{Kind, Line};
use crate::charges::money::Money;
use crate::charges::payment::Balance;
use crate::charges::settle::{self, Settlement, Span, storage_due};
use crate::charges::total::total;
use crate::record::endings::{Ending, EndingKind, KeptGone, KeptThing, Whither};
use crate::record::settlements::{KeptSettlement, NewSettlement};
use jiff::Timestamp;
use jiff::civil::Date;

/// Storage that is due and not charged.
#[derive(Clone, Debug)]
pub struct DueRow {
    /// "3 weeks begun since 3 March 2026, while it was parked".
    pub words: String,
    /// As the form takes them.
    pub from: String,
    pub until: String,
    /// What a week costs; empty where nobody has said it.
    pub week: String,
}

/// A part that is on order still.
#[derive(Clone, Debug)]
pub struct OnOrderRow {
    /// Its public id.
    pub part: String,
    pub text: String,
    pub how_many: String,
    pub amount: String,
    pub unpriced: bool,
}

/// Something that goes somewhere by the ending.
#[derive(Clone, Debug)]
pub struct GoesRow {
    /// Its key in the form.
    pub key: String,
    pub what: String,
    pub whither: String,
    /// "3 March 2026, fetched by his brother", and the id of what says so; none until it has gone.
    pub gone: Option<(String, i64)>,
}

/// That the job is settled.
#[derive(Clone, Debug)]
pub struct SettledShown {
    pub day: String,
    pub words: String,
    pub when: String,
    /// The figures as they stood.
    pub figures: Vec<(&'static str, String)>,
    /// They are others now.
    pub changed: bool,
}

/// The page on which a job is settled.
#[derive(Clone, Debug)]
pub struct SettleView {
    pub head: JobHead,
    /// The ending that stands: "cancelled, 3 March 2026".
    pub ended: Option<String>,
    /// It rests and goes on later.
    pub parked: bool,
    /// How it is settled: the ending that stands, or the one looked at.
    pub kind: EndingKind,
    /// What is charged at such an ending.
    pub charged: &'static str,
    /// What goes back at such an ending, to be thought of.
    pub goes_back: &'static [&'static str],
    /// Done or bought and not on the list of charges.
    pub waiting: usize,
    /// What was charged: words and amount, the last the sum.
    pub owed: Vec<(String, String)>,
    /// What came in, and what becomes of it.
    pub paid: Vec<(&'static str, String)>,
    /// What is to be given back, as typed; none where nothing is.
    pub refund: Option<String>,
    pub to_pay: Option<String>,
    /// Why nothing can be summed up.
    pub no_sum: Option<String>,
    pub due: Vec<DueRow>,
    /// What was charged for storage and disposal.
    pub listed: Vec<(String, String)>,
    /// As typed; shown where the engine is scrapped and disposal is not charged.
    pub disposal: Option<String>,
    pub on_order: Vec<OnOrderRow>,
    pub goes: Vec<GoesRow>,
    /// What is open still.
    pub open: Vec<String>,
    pub settled: Option<SettledShown>,
    pub has_tax: bool,
    pub currency: &'static str,
    pub today: String,
    /// What the form that settles it saw.
    pub saw: String,
}

impl SettleView {
    /// Whether it is not said to be settled, or in other figures.
    pub fn is_to_settle(&self) -> bool {
        self.settled.as_ref().is_none_or(|settled| settled.changed)
    }
}

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
    fn differs_from(&self, settled: &KeptSettlement) -> bool {
        let NewSettlement { ending, day, words, .. } = &settled.said;
        self.kept(*ending, *day, words) != settled.said
    }
}

/// The same ending in the words of the room of charges.
fn as_settled(kind: EndingKind) -> settle::Ending {
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
    fn words(&self) -> String {
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

    fn goes_row(&self, look: &JobLook, going: &Going) -> GoesRow {
        let words: Vec<&str> = going.things.iter().map(|thing| &*thing.said.what).collect();
        let what = words.join(", ");
        let whither = going.things.first().map_or_else(String::new, |thing| match thing.said.to_build {
            Some(job) => format!("to job {job}"),
            None => thing.said.whither.word().to_owned(),
        });
        let gone = going.gone.map(|kept| {
            let said = &kept.said;
            let by = if said.words.is_empty() { look.when.stamp(&kept.stamp) } else { said.words.clone() };
            (format!("{}, {by}", civil(said.day)), kept.id)
        });
        let what = if going.key == "engine" { format!("The engine: {what}") } else { what };
        GoesRow { key: going.key.clone(), what, whither, gone }
    }

    fn settled_shown(&self, look: &JobLook, end: Option<&AtTheEnd>) -> Option<SettledShown> {
        let settled = self.settlement.as_ref()?;
        let said = &settled.said;
        let figures = [
            ("Owed", said.owed),
            ("Received", said.received),
            ("Kept of a deposit", said.forfeited),
            ("Not given back", said.refund),
            ("Not paid", said.to_pay),
        ];
        let shown = figures.into_iter().enumerate().filter(|(at, (_, amount))| *at < 2 || *amount > Money::ZERO);
        Some(SettledShown {
            day: civil(said.day),
            words: said.words.clone(),
            when: look.when.stamp(&settled.stamp),
            figures: shown.map(|(_, (words, amount))| (words, self.purse.show(amount))).collect(),
            changed: end.is_none_or(|end| end.differs_from(settled)),
        })
    }

    /// Lines of storage and disposal.
    fn listed_at_the_end(&self) -> Done<Vec<(String, String)>> {
        let lines = self.lines.iter().filter(|kept| matches!(kept.said.kind, Kind::Storage | Kind::Disposal));
        let row = |kept: &crate::record::charge_lines::ChargeLine| {
            let line = self.line(kept.id, &kept.said);
            let amount = line.amount(self.purse.terms.rounding).map_err(too_large)?;
            Ok((line.text, self.purse.currency.show(amount)))
        };
        lines.map(row).collect()
    }

    fn on_order_rows(&self) -> Done<Vec<OnOrderRow>> {
        let mut rows = Vec::new();
        for part in &self.parts {
            let Some(one) = self.part_on_order(part)? else { continue };
            let line = self.line(0, &one.said);
            rows.push(OnOrderRow {
                part: part.public_id.clone(),
                how_many: format!("{}\u{a0}{}", line.how_many.figures(), line.unit),
                amount: self.purse.currency.show(line.amount(self.purse.terms.rounding).map_err(too_large)?),
                text: line.text,
                unpriced: one.unpriced,
            });
        }
        Ok(rows)
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

/// What is kept, given back and paid of what came in.
fn paid_rows(account: &Account, settlement: &Settlement) -> Vec<(&'static str, String)> {
    let Settlement { received, counted, forfeited, held, refund, to_pay, .. } = *settlement;
    let rows = [
        ("Received", received),
        ("Pays what is owed", counted),
        ("Kept, a deposit agreed so", forfeited),
        ("Held until the job goes on", held),
        ("To be given back", refund),
        ("Still to be paid", to_pay),
    ];
    let shown = rows.into_iter().enumerate().filter(|(at, (_, amount))| *at == 0 || *amount != Money::ZERO);
    shown.map(|(_, (words, amount))| (words, account.purse.show(amount))).collect()
}

impl Shop {
    /// The page on which a job is settled; as if it were to end `as_if`, an ending's key, while none stands.
    ///
    /// # Errors
    /// [`super::Refused::NotFound`] where there is no such job.
    pub async fn settle_view(&self, job: i64, as_if: &str, now: Timestamp) -> Done<SettleView> {
        let look = self.look_at_job(job, now).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let ended = account.ended(look.job.build.closed);
        let kind = ended.or(EndingKind::from_key(as_if)).unwrap_or(EndingKind::HandedOver);
        let purse = &account.purse;
        let (end, no_sum) = match account.at_the_end(kind) {
            Ok(end) => (Some(end), None),
            Err(super::Refused::Faults(faults)) => (None, faults.into_iter().next().map(|fault| fault.message)),
            Err(other) => return Err(other),
        };
        let settlement = end.as_ref().map(|end| end.settlement).unwrap_or_default();
        let owed = end.as_ref().map_or_else(Vec::new, |end| {
            let rows = [
                ("On invoices", end.invoiced),
                ("Charged, and on no invoice", end.listed),
                ("Done or bought, and not on the charges", end.waiting),
            ];
            let shown = rows.into_iter().filter(|(_, amount)| *amount != Money::ZERO);
            let rows = shown.map(|(words, amount)| (words.to_owned(), purse.currency.show(amount)));
            rows.chain([("Owed, with tax".to_owned(), purse.show(end.settlement.owed))]).collect()
        });
        let ready = look.ready_since();
        let due = account.storage(&look.when, ready).into_iter().map(|due| DueRow {
            words: due.words(),
            from: due.span.from.to_string(),
            until: due.until.to_string(),
            week: account.storage_week().map(|week| purse.currency.plain(week)).unwrap_or_default(),
        });
        let has_disposal = account.lines.iter().any(|kept| kept.said.kind == Kind::Disposal);
        let disposal = (kind == EndingKind::Scrapped && !has_disposal)
            .then(|| purse.disposal.map(|price| purse.currency.plain(price)).unwrap_or_default());
        let any = |amount: Money| (amount > Money::ZERO).then(|| purse.currency.plain(amount));
        let charged = as_settled(kind);
        Ok(SettleView {
            head: look.head(),
            ended: account.ending().map(in_words).or(ended.map(|_| "it has left the shop".to_owned())),
            parked: ended == Some(EndingKind::Parked),
            kind,
            charged: charged.charged(),
            goes_back: charged.goes_back(),
            waiting: account.waiting()?.len(),
            owed,
            paid: paid_rows(&account, &settlement),
            refund: any(settlement.refund),
            to_pay: any(settlement.to_pay),
            no_sum,
            due: due.collect(),
            listed: account.listed_at_the_end()?,
            disposal,
            on_order: account.on_order_rows()?,
            goes: account.going().iter().map(|going| account.goes_row(&look, going)).collect(),
            open: match &end {
                Some(end) => account.unsettled(end, &look.when, ready)?,
                None => Vec::new(),
            },
            settled: account.settled_shown(&look, end.as_ref()),
            has_tax: account.rates.iter().any(|rate| !rate.withdrawn),
            currency: purse.currency.code(),
            today: look.when.today().to_string(),
            saw: end.as_ref().map(|end| account.saw(end)).unwrap_or_default(),
        })
    }
}

/// Whether a thing that goes so stays with the shop or its supplier, and is not the customer's to pay.
pub(super) fn stays_with_the_shop(whither: Whither) -> bool {
    matches!(whither, Whither::Shelf | Whither::Supplier)
}
