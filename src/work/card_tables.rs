//! What was measured, as the card sets it: a row for each place, a column for each finding, with the unit in its heading.

use super::card_measured::short;
use super::findings::{number, stands, strip};
use super::job::JobLook;
use super::sheet::condition_words;
use super::sheet_pictures::worst;
use crate::drawing::limit_strip;
use crate::engine::{FindingFeature, Place, SheetKey, Spot};
use crate::handover::contents::{Align, Cell, Column, Line, Section, Table};
use crate::metrology::{Band, Measured};
use crate::quantity::Unit;
use crate::sheets::{Basis, Finding, Standing, Words, home_of, sheet};
use std::collections::BTreeSet;

/// Findings of one feature, place by place, and how they are spoken of.
struct Group<'a> {
    feature: &'a FindingFeature,
    findings: Vec<&'a Finding>,
    unit: Unit,
    /// The limits that hold at most of its places; the others have their own beneath their figures.
    common: Option<Band>,
}

impl<'a> Group<'a> {
    fn of(look: &'a JobLook, feature: &'a FindingFeature) -> Option<Self> {
        let words = Words { unit: look.job.build.unit };
        let known = |finding: &&Finding| finding.key.feature == *feature && finding.standing().is_found();
        let findings: Vec<&Finding> = look.findings.all().filter(known).collect();
        let first = findings.first()?;
        let bands = || findings.iter().map(|finding| limit_of(finding));
        let common = bands().max_by_key(|band| bands().filter(|other| other == band).count()).flatten();
        Some(Self { unit: words.unit.of(first.measure), common, feature, findings })
    }

    fn is_judged(&self) -> bool {
        self.findings.iter().any(|finding| finding.band.is_some())
    }

    fn at(&self, place: Place) -> Option<&'a Finding> {
        self.findings.iter().find(|finding| finding.key.place == place).copied()
    }
}

/// The sections of the card for some features, a table for each kind of place they are found at; none where none was found.
pub(super) fn measured(look: &JobLook, title: &str, features: &[&FindingFeature], with_limits: bool) -> Vec<Section> {
    let (whole, single): (Vec<Group>, Vec<Group>) = features
        .iter()
        .filter_map(|feature| Group::of(look, feature))
        .partition(|group| group.findings.iter().all(|finding| finding.key.place == group.feature.whole()));
    let mut kinds: Vec<Vec<Group>> = Vec::new();
    for group in single {
        match kinds.iter_mut().find(|kind| kind[0].feature.whole() == group.feature.whole()) {
            Some(kind) => kind.push(group),
            None => kinds.push(vec![group]),
        }
    }
    // What is found of the engine as a whole stands before the first table, or by itself.
    if kinds.is_empty() && !whole.is_empty() {
        kinds.push(Vec::new());
    }
    let mut whole = Some(whole);
    let section = |groups: Vec<Group>| {
        let report = Report { look, groups, with_limits };
        let whole = whole.take().unwrap_or_default();
        let stale = report.stale(&whole);
        let lines = report.taken().into_iter().chain(stale).chain(whole.iter().flat_map(|group| report.lines(group)));
        Section { title: title.to_owned(), lines: lines.collect(), table: report.table(), ..Section::default() }
    };
    kinds.into_iter().map(section).collect()
}

/// What a section reports.
struct Report<'a> {
    look: &'a JobLook,
    groups: Vec<Group<'a>>,
    with_limits: bool,
}

