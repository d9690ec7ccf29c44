//! One reading to take: where, with what, and what it can possibly be.

use crate::engine::{ItemRef, SlotKey, WorkingUnit};
use crate::metrology::{GaugeKind, Material};
use crate::quantity::{Dimension, Entry, Fault, HowRead, Quantity, Typed, Unit, read};

/// Whether a slot is a figure for a whole place or one of every reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// One figure, a range, or checked good.
    Stated,
    Each,
}

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
    /// Spoken of in the small unit (thou, µm): clearances.
    pub small: bool,
    /// What it can be at all, in m: outside is refused.
    pub possible: (f64, f64),
    /// In m.
    pub target: Option<f64>,
    /// Of the thing read, where a reading off 20 °C is to be brought back; none for clearances.
    pub material: Option<Material>,
    /// Whether the gauge is set anew at each place (zeroed in the micrometer set to that journal).
    pub set_at_each_place: bool,
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

impl Slot {
    /// How a bare figure is understood here. `step` is the unit of a bare "+2", `set_to` the size the gauge was set to.
    pub fn how(&self, unit: WorkingUnit, step: Unit, set_to: Option<f64>) -> HowRead {
        let length = |si| Quantity { si, dimension: Dimension::Length };
        HowRead {
            step,
            // A clearance deviates from nothing; a size from what the gauge was set to, or else from its target.
            from: if self.small { Some(length(set_to.unwrap_or(0.0))) } else { set_to.or(self.target).map(length) },
            standard: self.target.map(length),
            ..unit.how_read(self.small)
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
        let shown = if self.small { unit.small() } else { unit.size() };
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
