//! Clearance, crush and heat: inverses, bounds, and no figure that is not a number.

use proptest::prelude::*;
use witnessmark::mechanics::bearing::{
    Halves, Limits, clearance_from_housing_m, clearance_with_other_halves_m, crush, worst_case_clearance,
};
use witnessmark::mechanics::thermal::{Sizes, Warmed, Warmth, clearance_change_m, cold_clearance_m, hot_clearance_m};

fn any_limits() -> impl Strategy<Value = Limits> {
    (1e-3_f64..0.2, 0.0_f64..1e-4).prop_map(|(min_m, more)| Limits { min_m, max_m: min_m + more })
}

fn any_halves() -> impl Strategy<Value = Halves> {
    (-1e-3_f64..1e-3, -1e-3_f64..1e-3)
        .prop_map(|(upper_undersize_m, lower_undersize_m)| Halves { upper_undersize_m, lower_undersize_m })
}

fn any_warmed() -> impl Strategy<Value = Warmed> {
    (5e-6_f64..30e-6, -60.0_f64..200.0).prop_map(|(alpha_per_k, rise_k)| Warmed { alpha_per_k, rise_k })
}

fn any_warmth() -> impl Strategy<Value = Warmth> {
    (any_warmed(), any_warmed(), any_warmed(), any_warmed()).prop_map(|(block, cap, shell, journal)| Warmth {
        block,
        cap,
        shell,
        journal,
    })
}

fn any_sizes() -> impl Strategy<Value = Sizes> {
    (0.02_f64..0.2, 0.01_f64..0.1, 0.5_f64..1.0).prop_map(|(housing_m, wall, journal)| Sizes {
        housing_m,
        wall_m: wall * housing_m,
        journal_m: journal * housing_m,
    })
}

proptest! {
    /// Whatever each part is within its limits, the clearance is within the worst case, which some parts reach.
    #[test]
    fn the_worst_case_bounds_all(
        housing in any_limits(), upper in any_limits(), lower in any_limits(), journal in any_limits(),
        at in proptest::array::uniform4(0.0_f64..=1.0),
    ) {
        let worst = worst_case_clearance(housing, upper, lower, journal).unwrap();
        let size = |limits: Limits, at: f64| limits.min_m + at * (limits.max_m - limits.min_m);
        let (upper_m, lower_m) = (size(upper, at[1]), size(lower, at[2]));
        let some = clearance_from_housing_m(size(housing, at[0]), upper_m, lower_m, size(journal, at[3]));
        prop_assert!(worst.min_m - 1e-15 <= some && some <= worst.max_m + 1e-15);
        let reached = clearance_from_housing_m(housing.min_m, upper.max_m, lower.max_m, journal.max_m);
        prop_assert!((reached - worst.min_m).abs() < 1e-15);
    }

    /// There and back is the same clearance, two changes are one, and upper and lower may change places.
    #[test]
    fn other_halves_and_back(
        clearance in 0.0_f64..2e-4, one in any_halves(), two in any_halves(), three in any_halves(),
    ) {
        let there = clearance_with_other_halves_m(clearance, one, two);
        prop_assert!((clearance_with_other_halves_m(there, two, one) - clearance).abs() < 1e-15);
        let on = clearance_with_other_halves_m(there, two, three);
        prop_assert!((on - clearance_with_other_halves_m(clearance, one, three)).abs() < 1e-15);
        let swapped = Halves { upper_undersize_m: two.lower_undersize_m, lower_undersize_m: two.upper_undersize_m };
        prop_assert!((there - clearance_with_other_halves_m(clearance, one, swapped)).abs() < 1e-15);
    }

    #[test]
    fn crush_is_proportional(
        excess in 0.0_f64..2e-4, bore in 0.02_f64..0.2, wall in 0.01_f64..0.1, modulus in 50e9_f64..250e9,
    ) {
        let of = |excess| crush(excess, bore, wall * bore, modulus).unwrap();
        let (one, two) = (of(excess), of(2.0 * excess));
        prop_assert!((two.interference_m - 2.0 * one.interference_m).abs() <= 1e-12 * two.interference_m);
        prop_assert!((two.hoop_stress_pa - 2.0 * one.hoop_stress_pa).abs() <= 1e-12 * two.hoop_stress_pa);
        let pressures = [one.contact_pressure_pa, two.contact_pressure_pa];
        prop_assert!((pressures[1] - 2.0 * pressures[0]).abs() <= 1e-12 * pressures[1]);
    }

    #[test]
    fn crush_is_finite_or_a_fault(
        given in proptest::array::uniform4(prop_oneof![proptest::num::f64::NORMAL, 0.0_f64..0.1, 1e9_f64..1e12]),
    ) {
        if let Ok(found) = crush(given[0], given[1], given[2], given[3]) {
            prop_assert!(found.interference_m.is_finite() && found.interference_m >= 0.0);
            prop_assert!(found.hoop_stress_pa.is_finite() && found.contact_pressure_pa.is_finite());
        }
    }

    #[test]
    fn hot_and_cold_are_inverse(clearance in 0.0_f64..3e-4, sizes in any_sizes(), warmth in any_warmth()) {
        let hot = hot_clearance_m(clearance, sizes, warmth).unwrap();
        prop_assert!((cold_clearance_m(hot, sizes, warmth).unwrap() - clearance).abs() < 1e-15);
    }

    /// A warmer housing opens, a warmer journal closes, and an engine of one metal at one temperature only scales.
    #[test]
    fn heat_opens_and_closes(sizes in any_sizes(), warmth in any_warmth(), more in 0.1_f64..100.0) {
        let change = |warmth| clearance_change_m(sizes, warmth).unwrap();
        let warmer = |part: Warmed| Warmed { rise_k: part.rise_k + more, ..part };
        let block_warmer = change(Warmth { block: warmer(warmth.block), ..warmth });
        prop_assert!(block_warmer > change(warmth));
        let cap_warmer = change(Warmth { cap: warmer(warmth.cap), ..warmth });
        prop_assert!(cap_warmer > change(warmth));
        let journal_warmer = change(Warmth { journal: warmer(warmth.journal), ..warmth });
        prop_assert!(journal_warmer < change(warmth));
        let one = warmth.block;
        let clearance = sizes.housing_m - 2.0 * sizes.wall_m - sizes.journal_m;
        let all_one = Warmth { block: one, cap: one, shell: one, journal: one };
        prop_assert!((change(all_one) - clearance * one.strain()).abs() < 1e-15);
    }

    /// With a cap of another metal the change lies between that of all block and that of all cap.
    #[test]
    fn a_mixed_housing_lies_between(sizes in any_sizes(), warmth in any_warmth()) {
        let change = |block, cap| clearance_change_m(sizes, Warmth { block, cap, ..warmth }).unwrap();
        let (block, cap) = (change(warmth.block, warmth.block), change(warmth.cap, warmth.cap));
        let mixed = change(warmth.block, warmth.cap);
        prop_assert!(block.min(cap) - 1e-15 <= mixed && mixed <= block.max(cap) + 1e-15);
    }
}
