//! A line of what is charged.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::ops::Neg;
use thiserror::Error;

use super::hours::Quarters;
use super::money::{Money, TooLarge};
use super::percent::Percent;
use super::quote::Under;
use super::read::{Form, ReadFault};
use super::rounding::Rounding;
use super::tax::TaxKey;

/// Which line of the record, for as long as the record lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct LineId(pub i64);

/// What is charged. A discount is no line: it is spread over the lines it is given on (discount.rs).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    Labour,
    Part,
    SentOut,
    /// Asked for with an exchange part until the old one comes.
    CoreDeposit,
    /// The old part came: its deposit is given back.
    CoreReturned,
    Supplies,
    Disposal,
    Storage,
    Other,
}

impl Kind {
    pub const ALL: [Self; 9] = [
        Self::Labour,
        Self::Part,
        Self::SentOut,
        Self::CoreDeposit,
        Self::CoreReturned,
        Self::Supplies,
        Self::Disposal,
        Self::Storage,
        Self::Other,
    ];

    pub fn key(self) -> &'static str {
        match self {
            Self::Labour => "labour",
            Self::Part => "part",
            Self::SentOut => "sent-out",
            Self::CoreDeposit => "core-deposit",
            Self::CoreReturned => "core-returned",
            Self::Supplies => "supplies",
            Self::Disposal => "disposal",
            Self::Storage => "storage",
            Self::Other => "other",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    pub fn title(self) -> &'static str {
        match self {
            Self::Labour => "Labour",
            Self::Part => "Part",
            Self::SentOut => "Work sent out",
            Self::CoreDeposit => "Core deposit",
            Self::CoreReturned => "Core returned",
            Self::Supplies => "Shop supplies",
            Self::Disposal => "Disposal",
            Self::Storage => "Storage",
            Self::Other => "Other",
        }
    }

    /// Whether the price is what the shop pays, with a mark-up on top.
    pub fn may_be_marked_up(self) -> bool {
        matches!(self, Self::Part | Self::SentOut | Self::Supplies | Self::Disposal)
    }

    /// Whether the amount is given back.
    pub fn is_given_back(self) -> bool {
        self == Self::CoreReturned
    }
}

/// How many, in thousandths: above zero on a line, below zero for what is given back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub struct HowMany(i64);

impl HowMany {
    pub const ONE: Self = Self(1000);
    /// A million of anything.
    const MOST: i64 = 1_000_000_000;

    pub fn from_thousandths(thousandths: i64) -> Result<Self, LineFault> {
        if (1..=Self::MOST).contains(&thousandths) { Ok(Self(thousandths)) } else { Err(LineFault::HowMany) }
    }

    /// The number that `text` says: "4", "0.5", "1,25".
    pub fn read(text: &str) -> Result<Self, LineFault> {
        Form { decimals: 3, enter: "how many, such as 4 or 0.5" }
            .read(text)
            .map_err(LineFault::from)
            .and_then(Self::from_thousandths)
    }

    pub fn thousandths(self) -> i64 {
        self.0
    }

    /// The figures: "4", "0.5", "-1".
    pub fn figures(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        let text = format!("{sign}{}.{:03}", size / 1000, size % 1000);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }
}

impl Neg for HowMany {
    type Output = Self;

    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl TryFrom<i64> for HowMany {
    type Error = LineFault;

    /// As kept: below zero too.
    fn try_from(thousandths: i64) -> Result<Self, LineFault> {
        let size = Self::from_thousandths(thousandths.saturating_abs())?;
        Ok(if thousandths < 0 { -size } else { size })
    }
}

impl From<HowMany> for i64 {
    fn from(how_many: HowMany) -> Self {
        how_many.0
    }
}

impl TryFrom<Quarters> for HowMany {
    type Error = LineFault;

    /// Hours as the number of a labour line.
    fn try_from(quarters: Quarters) -> Result<Self, LineFault> {
        Self::from_thousandths(i64::from(quarters.0) * 250)
    }
}

/// What one costs, and what is put on top. The customer sees only what both come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Price {
    /// Never below zero; what is given back is told by the kind of line.
    pub each: Money,
    pub mark_up: Percent,
}

/// Why a line is shown and not charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    Warranty,
    OwnError,
    /// The customer's own part: it has neither price nor mark-up here.
    CustomersOwn,
}

impl Why {
    pub fn words(self) -> &'static str {
        match self {
            Self::Warranty => "under warranty, not charged",
            Self::OwnError => "our own error, not charged",
            Self::CustomersOwn => "your own part, not charged",
        }
    }

    pub fn key(self) -> &'static str {
        match self {
            Self::Warranty => "warranty",
            Self::OwnError => "own-error",
            Self::CustomersOwn => "customers-own",
        }
    }
}

/// Whether a line is charged, and at which price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Priced {
    Charged(Price),
    Warranty(Price),
    OwnError(Price),
    CustomersOwn,
}

