//! What follows from readings: a value with its uncertainty, what it may be, and the working in figures.

use crate::engine::{FindingKey, Limit};
use crate::metrology::{Band, Judgement, Measured, Rule, Verdict, judge, judge_range};
use crate::quantity::Dimension;
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
}

/// One finding. Values are SI.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    pub key: FindingKey,
    pub dimension: Dimension,
    /// Spoken of in the small unit (thou, µm).
    pub small: bool,
    #[serde(flatten)]
    pub basis: Basis,
    pub value: Option<Measured>,
    /// Ends of a stated range, or least and greatest of the readings; it is judged by its worse end.
    pub range: Option<(f64, f64)>,
    pub target: Option<f64>,
    pub band: Option<Band>,
    /// Where the limit comes from.
    pub limit_source: String,
    pub judgement: Option<Judgement>,
    /// A difference within its own noise: nothing can be told from it.
    pub within_noise: bool,
    pub working: Vec<String>,
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
        }
    }
}

impl Finding {
    /// A finding with nothing judged yet.
    pub fn new(key: FindingKey, dimension: Dimension, small: bool, basis: Basis) -> Self {
        Self {
            key,
            dimension,
            small,
            basis,
            value: None,
            range: None,
            target: None,
            band: None,
            limit_source: String::new(),
            judgement: None,
            within_noise: false,
            working: Vec::new(),
            remarks: Vec::new(),
            readings: Vec::new(),
        }
    }

    pub fn standing(&self) -> Standing {
        match (&self.basis, &self.judgement) {
            (Basis::Missing { .. } | Basis::Target { .. }, _) => Standing::Missing,
            (Basis::Checked { .. }, _) => Standing::Checked,
            (_, Some(Judgement { verdict: Verdict::Good, .. })) => Standing::Good,
            (_, Some(Judgement { verdict: Verdict::Out, .. })) => Standing::Out,
            (_, Some(Judgement { verdict: Verdict::OnTheLine, .. })) => Standing::OnTheLine,
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
            Some((low, high)) => judge_range(low, high, value.u(), &band, rule),
            None => judge(value, &band, rule),
        });
    }
}
