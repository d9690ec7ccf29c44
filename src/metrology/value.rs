//! A value and where its uncertainty comes from.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::NotFinite;

/// Where a contribution to uncertainty comes from. Two values that share a source are wrong together by it. The text
/// names which one: the reading's id, the gauge setting's id, the material's word.
///
/// As text, and as a key in JSON: `reading:…`, `setting:…` and so on.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub enum Source {
    /// One reading by itself: repeatability and resolution.
    Reading(Arc<str>),
    /// One setting of a gauge, shared by all that was read with it.
    Setting(Arc<str>),
    /// What a gauge's scale may be wrong by, shared by all that rests on it: what it read, and what was set in it.
    Gauge(Arc<str>),
    /// The standard a gauge was set on, shared by all settings on it.
    Master(Arc<str>),
    /// A temperature that was measured or assumed.
    Temperature(Arc<str>),
    /// A property of a material.
    Material(Arc<str>),
    /// A repeatability study of a gauge.
    Study(Arc<str>),
    /// The spread of the thing itself: a stated range, a surface that is not round.
    Spread(Arc<str>),
    /// A figure a maker states.
    Maker(Arc<str>),
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (kind, which) = match self {
            Self::Reading(which) => ("reading", which),
            Self::Setting(which) => ("setting", which),
            Self::Gauge(which) => ("gauge", which),
            Self::Master(which) => ("master", which),
            Self::Temperature(which) => ("temperature", which),
            Self::Material(which) => ("material", which),
            Self::Study(which) => ("study", which),
            Self::Spread(which) => ("spread", which),
            Self::Maker(which) => ("maker", which),
        };
        write!(f, "{kind}:{which}")
    }
}

/// A text that names no source of uncertainty.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "{0} names no source of uncertainty: write reading:…, setting:…, gauge:…, master:…, temperature:…, material:…, study:…, spread:… or maker:…"
)]
pub struct NoSuchSource(String);

impl FromStr for Source {
    type Err = NoSuchSource;

    fn from_str(text: &str) -> Result<Self, NoSuchSource> {
        let (kind, which) = text.split_once(':').ok_or_else(|| NoSuchSource(text.to_owned()))?;
        let make = match kind {
            "reading" => Self::Reading,
            "setting" => Self::Setting,
            "gauge" => Self::Gauge,
            "master" => Self::Master,
            "temperature" => Self::Temperature,
            "material" => Self::Material,
            "study" => Self::Study,
            "spread" => Self::Spread,
            "maker" => Self::Maker,
            _ => return Err(NoSuchSource(text.to_owned())),
        };
        Ok(make(which.into()))
    }
}

impl From<Source> for String {
    fn from(source: Source) -> Self {
        source.to_string()
    }
}

impl TryFrom<String> for Source {
    type Error = NoSuchSource;

    fn try_from(text: String) -> Result<Self, NoSuchSource> {
        text.parse()
    }
}

/// A finite value in SI with its standard uncertainty, kept apart by source. A contribution has a sign: what is wrong by
/// a shared source moves two values the same way or opposite ways.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Plain")]
pub struct Measured {
    value: f64,
    parts: BTreeMap<Source, f64>,
    /// Of the sources whose uncertainty was itself estimated from few readings.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    estimates: BTreeMap<Source, Estimate>,
}

/// That an uncertainty was estimated from few readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// Names the readings it was estimated from: sources with one estimate are wrongly estimated together.
    pub of: String,
    /// The part of the source's variance that was so estimated, 0 to 1; the rest is known for certain.
    pub share: f64,
    /// Degrees of freedom.
    pub freedom: f64,
}

/// A [`Measured`] as it comes in, not yet found finite.
#[derive(Deserialize)]
struct Plain {
    value: f64,
    #[serde(default)]
    parts: BTreeMap<Source, f64>,
    #[serde(default)]
    estimates: BTreeMap<Source, Estimate>,
}

impl TryFrom<Plain> for Measured {
    type Error = NotFinite;

    fn try_from(plain: Plain) -> Result<Self, NotFinite> {
        Ok(Self::new(plain.value, plain.parts)?.with_estimates(plain.estimates))
    }
}

impl Measured {
    /// A value without uncertainty: a count, a limit, a figure by definition.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and the infinities.
    pub fn exact(value: f64) -> Result<Self, NotFinite> {
        Self::new(value, BTreeMap::new())
    }

