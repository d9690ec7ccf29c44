//! Mean, standard deviation, ranges and temperature: what shifting and scaling must do.

use proptest::prelude::*;
use witnessmark::metrology::{mean_of, range_within_noise, standard_deviation, to_20};

fn readings() -> impl Strategy<Value = Vec<f64>> {
    proptest::collection::vec(-100.0_f64..100.0, 2..30)
}

proptest! {
    #[test]
    fn shifting_moves_the_mean_and_not_the_spread(readings in readings(), by in -1e4_f64..1e4) {
        let shifted: Vec<f64> = readings.iter().map(|x| x + by).collect();
        prop_assert!((mean_of(&shifted).unwrap() - mean_of(&readings).unwrap() - by).abs() < 1e-9);
        prop_assert!((standard_deviation(&shifted).unwrap() - standard_deviation(&readings).unwrap()).abs() < 1e-9);
    }

    #[test]
    fn scaling_scales_both(readings in readings(), by in 0.01_f64..100.0) {
        let scaled: Vec<f64> = readings.iter().map(|x| x * by).collect();
        prop_assert!((mean_of(&scaled).unwrap() - mean_of(&readings).unwrap() * by).abs() < 1e-9 * by.max(1.0));
        prop_assert!((standard_deviation(&scaled).unwrap() - standard_deviation(&readings).unwrap() * by).abs() < 1e-8);
    }

    #[test]
    fn order_does_not_matter(mut readings in readings()) {
        let (mean, sd) = (mean_of(&readings).unwrap(), standard_deviation(&readings).unwrap());
        readings.reverse();
        prop_assert!((mean_of(&readings).unwrap() - mean).abs() < 1e-10);
        prop_assert!((standard_deviation(&readings).unwrap() - sd).abs() < 1e-10);
    }

    /// A range that is within the noise of a gauge is so for every coarser gauge, and for every smaller range.
    #[test]
    fn noise_is_monotone(range in 0.0_f64..10.0, n in 2_usize..30, u in 0.0_f64..5.0, more in 1.0_f64..3.0) {
        if range_within_noise(range, n, u) {
            prop_assert!(range_within_noise(range, n, u * more));
            prop_assert!(range_within_noise(range / more, n, u));
            prop_assert!(range_within_noise(range, n + 1, u));
        }
    }

    /// A part at 20 °C grown and read warm comes back to its size.
    #[test]
    fn warmed_and_corrected(size in 0.01_f64..0.5, alpha in 8e-6_f64..28e-6, celsius in 0.0_f64..40.0, gauge in 0.0_f64..40.0) {
        let steel = 11.5e-6;
        let indicated = size * (1.0 + alpha * (celsius - 20.0)) / (1.0 + steel * (gauge - 20.0));
        prop_assert!((to_20(indicated, alpha, celsius, steel, gauge) - size).abs() < 1e-15);
    }
}
