//! What is known of an engine in words rather than readings: serials, settings to be set, warranty; and whom each is for.

use serde::{Deserialize, Serialize};

/// For whom a line of the card is. Each card shows its own reader's lines and those of the readers before.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Audience {
    #[default]
    Owner,
    Tuner,
    Shop,
}

impl Audience {
    pub const ALL: [Self; 3] = [Self::Owner, Self::Tuner, Self::Shop];

    /// The key kept in the record, which is also the word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Tuner => "tuner",
            Self::Shop => "shop",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|audience| audience.word() == word)
    }
}

/// Where on the card a fact stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FactGroup {
    Engine,
    SetTo,
    RunIn,
    Promise,
}

/// One thing that can be said of an engine in words. Keys are kept; titles may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FactKey {
    pub key: &'static str,
    pub title: &'static str,
    pub hint: &'static str,
    pub group: FactGroup,
}

const fn fact(key: &'static str, title: &'static str, hint: &'static str, group: FactGroup) -> FactKey {
    FactKey { key, title, hint, group }
}

/// Every fact, in the order of the card.
pub const FACTS: [FactKey; 24] = [
    fact("compression", "Compression ratio", "9.8 : 1, measured", FactGroup::Engine),
    fact("heads", "Heads", "casting, chambers", FactGroup::Engine),
    fact("camshaft", "Camshaft", "grind, lift, installed at", FactGroup::Engine),
    fact("head-gasket", "Head gasket", "part and crushed thickness", FactGroup::Engine),
    fact("oil", "Oil", "10W-40 with zinc", FactGroup::SetTo),
    fact("oil-quantity", "Oil quantity", "5.5 L with filter", FactGroup::SetTo),
    fact("oil-filter", "Oil filter", "part", FactGroup::SetTo),
    fact("lash-inlet", "Lash, inlet", "0.012 in hot", FactGroup::SetTo),
    fact("lash-exhaust", "Lash, exhaust", "0.014 in hot", FactGroup::SetTo),
    fact("timing", "Timing", "12° at idle, 34° total", FactGroup::SetTo),
    fact("plugs", "Plugs and gap", "heat range, 0.035 in", FactGroup::SetTo),
    fact("fuel", "Fuel", "98 octane or better", FactGroup::SetTo),
    fact("rev-limit", "Rev limit", "6,200 rpm", FactGroup::SetTo),
    fact("oil-pressure-idle", "Oil pressure, hot idle", "25 psi", FactGroup::SetTo),
    fact("oil-pressure-hot", "Oil pressure, hot at speed", "60 psi at 3,000 rpm", FactGroup::SetTo),
    fact("coolant", "Coolant", "type and strength", FactGroup::SetTo),
    fact("re-torque", "Re-torque", "heads after the first heat cycle", FactGroup::SetTo),
    fact("run-in-1", "Run-in, first", "before the first start", FactGroup::RunIn),
    fact("run-in-2", "Run-in, second", "the first twenty minutes", FactGroup::RunIn),
    fact("run-in-3", "Run-in, third", "first oil change", FactGroup::RunIn),
    fact("run-in-4", "Run-in, fourth", "load and speed until then", FactGroup::RunIn),
    fact("run-in-5", "Run-in, fifth", "when to come back", FactGroup::RunIn),
    fact("warranty", "Warranty", "what is promised, how long", FactGroup::Promise),
    fact("owner-note", "Note to the owner", "in your words", FactGroup::Promise),
];

impl FactKey {
    pub fn find(key: &str) -> Option<Self> {
        FACTS.into_iter().find(|fact| fact.key == key)
    }
}
