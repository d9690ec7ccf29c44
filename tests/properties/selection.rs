//! Chosen half shells against looking at every choice.

use proptest::prelude::*;
use witnessmark::mechanics::bearing::Halves;
use witnessmark::mechanics::selection::{
    Choice, Fits, HalfShell, SelectionFault, Wanted, nominal_pairs, select_shells,
};

/// Deviations closer than this are taken for the same; sizes here are a thousand times coarser.
const SAME_M: f64 = 2e-12;
const STEP_M: f64 = 25.4e-6;

/// Walls to a whole micrometre, so that some are alike, or to a thousandth of one.
fn any_shelf(most: usize) -> impl Strategy<Value = Vec<HalfShell>> {
    let fits = proptest::sample::select(vec![Fits::Upper, Fits::Lower, Fits::Either, Fits::Either]);
    let half = (0_u16..12, 0_u16..1000, 0_u8..3, fits);
    (any::<bool>(), proptest::collection::vec(half, 1..=most)).prop_map(|(fine, halves)| {
        let made = |(wall, part, step, fits): (u16, u16, u8, Fits)| HalfShell {
            wall_m: 2.4e-3 + f64::from(wall) * 1e-6 + f64::from(part) * f64::from(u8::from(fine)) * 1e-9,
            undersize_m: f64::from(step) * STEP_M,
            fits,
        };
        halves.into_iter().map(made).collect()
    })
}

fn any_bearings(most: usize) -> impl Strategy<Value = Vec<Wanted>> {
    let wanted = (0_u16..24, 0_u16..20).prop_map(|(housing, target)| Wanted {
        housing_m: 64.858e-3 + f64::from(housing) * 1e-6,
        journal_m: 60e-3,
        target_m: 50e-6 + f64::from(target) * 1e-6,
    });
    proptest::collection::vec(wanted, 1..=most)
}

/// Every choice there is: largest deviation and sum, and the walls for each bearing, thinner first.
type Every = Vec<(f64, f64, Vec<[u64; 2]>)>;

fn every(bearings: &[Wanted], shelf: &[HalfShell], apart: f64, used: &mut Vec<usize>) -> Every {
    let Some((wanted, rest)) = bearings.split_first() else { return vec![(0.0, 0.0, Vec::new())] };
    let mut all = Vec::new();
    for upper in 0..shelf.len() {
        for lower in 0..shelf.len() {
            let (one, other) = (shelf[upper], shelf[lower]);
            let allowed = upper != lower
                && !used.contains(&upper)
                && !used.contains(&lower)
                && one.fits != Fits::Lower
                && other.fits != Fits::Upper
                && (one.undersize_m - other.undersize_m).abs() <= apart + 1e-9;
            if !allowed {
                continue;
            }
            let off = (wanted.housing_m - one.wall_m - other.wall_m - wanted.journal_m - wanted.target_m).abs();
            let mut walls = [one.wall_m.to_bits(), other.wall_m.to_bits()];
            walls.sort_unstable();
            used.extend([upper, lower]);
            for (worst, sum, mut taken) in every(rest, shelf, apart, used) {
                taken.insert(0, walls);
                all.push((worst.max(off), sum + off, taken));
            }
            used.truncate(used.len() - 2);
        }
    }
    all
}

fn walls_of(choice: &Choice, shelf: &[HalfShell]) -> Vec<[u64; 2]> {
    let walls = |upper: usize, lower: usize| {
        let mut walls = [shelf[upper].wall_m.to_bits(), shelf[lower].wall_m.to_bits()];
        walls.sort_unstable();
        walls
    };
    choice.bearings.iter().map(|fitted| walls(fitted.upper, fitted.lower)).collect()
}

