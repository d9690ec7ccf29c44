//! What was read in one slot: the takes of the round that counts, as one value with its uncertainty.

use super::Slot;
use crate::metrology::{self, GaugeKind, Material, Measured, NotFinite, Source, propagate};

/// One take of a reading, as it comes from the record or the command line. Lengths in m.
#[derive(Clone, Debug)]
pub struct Take {
    /// Names the reading in the uncertainty and in what was seen at sign-off.
    pub id: String,
    pub value: TakeValue,
    /// One step of the last digit that was typed, in m.
    pub resolution: f64,
    /// The gauge that took it; the slot's usual one where none is named.
    pub gauge: Option<GaugeKind>,
    /// Which setting of a gauge; readings of one setting share its error.
    pub setting: Option<String>,
    /// Of the part, where it was noted, in °C.
    pub temperature: Option<f64>,
}

/// What one take says.
#[derive(Clone, Debug, PartialEq)]
pub enum TakeValue {
    Figure(f64),
    Range(f64, f64),
    Checked { how: String },
}

/// A slot's takes as one value.
#[derive(Clone, Debug)]
pub struct Taken {
    pub value: TakenValue,
    /// Ids of the takes in it.
    pub readings: Vec<String>,
}

/// A figure with its uncertainty, a range by its ends, or only the word that it was checked.
#[derive(Clone, Debug)]
pub enum TakenValue {
    Figure(Measured),
    Range(Measured, Measured),
    Checked { how: String },
}

impl Taken {
    /// Joins the takes of a slot: figures by their mean. The latest range or check goes before figures taken earlier.
    ///
    /// # Errors
    /// Where a value is not finite.
    pub fn join(slot: &Slot, round: &str, takes: &[Take]) -> Result<Option<Self>, NotFinite> {
        let Some(last) = takes.last() else { return Ok(None) };
        let one = |take: &Take, value: f64| measured(slot, round, take, value);
        let (value, used) = match &last.value {
            TakeValue::Checked { how } => (TakenValue::Checked { how: how.clone() }, vec![last.id.clone()]),
            TakeValue::Range(low, high) => {
                (TakenValue::Range(one(last, *low)?, one(last, *high)?), vec![last.id.clone()])
            }
            TakeValue::Figure(_) => {
                let mut figures = Vec::new();
                let mut ids = Vec::new();
                for take in takes {
                    if let TakeValue::Figure(value) = take.value {
                        figures.push(one(take, value)?);
                        ids.push(take.id.clone());
                    }
                }
                (TakenValue::Figure(metrology::mean(&figures.iter().collect::<Vec<_>>())?), ids)
            }
        };
        Ok(Some(Self { value, readings: used }))
    }

    /// The figure; for a range its middle, with half its width as a rectangular spread (JCGM 100, 4.3.7).
    pub fn figure(&self) -> Option<Measured> {
        match &self.value {
            TakenValue::Figure(value) => Some(value.clone()),
            TakenValue::Range(low, high) => {
                let middle = metrology::mean(&[low, high]).ok()?;
                let half = (high.value() - low.value()) / 2.0;
                middle.with_part(Source::Spread(self.readings.concat()), half / 3.0_f64.sqrt()).ok()
            }
            TakenValue::Checked { .. } => None,
        }
    }

    /// The ends of a range as stated.
    pub fn range(&self) -> Option<(f64, f64)> {
        match &self.value {
            TakenValue::Range(low, high) => Some((low.value(), high.value())),
            _ => None,
        }
    }

    pub fn checked(&self) -> Option<&str> {
        match &self.value {
            TakenValue::Checked { how } => Some(how),
            _ => None,
        }
    }
}

fn measured(slot: &Slot, round: &str, take: &Take, value: f64) -> Result<Measured, NotFinite> {
    let gauge = take.gauge.unwrap_or(slot.gauge);
    let setting = take.setting.clone().unwrap_or_else(|| default_setting(slot, round, gauge));
    let read = metrology::reading(value, take.resolution, gauge, &take.id, Some(&setting))?;
    match (take.temperature, slot.material) {
        (Some(celsius), Some(material)) => steel_gauge_to_20(&read, material, celsius, round),
        _ => Ok(read),
    }
}

/// Where no setting is named: one setting of the gauge for the round, or one for each place where it is zeroed there.
fn default_setting(slot: &Slot, round: &str, gauge: GaugeKind) -> String {
    let scope = if slot.set_at_each_place { slot.key.place.to_string() } else { slot.group.to_owned() };
    format!("{round}/{}/{scope}", gauge.key())
}

/// A size read with a steel gauge as warm as the part, at 20 °C, with what is not known of temperature and expansion.
fn steel_gauge_to_20(read: &Measured, material: Material, celsius: f64, round: &str) -> Result<Measured, NotFinite> {
    let temperature = Measured::exact(celsius)?.with_part(Source::Temperature(round.to_owned()), TEMPERATURE_U)?;
    let (part, gauge) = (expansion(material)?, expansion(Material::GaugeSteel)?);
    propagate(&[read, &part, &temperature, &gauge], |x| metrology::to_20(x[0], x[1], x[2], x[3], x[2]))
}

/// Whether a value was brought to 20 °C from the temperature it was read at.
pub(super) fn brought_to_20(value: &Measured) -> bool {
    value.parts().keys().any(|source| matches!(source, Source::Temperature(_)))
}

/// Standard uncertainty of a noted temperature in K: 1 K either way, rectangular. Common practice, no source.
const TEMPERATURE_U: f64 = 0.577;

/// A coefficient of expansion, anywhere within the span of its material.
fn expansion(material: Material) -> Result<Measured, NotFinite> {
    let expansion = material.expansion();
    let (low, high) = expansion.span;
    Measured::exact(expansion.per_kelvin)?
        .with_part(Source::Material(material.key().to_owned()), (high - low) / 12.0_f64.sqrt())
}
