//! Physical things with a past: a reading is of an item, so it travels with it.

use super::Place;
use serde::{Deserialize, Serialize};

/// What kind of thing an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ItemKind {
    Block,
    Crank,
    Head,
    Rod,
    Piston,
    MainShells,
}

impl ItemKind {
    pub const ALL: [Self; 6] = [Self::Block, Self::Crank, Self::Head, Self::Rod, Self::Piston, Self::MainShells];

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        match self {
            Self::Block => "block",
            Self::Crank => "crank",
            Self::Head => "head",
            Self::Rod => "rod",
            Self::Piston => "piston",
            Self::MainShells => "main_shells",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    pub fn word(self) -> &'static str {
        match self {
            Self::MainShells => "main shells",
            other => other.key(),
        }
    }
}

/// Which item of an engine: a kind, at the place where it is fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct ItemRef {
    pub kind: ItemKind,
    pub place: Place,
}

impl ItemRef {
    /// An item of which an engine has one.
    pub fn single(kind: ItemKind) -> Self {
        Self { kind, place: Place::Engine }
    }
}
