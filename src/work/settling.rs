//! Settling a job: storage, disposal and parts on order put on the charges, money given back, things that went, and that it is
//! settled.

use super::Shop;
use super::account::{Account, too_large};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::pay::{PaymentForm, today};
use super::settle::stays_with_the_shop;
use super::shop_settings::zone;
use super::when::{When, civil, day_done};
use crate::charges::line::{HowMany, Kind, Price, Priced};
use crate::charges::percent::Percent;
use crate::charges::quote::Under;
use crate::charges::settle::{Span, storage_due};
use crate::record::charge_lines::{self, LineOf, NewLine};
use crate::record::endings::{self, EndingThing, ThingGone};
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::{Writing, builds, payments, settings, settlements};
use jiff::civil::Date;

/// Storage to be charged, as typed.
#[derive(Clone, Debug, Default)]
pub struct StorageForm {
    pub from: String,
    pub until: String,
    /// What a week costs.
    pub week: String,
}

/// Money given back, as typed.
#[derive(Clone, Debug, Default)]
pub struct RefundForm {
    pub amount: String,
    /// A key.
    pub method: String,
    pub day: String,
    pub reference: String,
    /// "It is so, although it looks odd."
    pub sure: bool,
}

/// Things that have gone, as typed.
#[derive(Clone, Debug, Default)]
pub struct GoneForm {
    /// Keys of those ticked.
    pub things: Vec<String>,
    pub day: String,
    /// Who took them.
    pub words: String,
}

/// That a job is settled, as typed.
#[derive(Clone, Debug, Default)]
pub struct SettleForm {
    /// What the form saw.
    pub saw: String,
    pub day: String,
    pub words: String,
    /// "Settled, although something is open."
    pub sure: bool,
}

/// How money is given back: key and words.
pub const METHODS: [(&str, &str); 4] =
    [("bank", "by bank transfer"), ("cash", "in cash"), ("cheque", "by cheque"), ("card", "to his card")];

impl StorageForm {
    /// The weeks and the days they are for, and what a week costs.
    fn understood(&self, account: &Account, today: Date) -> Done<(Span, NewLine)> {
        let mut faults = Vec::new();
        let mut day = |field: &str, typed: &str| day_done(field, typed, today).map_err(|why| faults.push(why)).ok();
        let stay = day("stored_from", &self.from).zip(day("stored_until", &self.until));
        let each = account.purse.money("week", &self.week).map_err(|why| faults.push(why)).ok();
        if each == Some(None) {
            faults.push(FieldFault::new("week", "enter what a week of storage costs"));
        }
        let due = stay.and_then(|(from, until)| {
            let span = Span { from, until };
            weeks(account, span).map_err(|why| faults.push(why)).ok()
        });
        let (Some((weeks, span)), Some(Some(each)), true) = (due, each, faults.is_empty()) else {
            return Err(Refused::Faults(faults));
        };
        let (_, until) = stay.unwrap_or((span.from, span.until));
        let how_many = HowMany::from_thousandths(i64::from(weeks) * 1000).map_err(too_large)?;
        let text = format!("Storage, {} to {}, each week begun", civil(span.from), civil(until));
        Ok((span, by_hand(account, Kind::Storage, text, (how_many, "wk"), Price { each, mark_up: Percent::ZERO })?))
    }
}

/// The weeks begun of a stay, and the days they are for.
fn weeks(account: &Account, stay: Span) -> Result<(u32, Span), FieldFault> {
    let stored = || account.stored.iter().map(|kept| kept.said);
    if let Some(span) = stored().find(|span| span.from <= stay.from && stay.from < span.until) {
        let words = format!(
            "storage is on the charges from {} up to {}: enter that day or a later one",
            civil(span.from),
            civil(span.until)
        );
        return Err(FieldFault::new("stored_from", words));
    }
    if let Some(span) = stored().find(|span| stay.from <= span.from && span.from < stay.until) {
        let words = format!("storage is on the charges from {}: enter that day or an earlier one", civil(span.from));
        return Err(FieldFault::new("stored_until", words));
    }
    // What goes on from the weeks before has no more days without charge.
    let free_days = if stored().any(|span| span.until == stay.from) { 0 } else { account.purse.storage_free_days };
    let due = storage_due(stay, None, free_days).map_err(|why| {
        let words = format!("it was stored on {}: enter that day or a later one", civil(why.from));
        FieldFault::new("stored_until", words)
    })?;
    due.ok_or_else(|| {
        let words = match free_days {
            0 => "no week was begun: enter a later day".to_owned(),
            free => format!("no week was begun, as {free} days are without charge: enter a later day"),
        };
        FieldFault::new("stored_until", words)
    })
}

