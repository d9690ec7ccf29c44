//! A job at a glance: quoted, agreed, done, invoiced, paid, open, and whose answer or money is awaited.

use jiff::civil::Date;

use super::invoice::{Invoice, invoiced_on, standing};
use super::line::{Line, LineFault};
use super::money::{Money, TooLarge};
use super::payment::{Balance, DepositAsked, Payment, received};
use super::quote::{Agreement, Answer, covered};
use super::rounding::Rounding;

/// All that is kept about the money of a job.
#[derive(Clone, Copy, Debug)]
pub struct Account<'a> {
    pub agreement: &'a Agreement,
    /// What was done or bought so far, in that order, invoiced or not.
    pub done: &'a [Line],
    pub invoices: &'a [Invoice],
    pub deposit: Option<DepositAsked>,
    pub payments: &'a [Payment],
    pub rounding: Rounding,
}

/// A job in figures. The first five are sums of lines in the terms' prices, discounts apart; the last four are gross.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Glance {
    pub quoted: Money,
    pub agreed: Money,
    pub done: Money,
    /// Done, and not on an invoice that stands.
    pub unbilled: Money,
    /// Of what is unbilled or invoiced: done without being agreed.
    pub not_agreed: Money,
    pub invoiced: Money,
    pub paid: Money,
    pub open: Money,
    /// Paid beyond what is invoiced: deposits, until the work is.
    pub over: Money,
}

pub fn glance(account: Account) -> Result<Glance, LineFault> {
    let Account { agreement, done, invoices, payments, rounding, .. } = account;
    let unbilled = done.iter().filter(|line| invoiced_on(line.id, invoices).is_none());
    let balance = Balance::of(invoices.iter().map(|invoice| invoice.sum.gross), payments)?;
    Ok(Glance {
        quoted: agreement.quoted()?,
        agreed: agreement.agreed()?,
        done: Money::sum_of(done.iter().map(|line| line.amount(rounding)))?,
        unbilled: Money::sum_of(unbilled.map(|line| line.amount(rounding)))?,
        not_agreed: covered(agreement, done, rounding)?.not_agreed,
        invoiced: balance.charged,
        paid: balance.received,
        open: balance.open,
        over: balance.over,
    })
}

/// What is awaited from a customer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    AnswerToQuote,
    /// The change's text.
    AnswerToChange(String),
    Deposit(Money),
    /// What is open of the invoices.
    Money(Money),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Awaited {
    pub what: What,
    pub since: Date,
    /// Until today; below zero if `since` lies ahead.
    pub days: i32,
    /// Of money: the day until which the oldest invoice that is not fully paid was to be paid.
    pub due: Option<Date>,
}

impl Awaited {
    /// How many days it is overdue; none while it is not.
    pub fn overdue(&self, today: Date) -> Option<i32> {
        self.due.map(|due| days_between(due, today)).filter(|days| *days > 0)
    }
}

/// What a job waits for from its customer, the longest awaited first.
///
/// Money counts as paying the oldest invoices first: it is awaited since the first invoice that is not fully paid.
pub fn awaited(account: Account, today: Date) -> Result<Vec<Awaited>, TooLarge> {
    let Account { agreement, invoices, deposit, payments, .. } = account;
    let mut awaited = Vec::new();
    if let Answer::Awaited { since } = agreement.answer {
        awaited.push((What::AnswerToQuote, since, None));
    }
    for change in &agreement.changes {
        if let Answer::Awaited { since } = change.answer {
            awaited.push((What::AnswerToChange(change.text.clone()), since, None));
        }
    }
    if let Some(deposit) = deposit {
        let missing = deposit.missing(payments)?;
        if missing > Money::ZERO {
            awaited.push((What::Deposit(missing), deposit.on, None));
        }
    }
    if let Some(money) = money_awaited(invoices, payments)? {
        awaited.push(money);
    }
    let days = |(what, since, due)| Awaited { what, since, days: days_between(since, today), due };
    let mut awaited: Vec<Awaited> = awaited.into_iter().map(days).collect();
    awaited.sort_by_key(|awaited| awaited.since);
    Ok(awaited)
}

type MoneyAwaited = (What, Date, Option<Date>);

fn money_awaited(invoices: &[Invoice], payments: &[Payment]) -> Result<Option<MoneyAwaited>, TooLarge> {
    let mut by_age: Vec<&Invoice> = standing(invoices).collect();
    by_age.sort_by_key(|invoice| (invoice.on, invoice.number));
    let received = received(payments)?;
    let (mut charged, mut since) = (Money::ZERO, None);
    for invoice in by_age {
        charged = charged.plus(invoice.sum.gross)?;
        if charged > received {
            since = since.or(Some((invoice.on, invoice.due)));
        }
    }
    let open = charged.less(received)?;
    Ok(since.filter(|_| open > Money::ZERO).map(|(since, due)| (What::Money(open), since, due)))
}

/// Days from one date to another, below zero backwards.
pub fn days_between(from: Date, to: Date) -> i32 {
    (to - from).get_days()
}
