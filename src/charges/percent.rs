//! Percentages, exact to a ten-thousandth of one per cent, and tax rates.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::money::{Money, TooLarge};
use super::odd::Odd;
use super::read::{Form, ReadFault};
use super::rounding::Rounding;

/// Parts per million in the whole.
pub(super) const WHOLE: i128 = 1_000_000;
/// 1 000 %: a mark-up of ten times.
const MOST_PPM: u32 = 10_000_000;
const DECIMALS: u8 = 4;

/// A percentage from 0 to 1 000 %, in parts per million: 19 % is 190 000.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "u32", into = "u32")]
pub struct Percent(u32);

/// Why a percentage cannot be.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum PercentFault {
    #[error(transparent)]
    Read(#[from] ReadFault),
    #[error("more than 1 000 % is beyond any mark-up: enter a percentage such as 25 or 7.5")]
    TooLarge,
    #[error("a tax of {} is more than the price itself: enter a rate such as 19 or 8.875", .0.show())]
    Tax(Percent),
    #[error("a discount of {} is more than the price itself: enter at most 100", .0.show())]
    Discount(Percent),
}

impl Percent {
    pub const ZERO: Self = Self(0);
    pub const HUNDRED: Self = Self(1_000_000);

    pub fn from_ppm(ppm: u32) -> Result<Self, PercentFault> {
        if ppm <= MOST_PPM { Ok(Self(ppm)) } else { Err(PercentFault::TooLarge) }
    }

    pub fn ppm(self) -> u32 {
        self.0
    }

    /// The percentage that `text` says: "19", "7.5", "8,875 %".
    pub fn read(text: &str) -> Result<Self, PercentFault> {
        let form = Form { decimals: DECIMALS, enter: "a percentage such as 19 or 7.5" };
        let ppm = form.read(text.trim().trim_end_matches('%'))?;
        u32::try_from(ppm).map_err(|_| PercentFault::TooLarge).and_then(Self::from_ppm)
    }

    /// "19 %", "8.875 %".
    pub fn show(self) -> String {
        format!("{}\u{a0}%", self.figures())
    }

    /// The figures alone: "19", "8.875".
    pub fn figures(self) -> String {
        let text = format!("{}.{:04}", self.0 / 10_000, self.0 % 10_000);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// So much of an amount: `amount × p`, rounded once.
    pub fn of(self, amount: Money, rounding: Rounding) -> Result<Money, TooLarge> {
        Money::from_exact(rounding.divide(amount.exact() * i128::from(self.0), WHOLE))
    }

    /// An amount with so much on top: `amount × (1 + p)`, rounded once.
    pub fn on_top_of(self, amount: Money, rounding: Rounding) -> Result<Money, TooLarge> {
        Money::from_exact(rounding.divide(amount.exact() * (WHOLE + i128::from(self.0)), WHOLE))
    }
}

impl TryFrom<u32> for Percent {
    type Error = PercentFault;

    fn try_from(ppm: u32) -> Result<Self, PercentFault> {
        Self::from_ppm(ppm)
    }
}

impl From<Percent> for u32 {
    fn from(percent: Percent) -> Self {
        percent.0
    }
}

/// A rate of tax, from 0 to 100 %.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "Percent", into = "Percent")]
pub struct TaxRate(Percent);

impl TaxRate {
    /// Rates above this are asked about. Our own judgement: no general sales tax known to us is higher.
    pub const USUAL_AT_MOST: Percent = Percent(300_000);

    pub fn new(percent: Percent) -> Result<Self, PercentFault> {
        if percent <= Percent::HUNDRED { Ok(Self(percent)) } else { Err(PercentFault::Tax(percent)) }
    }

    pub fn percent(self) -> Percent {
        self.0
    }

    pub fn odd(self) -> Option<Odd> {
        (self.0 > Self::USUAL_AT_MOST).then_some(Odd::HighTax(self.0))
    }
}

impl TryFrom<Percent> for TaxRate {
    type Error = PercentFault;

    fn try_from(percent: Percent) -> Result<Self, PercentFault> {
        Self::new(percent)
    }
}

impl From<TaxRate> for Percent {
    fn from(rate: TaxRate) -> Self {
        rate.0
    }
}
