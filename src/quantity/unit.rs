//! Units, their dimensions and their exact factors.

use serde::{Deserialize, Serialize};

/// What kind of thing a number measures. Closed: a value never changes its dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    Length,
    Volume,
    Mass,
    Torque,
    Pressure,
    Angle,
    RotationalSpeed,
    Temperature,
    TemperatureDifference,
    Ratio,
}

/// A finite number in SI (m, m³, kg, N·m, Pa, rad, rad/s, K, K, 1) with its dimension.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Quantity {
    pub si: f64,
    pub dimension: Dimension,
}

/// A unit in which a value is typed or shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    Inch,
    Thou,
    Tenth,
    Millimetre,
    Micrometre,
    CubicInch,
    CubicCentimetre,
    Litre,
    Gram,
    PoundFoot,
    NewtonMetre,
    PoundPerSquareInch,
    Kilopascal,
    Bar,
    Degree,
    RevolutionPerMinute,
    Celsius,
    Fahrenheit,
    Kelvin,
    /// A pure number; also thou per inch is shown with it (1 thou/in = 0.001).
    One,
    ThouPerInch,
}
