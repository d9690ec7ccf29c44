//! Every line a card can show, with its words from the record and for whom it is.

use super::card_measured::MEASURED;
use super::job::JobLook;
use super::job_record::JobRecord;
use crate::engine::{Audience, FACTS, FactGroup, ItemKind, Place, TargetFeature, WorkingUnit};
use crate::mechanics::crank::displacement_m3;
use crate::metrology::Material;
use crate::quantity::Unit;
use crate::sheets::{Finding, Words};
use std::collections::BTreeMap;

/// Where on the card a line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CardSection {
    Engine,
    SetTo,
    RunIn,
    Measured,
    Record,
    Promise,
}

impl CardSection {
    pub const ALL: [Self; 6] = [Self::Engine, Self::SetTo, Self::RunIn, Self::Measured, Self::Record, Self::Promise];

    pub fn title(self) -> &'static str {
        match self {
            Self::Engine => "The engine",
            Self::SetTo => "Set it to",
            Self::RunIn => "Run-in",
            Self::Measured => "As measured",
            Self::Record => "The record",
            Self::Promise => "Warranty and notes",
        }
    }
}

/// One line that a card can show.
#[derive(Clone, Debug)]
pub struct CardLine {
    pub key: String,
    pub title: String,
    pub section: CardSection,
    /// What it would say; empty where nothing is known, and then it is left out.
    pub value: String,
    /// The same in the other unit; may be empty.
    pub beneath: String,
    /// For whom it is on this card.
    pub audience: Audience,
    /// For whom it is by the shop's preset.
    pub preset: Audience,
}

impl CardLine {
    /// Whether a reader's card shows it.
    pub fn is_for(&self, reader: Audience) -> bool {
        self.audience <= reader && !self.value.is_empty()
    }
}

/// What the lines are made of.
pub(super) struct Sources<'a> {
    pub look: &'a JobLook,
    pub facts: BTreeMap<String, String>,
    pub presets: BTreeMap<String, Audience>,
    pub choices: BTreeMap<String, Audience>,
    pub family: Option<String>,
    /// The shop's own warranty, where the job has none.
    pub shop_warranty: String,
}

pub(super) const PLAN: &str = "plan";
pub(super) const FIRING_ORDER: &str = "firing-order";
pub(super) const LIMITS: &str = "limits";
pub(super) const DEVIATIONS: &str = "deviations";
pub(super) const SIGN_OFFS: &str = "sign-offs";
/// How fasteners were tightened.
pub(super) const TIGHTENED: &str = "tightened";
pub(super) const CAUTIONS: &str = "cautions";
/// What the owner is told of what was accepted, in the builder's words.
pub(super) const TOLD: &str = "told-of-calls";
/// Lines that the card draws or words in a place of their own.
pub(super) const DRAWN: [&str; 3] = [PLAN, "warranty", "owner-note"];

/// Every line, in the order of the card.
pub(super) fn lines(sources: &Sources) -> Vec<CardLine> {
    let mut lines = engine_lines(sources);
    for fact in FACTS {
        let section = match fact.group {
            FactGroup::Engine => CardSection::Engine,
            FactGroup::SetTo => CardSection::SetTo,
            FactGroup::RunIn => CardSection::RunIn,
            FactGroup::Promise => CardSection::Promise,
        };
        let own = sources.facts.get(fact.key).cloned().unwrap_or_default();
        let value = if own.is_empty() && fact.key == "warranty" { sources.shop_warranty.clone() } else { own };
        lines.push(line(sources, fact.key, fact.title, section, value, String::new(), Audience::Owner));
    }
    for group in &MEASURED {
        let known = |f: &&Finding| group.features.contains(&f.key.feature) && f.standing().is_found();
        let value = counted(sources.look.findings.all().filter(known).count(), "figure");
        let (key, title) = (group.key, group.title);
        lines.push(line(sources, key, title, CardSection::Measured, value, String::new(), Audience::Shop));
    }
    let judged = sources.look.findings.all().any(|finding| finding.band.is_some());
    let record = |key: &str, title: &str, value: String| {
        line(sources, key, title, CardSection::Record, value, String::new(), Audience::Shop)
    };
    lines.push(record(LIMITS, "Limits and verdicts beside the figures", words_if(judged, "as set on this job")));
    let calls = &sources.look.calls;
    lines.push(record(DEVIATIONS, "What was accepted, with reasons", counted(calls.len(), "call")));
    let signed = sources.look.signs.iter().filter(|sign| !sign.reopened).count();
    lines.push(record(SIGN_OFFS, "Who signed which step", counted(signed, "step")));
    let tightened = sources.look.tightened.iter().filter(|one| one.withdrawn.is_none()).count();
    lines.push(record(TIGHTENED, "How fasteners were tightened", counted(tightened, "set")));
    let told = calls.iter().filter(|call| !call.for_owner.is_empty()).count();
    let told = counted(told, "note");
    let told_title = "What the owner is told of what was accepted";
    lines.push(line(sources, TOLD, told_title, CardSection::Promise, told, String::new(), Audience::Owner));
    lines.push(line(
        sources,
        CAUTIONS,
        "Cautions",
        CardSection::Promise,
        "makers' instructions, local codes and licensed practice come first".to_owned(),
        String::new(),
        Audience::Owner,
    ));
    lines
}

