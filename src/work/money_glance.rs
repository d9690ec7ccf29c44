//! The shop's money at a glance: per job quoted, agreed, done, invoiced, paid and open; whose answer or money is awaited.

use super::Shop;
use super::account::{Account, too_large};
use super::doing::Done;
use super::money::Purse;
use super::shop_settings::zone;
use super::when::When;
use crate::charges::glance::{Awaited, What, awaited, glance};
use crate::charges::money::Money;
use crate::record::{builds, people, settings};
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
    pub unbilled: String,
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
    /// Where it is seen to.
    pub at: &'static str,
}

/// All jobs.
#[derive(Clone, Debug)]
pub struct GlanceView {
    /// Those in the shop, and those that left with something open.
    pub rows: Vec<GlanceRow>,
    /// The longest awaited first.
    pub awaited: Vec<AwaitedRow>,
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
    match days {
        ..=0 => "since today".to_owned(),
        1 => "for 1 day".to_owned(),
        days => format!("for {days} days"),
    }
}

impl Shop {
    /// The money of all jobs.
    ///
    /// # Errors
    /// Where the record cannot be read, or sums are beyond any invoice.
    pub async fn money(&self, now: Timestamp) -> Done<GlanceView> {
        let mut db = self.record.look().await?;
        let kept = settings::all(&mut db).await?;
        let (today, purse) = (When::new(&zone(&kept), now).today(), Purse::of(&kept));
        let people = people::all(&mut db).await?;
        let mut rows = Vec::new();
        let mut waits = Vec::new();
        let (mut unbilled, mut open) = (Vec::new(), Vec::new());
        for build in builds::all(&mut db).await? {
            let account = Account::load(&mut db, build.id).await?;
            let reckoned = account.reckoned()?;
            let figures = reckoned.figures(&account.purse);
            let glance = glance(figures).map_err(too_large)?;
            let is_open = glance.open > Money::ZERO || glance.unbilled > Money::ZERO || glance.over > Money::ZERO;
            if build.closed && !is_open {
                continue;
            }
            let customer = build.customer.and_then(|id| people.iter().find(|person| person.id == id));
            let customer = customer.map(|person| person.name.clone());
            for one in awaited(figures, today).map_err(too_large)? {
                let (what, at) = awaited_words(&account, &one);
                let (title, customer) = (build.title.clone(), customer.clone());
                waits.push((
                    one.days,
                    AwaitedRow { job: build.id, title, customer, what, how_long: how_long(one.days), at },
                ));
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
                unbilled: show(glance.unbilled),
                not_agreed: any(glance.not_agreed),
                invoiced: show(glance.invoiced),
                paid: show(glance.paid),
                open: show(glance.open),
                over: any(glance.over),
            });
        }
        waits.sort_by_key(|(days, _)| std::cmp::Reverse(*days));
        Ok(GlanceView {
            rows,
            awaited: waits.into_iter().map(|(_, row)| row).collect(),
            unbilled: purse.show(Money::sum(unbilled).map_err(too_large)?),
            open: purse.show(Money::sum(open).map_err(too_large)?),
            currency: purse.currency.code(),
        })
    }
}