    /// A value with its contributions, in the unit of the value. Contributions of zero are left out.
    ///
    /// # Errors
    /// [`NotFinite`] if the value, a contribution or their sum of squares is not finite.
    pub fn new(value: f64, mut parts: BTreeMap<Source, f64>) -> Result<Self, NotFinite> {
        parts.retain(|_, part| *part != 0.0);
        let measured = Self { value, parts, estimates: BTreeMap::new() };
        if measured.value.is_finite() && measured.u().is_finite() { Ok(measured) } else { Err(NotFinite) }
    }

    pub fn value(&self) -> f64 {
        self.value
    }

    /// The signed contributions, by source.
    pub fn parts(&self) -> &BTreeMap<Source, f64> {
        &self.parts
    }

    /// Combined standard uncertainty, √Σ part² (JCGM 100:2008, 5.1.2; sources are independent of each other).
    pub fn u(&self) -> f64 {
        self.parts.values().fold(0.0, |squares: f64, part| squares + part * part).sqrt()
    }

    /// Expanded uncertainty U = k·u (JCGM 100:2008, 6.2.1).
    pub fn expanded(&self, k: f64) -> f64 {
        k * self.u()
    }

    /// The same value with a further contribution; to a source it already has, it adds with its sign.
    ///
    /// # Errors
    /// [`NotFinite`] if `u` is not finite.
    pub fn with_part(mut self, source: Source, u: f64) -> Result<Self, NotFinite> {
        *self.parts.entry(source).or_default() += u;
        let estimates = std::mem::take(&mut self.estimates);
        Ok(Self::new(self.value, self.parts)?.with_estimates(estimates))
    }

    /// The same value, saying that its contribution from `source` was estimated from few readings. Contributions of which
    /// that is not said are taken as known for certain (JCGM 100:2008, G.4.3). Ignored where there is no such contribution,
    /// or where no such estimate can be.
    #[must_use]
    pub fn estimated(self, source: &Source, estimate: Estimate) -> Self {
        self.with_estimates(BTreeMap::from([(source.clone(), estimate)]))
    }

    fn with_estimates(mut self, estimates: BTreeMap<Source, Estimate>) -> Self {
        let can_be =
            |estimate: &Estimate| estimate.freedom > 0.0 && estimate.freedom.is_finite() && estimate.share <= 1.0;
        for (source, estimate) in estimates {
            if self.parts.contains_key(&source) && can_be(&estimate) {
                self.estimates.insert(source, estimate);
            }
        }
        self
    }

    /// Effective degrees of freedom `ν_eff` = u⁴ / Σ(uᵢ⁴/νᵢ) (Welch and Satterthwaite; JCGM 100:2008, G.4.1, equation G.2b),
    /// where each i is one estimate, with all its sources together; none where every contribution is known for certain.
    pub fn effective_freedom(&self) -> Option<f64> {
        let mut by_estimate: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
        for (source, estimate) in &self.estimates {
            let of = by_estimate.entry(&estimate.of).or_insert((0.0, estimate.freedom));
            of.0 += self.parts[source].powi(2) * estimate.share;
        }
        let few: f64 = by_estimate.values().map(|(square, freedom)| square * square / freedom).sum();
        (few > 0.0).then(|| self.u().powi(4) / few)
    }
}

/// Carries the uncertainty of `inputs` through `f`: each source is shifted by one standard uncertainty, up and down, in
/// all inputs at once, and half the difference of the results is its contribution: ½{f(x + c) − f(x − c)} (JCGM
/// 100:2008, 5.1.3, note 2). Inputs that share a source so stay correlated, in sign too.
///
/// Good where `f` is nearly straight over ±u; a measured size against its uncertainty is.
///
/// # Errors
/// [`NotFinite`] if `f` gives something not finite at the inputs or near them.
pub fn propagate(inputs: &[&Measured], f: impl Fn(&[f64]) -> f64) -> Result<Measured, NotFinite> {
    let mut by_source: BTreeMap<&Source, Vec<(usize, f64)>> = BTreeMap::new();
    for (nth, input) in inputs.iter().enumerate() {
        for (source, part) in &input.parts {
            by_source.entry(source).or_default().push((nth, *part));
        }
    }
    let mut x: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let value = f(&x);
    let mut shifted = |by: f64, shared: &[(usize, f64)]| {
        for (nth, part) in shared {
            x[*nth] = inputs[*nth].value + by * part;
        }
        let shifted = f(&x);
        for (nth, _) in shared {
            x[*nth] = inputs[*nth].value;
        }
        shifted
    };
    let mut contribution = |shared: &[(usize, f64)]| (shifted(1.0, shared) - shifted(-1.0, shared)) / 2.0;
    let parts = by_source.iter().map(|(source, shared)| ((*source).clone(), contribution(shared))).collect();
    let estimates = inputs.iter().flat_map(|input| input.estimates.clone()).collect();
    Ok(Measured::new(value, parts)?.with_estimates(estimates))
}

