//! Displacement.

use witnessmark::mechanics::crank::displacement_m3;
use witnessmark::quantity::Unit;

use crate::assert_close;

fn cubic_inches(bore_in: f64, stroke_in: f64, cylinders: u8) -> f64 {
    let (bore, stroke) = (Unit::Inch.to_si(bore_in), Unit::Inch.to_si(stroke_in));
    Unit::CubicInch.from_si(displacement_m3(bore, stroke, cylinders))
}

/// Geometry; 101.6 mm by 88.392 mm, eight cylinders: 716.6222 cm³ each, 5732.9776 cm³ and 349.847 76 in³ together (worked
/// independently in numpy and pint).
#[test]
fn eight_cylinders_in_both_systems() {
    let one = displacement_m3(101.6e-3, 88.392e-3, 1);
    assert_close(one * 1e6, 716.6222, 5e-5);
    let all = displacement_m3(101.6e-3, 88.392e-3, 8);
    assert_close(all * 1e6, 5732.9776, 5e-5);
    assert_close(Unit::CubicInch.from_si(all), 349.847_76, 5e-6);
    assert_close(cubic_inches(4.0, 3.48, 8), 349.847_76, 5e-6);
}

/// Common practice, no source: eight cylinders of 4.375 in bore and 4.25 in stroke make a 511 cubic inch engine.
#[test]
fn a_511_cubic_inch_engine() {
    assert_close(cubic_inches(4.375, 4.25, 8), 511.0, 0.5);
}
