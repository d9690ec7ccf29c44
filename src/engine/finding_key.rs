//! The key of what follows from readings: feature and place. Its text round-trips and is never renamed or reused.

use super::{FindingFeature, Place};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A finding's feature at a place: `main-clearance-vertical@main.2`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", from = "String")]
pub struct FindingKey {
    pub place: Place,
    pub feature: FindingFeature,
}

impl FindingKey {
    pub fn new(feature: FindingFeature, place: Place) -> Self {
        Self { place, feature }
    }

    /// Reads a key; what this edition does not know is kept whole as [`FindingFeature::Retired`].
    pub fn parse(text: &str) -> Self {
        let known = text.split_once('@').and_then(|(feature, place)| {
            let place = place.parse().ok()?;
            let (_, feature) = FindingFeature::all().find(|(name, _)| *name == feature)?;
            Some(Self { place, feature })
        });
        known.unwrap_or_else(|| Self { place: Place::Engine, feature: FindingFeature::Retired(text.to_owned()) })
    }
}

impl fmt::Display for FindingKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.feature {
            FindingFeature::Retired(whole) => f.write_str(whole),
            feature => write!(f, "{}@{}", feature.text(), self.place),
        }
    }
}

impl From<FindingKey> for String {
    fn from(key: FindingKey) -> Self {
        key.to_string()
    }
}

impl From<String> for FindingKey {
    fn from(text: String) -> Self {
        Self::parse(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_round_trips_and_no_text_stands_twice() {
        let texts: std::collections::BTreeSet<_> = FindingFeature::all().map(|(text, _)| text).collect();
        assert_eq!(texts.len(), FindingFeature::all().count());
        for (_, feature) in FindingFeature::all() {
            let key = FindingKey::new(feature, Place::Main { index: 2 });
            assert_eq!(FindingKey::parse(&key.to_string()), key);
        }
        assert_eq!(FindingKey::parse("oil-flow@engine").to_string(), "oil-flow@engine");
    }
}
