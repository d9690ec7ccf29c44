//! Press fits of any parts that can be: finite, tighter holds more, and zero holds nothing.

use proptest::prelude::*;
use witnessmark::mechanics::press_fit::{
    Elastic, Grip, Joint, heat_to_fit_k, holds_n, lost_at_rise_k, warm_interference_m,
};
use witnessmark::mechanics::thermal::Warmed;

fn any_metal() -> impl Strategy<Value = Elastic> {
    (10e9_f64..400e9, 0.0_f64..0.49).prop_map(|(modulus_pa, poisson)| Elastic { modulus_pa, poisson })
}

fn any_joint() -> impl Strategy<Value = Joint> {
    (0.001_f64..0.5, 0.0_f64..0.99, 1.001_f64..10.0, any_metal(), any_metal()).prop_map(
        |(at_m, inside, outside, inner, outer)| Joint {
            at_m,
            inside_m: at_m * inside,
            outside_m: at_m * outside,
            inner,
            outer,
        },
    )
}

proptest! {
    #[test]
    fn what_is_tighter_presses_more(joint in any_joint(), tight in 1e-7_f64..1e-3, tighter in 1.01_f64..2.0) {
        let interference = tight * joint.at_m;
        let less = joint.pressed(interference).unwrap();
        let more = joint.pressed(interference * tighter).unwrap();
        prop_assert!(less.pressure_pa > 0.0 && more.pressure_pa.is_finite());
        // The pressure is in proportion to the interference.
        prop_assert!((more.pressure_pa / less.pressure_pa / tighter - 1.0).abs() < 1e-9);
        prop_assert!(less.outer_hoop_pa >= less.pressure_pa && less.inner_hoop_pa <= -less.pressure_pa);
        // No bore closes by more than the interference and what its wall thins by: less than twice it.
        prop_assert!(less.bore_closes_m >= 0.0 && less.bore_closes_m < 2.0 * interference);
        prop_assert!(joint.pressed(-interference).unwrap().pressure_pa.abs() < f64::MIN_POSITIVE);
    }

    /// What moves outward of the outer part and inward of the inner part make up the interference.
    #[test]
    fn the_two_parts_give_way_by_the_interference(joint in any_joint(), tight in 1e-6_f64..1e-3) {
        let interference = tight * joint.at_m;
        let pressed = joint.pressed(interference).unwrap();
        // At the joint: u = R·(σ_θ − ν·σ_r)/E with σ_r = −p.
        let moved = |hoop: f64, of: Elastic| (hoop + of.poisson * pressed.pressure_pa) / of.modulus_pa * joint.at_m;
        let apart = moved(pressed.outer_hoop_pa, joint.outer) - moved(pressed.inner_hoop_pa, joint.inner);
        prop_assert!((apart / interference - 1.0).abs() < 1e-9, "{apart} {interference}");
    }

    #[test]
    fn at_the_heat_that_loses_it_nothing_is_left(
        at_m in 0.005_f64..0.3, tight in 1e-4_f64..2e-3, inner in 5e-6_f64..30e-6, outer in 5e-6_f64..30e-6,
    ) {
        let cold = tight * at_m;
        if let Some(rise_k) = lost_at_rise_k(cold, at_m, inner, outer).unwrap() {
            let warmed = |alpha_per_k| Warmed { alpha_per_k, rise_k };
            let left = warm_interference_m(cold, at_m, warmed(inner), warmed(outer));
            prop_assert!(left.abs() < 1e-9 * at_m, "{left}");
        }
        let kelvin = heat_to_fit_k(cold, 0.0, at_m, outer).unwrap();
        let cold_part = Warmed { alpha_per_k: inner, rise_k: 0.0 };
        let left = warm_interference_m(cold, at_m, cold_part, Warmed { alpha_per_k: outer, rise_k: kelvin });
        prop_assert!(left.abs() < 1e-9 * at_m, "{left}");
    }

    /// Whatever is asked, the answer is a figure or a fault.
    #[test]
    fn no_figure_is_none(
        at_m in prop::num::f64::NORMAL | prop::num::f64::ZERO, inside_m in prop::num::f64::NORMAL | prop::num::f64::ZERO,
        outside_m in prop::num::f64::NORMAL, modulus_pa in prop::num::f64::NORMAL, interference in prop::num::f64::NORMAL,
        length_m in prop::num::f64::NORMAL, friction in prop::num::f64::NORMAL,
    ) {
        let metal = Elastic { modulus_pa, poisson: 0.3 };
        let joint = Joint { at_m, inside_m, outside_m, inner: metal, outer: metal };
        if let Ok(pressed) = joint.pressed(interference) {
            prop_assert!(pressed.pressure_pa.is_finite() && pressed.bore_closes_m.is_finite());
            if let Ok(holds) = holds_n(at_m, pressed.pressure_pa, Grip { length_m, friction, bond_pa: 0.0 }) {
                prop_assert!(holds.is_finite() && holds >= 0.0);
            }
        }
    }
}
