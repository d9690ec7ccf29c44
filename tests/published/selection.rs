//! Choosing half shells. Geometry; choices cross-checked by looking at all of them.

use witnessmark::mechanics::bearing::Halves;
use witnessmark::mechanics::selection::{
    Choice, Fits, HalfShell, SelectionFault, Wanted, nominal_pairs, select_shells,
};

use crate::assert_close;

const THOU: f64 = 25.4e-6;
const STANDARD: Halves = Halves { upper_undersize_m: 0.0, lower_undersize_m: 0.0 };

/// From 2.1 thou with standard halves: with one extra-clearance half 2.6, with one of 1 under 1.6.
#[test]
fn nominal_steps() {
    let steps = [0.0, THOU, -THOU, 0.0];
    let clearances = |most_apart, target| -> Vec<f64> {
        let pairs = nominal_pairs(2.1 * THOU, STANDARD, &steps, most_apart, target).unwrap();
        pairs.iter().map(|pair| (pair.clearance_m / THOU * 10.0).round() / 10.0).collect()
    };
    assert_eq!(clearances(THOU, 2.7 * THOU), [2.6, 3.1, 2.1, 1.6, 1.1]);
    assert_eq!(clearances(0.0, 2.7 * THOU), [3.1, 2.1, 1.1]);
    // An extra-clearance half beside one of 1 under gives the standard clearance again.
    assert_eq!(clearances(2.0 * THOU, 2.05 * THOU), [2.1, 2.1, 1.6, 2.6, 1.1, 3.1]);
    // Of two as near, the wider.
    assert_eq!(clearances(THOU, 2.35 * THOU)[..2], [2.6, 2.1]);
    let best = nominal_pairs(2.1 * THOU, STANDARD, &steps, THOU, 2.6 * THOU).unwrap()[0].halves;
    assert_close(best.upper_undersize_m + best.lower_undersize_m, -THOU, 1e-12);
    assert_eq!(nominal_pairs(THOU, STANDARD, &[], THOU, THOU), Err(SelectionFault::NoShells));
    assert_eq!(nominal_pairs(THOU, STANDARD, &steps, -THOU, THOU), Err(SelectionFault::Apart));
}

/// Walls in µm above 2.4 mm, either place, standard.
fn shelf(micrometres: &[f64]) -> Vec<HalfShell> {
    let half = |wall: &f64| HalfShell { wall_m: 2.4e-3 + wall * 1e-6, undersize_m: 0.0, fits: Fits::Either };
    micrometres.iter().map(half).collect()
}

/// Bearings that want these sums of walls, in µm above 4.8 mm.
fn wanting(micrometres: &[f64]) -> Vec<Wanted> {
    let wanted = |sum: &f64| Wanted { housing_m: 64.858e-3 + sum * 1e-6, journal_m: 60e-3, target_m: 58e-6 };
    micrometres.iter().map(wanted).collect()
}

#[track_caller]
fn assert_choice(choice: &Choice, worst_um: f64, sum_um: f64) {
    assert_close(choice.worst_m * 1e6, worst_um, 1e-6);
    assert_close(choice.sum_m * 1e6, sum_um, 1e-6);
    assert!(choice.proven);
}

/// Serving the first bearing best leaves the second 8 µm off; the smallest largest deviation is 4.
#[test]
fn the_largest_deviation_counts_first() {
    let selection = select_shells(&wanting(&[0.0, 4.0]), &shelf(&[0.0, 0.0, -4.0, 0.0]), 0.0).unwrap();
    assert_choice(&selection.best, 4.0, 8.0);
    let runner_up = selection.runner_up.unwrap();
    assert_choice(&runner_up, 8.0, 8.0);
}

#[test]
fn clearances_are_those_of_the_halves_named() {
    let (bearings, shelf) = (wanting(&[1.0, -3.0, 2.0]), shelf(&[3.0, -2.0, 0.5, 1.0, -1.5, 2.0, 0.0]));
    let best = select_shells(&bearings, &shelf, 0.0).unwrap().best;
    let mut taken: Vec<usize> = best.bearings.iter().flat_map(|fitted| [fitted.upper, fitted.lower]).collect();
    for (fitted, wanted) in best.bearings.iter().zip(&bearings) {
        let walls = shelf[fitted.upper].wall_m + shelf[fitted.lower].wall_m;
        assert_close(fitted.clearance_m, wanted.housing_m - walls - wanted.journal_m, 1e-12);
    }
    taken.sort_unstable();
    taken.dedup();
    assert_eq!(taken.len(), 6);
}

