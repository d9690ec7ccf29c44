//! The repeatability study of a gauge: what order, shifting and scaling must do.

use proptest::prelude::*;
use witnessmark::metrology::{POOLED_ABOVE, Spread, Study};

type Cells = Vec<Vec<Vec<f64>>>;

/// Parts that differ, people who read a little differently, and trials that scatter.
fn cells() -> impl Strategy<Value = Cells> {
    (1_usize..6, 1_usize..4, 2_usize..4).prop_flat_map(|(parts, people, trials)| {
        proptest::collection::vec(
            proptest::collection::vec(proptest::collection::vec(-10.0_f64..10.0, trials), people),
            parts,
        )
    })
}

fn each(cells: &Cells, of: impl Fn(f64) -> f64) -> Cells {
    cells.iter().map(|part| part.iter().map(|cell| cell.iter().map(|x| of(*x)).collect()).collect()).collect()
}

/// Standard deviations by both methods, zero where there is none: what every result is made of.
fn figures(cells: &Cells) -> Vec<f64> {
    let study = Study::new(cells.clone()).expect("a study");
    let of = |spread: &Spread| {
        let others = [spread.people, spread.interaction, spread.parts];
        let others = others.map(|part| part.map_or(0.0, |part| part.sd));
        [spread.repeatability.sd, others[0], others[1], others[2]]
    };
    // Kept and pooled by turns: near the limit a last digit decides which the rule takes.
    [of(&study.by_variance(1.0).spread), of(&study.by_variance(0.0).spread), of(&study.by_ranges().spread)].concat()
}

/// Of variances: a difference of two that are all but equal loses digits under the root.
fn same(found: &[f64], expected: &[f64], scale: f64) -> Result<(), TestCaseError> {
    for (found, expected) in found.iter().zip(expected) {
        let apart = (found * found - expected * expected).abs();
        prop_assert!(apart <= 1e-9 * scale * scale, "{found} is not {expected}");
    }
    Ok(())
}

proptest! {
    #[test]
    fn order_does_not_matter(cells in cells(), parts in any::<u64>(), people in any::<u64>(), trials in any::<u64>()) {
        let mut turned = cells.clone();
        let by = |turn: u64, len: usize| usize::try_from(turn % len as u64).expect("a place");
        let len = turned.len();
        turned.rotate_left(by(parts, len));
        for part in &mut turned {
            let len = part.len();
            part.rotate_left(by(people, len));
            for cell in part {
                let len = cell.len();
                cell.rotate_left(by(trials, len));
            }
        }
        same(&figures(&turned), &figures(&cells), 10.0)?;
    }

    #[test]
    fn a_zero_of_the_gauge_does_not_matter(cells in cells(), by in -100.0_f64..100.0) {
        same(&figures(&each(&cells, |x| x + by)), &figures(&cells), 100.0)?;
    }

    #[test]
    fn another_unit_scales_everything(cells in cells(), by in 0.01_f64..100.0) {
        let scaled: Vec<f64> = figures(&cells).iter().map(|x| x * by).collect();
        same(&figures(&each(&cells, |x| x * by)), &scaled, 10.0 * by)?;
        let (one, other) = (Study::new(cells.clone()).unwrap(), Study::new(each(&cells, |x| x * by)).unwrap());
        let p = |study: &Study| study.by_variance(POOLED_ABOVE).rows.iter().filter_map(|row| row.p).collect::<Vec<_>>();
        for (a, b) in p(&one).into_iter().zip(p(&other)) {
            prop_assert!((a - b).abs() < 1e-6, "{a} is not {b}");
        }
    }

    /// Sums of squares and degrees of freedom add up to those of all readings, and shares of variance to 100.
    #[test]
    fn it_adds_up(cells in cells()) {
        let table = Study::new(cells).unwrap().by_variance(POOLED_ABOVE);
        let (all, sources) = table.rows.split_last().expect("rows");
        prop_assert_eq!(sources.iter().map(|row| row.degrees_of_freedom).sum::<usize>(), all.degrees_of_freedom);
        let squares: f64 = sources.iter().map(|row| row.sum_of_squares).sum();
        prop_assert!((squares - all.sum_of_squares).abs() <= 1e-10 * all.sum_of_squares.max(1.0));
        let spread = &table.spread;
        if let (Some(gauge), Some(parts)) = (spread.of_variance(spread.gauge_sd()), spread.parts) {
            prop_assert!((gauge + spread.of_variance(parts.sd).unwrap() - 100.0).abs() < 1e-9);
        }
    }
}