/// The best of all by largest deviation, then sum, within rounding.
fn best_of<'a>(all: impl Iterator<Item = &'a (f64, f64, Vec<[u64; 2]>)> + Clone) -> Option<(f64, f64)> {
    let worst = all.clone().map(|one| one.0).min_by(f64::total_cmp)?;
    let sum = all.filter(|one| one.0 <= worst + SAME_M).map(|one| one.1).min_by(f64::total_cmp)?;
    Some((worst, sum))
}

fn same(choice: &Choice, expected: (f64, f64)) -> bool {
    (choice.worst_m - expected.0).abs() < SAME_M && (choice.sum_m - expected.1).abs() < 3.0 * SAME_M
}

proptest! {
    #[test]
    fn best_and_next_best_of_all(bearings in any_bearings(3), shelf in any_shelf(7), steps in 0_u8..3) {
        let apart = f64::from(steps) * STEP_M;
        let all = every(&bearings, &shelf, apart, &mut Vec::new());
        match select_shells(&bearings, &shelf, apart) {
            Err(fault) => {
                prop_assert_eq!(fault, SelectionFault::NotEnough);
                prop_assert!(all.is_empty());
            }
            Ok(selection) => {
                prop_assert!(selection.best.proven);
                prop_assert!(same(&selection.best, best_of(all.iter()).unwrap()), "{:?}", selection);
                let taken = walls_of(&selection.best, &shelf);
                let next = best_of(all.iter().filter(|one| one.2 != taken));
                prop_assert_eq!(selection.runner_up.is_some(), next.is_some());
                if let (Some(runner_up), Some(next)) = (selection.runner_up, next) {
                    prop_assert!(runner_up.proven && same(&runner_up, next), "{:?} {:?}", runner_up, next);
                    prop_assert!(walls_of(&runner_up, &shelf) != taken);
                }
            }
        }
    }

    /// Another box on the shelf never makes the best worse, and each half is used once, where it may go.
    #[test]
    fn a_fuller_shelf_is_no_worse(bearings in any_bearings(5), shelf in any_shelf(24), more in any_shelf(6)) {
        let fuller: Vec<HalfShell> = shelf.iter().chain(&more).copied().collect();
        let one = select_shells(&bearings, &shelf, STEP_M);
        prop_assume!(one.is_ok());
        let (one, other) = (one.unwrap(), select_shells(&bearings, &fuller, STEP_M).unwrap());
        if other.best.proven {
            prop_assert!(other.best.worst_m <= one.best.worst_m + SAME_M);
        }
        let mut used = Vec::new();
        for fitted in &other.best.bearings {
            prop_assert!(fuller[fitted.upper].fits != Fits::Lower && fuller[fitted.lower].fits != Fits::Upper);
            used.extend([fitted.upper, fitted.lower]);
        }
        used.sort_unstable();
        used.dedup();
        prop_assert_eq!(used.len(), 2 * bearings.len());
    }

    /// Nominal pairs: nearest first, within the step, and by half a step from one another.
    #[test]
    fn nominal(
        clearance in 1e-5_f64..2e-4, target in 1e-5_f64..2e-4,
        steps in proptest::collection::vec(-3_i8..4, 1..8), apart in 0_u8..3,
    ) {
        let undersizes: Vec<f64> = steps.iter().map(|step| f64::from(*step) * STEP_M).collect();
        let fitted = Halves { upper_undersize_m: 0.0, lower_undersize_m: STEP_M };
        let pairs = nominal_pairs(clearance, fitted, &undersizes, f64::from(apart) * STEP_M, target).unwrap();
        let off = |place: usize| (pairs[place].clearance_m - target).abs();
        prop_assert!((1..pairs.len()).all(|place| off(place - 1) <= off(place) + 1e-9));
        for pair in &pairs {
            let (upper, lower) = (pair.halves.upper_undersize_m, pair.halves.lower_undersize_m);
            prop_assert!((upper - lower).abs() <= f64::from(apart) * STEP_M + 1e-9);
            prop_assert!((pair.clearance_m - (clearance + (STEP_M - upper - lower) / 2.0)).abs() < 1e-12);
        }
    }
}
