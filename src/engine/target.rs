//! What a build aims at, and the figures it is worked out by. Keys are kept: never renamed or reused.

use super::{Measure, Place, Ring, SlotFeature, WorkingUnit};
use crate::quantity::{Dimension, HowRead};
use serde::{Deserialize, Serialize};

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
    LowestStart,
    HighestSpeed,
    BalanceFactor,
    OilMass,
    CrankMass,
    BalanceGrade,
    TurningTorque,
    MainLength,
    RodBearingLength,
    MainLoad,
    RodLoad,
    LoadSpeed,
    #[serde(rename = "oil-at-40")]
    OilAt40,
    #[serde(rename = "oil-at-100")]
    OilAt100,
    OilDensity,
    OilTemperature,
    MainShellHousing,
    RodShellHousing,
    MainShellCoating,
    RodShellCoating,
    SleeveInside,
    SleeveBacking,
    SleeveLength,
    SleeveHolderWarmer,
    BushInside,
    PinInside,
    SmallEndBacking,
    SmallEndWidth,
    SmallEndWarmer,
    FitFriction,
    FitBond,
}

/// One row per target: the key kept in the record, its title, how it is spoken of, the place that speaks for all
/// of its places, what it stands for where nothing is read yet and what is worked out from it.
type Row = (TargetFeature, &'static str, &'static str, Measure, Place, &'static str);
#[rustfmt::skip]
static TARGETS: [Row; 67] = {
    use Place::{AllBanks, AllCylinders, AllMains, AllThrows, Engine};
    use TargetFeature as T;
    [
        (T::Bore, "bore", "bore", Measure::SIZE, AllCylinders,
            "finished size; displacement stands on it, and a reading is compared with it"),
        (T::Stroke, "stroke", "stroke", Measure::SIZE, Engine,
            "crank’s; displacement and compression stand on it"),
        (T::RodLength, "rod-length", "rod length, centre to centre", Measure::SIZE, Engine,
            "for the card; motion and deck stand on it"),
        (T::Skirt, "skirt", "piston skirt at its gauge point", Measure::SIZE, AllCylinders,
            "stands in until the pistons are measured"),
        (T::PistonClearance, "piston-clearance", "piston clearance, thrust way", Measure::SMALL, AllCylinders,
            "what you aim at: the notch on the scale, no limit"),
        (T::MainJournal, "main-journal", "main journal", Measure::SIZE, AllMains,
            "as ground; a clearance per diameter stands on it"),
        (T::MainHousing, "main-housing", "main housing bore", Measure::SIZE, AllMains,
            "bore without shells, caps pulled down"),
        (T::MainShellWall, "main-shell-wall", "main shell wall at the crown", Measure::SIZE, AllMains,
            "one shell’s thickness at its crown"),
        (T::MainClearance, "main-clearance", "main clearance, vertical", Measure::SMALL, AllMains,
            "what you aim at: the notch on the scale, no limit"),
        (T::RodJournal, "rod-journal", "rod journal", Measure::SIZE, AllThrows,
            "as ground; a clearance per diameter stands on it"),
        (T::RodHousing, "rod-housing", "rod big end without shells", Measure::SIZE, AllCylinders,
            "bore with the cap pulled down"),
        (T::RodShellWall, "rod-shell-wall", "rod shell wall at the crown", Measure::SIZE, AllCylinders,
            "one shell’s thickness at its crown"),
        (T::RodClearance, "rod-clearance", "rod clearance, vertical", Measure::SMALL, AllCylinders,
            "what you aim at: the notch on the scale, no limit"),
        (T::RodSideClearance, "rod-side-clearance", "rod side clearance", Measure::SMALL, AllThrows,
            "what you aim at, of the rods on one pin together"),
        (T::EndPlay, "end-play", "crank end play", Measure::SMALL, Engine,
            "what you aim at"),
        (T::SmallEnd, "small-end", "rod small end", Measure::SIZE, AllCylinders,
            "bore for the pin"),
        (T::Pin, "pin", "piston pin", Measure::SIZE, AllCylinders,
            "diameter"),
        (T::PinBore, "pin-bore", "piston pin bore", Measure::SIZE, AllCylinders,
            "bore for the pin"),
        (T::CompressionHeight, "compression-height", "piston compression height", Measure::SIZE, AllCylinders,
            "pin centre to crown; deck stands on it"),
        (T::PinOffset, "pin-offset", "pin offset", Measure::SMALL, Engine,
            "towards the side the crank moves to after top dead centre"),
        (T::PistonVolume, "piston-volume", "piston crown volume", Measure::VOLUME, AllCylinders,
            "a dish above zero, a dome below"),
        (T::LandDiameter, "land-diameter", "piston top land diameter", Measure::SIZE, AllCylinders,
            "with its height, the crevice above the top ring"),
        (T::LandHeight, "land-height", "piston top land height", Measure::SIZE, AllCylinders,
            "crown to top ring"),
        (T::DeckHeight, "deck-height", "block deck height", Measure::SIZE, AllBanks,
            "main centre to deck"),
        (T::DeckClearance, "deck-clearance", "deck clearance", Measure::SMALL, AllCylinders,
            "what you aim at: above zero where the piston stays below the deck"),
        (T::GasketThickness, "gasket-thickness", "head gasket, crushed", Measure::SMALL, AllBanks,
            "thickness as pulled down"),
        (T::GasketBore, "gasket-bore", "head gasket bore", Measure::SIZE, AllBanks,
            "its own, not the cylinder’s"),
        (T::Chamber, "chamber", "combustion chamber volume", Measure::VOLUME, AllCylinders,
            "by burette, valves and plug in"),
        (T::CompressionRatio, "compression-ratio", "compression ratio", Measure::NUMBER, AllCylinders,
            "what you aim at; what to cut or add stands on it"),
        (T::InletCloses, "inlet-closes", "inlet valve closes, after bottom dead centre", Measure::ANGLE, Engine,
            "on the seat with lash; the effective ratio stands on it"),
        (T::TopRingGap, "top-ring-gap", "top ring end gap, maker’s figure", Measure::SMALL, AllCylinders,
            "the least for this use; heat may raise it, never lower it"),
        (T::SecondRingGap, "second-ring-gap", "second ring end gap, maker’s figure", Measure::SMALL, AllCylinders,
            "the least for this use; heat may raise it, never lower it"),
        (T::RingWarmer, "ring-warmer", "top ring warmer than the block was cold, when hot", Measure::WARMER, Engine,
            "an estimate; closure of the gap stands on it"),
        (T::BoreWarmer, "bore-warmer", "cylinder wall warmer, when hot", Measure::WARMER, Engine,
            "an estimate; closure of the gap stands on it"),
        (T::HousingWarmer, "housing-warmer", "bearing housings warmer, when hot", Measure::WARMER, Engine,
            "the hot clearance stands on it"),
        (T::JournalWarmer, "journal-warmer", "journals warmer, when hot", Measure::WARMER, Engine,
            "the hot clearance stands on it"),
        (T::LowestStart, "lowest-start", "lowest temperature it is started at", Measure::TEMPERATURE, Engine,
            "the customer’s; the cold clearance stands on it"),
        (T::HighestSpeed, "highest-speed", "highest speed", Measure::ROTATION, Engine,
            "overspeed included; loads stand on it"),
        (T::BalanceFactor, "balance-factor", "balance factor", Measure::NUMBER, Engine,
            "the part of the reciprocating mass in a bobweight, 0.5 for a vee of 90°"),
        (T::OilMass, "oil-mass", "oil counted in a bobweight", Measure::MASS, Engine,
            "per throw; 3 to 5 g is a convention"),
        (T::CrankMass, "crank-mass", "crank mass, with its bobweights", Measure::MASS, Engine,
            "as it spins in the balancer; the residual permissible stands on it"),
        (T::BalanceGrade, "balance-grade", "balance quality grade, mm/s", Measure::NUMBER, Engine,
            "G of ISO 21940-11, such as 16 or 6.3; the residual permissible stands on it"),
        (T::TurningTorque, "turning-torque", "torque to turn the crank alone", Measure::TURNING, Engine,
            "what you aim at"),
        (T::MainLength, "main-length", "main bearing length", Measure::SIZE, AllMains,
            "of the shell along the crank, without its groove and chamfers; the film stands on it"),
        (T::RodBearingLength, "rod-bearing-length", "rod bearing length", Measure::SIZE, AllCylinders,
            "of the shell along the crank, without its chamfers; the film stands on it"),
        (T::MainLoad, "main-load", "load on a main bearing", Measure::FORCE, AllMains,
            "to compare films at; with it the film is worked out"),
        (T::RodLoad, "rod-load", "load on a rod bearing", Measure::FORCE, AllCylinders,
            "to compare films at; with it the film is worked out"),
        (T::LoadSpeed, "load-speed", "speed with these loads", Measure::ROTATION, Engine,
            "the film stands on it"),
        (T::OilAt40, "oil-at-40", "oil at 40 °C, mm²/s", Measure::NUMBER, Engine,
            "kinematic viscosity, by its maker’s sheet; the film stands on it"),
        (T::OilAt100, "oil-at-100", "oil at 100 °C, mm²/s", Measure::NUMBER, Engine,
            "kinematic viscosity, by its maker’s sheet; the film stands on it"),
        (T::OilDensity, "oil-density", "oil’s density at 15 °C, kg/m³", Measure::NUMBER, Engine,
            "by its maker’s sheet; the film stands on it"),
        (T::OilTemperature, "oil-temperature", "oil in the bearings", Measure::TEMPERATURE, Engine,
            "an estimate; the film stands on it"),
        (T::MainShellHousing, "main-shell-housing", "housing that the main shells are made for", Measure::SIZE, AllMains,
            "by their maker’s list, where they are of another family: held against the housing"),
        (T::RodShellHousing, "rod-shell-housing", "housing that the rod shells are made for", Measure::SIZE, AllCylinders,
            "by their maker’s list, where they are of another family: held against the big end"),
        (T::MainShellCoating, "main-shell-coating", "main shells’ coating, each half", Measure::SMALL, AllMains,
            "where the walls were read bare: taken twice from the clearance by housing and shells"),
        (T::RodShellCoating, "rod-shell-coating", "rod shells’ coating, each half", Measure::SMALL, AllCylinders,
            "where the walls were read bare: taken twice from the clearance by housing and shells"),
        (T::SleeveInside, "sleeve-inside", "sleeve inside, as it is pressed in", Measure::SIZE, AllCylinders,
            "its pressure in the block stands on it"),
        (T::SleeveBacking, "sleeve-backing", "metal behind a sleeve", Measure::SIZE, AllCylinders,
            "to the nearest free surface, the water or the next bore; its pressure stands on it"),
        (T::SleeveLength, "sleeve-length", "sleeve, length held", Measure::SIZE, AllCylinders,
            "what holds it stands on it"),
        (T::SleeveHolderWarmer, "sleeve-holder-warmer", "block behind the sleeves warmer, when hot", Measure::WARMER, Engine,
            "an estimate; what holds a sleeve when hot stands on it; where none is set, as warm as the sleeve"),
        (T::BushInside, "bush-inside", "small end’s bush inside, as it is pressed in", Measure::SIZE, AllCylinders,
            "its pressure in the rod stands on it"),
        (T::PinInside, "pin-inside", "piston pin inside", Measure::SIZE, AllCylinders,
            "of a pin that the rod holds: zero where it is solid"),
        (T::SmallEndBacking, "small-end-backing", "metal round the small end", Measure::SIZE, AllCylinders,
            "from bush or pin to the nearest free surface"),
        (T::SmallEndWidth, "small-end-width", "small end, width", Measure::SIZE, AllCylinders,
            "length over which bush or pin is held"),
        (T::SmallEndWarmer, "small-end-warmer", "small ends warmer, when hot", Measure::WARMER, Engine,
            "an estimate; what holds bush or pin when hot stands on it"),
        (T::FitFriction, "fit-friction", "friction of press fits", Measure::NUMBER, Engine,
            "0.08 to 0.15 from oiled to dry (common practice, no source); where none is set, 0.08"),
        (T::FitBond, "fit-bond", "retaining compound’s strength in the fits", Measure::PRESSURE, Engine,
            "by its maker’s sheet, taken down for metal, oil, gap and heat; none where the fits are dry"),
    ]
};

impl TargetFeature {
    /// Every target, in the order shown.
    pub fn all() -> impl Iterator<Item = Self> {
        TARGETS.iter().map(|(feature, ..)| *feature)
    }

    fn row(self) -> &'static Row {
        // Every target stands in TARGETS at its own number, as a test checks.
        &TARGETS[self as usize]
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
        self.row().5
    }

    /// How it is spoken of.
    pub fn measure(self) -> Measure {
        self.row().3
    }

    /// The place that speaks for all of its places.
    pub fn whole(self) -> Place {
        self.row().4
    }

    /// Whether it may be below zero by its nature.
    pub fn may_be_below_zero(self) -> bool {
        matches!(self, Self::DeckClearance | Self::PistonVolume | Self::PinOffset)
    }

    /// How a bare figure of it is understood.
    pub fn how_read(self, unit: WorkingUnit) -> HowRead {
        if self.may_be_below_zero() { unit.how_read_signed(self.measure()) } else { unit.how_read(self.measure()) }
    }

    /// Whether it can be at all, in SI: above zero where it is not below by its nature; no length is two metres, no volume two
    /// litres, no mass 200 kg, no load 100 tonnes, no bond bears 100 N/mm².
    pub fn can_be(self, si: f64) -> bool {
        let may_be_zero = matches!(self, Self::BalanceFactor | Self::OilMass | Self::PinInside);
        let most = match self.measure().dimension {
            Dimension::Ratio if matches!(self, Self::OilAt40 | Self::OilAt100 | Self::OilDensity) => 2000.0,
            Dimension::Force => 1e6,
            Dimension::Pressure => 1e8,
            Dimension::Volume => 0.002,
            Dimension::Mass => 200.0,
            Dimension::RotationalSpeed => 3000.0,
            Dimension::TemperatureDifference | Dimension::Temperature => 1000.0,
            Dimension::Ratio | Dimension::Torque => 100.0,
            _ => 2.0,
        };
        si.abs() < most && (si > 0.0 || self.may_be_below_zero() || may_be_zero && si == 0.0)
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
        for (number, (feature, ..)) in TARGETS.iter().enumerate() {
            assert_eq!(*feature as usize, number);
        }
        assert_eq!(TargetFeature::FitBond as usize + 1, TARGETS.len());
    }
}
