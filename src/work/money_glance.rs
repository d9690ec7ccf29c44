//! The shop's money at a glance: per job quoted, agreed, done, invoiced, paid and open; whose answer or money is awaited.

use super::Shop;
use super::account::{Account, too_large};
use super::accounts::Accounts;
use super::cores::CoreRow;
use super::doing::Done;
use super::endings::in_words;
use super::shop_settings::zone;
use super::when::When;
use crate::charges::glance::{Awaited, What, awaited, glance};
use crate::charges::money::Money;
use crate::record::builds::{self, Build};
use crate::record::{people, settings};
use jiff::Timestamp;

/// A job in figures.
#[derive(Clone, Debug)]
pub struct GlanceRow {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    /// It has left the shop.
    pub left: bool,
    pub quoted: String,
    pub agreed: String,
    pub done: String,
    /// Of what is done; none where all of it is invoiced.
    pub unbilled: Option<String>,
    pub not_agreed: Option<String>,
    pub invoiced: String,
    pub paid: String,
    pub open: String,
    /// Held beyond what is invoiced.
    pub over: Option<String>,
}

/// Somebody's answer or money, awaited.
#[derive(Clone, Debug)]
pub struct AwaitedRow {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    /// "an answer to the quote", "950.00 EUR".
    pub what: String,
    /// "since today", "for 12 days".
    pub how_long: String,
    /// "overdue by 3 days".
    pub overdue: Option<String>,
    /// Where it is seen to.
    pub at: &'static str,
}

/// A job that ended and is not settled, or that rests in the shop.
#[derive(Clone, Debug)]
pub struct ToSettleRow {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    /// "cancelled, 3 March 2026".
    pub ended: String,
    /// What is open.
    pub open: Vec<String>,
}

/// An old part in exchange that has not come.
#[derive(Clone, Debug)]
pub struct OpenCoreRow {
    pub job: i64,
    pub title: String,
    pub core: CoreRow,
}

/// All jobs.
#[derive(Clone, Debug)]
pub struct GlanceView {
    /// Those in the shop, and those that left with something open.
    pub rows: Vec<GlanceRow>,
    /// The longest awaited first.
    pub awaited: Vec<AwaitedRow>,
    pub to_settle: Vec<ToSettleRow>,
    /// Cores to come back, the longest open first.
    pub cores: Vec<OpenCoreRow>,
    pub unbilled: String,
    pub open: String,
    pub currency: &'static str,
}

fn awaited_words(account: &Account, one: &Awaited) -> (String, &'static str) {
    match &one.what {
        What::AnswerToQuote => ("an answer to the quote".to_owned(), "quote"),
        What::AnswerToChange(text) => (format!("an answer to the change “{text}”"), "quote#changes"),
        What::Deposit(amount) => (format!("a deposit of {}", account.purse.show(*amount)), "charges#paid"),
        What::Money(amount) => (account.purse.show(*amount), "charges#paid"),
    }
}

fn how_long(days: i32) -> String {
    if days <= 0 { "since today".to_owned() } else { format!("for {}", in_days(days)) }
}

fn in_days(days: i32) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

/// What is open of a job that ended or rests; none of one that goes on.
fn to_settle_row(account: &Account, build: &Build, customer: Option<String>, when: &When) -> Done<Option<ToSettleRow>> {
    let Some(kind) = account.ended(build.closed) else { return Ok(None) };
    let end = account.at_the_end(kind)?;
    let mut open = account.unsettled(&end, when, None)?;
    let kept = end.settlement.forfeited;
    if kept > Money::ZERO {
        open.push(format!("{} kept of a deposit", account.purse.show(kept)));
    }
    if account.is_settled(&end) {
        open.clear();
    } else if account.settlement.is_some() {
        open.insert(0, "changed since it was settled".to_owned());
    }
    Ok(Some(ToSettleRow {
        job: build.id,
        title: build.title.clone(),
        customer,
        ended: account.ending().map_or_else(|| "has left the shop".to_owned(), in_words),
        open,
    }))
}

impl Shop {
    /// The money of all jobs.
    ///
    /// # Errors
    /// Where the record cannot be read, or sums are beyond any invoice.
    pub async fn money(&self, now: Timestamp) -> Done<GlanceView> {
        let mut db = self.record.look().await?;
        let kept = settings::all(&mut db).await?;
        let when = When::new(&zone(&kept), now);
        let people = people::all(&mut db).await?;
        let mut accounts = Accounts::load(&mut db, None).await?;
        let purse = accounts.purse;
        let (mut rows, mut waits, mut to_settle, mut cores) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        let (mut unbilled, mut open) = (Vec::new(), Vec::new());
        for build in builds::all(&mut db).await? {
            let account = accounts.of(build.id);
            let reckoned = account.reckoned()?;
            let figures = reckoned.figures(&account.purse);
            let glance = glance(figures).map_err(too_large)?;
            let out = account.core_rows(&when)?.into_iter().filter(|core| core.is_open);
            cores.extend(out.map(|core| OpenCoreRow { job: build.id, title: build.title.clone(), core }));
            let customer = build.customer.and_then(|id| people.iter().find(|person| person.id == id));
            let customer = customer.map(|person| person.name.clone());
            let is_settled = match to_settle_row(&account, &build, customer.clone(), &when)? {
                Some(row) if row.open.is_empty() => true,
                Some(row) => {
                    to_settle.push(row);
                    false
                }
                None => false,
            };
            let is_open = glance.open > Money::ZERO || glance.unbilled > Money::ZERO || glance.over > Money::ZERO;
            if build.closed && (is_settled || !is_open) {
                continue;
            }
            for one in awaited(figures, when.today()).map_err(too_large)? {
                let (what, at) = awaited_words(&account, &one);
                let (title, customer) = (build.title.clone(), customer.clone());
                let overdue = one.overdue(when.today()).map(|days| format!("overdue by {}", in_days(days)));
                let how_long = how_long(one.days);
                waits.push((one.days, AwaitedRow { job: build.id, title, customer, what, how_long, overdue, at }));
            }
            let show = |amount| account.purse.currency.show(amount);
            let any = |amount| (amount > Money::ZERO).then(|| show(amount));
            unbilled.push(glance.unbilled);
            open.push(glance.open);
            rows.push(GlanceRow {
                job: build.id,
                title: build.title,
                customer,
                left: build.closed,
                quoted: show(glance.quoted),
                agreed: show(glance.agreed),
                done: show(glance.done),
                unbilled: (glance.unbilled != Money::ZERO).then(|| show(glance.unbilled)),
                not_agreed: any(glance.not_agreed),
                invoiced: show(glance.invoiced),
                paid: show(glance.paid),
                open: show(glance.open),
                over: any(glance.over),
            });
        }
        waits.sort_by_key(|(days, _)| std::cmp::Reverse(*days));
        cores.sort_by_key(|row| std::cmp::Reverse(row.core.days));
        Ok(GlanceView {
            rows,
            awaited: waits.into_iter().map(|(_, row)| row).collect(),
            to_settle,
            cores,
            unbilled: purse.show(Money::sum(unbilled).map_err(too_large)?),
            open: purse.show(Money::sum(open).map_err(too_large)?),
            currency: purse.currency.code(),
        })
    }
}
