//! The shape of bores and journals: out-of-round and taper of one, and how far several lie apart.

use super::{Basis, Book, Finding, Words};
use crate::engine::{FindingFeature, Measure};
use crate::mechanics::bore;
use crate::metrology::{self, Measured};

/// Where along the axis, and the two diameters square to each other that were read there; either may be missing.
pub(super) struct Section<'a> {
    pub at: &'static str,
    pub across: [Option<&'a Measured>; 2],
}

/// The largest difference within a section, filled into `finding`; none where no section has both diameters.
pub(super) fn out_of_round(mut finding: Finding, sections: &[Section], words: Words) -> Option<Finding> {
    let pair = |section: &Section| {
        let [Some(one), Some(other)] = section.across else { return None };
        Some((section.at, one.clone(), other.clone(), bore::out_of_round_m(one.value(), other.value())))
    };
    let (at, one, other, value) = sections.iter().filter_map(pair).max_by(|a, b| a.3.total_cmp(&b.3))?;
    finding.working.push(format!(
        "largest at the {at}: |{} − {}| = {}",
        words.size_number(one.value()),
        words.size_number(other.value()),
        words.small(value)
    ));
    finding.set_difference(&one, &other, 2);
    Some(finding)
}

/// The first section less the last, by what was read the same way at both, filled into `finding`; none where nothing was.
/// `ways` names the two diameters.
pub(super) fn taper(
    mut finding: Finding,
    first: &Section,
    last: &Section,
    ways: [&str; 2],
    words: Words,
) -> Option<Finding> {
    let both: Vec<usize> = (0..2).filter(|&way| first.across[way].and(last.across[way]).is_some()).collect();
    let mean =
        |section: &Section| metrology::mean(&both.iter().filter_map(|&way| section.across[way]).collect::<Vec<_>>());
    let (one, other) = (mean(first).ok()?, mean(last).ok()?);
    let signed = bore::taper_m(one.value(), other.value());
    let of_means = both.len() > 1;
    let size = |m: f64| if of_means { words.mean_number(m) } else { words.size_number(m) };
    let apart = if of_means { words.small_of_means(signed) } else { words.small(signed) };
    finding.working.push(format!("{} {} − {} {} = {apart}", first.at, size(one.value()), last.at, size(other.value())));
    if let [way] = both[..] {
        finding.remarks.push(format!("{} only", ways[way]));
    }
    finding.set_difference(&one, &other, 2);
    if !finding.within_noise {
        let larger = if signed > 0.0 { first.at } else { last.at };
        finding.remarks.push(format!("larger at the {larger}"));
    }
    Some(finding)
}

/// The largest less the smallest of the findings of one feature, filled into `finding`; none until two are read.
pub(super) fn spread(mut finding: Finding, of: &FindingFeature, findings: &[Finding], book: &Book) -> Option<Finding> {
    let read: Vec<(&Finding, &Measured)> = findings
        .iter()
        .filter(|f| f.key.feature == *of && f.basis == Basis::Readings)
        .filter_map(|f| Some((f, f.value.as_ref()?)))
        .collect();
    let least = read.iter().min_by(|a, b| a.1.value().total_cmp(&b.1.value()))?;
    let greatest = read.iter().max_by(|a, b| a.1.value().total_cmp(&b.1.value()))?;
    if read.len() < 2 {
        return None;
    }
    let words = book.words();
    let said = |(f, value): &(&Finding, &Measured)| {
        let place = book.setup.architecture.label(f.key.place);
        let figure = match f.measure {
            Measure::SIZE => words.mean_number(value.value()),
            other => words.said(other, value.value()),
        };
        format!("{place} {figure}")
    };
    let difference = greatest.1.value() - least.1.value();
    let apart = match of.measure() {
        Measure::SIZE => words.small_of_means(difference),
        other => words.said(other, difference),
    };
    finding.working.push(format!("{} − {} = {apart}", said(greatest), said(least)));
    finding.set_difference(greatest.1, least.1, read.len());
    finding.readings = read.iter().flat_map(|(f, _)| f.readings.iter().cloned()).collect();
    Some(finding)
}
