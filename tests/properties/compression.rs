//! Compression.

use proptest::prelude::*;
use witnessmark::mechanics::compression::{
    ClearanceParts, circle_area_m2, clearance_for_ratio_m3, clearance_volume_m3, compression_ratio, crevice_volume_m3,
    crown_volume_m3, deck_cut_m, deck_reading, deck_volume_m3, effective_ratio, head_mill_m, volume_to_remove_m3,
};
use witnessmark::mechanics::crank::displacement_m3;
use witnessmark::mechanics::motion::SliderCrank;

fn finite_or_refused<E>(found: Result<f64, E>) -> bool {
    found.map_or(true, f64::is_finite)
}

proptest! {
    #[test]
    fn any_numbers_give_a_fault_or_a_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
        prop_assert!(finite_or_refused(crevice_volume_m3(a, b, c)));
        prop_assert!(finite_or_refused(compression_ratio(a, b)));
        prop_assert!(finite_or_refused(clearance_for_ratio_m3(a, b)));
        prop_assert!(finite_or_refused(volume_to_remove_m3(a, b, c)));
        prop_assert!(finite_or_refused(deck_cut_m(a, b)));
        prop_assert!(finite_or_refused(head_mill_m(a, b, c)));
        let parts = ClearanceParts { chamber_m3: a, gasket_m3: b, deck_m3: c, dish_m3: d, dome_m3: a, crevice_m3: b };
        prop_assert!(finite_or_refused(clearance_volume_m3(parts)));
        let crank = SliderCrank::new(0.044, 0.15, 0.001).unwrap();
        prop_assert!(finite_or_refused(effective_ratio(a, &crank, b, c)));
    }

    #[test]
    fn extremes_give_a_fault_or_a_figure(small in 0.0_f64..1e-9, large in 1.0_f64..1e300, near in 1.0_f64..1.000_001) {
        for (a, b) in [(small, large), (large, small), (small, small), (large, large)] {
            prop_assert!(finite_or_refused(compression_ratio(a, b)));
            prop_assert!(finite_or_refused(volume_to_remove_m3(a, b, near)));
            prop_assert!(finite_or_refused(deck_cut_m(a, b)));
            prop_assert!(finite_or_refused(head_mill_m(a, b, small)));
        }
    }

    /// Taking out what is asked makes the ratio asked, whether off the deck or off the head.
    #[test]
    fn the_cut_makes_the_ratio(
        bore in 0.05_f64..0.15, stroke in 0.05_f64..0.15, chamber in 2e-5_f64..2e-4, deck in 0.0_f64..2e-3,
        ratio in 6.0_f64..16.0,
    ) {
        let swept = displacement_m3(bore, stroke, 1);
        let parts = ClearanceParts {
            chamber_m3: chamber, gasket_m3: 8e-6, deck_m3: deck_volume_m3(bore, deck), ..ClearanceParts::default()
        };
        let before = clearance_volume_m3(parts).unwrap();
        let remove = volume_to_remove_m3(swept, before, ratio).unwrap();
        let cut = deck_cut_m(bore, remove).unwrap();
        let decked = ClearanceParts { deck_m3: deck_volume_m3(bore, deck - cut), ..parts };
        let found = compression_ratio(swept, clearance_volume_m3(decked).unwrap()).unwrap();
        prop_assert!((found / ratio - 1.0).abs() < 1e-9);
        let open = 0.7 * circle_area_m2(bore);
        if let Ok(mill) = head_mill_m(chamber, open, remove) {
            let milled = ClearanceParts { chamber_m3: (chamber - mill * open).max(0.0), ..parts };
            let found = compression_ratio(swept, clearance_volume_m3(milled).unwrap()).unwrap();
            prop_assert!((found / ratio - 1.0).abs() < 1e-9);
        } else {
            prop_assert!(remove > chamber);
        }
    }

    #[test]
    fn ratio_and_clearance_are_inverse(swept in 1e-5_f64..1e-2, ratio in 1.01_f64..30.0) {
        let back = compression_ratio(swept, clearance_for_ratio_m3(swept, ratio).unwrap()).unwrap();
        prop_assert!((back / ratio - 1.0).abs() < 1e-12);
    }

    #[test]
    fn more_room_is_less_ratio(swept in 1e-4_f64..1e-3, clearance in 2e-5_f64..2e-4, more in 1e-8_f64..1e-4) {
        prop_assert!(compression_ratio(swept, clearance + more).unwrap() < compression_ratio(swept, clearance).unwrap());
    }

    /// From BDC on the later the valve closes the less is left; at BDC itself it is the compression ratio.
    #[test]
    fn closing_later_leaves_less(
        offset in -0.012_f64..0.012, one in 0.0_f64..2.5, other in 0.0_f64..2.5, clearance in 2e-5_f64..2e-4,
    ) {
        let (early, late) = (one.min(other), one.max(other));
        let crank = SliderCrank::new(0.044, 0.15, offset).unwrap();
        let at = |closing: f64| effective_ratio(0.1, &crank, clearance, closing).unwrap();
        prop_assert!(at(late) <= at(early) && at(late) >= 1.0);
        let full = compression_ratio(displacement_m3(0.1, crank.stroke_m(), 1), clearance).unwrap();
        prop_assert!((at(0.0) / full - 1.0).abs() < 1e-9);
    }

    /// What is poured in over a crown gives the crown back, dish or dome.
    #[test]
    fn a_crown_is_found_again(bore in 0.05_f64..0.15, depth in 5e-3_f64..2e-2, crown in -1e-5_f64..2e-5) {
        let poured = deck_volume_m3(bore, depth) + crown;
        prop_assert!((crown_volume_m3(bore, depth, poured) - crown).abs() < 1e-15);
    }

    #[test]
    fn rock_does_not_move_the_mean(deck in -1e-3_f64..1e-3, rock in -2e-4_f64..2e-4) {
        let reading = deck_reading(deck + rock / 2.0, deck - rock / 2.0);
        prop_assert!((reading.mean_m - deck).abs() < 1e-15 && (reading.rock_m - rock).abs() < 1e-15);
    }
}
