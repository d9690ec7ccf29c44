//! The piston's motion.

use std::f64::consts::{FRAC_PI_2, TAU};

use proptest::prelude::*;
use witnessmark::mechanics::motion::{RodMasses, SliderCrank};

/// Throw 1 mm to 1 m, rod longer than the throw by a hair to several times, offset up to what is left.
fn any_crank() -> impl Strategy<Value = SliderCrank> {
    (1e-3_f64..1.0, 1e-6_f64..5.0, -0.99_f64..0.99).prop_map(|(throw_m, spare, share)| {
        let spare_m = throw_m * spare;
        SliderCrank::new(throw_m, throw_m + spare_m, share * spare_m).unwrap()
    })
}

/// As engines have them: rods of 2.6 to 5 throws, offsets up to a fifth of the throw.
fn usual_crank() -> impl Strategy<Value = SliderCrank> {
    (0.02_f64..0.08, 2.6_f64..5.0, -0.2_f64..0.2)
        .prop_map(|(throw_m, ratio, share)| SliderCrank::new(throw_m, throw_m * ratio, throw_m * share).unwrap())
}

proptest! {
    #[test]
    fn any_numbers_give_a_fault_or_figures(
        throw_m in any::<f64>(), rod_m in any::<f64>(), offset_m in any::<f64>(), angle in any::<f64>(), mass in any::<f64>(),
    ) {
        for crank in [SliderCrank::new(throw_m, rod_m, offset_m), SliderCrank::from_stroke(throw_m, rod_m, offset_m)] {
            let _ = crank.map(|crank| crank.rod_bolt_load(
                RodMasses { reciprocating_kg: mass, big_end_kg: mass, cap_kg: mass }, 2, angle));
        }
    }

    #[test]
    fn figures_are_finite(crank in any_crank(), angle in -1e9_f64..1e9, speed in 0.0_f64..1e5) {
        prop_assert!(crank.depth_m(angle).is_finite());
        prop_assert!(crank.velocity_m_s(angle, speed).is_finite());
        prop_assert!(crank.acceleration_m_s2(angle, speed).is_finite());
        for found in [crank.fastest_down_rad(), crank.fastest_up_rad(), crank.greatest_acceleration_rad()] {
            prop_assert!((-FRAC_PI_2..=3.0 * FRAC_PI_2).contains(&found));
        }
        prop_assert!(!crank.acceleration_minima_rad().is_empty());
    }

    #[test]
    fn depth_lies_between_the_dead_centres(crank in any_crank(), angle in -10.0_f64..10.0) {
        let grain = 1e-13 * crank.pin_height_at_tdc_m();
        prop_assert!(crank.depth_m(crank.tdc_rad()) <= grain);
        prop_assert!((crank.depth_m(crank.bdc_rad()) - crank.stroke_m()).abs() <= 1e-6 * crank.stroke_m());
        prop_assert!((0.0..=crank.stroke_m() + grain).contains(&crank.depth_m(angle)));
        prop_assert!(crank.stroke_m() >= 2.0 * crank.throw_m() * (1.0 - 1e-12));
    }

    #[test]
    fn down_from_tdc_to_bdc_and_up_again(crank in usual_crank(), one in 0.0_f64..1.0, other in 0.0_f64..1.0) {
        let (early, late) = (one.min(other), one.max(other));
        let down = |share: f64| crank.depth_m(crank.tdc_rad() + share * (crank.bdc_rad() - crank.tdc_rad()));
        let up = |share: f64| crank.depth_m(crank.bdc_rad() + share * (crank.tdc_rad() + TAU - crank.bdc_rad()));
        prop_assert!(down(early) <= down(late) + 1e-15 && up(early) >= up(late) - 1e-15);
    }

    #[test]
    fn velocity_and_acceleration_are_the_slopes(crank in usual_crank(), angle in -7.0_f64..7.0) {
        let step = 1e-4;
        let slope = |f: &dyn Fn(f64) -> f64| (f(angle + step) - f(angle - step)) / (2.0 * step);
        let close = |one: f64, other: f64| (one - other).abs() < 1e-5 * crank.throw_m();
        prop_assert!(close(slope(&|at| crank.depth_m(at)), crank.velocity_m_s(angle, 1.0)));
        prop_assert!(close(slope(&|at| crank.velocity_m_s(at, 1.0)), crank.acceleration_m_s2(angle, 1.0)));
    }

    #[test]
    fn the_peaks_are_peaks(crank in any_crank(), angle in -FRAC_PI_2..3.0 * FRAC_PI_2) {
        let velocity = |at: f64| crank.velocity_m_s(at, 1.0);
        let acceleration = |at: f64| crank.acceleration_m_s2(at, 1.0);
        let grain = |peak: f64| 1e-6 * peak.abs();
        let (down, up) = (velocity(crank.fastest_down_rad()), velocity(crank.fastest_up_rad()));
        prop_assert!(velocity(angle) <= down + grain(down) && velocity(angle) >= up - grain(up));
        let most = acceleration(crank.greatest_acceleration_rad());
        prop_assert!(acceleration(angle) <= most + grain(most));
        let least = crank.acceleration_minima_rad().into_iter().map(acceleration).fold(f64::INFINITY, f64::min);
        prop_assert!(acceleration(angle) >= least - grain(least));
    }

    /// Turning the offset over is running the crank backward.
    #[test]
    fn the_mirror(crank in 0.02_f64..0.08, offset in -0.01_f64..0.01, angle in -7.0_f64..7.0) {
        let (one, other) = (SliderCrank::new(crank, 0.15, offset).unwrap(), SliderCrank::new(crank, 0.15, -offset).unwrap());
        prop_assert!((one.depth_m(angle) - other.depth_m(-angle)).abs() < 1e-15);
        prop_assert!((one.velocity_m_s(angle, 1.0) + other.velocity_m_s(-angle, 1.0)).abs() < 1e-15);
        prop_assert!((one.acceleration_m_s2(angle, 1.0) - other.acceleration_m_s2(-angle, 1.0)).abs() < 1e-15);
        prop_assert!((one.stroke_m() - other.stroke_m()).abs() < 1e-15);
    }

    #[test]
    fn the_throw_of_a_stroke(throw_m in 1e-3_f64..1.0, spare in 1e-3_f64..5.0, share in -0.99_f64..0.99) {
        let rod_m = throw_m * (1.0 + spare);
        let offset_m = share * throw_m * spare;
        let crank = SliderCrank::new(throw_m, rod_m, offset_m).unwrap();
        let back = SliderCrank::from_stroke(crank.stroke_m(), rod_m, offset_m).unwrap();
        prop_assert!((back.throw_m() / throw_m - 1.0).abs() < 1e-9);
    }

    #[test]
    fn bolts_feel_the_square_of_speed(crank in usual_crank(), speed in 1.0_f64..1500.0, bolts in 1_u8..5) {
        let masses = RodMasses { reciprocating_kg: 0.8, big_end_kg: 0.4, cap_kg: 0.15 };
        let load = |times: f64| crank.rod_bolt_load(masses, bolts, times * speed).unwrap();
        prop_assert!((load(2.0).rod_n / load(1.0).rod_n - 4.0).abs() < 1e-9);
        prop_assert!((load(1.0).bolt_n * f64::from(bolts) / load(1.0).rod_n - 1.0).abs() < 1e-12);
    }
}
