//! A discount, spread over the rates of tax so that the shares make it up exactly.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use thiserror::Error;

use super::line::{Kind, Line, LineFault};
use super::money::{Money, TooLarge};
use super::percent::{Percent, PercentFault};
use super::rounding::Rounding;
use super::share::spread;
use super::tax::TaxKey;

/// What a discount is given on. Core deposits are no price, so no discount is given on them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum On {
    Labour,
    Parts,
    Everything,
}

/// How much a discount is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Much {
    /// Of the charged lines it is given on, before any discount.
    Percent(Percent),
    Amount(Money),
}

#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Discount {
    pub text: String,
    pub on: On,
    pub much: Much,
}

/// What a discount takes off the lines of one rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// Which of the discounts, counted from 0.
    pub discount: usize,
    pub tax: TaxKey,
    /// Above zero.
    pub amount: Money,
}

/// Why a discount cannot be given.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum DiscountFault {
    #[error(transparent)]
    Line(#[from] LineFault),
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
    #[error(transparent)]
    Percent(#[from] PercentFault),
    #[error("the discount “{0}” is below zero: charge a line instead")]
    BelowZero(String),
    #[error("the discounts take off more than the lines come to: “{0}” finds too little left")]
    AboveCharges(String),
}

/// What is left of the charged lines, by rate and kind.
type Left<'a> = BTreeMap<(&'a TaxKey, Kind), i128>;

/// The shares of all discounts.
///
/// Discounts on labour and on parts are taken off before those on everything, smaller ones before larger ones, each in
/// proportion to what is left, by largest remainder: the shares of a discount make it up to the last coin, no rate
/// falls below zero, and the order of lines and of discounts changes no sum.
pub fn discount_shares(
    lines: &[Line],
    discounts: &[Discount],
    rounding: Rounding,
) -> Result<Vec<Share>, DiscountFault> {
    let mut left = Left::new();
    for line in lines.iter().filter(|line| !matches!(line.kind, Kind::CoreDeposit | Kind::CoreReturned)) {
        *left.entry((&line.tax, line.kind)).or_default() += line.amount(rounding)?.exact();
    }
    let full = left.clone();
    let mut amounts = Vec::with_capacity(discounts.len());
    for (at, discount) in discounts.iter().enumerate() {
        amounts.push((discount.on, amount(discount, &full, rounding)?, at));
    }
    amounts.sort_unstable();
    let mut shares = Vec::new();
    for (on, amount, at) in amounts {
        take_off(&mut left, on, amount, at, &mut shares)
            .ok_or_else(|| DiscountFault::AboveCharges(discounts[at].text.clone()))?;
    }
    Ok(shares)
}

fn amount(discount: &Discount, full: &Left, rounding: Rounding) -> Result<Money, DiscountFault> {
    match discount.much {
        Much::Amount(amount) if amount < Money::ZERO => Err(DiscountFault::BelowZero(discount.text.clone())),
        Much::Amount(amount) => Ok(amount),
        Much::Percent(percent) if percent > Percent::HUNDRED => Err(PercentFault::Discount(percent).into()),
        Much::Percent(percent) => {
            let given_on = full.iter().filter(|((_, kind), _)| covers(discount.on, *kind)).map(|(_, amount)| amount);
            Ok(percent.of(Money::from_exact(given_on.sum())?, rounding)?)
        }
    }
}

/// Takes a discount off what is left, and notes its shares by rate; `None` where too little is left.
fn take_off(left: &mut Left, on: On, amount: Money, discount: usize, shares: &mut Vec<Share>) -> Option<()> {
    let mut given_on: Vec<_> = left.iter_mut().filter(|((_, kind), _)| covers(on, *kind)).collect();
    let weights: Vec<i128> = given_on.iter().map(|(_, left)| **left).collect();
    if amount.exact() > weights.iter().sum() {
        return None;
    }
    let mut by_rate: BTreeMap<&TaxKey, i128> = BTreeMap::new();
    for (((rate, _), left), share) in given_on.iter_mut().zip(spread(amount.exact(), &weights)) {
        **left -= share;
        *by_rate.entry(rate).or_default() += share;
    }
    for (rate, share) in by_rate.into_iter().filter(|(_, share)| *share > 0) {
        shares.push(Share { discount, tax: rate.clone(), amount: Money::from_exact(share).ok()? });
    }
    Some(())
}

fn covers(on: On, kind: Kind) -> bool {
    match on {
        On::Everything => true,
        On::Labour => kind == Kind::Labour,
        On::Parts => kind == Kind::Part,
    }
}
