//! The gauges, limits and readings of a sheet's input, read into its book.

use super::faults::Faults;
use super::sheet_input::figure;
use crate::engine::{Architecture, FindingFeature, Limit, LimitKind, Place, SheetKey, SlotKey};
use crate::metrology::GaugeKind;
use crate::quantity::{Dimension, Entry, HowRead, Typed, Unit};
use crate::record::gauges::STEP_UNITS;
use crate::sheets::{Book, Depth, Slot, Take, TakeValue, Words, sheet};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GaugeForm {
    name: String,
    kind: GaugeKind,
    /// What a bare "+2" means: thou, tenth or micrometre.
    step: Option<String>,
    #[serde(default)]
    settings: Vec<Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GaugeSettingForm {
    name: String,
    zeroed_on: String,
    set_to: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LimitForm {
    finding: String,
    place: Option<Place>,
    kind: Option<LimitKind>,
    min: Option<String>,
    max: Option<String>,
    #[serde(default)]
    condition: String,
    #[serde(default)]
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadingForm {
    slot: String,
    value: String,
    #[serde(default)]
    round: String,
    take: Option<u32>,
    #[serde(default)]
    condition: String,
    gauge_setting: Option<String>,
    temperature: Option<String>,
}

/// A gauge as it was set.
struct Setting {
    kind: GaugeKind,
    step: Unit,
    /// In m.
    set_to: Option<f64>,
}

/// The settings of all gauges, by name.
pub(super) struct Gauges(BTreeMap<String, Setting>);

impl Gauges {
    pub fn read(parts: Vec<Value>, words: Words, faults: &mut Faults) -> Self {
        let mut settings = BTreeMap::new();
        for (path, gauge) in faults.list::<GaugeForm>("gauges", parts) {
            if gauge.name.trim().is_empty() {
                faults.note(format!("{path}.name"), "say what the gauge is called");
            }
            let step = step(&format!("{path}.step"), gauge.step.as_deref(), words, faults);
            for (path, form) in faults.list::<GaugeSettingForm>(&format!("{path}.settings"), gauge.settings) {
                if form.zeroed_on.trim().is_empty() {
                    faults.note(format!("{path}.zeroed_on"), "say what it was zeroed on");
                }
                let how = HowRead::plain(words.unit.size());
                let set_to = form.set_to.as_deref();
                let set_to = set_to.and_then(|text| figure(&format!("{path}.set_to"), text, &how, faults));
                let name = form.name.trim().to_owned();
                if settings.insert(name, Setting { kind: gauge.kind, step, set_to }).is_some() {
                    faults.note(format!("{path}.name"), "another setting has this name");
                }
            }
        }
        Self(settings)
    }
}

fn step(path: &str, key: Option<&str>, words: Words, faults: &mut Faults) -> Unit {
    let usual = words.unit.small();
    let Some(key) = key else { return usual };
    let known = STEP_UNITS.into_iter().find(|(known, _)| *known == key);
    if known.is_none() {
        faults.note(path, format!("write {}", STEP_UNITS.map(|(known, _)| known).join(", ")));
    }
    known.map_or(usual, |(_, unit)| unit)
}

pub(super) fn limits(parts: Vec<Value>, architecture: &Architecture, words: Words, faults: &mut Faults) -> Vec<Limit> {
    let mut limits = Vec::new();
    for (path, form) in faults.list::<LimitForm>("limits", parts) {
        let feature = FindingFeature::parse(&form.finding);
        if !feature.takes_limit() {
            let known = FindingFeature::all().filter(|(_, feature)| feature.takes_limit()).map(|(text, _)| text);
            let known = known.collect::<Vec<_>>().join(", ");
            faults.note(format!("{path}.finding"), format!("no limit can be set on this; write one of {known}"));
            continue;
        }
        if form.place.is_some_and(|place| place.whole() != feature.whole() || !architecture.has(place)) {
            faults.note(format!("{path}.place"), "is no place of this finding on this engine");
        }
        let kind = form.kind.unwrap_or(LimitKind::Absolute);
        let how = match (kind, feature.dimension()) {
            (LimitKind::Absolute, Dimension::Length) => words.unit.how_read(feature.is_small()),
            _ => HowRead::plain(Unit::ThouPerInch),
        };
        let mut end =
            |field: &str, text: Option<&str>| text.map(|text| figure(&format!("{path}.{field}"), text, &how, faults));
        let (min, max) = (end("min", form.min.as_deref()), end("max", form.max.as_deref()));
        // An end that could not be read has been noted already.
        if min == Some(None) || max == Some(None) {
            continue;
        }
        let limit = Limit {
            feature,
            place: form.place,
            kind,
            min: min.flatten(),
            max: max.flatten(),
            condition: form.condition,
            source: form.source,
        };
        faults.unless(path, limit.check());
        limits.push(limit);
    }
    limits
}

/// A reading of the round that counts, as it went into the book.
pub(super) struct EnteredReading {
    /// `readings[3]`: also the id by which findings name it.
    pub path: String,
    pub slot: Slot,
    /// As it was typed and how it was meant; none for what was checked.
    pub typed: Option<(Typed, HowRead)>,
    pub condition: String,
}

/// What went into the book.
pub(super) struct Entered {
    /// Of each sheet that has readings, the round that counts.
    pub rounds: BTreeMap<SheetKey, String>,
    pub readings: Vec<EnteredReading>,
}

/// A reading understood, not yet known to count.
struct Understood {
    sheet: SheetKey,
    round: String,
    number: u32,
    take: Take,
    entered: EnteredReading,
}

/// Enters the readings of the rounds that count.
pub(super) fn enter(
    book: &mut Book,
    parts: Vec<Value>,
    gauges: &Gauges,
    mut rounds: BTreeMap<SheetKey, String>,
    faults: &mut Faults,
) -> Entered {
    let slots: BTreeMap<SlotKey, (SheetKey, Slot)> = SheetKey::ALL
        .into_iter()
        .flat_map(|key| (sheet(key).slots)(&book.setup).into_iter().map(move |slot| (slot.key.clone(), (key, slot))))
        .collect();
    let mut understood: Vec<Understood> = Vec::new();
    for (path, form) in faults.list::<ReadingForm>("readings", parts) {
        let Some((key, slot)) = slots.get(&SlotKey::parse(&form.slot)) else {
            faults.note(format!("{path}.slot"), format!("“{}” is no reading of this engine", form.slot));
            continue;
        };
        let Some((take, typed)) = understand(&path, &form, slot, gauges, book.words(), faults) else { continue };
        let in_slot = |other: &&Understood| other.entered.slot.key == slot.key && other.round == form.round;
        let numbers: Vec<u32> = understood.iter().filter(in_slot).map(|other| other.number).collect();
        let number = form.take.unwrap_or_else(|| numbers.iter().max().map_or(1, |last| last + 1));
        if numbers.contains(&number) {
            faults.note(format!("{path}.take"), format!("take {number} of this slot and round is there already"));
        }
        let entered = EnteredReading { path, slot: slot.clone(), typed, condition: form.condition };
        understood.push(Understood { sheet: *key, round: form.round, number, take, entered });
    }
    for (&key, round) in &rounds {
        if !understood.iter().any(|reading| reading.sheet == key && reading.round == *round) {
            faults.note(format!("settings.rounds.{}", key.key()), format!("no reading is of round “{round}”"));
        }
    }
    for reading in understood.iter().rev() {
        rounds.entry(reading.sheet).or_insert_with(|| reading.round.clone());
    }
    understood.retain(|reading| rounds.get(&reading.sheet) == Some(&reading.round));
    for (key, slot) in slots.values() {
        let mut of_slot: Vec<&Understood> =
            understood.iter().filter(|reading| reading.entered.slot.key == slot.key).collect();
        of_slot.sort_by_key(|reading| reading.number);
        let takes: Vec<Take> = of_slot.iter().map(|reading| reading.take.clone()).collect();
        let round = rounds.get(key).map_or("", String::as_str);
        faults.unless(slot.key.to_string(), book.enter(slot, round, &takes));
    }
    Entered { rounds, readings: understood.into_iter().map(|reading| reading.entered).collect() }
}

/// Coldest and warmest a part in a workshop can be, in °C.
const WORKSHOP: (f64, f64) = (-40.0, 150.0);

fn understand(
    path: &str,
    form: &ReadingForm,
    slot: &Slot,
    gauges: &Gauges,
    words: Words,
    faults: &mut Faults,
) -> Option<(Take, Option<(Typed, HowRead)>)> {
    let setting = form.gauge_setting.as_deref().and_then(|name| {
        let found = gauges.0.get(name.trim());
        if found.is_none() {
            faults.note(format!("{path}.gauge_setting"), format!("no gauge has a setting “{name}”"));
        }
        found
    });
    let celsius = form.temperature.as_deref().and_then(|text| {
        let path = format!("{path}.temperature");
        let kelvin = figure(&path, text, &HowRead::plain(Unit::Celsius), faults)?;
        let celsius = Unit::Celsius.from_si(kelvin);
        if !(WORKSHOP.0..=WORKSHOP.1).contains(&celsius) {
            faults.note(path, format!("{text} is no temperature of a part in a workshop"));
        }
        Some(celsius)
    });
    let path_of_value = format!("{path}.value");
    let (value, resolution, typed) = match checked(&form.value) {
        Some(_) if slot.depth == Depth::Each => {
            faults.note(path_of_value, "one figure belongs here; “checked” is said of a place as a whole");
            return None;
        }
        Some("") => {
            faults.note(path_of_value, "say how it was checked, such as “checked: turns by hand”");
            return None;
        }
        Some(how) => (TakeValue::Checked { how: how.to_owned() }, 0.0, None),
        None => {
            let step = setting.map_or(words.unit.small(), |setting| setting.step);
            let how = slot.how(words.unit, step, setting.and_then(|setting| setting.set_to));
            let read = faults.unless(path_of_value, slot.read(&form.value, &how, words.unit))?;
            let value = match read.entry {
                Entry::Figure(figure) => TakeValue::Figure(figure.si),
                Entry::Range(low, high) => TakeValue::Range(low.si, high.si),
            };
            (value, read.resolution_si, Some((read, how)))
        }
    };
    let take = Take {
        id: path.to_owned(),
        value,
        resolution,
        gauge: setting.map(|setting| setting.kind),
        setting: form.gauge_setting.as_deref().map(|name| name.trim().to_owned()),
        temperature: celsius,
    };
    Some((take, typed))
}

/// How it was checked, where the text says so: "checked: turns by hand", "checked good: …".
fn checked(text: &str) -> Option<&str> {
    let rest = text.trim().strip_prefix("checked")?;
    let rest = rest.strip_prefix(" good").unwrap_or(rest);
    let how = rest.strip_prefix(':');
    if rest.is_empty() { Some("") } else { how.map(str::trim) }
}
