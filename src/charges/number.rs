//! Invoice numbers without gaps.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// How invoices are numbered: a setting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Numbering {
    /// "2026-0042": from 1 anew each year.
    #[default]
    ByYear,
    /// "42"
    Plain,
}

/// The number of an invoice or a credit; both are of one series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Number {
    ByYear { year: u16, count: u32 },
    Plain { count: u32 },
}

/// Why a number cannot be, or cannot follow.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NumberFault {
    #[error("“{0}” is no invoice number: enter one such as 2026-0042, or a plain 42")]
    Unread(String),
    #[error("the last invoice is {last} and this one would be of {year}: set the date right")]
    YearBack { last: Number, year: u16 },
    #[error("the last invoice is {0}, of the other way of numbering: keep to that way, or begin a new series")]
    OtherWay(Number),
    #[error("there are no numbers after {0}: begin a new series")]
    UsedUp(Number),
}

impl Number {
    /// The number after the last one, or the first of a series.
    pub fn next(last: Option<Self>, numbering: Numbering, year: u16) -> Result<Self, NumberFault> {
        let after = |count: u32, last| count.checked_add(1).ok_or(NumberFault::UsedUp(last));
        match (numbering, last) {
            (Numbering::ByYear, None) => Ok(Self::ByYear { year, count: 1 }),
            (Numbering::Plain, None) => Ok(Self::Plain { count: 1 }),
            (Numbering::ByYear, Some(last @ Self::ByYear { year: of, count })) => match of.cmp(&year) {
                std::cmp::Ordering::Less => Ok(Self::ByYear { year, count: 1 }),
                std::cmp::Ordering::Equal => Ok(Self::ByYear { year, count: after(count, last)? }),
                std::cmp::Ordering::Greater => Err(NumberFault::YearBack { last, year }),
            },
            (Numbering::Plain, Some(last @ Self::Plain { count })) => Ok(Self::Plain { count: after(count, last)? }),
            (_, Some(last)) => Err(NumberFault::OtherWay(last)),
        }
    }

    /// Whether `self` comes directly after `before`: within a series, or as the first of a later year.
    pub fn follows(self, before: Self) -> bool {
        match (before, self) {
            (Self::Plain { count: before }, Self::Plain { count }) => before.checked_add(1) == Some(count),
            (Self::ByYear { year: then, count: before }, Self::ByYear { year, count }) => {
                then == year && before.checked_add(1) == Some(count) || then < year && count == 1
            }
            _ => false,
        }
    }

    fn count(self) -> u32 {
        match self {
            Self::ByYear { count, .. } | Self::Plain { count } => count,
        }
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ByYear { year, count } => write!(f, "{year:04}-{count:04}"),
            Self::Plain { count } => write!(f, "{count}"),
        }
    }
}

impl FromStr for Number {
    type Err = NumberFault;

    /// Only as it is shown: "2026-42" is not "2026-0042", so that one invoice has one number.
    fn from_str(text: &str) -> Result<Self, NumberFault> {
        let number = match text.split_once('-') {
            Some((year, count)) => {
                year.parse().ok().zip(count.parse().ok()).map(|(year, count)| Self::ByYear { year, count })
            }
            None => text.parse().ok().map(|count| Self::Plain { count }),
        };
        number
            .filter(|number| number.count() > 0 && number.to_string() == text)
            .ok_or_else(|| NumberFault::Unread(text.to_owned()))
    }
}

impl TryFrom<String> for Number {
    type Error = NumberFault;

    fn try_from(text: String) -> Result<Self, NumberFault> {
        text.parse()
    }
}

impl From<Number> for String {
    fn from(number: Number) -> Self {
        number.to_string()
    }
}
