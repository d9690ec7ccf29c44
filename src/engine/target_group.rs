//! What targets are of: how a form keeps them together.

use super::TargetFeature;

/// What targets are of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TargetGroup {
    Bores,
    Bearings,
    Compression,
    Rings,
    Turning,
    Film,
    Fits,
}

impl TargetGroup {
    pub const ALL: [Self; 7] =
        [Self::Bores, Self::Bearings, Self::Compression, Self::Rings, Self::Turning, Self::Film, Self::Fits];

    pub fn title(self) -> &'static str {
        match self {
            Self::Bores => "Bores, stroke and pistons",
            Self::Bearings => "Crank, mains and rods",
            Self::Compression => "Deck and compression",
            Self::Rings => "Rings",
            Self::Turning => "Heat, speed and balance",
            Self::Film => "Oil film",
            Self::Fits => "Press fits",
        }
    }
}

impl TargetFeature {
    /// What it is of.
    pub fn group(self) -> TargetGroup {
        match self {
            Self::Bore
            | Self::Stroke
            | Self::RodLength
            | Self::Skirt
            | Self::PistonClearance
            | Self::SmallEnd
            | Self::Pin
            | Self::PinBore => TargetGroup::Bores,
            Self::MainJournal
            | Self::MainHousing
            | Self::MainShellWall
            | Self::MainClearance
            | Self::RodJournal
            | Self::RodHousing
            | Self::RodShellWall
            | Self::RodClearance
            | Self::RodSideClearance
            | Self::EndPlay
            | Self::MainShellHousing
            | Self::RodShellHousing
            | Self::MainShellCoating
            | Self::RodShellCoating => TargetGroup::Bearings,
            Self::CompressionHeight
            | Self::PinOffset
            | Self::PistonVolume
            | Self::LandDiameter
            | Self::LandHeight
            | Self::DeckHeight
            | Self::DeckClearance
            | Self::GasketThickness
            | Self::GasketBore
            | Self::Chamber
            | Self::CompressionRatio
            | Self::InletCloses => TargetGroup::Compression,
            Self::TopRingGap | Self::SecondRingGap => TargetGroup::Rings,
            Self::RingWarmer
            | Self::BoreWarmer
            | Self::HousingWarmer
            | Self::JournalWarmer
            | Self::LowestStart
            | Self::HighestSpeed
            | Self::BalanceFactor
            | Self::OilMass
            | Self::CrankMass
            | Self::BalanceGrade
            | Self::TurningTorque => TargetGroup::Turning,
            Self::MainLength
            | Self::RodBearingLength
            | Self::MainLoad
            | Self::RodLoad
            | Self::LoadSpeed
            | Self::OilAt40
            | Self::OilAt100
            | Self::OilDensity
            | Self::OilTemperature => TargetGroup::Film,
            Self::SleeveInside
            | Self::SleeveBacking
            | Self::SleeveLength
            | Self::SleeveHolderWarmer
            | Self::BushInside
            | Self::PinInside
            | Self::SmallEndBacking
            | Self::SmallEndWidth
            | Self::SmallEndWarmer
            | Self::FitFriction
            | Self::FitBond => TargetGroup::Fits,
        }
    }
}
