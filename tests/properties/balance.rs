//! Balance.

use std::f64::consts::{FRAC_PI_2, TAU};

use proptest::prelude::*;
use witnessmark::mechanics::balance::{
    Reciprocating, Throw, counterweight_kg, least_primary_factor, permissible_by_plane_kg_m,
    permissible_unbalance_kg_m, primary_residual,
};

proptest! {
    /// The residual is the bores' forces less the counterweight's, at every crank angle.
    #[test]
    fn the_residual_is_the_sum_of_its_forces(
        bores in prop::collection::vec((0.1_f64..2.0, -3.0_f64..3.0), 1..4), factor in 0.0_f64..1.0, angle in 0.0..TAU,
    ) {
        let cylinders: Vec<Reciprocating> =
            bores.iter().map(|&(mass_kg, bore_rad)| Reciprocating { mass_kg, bore_rad }).collect();
        let residual = primary_residual(&cylinders, 0.05, 100.0, factor).unwrap();
        let pull = 0.05 * 100.0 * 100.0;
        let (mut along, mut across) = (0.0, 0.0);
        for &(mass, bore) in &bores {
            let push = mass * pull * (angle - bore).cos();
            along += push * bore.cos() - factor * mass * pull * angle.cos();
            across += push * bore.sin() - factor * mass * pull * angle.sin();
        }
        let found = residual.at_n(angle);
        prop_assert!((found[0] - along).abs() < 1e-9 * pull && (found[1] - across).abs() < 1e-9 * pull);
        prop_assert!(along.hypot(across) <= residual.greatest_n() + 1e-9 * pull);
    }

    /// Half is the best factor for any vee on one pin.
    #[test]
    fn half_leaves_the_least(half_vee in 0.0..FRAC_PI_2, factor in 0.0_f64..1.0) {
        let pair = [-half_vee, half_vee].map(|bore_rad| Reciprocating { mass_kg: 0.8, bore_rad });
        let left = |factor: f64| primary_residual(&pair, 0.05, 100.0, factor).unwrap().greatest_n();
        prop_assert!(left(0.5) <= left(factor) + 1e-9);
        let one = 0.8 * 0.05 * 1e4;
        prop_assert!((left(0.5) - one * (2.0 * half_vee).cos().abs()).abs() < 1e-9);
    }

    /// Turning the whole crank, or counting places from elsewhere, changes nothing.
    #[test]
    fn the_factor_is_the_cranks_own(turned in -3.0_f64..3.0, moved in -10.0_f64..10.0, pick in 0_usize..4) {
        let angles: [&[f64]; 4] = [&[0.0, 180.0, 180.0, 0.0], &[0.0, 90.0, 270.0, 180.0], &[0.0, 120.0, 240.0], &[0.0]];
        let throws = |turned: f64, moved: f64| -> Vec<Throw> {
            let at = |(place, angle): (usize, &f64)| Throw {
                angle_rad: angle.to_radians() + turned, position_m: 0.1 * place as f64 + moved, reciprocating_kg: 0.8,
            };
            angles[pick].iter().enumerate().map(at).collect()
        };
        let (one, other) = (throws(0.0, 0.0), throws(turned, moved));
        prop_assert_eq!(least_primary_factor(&one), least_primary_factor(&other));
    }

    #[test]
    fn the_planes_share_the_whole(whole in 1e-6_f64..1e-2, a in 0.0_f64..1.0, b in 0.001_f64..1.0) {
        let [in_a, in_b] = permissible_by_plane_kg_m(whole, a, b).unwrap();
        prop_assert!((in_a + in_b - whole).abs() < 1e-12 * whole.max(1.0));
        prop_assert!(in_a >= 0.3 * whole - 1e-12 && in_b >= 0.3 * whole - 1e-12);
        prop_assert!((a <= b) == (in_a >= in_b) || (a - b).abs() < 1e-9);
    }

    #[test]
    fn any_numbers_give_a_fault_or_figures(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
        let finite = |found: Result<f64, _>| found.map_or(true, |figure: f64| figure.is_finite());
        prop_assert!(finite(permissible_unbalance_kg_m(a, b, c)));
        prop_assert!(finite(counterweight_kg(a, b, c)));
        let one = [Reciprocating { mass_kg: a, bore_rad: b }];
        prop_assert!(finite(primary_residual(&one, c, d, 0.3).map(|residual| residual.greatest_n())));
        let throw = Throw { angle_rad: a, position_m: b, reciprocating_kg: c };
        prop_assert!(finite(least_primary_factor(&[throw])));
        prop_assert!(permissible_by_plane_kg_m(a, b, c).map_or(true, |planes| planes.iter().all(|plane| plane.is_finite())));
    }
}
