//! Where on an engine something is, on internal ordinals. Its text is kept for decades.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// A place on an engine. `index` counts from the front, from zero; `bank` from zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub enum Place {
    Engine,
    AllCylinders,
    Cylinder {
        bank: u8,
        index: u8,
    },
    AllMains,
    Main {
        index: u8,
    },
    AllThrows,
    /// A crank pin, counted from the front: one rod runs on it, or in a vee both of a pair.
    Throw {
        index: u8,
    },
    AllBanks,
    Bank {
        bank: u8,
    },
}

impl Place {
    /// The place that speaks for all of its kind, for a figure given once for all.
    #[must_use]
    pub fn whole(self) -> Self {
        match self {
            Self::Engine => Self::Engine,
            Self::AllCylinders | Self::Cylinder { .. } => Self::AllCylinders,
            Self::AllMains | Self::Main { .. } => Self::AllMains,
            Self::AllThrows | Self::Throw { .. } => Self::AllThrows,
            Self::AllBanks | Self::Bank { .. } => Self::AllBanks,
        }
    }

    /// The deck that a cylinder ends in; any other place itself.
    #[must_use]
    pub fn deck(self) -> Self {
        match self {
            Self::Cylinder { bank, .. } => Self::Bank { bank },
            other => other,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Engine => write!(f, "engine"),
            Self::AllCylinders => write!(f, "cylinders"),
            Self::Cylinder { bank, index } => write!(f, "cylinder.{bank}.{index}"),
            Self::AllMains => write!(f, "mains"),
            Self::Main { index } => write!(f, "main.{index}"),
            Self::AllThrows => write!(f, "throws"),
            Self::Throw { index } => write!(f, "throw.{index}"),
            Self::AllBanks => write!(f, "banks"),
            Self::Bank { bank } => write!(f, "bank.{bank}"),
        }
    }
}

/// The text names no place this edition knows.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "“{0}” is no place: engine, cylinders, cylinder.BANK.INDEX, mains, main.INDEX, throws, throw.INDEX, banks or bank.BANK, counted from 0"
)]
pub struct UnknownPlace(pub String);

impl FromStr for Place {
    type Err = UnknownPlace;

    fn from_str(text: &str) -> Result<Self, UnknownPlace> {
        let unknown = || UnknownPlace(text.to_owned());
        let ordinal = |part: &str| part.parse::<u8>().ok().filter(|n| n.to_string() == part).ok_or_else(unknown);
        match text.split('.').collect::<Vec<_>>()[..] {
            ["engine"] => Ok(Self::Engine),
            ["cylinders"] => Ok(Self::AllCylinders),
            ["mains"] => Ok(Self::AllMains),
            ["throws"] => Ok(Self::AllThrows),
            ["banks"] => Ok(Self::AllBanks),
            ["cylinder", bank, index] => Ok(Self::Cylinder { bank: ordinal(bank)?, index: ordinal(index)? }),
            ["main", index] => Ok(Self::Main { index: ordinal(index)? }),
            ["throw", index] => Ok(Self::Throw { index: ordinal(index)? }),
            ["bank", bank] => Ok(Self::Bank { bank: ordinal(bank)? }),
            _ => Err(unknown()),
        }
    }
}

impl From<Place> for String {
    fn from(place: Place) -> Self {
        place.to_string()
    }
}

impl TryFrom<String> for Place {
    type Error = UnknownPlace;
    fn try_from(text: String) -> Result<Self, UnknownPlace> {
        text.parse()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_round_trips() {
        for text in ["engine", "cylinders", "cylinder.1.7", "mains", "main.4", "throws", "throw.3", "banks", "bank.1"] {
            assert_eq!(text.parse::<Place>().unwrap().to_string(), text);
        }
        for text in ["", "cylinder.1", "throw.1.0", "main.-1", "main.04", "main.300", "Main.1"] {
            assert!(text.parse::<Place>().is_err(), "{text}");
        }
    }
}
