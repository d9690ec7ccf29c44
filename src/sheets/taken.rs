//! What was read in one slot: the takes of the round that counts, as one value with its uncertainty.

use super::Slot;
use crate::engine::Setup;
use crate::metrology::{self, GaugeSet, KnownGauge, Material, Measured, NotFinite, Source, propagate};

/// One take of a reading, as it comes from the record or the command line. Lengths in m.
#[derive(Clone, Debug)]
pub struct Take {
    /// Names the reading in the uncertainty and in what was seen at sign-off.
    pub id: String,
    pub value: TakeValue,
    /// One step of the last digit that was typed, in m.
    pub resolution: f64,
    /// The gauge that took it; any of the slot's usual kind where none is named.
    pub gauge: Option<KnownGauge>,
    /// How the gauge was set; readings of one setting share its error.
    pub setting: Option<GaugeSet>,
    /// Where it was noted.
    pub temperature: Option<ReadAt>,
    /// The gauge was past its date of calibration.
    pub past_due: bool,
}

/// The temperatures something was read at, in °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadAt {
    pub part: f64,
    /// Of the gauge; none: as warm as the part.
    pub gauge: Option<f64>,
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
    /// The same before it was brought to 20 °C; none where it was not.
    pub as_read: Option<TakenValue>,
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
    pub(super) fn join(setup: &Setup, slot: &Slot, round: &str, takes: &[Take]) -> Result<Option<Self>, NotFinite> {
        let Some(last) = takes.last() else { return Ok(None) };
        let used: Vec<&Take> = match last.value {
            TakeValue::Figure(_) => takes.iter().filter(|take| matches!(take.value, TakeValue::Figure(_))).collect(),
            _ => vec![last],
        };
        let join = |one: &dyn Fn(&Take, f64) -> Result<Measured, NotFinite>| {
            Ok(match &last.value {
                TakeValue::Checked { how } => TakenValue::Checked { how: how.clone() },
                TakeValue::Range(low, high) => TakenValue::Range(one(last, *low)?, one(last, *high)?),
                TakeValue::Figure(_) => {
                    let figure = |take: &&Take| match take.value {
                        TakeValue::Figure(value) => Some(one(take, value)),
                        _ => None,
                    };
                    let figures: Vec<Measured> = used.iter().filter_map(figure).collect::<Result<_, _>>()?;
                    TakenValue::Figure(metrology::mean(&figures.iter().collect::<Vec<_>>())?)
                }
            })
        };
        let as_read = |take: &Take, value: f64| read(slot, round, take, value);
        let warm = |take: &Take| Some((take.temperature?, slot.material?));
        let at_20 = |take: &Take, value: f64| match warm(take) {
            Some((at, material)) => to_20(setup, &as_read(take, value)?, material, at, round),
            None => as_read(take, value),
        };
        let corrected =
            used.iter().any(|take| warm(take).is_some() && !matches!(take.value, TakeValue::Checked { .. }));
        Ok(Some(Self {
            value: join(&at_20)?,
            as_read: if corrected { Some(join(&as_read)?) } else { None },
            readings: used.iter().map(|take| take.id.clone()).collect(),
        }))
    }

    /// The same, not brought to 20 °C.
    pub(super) fn left_as_read(&self) -> Self {
        let value = self.as_read.clone().unwrap_or_else(|| self.value.clone());
        Self { value, as_read: None, readings: self.readings.clone() }
    }

    /// The figure; for a range its middle, with half its width as a rectangular spread (JCGM 100, 4.3.7).
    pub fn figure(&self) -> Option<Measured> {
        match &self.value {
            TakenValue::Figure(value) => Some(value.clone()),
            TakenValue::Range(low, high) => {
                let middle = metrology::mean(&[low, high]).ok()?;
                let half = (high.value() - low.value()) / 2.0;
                middle.with_part(Source::Spread(self.readings.concat().into()), half / 3.0_f64.sqrt()).ok()
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

    /// The ends of a range with their uncertainty.
    pub(super) fn ends(&self) -> Option<(Measured, Measured)> {
        match &self.value {
            TakenValue::Range(low, high) => Some((low.clone(), high.clone())),
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

fn read(slot: &Slot, round: &str, take: &Take, value: f64) -> Result<Measured, NotFinite> {
    take.gauge_of(slot).reading(value, take.resolution, &take.id, Some(&take.set(slot, round)))
}

impl Take {
    /// The gauge that took it.
    pub(super) fn gauge_of(&self, slot: &Slot) -> KnownGauge {
        self.gauge.clone().unwrap_or_else(|| KnownGauge::of_kind(slot.gauge))
    }

    /// How it was set.
    pub(super) fn set(&self, slot: &Slot, round: &str) -> GaugeSet {
        let unnamed = || GaugeSet { id: unnamed_setting(slot, round, &self.gauge_of(slot)), master: None };
        self.setting.clone().unwrap_or_else(unnamed)
    }
}

/// Where no setting is named: one setting of the gauge for the round, or one for each place where it is zeroed there.
fn unnamed_setting(slot: &Slot, round: &str, gauge: &KnownGauge) -> String {
    let scope = if slot.set_at_each_place.is_some() { slot.key.place.to_string() } else { slot.group.to_owned() };
    format!("{round}/{}/{scope}", gauge.id.as_deref().unwrap_or(gauge.kind.key()))
}

/// A size read with a steel gauge, at 20 °C, with what is not known of temperatures and expansion. A gauge whose
/// temperature was not noted is as warm as the part, and as uncertain by the same error.
fn to_20(setup: &Setup, read: &Measured, material: Material, at: ReadAt, round: &str) -> Result<Measured, NotFinite> {
    let noted = |celsius: f64, of: &str| {
        Measured::exact(celsius)?.with_part(Source::Temperature(format!("{round}/{of}").into()), TEMPERATURE_U)
    };
    let part_at = noted(at.part, "parts")?;
    let gauge_at = at.gauge.map_or_else(|| Ok(part_at.clone()), |celsius| noted(celsius, "gauge"))?;
    let (part, gauge) = (expansion(setup, material)?, expansion(setup, Material::GaugeSteel)?);
    propagate(&[read, &part, &part_at, &gauge, &gauge_at], |x| metrology::to_20(x[0], x[1], x[2], x[3], x[4]))
}

/// Standard uncertainty of a noted temperature in K: 1 K either way, rectangular. Common practice, no source.
const TEMPERATURE_U: f64 = 0.577;

/// A coefficient of expansion, anywhere within the span of its material.
pub(super) fn expansion(setup: &Setup, material: Material) -> Result<Measured, NotFinite> {
    let expansion = setup.expansion(material);
    let (low, high) = expansion.span;
    Measured::exact(expansion.per_kelvin)?
        .with_part(Source::Material(material.key().into()), (high - low) / 12.0_f64.sqrt())
}
