//! What was offered, what was agreed to, what changed, and what was done without being agreed.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

use super::currency::Currency;
use super::hours::Quarters;
use super::line::{Line, LineFault, LineId};
use super::money::{Money, TooLarge};
use super::rounding::Rounding;

/// Which line of the quote, for as long as the record lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct QuoteLineId(pub i64);

/// Which change, for as long as the record lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ChangeId(pub i64);

/// What the customer was asked that a charged line belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Under {
    Quote(QuoteLineId),
    Change(ChangeId),
    /// Neither: it is covered by what may be spent without calling, or by nothing.
    Nothing,
}

/// How a customer answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum How {
    Signed,
    InPerson,
    Phone,
    Message,
}

impl How {
    pub fn words(self) -> &'static str {
        match self {
            Self::Signed => "signed",
            Self::InPerson => "in person",
            Self::Phone => "by phone",
            Self::Message => "by message",
        }
    }
}

/// What the customer said, in his words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    pub on: Date,
    pub how: How,
    pub words: String,
}

/// Where a question to the customer stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// Not sent yet.
    NotAsked,
    Awaited {
        since: Date,
    },
    Agreed(Said),
    Declined(Said),
}

/// A line of the quote; its amount in the terms' prices.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct QuoteLine {
    pub id: QuoteLineId,
    /// Which step of the job, by its key.
    pub step: Option<String>,
    pub text: String,
    /// Of labour.
    pub hours: Option<Quarters>,
    pub amount: Money,
}

/// A change to what was agreed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Change {
    pub id: ChangeId,
    pub text: String,
    pub why: String,
    /// In the terms' prices; below zero where work is left out.
    pub price: Money,
    /// How many days later the engine is ready; below zero for sooner.
    pub days: i32,
    pub answer: Answer,
}

impl Change {
    /// The text to send.
    pub fn message(&self, job: &str, currency: Currency) -> String {
        let price = if self.price < Money::ZERO {
            format!("{} less", currency.show_named(-self.price))
        } else {
            format!("{} more", currency.show_named(self.price))
        };
        let days = |days: u32| if days == 1 { "1 day".to_owned() } else { format!("{days} days") };
        let ready = match self.days {
            0 => "It does not change when the engine is ready.".to_owned(),
            1.. => format!("The engine is ready {} later.", days(self.days.unsigned_abs())),
            _ => format!("The engine is ready {} sooner.", days(self.days.unsigned_abs())),
        };
        let (why, text) = (self.why.trim(), self.text.trim());
        let wait = "Please answer yes or no. Until then this part of the work waits.";
        format!("{job}: {why}\nWe propose: {text}\nThis costs {price}. {ready}\n{wait}")
    }
}

/// What stands between the shop and the customer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Agreement {
    pub lines: Vec<QuoteLine>,
    /// What the quote does not contain, in words.
    pub exclusions: Vec<String>,
    pub answer: Answer,
    /// What the shop may spend beyond what is agreed without calling.
    pub without_calling: Money,
    pub changes: Vec<Change>,
}

impl Agreement {
    /// What was offered first, changes apart.
    pub fn quoted(&self) -> Result<Money, TooLarge> {
        Money::sum(self.lines.iter().map(|line| line.amount))
    }

    /// What is agreed: the quote, and every change to it, that the customer said yes to.
    pub fn agreed(&self) -> Result<Money, TooLarge> {
        let quote = if matches!(self.answer, Answer::Agreed(_)) { self.quoted()? } else { Money::ZERO };
        quote.plus(Money::sum(self.agreed_changes().map(|change| change.price))?)
    }

    /// How many days later than first promised the agreed changes make the engine.
    pub fn days_later(&self) -> i64 {
        self.agreed_changes().map(|change| i64::from(change.days)).sum()
    }

    fn agreed_changes(&self) -> impl Iterator<Item = &Change> {
        self.changes.iter().filter(|change| matches!(change.answer, Answer::Agreed(_)))
    }

    /// What the customer was asked of a line, and how much of it: `None` where it stands under nothing that is there.
    fn asked(&self, under: Under) -> Option<(&Answer, Money)> {
        match under {
            Under::Quote(id) => self.lines.iter().find(|line| line.id == id).map(|line| (&self.answer, line.amount)),
            Under::Change(id) => {
                self.changes.iter().find(|change| change.id == id).map(|change| (&change.answer, change.price))
            }
            Under::Nothing => None,
        }
    }
}

/// Why a line is not agreed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NotAgreed {
    NotAsked,
    Awaited,
    Declined,
    /// More than was agreed, and more than may still be spent without calling.
    Beyond,
}

