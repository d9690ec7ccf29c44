//! Which way a half goes, and when tax is rounded.

use serde::{Deserialize, Serialize};

use super::currency::Currency;

/// Which way exactly half of the smallest coin goes. What is not exactly half goes to the nearer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rounding {
    /// Commercial rounding: 0.5 is 1 and −0.5 is −1.
    #[default]
    HalfAwayFromZero,
    /// 0.5 is 0, 1.5 and 2.5 are 2: the default direction of IEEE 754 (ties to even).
    HalfToEven,
}

impl Rounding {
    pub const ALL: [Self; 2] = [Self::HalfAwayFromZero, Self::HalfToEven];

    pub fn words(self) -> &'static str {
        match self {
            Self::HalfAwayFromZero => "halves away from zero",
            Self::HalfToEven => "halves to the even figure",
        }
    }

    /// The whole number next to `numerator` / `denominator`; the denominator above zero. The same with its sign turned
    /// for the numerator's sign turned.
    pub(super) fn divide(self, numerator: i128, denominator: i128) -> i128 {
        let (floor, rest) = (numerator.div_euclid(denominator), numerator.rem_euclid(denominator));
        let up = match (rest * 2).cmp(&denominator) {
            std::cmp::Ordering::Less => false,
            std::cmp::Ordering::Greater => true,
            std::cmp::Ordering::Equal => match self {
                Self::HalfAwayFromZero => numerator > 0,
                Self::HalfToEven => floor % 2 != 0,
            },
        };
        floor + i128::from(up)
    }
}

/// When tax is rounded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TaxRounding {
    /// Once for each rate, on all that is taxed at it. The tax of two invoices may then differ from that of one over
    /// the same lines, by up to one smallest coin for each rate.
    #[default]
    TotalPerRate,
    /// Each line, and each share of a discount, by itself. Taxes of parts are then parts of the tax, exactly, however
    /// the lines are divided among invoices; the tax of many small lines may differ from the rate by half a coin each.
    EachLine,
}

impl TaxRounding {
    pub const ALL: [Self; 2] = [Self::TotalPerRate, Self::EachLine];
}

/// Whether the prices of lines are before tax or contain it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prices {
    #[default]
    BeforeTax,
    TaxIncluded,
}

impl Prices {
    pub const ALL: [Self; 2] = [Self::BeforeTax, Self::TaxIncluded];
}

/// The shop's settings for working out an invoice.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Terms {
    pub prices: Prices,
    pub rounding: Rounding,
    pub tax_rounding: TaxRounding,
}

impl Terms {
    /// What the paper says about it.
    pub fn words(self, currency: Currency) -> String {
        let prices = match self.prices {
            Prices::BeforeTax => "Prices are before tax.",
            Prices::TaxIncluded => "Prices include tax.",
        };
        let tax = match self.tax_rounding {
            TaxRounding::TotalPerRate => "Tax is worked out on the total of each rate",
            TaxRounding::EachLine => "Tax is worked out on each line",
        };
        let (coin, halves) = (currency.smallest(), self.rounding.words());
        format!("{prices} {tax}. Amounts and tax are rounded to {coin}, {halves}.")
    }
}
