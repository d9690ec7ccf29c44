//! What a finding may be. Empty is fine: the figure then stands without a verdict.

use super::{FindingFeature, Place};
use crate::metrology::Band;
use serde::{Deserialize, Serialize};

/// How a limit's figures are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// In the finding's own unit, SI.
    Absolute,
    /// Times the journal's diameter; only for clearances of a journal.
    PerDiameter,
}

impl LimitKind {
    pub fn key(self) -> &'static str {
        match self {
            Self::Absolute => "absolute",
            Self::PerDiameter => "per_diameter",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        [Self::Absolute, Self::PerDiameter].into_iter().find(|kind| kind.key() == key)
    }
}

/// Why a limit cannot be; each message says what to enter.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LimitFault {
    #[error("enter a lowest figure, a highest, or both")]
    Empty,
    #[error("the lowest figure is above the highest: exchange them")]
    Reversed,
    #[error("a limit per journal diameter belongs to a bearing’s clearance")]
    NoDiameter,
    #[error("no limit can be set on this finding")]
    NotLimited,
}

/// A limit on a finding, for all its places or one. The spread over places is a finding of its own with its own limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    pub feature: FindingFeature,
    /// None: every place. A limit for one place goes before one for all.
    #[serde(default)]
    pub place: Option<Place>,
    pub kind: LimitKind,
    #[serde(default)]
    pub min: Option<f64>,
    #[serde(default)]
    pub max: Option<f64>,
    /// The condition it holds for, in words.
    #[serde(default)]
    pub condition: String,
    /// Whose figure it is: the piston maker's sheet, the customer's wish, the shop's practice.
    #[serde(default)]
    pub source: String,
}

impl Limit {
    /// # Errors
    /// What cannot be, as [`LimitFault`].
    pub fn check(&self) -> Result<(), LimitFault> {
        if !self.feature.takes_limit() {
            return Err(LimitFault::NotLimited);
        }
        if self.kind == LimitKind::PerDiameter && !self.feature.is_of_diameter() {
            return Err(LimitFault::NoDiameter);
        }
        match (self.min, self.max) {
            (None, None) => Err(LimitFault::Empty),
            (Some(min), Some(max)) if min > max => Err(LimitFault::Reversed),
            _ => Ok(()),
        }
    }

    /// The band in the finding's own unit; none where it hangs on a journal diameter that is not known.
    pub fn band(&self, journal_m: Option<f64>) -> Option<Band> {
        let factor = match self.kind {
            LimitKind::Absolute => 1.0,
            LimitKind::PerDiameter => journal_m?,
        };
        Band::new(self.min.map(|x| x * factor), self.max.map(|x| x * factor)).ok()
    }
}