/// Uppers stay uppers, and halves more than a step apart are not mixed.
#[test]
fn places_and_steps_are_kept() {
    let half = |wall_um: f64, undersize_m, fits| HalfShell { wall_m: 2.4e-3 + wall_um * 1e-6, undersize_m, fits };
    let uppers = [half(0.0, 0.0, Fits::Upper), half(0.0, 0.0, Fits::Upper)];
    let fault = select_shells(&wanting(&[0.0]), &uppers, 0.0).unwrap_err();
    assert_eq!(fault, SelectionFault::NotEnough);
    let mixed = [half(12.0, THOU, Fits::Lower), half(0.0, 0.0, Fits::Upper), half(1.0, 0.0, Fits::Lower)];
    let apart = select_shells(&wanting(&[12.0]), &mixed, 0.0).unwrap();
    assert_eq!((apart.best.bearings[0].upper, apart.best.bearings[0].lower), (1, 2));
    assert_eq!(apart.runner_up, None);
    let one_step = select_shells(&wanting(&[12.0]), &mixed, THOU).unwrap();
    assert_eq!((one_step.best.bearings[0].upper, one_step.best.bearings[0].lower), (1, 0));
    assert_choice(&one_step.runner_up.unwrap(), 11.0, 11.0);
}

/// Halves alike in everything are one choice: no runner-up that only swaps them.
#[test]
fn alike_halves_are_one_choice() {
    assert_eq!(select_shells(&wanting(&[0.0, 0.0]), &shelf(&[0.0; 6]), 0.0).unwrap().runner_up, None);
    let selection = select_shells(&wanting(&[0.0, 0.0]), &shelf(&[0.0, 0.0, 0.0, 0.0, 1.0]), 0.0).unwrap();
    assert_choice(&selection.best, 0.0, 0.0);
    assert_choice(&selection.runner_up.unwrap(), 1.0, 1.0);
}

/// Common practice, no source: five mains from the ten halves in hand come within 1 µm of their target.
#[test]
fn five_mains_from_ten_halves() {
    let halves = shelf(&[4.0, -3.0, 1.0, 0.0, 2.0, -1.0, 5.0, -2.0, 3.0, -4.0]);
    let selection = select_shells(&wanting(&[3.0, -1.0, 0.0, 2.0, 1.0]), &halves, 0.0).unwrap();
    assert_choice(&selection.best, 0.0, 0.0);
    assert!(selection.runner_up.unwrap().worst_m <= 1e-6);
}

#[test]
fn what_cannot_be() {
    let fault = |bearings: &[Wanted], shelf: &[HalfShell]| select_shells(bearings, shelf, 0.0).unwrap_err();
    assert_eq!(fault(&[], &shelf(&[0.0, 0.0])), SelectionFault::NoBearings);
    assert_eq!(fault(&wanting(&[0.0]), &[]), SelectionFault::NoShells);
    assert_eq!(fault(&wanting(&[0.0]), &shelf(&[0.0])), SelectionFault::NotEnough);
    assert_eq!(fault(&wanting(&[0.0]), &shelf(&[0.0, -2400.0])), SelectionFault::Size("shell wall"));
    let aimless = [Wanted { target_m: 0.0, ..wanting(&[0.0])[0] }];
    assert_eq!(fault(&aimless, &shelf(&[0.0; 2])), SelectionFault::Size("clearance to aim at"));
    assert_eq!(fault(&wanting(&[0.0; 17]), &shelf(&[0.0; 40])), SelectionFault::TooManyBearings(17));
    assert_eq!(fault(&wanting(&[0.0]), &shelf(&[0.0; 65])), SelectionFault::TooManyShells(65));
    assert_eq!(select_shells(&wanting(&[0.0]), &shelf(&[0.0; 2]), -1.0).unwrap_err(), SelectionFault::Apart);
}
