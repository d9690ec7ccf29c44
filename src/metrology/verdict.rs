//! Good, out, or on the line: a value against its limits.

use libm::erfc;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::value::Measured;

/// The coverage factor of U in every verdict: about 95 % for a normal distribution (JCGM 100:2008, G.6.6).
const K: f64 = 2.0;

/// Differences below this part of the figures compared come from arithmetic, not from metal: 4.3770 − 4.3745 is 0.0025.
const ARITHMETIC: f64 = 1e-9;

/// What is said of a value with limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    Good,
    Out,
    /// The limit lies within what the gauge can tell.
    OnTheLine,
}

impl Verdict {
    /// As it is said.
    pub fn word(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Out => "out",
            Self::OnTheLine => "on the line",
        }
    }
}

/// How uncertainty enters a verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// In is good and out is out; that a limit lies within U of the value is told beside it (simple acceptance, JCGM
    /// 106:2012, 8.2).
    Simple,
    /// Good and out are claimed only beyond U from the limit (ISO 14253-1; here with U = 2u on either side).
    Guarded,
}

impl Rule {
    /// The key kept in the record, which is also the word.
    pub fn key(self) -> &'static str {
        match self {
            Self::Simple => "simple",
            Self::Guarded => "guarded",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        [Self::Simple, Self::Guarded].into_iter().find(|rule| rule.key() == key)
    }
}

/// Limits, both belonging to what is permitted: at least one, the lower not above the upper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Ends")]
pub struct Band {
    min: Option<f64>,
    max: Option<f64>,
}

/// A [`Band`] as it comes in.
#[derive(Deserialize)]
struct Ends {
    min: Option<f64>,
    max: Option<f64>,
}

impl TryFrom<Ends> for Band {
    type Error = BandFault;

    fn try_from(ends: Ends) -> Result<Self, BandFault> {
        Self::new(ends.min, ends.max)
    }
}

/// Why two figures are no band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum BandFault {
    #[error("neither limit given: enter one of them, or leave the figure without a verdict")]
    Empty,
    #[error("a limit is not a number")]
    NotFinite,
    #[error("the lower limit is above the upper")]
    Crossed,
}

impl Band {
    /// # Errors
    /// [`BandFault`] if neither limit is given, one is not finite, or the lower is above the upper.
    pub fn new(min: Option<f64>, max: Option<f64>) -> Result<Self, BandFault> {
        match (min, max) {
            (None, None) => Err(BandFault::Empty),
            _ if [min, max].into_iter().flatten().any(|limit| !limit.is_finite()) => Err(BandFault::NotFinite),
            (Some(min), Some(max)) if min > max => Err(BandFault::Crossed),
            _ => Ok(Self { min, max }),
        }
    }

    pub fn min(&self) -> Option<f64> {
        self.min
    }

    pub fn max(&self) -> Option<f64> {
        self.max
    }

    /// From `value` to the nearer limit, positive inside; zero where they differ by arithmetic only.
    fn margin(&self, value: f64, u: f64) -> f64 {
        let to = |limit: f64, room: f64| {
            if room.abs() <= ARITHMETIC * (value.abs() + limit.abs() + u) { 0.0 } else { room }
        };
        let above = self.min.map(|min| to(min, value - min));
        let below = self.max.map(|max| to(max, max - value));
        above.into_iter().chain(below).fold(f64::INFINITY, f64::min)
    }
}

/// A verdict with what it rests on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Judgement {
    pub verdict: Verdict,
    /// A limit lies nearer than U = 2u to the value: another gauge might say otherwise.
    pub on_the_line: bool,
    /// From the value to the nearer limit, positive inside, in the unit of the value.
    pub margin: f64,
}

/// Judges a value by its limits.
pub fn judge(value: &Measured, band: &Band, rule: Rule) -> Judgement {
    judge_figure(value.value(), value.u(), band, rule)
}

/// Judges a stated range by its worse end; `u` is the standard uncertainty of either end.
pub fn judge_range(lo: f64, hi: f64, u: f64, band: &Band, rule: Rule) -> Judgement {
    let (low, high) = (judge_figure(lo, u, band, rule), judge_figure(hi, u, band, rule));
    if low.margin < high.margin { low } else { high }
}

fn judge_figure(value: f64, u: f64, band: &Band, rule: Rule) -> Judgement {
    let margin = band.margin(value, u);
    let on_the_line = margin.abs() < K * u;
    let verdict = match rule {
        Rule::Guarded if on_the_line => Verdict::OnTheLine,
        _ if margin >= 0.0 => Verdict::Good,
        _ => Verdict::Out,
    };
    Judgement { verdict, on_the_line, margin }
}

