//! What is said of every finding alike, once its sheet has worked it out: how it read before it was brought to 20 °C, where its
//! uncertainty comes from, how likely it conforms, what would settle it, and whether a gauge was due.

use super::settle::{Part, settle};
use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, SheetKey};
use crate::metrology::{Band, Measured, Rule, conformity, judge};
use std::collections::{BTreeMap, BTreeSet};

/// Contributions below this part of u² are not listed.
const WORTH_LISTING: f64 = 0.02;

pub(super) fn complete(book: &Book, sheet: SheetKey, findings: &mut [Finding]) {
    for finding in findings {
        let again: BTreeSet<&String> = finding.readings.iter().filter_map(|id| book.rechecked.get(id)).collect();
        finding.remarks.extend(again.into_iter().cloned());
        if !matches!(finding.basis, Basis::Readings | Basis::Stated) {
            continue;
        }
        as_read(book, sheet, finding);
        if let Some(value) = finding.value.clone().filter(|value| value.u() > 0.0) {
            finding.budget = budget(book, finding, &value);
        }
        if finding.key.feature != FindingFeature::MainRoutes {
            judged(book, finding);
        }
        for gauge in book.told().past_due(&finding.readings) {
            finding.remarks.push(format!("{gauge} was past its date of calibration"));
        }
    }
}

fn as_read(book: &Book, sheet: SheetKey, finding: &mut Finding) {
    let Some(warm) = book.as_read().and_then(|warm| warm.finding(sheet, &finding.key)) else { return };
    let (Some(read), Some(value)) = (&warm.value, &finding.value) else { return };
    if read.value().to_bits() == value.value().to_bits() {
        return;
    }
    finding.as_read = Some(read.value());
    let shown = book.words().figure(finding, read.value());
    if shown != book.words().figure(finding, value.value()) {
        finding.remarks.push(format!("brought to 20 °C; as read {shown}"));
    }
}

/// The contributions to a value's uncertainty, those of one name together, the largest first.
fn parts(book: &Book, value: &Measured) -> Vec<Part> {
    let mut by_name: BTreeMap<String, Part> = BTreeMap::new();
    for (source, u) in value.parts() {
        let name = book.told().name(source);
        let part = by_name.entry(name.clone()).or_insert_with(|| Part::new(name, source.clone()));
        part.add(*u);
    }
    let mut parts: Vec<Part> = by_name.into_values().collect();
    parts.sort_by(|a, b| b.u.total_cmp(&a.u));
    parts
}

/// "± 0.3 thou (k = 2): main 3, clearance, vertical 62 %, zeroing bore gauge 2 38 %".
fn budget(book: &Book, finding: &Finding, value: &Measured) -> String {
    let parts = parts(book, value);
    let share = |part: &Part| (part.u / value.u()).powi(2);
    let listed = parts.iter().filter(|part| share(part) >= WORTH_LISTING);
    let listed: Vec<String> = listed.map(|part| format!("{} {:.0} %", part.name, 100.0 * share(part))).collect();
    let freedom = match value.effective_freedom() {
        Some(freedom) if freedom < MANY => format!(", ν {freedom:.0}"),
        _ => String::new(),
    };
    let good_to = book.words().figure(finding, value.expanded(2.0));
    format!("± {good_to} (k = 2{freedom}): {}", listed.join(", "))
}

/// From so many degrees of freedom on, k = 2 covers 95 % all but exactly (JCGM 100:2008, table G.2: 2.04 at 45 or 50).
const MANY: f64 = 50.0;

/// Of a finding on the line: how likely it conforms, and what would settle it. A range is judged by its worse end.
fn judged(book: &Book, finding: &mut Finding) {
    let (Some(band), Some(judgement)) = (finding.band, finding.judgement) else { return };
    if !judgement.on_the_line {
        return;
    }
    let judged = match &finding.ends {
        Some((low, high)) => Some(if is_worse(low, high, &band) { low } else { high }),
        None if finding.range.is_some() => None,
        None => finding.value.as_ref(),
    };
    let Some(judged) = judged.filter(|value| value.u() > 0.0) else { return };
    let probability = 100.0 * conformity(judged, &band);
    let words = book.words();
    let said = settle(judgement.margin.abs(), &parts(book, judged), |u| words.figure(finding, 2.0 * u));
    let of = if finding.range.is_some() { " of the worse end" } else { "" };
    finding.working.push(format!("probability of conformity{of} {probability:.0} %"));
    finding.remarks.push(said);
}

/// Whether `one` lies nearer to a limit, or further beyond it, than `other`.
fn is_worse(one: &Measured, other: &Measured, band: &Band) -> bool {
    judge(one, band, Rule::Simple).margin < judge(other, band, Rule::Simple).margin
}
