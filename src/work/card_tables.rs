//! What was measured, as the card sets it: a row for each place, a column for each finding, with the unit in its heading.

use super::findings::{number, stands, strip};
use super::job::JobLook;
use super::sheet_pictures::worst;
use crate::drawing::limit_strip;
use crate::engine::{FindingFeature, Place, Spot};
use crate::handover::contents::{Align, Cell, Column, Line, Section, Table};
use crate::metrology::{Band, Measured};
use crate::quantity::Unit;
use crate::sheets::{Basis, Finding, Standing, Words};

/// Findings of one feature, place by place, and how they are spoken of.
struct Group<'a> {
    feature: &'a FindingFeature,
    findings: Vec<&'a Finding>,
    unit: Unit,
    /// The limits that hold at every place of it.
    common: Option<Band>,
}

impl<'a> Group<'a> {
    fn of(look: &'a JobLook, feature: &'a FindingFeature) -> Option<Self> {
        let words = Words { unit: look.job.build.unit };
        let known = |finding: &&Finding| finding.key.feature == *feature && finding.standing() != Standing::Missing;
        let findings: Vec<&Finding> = look.findings.all().filter(known).collect();
        let first = findings.first()?;
        let same = findings.iter().all(|finding| finding.band == first.band);
        Some(Self {
            unit: words.shown_in(first.dimension, first.small),
            common: first.band.filter(|_| same),
            feature,
            findings,
        })
    }

    fn at(&self, place: Place) -> Option<&'a Finding> {
        self.findings.iter().find(|finding| finding.key.place == place).copied()
    }
}

/// A section of the card for some features; none where none of them was found.
pub(super) fn measured(look: &JobLook, title: &str, features: &[FindingFeature], with_limits: bool) -> Option<Section> {
    let (whole, single): (Vec<Group>, Vec<Group>) = features
        .iter()
        .filter_map(|feature| Group::of(look, feature))
        .partition(|group| group.findings.iter().all(|finding| finding.key.place == group.feature.whole()));
    let sheet = Sheet { look, groups: single, with_limits };
    let lines: Vec<Line> = whole.iter().flat_map(|group| sheet.lines(group)).collect();
    let table = sheet.table();
    (!lines.is_empty() || table.is_some()).then(|| Section {
        title: title.to_owned(),
        lines,
        table,
        ..Section::default()
    })
}

struct Sheet<'a> {
    look: &'a JobLook,
    groups: Vec<Group<'a>>,
    with_limits: bool,
}

