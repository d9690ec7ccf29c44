//! The input of a sheet as one JSON document.
//!
//! ```text
//! { "format": 1,
//!   "engine":   { layout, cylinders, mains, numbering?, firing_order?, block_material?, crank_material?, piston_material?,
//!                 targets: [{ feature, place?, value }] },
//!   "items":    [{ kind, place?, serial?, note? }],                    what is fitted; carried into the result
//!   "settings": { unit, rule?, rounds?: { SHEET: ROUND } },            unit: inch or millimetre; rule: simple or guarded
//!   "gauges":   [{ name, kind, step?, resolution?, permissible_error?, repeatability?: { deviation, freedom }, past_due?,
//!                  settings: [{ name, zeroed_on, set_to?, master? }] }],              master: the gauge it was zeroed in
//!   "limits":   [{ finding, place?, kind?, min?, max?, condition?, source? }],
//!   "readings": [{ slot, value, round?, take?, condition?, gauge_setting?, temperature?, gauge_temperature? }] }
//! ```
//!
//! A value is text as a machinist types it, with its unit or in the working unit: "4.3775", "2.5 thou", "+2", "2.5–2.8 thou",
//! "30 over"; where a place may be stated as a whole, also "checked: how". A reading names the *setting* of its gauge:
//! readings of one setting share its error; without one, a gauge of the slot's usual kind is set once a round, or at each
//! place. Of each sheet the round named last counts, unless `settings.rounds` says which.

