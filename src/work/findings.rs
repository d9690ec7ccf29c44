//! Findings of a job: worked out once per newest act, and worded for pages.

use super::job_record::{JobRecord, is_kept_elsewhere};
use super::stale::Stale;
use super::when::When;
use crate::drawing::limit_strip::{self, LimitStrip};
use crate::drawing::{Drawing, Mark};
use crate::engine::{Architecture, FindingKey, SheetKey, WorkingUnit};
use crate::quantity::Unit;
use crate::record::acceptances::Acceptance;
use crate::record::readings::Reading;
use crate::sheets::{Basis, Finding, Standing, Words, mark_of};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, Mutex};

/// All findings of a job, by sheet, as the rounds that count have them.
pub(super) struct JobFindings {
    pub by_sheet: BTreeMap<SheetKey, Vec<Finding>>,
    /// Sheets on which anything was found, by more than what is kept on another.
    begun: BTreeSet<SheetKey>,
    pub undecided: usize,
    /// Readings that a change made stale.
    pub stale: Stale,
}

impl JobFindings {
    pub fn of(job: &JobRecord) -> Self {
        let book = job.book();
        let by_sheet: BTreeMap<_, _> =
            SheetKey::ALL.into_iter().map(|key| (key, book.findings(key).to_vec())).collect();
        let elsewhere: BTreeSet<String> =
            job.readings.iter().filter(|r| is_kept_elsewhere(r)).map(Reading::id).collect();
        let of_sheet = |finding: &Finding| {
            finding.readings.is_empty() || finding.readings.iter().any(|id| !elsewhere.contains(id))
        };
        let is_begun = |findings: &Vec<Finding>| findings.iter().any(|f| f.standing().is_found() && of_sheet(f));
        let begun = by_sheet.iter().filter(|(_, findings)| is_begun(findings)).map(|(key, _)| *key).collect();
        Self { by_sheet, begun, undecided: job.undecided(), stale: Stale::of(job) }
    }

    pub fn all(&self) -> impl Iterator<Item = &Finding> {
        self.by_sheet.values().flatten()
    }

    /// Those of sheets on which anything was found: of a sheet that nobody took up yet nothing is missing.
    pub fn begun(&self) -> impl Iterator<Item = &Finding> {
        self.by_sheet.iter().filter(|(key, _)| self.begun.contains(key)).flat_map(|(_, findings)| findings)
    }

    /// Those of the sheets that a step takes: where some were taken up, of those alone.
    pub fn of_step(&self, sheets: &[SheetKey]) -> Vec<&Finding> {
        let none_begun = sheets.iter().all(|key| !self.begun.contains(key));
        let taken_up = sheets.iter().filter(|key| none_begun || self.begun.contains(key));
        taken_up.filter_map(|key| self.by_sheet.get(key)).flatten().collect()
    }

    /// How findings stand, counted.
    pub fn tally<'a>(&self, of: impl IntoIterator<Item = &'a Finding>, calls: &[Acceptance]) -> Tally {
        let mut tally = Tally::default();
        for finding in of {
            tally.count(finding, calls);
            tally.stale += usize::from(self.stale.is_stale(finding));
        }
        tally
    }

    pub fn find(&self, key: &FindingKey) -> Option<&Finding> {
        self.all().find(|finding| finding.key == *key)
    }
}

/// Findings by job, each true for one newest act.
#[derive(Clone, Default)]
pub(super) struct Memo(Arc<Mutex<HashMap<i64, Known>>>);

/// The newest act of a job, and what was found as of it.
type Known = (i64, Arc<JobFindings>);

impl Memo {
    pub fn get(&self, job: i64, act: i64) -> Option<Arc<JobFindings>> {
        let held = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        held.get(&job).filter(|(of, _)| *of == act).map(|(_, findings)| Arc::clone(findings))
    }

    pub fn put(&self, job: i64, act: i64, findings: JobFindings) -> Arc<JobFindings> {
        let findings = Arc::new(findings);
        let mut held = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        held.insert(job, (act, Arc::clone(&findings)));
        findings
    }

