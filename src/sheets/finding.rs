//! What follows from readings: a value with its uncertainty, what it may be, and the working in figures.

use super::{Taken, TakenValue, Words};
use crate::engine::{FindingFeature, FindingKey, Limit, Measure, Place};
use crate::metrology::{
    Band, Judgement, Measured, Rule, Source, Verdict, difference, judge, judge_range, range_within_noise,
};
use serde::{Deserialize, Serialize};

/// What a finding rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "basis")]
pub enum Basis {
    /// Every reading that was taken.
    Readings,
    /// One figure or a range for the place.
    Stated,
    /// Looked at and found good, without a figure.
    Checked {
        how: String,
    },
    /// A target stands in for a reading not yet taken: counts as missing, carries no verdict.
    Target {
        missing: String,
    },
    Missing {
        missing: String,
    },
    /// Cannot be told, and nothing is missing: what it would be worked out from was checked good without a figure.
    NoFigure {
        because: String,
    },
}

/// One finding. Values are SI.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    pub key: FindingKey,
    #[serde(flatten)]
    pub measure: Measure,
    #[serde(flatten)]
    pub basis: Basis,
    pub value: Option<Measured>,
    /// Ends of a stated range, or least and greatest of the readings; it is judged by its worse end.
    pub range: Option<(f64, f64)>,
    /// Standard uncertainty of either end of the range.
    pub range_u: f64,
    /// Those ends as they were read, where they were; not kept with a sign-off.
    #[serde(skip)]
    pub(super) ends: Option<(Measured, Measured)>,
    pub target: Option<f64>,
    pub band: Option<Band>,
    /// The value before it was brought to 20 °C; none where it was not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub as_read: Option<f64>,
    /// Where the limit comes from.
    pub limit_source: String,
    pub judgement: Option<Judgement>,
    /// A difference within its own noise: nothing can be told from it.
    pub within_noise: bool,
    pub working: Vec<String>,
    /// Where its uncertainty comes from: "± 0.3 thou (k = 2): …"; empty without one. Its parts say the same, so it is not kept
    /// with a sign-off.
    #[serde(skip)]
    pub budget: String,
    pub remarks: Vec<String>,
    /// Ids of the readings it rests on.
    pub readings: Vec<String>,
}

/// How a finding stands, as a page or paper marks it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    Good,
    Out,
    OnTheLine,
    Checked,
    /// A figure without a limit to judge it by.
    Figure,
    Missing,
    /// Cannot be told from what was only checked good.
    NoFigure,
}

impl Standing {
    pub fn word(self) -> &'static str {
        match self {
            Self::Good => Verdict::Good.word(),
            Self::Out => Verdict::Out.word(),
            Self::OnTheLine => Verdict::OnTheLine.word(),
            Self::Checked => "checked good",
            Self::Figure => "no limit",
            Self::Missing => "missing",
            Self::NoFigure => "no figure",
        }
    }

    /// How what was judged stands.
    pub fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Good => Self::Good,
            Verdict::Out => Self::Out,
            Verdict::OnTheLine => Self::OnTheLine,
        }
    }

    /// Whether anything was found: a figure, or that it is good.
    pub fn is_found(self) -> bool {
        !matches!(self, Self::Missing | Self::NoFigure)
    }
}

impl Finding {
    /// A finding with nothing judged yet.
    pub fn new(feature: FindingFeature, place: Place, basis: Basis) -> Self {
        Self {
            measure: feature.measure(),
            key: FindingKey::new(feature, place),
            basis,
            value: None,
            range: None,
            range_u: 0.0,
            ends: None,
            target: None,
            band: None,
            as_read: None,
            limit_source: String::new(),
            judgement: None,
            within_noise: false,
            working: Vec::new(),
            budget: String::new(),
            remarks: Vec::new(),
            readings: Vec::new(),
        }
    }

    /// What is stated of a place as a whole: one figure, a range, or that it was checked good.
    pub(super) fn stated(feature: FindingFeature, place: Place, taken: &Taken, words: Words) -> Self {
        let basis = taken.checked().map_or(Basis::Stated, |how| Basis::Checked { how: how.to_owned() });
        let mut finding = Self::new(feature, place, basis);
        let show = |value: &Measured| words.said(finding.measure, value.value());
        let working = match &taken.value {
            TakenValue::Figure(value) => format!("stated {}", show(value)),
            TakenValue::Range(low, high) => format!("stated {} to {}", show(low), show(high)),
            TakenValue::Checked { how } => format!("checked good: {how}"),
        };
        finding.working.push(working);
        finding.value = taken.figure();
        finding.set_range(taken.range());
        finding.ends = taken.ends();
        finding.readings.clone_from(&taken.readings);
        finding
    }

    /// A stated range about the value; its ends are as uncertain as the value is, without the range's own width.
    pub(super) fn set_range(&mut self, range: Option<(f64, f64)>) {
        let of_ends = self.value.iter().flat_map(Measured::parts).filter(|(s, _)| !matches!(s, Source::Spread(_)));
        self.range_u = of_ends.map(|(_, part)| part * part).sum::<f64>().sqrt();
        self.range = range;
    }

    /// Least and greatest of what was read beside the value: it is judged by the worse of them.
    pub(super) fn set_ends(&mut self, read: &[&Measured]) {
        let by_value = |a: &&&Measured, b: &&&Measured| a.value().total_cmp(&b.value());
        let (Some(least), Some(greatest)) = (read.iter().min_by(by_value), read.iter().max_by(by_value)) else {
            return;
        };
        self.range = Some((least.value(), greatest.value()));
        self.range_u = read.iter().map(|value| value.u()).fold(0.0, f64::max);
        self.ends = Some(((*least).clone(), (*greatest).clone()));
    }

    /// The size of `one` − `other`, which are the ends of a range of `readings` values. At equal values |x| has no slope,
    /// so the uncertainty is that of the difference before its sign was dropped.
    pub(super) fn set_difference(&mut self, one: &Measured, other: &Measured, readings: usize) {
        let Ok(signed) = difference(one, other) else { return };
        let size = signed.value().abs();
        self.within_noise = range_within_noise(size, readings, signed.u() / 2.0_f64.sqrt());
        if self.within_noise {
            self.remarks.push("within what the gauge can tell: no more than noise".to_owned());
        }
        self.value = Measured::new(size, signed.parts().clone()).ok();
    }

    pub fn standing(&self) -> Standing {
        match (&self.basis, &self.judgement) {
            (Basis::Missing { .. } | Basis::Target { .. }, _) => Standing::Missing,
            (Basis::NoFigure { .. }, _) => Standing::NoFigure,
            (Basis::Checked { .. }, _) => Standing::Checked,
            (_, Some(judgement)) => Standing::of(judgement.verdict),
            (_, None) => Standing::Figure,
        }
    }

    /// Judges it by a limit. What is checked, missing or only a target carries no verdict.
    pub fn judge_by(&mut self, limit: Option<&Limit>, journal_m: Option<f64>, rule: Rule) {
        let Some(limit) = limit else { return };
        let Some(band) = limit.band(journal_m) else { return };
        self.band = Some(band);
        self.limit_source.clone_from(&limit.source);
        if !matches!(self.basis, Basis::Readings | Basis::Stated) {
            return;
        }
        self.judgement = self.value.as_ref().map(|value| match self.range {
            Some((low, high)) => judge_range(low, high, self.range_u, &band, rule),
            None => judge(value, &band, rule),
        });
    }
}