/// The probability that the true value lies within the limits, the value taken as normally distributed:
/// Φ((max − y)/u) − Φ((min − y)/u) (JCGM 106:2012, 7.4). Without uncertainty it is 1 or 0.
pub fn conformity(value: &Measured, band: &Band) -> f64 {
    let (y, u) = (value.value(), value.u());
    if u == 0.0 {
        return if band.margin(y, u) >= 0.0 { 1.0 } else { 0.0 };
    }
    // Taken from the tails outside, which keep their digits where the value lies well inside.
    let below = band.min.map_or(0.0, |min| normal_cdf((min - y) / u));
    let above = band.max.map_or(0.0, |max| normal_cdf((y - max) / u));
    (1.0 - below - above).clamp(0.0, 1.0)
}

/// Standard normal distribution function Φ.
pub(super) fn normal_cdf(z: f64) -> f64 {
    erfc(-z * std::f64::consts::FRAC_1_SQRT_2) / 2.0
}

#[cfg(test)]
mod tests {
    use super::super::value::Source;
    use super::*;

    fn value(value: f64, u: f64) -> Measured {
        Measured::exact(value).unwrap().with_part(Source::Reading("1".into()), u).unwrap()
    }

    fn band(min: f64, max: f64) -> Band {
        Band::new(Some(min), Some(max)).unwrap()
    }

    #[test]
    fn simple_says_good_or_out_and_tells_when_it_is_close() {
        let band = band(2.0, 3.0);
        let inside = judge(&value(2.5, 0.1), &band, Rule::Simple);
        assert_eq!((inside.verdict, inside.on_the_line), (Verdict::Good, false));
        assert!((inside.margin - 0.5).abs() < 1e-12);
        let close = judge(&value(2.9, 0.1), &band, Rule::Simple);
        assert_eq!((close.verdict, close.on_the_line), (Verdict::Good, true));
        let beyond = judge(&value(3.1, 0.1), &band, Rule::Simple);
        assert_eq!((beyond.verdict, beyond.on_the_line), (Verdict::Out, true));
        assert!((beyond.margin + 0.1).abs() < 1e-12);
    }

    #[test]
    fn guarded_claims_nothing_within_the_zone() {
        let band = band(2.0, 3.0);
        for (figure, verdict) in [
            (2.5, Verdict::Good),
            (2.9, Verdict::OnTheLine),
            (3.1, Verdict::OnTheLine),
            (3.3, Verdict::Out),
            (1.9, Verdict::OnTheLine),
            (1.7, Verdict::Out),
        ] {
            assert_eq!(judge(&value(figure, 0.1), &band, Rule::Guarded).verdict, verdict, "{figure}");
        }
    }

    /// 4.3770 − 4.3745 is a little less than 0.0025 in binary arithmetic.
    #[test]
    fn at_the_limit_is_inside() {
        let clearance = 4.3770 * 0.0254 - 4.3745 * 0.0254;
        let limit = 0.0025 * 0.0254;
        let judged = judge(&value(clearance, 0.0), &Band::new(Some(limit), None).unwrap(), Rule::Simple);
        assert_eq!((judged.verdict, judged.on_the_line), (Verdict::Good, false));
        assert!(judged.margin.abs() < f64::EPSILON);
    }

    #[test]
    fn a_range_is_judged_by_its_worse_end() {
        let band = band(2.0, 3.0);
        let judged = judge_range(2.4, 3.2, 0.05, &band, Rule::Simple);
        assert_eq!(judged.verdict, Verdict::Out);
        assert!((judged.margin + 0.2).abs() < 1e-12);
        assert_eq!(judge_range(2.05, 2.5, 0.05, &band, Rule::Guarded).verdict, Verdict::OnTheLine);
        assert_eq!(judge_range(2.4, 2.6, 0.05, &band, Rule::Guarded).verdict, Verdict::Good);
    }

    #[test]
    fn what_is_no_band() {
        assert_eq!(Band::new(None, None), Err(BandFault::Empty));
        assert_eq!(Band::new(Some(2.0), Some(1.0)), Err(BandFault::Crossed));
        assert_eq!(Band::new(Some(f64::NAN), Some(1.0)), Err(BandFault::NotFinite));
        assert!(Band::new(Some(1.0), Some(1.0)).is_ok());
    }

    #[test]
    fn conformity_without_uncertainty_is_certain() {
        let at_least = Band::new(Some(2.0), None).unwrap();
        assert!((conformity(&value(2.0, 0.0), &at_least) - 1.0).abs() < f64::EPSILON);
        assert!(conformity(&value(1.9, 0.0), &at_least).abs() < f64::EPSILON);
        assert!((conformity(&value(2.0, 0.1), &at_least) - 0.5).abs() < 1e-12);
    }
}
