//! An invoice as it is issued, and the credit that undoes it. Neither tells what a part cost the shop or who sold it.

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::currency::Currency;
use super::discount::Discount;
use super::line::{HowMany, Kind, Line, LineFault, LineId, Why};
use super::money::{Money, TooLarge};
use super::number::Number;
use super::percent::Percent;
use super::rounding::Terms;
use super::tax::{TaxFault, TaxKey, TaxTable};
use super::total::{RateSum, Sum, Total, TotalFault, total};

/// What stands on a row: a line of the job, or what a discount takes off at one rate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Of {
    Line { id: LineId, kind: Kind, step: Option<String>, how_many: HowMany, unit: String, price_each: Money },
    Discount,
}

/// A row of an invoice. On a credit, and for what is given back, how many and all amounts are below zero.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Row {
    pub of: Of,
    pub text: String,
    /// Shown and not charged: its amount is zero.
    pub not_charged: Option<Why>,
    /// In the terms' prices: before tax, or with it.
    pub amount: Money,
    pub tax: TaxKey,
    pub tax_percent: Percent,
    pub sum: Sum,
}

/// Which invoice a credit undoes, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Undoes {
    pub number: Number,
    pub reason: String,
}

/// An invoice or a credit, complete in itself: what is frozen when it is issued.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Invoice {
    pub number: Number,
    pub on: Date,
    /// Of a credit.
    pub undoes: Option<Undoes>,
    pub currency: Currency,
    pub terms: Terms,
    pub rows: Vec<Row>,
    pub by_rate: Vec<RateSum>,
    pub sum: Sum,
    /// What of it had come in before it was issued, such as a deposit.
    #[serde(default)]
    pub paid_before: Money,
    /// The day until which it is to be paid; none of a credit, and where nothing was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
}

/// What an invoice is made of.
#[derive(Clone, Copy, Debug)]
pub struct Draft<'a> {
    pub number: Number,
    pub on: Date,
    pub currency: Currency,
    pub terms: Terms,
    pub taxes: &'a TaxTable,
    pub lines: &'a [Line],
    pub discounts: &'a [Discount],
    /// What came in beyond all that was invoiced until now.
    pub held: Money,
    /// Within how many days it is to be paid.
    pub pay_within: Option<u16>,
}

/// Why an invoice cannot be issued, credited or changed, and the way to do it.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum InvoiceFault {
    #[error(transparent)]
    Total(#[from] TotalFault),
    #[error(transparent)]
    Tax(#[from] TaxFault),
    #[error(transparent)]
    Line(#[from] LineFault),
    #[error("nothing to invoice: choose at least one line")]
    Empty,
    #[error("the number {0} is taken: number this one anew")]
    NumberTaken(Number),
    #[error("“{text}” stands on this invoice twice: take it off once")]
    TwiceHere { text: String },
    #[error("“{text}” stands on invoice {number} already: to invoice it anew, credit {number} first")]
    Invoiced { text: String, number: Number },
    #[error(
        "“{text}” stands on invoice {number}, which stays as issued: to change it, credit {number}, then invoice anew"
    )]
    Issued { text: String, number: Number },
    #[error("invoice {number} is credited already, by {by}")]
    Credited { number: Number, by: Number },
    #[error("{0} is a credit: it is not credited in its turn; invoice its lines anew")]
    IsCredit(Number),
    #[error("say why {0} is credited")]
    NoReason(Number),
}

impl Invoice {
    /// Draws up an invoice. A line that stands on one of the invoices issued is refused, unless that was credited.
    pub fn draw_up(draft: Draft, issued: &[Self]) -> Result<Self, InvoiceFault> {
        if draft.lines.is_empty() {
            return Err(InvoiceFault::Empty);
        }
        number_free(draft.number, issued)?;
        for (at, line) in draft.lines.iter().enumerate() {
            if draft.lines[..at].iter().any(|before| before.id == line.id) {
                return Err(InvoiceFault::TwiceHere { text: line.text.clone() });
            }
            if let Some(number) = invoiced_on(line.id, issued) {
                return Err(InvoiceFault::Invoiced { text: line.text.clone(), number });
            }
        }
        let total = total(draft.lines, draft.discounts, draft.taxes, draft.terms)?;
        let rows = rows(&draft, &total)?;
        let Draft { number, on, currency, terms, held, pay_within, .. } = draft;
        let paid_before = held.min(total.sum.gross).above_zero();
        let (by_rate, sum) = (total.by_rate, total.sum);
        let due = pay_within.filter(|_| sum.gross > paid_before).map(|days| on.saturating_add(i64::from(days).days()));
        Ok(Self { number, on, undoes: None, currency, terms, rows, by_rate, sum, paid_before, due })
    }

