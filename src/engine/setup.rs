//! What the sheets ask their slots by: the engine's skeleton, its materials, its targets, the job's working unit.

use super::{Architecture, Place, SlotFeature, SlotKey};
use crate::metrology::{Expansion, Material};
use crate::quantity::{HowRead, Unit};
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

    /// How a bare figure is understood: a size in inches or millimetres; a clearance as it is said, ".0025" in inches and
    /// "2.5" in thou, "0.06" in millimetres and "64" in µm.
    pub fn how_read(self, small: bool) -> HowRead {
        let bare_from = match self {
            Self::Inch => (0.1, Unit::Thou),
            Self::Millimetre => (1.0, Unit::Micrometre),
        };
        HowRead { bare_from: small.then_some(bare_from), ..HowRead::plain(self.size()) }
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

    /// What it stands for where nothing is read yet, and what is worked out from it.
    pub fn meaning(self) -> &'static str {
        match self {
            Self::Bore => "finished size; displacement stands on it, and a reading is compared with it",
            Self::Stroke => "crank's; displacement stands on it",
            Self::RodLength => "for the card",
            Self::Skirt => "stands in until the pistons are measured",
            Self::MainJournal => "as ground; a clearance per diameter stands on it",
            Self::MainHousing => "bore without shells, caps pulled down",
            Self::MainShellWall => "one shell's thickness at its crown",
            Self::PistonClearance | Self::MainClearance => "what you aim at: the notch on the scale, no limit",
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
    pub materials: Materials,
    /// Coefficients of expansion the shop goes by instead of the usual ones.
    pub expansions: BTreeMap<Material, Expansion>,
    /// SI.
    pub targets: BTreeMap<TargetKey, f64>,
}

/// What the parts of an engine are made of, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Materials {
    pub block: Option<Material>,
    pub head: Option<Material>,
    pub crank: Option<Material>,
    pub pistons: Option<Material>,
}

impl Materials {
    /// By their keys in the record, in the order block, head, crank, pistons; an unknown one counts as not known.
    pub fn from_keys(keys: [Option<&str>; 4]) -> Self {
        let [block, head, crank, pistons] = keys.map(|key| key.and_then(Material::from_key));
        Self { block, head, crank, pistons }
    }

    /// What each is made of, as far as it is known, by the part's name.
    pub fn named(self) -> impl Iterator<Item = (&'static str, Material)> {
        let parts = [("Block", self.block), ("Heads", self.head), ("Crank", self.crank), ("Pistons", self.pistons)];
        parts.into_iter().filter_map(|(part, material)| Some((part, material?)))
    }

    /// Their keys in the record, in the same order.
    pub fn keys(self) -> [Option<&'static str>; 4] {
        [self.block, self.head, self.crank, self.pistons].map(|material| material.map(Material::key))
    }
}

impl Setup {
    /// A target in SI at a place: its own, or the one given for all.
    pub fn target(&self, feature: TargetFeature, place: Place) -> Option<f64> {
        let at = |place| self.targets.get(&TargetKey { feature, place }).copied();
        at(place).or_else(|| at(feature.whole()))
    }

    /// How a material expands: as the shop says, or else as it usually does.
    pub fn expansion(&self, material: Material) -> Expansion {
        self.expansions.get(&material).cloned().unwrap_or_else(|| material.expansion())
    }

    /// The target of a slot, in SI.
    pub fn target_of(&self, slot: &SlotKey) -> Option<f64> {
        self.target(TargetFeature::of_slot(&slot.feature)?, slot.place)
    }
}
