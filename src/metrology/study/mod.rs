//! The repeatability study of a gauge: several people read several parts several times, every part by everyone.
//!
//! It says how much of the scatter is the gauge's (one person, the same part again), how much the people's (each reads a
//! little differently), and how much the parts' own. [`Study::by_variance`] works it out by analysis of variance,
//! [`Study::by_ranges`] by average and range as it was done on paper; both end in a [`Spread`]. Figures are in the unit of
//! the readings.
//!
//! The method and its words are those of the measurement systems manual of the AIAG (4th edition, from memory).
//!
//! | file | what is in it |
//! |---|---|
//! | `mod.rs` | [`Study`]: the readings and their means |
//! | `spread.rs` | [`Spread`]: repeatability, people, interaction, parts, and what follows from them |
//! | `variance.rs` | sums of squares, F, p |
//! | `ranges.rs` | average and range |

mod ranges;
mod spread;
mod variance;

pub use ranges::{AverageAndRange, range_factor};
pub use spread::{Component, Guide, Spread};
pub use variance::{Interaction, OfScatter, POOLED_ABOVE, VarianceRow, VarianceTable};

use super::statistics::mean_of;

/// Why readings are no study.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StudyFault {
    #[error("a study needs every part read at least twice by the same person")]
    TooFew,
    #[error("not every part was read equally often by everyone")]
    Uneven,
    #[error("a reading is not a number")]
    NotFinite,
}

/// The readings of p parts by o people in n trials each; p and o at least 1, n at least 2.
#[derive(Clone, Debug, PartialEq)]
pub struct Study {
    /// By part, person, trial.
    readings: Vec<Vec<Vec<f64>>>,
    people: usize,
    trials: usize,
}

impl Study {
    /// Of readings by part, person and trial.
    ///
    /// # Errors
    /// [`StudyFault`] where trials are fewer than two, readings are missing, or one is not finite.
    ///
    /// ```
    /// use witnessmark::metrology::{Study, StudyFault};
    /// assert!(Study::new(vec![vec![vec![1.0, 1.1]], vec![vec![2.0, 2.0]]]).is_ok());
    /// assert_eq!(Study::new(vec![vec![vec![1.0]]]), Err(StudyFault::TooFew));
    /// assert_eq!(Study::new(vec![vec![vec![1.0, 1.1], vec![1.0]]]), Err(StudyFault::Uneven));
    /// ```
    pub fn new(readings: Vec<Vec<Vec<f64>>>) -> Result<Self, StudyFault> {
        let people = readings.first().map_or(0, Vec::len);
        let trials = readings.first().and_then(|part| part.first()).map_or(0, Vec::len);
        if readings.iter().any(|part| part.len() != people || part.iter().any(|cell| cell.len() != trials)) {
            return Err(StudyFault::Uneven);
        }
        if people == 0 || trials < 2 {
            return Err(StudyFault::TooFew);
        }
        if readings.iter().flatten().flatten().any(|reading| !reading.is_finite()) {
            return Err(StudyFault::NotFinite);
        }
        Ok(Self { readings, people, trials })
    }

    pub fn parts(&self) -> usize {
        self.readings.len()
    }

    pub fn people(&self) -> usize {
        self.people
    }

    pub fn trials(&self) -> usize {
        self.trials
    }

    /// What one person read on one part, trial by trial.
    pub fn cell(&self, part: usize, person: usize) -> &[f64] {
        &self.readings[part][person]
    }

    /// Mean of one person on one part.
    pub fn cell_mean(&self, part: usize, person: usize) -> f64 {
        mean(self.cell(part, person))
    }

    /// Mean of everything read on one part.
    pub fn part_mean(&self, part: usize) -> f64 {
        mean(&(0..self.people).map(|person| self.cell_mean(part, person)).collect::<Vec<_>>())
    }

