//! What kind of figure a finding is: a spread, hot, below zero by its nature.

use super::FindingFeature;

impl FindingFeature {
    /// Whether it is the size of a difference between places, largest less smallest, or within one, which cannot be below zero.
    pub fn is_a_difference(&self) -> bool {
        self.is_spread()
            || matches!(
                self,
                Self::BoreOutOfRound
                    | Self::BoreTaper
                    | Self::MainJournalOutOfRound
                    | Self::MainJournalTaper
                    | Self::RodJournalOutOfRound
                    | Self::RodJournalTaper
                    | Self::RodHousingOutOfRound
                    | Self::MainHousingOutOfRound
                    | Self::PistonRock
                    | Self::DeckTilt
                    | Self::MainLineStep(_)
            )
    }

    /// Whether it is over all places: largest less smallest.
    pub fn is_spread(&self) -> bool {
        matches!(
            self,
            Self::BoreSpread
                | Self::MainClearanceSpread
                | Self::RodClearanceSpread
                | Self::StrokeSpread
                | Self::RodLengthSpread
                | Self::CompressionHeightSpread
                | Self::CompressionSpread
                | Self::WeightSpread(_)
                | Self::MainLineSpread(_)
        )
    }

    /// Whether it can be told per inch of its journal.
    pub fn is_of_diameter(&self) -> bool {
        matches!(self, Self::MainClearance(_) | Self::RodClearance(_))
    }

    /// Whether it is a clearance at the temperatures of hot oil.
    pub fn is_told_hot(&self) -> bool {
        matches!(self, Self::MainClearanceHot | Self::RodClearanceHot)
    }

    /// Whether it compares two routes to one clearance, and is judged by what both can tell.
    pub fn compares_routes(&self) -> bool {
        matches!(self, Self::MainRoutes | Self::RodRoutes)
    }

    /// Whether it may be below zero by its nature, and its limits with it.
    pub fn may_be_below_zero(&self) -> bool {
        matches!(
            self,
            Self::DeckClearance
                | Self::DeckCut
                | Self::PistonVolume
                | Self::PinInRod
                | Self::PinInPiston
                | Self::ThrowAngle
                | Self::Crush(_)
                | Self::ShellHousing(_)
                | Self::Seats(..)
                | Self::MainLine(_)
                | Self::FitInterference(_)
                | Self::FitHot(_)
                | Self::FitLost(_)
        )
    }

    /// Whether a limit can be set on it; the comparison of routes is judged by its own uncertainty.
    pub fn takes_limit(&self) -> bool {
        !self.compares_routes() && !matches!(self, Self::PermissibleResidual | Self::DeckCut | Self::Retired(_))
    }
}
