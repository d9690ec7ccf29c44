//! Causes of disagreement: mirrored, in any order, and none where all agree.

use proptest::prelude::*;
use witnessmark::mechanics::routes::{Cause, Disagreement, causes};

fn mirrored(cause: Cause) -> Cause {
    match cause {
        Cause::ZeroOrTorque { mean_m } => Cause::ZeroOrTorque { mean_m: -mean_m },
        Cause::OtherShell { bearing, wall_difference_m } => {
            Cause::OtherShell { bearing, wall_difference_m: -wall_difference_m }
        }
        other => other,
    }
}

proptest! {
    #[test]
    fn mirror_and_silence(
        found in proptest::collection::vec((-3e-5_f64..3e-5, 1e-6_f64..1e-5), 0..9),
        walls in proptest::collection::vec(0.0_f64..2e-5, 0..4),
    ) {
        let all = |sign: f64| -> Vec<Disagreement> {
            let each = |found: &(f64, f64)| Disagreement { difference_m: sign * found.0, expanded_m: found.1 };
            found.iter().map(each).collect()
        };
        let named = causes(&all(1.0), &walls);
        prop_assert_eq!(causes(&all(-1.0), &walls), named.iter().copied().map(mirrored).collect::<Vec<Cause>>());
        prop_assert_eq!(named.is_empty(), found.iter().all(|(difference, expanded)| difference.abs() <= *expanded));
        prop_assert!(!named.contains(&Cause::Unclear) || named.len() == 1);
    }
}
