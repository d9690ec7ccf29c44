//! The key of what follows from readings: feature and place. Its text round-trips and is never renamed or reused.

use super::{Place, Spot};
use crate::quantity::Dimension;
use serde::{Deserialize, Serialize};
use std::fmt;

/// What is found. Each has one home: the sheet that works it out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingFeature {
    BoreSize,
    BoreOutOfRound,
    BoreTaper,
    /// Largest bore size less smallest, over all cylinders.
    BoreSpread,
    SkirtDiameter,
    PistonClearance,
    /// Vertical, or near the parting line.
    MainClearance(Spot),
    /// Vertical clearance by journal diameter.
    MainClearanceRatio,
    MainJournalOutOfRound,
    MainJournalTaper,
    /// Difference between two routes to the same clearance.
    MainRoutes,
    /// Largest vertical clearance less smallest, over all mains.
    MainClearanceSpread,
    /// A key this edition does not know, whole.
    Retired(String),
}

const FEATURES: [(&str, FindingFeature); 13] = {
    use FindingFeature as F;
    [
        ("bore-size", F::BoreSize),
        ("bore-out-of-round", F::BoreOutOfRound),
        ("bore-taper", F::BoreTaper),
        ("bore-spread", F::BoreSpread),
        ("skirt-diameter", F::SkirtDiameter),
        ("piston-clearance", F::PistonClearance),
        ("main-clearance-vertical", F::MainClearance(Spot::Vertical)),
        ("main-clearance-parting", F::MainClearance(Spot::Parting)),
        ("main-clearance-per-diameter", F::MainClearanceRatio),
        ("main-journal-out-of-round", F::MainJournalOutOfRound),
        ("main-journal-taper", F::MainJournalTaper),
        ("main-routes", F::MainRoutes),
        ("main-clearance-spread", F::MainClearanceSpread),
    ]
};

impl FindingFeature {
    /// Every feature this edition knows, with its text.
    pub fn all() -> impl Iterator<Item = (&'static str, Self)> {
        FEATURES.into_iter()
    }

    /// Its kept text; a retired one's is the whole key as it was.
    pub fn text(&self) -> &str {
        match (self, FEATURES.iter().find(|(_, feature)| feature == self)) {
            (_, Some((text, _))) => text,
            (Self::Retired(whole), None) => whole,
            (feature, None) => unreachable!("{feature:?} stands in FEATURES, as a test checks"),
        }
    }

    /// Reads a feature's text; what is unknown is kept as retired.
    pub fn parse(text: &str) -> Self {
        Self::all()
            .find(|(name, _)| *name == text)
            .map_or_else(|| Self::Retired(text.to_owned()), |(_, feature)| feature)
    }

    /// The name by which the shop knows it.
    pub fn title(&self) -> &str {
        match self {
            Self::BoreSize => "bore size",
            Self::BoreOutOfRound => "bore out-of-round",
            Self::BoreTaper => "bore taper",
            Self::BoreSpread => "bore sizes, largest less smallest",
            Self::SkirtDiameter => "piston skirt diameter",
            Self::PistonClearance => "piston clearance, thrust way",
            Self::MainClearance(Spot::Vertical) => "main clearance, vertical",
            Self::MainClearance(Spot::Parting) => "main clearance, near the parting line",
            Self::MainClearanceRatio => "main clearance per inch of journal",
            Self::MainJournalOutOfRound => "main journal out-of-round",
            Self::MainJournalTaper => "main journal taper",
            Self::MainRoutes => "main clearance, two routes compared",
            Self::MainClearanceSpread => "main clearances, largest less smallest",
            Self::Retired(whole) => whole,
        }
    }

    pub fn dimension(&self) -> Dimension {
        if *self == Self::MainClearanceRatio { Dimension::Ratio } else { Dimension::Length }
    }

    /// Whether it is spoken of in the small unit (thou, µm): clearances and differences, not sizes.
    pub fn is_small(&self) -> bool {
        !matches!(self, Self::BoreSize | Self::SkirtDiameter)
    }

    /// Whether it is the size of a difference, which cannot be below zero.
    pub fn is_a_difference(&self) -> bool {
        matches!(
            self,
            Self::BoreOutOfRound
                | Self::BoreTaper
                | Self::BoreSpread
                | Self::MainJournalOutOfRound
                | Self::MainJournalTaper
                | Self::MainClearanceSpread
        )
    }

    /// Whether a limit can be set on it; the comparison of routes is judged by its own uncertainty.
    pub fn takes_limit(&self) -> bool {
        !matches!(self, Self::MainRoutes | Self::Retired(_))
    }

    /// The place that speaks for all places of this feature.
    pub fn whole(&self) -> Place {
        match self {
            Self::BoreSize
            | Self::BoreOutOfRound
            | Self::BoreTaper
            | Self::BoreSpread
            | Self::SkirtDiameter
            | Self::PistonClearance => Place::AllCylinders,
            Self::MainClearance(_)
            | Self::MainClearanceRatio
            | Self::MainJournalOutOfRound
            | Self::MainJournalTaper
            | Self::MainRoutes
            | Self::MainClearanceSpread => Place::AllMains,
            Self::Retired(_) => Place::Engine,
        }
    }
}

impl Serialize for FindingFeature {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl<'de> Deserialize<'de> for FindingFeature {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(Self::parse(&String::deserialize(deserializer)?))
    }
}

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
        assert_eq!(texts.len(), FEATURES.len());
        for (_, feature) in FindingFeature::all() {
            let key = FindingKey::new(feature, Place::Main { index: 2 });
            assert_eq!(FindingKey::parse(&key.to_string()), key);
        }
        assert_eq!(FindingKey::parse("oil-flow@engine").to_string(), "oil-flow@engine");
    }
}
