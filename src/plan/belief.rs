//! What is believed of a ratio, before and after some were seen.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// Our own judgement, no source: what was judged beforehand counts as much as three that were seen …
pub const WORTH: f64 = 3.0;
/// … and its spread as much as six.
const SPREAD_WORTH: f64 = 6.0;
/// Our own judgement, no source: nothing is known beforehand to better than 2 %.
const FINEST: f64 = 0.02;
/// Our own judgement, no source: surprises never become rarer than after thirty orders.
const MOST_FREEDOM: f64 = 30.0;

/// A belief about the logarithm of a ratio: normal with unknown mean and variance, the conjugate normal–inverse-gamma.
///
/// Formulas as in textbooks of Bayesian statistics (from memory).
#[derive(Clone, Copy, Debug)]
pub(super) struct Belief {
    mean: f64,
    kappa: f64,
    alpha: f64,
    beta: f64,
}

impl Belief {
    /// Before anything was seen: the next one is expected at `location`, by `scale` more or less (Student's t).
    pub(super) fn before(location: f64, scale: f64) -> Self {
        let scale = scale.max(FINEST);
        let alpha = SPREAD_WORTH / 2.0;
        Self { mean: location, kappa: WORTH, alpha, beta: alpha * scale * scale * WORTH / (WORTH + 1.0) }
    }

    /// After these logarithms were seen:
    /// κₙ = κ + n, μₙ = (κμ + n·x̄)/κₙ, αₙ = α + n/2, βₙ = β + ½Σ(x − x̄)² + ½·κn(x̄ − μ)²/κₙ.
    pub(super) fn after(self, seen: &[f64]) -> Self {
        if seen.is_empty() {
            return self;
        }
        let n = seen.len() as f64;
        let mean = seen.iter().sum::<f64>() / n;
        let scatter: f64 = seen.iter().map(|x| (x - mean).powi(2)).sum();
        let kappa = self.kappa + n;
        Self {
            mean: (self.kappa * self.mean + n * mean) / kappa,
            kappa,
            alpha: self.alpha + n / 2.0,
            beta: self.beta + scatter / 2.0 + self.kappa * n * (mean - self.mean).powi(2) / (2.0 * kappa),
        }
    }

    /// The next ratio: its logarithm is Student's t with 2αₙ degrees of freedom about μₙ, scale² = βₙ(κₙ + 1)/(αₙκₙ).
    pub(super) fn next(&self) -> LogT {
        LogT {
            location: self.mean,
            scale: (self.beta * (self.kappa + 1.0) / (self.alpha * self.kappa)).sqrt(),
            freedom: (2.0 * self.alpha).min(MOST_FREEDOM),
        }
    }
}

/// Something above zero whose logarithm is Student's t.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LogT {
    location: f64,
    scale: f64,
    freedom: f64,
}

impl LogT {
    /// The same of so many times as much.
    pub(super) fn times(self, factor: f64) -> Self {
        Self { location: self.location + factor.ln(), ..self }
    }

    /// The chance that it is larger than `value`, which is above zero.
    pub(super) fn beyond(&self, value: f64) -> f64 {
        self.t().sf((value.ln() - self.location) / self.scale)
    }

    /// The value it does not exceed in this share of times, between 0 and 1.
    pub(super) fn quantile(&self, share: f64) -> f64 {
        self.at(self.t().inverse_cdf(share))
    }

    /// Points (value, share of times not larger), the outermost `cut_off` at each end left out.
    pub(super) fn curve(&self, cuts: u32, cut_off: f64) -> Vec<(f64, f64)> {
        let t = self.t();
        let edge = t.inverse_cdf(1.0 - cut_off);
        let point = |index: u32| {
            let at = edge * (2.0 * f64::from(index) / f64::from(cuts) - 1.0);
            (self.at(at), ((t.cdf(at) - cut_off) / (1.0 - 2.0 * cut_off)).clamp(0.0, 1.0))
        };
        let mut points: Vec<(f64, f64)> = (0..=cuts).map(point).collect();
        points[0].1 = 0.0;
        points[cuts as usize].1 = 1.0;
        points
    }

    fn at(&self, t: f64) -> f64 {
        (self.location + self.scale * t).exp()
    }

    fn t(&self) -> StudentsT {
        StudentsT::new(0.0, 1.0, self.freedom).expect("degrees of freedom are at least six")
    }
}
