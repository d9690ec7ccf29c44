//! The page on which a job that ended, rests or is about to end is settled.

use super::Shop;
use super::account::{Account, too_large};
use super::doing::{Done, Refused};
use super::endings::in_words;
use super::job::{JobHead, JobLook};
use super::settle::{AtTheEnd, Going, as_settled};
use super::when::civil;
use crate::charges::line::Kind;
use crate::charges::money::Money;
use crate::charges::settle::Settlement;
use crate::record::charge_lines::ChargeLine;
use crate::record::endings::EndingKind;
use jiff::Timestamp;

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

impl Account {
    fn goes_row(&self, look: &JobLook, going: &Going) -> GoesRow {
        let what = match &*going.things {
            [thing] if going.key != "engine" => thing.said.what.clone(),
            _ => "the engine with all that is in it".to_owned(),
        };
        let whither = going.things.first().map_or_else(String::new, |thing| match thing.said.to_build {
            Some(job) => format!("to job {job}"),
            None => thing.said.whither.word().to_owned(),
        });
        let gone = going.gone.map(|kept| {
            let said = &kept.said;
            let by = if said.words.is_empty() { look.when.stamp(&kept.stamp) } else { said.words.clone() };
            (format!("{}, {by}", civil(said.day)), kept.id)
        });
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
        let row = |kept: &ChargeLine| {
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
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn settle_view(&self, job: i64, as_if: &str, now: Timestamp) -> Done<SettleView> {
        let look = self.look_at_job(job, now).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let ended = account.ended(look.job.build.closed);
        let kind = ended.or(EndingKind::from_key(as_if)).unwrap_or(EndingKind::HandedOver);
        let purse = &account.purse;
        let (end, no_sum) = match account.at_the_end(kind) {
            Ok(end) => (Some(end), None),
            Err(Refused::Faults(faults)) => (None, faults.into_iter().next().map(|fault| fault.message)),
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
