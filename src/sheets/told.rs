//! What is known of readings beside their values: what they are called, with what they were taken, whether it was due.

use super::{Slot, Take};
use crate::engine::{Setup, SlotKey};
use crate::metrology::Source;
use std::collections::{BTreeMap, BTreeSet};

/// What is known of the readings of a book.
#[derive(Debug, Default)]
pub(super) struct Told {
    /// By reading's id.
    readings: BTreeMap<String, OneTold>,
    /// What settings and gauges are called, by the source of uncertainty they are.
    gauges: BTreeMap<Source, String>,
}

/// What is known of one reading.
#[derive(Clone, Debug)]
pub(super) struct OneTold {
    pub slot: SlotKey,
    /// "main 3, clearance, vertical".
    pub called: String,
    /// The gauge's name.
    pub gauge: String,
    /// The step it was read to, in m; none of a word.
    pub step: Option<f64>,
    pub past_due: bool,
}

impl Told {
    pub fn note(&mut self, setup: &Setup, slot: &Slot, round: &str, takes: &[Take]) {
        let called = format!("{}, {}", setup.architecture.label(slot.key.place), slot.label);
        for take in takes {
            let (gauge, set) = (take.gauge_of(slot), take.set(slot, round));
            let step = gauge.step(take.resolution);
            self.readings.insert(
                take.id.clone(),
                OneTold {
                    slot: slot.key.clone(),
                    called: called.clone(),
                    gauge: gauge.name.clone(),
                    step: (step > 0.0).then_some(step),
                    past_due: take.past_due,
                },
            );
            self.gauges.insert(Source::Setting(set.id.into()), gauge.name.clone());
            for gauge in std::iter::once(gauge).chain(set.master.map(|master| *master)) {
                if let Some(id) = gauge.id {
                    self.gauges.insert(Source::Gauge(id.into()), gauge.name);
                }
            }
        }
    }

    pub fn reading(&self, id: &str) -> Option<&OneTold> {
        self.readings.get(id)
    }

    pub fn all(&self) -> impl Iterator<Item = &OneTold> {
        self.readings.values()
    }

    /// The gauges among these readings that were past their date of calibration.
    pub fn past_due<'a>(&'a self, readings: &'a [String]) -> BTreeSet<&'a str> {
        let told = readings.iter().filter_map(|id| self.reading(id));
        told.filter(|told| told.past_due).map(|told| told.gauge.as_str()).collect()
    }

    /// What a source of uncertainty is called; takes of one slot are one.
    pub fn name(&self, source: &Source) -> String {
        match source {
            Source::Reading(id) => self.reading(id).map_or_else(|| "reading".to_owned(), |told| told.called.clone()),
            Source::Setting(_) => {
                self.gauges.get(source).map_or_else(|| "zeroing the gauge".to_owned(), |name| format!("zeroing {name}"))
            }
            Source::Gauge(_) => self
                .gauges
                .get(source)
                .map_or_else(|| "the gauge’s error".to_owned(), |name| format!("error of {name}")),
            Source::Master(_) => "the standard it was set on".to_owned(),
            Source::Temperature(_) => "temperature".to_owned(),
            Source::Material(_) => "expansion of the material".to_owned(),
            Source::Study(_) => "the gauge’s study".to_owned(),
            Source::Spread(_) => "width of the range stated".to_owned(),
            Source::Maker(_) => "the maker’s figure".to_owned(),
        }
    }
}