/// `a` − `b`; what they share cancels.
///
/// # Errors
/// [`NotFinite`] if the difference overflows.
pub fn difference(a: &Measured, b: &Measured) -> Result<Measured, NotFinite> {
    propagate(&[a, b], |x| x[0] - x[1])
}

/// The sum; of nothing, exactly zero.
///
/// # Errors
/// [`NotFinite`] if the sum overflows.
pub fn sum(values: &[&Measured]) -> Result<Measured, NotFinite> {
    propagate(values, |x| x.iter().sum())
}

/// The mean; what the values share does not average out.
///
/// # Errors
/// [`NotFinite`] for no values at all, or if the sum overflows.
pub fn mean(values: &[&Measured]) -> Result<Measured, NotFinite> {
    propagate(values, |x| x.iter().sum::<f64>() / x.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured<const N: usize>(value: f64, parts: [(Source, f64); N]) -> Measured {
        Measured::new(value, BTreeMap::from(parts)).unwrap()
    }

    fn reading(which: &str) -> Source {
        Source::Reading(which.into())
    }

    fn setting() -> Source {
        Source::Setting("bore gauge, 4.3775".into())
    }

    #[test]
    fn a_shared_source_cancels_in_a_difference_and_stays_in_a_mean() {
        let a = measured(5.0, [(reading("a"), 0.3), (setting(), 2.0)]);
        let b = measured(3.0, [(reading("b"), 0.4), (setting(), 2.0)]);
        let less = difference(&a, &b).unwrap();
        assert!((less.value() - 2.0).abs() < 1e-12);
        assert!((less.u() - 0.5).abs() < 1e-12, "{}", less.u());
        assert!(!less.parts().contains_key(&setting()));
        let middle = mean(&[&a, &b]).unwrap();
        assert!((middle.parts()[&setting()] - 2.0).abs() < 1e-12);
        assert!((middle.u() - (4.0_f64 + 0.25 * 0.25).sqrt()).abs() < 1e-12);
    }

    /// Three readings with one s = 3 of 6 degrees of freedom: their mean has u = s/√3 with those 6, not more; and a part known
    /// for certain adds some, u⁴/(uₛ⁴/6).
    #[test]
    fn readings_of_one_estimate_know_no_more_than_it() {
        let estimate = || Estimate { of: "takes".to_owned(), share: 1.0, freedom: 6.0 };
        let takes = ["1", "2", "3"].map(|id| measured(5.0, [(reading(id), 3.0)]).estimated(&reading(id), estimate()));
        let middle = mean(&takes.each_ref()).unwrap();
        assert!((middle.u() - 3.0_f64.sqrt()).abs() < 1e-12);
        assert!((middle.effective_freedom().unwrap() - 6.0).abs() < 1e-9);
        let with_setting = middle.with_part(setting(), 1.0).unwrap();
        assert!((with_setting.effective_freedom().unwrap() - 16.0 / (9.0 / 6.0)).abs() < 1e-9);
        assert_eq!(measured(1.0, [(setting(), 1.0)]).effective_freedom(), None);
    }

    #[test]
    fn opposite_signs_of_one_source_add_in_a_difference() {
        let a = measured(5.0, [(setting(), 2.0)]);
        let b = measured(3.0, [(setting(), -1.0)]);
        assert!((difference(&a, &b).unwrap().u() - 3.0).abs() < 1e-12);
        assert!((sum(&[&a, &b]).unwrap().u() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_not_finite_is_refused() {
        assert_eq!(Measured::exact(f64::NAN), Err(NotFinite));
        assert_eq!(Measured::exact(1.0).unwrap().with_part(setting(), f64::INFINITY), Err(NotFinite));
        assert_eq!(mean(&[]), Err(NotFinite));
        let zero = Measured::exact(0.0).unwrap();
        assert_eq!(propagate(&[&zero], |x| 1.0 / x[0]), Err(NotFinite));
    }

    #[test]
    fn through_json_and_back() {
        let measured = measured(0.1111885, [(reading("r:1"), 1.3e-6), (setting(), -1.5e-6)]);
        let text = serde_json::to_string(&measured).unwrap();
        assert!(text.contains("\"reading:r:1\":"), "{text}");
        assert_eq!(serde_json::from_str::<Measured>(&text).unwrap(), measured);
        assert!(serde_json::from_str::<Measured>(r#"{"value":1.0,"parts":{"weather":1.0}}"#).is_err());
        assert!(serde_json::from_str::<Measured>(r#"{"value":1e999}"#).is_err());
    }
}
