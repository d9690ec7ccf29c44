//! The piston's motion.

use std::f64::consts::TAU;

use witnessmark::mechanics::crank::displacement_m3;
use witnessmark::mechanics::motion::{MotionFault, RodMasses, SliderCrank, mean_piston_speed_m_s, rod_ratio};

use crate::assert_close;

fn rad_s(rpm: f64) -> f64 {
    rpm * TAU / 60.0
}

fn small_block(offset_m: f64) -> SliderCrank {
    SliderCrank::from_stroke(88.392e-3, 152.4e-3, offset_m).unwrap()
}

/// "Fundamentals of Internal Combustion Engines", chapter 16, a square V6 of 3 litres at 3000 rpm (inputs and formulas as in
/// a solved notebook; figures worked independently in sympy).
#[test]
fn a_square_v6() {
    let bore_m = 8.6025401e-2;
    assert_close(displacement_m3(bore_m, bore_m, 6), 3e-3, 1e-9);
    assert_close(mean_piston_speed_m_s(bore_m, rad_s(3000.0)), 8.6025401, 1e-6);
    let crank = SliderCrank::from_stroke(bore_m, 0.172, 0.0).unwrap();
    let angle = 20_f64.to_radians();
    assert_close(crank.velocity_m_s(angle, rad_s(3000.0)), 5.7117137, 1e-6);
    assert_close(crank.depth_m(angle) * 100.0, 0.32242651, 1e-7);
    let above = displacement_m3(bore_m, crank.depth_m(angle), 1) + 62.5e-6;
    assert_close(above * 1e6, 81.240192, 1e-5);
}

/// Beer & Johnston, Vector Mechanics for Engineers: Dynamics, Sample Problems 15.3 and 15.7: 43.6 ft/s, 9290 ft/s² (from
/// memory); digits by sympy.
#[test]
fn a_textbook_engine_in_inches() {
    let (inch, foot) = (25.4e-3, 304.8e-3);
    let crank = SliderCrank::new(3.0 * inch, 8.0 * inch, 0.0).unwrap();
    let (angle, speed) = (40_f64.to_radians(), rad_s(2000.0));
    assert_close(crank.velocity_m_s(angle, speed) / foot, 43.618351, 1e-5);
    assert_close(crank.acceleration_m_s2(angle, speed) / foot, 9289.7997, 1e-3);
}

/// Independent computation: exact derivatives in sympy on a grid of 720 001 points.
#[test]
fn a_small_block_at_6500() {
    let (crank, speed) = (small_block(0.0), rad_s(6500.0));
    assert_close(crank.depth_m(90_f64.to_radians()) * 1e3, 50.745139, 1e-5);
    let fastest = crank.fastest_down_rad();
    assert_close(fastest.to_degrees(), 74.952, 5e-4);
    assert_close(crank.velocity_m_s(fastest, speed), 31.330209, 1e-5);
    assert_close(crank.fastest_up_rad().to_degrees(), -74.952, 5e-4);
    let hardest = crank.greatest_acceleration_rad();
    assert_close(hardest, 0.0, 1e-9);
    assert_close(crank.acceleration_m_s2(hardest, speed), 26415.366, 1e-2);
    assert_close(crank.acceleration_m_s2(hardest, speed) / 9.80665, 2693.6176, 1e-3);
    let minima = crank.acceleration_minima_rad();
    assert_eq!(minima.len(), 2);
    assert_close(minima[0].to_degrees(), 152.639, 1e-3);
    assert_close(minima[1].to_degrees(), 207.361, 1e-3);
    for minimum in minima {
        assert_close(crank.acceleration_m_s2(minimum, speed), -14640.228, 1e-2);
    }
    assert_close(crank.tdc_rad(), 0.0, 1e-12);
    assert_close(crank.bdc_rad().to_degrees(), 180.0, 1e-9);
    assert_close(crank.stroke_m() * 1e3, 88.392, 1e-9);
    assert_close(mean_piston_speed_m_s(crank.stroke_m(), speed), 19.1516, 1e-6);
    assert_close(rod_ratio(152.4, 88.392), 1.724138, 1e-6);
}

/// Geometry, in closed form: rω²(1 ± r/l) at the dead centres of a crank without offset.
#[test]
fn acceleration_at_the_dead_centres() {
    let crank = SliderCrank::new(0.04, 0.16, 0.0).unwrap();
    assert_close(crank.acceleration_m_s2(crank.tdc_rad(), 100.0), 0.04 * 1e4 * 1.25, 1e-9);
    assert_close(crank.acceleration_m_s2(crank.bdc_rad(), 100.0), -0.04 * 1e4 * 0.75, 1e-9);
}