    /// Mean of everything one person read.
    pub fn person_mean(&self, person: usize) -> f64 {
        mean(&(0..self.parts()).map(|part| self.cell_mean(part, person)).collect::<Vec<_>>())
    }

    /// Mean of all readings.
    pub fn grand_mean(&self) -> f64 {
        mean(&(0..self.parts()).map(|part| self.part_mean(part)).collect::<Vec<_>>())
    }

    /// Every part with every person.
    fn cells(&self) -> impl Iterator<Item = (usize, usize)> {
        let people = self.people;
        (0..self.parts()).flat_map(move |part| (0..people).map(move |person| (part, person)))
    }
}

/// Mean of some readings; a study has no empty set of them.
fn mean(readings: &[f64]) -> f64 {
    mean_of(readings).unwrap_or_default()
}

/// Largest less smallest.
fn range(figures: impl IntoIterator<Item = f64>) -> f64 {
    let (least, most) =
        figures.into_iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), x| (least.min(x), most.max(x)));
    most - least
}

#[cfg(test)]
mod tests {
    use super::*;

    fn study(cells: &[&[&[f64]]]) -> Study {
        Study::new(cells.iter().map(|part| part.iter().map(|cell| cell.to_vec()).collect()).collect()).expect("a study")
    }

    #[test]
    fn what_is_no_study() {
        assert_eq!(Study::new(vec![]), Err(StudyFault::TooFew));
        assert_eq!(Study::new(vec![vec![]]), Err(StudyFault::TooFew));
        assert_eq!(Study::new(vec![vec![vec![1.0, f64::NAN]]]), Err(StudyFault::NotFinite));
    }

    /// Deviations 1, −1, 2, −2 about the means of two cells of two: variance 10/2.
    #[test]
    fn one_person_tells_nothing_of_people() {
        let table = study(&[&[&[1.0, 3.0]], &[&[10.0, 14.0]]]).by_variance(POOLED_ABOVE);
        assert_eq!(table.interaction, Interaction::None);
        assert_eq!((table.spread.people, table.spread.interaction), (None, None));
        assert!((table.spread.repeatability.sd - 5_f64.sqrt()).abs() < 1e-12);
        assert!((table.repeatability().1 - 2.0).abs() < f64::EPSILON);
        assert!(table.spread.parts.is_some());
    }

    #[test]
    fn one_part_and_one_person_is_repeatability_alone() {
        let one = study(&[&[&[1.0, 2.0, 6.0]]]);
        let spread = one.by_variance(POOLED_ABOVE).spread;
        assert!((spread.repeatability.sd - 7_f64.sqrt()).abs() < 1e-12);
        assert!((spread.gauge_sd() - spread.repeatability.sd).abs() < f64::EPSILON);
        assert_eq!((spread.total_sd(), spread.categories()), (None, None));
        assert!(one.by_ranges().between_people.is_none());
    }

    #[test]
    fn a_gauge_that_never_moves() {
        let table = study(&[&[&[1.0, 1.0], &[1.0, 1.0]], &[&[1.0, 1.0], &[1.0, 1.0]]]).by_variance(POOLED_ABOVE);
        assert_eq!(table.interaction, Interaction::Pooled);
        assert!(table.rows.iter().all(|row| row.f.is_none() && row.p.is_none()));
        assert!(table.spread.gauge_sd().abs() < f64::EPSILON);
        assert_eq!((table.spread.of_total(0.0), table.spread.categories()), (None, None));
    }

    /// Trials that scatter more than people and parts together: their variance comes out below zero.
    #[test]
    fn below_zero_is_said() {
        let table = study(&[&[&[0.0, 10.0], &[10.0, 0.0]], &[&[10.0, 0.0], &[0.0, 10.0]]]).by_variance(POOLED_ABOVE);
        for component in [table.spread.people, table.spread.parts] {
            assert_eq!(component, Some(Component { sd: 0.0, below_zero: true }));
        }
    }
}
