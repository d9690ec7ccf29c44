//! How a figure is spoken of: what it measures, and in which unit a job worked in inches or millimetres says it.

use crate::quantity::{Dimension, HowRead, Quantity, Unit};
use serde::{Deserialize, Serialize};

/// What a figure measures, and whether it is spoken of in the small unit of its dimension: thou or µm, lbf·in, thou per inch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Measure {
    pub dimension: Dimension,
    pub small: bool,
}

impl Measure {
    /// A size: inches or millimetres.
    pub const SIZE: Self = Self { dimension: Dimension::Length, small: false };
    /// A clearance or a small difference: thou or µm.
    pub const SMALL: Self = Self { dimension: Dimension::Length, small: true };
    pub const VOLUME: Self = Self { dimension: Dimension::Volume, small: false };
    pub const MASS: Self = Self { dimension: Dimension::Mass, small: false };
    pub const FORCE: Self = Self { dimension: Dimension::Force, small: false };
    pub const PRESSURE: Self = Self { dimension: Dimension::Pressure, small: false };
    pub const POWER: Self = Self { dimension: Dimension::Power, small: false };
    pub const TORQUE: Self = Self { dimension: Dimension::Torque, small: false };
    /// What turns a crank by hand: lbf·in or N·m.
    pub const TURNING: Self = Self { dimension: Dimension::Torque, small: true };
    pub const ANGLE: Self = Self { dimension: Dimension::Angle, small: false };
    pub const ROTATION: Self = Self { dimension: Dimension::RotationalSpeed, small: false };
    pub const SPEED: Self = Self { dimension: Dimension::Speed, small: false };
    pub const UNBALANCE: Self = Self { dimension: Dimension::Unbalance, small: false };
    pub const WARMER: Self = Self { dimension: Dimension::TemperatureDifference, small: false };
    /// A point on the scale of temperature: °F or °C.
    pub const TEMPERATURE: Self = Self { dimension: Dimension::Temperature, small: false };
    /// A pure number: a compression ratio.
    pub const NUMBER: Self = Self { dimension: Dimension::Ratio, small: false };
    /// Clearance by diameter: thou per inch, or µm per mm, which is the same number.
    pub const PER_DIAMETER: Self = Self { dimension: Dimension::Ratio, small: true };

    pub fn is_length(self) -> bool {
        self.dimension == Dimension::Length
    }
}

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
        self.of(Measure::SIZE)
    }

    /// For clearances and small differences, as they are said: thou, or thousandths of a millimetre.
    pub fn small(self) -> Unit {
        self.of(Measure::SMALL)
    }

    /// The unit a measure is spoken of in. Volumes, masses and angles are in one unit everywhere.
    pub fn of(self, measure: Measure) -> Unit {
        let by = |inch, millimetre| match self {
            Self::Inch => inch,
            Self::Millimetre => millimetre,
        };
        match (measure.dimension, measure.small) {
            (Dimension::Length, false) => by(Unit::Inch, Unit::Millimetre),
            (Dimension::Length, true) => by(Unit::Thou, Unit::Micrometre),
            (Dimension::Volume, _) => Unit::CubicCentimetre,
            (Dimension::Mass, _) => Unit::Gram,
            (Dimension::Torque, false) => by(Unit::PoundFoot, Unit::NewtonMetre),
            (Dimension::Torque, true) => by(Unit::PoundInch, Unit::NewtonMetre),
            (Dimension::Force, _) => by(Unit::PoundForce, Unit::Newton),
            (Dimension::Power, _) => by(Unit::Horsepower, Unit::Watt),
            (Dimension::Pressure, _) => by(Unit::PoundPerSquareInch, Unit::Kilopascal),
            (Dimension::Angle, _) => Unit::Degree,
            (Dimension::RotationalSpeed, _) => Unit::RevolutionPerMinute,
            (Dimension::Speed, _) => by(Unit::FootPerMinute, Unit::MetrePerSecond),
            (Dimension::Unbalance, _) => by(Unit::OunceInch, Unit::GramMillimetre),
            (Dimension::Temperature, _) => by(Unit::Fahrenheit, Unit::Celsius),
            (Dimension::TemperatureDifference, _) => Unit::Kelvin,
            (Dimension::Ratio, false) => Unit::One,
            (Dimension::Ratio, true) => Unit::ThouPerInch,
        }
    }

    /// What a keypad offers behind a figure, as many as it has keys: the units of the measure, those of the job first; empty
    /// where there are no more.
    pub fn keys(self, measure: Measure) -> [&'static str; 4] {
        if measure.is_length() {
            return match self {
                Self::Inch => ["thou", "tenths", "in", "mm"],
                Self::Millimetre => ["µm", "mm", "thou", "in"],
            };
        }
        let own = self.of(measure);
        let others = Unit::ALL.into_iter().filter(|unit| unit.dimension() == measure.dimension && *unit != own);
        let mut keys = std::iter::once(own).chain(others).map(Unit::symbol).chain(std::iter::repeat(""));
        std::array::from_fn(|_| keys.next().unwrap_or_default())
    }

    /// How a bare figure is understood: a size in inches or millimetres; a clearance as it is said, ".0025" in inches and
    /// "2.5" in thou, "0.06" in millimetres and "64" in µm; anything else in the unit it is spoken of.
    pub fn how_read(self, measure: Measure) -> HowRead {
        let bare_from = match self {
            Self::Inch => (0.1, Unit::Thou),
            Self::Millimetre => (1.0, Unit::Micrometre),
        };
        match measure {
            Measure::SMALL => HowRead { bare_from: Some(bare_from), ..HowRead::plain(self.size()) },
            other => HowRead::plain(self.of(other)),
        }
    }

    /// The same of what may be below zero by its nature: a sign before a length is just a sign.
    pub fn how_read_signed(self, measure: Measure) -> HowRead {
        let zero = Quantity { si: 0.0, dimension: measure.dimension };
        let from = measure.is_length().then_some(zero);
        HowRead { from, step: self.of(measure), ..self.how_read(measure) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::read;

    #[test]
    fn a_keypad_offers_units_that_are_understood_behind_a_figure() {
        let measures = [
            Measure::SIZE,
            Measure::SMALL,
            Measure::VOLUME,
            Measure::MASS,
            Measure::TURNING,
            Measure::ANGLE,
            Measure::UNBALANCE,
        ];
        for unit in [WorkingUnit::Inch, WorkingUnit::Millimetre] {
            for measure in measures {
                let keys = unit.keys(measure);
                assert!(!keys[0].is_empty());
                for key in keys.into_iter().filter(|key| !key.is_empty()) {
                    let typed = read(&format!("1 {key}"), &HowRead::plain(unit.of(measure)));
                    assert!(typed.is_ok(), "{key} of {measure:?}: {typed:?}");
                }
            }
        }
    }
}
