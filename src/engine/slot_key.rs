//! The key of one reading to take: feature and place. Its text round-trips and is never renamed or reused.

use super::Place;
use serde::{Deserialize, Serialize};
use std::convert::Infallible;
use std::fmt;
use std::str::FromStr;

/// How far down a cylinder bore.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Height {
    Top,
    Middle,
    Bottom,
}

/// Which way across a cylinder: across the crank (thrust way) or along it (pin way).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    Thrust,
    Pin,
}

/// Where round a main bearing: square to the parting line, or near it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    Vertical,
    Parting,
}

/// Which half of a pair of shells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shell {
    Upper,
    Lower,
}

/// Where along a journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Plane {
    Front,
    Rear,
}

/// Which of two diameters square to each other; zero is vertical with throw 1 up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quarter {
    Zero,
    Ninety,
}

/// What is read. A `…Stated` feature is a figure, a range or "checked good" given for the place as a whole.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlotFeature {
    BoreStated,
    Bore(Height, Way),
    SkirtStated,
    /// Piston skirt diameter at its maker's gauge point.
    Skirt,
    MainClearanceStated,
    /// The bore gauge zeroed in the micrometer set to that journal: the reading is the clearance.
    MainClearanceDirect(Spot),
    /// Inside diameter with shells in and the cap pulled down.
    MainShellBore(Spot),
    MainHousing(Spot),
    /// Shell wall at the crown.
    MainShellWall(Shell),
    MainJournal(Plane, Quarter),
    MainPlasticStrip,
    /// A key this edition does not know, whole: kept and shown, never worked with.
    Retired(String),
}

const FEATURES: [(&str, SlotFeature); 23] = {
    use Height::{Bottom, Middle, Top};
    use Plane::{Front, Rear};
    use Quarter::{Ninety, Zero};
    use SlotFeature as F;
    use Spot::{Parting, Vertical};
    use Way::{Pin, Thrust};
    [
        ("bore", F::BoreStated),
        ("bore-top-thrust", F::Bore(Top, Thrust)),
        ("bore-top-pin", F::Bore(Top, Pin)),
        ("bore-middle-thrust", F::Bore(Middle, Thrust)),
        ("bore-middle-pin", F::Bore(Middle, Pin)),
        ("bore-bottom-thrust", F::Bore(Bottom, Thrust)),
        ("bore-bottom-pin", F::Bore(Bottom, Pin)),
        ("skirt-stated", F::SkirtStated),
        ("skirt", F::Skirt),
        ("main-clearance", F::MainClearanceStated),
        ("main-clearance-vertical", F::MainClearanceDirect(Vertical)),
        ("main-clearance-parting", F::MainClearanceDirect(Parting)),
        ("main-shell-bore-vertical", F::MainShellBore(Vertical)),
        ("main-shell-bore-parting", F::MainShellBore(Parting)),
        ("main-housing-vertical", F::MainHousing(Vertical)),
        ("main-housing-parting", F::MainHousing(Parting)),
        ("main-shell-wall-upper", F::MainShellWall(Shell::Upper)),
        ("main-shell-wall-lower", F::MainShellWall(Shell::Lower)),
        ("main-journal-front-0", F::MainJournal(Front, Zero)),
        ("main-journal-front-90", F::MainJournal(Front, Ninety)),
        ("main-journal-rear-0", F::MainJournal(Rear, Zero)),
        ("main-journal-rear-90", F::MainJournal(Rear, Ninety)),
        ("main-plastic-strip", F::MainPlasticStrip),
    ]
};

impl SlotFeature {
    /// Every feature this edition knows, with its text.
    pub fn all() -> impl Iterator<Item = (&'static str, Self)> {
        FEATURES.into_iter()
    }

    /// Its text; none for a retired one.
    fn known_text(&self) -> Option<&'static str> {
        Self::all().find(|(_, feature)| feature == self).map(|(text, _)| text)
    }

    /// Its text, as it is kept.
    pub fn text(&self) -> String {
        match self {
            Self::Retired(whole) => whole.clone(),
            known => known.known_text().unwrap_or_else(|| unlisted(known)).to_owned(),
        }
    }

    /// Reads a feature; what this edition does not know is kept whole as [`SlotFeature::Retired`].
    pub fn parse(text: &str) -> Self {
        let known = Self::all().find(|(name, _)| *name == text);
        known.map_or_else(|| Self::Retired(text.to_owned()), |(_, feature)| feature)
    }
}

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

fn unlisted(feature: &SlotFeature) -> ! {
    unreachable!("{feature:?} stands in FEATURES, as a test checks")
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
        assert_eq!(texts.len(), FEATURES.len());
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

    #[test]
    fn every_feature_is_listed() {
        let spots = [Spot::Vertical, Spot::Parting];
        let mut all = vec![
            SlotFeature::BoreStated,
            SlotFeature::SkirtStated,
            SlotFeature::Skirt,
            SlotFeature::MainClearanceStated,
            SlotFeature::MainPlasticStrip,
        ];
        for height in [Height::Top, Height::Middle, Height::Bottom] {
            all.extend([Way::Thrust, Way::Pin].map(|way| SlotFeature::Bore(height, way)));
        }
        for spot in spots {
            all.extend([
                SlotFeature::MainClearanceDirect(spot),
                SlotFeature::MainShellBore(spot),
                SlotFeature::MainHousing(spot),
            ]);
        }
        all.extend([Shell::Upper, Shell::Lower].map(SlotFeature::MainShellWall));
        for plane in [Plane::Front, Plane::Rear] {
            all.extend([Quarter::Zero, Quarter::Ninety].map(|q| SlotFeature::MainJournal(plane, q)));
        }
        assert_eq!(all.len(), FEATURES.len());
        assert!(all.iter().all(|feature| feature.known_text().is_some()));
    }
}