impl Sheet<'_> {
    fn words(&self) -> Words {
        Words { unit: self.look.job.build.unit }
    }

    fn table(&self) -> Option<Table> {
        let architecture = &self.look.job.engine.architecture;
        let mains = self.groups.first()?.feature.whole() == Place::AllMains;
        let places = if mains { architecture.main_places().collect() } else { architecture.cylinders_in_order() };
        let places: Vec<Place> =
            places.into_iter().filter(|place| self.groups.iter().any(|group| group.at(*place).is_some())).collect();
        let judged =
            self.with_limits && self.groups.iter().any(|group| group.findings.iter().any(|f| f.band.is_some()));
        // The strip is of the one finding that the table is first read for.
        let drawn = self.groups.iter().find(|_| judged).filter(|group| group.findings.iter().any(|f| f.band.is_some()));
        let how = places.iter().any(|place| !self.how(*place).is_empty());

        let left = |title: &str| Column { title: title.to_owned(), align: Align::Left };
        let mut columns = vec![left(if mains { "main" } else { "cylinder" })];
        columns.extend(self.groups.iter().map(|group| Column {
            title: format!("{}, {}", short(group.feature), self.words().symbol(group.unit)),
            align: Align::Decimal,
        }));
        columns.extend(drawn.map(|group| left(&format!("{} by its limits", short(group.feature)))));
        columns.extend(judged.then(|| left("verdict")));
        columns.extend(how.then(|| left("how")));

        let mut rows = Vec::new();
        rows.extend(judged.then(|| self.limits_row()).flatten());
        for &place in &places {
            let mut row = vec![Cell::of(architecture.number(place).map_or_else(String::new, |n| n.to_string()))];
            row.extend(self.groups.iter().map(|group| self.cell(group, place)));
            row.extend(drawn.map(|group| self.strip(group, place)));
            row.extend(judged.then(|| self.verdict(place)));
            row.extend(how.then(|| Cell::of(self.how(place))));
            rows.push(row);
        }
        rows.extend(self.known_to());
        Some(Table { columns, rows })
    }

    /// The figure at a place: what was found or stated, and beneath it what a size is judged by where that is not it.
    fn cell(&self, group: &Group, place: Place) -> Cell {
        let Some(finding) = group.at(place) else { return Cell::of("–") };
        let range =
            finding.range.map(|(low, high)| format!("{}–{}", number(group.unit, low), number(group.unit, high)));
        let figure = finding.value.as_ref().map(|value| number(group.unit, value.value()));
        let own_limits = finding.band.filter(|_| self.with_limits && group.common.is_none());
        let limits = own_limits.map(|band| self.words().limits(group.unit, band.min(), band.max()));
        match (&finding.basis, range) {
            (Basis::Stated, Some(range)) => Cell { beneath: limits, ..Cell::of(range) },
            (_, range) => Cell {
                beneath: limits.or(range.filter(|range| self.with_limits && !is_one(range))),
                ..Cell::of(figure.unwrap_or_else(|| "–".to_owned()))
            },
        }
    }

    /// The limits that hold at every place, above the figures they are for.
    fn limits_row(&self) -> Option<Vec<Cell>> {
        self.groups.iter().any(|group| group.common.is_some()).then(|| {
            let text = |group: &Group| {
                let band = group.common.as_ref();
                band.map_or_else(String::new, |band| bare_limits(group.unit, band))
            };
            [Cell::of("limits")].into_iter().chain(self.groups.iter().map(|group| Cell::of(text(group)))).collect()
        })
    }

    /// What the figures of each column are known to, at worst: expanded uncertainty, k = 2.
    fn known_to(&self) -> Option<Vec<Cell>> {
        let worst = |group: &Group| {
            let all = group.findings.iter().filter_map(|finding| finding.value.as_ref());
            all.map(Measured::u).fold(0.0, f64::max) * 2.0
        };
        let known: Vec<f64> = self.groups.iter().map(worst).collect();
        known.iter().any(|u| *u > 0.0).then(|| {
            let cell =
                |(group, u): (&Group, &f64)| Cell::of(if *u > 0.0 { number(group.unit, *u) } else { String::new() });
            [Cell::of("known to ±")].into_iter().chain(self.groups.iter().zip(&known).map(cell)).collect()
        })
    }

    fn strip(&self, group: &Group, place: Place) -> Cell {
        let judged = group.at(place).filter(|finding| finding.band.is_some());
        let label = self.look.job.engine.architecture.label(place);
        let show = |x: f64| number(group.unit, x);
        Cell { strip: judged.map(|f| limit_strip::compact(&strip(f), &label, &show)), ..Cell::default() }
    }

    /// How a place stands: the mark of its most pressing finding, and each verdict that is not plainly good by its name.
    fn verdict(&self, place: Place) -> Cell {
        let found: Vec<(&Group, &Finding)> =
            self.groups.iter().filter_map(|group| group.at(place).map(|finding| (group, finding))).collect();
        let judged: Vec<&Finding> = found.iter().map(|(_, finding)| *finding).filter(|f| f.band.is_some()).collect();
        if judged.is_empty() {
            return Cell::of("no limit set");
        }
        let several = self.groups.len() > 1;
        let notable = |(group, finding): &(&Group, &Finding)| {
            let word = self.verdict_word(finding)?;
            Some(if several { format!("{} {word}", short(group.feature)) } else { word })
        };
        let words: Vec<String> = found.iter().filter_map(notable).collect();
        let text = if words.is_empty() { Standing::Good.word().to_owned() } else { words.join("; ") };
        Cell { mark: Some(worst(&judged)), ..Cell::of(text) }
    }

    /// The verdict in words, unless it is plainly good or there is none.
    fn verdict_word(&self, finding: &Finding) -> Option<String> {
        let standing = finding.standing();
        let close = finding.judgement.as_ref().is_some_and(|judgement| judgement.on_the_line);
        let word = match standing {
            Standing::Good if !close => return None,
            Standing::Good => "good, on the line".to_owned(),
            Standing::Out if close => "out, on the line".to_owned(),
            Standing::Figure | Standing::Missing => return None,
            other => other.word().to_owned(),
        };
        let accepted = self.look.calls.iter().any(|call| stands(call, finding));
        Some(if accepted { format!("{word}, accepted") } else { word })
    }

    /// On what the figures of a place rest, where it is not every reading.
    fn how(&self, place: Place) -> String {
        let mut all: Vec<String> = Vec::new();
        for finding in self.groups.iter().filter_map(|group| group.at(place)) {
            let how = match &finding.basis {
                Basis::Stated => "as stated".to_owned(),
                Basis::Checked { how } => format!("checked: {how}"),
                _ => continue,
            };
            if !all.contains(&how) {
                all.push(how);
            }
        }
        all.join("; ")
    }

    /// A finding of the engine as a whole, in a line.
    fn lines(&self, group: &Group) -> Vec<Line> {
        let line = |finding: &&Finding| {
            let value = finding.value.as_ref()?;
            let figure = format!("{}\u{a0}{}", number(group.unit, value.value()), self.words().symbol(group.unit));
            let band = finding.band.as_ref().filter(|_| self.with_limits);
            let judged = band.map(|band| {
                let verdict = self.verdict_word(finding).unwrap_or_else(|| finding.standing().word().to_owned());
                format!("{}: {verdict}", self.words().limits(group.unit, band.min(), band.max()))
            });
            Some(Line { label: short(group.feature).to_owned(), value: figure, beneath: judged })
        };
        group.findings.iter().filter_map(line).collect()
    }
}