impl NotAgreed {
    pub fn words(self) -> &'static str {
        match self {
            Self::NotAsked => "the customer was not asked yet",
            Self::Awaited => "the customer has not answered yet",
            Self::Declined => "the customer said no",
            Self::Beyond => "more than was agreed or may be spent without calling: ask the customer",
        }
    }
}

/// By what a done line is covered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cover {
    /// By the quote or a change; what is given back or not charged needs no agreement.
    Agreed,
    /// So much of it by what may be spent without calling, the rest as agreed.
    WithoutCalling(Money),
    /// So much of it by nothing.
    Nothing(Money, NotAgreed),
}

/// What of the work done is agreed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Covered {
    /// In the order of the lines given.
    pub lines: Vec<(LineId, Cover)>,
    /// Of what may be spent without calling.
    pub used: Money,
    pub left: Money,
    /// What may not be charged before the customer has agreed.
    pub not_agreed: Money,
}

/// What of the lines done, in the order they were done, is covered by the agreement. Discounts stay out of it.
///
/// A line under an agreed line of the quote, or under an agreed change, is covered up to that line's amount, and all
/// such lines together up to all that is agreed, so that work left out by a change is not charged. What goes beyond is
/// taken from what may be spent without calling if all of it fits there; otherwise it is not agreed. What was asked and
/// not agreed to is never taken from there.
pub fn covered(agreement: &Agreement, done: &[Line], rounding: Rounding) -> Result<Covered, LineFault> {
    let mut agreed_left = agreement.agreed()?.above_zero();
    let mut asked_left: BTreeMap<Under, Money> = BTreeMap::new();
    let mut covered = Covered {
        lines: Vec::with_capacity(done.len()),
        used: Money::ZERO,
        left: agreement.without_calling.above_zero(),
        not_agreed: Money::ZERO,
    };
    for line in done {
        let amount = line.amount(rounding)?.above_zero();
        let cover = match agreement.asked(line.under) {
            Some((Answer::NotAsked, _)) => Cover::Nothing(amount, NotAgreed::NotAsked),
            Some((Answer::Awaited { .. }, _)) => Cover::Nothing(amount, NotAgreed::Awaited),
            Some((Answer::Declined(_), _)) => Cover::Nothing(amount, NotAgreed::Declined),
            Some((Answer::Agreed(_), asked)) => {
                let left = asked_left.entry(line.under).or_insert(asked.above_zero());
                let agreed = amount.min(*left).min(agreed_left);
                *left = left.less(agreed)?;
                agreed_left = agreed_left.less(agreed)?;
                beyond(amount.less(agreed)?, covered.left)
            }
            None => beyond(amount, covered.left),
        };
        let cover = if amount == Money::ZERO { Cover::Agreed } else { cover };
        match cover {
            Cover::Agreed => {}
            Cover::WithoutCalling(part) => {
                covered.used = covered.used.plus(part)?;
                covered.left = covered.left.less(part)?;
            }
            Cover::Nothing(part, _) => covered.not_agreed = covered.not_agreed.plus(part)?,
        }
        covered.lines.push((line.id, cover));
    }
    Ok(covered)
}

fn beyond(part: Money, left: Money) -> Cover {
    if part == Money::ZERO {
        Cover::Agreed
    } else if part <= left {
        Cover::WithoutCalling(part)
    } else {
        Cover::Nothing(part, NotAgreed::Beyond)
    }
}

/// Hours of a step, quoted and worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepHours {
    /// `None`: of no step.
    pub step: Option<String>,
    pub quoted: Quarters,
    /// Charged or not.
    pub worked: Quarters,
    /// Of those worked: under warranty, or our own error.
    pub not_charged: Quarters,
}

/// Quoted against worked hours by step, in order of the steps' keys, what is of no step first. Over several jobs: give
/// the lines of all.
pub fn hours_by_step<'a>(
    quoted: impl IntoIterator<Item = &'a QuoteLine>,
    done: impl IntoIterator<Item = &'a Line>,
) -> Vec<StepHours> {
    let mut steps: BTreeMap<Option<&str>, StepHours> = BTreeMap::new();
    let none = Quarters::default();
    let new =
        |step: Option<&str>| StepHours { step: step.map(str::to_owned), quoted: none, worked: none, not_charged: none };
    for line in quoted {
        if let Some(hours) = line.hours {
            let step = steps.entry(line.step.as_deref()).or_insert_with_key(|step| new(*step));
            step.quoted = Quarters::sum([step.quoted, hours]);
        }
    }
    for line in done {
        if let Some(hours) = line.hours() {
            let step = steps.entry(line.step.as_deref()).or_insert_with_key(|step| new(*step));
            step.worked = Quarters::sum([step.worked, hours]);
            if line.not_charged().is_some() {
                step.not_charged = Quarters::sum([step.not_charged, hours]);
            }
        }
    }
    steps.into_values().collect()
}
