//! Figures in words, in the job's working unit: what the working on a page or paper is written with.

use crate::engine::{TargetFeature, WorkingUnit};
use crate::quantity::{Dimension, Unit};

/// Shows lengths as the job speaks of them.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    pub unit: WorkingUnit,
}

impl Words {
    /// A size with its unit: "4.3775 in".
    pub fn size(self, metres: f64) -> String {
        let unit = self.unit.size();
        unit.show(metres, unit.usual_decimals())
    }

    /// A size without its unit.
    pub fn size_number(self, metres: f64) -> String {
        let unit = self.unit.size();
        unit.show_number(metres, unit.usual_decimals())
    }

    /// A clearance or small difference with its unit: "2.5 thou".
    pub fn small(self, metres: f64) -> String {
        let unit = self.unit.small();
        unit.show(metres, unit.usual_decimals())
    }

    /// A length in the small unit or the large one, with its unit.
    pub fn length(self, small: bool, metres: f64) -> String {
        if small { self.small(metres) } else { self.size(metres) }
    }

    /// A ratio of clearance to diameter: "0.95 thou/in", or µm per mm, which is the same number.
    pub fn ratio(self, ratio: f64) -> String {
        match self.unit {
            WorkingUnit::Inch => Unit::ThouPerInch.show(ratio, 2),
            WorkingUnit::Millimetre => format!("{}\u{a0}µm/mm", Unit::ThouPerInch.show_number(ratio, 2)),
        }
    }

    /// A target as it is spoken of.
    pub fn target(self, feature: TargetFeature, metres: f64) -> String {
        self.length(feature.is_small(), metres)
    }

    /// The unit a finding is shown in, by dimension and size.
    pub fn shown_in(self, dimension: Dimension, small: bool) -> Unit {
        match (dimension, small) {
            (Dimension::Ratio, _) => Unit::ThouPerInch,
            (_, true) => self.unit.small(),
            (_, false) => self.unit.size(),
        }
    }
}
