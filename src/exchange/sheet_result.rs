//! What follows from a sheet's input, as one JSON document.

use super::SheetInput;
use super::sheet_input::{FORMAT, ItemForm};
use super::sheet_readings::EnteredReading;
use crate::engine::{FindingKey, SheetKey};
use crate::metrology::{Measured, Rule, Verdict};
use crate::quantity::Entry;
use crate::sheets::{Basis, Finding, Standing, coarse_gauges, misread, sheet};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The coverage factor of U.
const K: f64 = 2.0;

/// The findings of one sheet.
#[derive(Clone, Debug, Serialize)]
pub struct SheetResult {
    pub format: u64,
    pub sheet: SheetKey,
    pub edition: u32,
    pub title: &'static str,
    pub rule: Rule,
    /// Of each sheet that has readings, the round that counted.
    pub rounds: BTreeMap<&'static str, String>,
    pub items: Vec<ItemForm>,
    pub findings: Vec<FindingResult>,
    /// Gauges coarser than a tenth of the tightest limit they feed.
    pub coarse: Vec<String>,
    /// Readings off from what their neighbours or the target lead one to expect.
    pub odd: Vec<OddResult>,
}

/// One finding. What is not known is null.
#[derive(Clone, Debug, Serialize)]
pub struct FindingResult {
    pub key: FindingKey,
    pub title: String,
    /// As said in the shop: "main 3".
    pub place: String,
    #[serde(flatten)]
    pub basis: Basis,
    pub standing: Standing,
    /// In `unit`, as all figures here.
    pub value: Option<f64>,
    /// SI: m, or 1 for a ratio.
    pub unit: &'static str,
    /// Standard uncertainty.
    pub u: Option<f64>,
    /// Coverage factor of `U`.
    pub k: Option<f64>,
    /// Expanded uncertainty k·u.
    #[serde(rename = "U")]
    pub expanded: Option<f64>,
    /// Effective degrees of freedom of u; none where every contribution is known for certain.
    pub nu_eff: Option<f64>,
    /// Before it was brought to 20 °C; none where it was not.
    pub as_read: Option<f64>,
    /// Least and greatest, or the ends of a stated range.
    pub range: Option<(f64, f64)>,
    pub target: Option<f64>,
    pub limit: Option<LimitResult>,
    pub verdict: Option<Verdict>,
    /// A limit lies within U of the value.
    pub on_the_line: Option<bool>,
    /// To the nearer limit, positive inside.
    pub margin: Option<f64>,
    pub within_noise: bool,
    pub working: Vec<String>,
    /// Where U comes from; empty without one.
    pub budget: String,
    pub remarks: Vec<String>,
    /// Paths of the readings it rests on.
    pub readings: Vec<String>,
    /// The conditions those were taken in, each once.
    pub conditions: Vec<String>,
}

/// What a finding may be.
#[derive(Clone, Debug, Serialize)]
pub struct LimitResult {
    pub min: Option<f64>,
    pub max: Option<f64>,
    pub source: String,
}

/// A reading that looks odd.
#[derive(Clone, Debug, Serialize)]
pub struct OddResult {
    pub reading: String,
    /// Of a range its ends, as all figures here in m.
    pub value: Vec<f64>,
    /// Where it raises no doubt.
    pub expected: (f64, f64),
    /// "its neighbours", "earlier engines of the family", "the target".
    pub from: String,
    /// The slip that explains it, and what was read if it was made.
    pub slip: Option<&'static str>,
    pub without_slip: Option<Vec<f64>>,
    pub question: String,
}

/// Works a sheet out.
pub fn work_out(key: SheetKey, input: &SheetInput) -> SheetResult {
    let of = sheet(key);
    let rounds = input.entered.rounds.iter();
    SheetResult {
        format: FORMAT,
        sheet: key,
        edition: of.edition,
        title: of.title,
        rule: input.book.rule,
        rounds: rounds.map(|(key, round)| (key.key(), round.clone())).collect(),
        items: input.items.clone(),
        findings: input.book.findings(key).iter().map(|finding| result(input, finding)).collect(),
        coarse: coarse_gauges(&input.book, key),
        odd: input.entered.readings.iter().filter_map(|reading| looks_odd(input, reading)).collect(),
    }
}

fn result(input: &SheetInput, finding: &Finding) -> FindingResult {
    let value = finding.value.as_ref();
    let judgement = finding.judgement.as_ref();
    let rests_on = |reading: &&EnteredReading| finding.readings.contains(&reading.path);
    let conditions: BTreeSet<&str> =
        input.entered.readings.iter().filter(rests_on).map(|reading| reading.condition.as_str()).collect();
    FindingResult {
        key: finding.key.clone(),
        title: finding.key.feature.title().to_owned(),
        place: input.book.setup.architecture.label(finding.key.place),
        basis: finding.basis.clone(),
        standing: finding.standing(),
        value: value.map(Measured::value),
        unit: finding.measure.dimension.si_symbol(),
        u: value.map(Measured::u),
        k: value.map(|_| K),
        expanded: value.map(|v| v.expanded(K)),
        nu_eff: value.and_then(Measured::effective_freedom),
        as_read: finding.as_read,
        range: finding.range,
        target: finding.target,
        limit: finding.band.map(|band| LimitResult {
            min: band.min(),
            max: band.max(),
            source: finding.limit_source.clone(),
        }),
        verdict: judgement.map(|j| j.verdict),
        on_the_line: judgement.map(|j| j.on_the_line),
        margin: judgement.map(|j| j.margin),
        within_noise: finding.within_noise,
        working: finding.working.clone(),
        budget: finding.budget.clone(),
        remarks: finding.remarks.clone(),
        readings: finding.readings.clone(),
        conditions: conditions.into_iter().filter(|words| !words.is_empty()).map(str::to_owned).collect(),
    }
}

fn looks_odd(input: &SheetInput, reading: &EnteredReading) -> Option<OddResult> {
    let (typed, how) = reading.typed.as_ref()?;
    let odd = misread(&input.book, &reading.slot, typed, how)?;
    Some(OddResult {
        reading: reading.path.clone(),
        value: ends(odd.entry),
        expected: odd.expected.near,
        from: odd.expected.from.to_string(),
        slip: odd.slip.map(|(slip, _)| slip.key()),
        without_slip: odd.slip.map(|(_, undone)| ends(undone)),
        question: odd.question(input.book.words(), reading.slot.measure()),
    })
}

fn ends(entry: Entry) -> Vec<f64> {
    match entry {
        Entry::Figure(q) => vec![q.si],
        Entry::Range(low, high) => vec![low.si, high.si],
    }
}
