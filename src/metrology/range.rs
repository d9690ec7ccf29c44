//! What the range (largest less smallest) of repeated readings says.
//!
//! For n independent readings of one normal distribution with standard deviation 1 the range W has
//! P(W ≤ w) = n ∫ φ(x) [Φ(x + w) − Φ(x)]ⁿ⁻¹ dx; its mean is d₂(n) and its standard deviation d₃(n), the factors of
//! control charts. Both are integrated here rather than copied, so n has no end of table.

use super::verdict::normal_cdf;
use std::sync::OnceLock;

/// Steps per standard deviation of the integration.
const PER_SIGMA: usize = 10;
/// Readings beyond so many standard deviations do not count: 1 in 10¹⁵.
const REACH: usize = 8;
/// Steps from −REACH to +REACH; a range can be as wide as that.
const STEPS: usize = 2 * REACH * PER_SIGMA;
const STEP: f64 = 1.0 / PER_SIGMA as f64;

/// Expected range d₂(n) of `n` readings, in standard deviations of one; 0 for fewer than two.
pub fn expected_range(n: usize) -> f64 {
    moments(n).0
}

/// Standard deviation d₃(n) of the range of `n` readings, in standard deviations of one; 0 for fewer than two.
pub fn range_spread(n: usize) -> f64 {
    let (mean, mean_square) = moments(n);
    (mean_square - mean * mean).max(0.0).sqrt()
}

/// Whether a range of `n` readings can come from the gauge alone: range ≤ (d₂ + 2 d₃)·u, with `u_single` the standard
/// uncertainty of one reading by itself (what they share cancels in a range). Then it cannot be told from nothing.
///
/// For two readings the factor is 2.83, within 0.3 % of the 2√2 that two standard uncertainties of a difference
/// give: it is the same criterion for more readings.
pub fn range_within_noise(range: f64, n: usize, u_single: f64) -> bool {
    range <= (expected_range(n) + 2.0 * range_spread(n)) * u_single
}

/// E[W] and E[W²] of `n` readings, integrated once for each usual count: a sheet asks many times over.
fn moments(n: usize) -> (f64, f64) {
    static USUAL: [OnceLock<(f64, f64)>; 64] = [const { OnceLock::new() }; 64];
    USUAL.get(n).map_or_else(|| integrated(n), |known| *known.get_or_init(|| integrated(n)))
}

/// E[W] = ∫ P(W > w) dw and E[W²] = ∫ 2w P(W > w) dw, by Simpson's rule on the grid of [`wider`].
fn integrated(n: usize) -> (f64, f64) {
    if n < 2 {
        return (0.0, 0.0);
    }
    let wider = wider(n);
    let (mut mean, mut mean_square) = (0.0, 0.0);
    for (step, wider) in wider.into_iter().enumerate() {
        let weight = match step {
            0 | STEPS => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        };
        mean += weight * wider;
        mean_square += weight * 2.0 * at(step) * wider;
    }
    (mean * STEP / 3.0, mean_square * STEP / 3.0)
}

/// P(W > w) at every step of w from 0 to 2·REACH. The trapezoidal sum over x is all but exact, as every derivative of the
/// integrand has vanished at the ends.
fn wider(n: usize) -> Vec<f64> {
    let x: Vec<f64> = (0..=STEPS).map(|step| at(step) - REACH as f64).collect();
    let density: Vec<f64> = x.iter().map(|x| (-x * x / 2.0).exp() / std::f64::consts::TAU.sqrt()).collect();
    let below: Vec<f64> = x.iter().map(|&x| normal_cdf(x)).collect();
    let others = i32::try_from(n - 1).unwrap_or(i32::MAX);
    let narrower = |w: usize| {
        let at_x = |i: usize| density[i] * (below[(i + w).min(STEPS)] - below[i]).powi(others);
        n as f64 * STEP * (0..=STEPS).map(at_x).sum::<f64>()
    };
    (0..=STEPS).map(|w| 1.0 - narrower(w)).collect()
}

fn at(step: usize) -> f64 {
    step as f64 * STEP
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of two readings the range is the size of a normal difference: d₂ = 2/√π, d₃ = √(2 − 4/π), in closed form.
    #[test]
    fn two_readings_in_closed_form() {
        let pi = std::f64::consts::PI;
        assert!((expected_range(2) - 2.0 / pi.sqrt()).abs() < 1e-6, "{}", expected_range(2));
        assert!((range_spread(2) - (2.0 - 4.0 / pi).sqrt()).abs() < 1e-6, "{}", range_spread(2));
    }

    #[test]
    fn more_readings_spread_further() {
        assert!(expected_range(1).abs() < f64::EPSILON);
        for n in 2..40 {
            assert!(expected_range(n + 1) > expected_range(n), "{n}");
        }
    }

    #[test]
    fn within_noise() {
        assert!(range_within_noise(2.8, 2, 1.0));
        assert!(!range_within_noise(2.9, 2, 1.0));
        assert!(range_within_noise(4.0, 6, 1.0), "six readings spread further than two");
        assert!(!range_within_noise(1e-6, 6, 0.0));
    }
}
