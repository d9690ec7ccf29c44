//! Units, their dimensions and their exact factors.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

/// What kind of thing a number measures. Closed: a value never changes its dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    Length,
    Volume,
    Mass,
    Torque,
    Force,
    Pressure,
    Power,
    Angle,
    RotationalSpeed,
    Speed,
    /// Mass times its distance from the axis.
    Unbalance,
    /// A point on the temperature scale: typed in °C or °F.
    Temperature,
    /// An interval of temperature: typed in K.
    TemperatureDifference,
    Ratio,
}

impl Dimension {
    /// The symbol of its SI unit; "1" of a pure number.
    pub fn si_symbol(self) -> &'static str {
        match self {
            Self::Length => "m",
            Self::Volume => "m³",
            Self::Mass => "kg",
            Self::Torque => "N·m",
            Self::Force => "N",
            Self::Pressure => "Pa",
            Self::Power => "W",
            Self::Angle => "rad",
            Self::RotationalSpeed => "rad/s",
            Self::Speed => "m/s",
            Self::Unbalance => "kg·m",
            Self::Temperature | Self::TemperatureDifference => "K",
            Self::Ratio => "1",
        }
    }

    /// The word for it in a sentence: "a length".
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Volume => "a volume",
            Self::Mass => "a mass",
            Self::Torque => "a torque",
            Self::Force => "a force",
            Self::Pressure => "a pressure",
            Self::Power => "a power",
            Self::Angle => "an angle",
            Self::RotationalSpeed | Self::Speed => "a speed",
            Self::Unbalance => "an unbalance",
            Self::Temperature => "a temperature",
            Self::TemperatureDifference => "a difference of temperature",
            Self::Ratio => "a ratio",
        }
    }
}

/// A value that is not a number, or too large to be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not a finite number")]
pub struct NotFinite;

/// A finite number in SI (m, m³, kg, N·m, N, Pa, W, rad, rad/s, m/s, kg·m, K, K, 1) with its dimension.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Quantity {
    pub si: f64,
    pub dimension: Dimension,
}

impl Quantity {
    /// `si` in the SI unit of `dimension`.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and the infinities.
    pub fn new(si: f64, dimension: Dimension) -> Result<Self, NotFinite> {
        if si.is_finite() { Ok(Self { si, dimension }) } else { Err(NotFinite) }
    }
}

/// A unit in which a value is typed or shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    Inch,
    /// 0.001 in.
    Thou,
    /// 0.0001 in, a tenth of a thou.
    Tenth,
    Millimetre,
    Micrometre,
    CubicInch,
    CubicCentimetre,
    Litre,
    Gram,
    PoundFoot,
    PoundInch,
    NewtonMetre,
    KilogramForceMetre,
    PoundForce,
    Newton,
    Kilonewton,
    PoundPerSquareInch,
    Kilopascal,
    Bar,
    Watt,
    /// 550 ft·lbf/s.
    Horsepower,
    Degree,
    RevolutionPerMinute,
    FootPerMinute,
    MetrePerSecond,
    OunceInch,
    GramMillimetre,
    Celsius,
    Fahrenheit,
    /// Of a difference of temperature only; a temperature is in °C or °F.
    Kelvin,
    /// A pure number; also thou per inch is shown with it (1 thou/in = 0.001).
    One,
    ThouPerInch,
}

/// Pound-force in newtons: 0.453 592 37 kg × 9.806 65 m/s², both exact (NIST SP 811, B.8).
const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// The avoirdupois ounce in kilograms, a sixteenth of a pound, exact (NIST SP 811, B.8).
const OUNCE: f64 = 0.028_349_523_125;

