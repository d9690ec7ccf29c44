//! The gauges of a sheet's input, with how each was set.

use super::faults::Faults;
use super::sheet_input::figure;
use crate::metrology::{GaugeKind, GaugeSet, KnownGauge, Repeatability};
use crate::quantity::{HowRead, Unit};
use crate::record::gauges::STEP_UNITS;
use crate::sheets::Words;
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
    /// Smallest step it is read to.
    resolution: Option<String>,
    /// Maximum permissible error, either way.
    permissible_error: Option<String>,
    repeatability: Option<RepeatabilityForm>,
    #[serde(default)]
    past_due: bool,
    #[serde(default)]
    settings: Vec<Value>,
}

/// What a study found.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RepeatabilityForm {
    deviation: String,
    freedom: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GaugeSettingForm {
    name: String,
    zeroed_on: String,
    set_to: Option<String>,
    /// Name of the gauge it was zeroed in.
    master: Option<String>,
}

/// A gauge as it was set.
pub(super) struct Setting {
    pub gauge: KnownGauge,
    pub step: Unit,
    pub past_due: bool,
    /// In m.
    pub set_to: Option<f64>,
    pub set: GaugeSet,
}

/// The settings of all gauges, by name.
pub(super) struct Gauges(BTreeMap<String, Setting>);

impl Gauges {
    pub fn read(parts: Vec<Value>, words: Words, faults: &mut Faults) -> Self {
        let forms = faults.list::<GaugeForm>("gauges", parts);
        let known: Vec<KnownGauge> = forms.iter().map(|(path, form)| known(path, form, words, faults)).collect();
        let mut settings = BTreeMap::new();
        for ((path, form), gauge) in forms.into_iter().zip(&known) {
            let step = step(&format!("{path}.step"), form.step.as_deref(), words, faults);
            for (path, setting) in faults.list::<GaugeSettingForm>(&format!("{path}.settings"), form.settings) {
                if setting.zeroed_on.trim().is_empty() {
                    faults.note(format!("{path}.zeroed_on"), "say what it was zeroed on");
                }
                let set_to = setting.set_to.as_deref();
                let set_to = set_to.and_then(|text| length(&format!("{path}.set_to"), text, words, faults));
                let master = setting.master.as_deref().and_then(|name| {
                    let master = known.iter().find(|gauge| gauge.name == name.trim());
                    if master.is_none() {
                        faults.note(format!("{path}.master"), format!("no gauge is called “{name}”"));
                    }
                    master.cloned().map(Box::new)
                });
                let name = setting.name.trim().to_owned();
                let set = GaugeSet { id: name.clone(), master };
                let as_set = Setting { gauge: gauge.clone(), step, past_due: form.past_due, set_to, set };
                if settings.insert(name, as_set).is_some() {
                    faults.note(format!("{path}.name"), "another setting has this name");
                }
            }
        }
        Self(settings)
    }

    pub fn named(&self, name: &str) -> Option<&Setting> {
        self.0.get(name.trim())
    }
}

fn known(path: &str, form: &GaugeForm, words: Words, faults: &mut Faults) -> KnownGauge {
    let name = form.name.trim().to_owned();
    if name.is_empty() {
        faults.note(format!("{path}.name"), "say what the gauge is called");
    }
    let mut positive = |field: &str, text: Option<&String>| {
        let path = format!("{path}.{field}");
        let si = length(&path, text?, words, faults)?;
        if si > 0.0 {
            return Some(si);
        }
        faults.note(path, "must be above zero");
        None
    };
    let (resolution, permissible_error) = (
        positive("resolution", form.resolution.as_ref()),
        positive("permissible_error", form.permissible_error.as_ref()),
    );
    let repeatability = form.repeatability.as_ref();
    let deviation = repeatability.and_then(|study| positive("repeatability.deviation", Some(&study.deviation)));
    let freedom = repeatability.map_or(1.0, |study| study.freedom);
    if !(freedom > 0.0 && freedom.is_finite()) {
        faults.note(format!("{path}.repeatability.freedom"), "must be above zero");
    }
    KnownGauge {
        kind: form.kind,
        id: Some(name.clone()),
        repeatability: deviation.map(|deviation| Repeatability { of: format!("study of {name}"), deviation, freedom }),
        name,
        resolution,
        permissible_error,
    }
}

fn length(path: &str, text: &str, words: Words, faults: &mut Faults) -> Option<f64> {
    figure(path, text, &HowRead::plain(words.unit.size()), faults)
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
