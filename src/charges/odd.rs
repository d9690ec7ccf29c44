//! What is asked about and never refused.

use jiff::civil::Date;

use super::currency::Currency;
use super::money::Money;
use super::percent::Percent;

/// Something that may be right and seldom is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Odd {
    HighTax(Percent),
    /// More was paid than is open.
    PaidAbove {
        paid: Money,
        open: Money,
    },
    /// More is given back than was received beyond what is charged.
    GivenBackAbove {
        given: Money,
        over: Money,
    },
    /// What comes later is dated before what comes first.
    OutOfOrder {
        first: &'static str,
        first_on: Date,
        later: &'static str,
        later_on: Date,
    },
}

impl Odd {
    /// The dates, if the later thing is dated before the first.
    pub fn if_out_of_order(first: &'static str, first_on: Date, later: &'static str, later_on: Date) -> Option<Self> {
        (later_on < first_on).then_some(Self::OutOfOrder { first, first_on, later, later_on })
    }

    /// What to ask.
    pub fn words(&self, currency: Currency) -> String {
        match self {
            Self::HighTax(percent) => format!("A tax of {} is unusually high: is it right?", percent.show()),
            Self::PaidAbove { paid, open } => {
                let (paid, open) = (currency.show_named(*paid), currency.show_named(open.above_zero()));
                format!(
                    "{paid} is paid and {open} is open: is the amount right, and is the rest to be kept or given back?"
                )
            }
            Self::GivenBackAbove { given, over } => {
                let (given, over) = (currency.show_named(*given), currency.show_named(over.above_zero()));
                format!("{given} is given back and {over} is held beyond what is charged: is the amount right?")
            }
            Self::OutOfOrder { first, first_on, later, later_on } => {
                format!("The dates are out of order: {later} {later_on}, {first} {first_on}. Are both right?")
            }
        }
    }
}