impl Unit {
    /// Every unit, in the order of the enum.
    pub const ALL: [Self; 32] = [
        Self::Inch,
        Self::Thou,
        Self::Tenth,
        Self::Millimetre,
        Self::Micrometre,
        Self::CubicInch,
        Self::CubicCentimetre,
        Self::Litre,
        Self::Gram,
        Self::PoundFoot,
        Self::PoundInch,
        Self::NewtonMetre,
        Self::KilogramForceMetre,
        Self::PoundForce,
        Self::Newton,
        Self::Kilonewton,
        Self::PoundPerSquareInch,
        Self::Kilopascal,
        Self::Bar,
        Self::Watt,
        Self::Horsepower,
        Self::Degree,
        Self::RevolutionPerMinute,
        Self::FootPerMinute,
        Self::MetrePerSecond,
        Self::OunceInch,
        Self::GramMillimetre,
        Self::Celsius,
        Self::Fahrenheit,
        Self::Kelvin,
        Self::One,
        Self::ThouPerInch,
    ];

    pub fn dimension(self) -> Dimension {
        match self {
            Self::Inch | Self::Thou | Self::Tenth | Self::Millimetre | Self::Micrometre => Dimension::Length,
            Self::CubicInch | Self::CubicCentimetre | Self::Litre => Dimension::Volume,
            Self::Gram => Dimension::Mass,
            Self::PoundFoot | Self::PoundInch | Self::NewtonMetre | Self::KilogramForceMetre => Dimension::Torque,
            Self::PoundForce | Self::Newton | Self::Kilonewton => Dimension::Force,
            Self::PoundPerSquareInch | Self::Kilopascal | Self::Bar => Dimension::Pressure,
            Self::Watt | Self::Horsepower => Dimension::Power,
            Self::Degree => Dimension::Angle,
            Self::RevolutionPerMinute => Dimension::RotationalSpeed,
            Self::FootPerMinute | Self::MetrePerSecond => Dimension::Speed,
            Self::OunceInch | Self::GramMillimetre => Dimension::Unbalance,
            Self::Celsius | Self::Fahrenheit => Dimension::Temperature,
            Self::Kelvin => Dimension::TemperatureDifference,
            Self::One | Self::ThouPerInch => Dimension::Ratio,
        }
    }

