//! One reading to take: where, with what, and what it can possibly be.

use crate::engine::{ItemKind, ItemRef, Measure, Place, Setup, SlotFeature, SlotKey, WorkingUnit};
use crate::metrology::{GaugeKind, Material};
use crate::quantity::{Dimension, Entry, Fault, HowRead, Quantity, Typed, Unit, read};

/// Whether a slot is a figure for a whole place or one of every reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// One figure, a range, or checked good.
    Stated,
    Each,
}

/// What a gauge is set on anew at each place, before the place: a bore gauge in the micrometer set to that journal.
pub const ON_THE_JOURNAL: &str = "micrometer set to the journal of";
/// A dial indicator, to read how far the piston stays below it.
pub const ON_THE_DECK: &str = "the deck at";

/// A reading to take.
#[derive(Clone, Debug)]
pub struct Slot {
    pub key: SlotKey,
    /// Within its place: "top, thrust way".
    pub label: &'static str,
    /// The route or group it belongs to, within its sheet.
    pub group: &'static str,
    pub depth: Depth,
    pub gauge: GaugeKind,
    pub item: ItemRef,
    /// What it can be at all, in SI: outside is refused.
    pub possible: (f64, f64),
    /// In SI.
    pub target: Option<f64>,
    /// Of the thing read, where a reading off 20 °C is to be brought back; none for clearances.
    pub material: Option<Material>,
    /// What the gauge is set on anew at each place, where it is: [`ON_THE_JOURNAL`].
    pub set_at_each_place: Option<&'static str>,
}

/// Why an entry cannot be a reading of a slot.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ValueFault {
    #[error(transparent)]
    Typed(#[from] Fault),
    #[error("{0}")]
    Impossible(String),
    #[error("one figure belongs here; a range is given for a place as a whole")]
    Range,
}

/// What a sheet says of a slot, whatever its place: feature, label, group, gauge, and of which kind of item it is read.
pub(super) type SlotRow = (SlotFeature, &'static str, &'static str, GaugeKind, ItemKind);

impl Slot {
    /// A slot of a row at a place. A length can be up to a metre, a clearance up to a millimetre, where the sheet does not say
    /// otherwise; parts of which an engine has one are read as one.
    pub(super) fn of(setup: &Setup, place: Place, (feature, label, group, gauge, kind): SlotRow) -> Self {
        let key = SlotKey::new(feature, place);
        let measure = key.feature.measure();
        let of_one = matches!(kind, ItemKind::Block | ItemKind::Crank);
        Self {
            target: setup.target_of(&key),
            label,
            group,
            depth: if key.feature.is_stated() { Depth::Stated } else { Depth::Each },
            gauge,
            item: ItemRef { kind, place: if of_one { Place::Engine } else { place } },
            possible: match measure {
                // A clearance to a millimetre, a volume to a litre.
                Measure::SMALL | Measure::VOLUME => (0.0, 0.001),
                Measure::SIZE => (0.0005, 1.0),
                Measure::MASS => (0.0, 20.0),
                Measure::TURNING => (0.0, 200.0),
                _ => (-1.0, 1.0),
            },
            material: if measure == Measure::SIZE { setup.materials.of(kind) } else { None },
            set_at_each_place: None,
            key,
        }
    }

    /// The same where only what lies between can be, in SI.
    pub(super) fn between(self, low: f64, high: f64) -> Self {
        Self { possible: (low, high), ..self }
    }

    /// How a reading is spoken of.
    pub fn measure(&self) -> Measure {
        self.key.feature.measure()
    }

    /// How a bare figure is understood here. `step` is the unit of a bare "+2", `set_to` the size the gauge was set to.
    pub fn how(&self, unit: WorkingUnit, step: Unit, set_to: Option<f64>) -> HowRead {
        let measure = self.measure();
        let length = |si| Quantity { si, dimension: Dimension::Length };
        match measure {
            // A clearance deviates from nothing; a size from what the gauge was set to, or else from its target.
            Measure::SMALL => HowRead {
                step,
                from: Some(length(set_to.unwrap_or(0.0))),
                standard: self.target.map(length),
                ..unit.how_read(measure)
            },
            Measure::SIZE => HowRead {
                step,
                from: set_to.or(self.target).map(length),
                standard: self.target.map(length),
                ..unit.how_read(measure)
            },
            _ => unit.how_read(measure),
        }
    }

    /// Reads what was typed for this slot.
    ///
    /// # Errors
    /// What cannot be, with what to enter instead.
    pub fn read(&self, text: &str, how: &HowRead, unit: WorkingUnit) -> Result<Typed, ValueFault> {
        let typed = read(text, how)?;
        let (low, high) = match typed.entry {
            Entry::Figure(q) => (q.si, q.si),
            Entry::Range(..) if self.depth == Depth::Each => return Err(ValueFault::Range),
            Entry::Range(low, high) => (low.si, high.si),
        };
        if low < self.possible.0 || high > self.possible.1 {
            return Err(ValueFault::Impossible(self.impossible(low, high, unit)));
        }
        Ok(typed)
    }

    fn impossible(&self, low: f64, high: f64, unit: WorkingUnit) -> String {
        let shown = unit.of(self.measure());
        let decimals = shown.usual_decimals();
        let read = if low < self.possible.0 { low } else { high };
        let example =
            self.target.map_or_else(String::new, |target| format!(", such as {}", shown.show(target, decimals)));
        let floor = if self.possible.0 >= 0.0 && low < 0.0 { "it cannot be below zero; " } else { "" };
        format!(
            "{} cannot be read here: {floor}enter between {} and {}{example}",
            shown.show(read, decimals),
            shown.show(self.possible.0, decimals),
            shown.show(self.possible.1, decimals),
        )
    }
}
