//! What the sheets ask their slots by: the engine's skeleton, its materials, its targets, the job's working unit.

use super::{Architecture, ItemKind, Measure, Place, Ring, SlotFeature, SlotKey, WorkingUnit};
use crate::metrology::{Expansion, Material};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A dimension the build aims at, or a figure it is worked out by.
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
    RodJournal,
    RodHousing,
    RodShellWall,
    RodClearance,
    RodSideClearance,
    EndPlay,
    SmallEnd,
    Pin,
    PinBore,
    CompressionHeight,
    PinOffset,
    PistonVolume,
    LandDiameter,
    LandHeight,
    DeckHeight,
    DeckClearance,
    GasketThickness,
    GasketBore,
    Chamber,
    CompressionRatio,
    InletCloses,
    TopRingGap,
    SecondRingGap,
    RingWarmer,
    BoreWarmer,
    HousingWarmer,
    JournalWarmer,
    HighestSpeed,
    BalanceFactor,
    OilMass,
    CrankMass,
    BalanceGrade,
    TurningTorque,
}

/// One row per target: the key kept in the record, its title, what it stands for where nothing is read yet and what is worked
/// out from it, how it is spoken of, the place that speaks for all of its places.
type Row = (TargetFeature, &'static str, &'static str, &'static str, Measure, Place);
const TARGETS: [Row; 42] = {
    use Place::{AllBanks, AllCylinders, AllMains, AllThrows, Engine};
    use TargetFeature as T;
    [
        (
            T::Bore,
            "bore",
            "bore",
            "finished size; displacement stands on it, and a reading is compared with it",
            Measure::SIZE,
            AllCylinders,
        ),
        (T::Stroke, "stroke", "stroke", "crank’s; displacement and compression stand on it", Measure::SIZE, Engine),
        (
            T::RodLength,
            "rod-length",
            "rod length, centre to centre",
            "for the card; motion and deck stand on it",
            Measure::SIZE,
            Engine,
        ),
        (
            T::Skirt,
            "skirt",
            "piston skirt at its gauge point",
            "stands in until the pistons are measured",
            Measure::SIZE,
            AllCylinders,
        ),
        (
            T::PistonClearance,
            "piston-clearance",
            "piston clearance, thrust way",
            "what you aim at: the notch on the scale, no limit",
            Measure::SMALL,
            AllCylinders,
        ),
        (
            T::MainJournal,
            "main-journal",
            "main journal",
            "as ground; a clearance per diameter stands on it",
            Measure::SIZE,
            AllMains,
        ),
        (
            T::MainHousing,
            "main-housing",
            "main housing bore",
            "bore without shells, caps pulled down",
            Measure::SIZE,
            AllMains,
        ),
        (
            T::MainShellWall,
            "main-shell-wall",
            "main shell wall at the crown",
            "one shell’s thickness at its crown",
            Measure::SIZE,
            AllMains,
        ),
        (
            T::MainClearance,
            "main-clearance",
            "main clearance, vertical",
            "what you aim at: the notch on the scale, no limit",
            Measure::SMALL,
            AllMains,
        ),
        (
            T::RodJournal,
            "rod-journal",
            "rod journal",
            "as ground; a clearance per diameter stands on it",
            Measure::SIZE,
            AllThrows,
        ),
        (
            T::RodHousing,
            "rod-housing",
            "rod big end without shells",
            "bore with the cap pulled down",
            Measure::SIZE,
            AllCylinders,
        ),
        (
            T::RodShellWall,
            "rod-shell-wall",
            "rod shell wall at the crown",
            "one shell’s thickness at its crown",
            Measure::SIZE,
            AllCylinders,
        ),
        (
            T::RodClearance,
            "rod-clearance",
            "rod clearance, vertical",
            "what you aim at: the notch on the scale, no limit",
            Measure::SMALL,
            AllCylinders,
        ),
        (
            T::RodSideClearance,
            "rod-side-clearance",
            "rod side clearance",
            "what you aim at, of the rods on one pin together",
            Measure::SMALL,
            AllThrows,
        ),
        (T::EndPlay, "end-play", "crank end play", "what you aim at", Measure::SMALL, Engine),
        (T::SmallEnd, "small-end", "rod small end", "bore for the pin", Measure::SIZE, AllCylinders),
        (T::Pin, "pin", "piston pin", "diameter", Measure::SIZE, AllCylinders),
        (T::PinBore, "pin-bore", "piston pin bore", "bore for the pin", Measure::SIZE, AllCylinders),
        (
            T::CompressionHeight,
            "compression-height",
            "piston compression height",
            "pin centre to crown; deck stands on it",
            Measure::SIZE,
            AllCylinders,
        ),
        (
            T::PinOffset,
            "pin-offset",
            "pin offset",
            "towards the side the crank moves to after top dead centre",
            Measure::SMALL,
            Engine,
        ),
        (
            T::PistonVolume,
            "piston-volume",
            "piston crown volume",
            "a dish above zero, a dome below",
            Measure::VOLUME,
            AllCylinders,
        ),
        (
            T::LandDiameter,
            "land-diameter",
            "piston top land diameter",
            "with its height, the crevice above the top ring",
            Measure::SIZE,
            AllCylinders,
        ),
        (T::LandHeight, "land-height", "piston top land height", "crown to top ring", Measure::SIZE, AllCylinders),
        (T::DeckHeight, "deck-height", "block deck height", "main centre to deck", Measure::SIZE, AllBanks),
        (
            T::DeckClearance,
            "deck-clearance",
            "deck clearance",
            "what you aim at: above zero where the piston stays below the deck",
            Measure::SMALL,
            AllCylinders,
        ),
        (
            T::GasketThickness,
            "gasket-thickness",
            "head gasket, crushed",
            "thickness as pulled down",
            Measure::SMALL,
            AllBanks,
        ),
        (T::GasketBore, "gasket-bore", "head gasket bore", "its own, not the cylinder’s", Measure::SIZE, AllBanks),
        (
            T::Chamber,
            "chamber",
            "combustion chamber volume",
            "by burette, valves and plug in",
            Measure::VOLUME,
            AllCylinders,
        ),
        (
            T::CompressionRatio,
            "compression-ratio",
            "compression ratio",
            "what you aim at; what to cut or add stands on it",
            Measure::NUMBER,
            AllCylinders,
        ),
        (
            T::InletCloses,
            "inlet-closes",
            "inlet valve closes, after bottom dead centre",
            "on the seat with lash; the effective ratio stands on it",
            Measure::ANGLE,
            Engine,
        ),
        (
            T::TopRingGap,
            "top-ring-gap",
            "top ring end gap, maker’s figure",
            "the least for this use; heat may raise it, never lower it",
            Measure::SMALL,
            AllCylinders,
        ),
        (
            T::SecondRingGap,
            "second-ring-gap",
            "second ring end gap, maker’s figure",
            "the least for this use; heat may raise it, never lower it",
            Measure::SMALL,
            AllCylinders,
        ),
        (
            T::RingWarmer,
            "ring-warmer",
            "top ring warmer than the block was cold, when hot",
            "an estimate; closure of the gap stands on it",
            Measure::WARMER,
            Engine,
        ),
        (
            T::BoreWarmer,
            "bore-warmer",
            "cylinder wall warmer, when hot",
            "an estimate; closure of the gap stands on it",
            Measure::WARMER,
            Engine,
        ),
        (
            T::HousingWarmer,
            "housing-warmer",
            "bearing housings warmer, when hot",
            "the hot clearance stands on it",
            Measure::WARMER,
            Engine,
        ),
        (
            T::JournalWarmer,
            "journal-warmer",
            "journals warmer, when hot",
            "the hot clearance stands on it",
            Measure::WARMER,
            Engine,
        ),
        (
            T::HighestSpeed,
            "highest-speed",
            "highest speed",
            "overspeed included; loads stand on it",
            Measure::ROTATION,
            Engine,
        ),
        (
            T::BalanceFactor,
            "balance-factor",
            "balance factor",
            "the part of the reciprocating mass in a bobweight, 0.5 for a vee of 90°",
            Measure::NUMBER,
            Engine,
        ),
        (
            T::OilMass,
            "oil-mass",
            "oil counted in a bobweight",
            "per throw; 3 to 5 g is a convention",
            Measure::MASS,
            Engine,
        ),
        (
            T::CrankMass,
            "crank-mass",
            "crank mass, with its bobweights",
            "as it spins in the balancer; the residual permissible stands on it",
            Measure::MASS,
            Engine,
        ),
        (
            T::BalanceGrade,
            "balance-grade",
            "balance quality grade, mm/s",
            "G of ISO 21940-11, such as 16 or 6.3; the residual permissible stands on it",
            Measure::NUMBER,
            Engine,
        ),
        (
            T::TurningTorque,
            "turning-torque",
            "torque to turn the crank alone",
            "what you aim at",
            Measure::TURNING,
            Engine,
        ),
    ]
};

impl TargetFeature {
    /// Every target, in the order shown.
    pub fn all() -> impl Iterator<Item = Self> {
        TARGETS.into_iter().map(|(feature, ..)| feature)
    }

    fn row(self) -> Row {
        // Every target stands in TARGETS, as a test checks.
        TARGETS.into_iter().find(|(feature, ..)| *feature == self).unwrap_or(TARGETS[0])
    }

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        self.row().1
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::all().find(|feature| feature.key() == key)
    }

    pub fn title(self) -> &'static str {
        self.row().2
    }

    /// What it stands for where nothing is read yet, and what is worked out from it.
    pub fn meaning(self) -> &'static str {
        self.row().3
    }

    /// How it is spoken of.
    pub fn measure(self) -> Measure {
        self.row().4
    }

    /// The place that speaks for all of its places.
    pub fn whole(self) -> Place {
        self.row().5
    }

    /// Whether it can be zero, or below it by its nature.
    pub fn may_be_below_zero(self) -> bool {
        matches!(self, Self::DeckClearance | Self::PistonVolume | Self::PinOffset | Self::BalanceFactor | Self::OilMass)
    }

    /// The target that a slot's reading is to come to, if there is one.
    pub fn of_slot(slot: &SlotFeature) -> Option<Self> {
        use SlotFeature as F;
        Some(match slot {
            F::BoreStated | F::Bore(..) => Self::Bore,
            F::SkirtStated | F::Skirt => Self::Skirt,
            F::MainClearanceStated | F::MainClearanceDirect(_) | F::MainPlasticStrip => Self::MainClearance,
            F::MainHousing(_) => Self::MainHousing,
            F::MainShellWall(_) => Self::MainShellWall,
            F::MainJournal(..) => Self::MainJournal,
            F::RodClearanceStated | F::RodClearanceDirect(_) | F::RodPlasticStrip => Self::RodClearance,
            F::RodShellWall(_) => Self::RodShellWall,
            F::RodJournal(..) => Self::RodJournal,
            F::RodHousing(_) => Self::RodHousing,
            F::SmallEnd => Self::SmallEnd,
            F::RodLength => Self::RodLength,
            F::RodSideClearance => Self::RodSideClearance,
            F::EndPlay | F::EndPlayAtCap => Self::EndPlay,
            F::Stroke => Self::Stroke,
            F::TurningCrank => Self::TurningTorque,
            F::Pin => Self::Pin,
            F::PinBore => Self::PinBore,
            F::CompressionHeightStated | F::CompressionHeight => Self::CompressionHeight,
            F::PistonVolumeStated | F::PistonVolume => Self::PistonVolume,
            F::DeckHeight(..) => Self::DeckHeight,
            F::DeckStated | F::Deck(_) => Self::DeckClearance,
            F::ChamberStated | F::Chamber => Self::Chamber,
            F::GasketThickness => Self::GasketThickness,
            F::RingGap(Ring::Top) => Self::TopRingGap,
            F::RingGap(Ring::Second) => Self::SecondRingGap,
            _ => return None,
        })
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

    /// What a kind of item is made of, as far as it is known.
    pub fn of(self, kind: ItemKind) -> Option<Material> {
        match kind {
            ItemKind::Block => self.block,
            ItemKind::Head => self.head,
            ItemKind::Crank => self.crank,
            ItemKind::Piston => self.pistons,
            ItemKind::Rod | ItemKind::MainShells => None,
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_target_stands_once_with_its_own_key() {
        let keys: std::collections::BTreeSet<_> = TargetFeature::all().map(TargetFeature::key).collect();
        assert_eq!(keys.len(), TARGETS.len());
        for feature in TargetFeature::all() {
            assert_eq!(TargetFeature::from_key(feature.key()), Some(feature));
            assert_eq!(serde_json::to_value(feature).unwrap(), feature.key());
        }
        // The enum's last has the number of the rest before it.
        assert_eq!(TargetFeature::TurningTorque as usize + 1, TARGETS.len());
    }
}
