//! SI to text: the only place where a value is rounded.

use super::unit::Unit;

const NO_BREAK: char = '\u{a0}';
const MINUS: char = '\u{2212}';

impl Unit {
    /// How many decimals this unit is usually shown with, where the gauge does not say: common practice, no source.
    pub fn usual_decimals(self) -> u8 {
        match self {
            Self::Inch => 4,
            Self::Millimetre | Self::One => 3,
            Self::CubicInch
            | Self::Litre
            | Self::OunceInch
            | Self::Horsepower
            | Self::Kilonewton
            | Self::ThouPerInch => 2,
            Self::Thou
            | Self::CubicCentimetre
            | Self::Gram
            | Self::Bar
            | Self::KilogramForceMetre
            | Self::Degree
            | Self::MetrePerSecond
            | Self::Celsius
            | Self::Fahrenheit
            | Self::Kelvin => 1,
            Self::Tenth
            | Self::FootPerMinute
            | Self::GramMillimetre
            | Self::Micrometre
            | Self::PoundFoot
            | Self::PoundInch
            | Self::NewtonMetre
            | Self::PoundForce
            | Self::Newton
            | Self::Watt
            | Self::PoundPerSquareInch
            | Self::Kilopascal
            | Self::RevolutionPerMinute => 0,
        }
    }

    /// The number alone: "4.3775", "−0.0005". Zero carries no sign, however it came about.
    pub fn show_number(self, si: f64, decimals: u8) -> String {
        let value = self.from_si(si);
        let digits = format!("{:.*}", usize::from(decimals), value.abs());
        if value < 0.0 && !shows_zero(&digits) { format!("{MINUS}{digits}") } else { digits }
    }

    /// The number with its unit, which a no-break space holds to it: "4.3775 in", "12.5°", "0.0015".
    pub fn show(self, si: f64, decimals: u8) -> String {
        self.with_symbol(self.show_number(si, decimals))
    }

    /// As [`show`](Self::show), with a plus before what is above zero: a margin or a deviation, "+0.4 thou".
    pub fn show_signed(self, si: f64, decimals: u8) -> String {
        let number = self.show_number(si, decimals);
        let bare = number.starts_with(MINUS) || shows_zero(&number);
        self.with_symbol(if bare { number } else { format!("+{number}") })
    }

    fn with_symbol(self, number: String) -> String {
        match self {
            Self::One => number,
            Self::Degree => format!("{number}{}", self.symbol()),
            Self::Tenth if number != "1" => format!("{number}{NO_BREAK}tenths"),
            _ => format!("{number}{NO_BREAK}{}", self.symbol()),
        }
    }
}

fn shows_zero(number: &str) -> bool {
    number.bytes().all(|b| matches!(b, b'0' | b'.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn number_unit_and_sign() {
        assert_eq!(Unit::Inch.show(0.0254 * 4.3775, 4), "4.3775\u{a0}in");
        assert_eq!(Unit::Inch.show_number(-0.0254 * 0.0005, 4), "\u{2212}0.0005");
        assert_eq!(Unit::Thou.show_signed(25.4e-6 * 0.4, 1), "+0.4\u{a0}thou");
        assert_eq!(Unit::Thou.show_signed(-25.4e-6 * 0.4, 1), "\u{2212}0.4\u{a0}thou");
        assert_eq!(Unit::Degree.show(std::f64::consts::PI / 2.0, 0), "90°");
        assert_eq!(Unit::One.show(0.0015, 4), "0.0015");
        assert_eq!(Unit::Tenth.show(2.54e-6, 0), "1\u{a0}tenth");
        assert_eq!(Unit::Tenth.show(5.08e-6, 0), "2\u{a0}tenths");
    }

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(Unit::Inch.show_number(-1e-9, 4), "0.0000");
        assert_eq!(Unit::Inch.show_number(-0.0, 4), "0.0000");
        assert_eq!(Unit::Thou.show_signed(1e-9, 1), "0.0\u{a0}thou");
        assert_eq!(Unit::Celsius.show_number(273.15 - 0.01, 1), "0.0");
    }

    #[test]
    fn temperature_below_zero() {
        assert_eq!(Unit::Celsius.show(268.15, 0), "\u{2212}5\u{a0}°C");
        assert_eq!(Unit::Fahrenheit.show(268.15, 0), "23\u{a0}°F");
    }
}