    /// The credit that undoes this invoice: every row and sum of it, negated to the last coin.
    pub fn credit(&self, number: Number, on: Date, reason: &str, issued: &[Self]) -> Result<Self, InvoiceFault> {
        if self.undoes.is_some() {
            return Err(InvoiceFault::IsCredit(self.number));
        }
        if let Some(by) = credited_by(self.number, issued) {
            return Err(InvoiceFault::Credited { number: self.number, by });
        }
        if reason.trim().is_empty() {
            return Err(InvoiceFault::NoReason(self.number));
        }
        number_free(number, issued)?;
        Ok(Self {
            number,
            on,
            undoes: Some(Undoes { number: self.number, reason: reason.trim().to_owned() }),
            rows: self.rows.iter().map(Row::negated).collect(),
            by_rate: self.by_rate.iter().map(|rate| RateSum { sum: -rate.sum, ..rate.clone() }).collect(),
            sum: -self.sum,
            paid_before: Money::ZERO,
            due: None,
            ..*self
        })
    }

    /// What is still to be paid of it.
    pub fn to_pay(&self) -> Result<Money, TooLarge> {
        self.sum.gross.less(self.paid_before)
    }

    fn has(&self, line: LineId) -> bool {
        self.rows.iter().any(|row| matches!(row.of, Of::Line { id, .. } if id == line))
    }
}

impl Row {
    fn negated(&self) -> Self {
        let mut of = self.of.clone();
        if let Of::Line { how_many, .. } = &mut of {
            *how_many = -*how_many;
        }
        Self { of, amount: -self.amount, sum: -self.sum, ..self.clone() }
    }
}

/// The invoice a line stands on, credited ones and credits apart.
pub fn invoiced_on(line: LineId, issued: &[Invoice]) -> Option<Number> {
    standing(issued).find(|invoice| invoice.has(line)).map(|invoice| invoice.number)
}

/// Refuses to change a line that stands on an invoice, with the way to do it.
pub fn may_change(line: &Line, issued: &[Invoice]) -> Result<(), InvoiceFault> {
    match invoiced_on(line.id, issued) {
        Some(number) => Err(InvoiceFault::Issued { text: line.text.clone(), number }),
        None => Ok(()),
    }
}

/// The invoices that were not credited.
pub fn standing(issued: &[Invoice]) -> impl Iterator<Item = &Invoice> {
    issued.iter().filter(|invoice| invoice.undoes.is_none() && credited_by(invoice.number, issued).is_none())
}

fn credited_by(number: Number, issued: &[Invoice]) -> Option<Number> {
    let undoes = |credit: &&Invoice| credit.undoes.as_ref().is_some_and(|undoes| undoes.number == number);
    issued.iter().find(undoes).map(|credit| credit.number)
}

fn number_free(number: Number, issued: &[Invoice]) -> Result<(), InvoiceFault> {
    if issued.iter().any(|invoice| invoice.number == number) {
        return Err(InvoiceFault::NumberTaken(number));
    }
    Ok(())
}

fn rows(draft: &Draft, total: &Total) -> Result<Vec<Row>, InvoiceFault> {
    let percent = |key: &TaxKey| draft.taxes.get(key).map(|tax| tax.rate.percent());
    let mut rows = Vec::with_capacity(total.lines.len() + total.discounts.len());
    for (line, part) in draft.lines.iter().zip(&total.lines) {
        let Line { id, kind, how_many, .. } = *line;
        let how_many = if kind.is_given_back() { -how_many } else { how_many };
        let price_each = line.price_each(draft.terms.rounding)?;
        rows.push(Row {
            of: Of::Line { id, kind, step: line.step.clone(), how_many, unit: line.unit.clone(), price_each },
            text: line.text.clone(),
            not_charged: line.not_charged(),
            amount: part.amount,
            tax: line.tax.clone(),
            tax_percent: percent(&line.tax)?,
            sum: part.sum,
        });
    }
    for part in &total.discounts {
        rows.push(Row {
            of: Of::Discount,
            text: draft.discounts[part.discount].text.clone(),
            not_charged: None,
            amount: part.amount,
            tax: part.tax.clone(),
            tax_percent: percent(&part.tax)?,
            sum: part.sum,
        });
    }
    Ok(rows)
}
