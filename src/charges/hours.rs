//! Hours of work, in whole quarters.

use serde::{Deserialize, Serialize};

use super::money::{Money, TooLarge};
use super::read::{Form, ReadFault};
use super::rounding::Rounding;

const ENTER: &str = "hours such as 1.5, 1:30 or 45 min";
/// The longest time read in one entry: more than a year's work of one person.
const MOST_HOURS: i64 = 10_000;

/// A time in quarter hours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Quarters(pub u32);

impl Quarters {
    /// The time that `text` says: "1.5", "1,25 h", "1:30", "1½", "45 min". What is no whole quarter is refused, and
    /// both neighbours are named.
    pub fn read(text: &str) -> Result<Self, ReadFault> {
        let hundredths = match hundredths_of_minutes(text.trim()) {
            Some(hundredths) => hundredths?,
            None => Form { decimals: 2, enter: ENTER }.read(&plain_hours(text))?.saturating_mul(60),
        };
        if hundredths > MOST_HOURS * 6000 {
            return Err(ReadFault::TooLarge { text: text.trim().to_owned(), enter: ENTER });
        }
        let whole = u32::try_from(hundredths / 1500).unwrap_or(u32::MAX);
        if hundredths % 1500 == 0 {
            return Ok(Self(whole));
        }
        let (below, above) = (Self(whole).figures(), Self(whole + 1).figures());
        Err(ReadFault::NoQuarter { text: text.trim().to_owned(), below, above })
    }

    /// "1.5 h", "0.25 h", "2 h".
    pub fn show(self) -> String {
        format!("{}\u{a0}h", self.figures())
    }

    /// The figures alone: "1.5".
    pub fn figures(self) -> String {
        let fraction = ["", ".25", ".5", ".75"][(self.0 % 4) as usize];
        format!("{}{fraction}", self.0 / 4)
    }

    /// What the time comes to at a rate per hour: `quarters × rate / 4`, rounded once.
    pub fn at(self, rate_per_hour: Money, rounding: Rounding) -> Result<Money, TooLarge> {
        Money::from_exact(rounding.divide(i128::from(self.0) * rate_per_hour.exact(), 4))
    }

    pub(super) fn sum(times: impl IntoIterator<Item = Self>) -> Self {
        Self(times.into_iter().fold(0, |sum, Self(quarters)| sum.saturating_add(quarters)))
    }
}

/// "1:30" and "45 min", in hundredths of a minute; `None` where the text says hours in figures.
fn hundredths_of_minutes(text: &str) -> Option<Result<i64, ReadFault>> {
    let form = Form { decimals: 0, enter: ENTER };
    if let Some(minutes) = text.strip_suffix("min") {
        return Some(form.read(minutes).map(|minutes| minutes.saturating_mul(100)));
    }
    let (hours, minutes) = text.split_once(':')?;
    let unread = || ReadFault::NoNumber { text: text.to_owned(), enter: ENTER };
    let two = minutes.len() == 2 && minutes.bytes().all(|b| b.is_ascii_digit());
    let minutes = minutes.parse::<i64>().ok().filter(|minutes| two && *minutes < 60);
    let minutes = minutes.ok_or_else(unread);
    Some(form.read(hours).and_then(|hours| Ok(hours.saturating_mul(6000) + minutes? * 100)))
}

/// The figures of a text that says hours: without its "h", and with quarters written as decimals.
fn plain_hours(text: &str) -> String {
    let text = text.trim().trim_end_matches("hours").trim_end_matches('h').trim_end();
    for (sign, decimals) in [('¼', ".25"), ('½', ".5"), ('¾', ".75")] {
        if let Some(whole) = text.strip_suffix(sign) {
            return format!("{}{decimals}", whole.trim_end());
        }
    }
    text.to_owned()
}
