//! How a job ends, and what then is charged, kept, given back.
//!
//! The rules are our own judgement, not a lawyer's: what was agreed comes first.

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::glance::days_between;
use super::money::{Money, TooLarge};
use super::payment::{Paid, Payment, received};

/// How a job ends, or rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ending {
    HandedOver,
    /// It rests, and goes on later.
    Parked,
    /// The customer puts it together himself.
    ShortBlock,
    /// The customer wants no more done.
    Cancelled,
    /// The engine has a new owner.
    SoldOn,
    /// It cannot or shall not be saved.
    Scrapped,
}

impl Ending {
    pub const ALL: [Self; 6] =
        [Self::HandedOver, Self::Parked, Self::ShortBlock, Self::Cancelled, Self::SoldOn, Self::Scrapped];

    pub fn title(self) -> &'static str {
        match self {
            Self::HandedOver => "Handed over",
            Self::Parked => "Parked",
            Self::ShortBlock => "Leaves as a short block",
            Self::Cancelled => "Cancelled",
            Self::SoldOn => "Sold on",
            Self::Scrapped => "Scrapped",
        }
    }

    /// What is charged.
    pub fn charged(self) -> &'static str {
        match self {
            Self::HandedOver => {
                "All work and parts agreed to, and storage from the day it is ready to be fetched, if agreed."
            }
            Self::Parked => {
                "Work and parts so far, and storage for each week begun. A deposit is held until the job goes on."
            }
            Self::ShortBlock => "Work and parts up to the short block; parts already ordered that cannot go back.",
            Self::Cancelled => {
                "Work and parts so far, parts that cannot go back. A forfeitable deposit pays first; its rest is kept."
            }
            Self::SoldOn => "Work and parts so far, to the owner who ordered them. The new owner agrees anew.",
            Self::Scrapped => {
                "Work and parts so far, and disposal. A core that is scrapped brings no core deposit back."
            }
        }
    }

    /// What goes back to the customer besides money, to be ticked off.
    pub fn goes_back(self) -> &'static [&'static str] {
        match self {
            Self::HandedOver => &["the engine", "his own parts that were not used", "replaced parts he asked for"],
            Self::Parked => &[],
            Self::ShortBlock => {
                &["the short block", "heads and all parts not fitted", "his own parts", "bags of fasteners"]
            }
            Self::Cancelled => {
                &["the engine as it stands", "his own parts", "parts he has paid for", "bags of fasteners"]
            }
            Self::SoldOn => &["what he keeps by the terms of the sale"],
            Self::Scrapped => &["parts that are still good", "his own parts", "tags and numbers he wants to keep"],
        }
    }
}

/// Where the money of a job goes at its end. `received = counted + forfeited + held + refund` and `owed = counted +
/// to_pay`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settlement {
    pub owed: Money,
    pub received: Money,
    /// Of what was received: pays what is owed. Below zero if the shop owes more than it charges.
    pub counted: Money,
    /// A deposit agreed as forfeited, as far as nothing is owed for it.
    pub forfeited: Money,
    /// Kept for when the job goes on.
    pub held: Money,
    pub refund: Money,
    pub to_pay: Money,
}

/// Settles all that is owed, gross, storage and credits included, against all payments.
///
/// Only a cancelled job forfeits anything, and a forfeitable deposit pays for work first: the customer never pays
/// twice.
pub fn settle(ending: Ending, owed: Money, payments: &[Payment]) -> Result<Settlement, TooLarge> {
    let received = received(payments)?;
    let open = owed.less(received)?;
    let (to_pay, over) = (open.above_zero(), (-open).above_zero());
    let forfeitable = payments.iter().filter(|payment| payment.paid == Paid::Deposit { refundable: false });
    let forfeitable = Money::sum(forfeitable.map(|deposit| deposit.amount))?;
    let (forfeited, held) = match ending {
        Ending::Cancelled => (forfeitable.less(owed.above_zero())?.above_zero().min(over), Money::ZERO),
        Ending::Parked => (Money::ZERO, over),
        _ => (Money::ZERO, Money::ZERO),
    };
    let refund = over.less(forfeited)?.less(held)?;
    Ok(Settlement { owed, received, counted: owed.less(to_pay)?, forfeited, held, refund, to_pay })
}

/// Days that storage is charged for, by whole weeks: from the day it was stored to the one up to which its weeks reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Span {
    pub from: Date,
    pub until: Date,
}

/// Storage cannot be reckoned.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("it was fetched on {until}, before it was stored on {from}: set the dates right")]
pub struct StorageFault {
    pub from: Date,
    pub until: Date,
}

/// How many weeks of storage were begun after `free_days` without charge: seven days after the day it was stored are
/// one week, the eighth begins another, and the same day is none.
pub fn storage_weeks(from: Date, until: Date, free_days: u16) -> Result<u32, StorageFault> {
    let days = u32::try_from(days_between(from, until)).map_err(|_| StorageFault { from, until })?;
    Ok(days.saturating_sub(u32::from(free_days)).div_ceil(7))
}

/// The weeks begun of a stay that are not charged yet, and the days they are for; `charged` is the day up to which weeks
/// charged before reach. The days without charge are those at its beginning.
pub fn storage_due(stay: Span, charged: Option<Date>, free_days: u16) -> Result<Option<(u32, Span)>, StorageFault> {
    let charged = charged.filter(|charged| *charged > stay.from);
    let (from, free_days) = charged.map_or((stay.from, free_days), |charged| (charged, 0));
    if charged.is_some() && from >= stay.until {
        return Ok(None);
    }
    let weeks = storage_weeks(from, stay.until, free_days)?;
    let days = i64::from(weeks) * 7 + i64::from(free_days);
    let until = from.saturating_add(days.days());
    Ok((weeks > 0).then_some((weeks, Span { from, until })))
}
