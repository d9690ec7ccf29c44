//! What lines come to: net, tax and gross by rate and in all.

use serde::{Deserialize, Serialize};
use std::ops::Neg;
use thiserror::Error;

use super::discount::{Discount, DiscountFault, Share, discount_shares};
use super::line::{Line, LineFault, LineId};
use super::money::{Money, TooLarge};
use super::percent::{TaxRate, WHOLE};
use super::rounding::{Prices, TaxRounding, Terms};
use super::share::shares;
use super::tax::{Tax, TaxFault, TaxKey, TaxTable};

/// An amount before tax, its tax, and both together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sum {
    pub net: Money,
    pub tax: Money,
    pub gross: Money,
}

impl Sum {
    pub fn plus(self, other: Self) -> Result<Self, TooLarge> {
        let (net, tax) = (self.net.plus(other.net)?, self.tax.plus(other.tax)?);
        Ok(Self { net, tax, gross: self.gross.plus(other.gross)? })
    }
}

impl Neg for Sum {
    type Output = Self;

    fn neg(self) -> Self {
        Self { net: -self.net, tax: -self.tax, gross: -self.gross }
    }
}

/// All that is charged at one rate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RateSum {
    pub key: TaxKey,
    pub title: String,
    pub rate: TaxRate,
    pub reason: Option<String>,
    pub sum: Sum,
}

/// A line's part of the total.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinePart {
    pub id: LineId,
    /// In the terms' prices: before tax, or with it.
    pub amount: Money,
    pub sum: Sum,
}

/// A discount's part of the total at one rate; all below zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DiscountPart {
    /// Which of the discounts, counted from 0.
    pub discount: usize,
    pub tax: TaxKey,
    pub amount: Money,
    pub sum: Sum,
}

/// What lines come to.
///
/// Sums hold exactly: the parts of lines and discounts make up each rate, the rates make up the total, net and tax make
/// up gross. Permuting the lines changes no sum. Where tax is rounded once for each rate, its parts go to the lines by
/// largest remainder, so a single line's part may hang on the other lines; where each line is rounded, it does not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Total {
    /// In the table's order, only rates that lines stand at.
    pub by_rate: Vec<RateSum>,
    pub sum: Sum,
    /// In the order of the lines given.
    pub lines: Vec<LinePart>,
    /// In the order of the discounts given, and each in the order of the rates.
    pub discounts: Vec<DiscountPart>,
}

/// Why there is no total.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum TotalFault {
    #[error(transparent)]
    Line(#[from] LineFault),
    #[error(transparent)]
    Discount(#[from] DiscountFault),
    #[error(transparent)]
    Tax(#[from] TaxFault),
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// Works out what `lines` less `discounts` come to.
pub fn total(lines: &[Line], discounts: &[Discount], table: &TaxTable, terms: Terms) -> Result<Total, TotalFault> {
    let mut off = discount_shares(lines, discounts, terms.rounding)?;
    let place = |key: &TaxKey| table.rates().iter().position(|tax| tax.key == *key);
    off.sort_by_key(|share| (share.discount, place(&share.tax)));
    let mut items = Vec::with_capacity(lines.len() + off.len());
    for line in lines {
        table.get(&line.tax)?;
        items.push((&line.tax, line.amount(terms.rounding)?));
    }
    items.extend(off.iter().map(|share| (&share.tax, -share.amount)));
    let mut sums = vec![Sum::default(); items.len()];
    let mut by_rate = Vec::new();
    for tax in table.rates() {
        let at_rate: Vec<usize> = (0..items.len()).filter(|&at| *items[at].0 == tax.key).collect();
        if at_rate.is_empty() {
            continue;
        }
        let amounts: Vec<Money> = at_rate.iter().map(|&at| items[at].1).collect();
        let parts = taxed(&amounts, tax.rate, terms)?;
        for (at, part) in at_rate.into_iter().zip(&parts) {
            sums[at] = *part;
        }
        by_rate.push(rate_sum(tax, &parts)?);
    }
    let sum = by_rate.iter().try_fold(Sum::default(), |so_far, rate| so_far.plus(rate.sum))?;
    let amounts = items.iter().map(|item| item.1).zip(sums);
    let (of_lines, of_discounts) = (amounts.clone().zip(lines), amounts.skip(lines.len()).zip(off.iter()));
    let lines = of_lines.map(|((amount, sum), line)| LinePart { id: line.id, amount, sum }).collect();
    let discount = |((amount, sum), share): ((Money, Sum), &Share)| DiscountPart {
        discount: share.discount,
        tax: share.tax.clone(),
        amount,
        sum,
    };
    Ok(Total { by_rate, sum, lines, discounts: of_discounts.map(discount).collect() })
}

fn rate_sum(tax: &Tax, parts: &[Sum]) -> Result<RateSum, TooLarge> {
    let sum = parts.iter().try_fold(Sum::default(), |so_far, part| so_far.plus(*part))?;
    Ok(RateSum { key: tax.key.clone(), title: tax.title.clone(), rate: tax.rate, reason: tax.reason.clone(), sum })
}

/// Net, tax and gross of each of the amounts taxed at one rate.
///
/// `tax = net × p`, or of prices with tax in them `tax = gross × p / (1 + p)`, rounded as the terms say.
fn taxed(amounts: &[Money], rate: TaxRate, terms: Terms) -> Result<Vec<Sum>, TooLarge> {
    let p = i128::from(rate.percent().ppm());
    let denominator = match terms.prices {
        Prices::BeforeTax => WHOLE,
        Prices::TaxIncluded => WHOLE + p,
    };
    let exact: Vec<i128> = amounts.iter().map(|amount| amount.exact() * p).collect();
    let taxes = match terms.tax_rounding {
        TaxRounding::EachLine => exact.iter().map(|tax| terms.rounding.divide(*tax, denominator)).collect(),
        TaxRounding::TotalPerRate => {
            shares(terms.rounding.divide(exact.iter().sum(), denominator), &exact, denominator)
        }
    };
    let sum = |(amount, tax): (&Money, i128)| {
        let tax = Money::from_exact(tax)?;
        Ok(match terms.prices {
            Prices::BeforeTax => Sum { net: *amount, tax, gross: amount.plus(tax)? },
            Prices::TaxIncluded => Sum { net: amount.less(tax)?, tax, gross: *amount },
        })
    };
    amounts.iter().zip(taxes).map(sum).collect()
}