/// A line of the job as a whole, taxed as usual for its kind.
fn by_hand(
    account: &Account,
    kind: Kind,
    text: String,
    (how_many, unit): (HowMany, &str),
    price: Price,
) -> Done<NewLine> {
    let (priced, tax) = (Priced::Charged(price), account.usual_tax(kind)?);
    Ok(NewLine { kind, text, step: None, how_many, unit: unit.to_owned(), priced, tax, under: Under::Nothing })
}

/// A part that does not go to the customer leaves the job.
async fn leaves(w: &mut Writing, account: &Account, thing: &EndingThing, day: Date) -> Done<Option<i64>> {
    let part = account.parts.iter().find(|part| Some(part.id) == thing.part);
    let Some(part) = part.filter(|_| stays_with_the_shop(thing.whither)) else { return Ok(None) };
    let supply = super::Supply::of(part, false, account.moves.iter());
    let quantity = supply.here + supply.apart - supply.fitted.min(supply.here);
    if quantity <= 0 {
        return Ok(None);
    }
    let words = thing.whither.word().to_owned();
    let new = NewMove { part: part.id, kind: MoveKind::Returned, quantity, day, due: None, place: None, words };
    Ok(Some(part_moves::insert(w, &new).await?))
}

impl Shop {
    /// Puts weeks of storage on the charges.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, and for days that are charged already.
    pub async fn charge_storage(&self, doing: &Doing, job: i64, form: &StorageForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "charge storage", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let (span, new) = form.understood(&account, today(&mut w, doing).await?)?;
        let line = charge_lines::insert(&mut w, job, &LineOf::default(), &new).await?;
        settlements::insert_span(&mut w, line, span).await?;
        Ok(w.commit().await?)
    }

