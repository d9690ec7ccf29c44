//! What cannot be read, and what to enter instead.

use thiserror::Error;

use super::unit::{Dimension, Unit};

/// Why a text was refused. Each says what to enter; `enter` is an example that would have been read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Fault {
    #[error("nothing entered: enter {enter}")]
    Empty { enter: &'static str },
    #[error("too long: enter {enter}, and keep remarks for the note")]
    TooLong { enter: &'static str },
    #[error("“{text}” is no number: enter {enter}")]
    NoNumber { text: String, enter: &'static str },
    #[error("“{text}” has both a comma and a point: use one of them as the decimal mark, and enter {enter}")]
    TwoMarks { text: String, enter: &'static str },
    #[error("“{text}” could be thousands or a fraction: enter it without a comma, {enter}")]
    CommaInSpeed { text: String, enter: &'static str },
    #[error("“{text}” has an exponent: write the number out: {enter}")]
    Exponent { text: String, enter: &'static str },
    #[error("“{text}” is too large: enter {enter}")]
    TooLarge { text: String, enter: &'static str },
    #[error("“{text}”: “{rest}” is not understood: enter {enter}")]
    NotUnderstood { text: String, rest: String, enter: &'static str },
    #[error("“{text}” is {}, and this is {}: enter {enter}", .given.word(), .wanted.word())]
    WrongDimension { text: String, given: Dimension, wanted: Dimension, enter: &'static str },
    #[error("“{text}” is a deviation and no set size is known here: enter {enter}")]
    NoSetSize { text: String, enter: &'static str },
    #[error("“{text}” is finer than this gauge's step of one {}: say the unit, {text} {} or {text} {0}", .step.symbol(), .bare.symbol())]
    StepUnclear { text: String, step: Unit, bare: Unit },
    #[error("“{text}”: say both ends the same way, such as −1 to +2 tenths or 10 under to 20 under")]
    EndsUnlike { text: String },
    #[error("“{text}”: a tenth may be 0.1 mm or 0.0001 in: enter it in mm or µm")]
    TenthUnclear { text: String },
    #[error("“{text}” refers to a standard size and none is known here: enter {enter}")]
    NoStandard { text: String, enter: &'static str },
}

/// An example of what is read where `bare` is the working unit; `fine` where clearances are asked for.
pub(super) fn example(bare: Unit, fine: bool) -> &'static str {
    match bare.dimension() {
        Dimension::Length if fine => "a clearance such as 0.0025, 2.5 thou or 64 µm",
        Dimension::Length if bare.is_metric_length() => "a size such as 111.19 or 4.3775 in",
        Dimension::Length => "a size such as 4.3775 or 111.19 mm",
        Dimension::Volume => "a volume such as 64.5 cc or 3.94 in³",
        Dimension::Mass => "a mass such as 431.5 g",
        Dimension::Force => "a force such as 120 lbf or 530 N",
        Dimension::Torque => "a torque such as 80 lbf·ft or 108 N·m",
        Dimension::Pressure => "a pressure such as 65 psi or 450 kPa",
        Dimension::Angle => "an angle such as 106.5",
        Dimension::RotationalSpeed => "a speed such as 6500",
        Dimension::Speed => "a speed such as 3800 ft/min or 19.3 m/s",
        Dimension::Power => "a power such as 0.5 hp or 370 W",
        Dimension::Unbalance => "an unbalance such as 0.5 oz·in or 360 g·mm",
        Dimension::Temperature => "a temperature such as 21 °C or 70 °F",
        Dimension::TemperatureDifference => "a difference such as 8 K",
        Dimension::Ratio => "a plain number such as 0.75",
    }
}
