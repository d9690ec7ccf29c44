//! What the sheets ask their slots by: the engine's skeleton, its materials, its targets, the job's working unit.

use super::{Architecture, Place, SlotFeature, SlotKey};
use crate::metrology::Material;
use crate::quantity::Unit;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The unit a job is worked in; the other stands beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WorkingUnit {
    Inch,
    Millimetre,
}

impl WorkingUnit {
    pub fn key(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Millimetre => "millimetre",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        [Self::Inch, Self::Millimetre].into_iter().find(|unit| unit.key() == key)
    }

    /// For sizes.
    pub fn size(self) -> Unit {
        match self {
            Self::Inch => Unit::Inch,
            Self::Millimetre => Unit::Millimetre,
        }
    }

    /// For clearances and small differences, as they are said: thou, or thousandths of a millimetre.
    pub fn small(self) -> Unit {
        match self {
            Self::Inch => Unit::Thou,
            Self::Millimetre => Unit::Micrometre,
        }
    }
}

/// A dimension the build aims at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TargetFeature {
    Bore,
    Stroke,
    RodLength,
    Skirt,
    PistonClearance,
    MainJournal,
    MainHousing,
    MainShellWall,
    MainClearance,
}

impl TargetFeature {
    pub const ALL: [Self; 9] = [
        Self::Bore,
        Self::Stroke,
        Self::RodLength,
        Self::Skirt,
        Self::PistonClearance,
        Self::MainJournal,
        Self::MainHousing,
        Self::MainShellWall,
        Self::MainClearance,
    ];

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        match self {
            Self::Bore => "bore",
            Self::Stroke => "stroke",
            Self::RodLength => "rod-length",
            Self::Skirt => "skirt",
            Self::PistonClearance => "piston-clearance",
            Self::MainJournal => "main-journal",
            Self::MainHousing => "main-housing",
            Self::MainShellWall => "main-shell-wall",
            Self::MainClearance => "main-clearance",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|feature| feature.key() == key)
    }

    pub fn title(self) -> &'static str {
        match self {
            Self::Bore => "bore",
            Self::Stroke => "stroke",
            Self::RodLength => "rod length, centre to centre",
            Self::Skirt => "piston skirt at its gauge point",
            Self::PistonClearance => "piston clearance, thrust way",
            Self::MainJournal => "main journal",
            Self::MainHousing => "main housing bore",
            Self::MainShellWall => "main shell wall at the crown",
            Self::MainClearance => "main clearance, vertical",
        }
    }

    /// Whether it is spoken of in the small unit.
    pub fn is_small(self) -> bool {
        matches!(self, Self::PistonClearance | Self::MainClearance)
    }

    /// The place that speaks for all of its places.
    pub fn whole(self) -> Place {
        match self {
            Self::Bore | Self::Skirt | Self::PistonClearance => Place::AllCylinders,
            Self::Stroke | Self::RodLength => Place::Engine,
            Self::MainJournal | Self::MainHousing | Self::MainShellWall | Self::MainClearance => Place::AllMains,
        }
    }

    /// The target that a slot's reading is to come to, if there is one.
    pub fn of_slot(slot: &SlotFeature) -> Option<Self> {
        match slot {
            SlotFeature::BoreStated | SlotFeature::Bore(..) => Some(Self::Bore),
            SlotFeature::SkirtStated | SlotFeature::Skirt => Some(Self::Skirt),
            SlotFeature::MainClearanceStated | SlotFeature::MainClearanceDirect(_) | SlotFeature::MainPlasticStrip => {
                Some(Self::MainClearance)
            }
            SlotFeature::MainHousing(_) => Some(Self::MainHousing),
            SlotFeature::MainShellWall(_) => Some(Self::MainShellWall),
            SlotFeature::MainJournal(..) => Some(Self::MainJournal),
            SlotFeature::MainShellBore(_) | SlotFeature::Retired(_) => None,
        }
    }
}

/// A target's feature at a place; a whole place ([`Place::AllMains`], …) speaks for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct TargetKey {
    pub feature: TargetFeature,
    pub place: Place,
}

/// Everything the slots of a sheet depend on.
#[derive(Clone, Debug)]
pub struct Setup {
    pub architecture: Architecture,
    pub unit: WorkingUnit,
    pub block_material: Option<Material>,
    /// SI.
    pub targets: BTreeMap<TargetKey, f64>,
}

impl Setup {
    /// A target in SI at a place: its own, or the one given for all.
    pub fn target(&self, feature: TargetFeature, place: Place) -> Option<f64> {
        let at = |place| self.targets.get(&TargetKey { feature, place }).copied();
        at(place).or_else(|| at(feature.whole()))
    }

    /// The target of a slot, in SI.
    pub fn target_of(&self, slot: &SlotKey) -> Option<f64> {
        self.target(TargetFeature::of_slot(&slot.feature)?, slot.place)
    }
}