    /// Forgets one job.
    pub fn forget(&self, job: i64) {
        self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner).remove(&job);
    }

    /// Forgets everything: a gauge changed, and every job may rest on it.
    pub fn clear(&self) {
        self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner).clear();
    }
}

/// "My call, because …".
#[derive(Clone, Debug)]
pub struct Call {
    pub by: String,
    pub when: String,
    pub because: String,
    pub for_owner: String,
    /// The finding now differs from what was accepted.
    pub changed_since: bool,
}

/// A finding worded for a page.
#[derive(Clone, Debug)]
pub struct FindingView {
    pub key: FindingKey,
    /// Where, as said in the shop.
    pub place: String,
    pub title: String,
    pub standing: Standing,
    pub mark: Mark,
    /// "good", "out", "missing".
    pub word: String,
    /// "on the line" beside a verdict by the simple rule.
    pub beside: Option<String>,
    /// In the working unit: "2.5 thou".
    pub value: Option<String>,
    /// In the other: "64 µm".
    pub other: Option<String>,
    /// "± 0.2 thou".
    pub good_to: Option<String>,
    /// "2.5 to 2.8 thou": a stated range, or least and greatest.
    pub range: Option<String>,
    /// "2.0 to 3.0 thou".
    pub limit: Option<String>,
    pub limit_source: String,
    /// To the nearer limit, signed: "+0.4 thou".
    pub margin: Option<String>,
    /// What it rests on: "every reading", "stated", "checked: …", "target stands in", what is missing, or why no figure is.
    pub basis: String,
    pub working: Vec<String>,
    /// Where its uncertainty comes from; empty without one.
    pub budget: String,
    pub remarks: Vec<String>,
    /// Why it rests on stale readings: "other rod bolts: …"; empty where it does not.
    pub stale: Vec<String>,
    /// A compact limit strip.
    pub strip: Drawing,
    pub call: Option<Call>,
}

impl FindingView {
    /// Out, on the line, or missing: listed until somebody makes the call.
    pub fn is_open(&self) -> bool {
        matches!(self.standing, Standing::Out | Standing::OnTheLine | Standing::Missing)
    }

    /// Listed and nobody has made the call, or it has changed since.
    pub fn needs_call(&self) -> bool {
        self.is_open() && self.call.as_ref().is_none_or(|call| call.changed_since)
    }
}

/// How many findings stand how.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub good: usize,
    pub out: usize,
    /// Out, and accepted by somebody's call.
    pub accepted: usize,
    pub on_the_line: usize,
    pub missing: usize,
    /// Figures without a limit, and what was checked good.
    pub other: usize,
    /// Of all those, how many rest on readings that a change made stale.
    pub stale: usize,
}

impl Tally {
    fn count(&mut self, finding: &Finding, calls: &[Acceptance]) {
        match finding.standing() {
            Standing::Good => self.good += 1,
            Standing::Out if calls.iter().any(|call| stands(call, finding)) => self.accepted += 1,
            Standing::Out => self.out += 1,
            Standing::OnTheLine => self.on_the_line += 1,
            Standing::Missing => self.missing += 1,
            Standing::Checked | Standing::Figure => self.other += 1,
            Standing::NoFigure => {}
        }
    }

    /// Whether anything stands to be judged: more than what is missing.
    pub const fn is_read(&self) -> bool {
        self.good + self.out + self.accepted + self.on_the_line + self.other > 0
    }
}

/// Whether a call was made on this finding as it is now.
pub(super) fn stands(call: &Acceptance, finding: &Finding) -> bool {
    call.finding == finding.key && call.seen == seen(finding)
}

/// A finding as it is kept with a sign-off or an acceptance.
pub(super) fn seen(finding: &Finding) -> String {
    serde_json::to_string(finding).unwrap_or_default()
}