fn engine_lines(sources: &Sources) -> Vec<CardLine> {
    let job = &sources.look.job;
    let engine = &job.engine;
    let head = sources.look.head();
    let own = |key: &str, title: &str, value: String, beneath: String| {
        line(sources, key, title, CardSection::Engine, value, beneath, Audience::Owner)
    };
    let plain = |key: &str, title: &str, value: String| own(key, title, value, String::new());
    let mut lines = vec![
        plain("owner", "Owner", head.customer.clone().unwrap_or_default()),
        plain("engine", "Layout", engine.architecture.summary()),
        plain("family", "Family", sources.family.clone().unwrap_or_default()),
    ];
    for item in &job.items {
        let (key, title) = match (item.at.kind, item.at.place) {
            (ItemKind::Block, _) => ("serial-block".to_owned(), "Block".to_owned()),
            (ItemKind::Crank, _) => ("serial-crank".to_owned(), "Crank".to_owned()),
            (ItemKind::Head, Place::Cylinder { bank, .. }) if engine.architecture.banks() > 1 => {
                let first = engine.architecture.number(Place::Cylinder { bank, index: 0 }).unwrap_or(0);
                (format!("serial-head-{bank}"), format!("Head over cylinder {first}"))
            }
            (ItemKind::Head, _) => ("serial-head-0".to_owned(), "Head".to_owned()),
            _ => continue,
        };
        lines.push(plain(&key, &title, item.serial.clone()));
    }
    let material = |m: Option<Material>| m.map_or_else(String::new, |m| m.word().to_owned());
    let materials = engine.materials;
    lines.push(plain("block-material", "Block material", material(materials.block)));
    lines.push(plain("head-material", "Head material", material(materials.head)));
    lines.push(plain("crank-material", "Crank material", material(materials.crank)));
    lines.push(plain("cap-material", "Main cap material", material(materials.caps)));
    lines.push(plain("rod-material", "Rod material", material(materials.rods)));
    lines.push(plain("sleeve-material", "Sleeve material", material(materials.sleeves)));
    lines.push(plain("bush-material", "Small end bush material", material(materials.bushes)));
    lines.push(plain("piston-material", "Piston material", material(materials.pistons)));
    let setup = job.setup();
    let target = |feature: TargetFeature| setup.target(feature, feature.whole());
    let swept = target(TargetFeature::Bore).zip(target(TargetFeature::Stroke));
    let (value, beneath) = swept.map(|swept| displacement(job, swept)).unwrap_or_default();
    lines.push(own("displacement", "Displacement", value, beneath));
    let (value, beneath) = swept.map(|swept| bore_and_stroke(job.build.unit, swept)).unwrap_or_default();
    lines.push(own("bore-stroke", "Bore × stroke", value, beneath));
    let (size, rod) = (job.build.unit.size(), target(TargetFeature::RodLength));
    lines.push(plain(
        "rod-length",
        "Rod length",
        rod.map(|rod| size.show(rod, as_given(size, rod))).unwrap_or_default(),
    ));
    lines.push(plain(FIRING_ORDER, "Firing order", engine.architecture.firing_order_text()));
    lines.push(plain(PLAN, "Plan with numbering", "drawn".to_owned()));
    lines
}

/// Swept volume in the job's unit and in the other.
fn displacement(job: &JobRecord, (bore, stroke): (f64, f64)) -> (String, String) {
    let swept = displacement_m3(bore, stroke, job.engine.architecture.cylinders());
    let (inch, metric) = (Unit::CubicInch.show(swept, 1), Unit::CubicCentimetre.show(swept, 0));
    if job.build.unit == WorkingUnit::Inch { (inch, metric) } else { (metric, inch) }
}

/// Bore × stroke in the job's unit, as given, and in the other to about a hundredth of a millimetre.
fn bore_and_stroke(unit: WorkingUnit, (bore, stroke): (f64, f64)) -> (String, String) {
    let own = unit.size();
    let other = own.other();
    let both =
        |unit: Unit, decimals: u8| format!("{} × {}", unit.show_number(bore, decimals), unit.show(stroke, decimals));
    (both(own, as_given(own, bore).max(as_given(own, stroke))), both(other, if other == Unit::Inch { 3 } else { 2 }))
}

/// The decimals a size was given with, at least two.
fn as_given(unit: Unit, si: f64) -> u8 {
    Words::decimals_given(unit, si, 2, unit.usual_decimals())
}

/// "3 figures"; empty for none.
fn counted(count: usize, what: &str) -> String {
    if count == 0 { String::new() } else { Words::counted(count, what) }
}

fn words_if(condition: bool, words: &str) -> String {
    if condition { words.to_owned() } else { String::new() }
}

fn line(
    sources: &Sources,
    key: &str,
    title: &str,
    section: CardSection,
    value: String,
    beneath: String,
    by_default: Audience,
) -> CardLine {
    let preset = sources.presets.get(key).copied().unwrap_or(by_default);
    let audience = sources.choices.get(key).copied().unwrap_or(preset);
    CardLine { key: key.to_owned(), title: title.to_owned(), section, value, beneath, audience, preset }
}