    /// Puts what it costs to have the engine scrapped on the charges, once.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, and where it is charged already.
    pub async fn charge_disposal(&self, doing: &Doing, job: i64, price: &str) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "charge disposal", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        if account.lines.iter().any(|kept| kept.said.kind == Kind::Disposal) {
            return Err(Refused::fault("disposal", "disposal is on the charges already: change that line there"));
        }
        let each = account.purse.money("disposal", price).map_err(|why| Refused::Faults(vec![why]))?;
        let each = each.ok_or_else(|| Refused::fault("disposal", "enter what its disposal costs"))?;
        let price = Price { each, mark_up: Percent::ZERO };
        let new = by_hand(&account, Kind::Disposal, "Disposal of the engine".to_owned(), (HowMany::ONE, "pc"), price)?;
        charge_lines::insert(&mut w, job, &LineOf::default(), &new).await?;
        Ok(w.commit().await?)
    }

    /// Charges parts that are on order and cannot go back, by their public ids.
    ///
    /// # Errors
    /// [`Refused::Faults`] where none is ticked, or one is charged already.
    pub async fn charge_on_order(&self, doing: &Doing, job: i64, ticked: &[String]) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "charge parts on order", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        if ticked.is_empty() {
            return Err(Refused::fault("on_order", "tick the parts that cannot go back"));
        }
        for id in ticked {
            let part = account.parts.iter().find(|part| part.public_id == *id).ok_or(Refused::NotFound)?;
            let one = account.part_on_order(part)?.ok_or_else(|| {
                let words = format!("all of “{}” that is on order is on the charges already", part.said.description);
                Refused::fault("on_order", words)
            })?;
            charge_lines::insert(&mut w, job, &one.of, &one.said).await?;
        }
        Ok(w.commit().await?)
    }

    /// Keeps what was given back to the customer.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, more than came in, and for what is asked about.
    pub async fn give_back(&self, doing: &Doing, job: i64, form: &RefundForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "keep refund", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("reference", &form.reference, 200).into_iter().collect();
        let method = METHODS.iter().find(|(key, _)| *key == form.method).map(|(_, words)| *words);
        if method.is_none() {
            faults.push(FieldFault::new("method", "choose how it is given back"));
        }
        let words = [method.unwrap_or_default(), form.reference.trim()];
        let words: Vec<&str> = words.into_iter().filter(|words| !words.is_empty()).collect();
        let payment = PaymentForm {
            kind: payments::paid_key(crate::charges::payment::Paid::GivenBack).to_owned(),
            amount: form.amount.clone(),
            day: form.day.clone(),
            words: words.join(", "),
            sure: form.sure,
        };
        let given = match payment.understood(&account, today(&mut w, doing).await?) {
            Ok(given) if faults.is_empty() => given,
            Err(Refused::Faults(more)) => return Err(Refused::Faults(faults.into_iter().chain(more).collect())),
            Ok(_) => return Err(Refused::Faults(faults)),
            Err(other) => return Err(other),
        };
        payments::insert(&mut w, job, given, &payment.words).await?;
        Ok(w.commit().await?)
    }

    /// Notes that things have gone where the ending says. A part that stays with the shop or goes back to its supplier leaves
    /// the job, and is not charged.
    ///
    /// # Errors
    /// [`Refused::Faults`] where none is ticked; [`Refused::Conflict`] where one has gone already.
    pub async fn note_gone(&self, doing: &Doing, job: i64, form: &GoneForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "note gone", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let today = today(&mut w, doing).await?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("gone_words", &form.words, 500).into_iter().collect();
        let day = day_done("gone_on", &form.day, today).map_err(|why| faults.push(why)).ok();
        let ended = account.ending().map(|ending| ending.said.day);
        if let Some(ended) = ended.filter(|ended| day.is_some_and(|day| day < *ended)) {
            let words = format!("the job ended on {}: enter that day or a later one", civil(ended));
            faults.push(FieldFault::new("gone_on", words));
        }
        let going = account.going();
        let ticked: Vec<_> = going.iter().filter(|going| form.things.contains(&going.key)).collect();
        if ticked.is_empty() {
            faults.push(FieldFault::new("gone", "tick what has gone"));
        }
        let Some(day) = day.filter(|_| faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        if let Some(gone) = ticked.iter().find_map(|going| going.gone) {
            return Err(Refused::Conflict { stands: format!("it has gone, {}", civil(gone.said.day)) });
        }
        for thing in ticked.iter().flat_map(|going| &going.things) {
            let left_by = leaves(&mut w, &account, &thing.said, day).await?;
            let new = ThingGone { thing: thing.id, day, words: form.words.trim().to_owned(), left_by };
            endings::insert_gone(&mut w, &new).await?;
        }
        Ok(w.commit().await?)
    }

    /// Notes that something has not gone after all, and all that was said to have gone with the engine if it is one of that.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where nothing was said to have gone.
    pub async fn withdraw_gone(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw gone", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let going = account.going().into_iter().find(|going| going.gone.is_some_and(|gone| gone.id == id));
        let things: Vec<i64> = going.ok_or(Refused::NotFound)?.things.iter().map(|thing| thing.id).collect();
        for gone in account.gone.iter().filter(|gone| things.contains(&gone.said.thing)) {
            let thing = account.things.iter().find(|thing| thing.id == gone.said.thing);
            if let Some((part, left_by)) = thing.and_then(|thing| thing.said.part).zip(gone.said.left_by) {
                part_moves::withdraw(&mut w, part, left_by).await?;
            }
            endings::withdraw_gone(&mut w, gone.id).await?;
        }
        Ok(w.commit().await?)
    }

    /// Says that an ended job is settled, with the figures as they stand.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, and for what is asked about: anything open; [`Refused::Conflict`] where other
    /// figures stand than the form saw.
    pub async fn settle_job(&self, doing: &Doing, job: i64, form: &SettleForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "settle job", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let closed = builds::by_id(&mut w, job).await?.ok_or(Refused::NotFound)?.closed;
        let kind = account.ended(closed).filter(|_| closed);
        let kind = kind.ok_or_else(|| Refused::fault("settle", "say first on its page how the job ended"))?;
        let end = account.at_the_end(kind)?;
        if form.saw != account.saw(&end) {
            let stands = format!("{} is owed now", account.purse.show(end.settlement.owed));
            return Err(Refused::Conflict { stands });
        }
        let when = When::new(&zone(&settings::all(&mut w).await?), doing.at);
        let mut faults: Vec<FieldFault> =
            FieldFault::too_long("settled_words", &form.words, 1000).into_iter().collect();
        let day = day_done("settled_on", &form.day, when.today()).map_err(|why| faults.push(why)).ok();
        let open = account.unsettled(&end, &when, look.ready_since())?;
        if !open.is_empty() && !form.sure {
            let words = format!("{}: is it settled all the same?", open.join("; "));
            faults.push(FieldFault::new("settled_sure", words));
        }
        let Some(day) = day.filter(|_| faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        settlements::withdraw(&mut w, job).await?;
        let ending = account.ending().map(|ending| ending.id);
        settlements::insert(&mut w, job, &end.kept(ending, day, form.words.trim())).await?;
        Ok(w.commit().await?)
    }

    /// Says that a job is not settled after all.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it was not.
    pub async fn withdraw_settlement(&self, doing: &Doing, job: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw settlement", Some(job)).await? else { return Ok(()) };
        if !settlements::withdraw(&mut w, job).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