/// A line as the office keeps it, costs included.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Line {
    pub id: LineId,
    pub kind: Kind,
    pub text: String,
    /// Which step of the job, by its key.
    pub step: Option<String>,
    pub how_many: HowMany,
    /// What is counted: "h", "pc", "l".
    pub unit: String,
    pub priced: Priced,
    pub tax: TaxKey,
    /// What the customer agreed to that this belongs to.
    pub under: Under,
}

/// Why a line cannot be charged.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum LineFault {
    #[error(transparent)]
    Read(#[from] ReadFault),
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
    #[error("how many is above zero and at most a million: leave out what is not charged")]
    HowMany,
    #[error("a line has no words: say what is charged")]
    NoText,
    #[error("“{0}”: a price is not below zero: what is given back is a returned core or a discount")]
    BelowZero(String),
    #[error("“{0}”: a mark-up goes on parts, work sent out, supplies and disposal: put it into the price here")]
    MarkUp(String),
    #[error("“{0}”: only a part can be the customer's own")]
    NoPart(String),
    #[error("“{0}”: labour goes by quarter hours: enter 0.25, 0.5, 0.75 and so on")]
    NoQuarters(String),
}

impl Line {
    /// One at the price the customer sees: what it costs with the mark-up, rounded; zero for the customer's own.
    pub fn price_each(&self, rounding: Rounding) -> Result<Money, LineFault> {
        self.check()?;
        Ok(self.price().map_or(Ok(Money::ZERO), |price| price.mark_up.on_top_of(price.each, rounding))?)
    }

    /// What the line would come to if it were charged: `how many × price each`, rounded. Below zero for what is given
    /// back.
    ///
    /// The price each is rounded first, so that the customer can check the multiplication on the paper.
    pub fn worth(&self, rounding: Rounding) -> Result<Money, LineFault> {
        let price = self.price_each(rounding)?;
        let exact = i128::from(self.how_many.0) * price.exact();
        let worth = Money::from_exact(rounding.divide(exact, 1000))?;
        Ok(if self.kind.is_given_back() { -worth } else { worth })
    }

    /// What the line comes to: its worth, and zero where it is not charged.
    pub fn amount(&self, rounding: Rounding) -> Result<Money, LineFault> {
        let worth = self.worth(rounding)?;
        Ok(if self.not_charged().is_none() { worth } else { Money::ZERO })
    }

    pub fn not_charged(&self) -> Option<Why> {
        match self.priced {
            Priced::Charged(_) => None,
            Priced::Warranty(_) => Some(Why::Warranty),
            Priced::OwnError(_) => Some(Why::OwnError),
            Priced::CustomersOwn => Some(Why::CustomersOwn),
        }
    }

    /// The hours of a labour line.
    pub fn hours(&self) -> Option<Quarters> {
        let quarters = || u32::try_from(self.how_many.0 / 250).unwrap_or_default();
        (self.kind == Kind::Labour).then(|| Quarters(quarters()))
    }

    fn price(&self) -> Option<Price> {
        match self.priced {
            Priced::Charged(price) | Priced::Warranty(price) | Priced::OwnError(price) => Some(price),
            Priced::CustomersOwn => None,
        }
    }

    /// Whether the line can be charged as it stands: to be asked where it is entered.
    pub fn check(&self) -> Result<(), LineFault> {
        let text = || self.text.clone();
        if self.text.trim().is_empty() {
            return Err(LineFault::NoText);
        }
        HowMany::from_thousandths(self.how_many.0)?;
        match self.price() {
            None if self.kind != Kind::Part => return Err(LineFault::NoPart(text())),
            Some(price) if price.each < Money::ZERO => return Err(LineFault::BelowZero(text())),
            Some(price) if price.mark_up > Percent::ZERO && !self.kind.may_be_marked_up() => {
                return Err(LineFault::MarkUp(text()));
            }
            _ => {}
        }
        let in_quarters = self.kind != Kind::Labour || self.how_many.0 % 250 == 0;
        if in_quarters { Ok(()) } else { Err(LineFault::NoQuarters(text())) }
    }
}

/// Hours and amount of the labour of one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLabour {
    /// `None`: of no step.
    pub step: Option<String>,
    pub hours: Quarters,
    pub amount: Money,
}

/// The charged labour by step, in order of the steps' keys, what is of no step first.
pub fn labour_by_step(lines: &[Line], rounding: Rounding) -> Result<Vec<StepLabour>, LineFault> {
    let mut steps: BTreeMap<Option<&str>, (Quarters, Money)> = BTreeMap::new();
    for line in lines.iter().filter(|line| line.not_charged().is_none()) {
        if let Some(hours) = line.hours() {
            let (so_far, amount) = steps.entry(line.step.as_deref()).or_default();
            *so_far = Quarters::sum([*so_far, hours]);
            *amount = amount.plus(line.amount(rounding)?)?;
        }
    }
    let told = |(step, (hours, amount)): (Option<&str>, _)| StepLabour { step: step.map(str::to_owned), hours, amount };
    Ok(steps.into_iter().map(told).collect())
}
