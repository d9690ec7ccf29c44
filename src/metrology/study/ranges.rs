//! Average and range: the study as it was worked out on paper, before analysis of variance came cheap. It cannot see an
//! interaction, and stands beside [`Study::by_variance`] for comparison.
//!
//! A mean of g ranges of m readings each, divided by d₂*(m, g) = √(d₂² + d₃²/g), estimates their standard deviation
//! (Duncan, Quality Control and Industrial Statistics, and AIAG manual, both from memory). The factors come from the
//! distribution of the range, see [`expected_range`]; those the manual prints are their reciprocals to four digits.

use super::super::range::{expected_range, range_spread};
use super::{Component, Spread, Study, range};

/// From so many ranges on, d₂* is taken for its limit d₂, as the manual does (AIAG, from memory).
const MANY_RANGES: usize = 16;

/// A study by average and range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AverageAndRange {
    /// Mean of the ranges of the trials, R̄.
    pub mean_range: f64,
    /// Largest less smallest mean of a person, X̄diff; none of one person.
    pub between_people: Option<f64>,
    /// Largest less smallest mean of a part, Rp; none of one part.
    pub between_parts: Option<f64>,
    pub spread: Spread,
}

/// The factor from a mean of `ranges` ranges of `readings` readings each to their standard deviation: K₁ of the trials; with
/// one range K₂ of the people and K₃ of the parts.
pub fn range_factor(readings: usize, ranges: usize) -> f64 {
    let (d2, d3) = (expected_range(readings), range_spread(readings));
    if ranges >= MANY_RANGES { 1.0 / d2 } else { 1.0 / d2.hypot(d3 / (ranges as f64).sqrt()) }
}

impl Study {
    /// By average and range.
    pub fn by_ranges(&self) -> AverageAndRange {
        let (p, o, n) = (self.parts(), self.people(), self.trials());
        let ranges = self.cells().map(|(part, person)| range(self.cell(part, person).iter().copied()));
        let mean_range = ranges.sum::<f64>() / (p * o) as f64;
        let between_people = (o > 1).then(|| range((0..o).map(|person| self.person_mean(person))));
        let between_parts = (p > 1).then(|| range((0..p).map(|part| self.part_mean(part))));

        let repeatability = mean_range * range_factor(n, p * o);
        let of_people = |difference: f64| {
            // The means of people carry their share of the repeatability.
            let carried = repeatability.powi(2) / (p * n) as f64;
            Component::of_variance((difference * range_factor(o, 1)).powi(2) - carried)
        };
        let spread = Spread {
            repeatability: Component { sd: repeatability, below_zero: false },
            people: between_people.map(of_people),
            interaction: None,
            parts: between_parts.map(|difference| Component { sd: difference * range_factor(p, 1), below_zero: false }),
        };
        AverageAndRange { mean_range, between_people, between_parts, spread }
    }
}
