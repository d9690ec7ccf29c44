//! Selective assembly against trying everything.

use proptest::prelude::*;
use witnessmark::mechanics::deck_matching::least_deck_spread;
use witnessmark::mechanics::matching::{Assignment, closest_set, least_spread, least_sum, least_worst};

/// Every way of giving `rows` rows different columns out of `columns`.
fn choices(rows: usize, columns: usize) -> Vec<Vec<usize>> {
    let mut found = vec![vec![]];
    for _ in 0..rows {
        found = found
            .iter()
            .flat_map(|begun: &Vec<usize>| {
                (0..columns).filter(|column| !begun.contains(column)).map(|column| [&begun[..], &[column]].concat())
            })
            .collect();
    }
    found
}

fn sum(figures: &[f64]) -> f64 {
    figures.iter().sum()
}

fn most(figures: &[f64]) -> f64 {
    figures.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

fn spread(figures: &[f64]) -> f64 {
    most(figures) - figures.iter().copied().fold(f64::INFINITY, f64::min)
}

fn chosen(table: &[Vec<f64>], columns: &[usize]) -> Vec<f64> {
    table.iter().zip(columns).map(|(row, &column)| row[column]).collect()
}

/// The choice is one column for each row, is worth what it says, and nothing is better.
fn is_best(table: &[Vec<f64>], found: &Assignment, worth: impl Fn(&[f64]) -> f64) -> bool {
    let every = choices(table.len(), table[0].len());
    let best = every.iter().map(|columns| worth(&chosen(table, columns))).fold(f64::INFINITY, f64::min);
    every.contains(&found.columns)
        && (worth(&chosen(table, &found.columns)) - found.value).abs() < 1e-9
        && (found.value - best).abs() < 1e-9
}

/// Up to five places and five parts, in whole steps so that ties are common, or in any figures.
fn any_table() -> impl Strategy<Value = Vec<Vec<f64>>> {
    (1_usize..=5, 0_usize..=4, prop_oneof![Just(1.0), Just(0.37), Just(1e6)]).prop_flat_map(|(rows, more, step)| {
        let columns = (rows + more).min(5);
        let figure = prop_oneof![(-4_i8..5).prop_map(move |n| f64::from(n) * step), -9.0_f64..9.0];
        prop::collection::vec(prop::collection::vec(figure, columns), rows)
    })
}

/// Room, rods and heights of up to four throws, in steps of 5 µm or in any figures.
fn any_deck() -> impl Strategy<Value = [Vec<f64>; 3]> {
    (1_usize..=4, any::<bool>()).prop_flat_map(|(count, stepped)| {
        let list = move |base: f64| {
            let part = move |n: f64| base + if stepped { n.floor() } else { n } * 5e-6;
            prop::collection::vec((0.0_f64..12.0).prop_map(part), count)
        };
        [list(0.19), list(0.152), list(0.038)]
    })
}

fn deck([room, rods, heights]: &[Vec<f64>; 3], rod: &[usize], piston: &[usize]) -> Vec<f64> {
    (0..room.len()).map(|i| room[i] - rods[rod[i]] - heights[piston[i]]).collect()
}

proptest! {
    #[test]
    fn nothing_is_better(table in any_table()) {
        prop_assert!(is_best(&table, &least_sum(&table).unwrap(), sum));
        prop_assert!(is_best(&table, &least_worst(&table).unwrap(), most));
        prop_assert!(is_best(&table, &least_spread(&table).unwrap(), spread));
    }

    /// What is said of every row is taken off the sum as a whole.
    #[test]
    fn a_row_shifted(table in any_table(), shift in -5.0_f64..5.0) {
        let mut shifted = table.clone();
        shifted[0].iter_mut().for_each(|figure| *figure += shift);
        let (before, after) = (least_sum(&table).unwrap().value, least_sum(&shifted).unwrap().value);
        prop_assert!((after - before - shift).abs() < 1e-8);
    }

    #[test]
    fn no_deck_is_more_even(parts in any_deck()) {
        let [room, rods, heights] = &parts;
        let found = least_deck_spread(room, rods, heights).unwrap();
        let orders = choices(room.len(), room.len());
        let pairs = orders.iter().flat_map(|rod| orders.iter().map(move |piston| (rod, piston)));
        let best = pairs.map(|(rod, piston)| spread(&deck(&parts, rod, piston))).fold(f64::INFINITY, f64::min);
        prop_assert!(found.proven && orders.contains(&found.rods) && orders.contains(&found.pistons));
        prop_assert!((spread(&deck(&parts, &found.rods, &found.pistons)) - found.spread_m).abs() < 1e-12);
        prop_assert!(found.spread_m >= best - 1e-12 && found.spread_m < best + 1.001e-9);
    }

    #[test]
    fn no_set_is_closer(figures in prop::collection::vec(-9.0_f64..9.0, 1..8), count in 1_usize..8) {
        let count = count.min(figures.len());
        let found = closest_set(&figures, count).unwrap();
        let pick = |parts: &[usize]| parts.iter().map(|&part| figures[part]).collect::<Vec<f64>>();
        let every = choices(count, figures.len());
        let best = every.iter().map(|parts| spread(&pick(parts))).fold(f64::INFINITY, f64::min);
        prop_assert!(every.contains(&found.parts) && pick(&found.parts).is_sorted());
        prop_assert!((found.spread - best).abs() < 1e-12 && (spread(&pick(&found.parts)) - best).abs() < 1e-12);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Fifty by fifty: the least sum is no more than any other answer's, the least worst no more, the least spread no more.
    #[test]
    fn each_is_best_at_its_own(table in prop::collection::vec(prop::collection::vec(-9.0_f64..9.0, 50), 50)) {
        let answers = [least_sum(&table).unwrap(), least_worst(&table).unwrap(), least_spread(&table).unwrap()];
        for answer in &answers {
            let figures = chosen(&table, &answer.columns);
            prop_assert!(answers[0].value <= sum(&figures) + 1e-9);
            prop_assert!(answers[1].value <= most(&figures));
            prop_assert!(answers[2].value <= spread(&figures));
        }
    }

    /// Eight throws in steps of 5 µm: proven, and no worse than as delivered.
    #[test]
    fn eight_throws_are_proven(
        room in prop::collection::vec(0_u8..12, 8), rods in prop::collection::vec(0_u8..12, 8),
        heights in prop::collection::vec(0_u8..12, 8),
    ) {
        let steps = |list: &[u8], base: f64| list.iter().map(|&n| base + f64::from(n) * 5e-6).collect::<Vec<f64>>();
        let parts = [steps(&room, 0.19), steps(&rods, 0.152), steps(&heights, 0.038)];
        let found = least_deck_spread(&parts[0], &parts[1], &parts[2]).unwrap();
        let as_delivered = [0, 1, 2, 3, 4, 5, 6, 7];
        prop_assert!(found.proven && found.spread_m <= spread(&deck(&parts, &as_delivered, &as_delivered)) + 1e-12);
        let whole_steps = (found.spread_m / 5e-6).round();
        prop_assert!((found.spread_m - whole_steps * 5e-6).abs() < 1e-12);
    }
}