/// Geometry: l + r = 25, l − r = 17 and e = 15 give √(625 − 225) = 20 at the top and √(289 − 225) = 8 at the bottom.
#[test]
fn an_offset_in_whole_numbers() {
    for (offset, turned) in [(15.0, 1.0), (-15.0, -1.0)] {
        let crank = SliderCrank::new(4.0, 21.0, offset).unwrap();
        assert_close(crank.stroke_m(), 12.0, 1e-12);
        assert_close(crank.pin_height_at_tdc_m(), 20.0, 1e-12);
        assert_close(crank.tdc_rad(), turned * (15.0_f64 / 25.0).asin(), 1e-12);
        assert_close(crank.bdc_rad() - std::f64::consts::PI, turned * (15.0_f64 / 17.0).asin(), 1e-12);
        assert_close(crank.depth_m(crank.bdc_rad()), 12.0, 1e-12);
        assert_close(SliderCrank::from_stroke(12.0, 21.0, offset).unwrap().throw_m(), 4.0, 1e-12);
    }
}

/// The sign: with the pin's line set over to where the throw goes after its top, TDC comes late.
#[test]
fn a_positive_offset_makes_tdc_late() {
    assert!(small_block(1e-3).tdc_rad() > 0.0 && small_block(-1e-3).tdc_rad() < 0.0);
}

/// The fourth derivative of x at BDC without offset is r·(1 − 4/n + 3/n³), zero at n = (3 + √21)/2 = 3.7913 (by series).
#[test]
fn a_long_rod_has_one_minimum() {
    let minima = |rod_m: f64| SliderCrank::new(1.0, rod_m, 0.0).unwrap().acceleration_minima_rad();
    for rod_m in [3.8, 5.0] {
        assert_eq!(minima(rod_m).len(), 1);
        assert_close(minima(rod_m)[0].to_degrees(), 180.0, 1e-3);
    }
    assert_eq!(minima(3.78).len(), 2);
}

/// Independent computation (closed form).
#[test]
fn rod_bolts_at_exhaust_tdc() {
    let masses = RodMasses { reciprocating_kg: 0.62 + 0.18, big_end_kg: 0.42, cap_kg: 0.15 };
    let load = small_block(0.0).rod_bolt_load(masses, 2, rad_s(6500.0)).unwrap();
    assert_close(load.rod_n, 26661.09, 0.05);
    assert_close(load.bolt_n, 13330.545, 0.05);
    let four = small_block(0.0).rod_bolt_load(masses, 4, rad_s(6500.0)).unwrap();
    assert_close(four.bolt_n, 13330.545 / 2.0, 0.05);
    assert_close(four.rod_n, load.rod_n, 1e-9);
}

#[test]
fn what_cannot_turn_is_refused() {
    use MotionFault::{CapHeavierThanBigEnd, Length, Mass, NoBolts, Offset, RodTooShort, Speed, StrokeTooLong};
    assert_eq!(SliderCrank::new(0.05, 0.05, 0.0), Err(RodTooShort));
    assert_eq!(SliderCrank::new(0.04, 0.05, -0.01), Err(RodTooShort));
    assert_eq!(SliderCrank::new(0.0, 0.15, 0.0), Err(Length { what: "throw" }));
    assert_eq!(SliderCrank::new(0.04, f64::NAN, 0.0), Err(Length { what: "rod" }));
    assert_eq!(SliderCrank::new(0.04, 0.15, f64::INFINITY), Err(Offset));
    assert_eq!(SliderCrank::from_stroke(0.1, 0.05, 0.0), Err(StrokeTooLong));
    assert_eq!(SliderCrank::from_stroke(0.1, 0.05, 0.06), Err(RodTooShort));
    // At most 2·√(21·(21 − 15)) = 22.45 of stroke.
    assert!(SliderCrank::from_stroke(22.44, 21.0, 15.0).is_ok());
    assert_eq!(SliderCrank::from_stroke(22.46, 21.0, 15.0), Err(StrokeTooLong));
    let masses = RodMasses { reciprocating_kg: 0.8, big_end_kg: 0.4, cap_kg: 0.1 };
    let load = |masses, bolts, speed| small_block(0.0).rod_bolt_load(masses, bolts, speed);
    assert_eq!(load(RodMasses { cap_kg: 0.5, ..masses }, 2, 1.0), Err(CapHeavierThanBigEnd));
    assert_eq!(load(RodMasses { big_end_kg: -0.1, ..masses }, 2, 1.0), Err(Mass { what: "big end" }));
    assert_eq!(load(masses, 0, 1.0), Err(NoBolts));
    assert_eq!(load(masses, 2, f64::INFINITY), Err(Speed));
}