/// Limits for a column whose heading has the unit.
fn bare_limits(unit: Unit, band: &Band) -> String {
    let show = |si| Words::given(unit, si, unit.usual_decimals());
    match (band.min(), band.max()) {
        (Some(min), Some(max)) => format!("{}–{}", show(min), show(max)),
        (Some(min), None) => format!("≥ {}", show(min)),
        (None, Some(max)) => format!("≤ {}", show(max)),
        (None, None) => String::new(),
    }
}

/// Whether both ends of a range are shown alike.
fn is_one(range: &str) -> bool {
    range.split_once('–').is_some_and(|(low, high)| low == high)
}

/// What a column is called under a title that names the part.
fn short(feature: &FindingFeature) -> &str {
    match feature {
        FindingFeature::BoreSize => "size",
        FindingFeature::BoreOutOfRound | FindingFeature::MainJournalOutOfRound => "out-of-round",
        FindingFeature::BoreTaper | FindingFeature::MainJournalTaper => "taper",
        FindingFeature::SkirtDiameter => "diameter",
        FindingFeature::PistonClearance => "thrust way",
        FindingFeature::MainClearance(Spot::Vertical) => "vertical",
        FindingFeature::MainClearance(Spot::Parting) => "near parting line",
        FindingFeature::MainClearanceRatio => "by diameter",
        FindingFeature::MainRoutes => "two routes apart",
        FindingFeature::BoreSpread | FindingFeature::MainClearanceSpread => "Largest less smallest",
        FindingFeature::Retired(_) => feature.title(),
    }
}
