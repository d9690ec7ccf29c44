//! What disagreeing routes are taken for. Common practice, no source.

use witnessmark::mechanics::routes::{Cause, Disagreement, causes};

/// In µm, each with the same expanded uncertainty of 4 µm.
fn found(differences: &[f64], walls: &[f64]) -> Vec<Cause> {
    let bearing = |micrometres: &f64| Disagreement { difference_m: micrometres * 1e-6, expanded_m: 4e-6 };
    let bearings: Vec<Disagreement> = differences.iter().map(bearing).collect();
    causes(&bearings, &walls.iter().map(|wall| wall * 1e-6).collect::<Vec<f64>>())
}

#[test]
fn all_agree() {
    assert_eq!(found(&[1.0, -3.0, 4.0, 0.0, 2.0], &[8.0]), []);
    assert_eq!(found(&[], &[8.0]), []);
}

#[test]
fn all_alike() {
    let mean = |causes: &[Cause]| match causes {
        [Cause::ZeroOrTorque { mean_m }] => *mean_m,
        _ => panic!("{causes:?}"),
    };
    assert!((mean(&found(&[9.0, 11.0, 10.0, 8.0, 12.0], &[])) - 10e-6).abs() < 1e-12);
    // Crush in a soft housing: all below, one of them only just within its uncertainty.
    assert!((mean(&found(&[-7.0, -6.0, -3.5, -5.0, -6.0], &[])) + 5.5e-6).abs() < 1e-12);
}

#[test]
fn one_bearing() {
    assert_eq!(found(&[1.0, -3.0, 11.0, 0.0, 2.0], &[]), [Cause::OneBearing { bearing: 2 }]);
}

#[test]
fn another_shell() {
    let causes = found(&[1.0, -3.0, -17.0, 0.0, 15.0], &[20.0, 8.0]);
    let shells: Vec<(usize, f64)> = causes
        .iter()
        .map(|cause| match cause {
            Cause::OtherShell { bearing, wall_difference_m } => (*bearing, *wall_difference_m),
            _ => panic!("{causes:?}"),
        })
        .collect();
    assert_eq!(shells, [(2, -8.0 * 1e-6), (4, 8.0 * 1e-6)]);
    // One only, and the size of a coating: both are to look at.
    assert_eq!(found(&[0.0, 16.0, 1.0], &[8.0]).len(), 2);
    // Once the wall difference is no pair of shells.
    assert_eq!(found(&[0.0, 8.0, 1.0], &[8.0]), [Cause::OneBearing { bearing: 1 }]);
}

#[test]
fn unclear() {
    assert_eq!(found(&[9.0, -11.0, 0.0, 2.0], &[]), [Cause::Unclear]);
    assert_eq!(found(&[9.0], &[]), [Cause::Unclear]);
    assert_eq!(found(&[9.0, 25.0, 16.0], &[]), [Cause::Unclear]);
}