    /// What stands behind the number; empty for a pure number.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Thou => "thou",
            Self::Tenth => "tenth",
            Self::Millimetre => "mm",
            Self::Micrometre => "µm",
            Self::CubicInch => "in³",
            Self::CubicCentimetre => "cm³",
            Self::Litre => "L",
            Self::Gram => "g",
            Self::PoundFoot => "lbf·ft",
            Self::PoundInch => "lbf·in",
            Self::NewtonMetre => "N·m",
            Self::KilogramForceMetre => "kgf·m",
            Self::PoundForce => "lbf",
            Self::Newton => "N",
            Self::Kilonewton => "kN",
            Self::PoundPerSquareInch => "psi",
            Self::Kilopascal => "kPa",
            Self::Bar => "bar",
            Self::Watt => "W",
            Self::Horsepower => "hp",
            Self::Degree => "°",
            Self::RevolutionPerMinute => "rpm",
            Self::FootPerMinute => "ft/min",
            Self::MetrePerSecond => "m/s",
            Self::OunceInch => "oz·in",
            Self::GramMillimetre => "g·mm",
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
            Self::Kelvin => "K",
            Self::One => "",
            Self::ThouPerInch => "thou/in",
        }
    }

    /// The unit that stands small beside this one: the same value for a reader of the other system. A unit both systems
    /// use (g, °, rpm, K, a pure number) stands alone and gives itself.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Inch => Self::Millimetre,
            Self::Millimetre => Self::Inch,
            Self::Thou | Self::Tenth => Self::Micrometre,
            Self::Micrometre => Self::Thou,
            Self::CubicInch => Self::CubicCentimetre,
            Self::CubicCentimetre | Self::Litre => Self::CubicInch,
            Self::PoundFoot | Self::PoundInch => Self::NewtonMetre,
            Self::NewtonMetre | Self::KilogramForceMetre => Self::PoundFoot,
            Self::PoundForce => Self::Newton,
            Self::Newton | Self::Kilonewton => Self::PoundForce,
            Self::Watt => Self::Horsepower,
            Self::Horsepower => Self::Watt,
            Self::PoundPerSquareInch => Self::Kilopascal,
            Self::Kilopascal | Self::Bar => Self::PoundPerSquareInch,
            Self::Celsius => Self::Fahrenheit,
            Self::Fahrenheit => Self::Celsius,
            Self::FootPerMinute => Self::MetrePerSecond,
            Self::MetrePerSecond => Self::FootPerMinute,
            Self::OunceInch => Self::GramMillimetre,
            Self::GramMillimetre => Self::OunceInch,
            Self::ThouPerInch => Self::One,
            Self::Gram | Self::Degree | Self::RevolutionPerMinute | Self::Kelvin | Self::One => self,
        }
    }

    /// Whether this is a metric length.
    pub fn is_metric_length(self) -> bool {
        matches!(self, Self::Millimetre | Self::Micrometre)
    }

    /// `value` of this unit in SI. Valid for every finite value of the trade; an overflow gives an infinity, which
    /// [`Quantity::new`] refuses.
    pub fn to_si(self, value: f64) -> f64 {
        let Scale { zero, times, over } = self.scale();
        (value + zero) * times / over
    }

    /// A difference of `value` of this unit in SI, free of where its scale begins: 1 °F of difference is 5/9 K.
    pub fn interval_to_si(self, value: f64) -> f64 {
        let Scale { times, over, .. } = self.scale();
        value * times / over
    }

    /// `si` in this unit, unrounded.
    pub fn from_si(self, si: f64) -> f64 {
        let Scale { zero, times, over } = self.scale();
        si * over / times - zero
    }

    /// `value` of this unit as a quantity. For values known to be finite (constants, limits already read); what comes
    /// from outside goes through [`read`](super::read()) or [`Quantity::new`].
    pub fn of(self, value: f64) -> Quantity {
        Quantity { si: self.to_si(value), dimension: self.dimension() }
    }

    /// How the unit hangs on SI: (value + zero) × times ÷ over. Multiplier and divisor are whole numbers where the
    /// definition allows, so that an inch and its millimetres meet in the last bit or the one before it.
    ///
    /// Source: NIST SP 811 (2008), appendix B.8 and the definitions it names: 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg and
    /// standard gravity 9.806 65 m/s² are exact, so every factor here is.
    fn scale(self) -> Scale {
        let (zero, times, over) = match self {
            Self::Inch => (0.0, 127.0, 5e3),
            Self::Thou => (0.0, 127.0, 5e6),
            Self::Tenth => (0.0, 127.0, 5e7),
            Self::Millimetre | Self::Litre | Self::Gram | Self::ThouPerInch => (0.0, 1.0, 1e3),
            Self::Micrometre | Self::CubicCentimetre | Self::GramMillimetre => (0.0, 1.0, 1e6),
            Self::CubicInch => (0.0, 16_387_064.0, 1e12),
            Self::PoundFoot => (0.0, POUND_FORCE * 0.3048, 1.0),
            Self::PoundInch => (0.0, POUND_FORCE * 0.0254, 1.0),
            Self::KilogramForceMetre => (0.0, 9.806_65, 1.0),
            Self::PoundForce => (0.0, POUND_FORCE, 1.0),
            Self::PoundPerSquareInch => (0.0, POUND_FORCE, 0.0254 * 0.0254),
            Self::Kilopascal | Self::Kilonewton => (0.0, 1e3, 1.0),
            Self::Horsepower => (0.0, 550.0 * POUND_FORCE * 0.3048, 1.0),
            Self::Bar => (0.0, 1e5, 1.0),
            Self::Degree => (0.0, PI, 180.0),
            Self::RevolutionPerMinute => (0.0, PI, 30.0),
            Self::FootPerMinute => (0.0, 0.3048, 60.0),
            Self::OunceInch => (0.0, OUNCE * 0.0254, 1.0),
            Self::Celsius => (273.15, 1.0, 1.0),
            Self::Fahrenheit => (459.67, 5.0, 9.0),
            Self::NewtonMetre | Self::Newton | Self::Watt | Self::MetrePerSecond | Self::Kelvin | Self::One => {
                (0.0, 1.0, 1.0)
            }
        };
        Scale { zero, times, over }
    }
}

struct Scale {
    zero: f64,
    times: f64,
    over: f64,
}
