//! What a signed step rests on that is different now: what was seen then, held against what is found now.

use super::findings::JobFindings;
use super::job_record::JobRecord;
use crate::engine::{FindingFeature, LimitKind, SheetKey};
use crate::record::readings::Reading;
use crate::record::steps::Step;
use crate::sheets::{Finding, sheet};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::collections::BTreeSet;

/// What a sign-off keeps: findings, limits and readings' ids within them, decision rule and editions as they were seen.
#[derive(Serialize, Deserialize)]
struct Seen<'a> {
    rule: Cow<'a, str>,
    editions: Vec<(Cow<'a, str>, u32)>,
    findings: Vec<Cow<'a, Finding>>,
}

impl<'a> Seen<'a> {
    fn now(job: &'a JobRecord, findings: &'a JobFindings, step: &Step) -> Self {
        let of_step = step.sheets.iter().filter_map(|key| findings.by_sheet.get(key)).flatten();
        Self {
            rule: job.build.rule.key().into(),
            editions: step.sheets.iter().map(|&key| (key.key().into(), sheet(key).edition)).collect(),
            findings: of_step.map(Cow::Borrowed).collect(),
        }
    }

    fn kept(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The readings that it rests on.
    fn readings<'j>(&self, job: &'j JobRecord) -> Vec<&'j Reading> {
        let ids: BTreeSet<&String> = self.findings.iter().flat_map(|finding| &finding.readings).collect();
        job.readings.iter().filter(|reading| ids.contains(&reading.id())).collect()
    }
}

/// What a step rests on as it is now, as a sign-off keeps it.
pub(super) fn seen_now(job: &JobRecord, findings: &JobFindings, step: &Step) -> String {
    Seen::now(job, findings, step).kept()
}

/// What has changed since it was seen so, in few words: "round 2 (final) counts now; limits changed". None where nothing
/// has.
pub(super) fn changed_since(kept: &str, job: &JobRecord, findings: &JobFindings, step: &Step) -> Option<String> {
    let now = Seen::now(job, findings, step);
    if now.kept() == kept {
        return None;
    }
    let Ok(then) = serde_json::from_str::<Seen>(kept) else {
        return Some("what it rests on is kept otherwise now".to_owned());
    };
    let mut changes = Vec::new();
    if then.editions != now.editions {
        changes.push("edition of the sheet changed".to_owned());
    }
    let (read_then, read_now) = (then.readings(job), now.readings(job));
    let turned = turned_rounds(job, &read_then);
    changes.extend(turned.iter().map(|&key| counts_now(job, key, step)));
    let numbers = |read: &[&Reading]| -> BTreeSet<i64> {
        read.iter().filter(|reading| !turned.contains(&reading.sheet)).map(|reading| reading.number).collect()
    };
    if numbers(&read_then) != numbers(&read_now) {
        changes.push("readings changed".to_owned());
    }
    let pairs =
        || then.findings.iter().filter_map(|old| Some((old, now.findings.iter().find(|new| new.key == old.key)?)));
    if pairs().any(|(old, new)| limit_changed(job, old, new)) {
        changes.push("limits changed".to_owned());
    }
    if pairs().any(|(old, new)| old.target != new.target) {
        changes.push("targets changed".to_owned());
    }
    if then.rule != now.rule {
        changes.push("decision rule changed".to_owned());
    }
    if changes.is_empty() {
        let same_figures = then.findings.len() == now.findings.len()
            && pairs().all(|(old, new)| old.value == new.value && old.range == new.range && old.basis == new.basis);
        changes.push(if same_figures { "the same figures, worded otherwise" } else { "figures changed" }.to_owned());
    }
    Some(changes.join("; "))
}

/// Sheets of which another round counts than that of the readings seen then.
fn turned_rounds(job: &JobRecord, read_then: &[&Reading]) -> Vec<SheetKey> {
    let turned = |key: &SheetKey| {
        let counting = job.counting(*key).map(|round| round.id);
        let mut of_sheet = read_then.iter().filter(|reading| reading.sheet == *key).peekable();
        of_sheet.peek().is_some() && of_sheet.all(|reading| Some(reading.round) != counting)
    };
    SheetKey::ALL.into_iter().filter(turned).collect()
}

/// "round 2 (final) counts now", of a sheet that another step takes or of one of several with its title before it.
fn counts_now(job: &JobRecord, key: SheetKey, step: &Step) -> String {
    let round = job.counting(key);
    let counts = round.map_or_else(
        || "no round counts now".to_owned(),
        |round| format!("round {} ({}) counts now", round.number, round.kind.word()),
    );
    if step.sheets == [key] { counts } else { format!("{}: {counts}", sheet(key).title) }
}

/// Whether a finding is held against another limit. A limit by diameter moves with the journal as well, and what two
/// routes may differ by is no limit that anybody set.
fn limit_changed(job: &JobRecord, old: &Finding, new: &Finding) -> bool {
    let by_diameter =
        |limit: &crate::engine::Limit| limit.feature == old.key.feature && limit.kind == LimitKind::PerDiameter;
    let moves = job.limits.iter().any(by_diameter) && old.readings != new.readings;
    old.key.feature != FindingFeature::MainRoutes
        && (old.limit_source != new.limit_source || old.band != new.band && !moves)
}
