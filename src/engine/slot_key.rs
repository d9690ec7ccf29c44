//! The key of one reading to take: feature and place. Its text round-trips and is never renamed or reused.

use super::{Place, SlotFeature};
use serde::{Deserialize, Serialize};
use std::convert::Infallible;
use std::fmt;
use std::str::FromStr;

/// A feature at a place: `main-clearance-vertical@main.2`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", from = "String")]
pub struct SlotKey {
    pub place: Place,
    pub feature: SlotFeature,
}

impl SlotKey {
    pub fn new(feature: SlotFeature, place: Place) -> Self {
        Self { place, feature }
    }

    /// Whether this edition does not know it.
    pub fn is_retired(&self) -> bool {
        matches!(self.feature, SlotFeature::Retired(_))
    }

    /// Reads a key; what this edition does not know is kept whole as [`SlotFeature::Retired`].
    pub fn parse(text: &str) -> Self {
        let known = text.split_once('@').and_then(|(feature, place)| {
            let place: Place = place.parse().ok()?;
            let (_, feature) = SlotFeature::all().find(|(name, _)| *name == feature)?;
            Some(Self { place, feature })
        });
        known.unwrap_or_else(|| Self { place: Place::Engine, feature: SlotFeature::Retired(text.to_owned()) })
    }
}

impl fmt::Display for SlotKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.feature {
            SlotFeature::Retired(whole) => f.write_str(whole),
            feature => write!(f, "{}@{}", feature.text(), self.place),
        }
    }
}

impl FromStr for SlotKey {
    type Err = Infallible;
    fn from_str(text: &str) -> Result<Self, Infallible> {
        Ok(Self::parse(text))
    }
}

impl From<SlotKey> for String {
    fn from(key: SlotKey) -> Self {
        key.to_string()
    }
}

impl From<String> for SlotKey {
    fn from(text: String) -> Self {
        Self::parse(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_round_trips_and_no_text_stands_twice() {
        let texts: std::collections::BTreeSet<_> = SlotFeature::all().map(|(text, _)| text).collect();
        assert_eq!(texts.len(), SlotFeature::all().count());
        for (_, feature) in SlotFeature::all() {
            assert_eq!(SlotFeature::parse(&feature.text()), feature);
            let key = SlotKey::new(feature, Place::Cylinder { bank: 1, index: 3 });
            assert_eq!(SlotKey::parse(&key.to_string()), key);
        }
    }

    #[test]
    fn the_unknown_is_kept_as_retired() {
        for text in ["valve-stem@cylinder.0.0", "bore", "bore@nowhere", "", "å@b@c"] {
            let key = SlotKey::parse(text);
            assert!(key.is_retired(), "{text}");
            assert_eq!(key.to_string(), text);
        }
    }
}
