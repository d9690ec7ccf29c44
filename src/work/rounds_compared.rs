//! The rounds of a sheet side by side: what each says of its main findings, place by place.

use super::findings::number;
use super::job::JobLook;
use crate::drawing::Mark;
use crate::engine::{FindingFeature, FindingKey, SheetKey};
use crate::record::rounds::Round;
use crate::sheets::{Finding, mark_of, sheet};

/// One finding over all rounds.
#[derive(Clone, Debug)]
pub struct RoundsCompared {
    /// "clearance, vertical".
    pub title: &'static str,
    pub unit: &'static str,
    pub places: Vec<ComparedPlace>,
}

/// One place over all rounds.
#[derive(Clone, Debug)]
pub struct ComparedPlace {
    /// Its key in addresses.
    pub key: String,
    pub label: String,
    /// In the order of the rounds: the figure and how it stands; none where the round did not read it.
    pub figures: Vec<Option<(String, Mark)>>,
}

pub(super) fn compared(look: &JobLook, key: SheetKey, rounds: &[&Round]) -> Vec<RoundsCompared> {
    if rounds.len() < 2 {
        return Vec::new();
    }
    let by_round: Vec<Vec<Finding>> =
        rounds.iter().map(|round| look.job.book_of_round(round).findings(key).to_vec()).collect();
    sheet(key).compared.iter().filter_map(|feature| of_feature(look, feature, &by_round)).collect()
}

fn of_feature(look: &JobLook, feature: &'static FindingFeature, by_round: &[Vec<Finding>]) -> Option<RoundsCompared> {
    // Every round has this finding at every place, if only as missing.
    let places: Vec<&Finding> = by_round.first()?.iter().filter(|finding| finding.key.feature == *feature).collect();
    let first = places.first()?;
    let unit = look.job.build.unit.of(first.measure);
    let figure = |findings: &[Finding], key: &FindingKey| {
        let finding = findings.iter().find(|finding| finding.key == *key)?;
        Some((number(unit, finding.value.as_ref()?.value()), mark_of(finding.standing())))
    };
    let place = |finding: &&Finding| ComparedPlace {
        key: finding.key.place.to_string(),
        label: look.job.engine.architecture.label(finding.key.place),
        figures: by_round.iter().map(|findings| figure(findings, &finding.key)).collect(),
    };
    Some(RoundsCompared { title: feature.title(), unit: unit.symbol(), places: places.iter().map(place).collect() })
}