impl Report<'_> {
    fn words(&self) -> Words {
        Words { unit: self.look.job.build.unit }
    }

    fn table(&self) -> Option<Table> {
        let architecture = &self.look.job.engine.architecture;
        let whole = self.groups.first()?.feature.whole();
        let places: Vec<Place> = architecture
            .places_of(whole)
            .into_iter()
            .filter(|place| self.groups.iter().any(|group| group.at(*place).is_some()))
            .collect();
        let judged = self.with_limits && self.groups.iter().any(Group::is_judged);
        // The strip is of the one finding that the table is first read for.
        let drawn = [
            FindingFeature::PistonClearance,
            FindingFeature::MainClearance(Spot::Vertical),
            FindingFeature::RodClearance(Spot::Vertical),
        ];
        let first = |group: &&Group| group.is_judged() && drawn.contains(group.feature);
        let drawn = self.groups.iter().find(first).or_else(|| self.groups.iter().find(|group| group.is_judged()));
        let drawn = drawn.filter(|_| judged);
        let how = places.iter().any(|place| !self.how(*place).is_empty());

        let left = |title: &str| Column { title: title.to_owned(), align: Align::Left };
        let mut columns = vec![left(match whole {
            Place::AllMains => "main",
            Place::AllThrows => "throw",
            Place::AllBanks => "bank",
            _ => "cylinder",
        })];
        columns.extend(self.groups.iter().map(|group| {
            let unit = self.words().symbol(group.unit);
            let apart = if unit.is_empty() { "" } else { ", " };
            Column { title: format!("{}{apart}{unit}", short(group.feature)), align: Align::Decimal }
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

    /// The round that each sheet's figures are of, for who judges them.
    fn taken(&self) -> Vec<Line> {
        let homes: BTreeSet<SheetKey> = self.groups.iter().filter_map(|group| home_of(group.feature)).collect();
        let only = homes.len() == 1;
        let line = |key: SheetKey| {
            let round = self.look.job.counting(key)?;
            let condition = condition_words(round);
            let with = if condition.is_empty() { String::new() } else { format!("; {condition}") };
            let when = self.look.when.day(round.made.at);
            Some(Line {
                label: if only { "Taken" } else { sheet(key).title }.to_owned(),
                value: format!("round {}, {}", round.number, round.kind.word()),
                beneath: Some(format!("begun {when}{with}")),
            })
        };
        homes.into_iter().filter(|_| self.with_limits).filter_map(line).collect()
    }

    /// Where figures rest on readings taken before something was changed; on every reader's card, as they may not be so any
    /// more.
    fn stale(&self, whole: &[Group]) -> Option<Line> {
        let findings = self.groups.iter().chain(whole).flat_map(|group| group.findings.iter().copied());
        let stale: Vec<&Finding> = findings.filter(|finding| self.look.findings.stale.is_stale(finding)).collect();
        let why: BTreeSet<String> = stale.iter().flat_map(|f| self.look.findings.stale.of_finding(f)).collect();
        let places: BTreeSet<Place> = stale.iter().map(|finding| finding.key.place).collect();
        let labels: Vec<String> = places.iter().map(|place| self.look.job.engine.architecture.label(*place)).collect();
        (!stale.is_empty()).then(|| Line {
            label: "Stale".to_owned(),
            value: format!("read before a change: {}", labels.join(", ")),
            beneath: Some(why.into_iter().collect::<Vec<_>>().join("; ")),
        })
    }

    /// The figure at a place: what was found or stated; beneath it limits that are its own, or the least and greatest that
    /// it is judged by where that is not plainly good.
    fn cell(&self, group: &Group, place: Place) -> Cell {
        let Some(finding) = group.at(place) else { return Cell::of("–") };
        let range =
            finding.range.map(|(low, high)| format!("{}–{}", number(group.unit, low), number(group.unit, high)));
        let own_limits = limit_of(finding).filter(|_| limit_of(finding) != group.common);
        let limits = own_limits.map(|band| format!("limits {}", bare_limits(group.unit, &band)));
        let (text, range) = match (&finding.basis, range, finding.value.as_ref()) {
            (Basis::Stated, Some(range), _) => (range, None),
            (_, range, Some(value)) => (number(group.unit, value.value()), range.filter(|range| !is_one(range))),
            (_, _, None) => ("–".to_owned(), None),
        };
        let beneath = limits.or_else(|| range.filter(|_| self.verdict_word(finding).is_some()));
        Cell { beneath: beneath.filter(|_| self.with_limits), ..Cell::of(text) }
    }

    /// The limits that hold at most places, above the figures they are for.
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
        let mut by_word: Vec<(String, Vec<&str>)> = Vec::new();
        for (group, finding) in &found {
            let Some(word) = self.verdict_word(finding) else { continue };
            match by_word.iter_mut().find(|(known, _)| *known == word) {
                Some((_, names)) => names.push(short(group.feature)),
                None => by_word.push((word, vec![short(group.feature)])),
            }
        }
        let several = self.groups.len() > 1;
        let said = by_word
            .into_iter()
            .map(|(word, names)| if several { format!("{word}: {}", names.join(", ")) } else { word });
        let good = judged.iter().all(|finding| finding.standing() == Standing::Good);
        let words: Vec<String> = good.then(|| Standing::Good.word().to_owned()).into_iter().chain(said).collect();
        Cell { mark: Some(worst(&judged)), ..Cell::of(words.join("; ")) }
    }

    /// The verdict in words, unless it is plainly good or there is none.
    fn verdict_word(&self, finding: &Finding) -> Option<String> {
        let close = finding.judgement.as_ref().is_some_and(|judgement| judgement.on_the_line);
        let word = match finding.standing() {
            Standing::Good if close => "on the line".to_owned(),
            Standing::Out if close => "out, on the line".to_owned(),
            Standing::Good | Standing::Figure | Standing::Missing | Standing::NoFigure => return None,
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
            let figure = self.words().figure(finding, value.value());
            let band = finding.band.as_ref().filter(|_| self.with_limits);
            let judged = band.map(|band| {
                let verdict = self.verdict_word(finding).unwrap_or_else(|| finding.standing().word().to_owned());
                format!("{}: {verdict}", self.words().limits(group.unit, band.min(), band.max()))
            });
            Some(Line { label: capitalised(short(group.feature)), value: figure, beneath: judged })
        };
        group.findings.iter().filter_map(line).collect()
    }
}

/// The limits somebody gave; that two routes agree is judged by what both can tell.
fn limit_of(finding: &Finding) -> Option<Band> {
    finding.band.filter(|_| finding.key.feature.takes_limit())
}

/// Limits for a column whose heading has the unit.
fn bare_limits(unit: Unit, band: &Band) -> String {
    let show = |si| Words::given(unit, si);
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

fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
