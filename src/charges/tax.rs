//! Rates of tax by name, and which kind of line is usually taxed at which.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::line::Kind;
use super::percent::TaxRate;

/// The name of a rate in the record: "standard", "reduced", "none".
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct TaxKey(pub String);

/// A rate as the shop keeps it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tax {
    pub key: TaxKey,
    /// As the paper says it: "Sales tax", "VAT reduced".
    pub title: String,
    pub rate: TaxRate,
    /// Why there is none, or another rate: the exemption, the resale certificate's number. Stands on the paper.
    pub reason: Option<String>,
    /// The kinds of line usually taxed so.
    pub usual_for: Vec<Kind>,
}

/// The shop's rates, each key once.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Vec<Tax>", into = "Vec<Tax>")]
pub struct TaxTable(Vec<Tax>);

/// Why rates do not make a table.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum TaxFault {
    #[error("the rate “{}” stands twice: name the other one differently", .0.0)]
    Twice(TaxKey),
    #[error("{} is taxed at two rates: choose one of them, and change the other on the line", .0.title())]
    UsualTwice(Kind),
    #[error("there is no rate “{}”: choose one of the rates in the settings", .0.0)]
    Unknown(TaxKey),
}

impl TaxTable {
    pub fn new(rates: Vec<Tax>) -> Result<Self, TaxFault> {
        for (at, rate) in rates.iter().enumerate() {
            if rates[..at].iter().any(|before| before.key == rate.key) {
                return Err(TaxFault::Twice(rate.key.clone()));
            }
        }
        let usual = |kind: Kind| rates.iter().flat_map(|rate| &rate.usual_for).filter(|usual| **usual == kind).count();
        match Kind::ALL.into_iter().find(|&kind| usual(kind) > 1) {
            Some(kind) => Err(TaxFault::UsualTwice(kind)),
            None => Ok(Self(rates)),
        }
    }

    /// In the shop's order.
    pub fn rates(&self) -> &[Tax] {
        &self.0
    }

    pub fn get(&self, key: &TaxKey) -> Result<&Tax, TaxFault> {
        self.0.iter().find(|rate| rate.key == *key).ok_or_else(|| TaxFault::Unknown(key.clone()))
    }

    /// The rate offered for a new line of this kind.
    pub fn usual(&self, kind: Kind) -> Option<&Tax> {
        self.0.iter().find(|rate| rate.usual_for.contains(&kind))
    }
}

impl TryFrom<Vec<Tax>> for TaxTable {
    type Error = TaxFault;

    fn try_from(rates: Vec<Tax>) -> Result<Self, TaxFault> {
        Self::new(rates)
    }
}

impl From<TaxTable> for Vec<Tax> {
    fn from(table: TaxTable) -> Self {
        table.0
    }
}