use super::InputFault;
use super::faults::Faults;
use super::sheet_gauges::Gauges;
use super::sheet_readings::{Entered, enter, limits};
use crate::engine::{
    Architecture, ArchitectureFault, ItemKind, Layout, Materials, Pins, Place, Setup, SheetKey, TargetFeature,
    TargetKey, WorkingUnit,
};
use crate::metrology::{Material, Rule};
use crate::quantity::{Entry, HowRead, read};
use crate::record::rounds::RoundKind;
use crate::sheets::{Book, Words};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// The edition of the document that is read and written here.
pub const FORMAT: u64 = 1;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EngineForm {
    layout: Layout,
    cylinders: u8,
    mains: u8,
    #[serde(default)]
    numbering: Vec<u8>,
    #[serde(default)]
    firing_order: Vec<u8>,
    #[serde(default)]
    block_material: Option<Material>,
    #[serde(default)]
    crank_material: Option<Material>,
    #[serde(default)]
    piston_material: Option<Material>,
    #[serde(default)]
    cap_material: Option<Material>,
    #[serde(default)]
    rod_material: Option<Material>,
    #[serde(default)]
    sleeve_material: Option<Material>,
    #[serde(default)]
    bush_material: Option<Material>,
    #[serde(default)]
    head_material: Option<Material>,
    /// How rods stand on crank pins; none: as usual for the layout.
    #[serde(default)]
    pins: Option<Pins>,
    #[serde(default)]
    targets: Vec<Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TargetForm {
    feature: TargetFeature,
    place: Option<Place>,
    value: String,
}

/// A thing that is fitted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ItemForm {
    pub kind: ItemKind,
    /// None: the engine has one.
    #[serde(default)]
    pub place: Option<Place>,
    #[serde(default)]
    pub serial: String,
    #[serde(default)]
    pub note: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SettingsForm {
    unit: WorkingUnit,
    rule: Option<Rule>,
    #[serde(default)]
    rounds: BTreeMap<String, String>,
}

/// A sheet's input, read: the book it makes, and what of it goes into the result.
pub struct SheetInput {
    pub(super) book: Book,
    pub(super) items: Vec<ItemForm>,
    pub(super) entered: Entered,
}

impl SheetInput {
    /// Reads a document.
    ///
    /// # Errors
    /// Every fault of it, each with its path.
    pub fn read(text: &str) -> Result<Self, Vec<InputFault>> {
        let mut faults = Faults::default();
        let document = faults.unless("", serde_json::from_str::<Map<String, Value>>(text));
        let input = document.and_then(|document| Self::from_document(document, &mut faults));
        faults.or(input)
    }

    fn from_document(mut document: Map<String, Value>, faults: &mut Faults) -> Option<Self> {
        match faults.take(&mut document, "format") {
            Some(format) if format != FORMAT => {
                faults.note("format", format!("{format} is not known here: write {FORMAT}"));
            }
            _ => {}
        }
        let engine = faults.take(&mut document, "engine");
        let engine = engine.and_then(|value| faults.part::<EngineForm>("engine", value));
        let settings = faults.take(&mut document, "settings");
        let settings = settings.and_then(|value| faults.part::<SettingsForm>("settings", value));
        let mut list = |name| faults.take_list(&mut document, name);
        let [items, gauges, limit_parts, reading_parts] = ["items", "gauges", "limits", "readings"].map(&mut list);
        for unknown in document.keys() {
            let known = "format, engine, items, settings, gauges, limits, readings";
            faults.note(unknown, format!("unknown field; known are {known}"));
        }
        let items: Vec<(String, ItemForm)> = faults.list("items", items);
        let (engine, settings) = (engine?, settings?);
        let words = Words { unit: settings.unit };
        let setup = setup(engine, settings.unit, faults)?;
        for (path, item) in &items {
            if item.place.is_some_and(|place| !setup.architecture.has(place)) {
                faults.note(format!("{path}.place"), "is not on this engine");
            }
        }
        let gauges = Gauges::read(gauges, words, faults);
        let limits = limits(limit_parts, &setup.architecture, words, faults);
        let rounds = rounds(settings.rounds, faults);
        let mut book = Book::new(setup, limits, settings.rule.unwrap_or(Rule::Simple));
        let entered = enter(&mut book, reading_parts, &gauges, rounds, faults);
        let as_came = |name: &String| RoundKind::from_key(name).is_some_and(RoundKind::reads_parts_as_they_came);
        book.background.as_came =
            entered.rounds.iter().filter(|(_, name)| as_came(name)).map(|(key, _)| *key).collect();
        Some(Self { book, items: items.into_iter().map(|(_, item)| item).collect(), entered })
    }
}

fn setup(form: EngineForm, unit: WorkingUnit, faults: &mut Faults) -> Option<Setup> {
    let made = Architecture::new(form.layout, form.cylinders, form.mains, form.numbering, form.firing_order);
    let architecture = match made {
        Ok(architecture) => form.pins.map_or(architecture.clone(), |pins| architecture.with_pins(pins)),
        Err(fault) => {
            let field = match fault {
                ArchitectureFault::Cylinders | ArchitectureFault::UnevenBanks => "cylinders",
                ArchitectureFault::Mains => "mains",
                ArchitectureFault::Numbering(_) => "numbering",
                ArchitectureFault::FiringOrder => "firing_order",
            };
            faults.note(format!("engine.{field}"), fault);
            return None;
        }
    };
    let mut targets = BTreeMap::new();
    for (path, target) in faults.list::<TargetForm>("engine.targets", form.targets) {
        let place = target.place.unwrap_or_else(|| target.feature.whole());
        if place.whole() != target.feature.whole() || !architecture.has(place) {
            faults.note(format!("{path}.place"), "is no place of this target on this engine");
        }
        let how = target.feature.how_read(unit);
        if let Some(si) = figure(&format!("{path}.value"), &target.value, &how, faults) {
            targets.insert(TargetKey { feature: target.feature, place }, si);
        }
    }
    let materials = Materials {
        block: form.block_material,
        head: form.head_material,
        crank: form.crank_material,
        pistons: form.piston_material,
        caps: form.cap_material,
        rods: form.rod_material,
        sleeves: form.sleeve_material,
        bushes: form.bush_material,
    };
    Some(Setup { architecture, unit, materials, expansions: BTreeMap::new(), targets })
}

/// Which round of which sheet counts.
fn rounds(named: BTreeMap<String, String>, faults: &mut Faults) -> BTreeMap<SheetKey, String> {
    let mut rounds = BTreeMap::new();
    for (name, round) in named {
        match SheetKey::from_key(&name) {
            Some(key) => drop(rounds.insert(key, round)),
            None => faults.note(format!("settings.rounds.{name}"), no_such_sheet()),
        }
    }
    rounds
}

fn no_such_sheet() -> String {
    format!("is no sheet: write {}", SheetKey::ALL.map(SheetKey::key).join(", "))
}

/// One figure in SI.
pub(super) fn figure(path: &str, text: &str, how: &HowRead, faults: &mut Faults) -> Option<f64> {
    match faults.unless(path, read(text, how))?.entry {
        Entry::Figure(figure) => Some(figure.si),
        Entry::Range(..) => {
            faults.note(path, "one figure belongs here");
            None
        }
    }
}

/// A complete input of a sheet.
pub fn sheet_example(key: SheetKey) -> &'static str {
    match key {
        SheetKey::Block => include_str!("sheet_examples/block.json"),
        SheetKey::Crankshaft => include_str!("sheet_examples/crankshaft.json"),
        SheetKey::Rods => include_str!("sheet_examples/rods.json"),
        SheetKey::Pistons => include_str!("sheet_examples/pistons.json"),
        SheetKey::CylinderBores => include_str!("sheet_examples/cylinder-bores.json"),
        SheetKey::Rings => include_str!("sheet_examples/rings.json"),
        SheetKey::MainBearings => include_str!("sheet_examples/main-bearings.json"),
        SheetKey::RodBearings => include_str!("sheet_examples/rod-bearings.json"),
        SheetKey::Compression => include_str!("sheet_examples/compression.json"),
        SheetKey::Balance => include_str!("sheet_examples/balance.json"),
        SheetKey::Motion => include_str!("sheet_examples/motion.json"),
        SheetKey::TurningClearances => include_str!("sheet_examples/turning-clearances.json"),
        SheetKey::PressFits => include_str!("sheet_examples/press-fits.json"),
    }
}
