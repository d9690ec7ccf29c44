//! How units are written at the bench.

use super::unit::Unit;

/// Every accepted spelling, in lower case. A `·` stands for any one of `·`, `.`, `-`, a space, or nothing.
const SPELLINGS: &[(&str, Unit)] = &[
    ("in", Unit::Inch),
    ("in.", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("\"", Unit::Inch),
    ("thou", Unit::Thou),
    ("thous", Unit::Thou),
    ("thousandth", Unit::Thou),
    ("thousandths", Unit::Thou),
    ("mil", Unit::Thou),
    ("mils", Unit::Thou),
    ("tenth", Unit::Tenth),
    ("tenths", Unit::Tenth),
    ("mm", Unit::Millimetre),
    ("millimetre", Unit::Millimetre),
    ("millimetres", Unit::Millimetre),
    ("millimeter", Unit::Millimetre),
    ("millimeters", Unit::Millimetre),
    ("µm", Unit::Micrometre),
    ("um", Unit::Micrometre),
    ("micron", Unit::Micrometre),
    ("microns", Unit::Micrometre),
    ("micrometre", Unit::Micrometre),
    ("micrometres", Unit::Micrometre),
    ("micrometer", Unit::Micrometre),
    ("micrometers", Unit::Micrometre),
    ("in³", Unit::CubicInch),
    ("in3", Unit::CubicInch),
    ("in^3", Unit::CubicInch),
    ("cu·in", Unit::CubicInch),
    ("cubic·inch", Unit::CubicInch),
    ("cubic·inches", Unit::CubicInch),
    ("cid", Unit::CubicInch),
    ("cm³", Unit::CubicCentimetre),
    ("cm3", Unit::CubicCentimetre),
    ("cm^3", Unit::CubicCentimetre),
    ("cc", Unit::CubicCentimetre),
    ("ccs", Unit::CubicCentimetre),
    ("ml", Unit::CubicCentimetre),
    ("l", Unit::Litre),
    ("litre", Unit::Litre),
    ("litres", Unit::Litre),
    ("liter", Unit::Litre),
    ("liters", Unit::Litre),
    ("g", Unit::Gram),
    ("gram", Unit::Gram),
    ("grams", Unit::Gram),
    ("gramme", Unit::Gram),
    ("grammes", Unit::Gram),
    ("lbf·ft", Unit::PoundFoot),
    ("lb·ft", Unit::PoundFoot),
    ("lbs·ft", Unit::PoundFoot),
    ("ft·lbf", Unit::PoundFoot),
    ("ft·lb", Unit::PoundFoot),
    ("ft·lbs", Unit::PoundFoot),
    ("foot·pound", Unit::PoundFoot),
    ("foot·pounds", Unit::PoundFoot),
    ("lbf·in", Unit::PoundInch),
    ("lb·in", Unit::PoundInch),
    ("lbs·in", Unit::PoundInch),
    ("in·lbf", Unit::PoundInch),
    ("in·lb", Unit::PoundInch),
    ("in·lbs", Unit::PoundInch),
    ("inch·pound", Unit::PoundInch),
    ("inch·pounds", Unit::PoundInch),
    ("kgf·m", Unit::KilogramForceMetre),
    ("kg·m", Unit::KilogramForceMetre),
    ("m·kgf", Unit::KilogramForceMetre),
    ("m·kg", Unit::KilogramForceMetre),
    ("n·m", Unit::NewtonMetre),
    ("newton·metre", Unit::NewtonMetre),
    ("newton·metres", Unit::NewtonMetre),
    ("lbf", Unit::PoundForce),
    ("n", Unit::Newton),
    ("newton", Unit::Newton),
    ("newtons", Unit::Newton),
    ("kn", Unit::Kilonewton),
    ("psi", Unit::PoundPerSquareInch),
    ("lbf/in²", Unit::PoundPerSquareInch),
    ("lbf/in2", Unit::PoundPerSquareInch),
    ("kpa", Unit::Kilopascal),
    ("bar", Unit::Bar),
    ("bars", Unit::Bar),
    ("w", Unit::Watt),
    ("watt", Unit::Watt),
    ("watts", Unit::Watt),
    ("hp", Unit::Horsepower),
    ("°", Unit::Degree),
    ("deg", Unit::Degree),
    ("degree", Unit::Degree),
    ("degrees", Unit::Degree),
    ("rpm", Unit::RevolutionPerMinute),
    ("r/min", Unit::RevolutionPerMinute),
    ("rev/min", Unit::RevolutionPerMinute),
    ("ft/min", Unit::FootPerMinute),
    ("m/s", Unit::MetrePerSecond),
    ("oz·in", Unit::OunceInch),
    ("ounce·inch", Unit::OunceInch),
    ("ounce·inches", Unit::OunceInch),
    ("g·mm", Unit::GramMillimetre),
    ("gmm", Unit::GramMillimetre),
    ("c", Unit::Celsius),
    ("°·c", Unit::Celsius),
    ("deg·c", Unit::Celsius),
    ("celsius", Unit::Celsius),
    ("f", Unit::Fahrenheit),
    ("°·f", Unit::Fahrenheit),
    ("deg·f", Unit::Fahrenheit),
    ("fahrenheit", Unit::Fahrenheit),
    ("k", Unit::Kelvin),
    ("kelvin", Unit::Kelvin),
    ("thou/in", Unit::ThouPerInch),
    ("thou/inch", Unit::ThouPerInch),
    ("thou·per·inch", Unit::ThouPerInch),
    ("µm/mm", Unit::ThouPerInch),
    ("um/mm", Unit::ThouPerInch),
];

/// The unit that `text` (lower case) begins with and what comes after it: the longest spelling that does not end in the
/// middle of a word.
pub(super) fn leading_unit(text: &str) -> Option<(Unit, &str)> {
    SPELLINGS
        .iter()
        .filter_map(|&(spelling, unit)| Some((unit, after(text, spelling)?)))
        .filter(|(_, rest)| !rest.starts_with(char::is_alphanumeric))
        .min_by_key(|(_, rest)| rest.len())
}

fn after<'a>(text: &'a str, spelling: &str) -> Option<&'a str> {
    spelling.chars().try_fold(text, |rest, wanted| match wanted {
        '·' => Some(rest.strip_prefix(['·', '.', '-', ' ']).unwrap_or(rest)),
        _ => rest.strip_prefix(wanted),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longest_spelling_wins_and_words_are_whole() {
        assert_eq!(leading_unit("thou/in, all"), Some((Unit::ThouPerInch, ", all")));
        assert_eq!(leading_unit("ft-lb"), Some((Unit::PoundFoot, "")));
        assert_eq!(leading_unit("° c"), Some((Unit::Celsius, "")));
        assert_eq!(leading_unit("in³"), Some((Unit::CubicInch, "")));
        assert_eq!(leading_unit("thoughts"), None);
    }

    #[test]
    fn every_symbol_is_a_spelling_of_its_own_unit() {
        for unit in Unit::ALL.into_iter().filter(|&unit| unit != Unit::One) {
            assert_eq!(leading_unit(&unit.symbol().to_lowercase()), Some((unit, "")), "{unit:?}");
        }
    }
}
