//! Shim packs against looking at every pack.

use proptest::prelude::*;
use witnessmark::mechanics::shim::{Leaves, Pack, shim_packs};

proptest! {
    #[test]
    fn nearest_of_all(
        clearance in 1_i32..200, pack in 0_i32..400, target in 1_i32..200,
        leaves in proptest::collection::vec((1_u8..60, 0_u8..5), 0..4),
    ) {
        let micrometres = |figure: i32| f64::from(figure) * 1e-6;
        let leaf = |leaf: &(u8, u8)| Leaves { thickness_m: micrometres(i32::from(leaf.0)), count: leaf.1 };
        let given: Vec<Leaves> = leaves.iter().map(leaf).collect();
        let mut all = vec![clearance - pack];
        for (thickness, count) in &leaves {
            let (thickness, count) = (i32::from(*thickness), i32::from(*count));
            all = all.iter().flat_map(|base| (0..=count).map(move |n| base + n * thickness)).collect();
        }
        let packs = shim_packs(micrometres(clearance), micrometres(pack), &given, micrometres(target)).unwrap();
        let found = |pack: Option<&Pack>| pack.map(|pack| format!("{:.3}", pack.clearance_m * 1e6));
        let expected = |figure: Option<i32>| figure.map(|figure| format!("{figure}.000"));
        let usable = || all.iter().copied().filter(|clearance| *clearance > 0);
        prop_assert_eq!(found(packs.below.as_ref()), expected(usable().filter(|it| *it <= target).max()));
        prop_assert_eq!(found(packs.above.as_ref()), expected(usable().filter(|it| *it >= target).min()));
        for pack in [packs.below, packs.above].into_iter().flatten() {
            let leaves = pack.counts.iter().zip(&given);
            let sum: f64 = leaves.map(|(count, leaf)| f64::from(*count) * leaf.thickness_m).sum();
            prop_assert!((sum - pack.thickness_m).abs() < 1e-12);
            prop_assert!(pack.counts.iter().zip(&given).all(|(count, leaf)| *count <= leaf.count));
        }
    }
}
