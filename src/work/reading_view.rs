//! One reading in words, whether it counts or not.

use super::job::JobLook;
use crate::engine::Measure;
use crate::quantity::Unit;
use crate::record::readings::{Reading, ReadingState, Says};

/// One reading, whether it counts or not.
#[derive(Clone, Debug)]
pub struct ReadingView {
    pub number: i64,
    pub take: i64,
    /// As typed.
    pub typed: String,
    /// In the working unit: "4.3775 in", "2.5 to 2.8 thou", "checked: by feel and strip".
    pub shown: String,
    /// In the other unit.
    pub other: String,
    pub state: ReadingState,
    /// Why it was corrected or moved; may be empty.
    pub why: String,
    pub when: String,
    pub gauge: Option<String>,
    /// Looked odd, and was kept as read.
    pub as_read: bool,
    /// Number of the reading that it replaces.
    pub corrects: Option<i64>,
    /// Job and number where it was typed first.
    pub moved_from: Option<String>,
    /// Job and number where it was read, of one that came with its thing.
    pub brought_from: Option<String>,
    /// Job and number where it counts now.
    pub moved_to: Option<String>,
}

impl ReadingView {
    /// Without what it says: who read it and when, until the second is taken.
    pub(super) fn covered(self) -> Self {
        let shown = "covered until the second reading".to_owned();
        Self { typed: String::new(), shown, other: String::new(), why: String::new(), as_read: false, ..self }
    }
}

pub(super) fn reading_view(look: &JobLook, reading: &Reading, measure: Measure) -> ReadingView {
    let unit = look.job.build.unit;
    let shown_in = unit.of(measure);
    // No more digits than were typed, where they were typed in the unit shown.
    let show = |unit: Unit, si: f64| unit.show(si, digits(unit, reading));
    let both = |unit: Unit| match &reading.says {
        Says::Figure(si) => show(unit, *si),
        Says::Range(low, high) => {
            format!("{} to {}", unit.show_number(*low, digits(unit, reading)), show(unit, *high))
        }
        Says::Checked { how } => format!("checked: {how}"),
    };
    ReadingView {
        number: reading.number,
        take: reading.take,
        typed: reading.typed.clone(),
        shown: both(shown_in),
        other: if matches!(reading.says, Says::Checked { .. }) || shown_in.other() == shown_in {
            String::new()
        } else {
            both(shown_in.other())
        },
        state: reading.state,
        why: reading.why.clone(),
        when: look.when.stamp(&reading.stamp),
        gauge: reading.gauge.and_then(|id| look.job.gauge(id)).map(|gauge| gauge.name.clone()),
        as_read: reading.as_read,
        corrects: reading.corrects,
        moved_from: reading.moved_from.clone(),
        brought_from: reading.brought.as_ref().map(|brought| brought.from.clone()),
        moved_to: reading.moved_to.clone(),
    }
}

/// Digits after the point that a reading's resolution is worth in a unit, at most two more than usual.
fn digits(unit: Unit, reading: &Reading) -> u8 {
    let usual = unit.usual_decimals();
    let step = reading.resolution / unit.to_si(1.0);
    let worth = if step > 0.0 { (-step.log10() - 1e-9).ceil().max(0.0) } else { f64::from(usual) };
    (usual..=usual + 2).find(|&d| f64::from(d) >= worth).unwrap_or(usual + 2)
}
