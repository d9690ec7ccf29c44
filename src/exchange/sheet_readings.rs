//! The limits and readings of a sheet's input, read into its book.

use super::faults::Faults;
use super::sheet_gauges::Gauges;
use super::sheet_input::figure;
use crate::engine::{Architecture, FindingFeature, Limit, LimitKind, Place, SheetKey, SlotKey};
use crate::quantity::{Entry, HowRead, Typed, Unit};
use crate::sheets::{Book, Depth, ReadAt, Slot, Take, TakeValue, Words, sheet};
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;

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
    /// Of the part.
    temperature: Option<String>,
    /// Of the gauge, where it is not as warm as the part.
    gauge_temperature: Option<String>,
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
        let how = match kind {
            LimitKind::Absolute => feature.how_read(words.unit),
            LimitKind::PerDiameter => HowRead::plain(Unit::ThouPerInch),
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
    for key in SheetKey::ALL {
        let of_sheet = slots.values().filter(|(of, _)| *of == key);
        let takes = of_sheet.map(|(_, slot)| {
            let mut of_slot: Vec<&Understood> =
                understood.iter().filter(|reading| reading.entered.slot.key == slot.key).collect();
            of_slot.sort_by_key(|reading| reading.number);
            (slot, of_slot.iter().map(|reading| reading.take.clone()).collect())
        });
        let round = rounds.get(&key).map_or("", String::as_str);
        for (slot, fault) in book.enter_round(round, takes.collect()).err().unwrap_or_default() {
            faults.note(slot.to_string(), fault);
        }
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
        let found = gauges.named(name);
        if found.is_none() {
            faults.note(format!("{path}.gauge_setting"), format!("no gauge has a setting “{name}”"));
        }
        found
    });
    let mut celsius = |field: &str, text: Option<&String>| {
        let path = format!("{path}.{field}");
        let text = text?;
        let kelvin = figure(&path, text, &HowRead::plain(Unit::Celsius), faults)?;
        let celsius = Unit::Celsius.from_si(kelvin);
        if !(WORKSHOP.0..=WORKSHOP.1).contains(&celsius) {
            faults.note(path, format!("{text} is no temperature of a part in a workshop"));
        }
        Some(celsius)
    };
    let part = celsius("temperature", form.temperature.as_ref());
    let gauge = celsius("gauge_temperature", form.gauge_temperature.as_ref());
    if part.is_none() && gauge.is_some() {
        faults.note(format!("{path}.temperature"), "give the part's temperature beside the gauge's");
    }
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
        gauge: setting.map(|setting| setting.gauge.clone()),
        setting: setting.map(|setting| setting.set.clone()),
        temperature: part.map(|part| ReadAt { part, gauge }),
        past_due: setting.is_some_and(|setting| setting.past_due),
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
