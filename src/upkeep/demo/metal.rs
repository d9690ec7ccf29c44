//! The sizes that the metal of the demonstration engines has, and how a hand reads them off and types them.
//!
//! A reading is the size of the metal with a person's scatter on it, told to one step of the gauge: so clearances
//! measured by two routes agree as well as two careful measurements do.

use super::diary::{Diary, Done};
use super::scatter::Scatter;
use crate::work::SheetKey;

/// What a job's figures are told in.
#[derive(Clone, Copy)]
pub(super) enum Told {
    /// To a tenth of a thou; clearances in thou.
    Inch,
    /// To a thousandth; clearances in µm.
    Millimetre,
}

/// By how many steps of its gauge a reading scatters at most.
const SCATTER: f64 = 0.7;

impl Told {
    /// One step of the gauge, in the working unit.
    fn step(self) -> f64 {
        match self {
            Self::Inch => 1e-4,
            Self::Millimetre => 1e-3,
        }
    }

    fn felt(self, size: f64, scatter: &mut Scatter) -> f64 {
        size + SCATTER * self.step() * scatter.wobble()
    }

    /// A size in full: "3.8302", "66.504".
    pub fn size(self, size: f64, scatter: &mut Scatter) -> String {
        let decimals = if matches!(self, Self::Inch) { 4 } else { 3 };
        format!("{:.decimals$}", self.felt(size, scatter))
    }

    /// What the dial shows off its zero, in steps: "+2", "-1", "0".
    pub fn off(self, size: f64, set_to: f64, scatter: &mut Scatter) -> String {
        let steps = ((self.felt(size, scatter) - set_to) / self.step()).round() + 0.0;
        if steps == 0.0 { "0".to_owned() } else { format!("{steps:+}") }
    }

    /// A clearance given in the working unit: "2.1" thou, "48" µm.
    pub fn clearance(self, clearance: f64, scatter: &mut Scatter) -> String {
        let felt = self.felt(clearance, scatter) * 1e3;
        if matches!(self, Self::Inch) { format!("{felt:.1}") } else { format!("{felt:.0}") }
    }
}

/// A bore by its mean size at three heights and what it is larger thrust way than pin way.
#[derive(Clone, Copy)]
pub(super) struct Bore {
    pub top: f64,
    pub middle: f64,
    pub bottom: f64,
    pub oval: f64,
}

impl Bore {
    /// Slots in bench order, with the size of the metal there.
    pub fn sizes(self) -> [(&'static str, f64); 6] {
        let half = self.oval / 2.0;
        [
            ("bore-top-thrust", self.top + half),
            ("bore-top-pin", self.top - half),
            ("bore-middle-thrust", self.middle + half),
            ("bore-middle-pin", self.middle - half),
            ("bore-bottom-thrust", self.bottom + half),
            ("bore-bottom-pin", self.bottom - half),
        ]
    }
}

/// A main bearing: housing, shells at the crown, journal.
#[derive(Clone, Copy)]
pub(super) struct Main {
    pub housing: f64,
    pub upper: f64,
    pub lower: f64,
    pub journal: f64,
}

/// By how much shells are thinner near the parting line, both together, in.
const RELIEF: f64 = 0.0007;

impl Main {
    pub fn vertical(self) -> f64 {
        self.housing - self.upper - self.lower - self.journal
    }

    pub fn parting(self) -> f64 {
        self.vertical() + RELIEF
    }

    /// Slots of the journal in bench order, with its size there: a little tapered, a little oval.
    pub fn journal_sizes(self) -> [(&'static str, f64); 4] {
        [
            ("main-journal-front-0", self.journal),
            ("main-journal-front-90", self.journal - 0.6e-4),
            ("main-journal-rear-0", self.journal - 0.3e-4),
            ("main-journal-rear-90", self.journal - 1.0e-4),
        ]
    }
}

pub(super) fn cylinder(bank: usize, index: usize) -> String {
    format!("cylinder.{bank}.{index}")
}

/// Reads the four diameters of the journal of a main.
pub(super) async fn reads_journal(diary: &mut Diary<'_>, job: i64, index: usize, main: Main) -> Done<()> {
    for (slot, size) in main.journal_sizes() {
        let text = Told::Inch.size(size, &mut diary.scatter);
        diary.reads(job, SheetKey::Crankshaft, &format!("{slot}@main.{index}"), &text).await?;
    }
    Ok(())
}

/// Reads a slot of a main bearing for a size.
pub(super) async fn reads_main(
    diary: &mut Diary<'_>,
    job: i64,
    slot: &str,
    index: usize,
    size: f64,
    told: Told,
) -> Done<i64> {
    let small = slot.contains("clearance") || slot.contains("strip");
    let text = if small { told.clearance(size, &mut diary.scatter) } else { told.size(size, &mut diary.scatter) };
    diary.reads(job, SheetKey::MainBearings, &format!("{slot}@main.{index}"), &text).await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_stay_within_a_step_of_the_metal() {
        let scatter = &mut Scatter::new(3);
        for _ in 0..200 {
            let size: f64 = Told::Inch.size(3.83, scatter).parse().unwrap();
            assert!((size - 3.83).abs() <= 1.5e-4, "{size}");
            let off: f64 = Told::Inch.off(3.8303, 3.83, scatter).parse().unwrap();
            assert!((off - 3.0).abs() <= 1.0, "{off}");
            let clearance: f64 = Told::Millimetre.clearance(0.048, scatter).parse().unwrap();
            assert!((clearance - 48.0).abs() <= 1.0, "{clearance}");
        }
        assert_eq!(Told::Inch.off(3.83, 3.83, &mut Scatter::new(0)), "0");
    }

    #[test]
    fn a_main_is_as_loose_as_what_is_left_between_its_parts() {
        let main = Main { housing: 2.6871, upper: 0.0976, lower: 0.0976, journal: 2.4898 };
        assert!((main.vertical() - 0.0021).abs() < 1e-12);
        assert!(main.parting() > main.vertical());
    }
}
