//! Ring gaps: heat may raise the maker's gap and never lower it; opening by what is said reaches what is needed.

use proptest::prelude::*;
use witnessmark::mechanics::ring::{
    back_clearance_m, closure_m, gap_change_m, hot_gap_m, needed_gap_m, side_clearance_m, to_open_m,
};
use witnessmark::mechanics::thermal::Warmed;

fn any_warmed() -> impl Strategy<Value = Warmed> {
    (5e-6_f64..30e-6, -60.0_f64..400.0).prop_map(|(alpha_per_k, rise_k)| Warmed { alpha_per_k, rise_k })
}

proptest! {
    #[test]
    fn never_below_the_makers(
        makers in 1e-5_f64..2e-3, closure in -2e-3_f64..2e-3, margin in 0.0_f64..5e-4, gap in 0.0_f64..2e-3,
    ) {
        let needed = needed_gap_m(makers, closure, margin).unwrap();
        prop_assert!(needed >= makers);
        prop_assert!(hot_gap_m(needed, closure) >= margin - 1e-15);
        prop_assert!(needed <= makers.max(closure + margin));
        prop_assert!((gap + to_open_m(needed, gap) - needed).abs() < 1e-15);
    }

    /// To first order a ring's closure is what the bore's and its own growth make around the bore.
    #[test]
    fn closure_is_antisymmetric(bore in 0.04_f64..0.2, one in any_warmed(), other in any_warmed()) {
        prop_assert!((closure_m(bore, one, other) + closure_m(bore, other, one)).abs() < 1e-15);
        prop_assert!(closure_m(bore, one, one).abs() < 1e-15);
        let still = Warmed { alpha_per_k: 0.0, rise_k: 0.0 };
        let grown = bore * one.strain();
        prop_assert!((closure_m(bore, still, one) + gap_change_m(grown)).abs() < 1e-15);
    }

    /// Groove clearances come back from parts made to them.
    #[test]
    fn grooves(
        bore in 0.05_f64..0.15, wall in 1e-3_f64..6e-3, back in 1e-5_f64..1e-3,
        width in 8e-4_f64..4e-3, side in 1e-6_f64..1e-4,
    ) {
        let root = bore - 2.0 * (wall + back);
        prop_assert!((back_clearance_m(bore, root, wall).unwrap() - back).abs() < 1e-15);
        prop_assert!(back_clearance_m(bore, root, wall + back + 1e-6).is_err());
        prop_assert!((side_clearance_m(width + side, width).unwrap() - side).abs() < 1e-15);
        prop_assert!(side_clearance_m(width, width + side).is_err());
    }
}
