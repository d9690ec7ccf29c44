//! An amount of money: whole minor units (cents, say) of the shop's one currency.

use serde::{Deserialize, Serialize};
use std::ops::Neg;
use thiserror::Error;

/// The largest amount either way, in minor units: a million lines of 10⁹ each, and far from where 64 bits end.
const MOST_MINOR: i64 = 1_000_000_000_000_000;

/// An amount in minor units, below zero for what is given back. Which currency is the shop's setting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub struct Money(i64);

/// An amount is larger than any invoice.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("this comes to more than 10¹⁵ of the smallest coin: look for a figure with too many noughts")]
pub struct TooLarge;

impl Money {
    pub const ZERO: Self = Self(0);

    pub fn from_minor(minor: i64) -> Result<Self, TooLarge> {
        if (-MOST_MINOR..=MOST_MINOR).contains(&minor) { Ok(Self(minor)) } else { Err(TooLarge) }
    }

    pub fn minor(self) -> i64 {
        self.0
    }

    pub fn plus(self, other: Self) -> Result<Self, TooLarge> {
        Self::from_minor(self.0 + other.0)
    }

    pub fn less(self, other: Self) -> Result<Self, TooLarge> {
        self.plus(-other)
    }

    /// The sum of all. Only what it comes to must be an amount; on the way there it may be larger.
    pub fn sum(amounts: impl IntoIterator<Item = Self>) -> Result<Self, TooLarge> {
        Self::from_exact(amounts.into_iter().map(Self::exact).sum())
    }

    /// What is above zero of it.
    #[must_use]
    pub fn above_zero(self) -> Self {
        self.max(Self::ZERO)
    }

    pub(super) fn exact(self) -> i128 {
        i128::from(self.0)
    }

    pub(super) fn from_exact(minor: i128) -> Result<Self, TooLarge> {
        i64::try_from(minor).map_err(|_| TooLarge).and_then(Self::from_minor)
    }

    /// The sum of amounts that may each be missing for being too large.
    pub(super) fn sum_of<E: From<TooLarge>>(mut amounts: impl Iterator<Item = Result<Self, E>>) -> Result<Self, E> {
        amounts.try_fold(Self::ZERO, |sum, amount| Ok(sum.plus(amount?)?))
    }
}

impl Neg for Money {
    type Output = Self;

    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl TryFrom<i64> for Money {
    type Error = TooLarge;

    fn try_from(minor: i64) -> Result<Self, TooLarge> {
        Self::from_minor(minor)
    }
}

impl From<Money> for i64 {
    fn from(money: Money) -> Self {
        money.0
    }
}
