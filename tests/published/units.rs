//! Units against NIST SP 811 (2008), appendix B.8: factors as printed there, to seven digits (digits from memory; the exact
//! definitions confirm them). Worked conversions computed with pint 0.25.3, a general unit library.

use witnessmark::quantity::Unit;

use crate::assert_close;

/// Of the smallest seven-digit number, relative.
const HALF_A_SEVENTH_DIGIT: f64 = 5e-7;

#[test]
fn factors_as_printed() {
    for (unit, printed) in [
        (Unit::Inch, 2.54e-2),
        (Unit::Thou, 2.54e-5),
        (Unit::Tenth, 2.54e-6),
        (Unit::Millimetre, 1e-3),
        (Unit::Micrometre, 1e-6),
        (Unit::CubicInch, 1.638_706e-5),
        (Unit::CubicCentimetre, 1e-6),
        (Unit::Litre, 1e-3),
        (Unit::Gram, 1e-3),
        (Unit::PoundFoot, 1.355_818),
        (Unit::PoundInch, 1.129_848e-1),
        (Unit::KilogramForceMetre, 9.806_65),
        (Unit::NewtonMetre, 1.0),
        (Unit::PoundPerSquareInch, 6.894_757e3),
        (Unit::Kilopascal, 1e3),
        (Unit::Bar, 1e5),
        (Unit::Horsepower, 7.456_999e2),
        (Unit::Degree, 1.745_329e-2),
        (Unit::RevolutionPerMinute, 1.047_198e-1),
    ] {
        assert_close(unit.to_si(1.0) / printed, 1.0, HALF_A_SEVENTH_DIGIT);
    }
}

/// SP 811, B.8: K = °C + 273.15; K = (°F + 459.67)/1.8.
#[test]
fn temperatures() {
    assert_close(Unit::Celsius.to_si(20.0), 293.15, 1e-12);
    assert_close(Unit::Fahrenheit.to_si(68.0), 293.15, 1e-12);
    assert_close(Unit::Fahrenheit.to_si(32.0), 273.15, 1e-12);
    assert_close(Unit::Fahrenheit.from_si(Unit::Celsius.to_si(100.0)), 212.0, 1e-12);
}

#[test]
fn conversions_worked_elsewhere() {
    let converted = |figure: f64, from: Unit, to: Unit| to.from_si(from.to_si(figure));
    assert_close(converted(4.1255, Unit::Inch, Unit::Millimetre), 104.7877, 1e-10);
    assert_close(converted(0.0025, Unit::Inch, Unit::Micrometre), 63.5, 1e-10);
    assert_close(converted(80.0, Unit::PoundFoot, Unit::NewtonMetre), 108.465_44, 5e-6);
    assert_close(converted(65.0, Unit::PoundPerSquareInch, Unit::Kilopascal), 448.159_22, 5e-6);
    assert_close(converted(350.0, Unit::CubicInch, Unit::CubicCentimetre), 5735.4724, 5e-5);
}
