//! Mean and standard deviation against the certified univariate sets of the NIST Statistical Reference Datasets (`StRD`;
//! public domain).
//!
//! LRE is the number of certified digits met, −log₁₀ of the relative error, at most 15. The constructed sets differ in the
//! last of eight digits or more: what a double holds of them, not the arithmetic, bounds the standard deviation.

use statrs::statistics::Statistics;
use witnessmark::metrology::{mean_of, standard_deviation};

use crate::assert_close;

fn lre(found: f64, certified: f64) -> f64 {
    -((found - certified) / certified).abs().max(1e-15).log10()
}

#[track_caller]
fn meets(readings: &[f64], mean: f64, sd: f64, mean_lre: f64, sd_lre: f64) {
    let found = (mean_of(readings).expect("readings"), standard_deviation(readings).expect("readings"));
    assert!(lre(found.0, mean) >= mean_lre, "mean {}: LRE {}", found.0, lre(found.0, mean));
    assert!(lre(found.1, sd) >= sd_lre, "sd {}: LRE {}", found.1, lre(found.1, sd));
}

/// A first figure, then `low` and `high` in turn, 1001 in all: how `NumAcc2` to 4 are built.
fn alternating(first: f64, low: f64, high: f64) -> Vec<f64> {
    std::iter::once(first).chain([low, high].into_iter().cycle().take(1000)).collect()
}

#[test]
fn michelso() {
    meets(&MICHELSO, 299.8524, 0.079_010_547_819_051_8, 15.0, 13.0);
}

#[test]
fn lew() {
    meets(&LEW, -177.435, 277.332_168_044_316, 15.0, 14.0);
}

#[test]
fn num_acc_1() {
    meets(&[10_000_001.0, 10_000_003.0, 10_000_002.0], 10_000_002.0, 1.0, 15.0, 15.0);
}

#[test]
fn num_acc_2() {
    meets(&alternating(1.2, 1.1, 1.3), 1.2, 0.1, 15.0, 14.0);
}

/// Doubles near 10⁶ are 1.2 × 10⁻¹⁰ apart: about nine digits of a deviation of 0.1.
#[test]
fn num_acc_3() {
    meets(&alternating(1_000_000.2, 1_000_000.1, 1_000_000.3), 1_000_000.2, 0.1, 15.0, 9.0);
}

/// Doubles near 10⁷ are 1.9 × 10⁻⁹ apart: about eight digits of a deviation of 0.1.
#[test]
fn num_acc_4() {
    meets(&alternating(10_000_000.2, 10_000_000.1, 10_000_000.3), 10_000_000.2, 0.1, 15.0, 8.0);
}

/// The one-pass formula with sums of squares loses the last set: the check above can fail.
#[test]
fn sums_of_squares_would_not_do() {
    let readings = alternating(10_000_000.2, 10_000_000.1, 10_000_000.3);
    let n = 1001.0;
    let (sum, squares) = readings.iter().fold((0.0, 0.0), |(sum, squares), x| (sum + x, squares + x * x));
    let one_pass = ((squares - sum * sum / n) / (n - 1.0)).abs().sqrt();
    assert!(lre(one_pass, 0.1) < 8.0, "{one_pass}");
}

/// The same by statrs 0.19, a general library of statistics.
#[test]
fn as_a_reference_library_has_it() {
    assert_close(mean_of(&MICHELSO).unwrap(), MICHELSO.iter().mean(), 1e-12);
    assert_close(standard_deviation(&MICHELSO).unwrap(), MICHELSO.iter().std_dev(), 1e-12);
    assert_close(standard_deviation(&LEW).unwrap(), LEW.iter().std_dev(), 1e-10);
}

/// 100 determinations of the speed of light in air, 10³ km/s.
#[rustfmt::skip]
const MICHELSO: [f64; 100] = [
    299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.0, 299.98, 299.93, 299.65,
    299.76, 299.81, 300.0, 300.0, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.8, 299.85, 299.88,
    299.9, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8, 299.79, 299.76, 299.8, 299.88, 299.88,
    299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84,
    299.85, 299.84, 299.84, 299.84, 299.89, 299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76,
    299.91, 299.92, 299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81,
    299.76, 299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.8,
    299.81, 299.87,
];

/// 200 deflections of a beam under periodic load.
#[rustfmt::skip]
const LEW: [f64; 200] = [
    -213.0, -564.0, -35.0, -15.0, 141.0, 115.0, -420.0, -360.0, 203.0, -338.0, -431.0, 194.0, -220.0, -513.0, 154.0,
    -125.0, -559.0, 92.0, -21.0, -579.0, -52.0, 99.0, -543.0, -175.0, 162.0, -457.0, -346.0, 204.0, -300.0, -474.0,
    164.0, -107.0, -572.0, -8.0, 83.0, -541.0, -224.0, 180.0, -420.0, -374.0, 201.0, -236.0, -531.0, 83.0, 27.0,
    -564.0, -112.0, 131.0, -507.0, -254.0, 199.0, -311.0, -495.0, 143.0, -46.0, -579.0, -90.0, 136.0, -472.0,
    -338.0, 202.0, -287.0, -477.0, 169.0, -124.0, -568.0, 17.0, 48.0, -568.0, -135.0, 162.0, -430.0, -422.0, 172.0,
    -74.0, -577.0, -13.0, 92.0, -534.0, -243.0, 194.0, -355.0, -465.0, 156.0, -81.0, -578.0, -64.0, 139.0, -449.0,
    -384.0, 193.0, -198.0, -538.0, 110.0, -44.0, -577.0, -6.0, 66.0, -552.0, -164.0, 161.0, -460.0, -344.0, 205.0,
    -281.0, -504.0, 134.0, -28.0, -576.0, -118.0, 156.0, -437.0, -381.0, 200.0, -220.0, -540.0, 83.0, 11.0, -568.0,
    -160.0, 172.0, -414.0, -408.0, 188.0, -125.0, -572.0, -32.0, 139.0, -492.0, -321.0, 205.0, -262.0, -504.0,
    142.0, -83.0, -574.0, 0.0, 48.0, -571.0, -106.0, 137.0, -501.0, -266.0, 190.0, -391.0, -406.0, 194.0, -186.0,
    -553.0, 83.0, -13.0, -577.0, -49.0, 103.0, -515.0, -280.0, 201.0, 300.0, -506.0, 131.0, -45.0, -578.0, -80.0,
    138.0, -462.0, -361.0, 201.0, -211.0, -554.0, 32.0, 74.0, -533.0, -235.0, 187.0, -372.0, -442.0, 182.0, -147.0,
    -566.0, 25.0, 68.0, -535.0, -244.0, 194.0, -351.0, -463.0, 174.0, -125.0, -570.0, 15.0, 72.0, -550.0, -190.0,
    172.0, -424.0, -385.0, 198.0, -218.0, -536.0, 96.0,
];