/// Words findings for pages of one job.
pub(super) struct Wording<'a> {
    pub architecture: &'a Architecture,
    pub unit: WorkingUnit,
    pub calls: &'a [Acceptance],
    pub stale: &'a Stale,
    pub when: &'a When,
}

impl Wording<'_> {
    pub fn view(&self, finding: &Finding) -> FindingView {
        let words = Words { unit: self.unit };
        let unit = self.unit.of(finding.measure);
        let show = |si: f64| self.show(unit, si);
        let standing = finding.standing();
        let value = finding.value.as_ref();
        let on_the_line = finding.judgement.as_ref().is_some_and(|j| j.on_the_line);
        FindingView {
            key: finding.key.clone(),
            place: self.architecture.label(finding.key.place),
            title: finding.key.feature.title().to_owned(),
            standing,
            mark: mark_of(standing),
            word: standing.word().to_owned(),
            beside: (on_the_line && standing != Standing::OnTheLine).then(|| "on the line".to_owned()),
            value: value.map(|v| show(v.value())),
            other: value.filter(|_| unit.other() != unit && unit != Unit::ThouPerInch).map(|v| {
                let other = unit.other();
                other.show(v.value(), other.usual_decimals())
            }),
            good_to: value.filter(|v| v.u() > 0.0).map(|v| format!("± {}", show(v.expanded(2.0)))),
            range: finding.range.map(|(low, high)| format!("{} to {}", number(unit, low), show(high))),
            limit: finding.band.as_ref().map(|band| match (&finding.key.feature, band.max()) {
                // No limit that somebody gave, but what both routes can tell.
                (feature, Some(allowed)) if feature.compares_routes() => format!("± {}", show(allowed)),
                _ => words.limits(unit, band.min(), band.max()),
            }),
            limit_source: finding.limit_source.clone(),
            margin: finding.judgement.as_ref().map(|j| unit.show_signed(j.margin, unit.usual_decimals())),
            basis: basis(&finding.basis),
            working: finding.working.clone(),
            budget: finding.budget.clone(),
            remarks: finding.remarks.clone(),
            stale: self.stale.of_finding(finding),
            strip: limit_strip::compact(&strip(finding), &self.architecture.label(finding.key.place), &|x| {
                number(unit, x)
            }),
            call: self.calls.iter().rev().find(|call| call.finding == finding.key).map(|call| Call {
                by: call.person.clone(),
                when: self.when.at(call.stamp.at),
                because: call.because.clone(),
                for_owner: call.for_owner.clone(),
                changed_since: !stands(call, finding),
            }),
        }
    }

    fn show(&self, unit: Unit, si: f64) -> String {
        match (unit, self.unit) {
            (Unit::ThouPerInch, _) => Words { unit: self.unit }.ratio(si),
            _ => unit.show(si, unit.usual_decimals()),
        }
    }
}

pub(super) fn number(unit: Unit, si: f64) -> String {
    unit.show_number(si, unit.usual_decimals())
}

/// A finding as a limit strip shows it, in SI.
pub(super) fn strip(finding: &Finding) -> LimitStrip {
    LimitStrip {
        min: finding.band.as_ref().and_then(crate::metrology::Band::min),
        max: finding.band.as_ref().and_then(crate::metrology::Band::max),
        value: finding.value.as_ref().map(crate::metrology::Measured::value),
        expanded: finding.value.as_ref().map_or(0.0, |v| v.expanded(2.0)),
        target: finding.target,
        spread: finding.range,
        mark: mark_of(finding.standing()),
    }
}

fn basis(basis: &Basis) -> String {
    match basis {
        Basis::Readings => "every reading".to_owned(),
        Basis::Stated => "as stated".to_owned(),
        Basis::Checked { how } => format!("checked: {how}"),
        Basis::Target { missing } => format!("target stands in; missing: {missing}"),
        Basis::Missing { missing } => format!("missing: {missing}"),
        Basis::NoFigure { because } => format!("no figure: {because}"),
    }
}
