//! Selective assembly.

use witnessmark::mechanics::compression::deck_clearance_m;
use witnessmark::mechanics::deck_matching::least_deck_spread;
use witnessmark::mechanics::matching::{MatchFault, closest_set, least_spread, least_sum, least_worst};

use crate::assert_close;

/// The example of a well-known solver's documentation (answer from memory; recomputed in scipy 1.17.1).
#[test]
fn three_by_three() {
    let table = [vec![4.0, 1.0, 3.0], vec![2.0, 0.0, 5.0], vec![3.0, 2.0, 2.0]];
    let sum = least_sum(&table).unwrap();
    assert_eq!(sum.columns, [1, 0, 2]);
    assert_close(sum.value, 5.0, 0.0);
    assert_close(least_worst(&table).unwrap().value, 2.0, 0.0);
}

/// Independent computation (scipy): the least sum is not the least worst.
#[test]
fn sum_against_worst() {
    let table = [vec![0.0, 4.0], vec![4.0, 7.0]];
    let (sum, worst) = (least_sum(&table).unwrap(), least_worst(&table).unwrap());
    assert_eq!((sum.columns, worst.columns), (vec![0, 1], vec![1, 0]));
    assert_close(sum.value, 7.0, 0.0);
    assert_close(worst.value, 4.0, 0.0);
    assert_close(least_spread(&table).unwrap().value, 0.0, 0.0);
}

/// More parts than places: worked by hand.
#[test]
fn a_choice_from_stock() {
    let table = [vec![9.0, 3.0, 5.0, 4.0], vec![8.0, 3.0, 9.0, 5.0]];
    let sum = least_sum(&table).unwrap();
    assert_eq!(sum.columns, [3, 1]);
    assert_close(sum.value, 7.0, 0.0);
    assert_close(least_worst(&table).unwrap().value, 4.0, 0.0);
    assert_close(least_spread(&table).unwrap().value, 0.0, 0.0);
    assert_eq!(least_spread(&table).unwrap().columns, [2, 3]);
}

const DECK_MM: [f64; 8] = [234.96, 234.945, 234.925, 234.95, 234.935, 234.955, 234.93, 234.94];
const THROW_MM: [f64; 8] = [44.19, 44.2, 44.195, 44.185, 44.205, 44.19, 44.198, 44.194];
const ROD_MM: [f64; 8] = [152.385, 152.4, 152.41, 152.395, 152.42, 152.39, 152.405, 152.415];
const HEIGHT_MM: [f64; 8] = [38.1, 38.08, 38.12, 38.09, 38.11, 38.1, 38.07, 38.13];

fn spread(figures: &[f64]) -> f64 {
    let most = figures.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    most - figures.iter().copied().fold(f64::INFINITY, f64::min)
}

/// Clearances in mm with the rods and pistons of these numbers.
fn deck_mm(rods: &[usize], pistons: &[usize]) -> Vec<f64> {
    (0..8).map(|i| deck_clearance_m(DECK_MM[i], THROW_MM[i], ROD_MM[rods[i]], HEIGHT_MM[pistons[i]])).collect()
}

/// Independent computation: 0.085 mm as delivered, and 0.002 mm found by local search, which here is proven to be the best.
#[test]
fn an_even_deck() {
    let order = [0, 1, 2, 3, 4, 5, 6, 7];
    for (deck, expected) in deck_mm(&order, &order).into_iter().zip([0.285, 0.265, 0.2, 0.28, 0.2, 0.275, 0.257, 0.201])
    {
        assert_close(deck, expected, 1e-9);
    }
    assert_close(spread(&deck_mm(&order, &order)), 0.085, 1e-9);
    assert_close(spread(&deck_mm(&[6, 1, 7, 5, 0, 2, 3, 4], &[2, 5, 6, 7, 0, 4, 3, 1])), 0.002, 1e-9);
    let room: Vec<f64> = DECK_MM.iter().zip(THROW_MM).map(|(deck, throw)| (deck - throw) * 1e-3).collect();
    let found =
        least_deck_spread(&room, &ROD_MM.map(|rod| rod * 1e-3), &HEIGHT_MM.map(|height| height * 1e-3)).unwrap();
    assert!(found.proven);
    assert_close(found.spread_m * 1e3, 0.002, 1e-6);
    assert_close(spread(&deck_mm(&found.rods, &found.pistons)), found.spread_m * 1e3, 1e-9);
}

/// Worked by hand.
#[test]
fn a_set_of_like_weights() {
    let grams = [432.1, 430.0, 431.2, 431.9, 428.0, 432.0];
    let set = closest_set(&grams, 3).unwrap();
    assert_eq!(set.parts, [3, 5, 0]);
    assert_close(set.spread, 0.2, 1e-9);
    assert_close(closest_set(&grams, 6).unwrap().spread, 4.1, 1e-9);
}

#[test]
fn what_cannot_be_matched_is_refused() {
    use MatchFault::{Empty, Figure, Part, Ragged, TooFewParts, Uneven};
    for solve in [least_sum, least_worst, least_spread] {
        assert_eq!(solve(&[]), Err(Empty));
        assert_eq!(solve(&[vec![]]), Err(Empty));
        assert_eq!(solve(&[vec![1.0, 2.0], vec![1.0]]), Err(Ragged { row: 1 }));
        assert_eq!(solve(&[vec![1.0], vec![2.0]]), Err(TooFewParts));
        assert_eq!(solve(&[vec![1.0, f64::NAN]]), Err(Figure { row: 0, column: 1 }));
        assert_eq!(solve(&[vec![f64::INFINITY, 1.0]]), Err(Figure { row: 0, column: 0 }));
    }
    assert_eq!(closest_set(&[1.0, f64::NAN], 1), Err(Part { index: 1 }));
    assert_eq!(closest_set(&[1.0], 2), Err(TooFewParts));
    assert_eq!(closest_set(&[1.0], 0), Err(Empty));
    assert_eq!(least_deck_spread(&[], &[], &[]), Err(Empty));
    assert_eq!(least_deck_spread(&[0.19], &[0.15, 0.15], &[0.04]), Err(Uneven));
    assert_eq!(least_deck_spread(&[0.19], &[0.15], &[f64::NAN]), Err(Part { index: 0 }));
}
