//! Analysis of variance of a crossed study: sums of squares, F and p, and the components of variance.
//!
//! With p parts, o people, n trials and means written ȳ, every sum is of squared deviations:
//!
//! | source | sum of squares | degrees of freedom |
//! |---|---|---|
//! | parts | o n Σ (ȳᵢ − ȳ)² | p − 1 |
//! | people | p n Σ (ȳⱼ − ȳ)² | o − 1 |
//! | interaction | n ΣΣ (ȳᵢⱼ − ȳᵢ − ȳⱼ + ȳ)² | (p − 1)(o − 1) |
//! | repeatability | ΣΣΣ (y − ȳᵢⱼ)² | p o (n − 1) |
//!
//! Parts and people are drawn from many (random effects), so the expected mean squares are: repeatability σ²; interaction σ² +
//! n σ²ₚₒ; people σ² + n σ²ₚₒ + p n σ²ₒ; parts σ² + n σ²ₚₒ + o n σ²ₚ. The components follow by difference.

use super::{Component, Spread, Study};
use statrs::distribution::{ContinuousCDF, FisherSnedecor};

/// An interaction with a p above this is taken for repeatability and pooled with it (AIAG manual, from memory; common
/// practice elsewhere goes from 0.05 to 0.25).
pub const POOLED_ABOVE: f64 = 0.25;

/// What a row of the table is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfScatter {
    Parts,
    People,
    Interaction,
    Repeatability,
    Total,
}

impl OfScatter {
    pub fn word(self) -> &'static str {
        match self {
            Self::Parts => "parts",
            Self::People => "people",
            Self::Interaction => "people with parts",
            Self::Repeatability => "repeatability",
            Self::Total => "all",
        }
    }
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VarianceRow {
    pub of: OfScatter,
    pub degrees_of_freedom: usize,
    /// In the unit of the readings, squared.
    pub sum_of_squares: f64,
    /// Mean square against that of what it rests on; none where there is nothing to set it against.
    pub f: Option<f64>,
    /// How likely an F as large as this is where the source has no effect.
    pub p: Option<f64>,
}

impl VarianceRow {
    /// Sum of squares by degrees of freedom; zero of none.
    pub fn mean_square(&self) -> f64 {
        if self.degrees_of_freedom == 0 { 0.0 } else { self.sum_of_squares / self.degrees_of_freedom as f64 }
    }

    /// Pooled with another row.
    fn with(self, other: &Self) -> Self {
        Self {
            degrees_of_freedom: self.degrees_of_freedom + other.degrees_of_freedom,
            sum_of_squares: self.sum_of_squares + other.sum_of_squares,
            ..self
        }
    }

    fn bare(of: OfScatter, degrees_of_freedom: usize, sum_of_squares: f64) -> Self {
        Self { of, degrees_of_freedom, sum_of_squares, f: None, p: None }
    }

    /// With F and p against another row.
    fn against(self, other: &Self) -> Self {
        let (ours, others) = (self.mean_square(), other.mean_square());
        let f = (others > 0.0).then(|| ours / others);
        let p = f.and_then(|f| {
            let distribution = FisherSnedecor::new(self.degrees_of_freedom as f64, other.degrees_of_freedom as f64);
            distribution.ok().map(|distribution| distribution.sf(f))
        });
        Self { f, p, ..self }
    }
}

/// What became of the interaction of people with parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interaction {
    /// One person or one part: there is none.
    None,
    /// Nothing speaks for it: pooled with the repeatability.
    Pooled,
    /// It stands as a component of its own.
    Kept,
}

/// A study by analysis of variance.
#[derive(Clone, Debug, PartialEq)]
pub struct VarianceTable {
    /// Parts, people, interaction, repeatability, as far as they were varied, and all; a pooled interaction still by itself.
    pub rows: Vec<VarianceRow>,
    pub interaction: Interaction,
    pub spread: Spread,
    /// Of the repeatability.
    degrees_of_freedom: usize,
}

impl VarianceTable {
    /// Standard deviation of one reading by the same person on the same part, and its degrees of freedom: what a budget of
    /// uncertainty takes over (JCGM 100:2008, 4.2.4 and G.3.3).
    pub fn repeatability(&self) -> (f64, f64) {
        (self.spread.repeatability.sd, self.degrees_of_freedom as f64)
    }

    /// The row of a source, where it was varied.
    pub fn row(&self, of: OfScatter) -> Option<&VarianceRow> {
        self.rows.iter().find(|row| row.of == of)
    }
}

impl Study {
    /// By analysis of variance. An interaction whose p is above `pooled_above` is pooled: usually [`POOLED_ABOVE`], and 1 keeps
    /// it always.
    pub fn by_variance(&self, pooled_above: f64) -> VarianceTable {
        let (p, o, n) = (self.parts(), self.people(), self.trials());
        let within = VarianceRow::bare(OfScatter::Repeatability, p * o * (n - 1), self.squares_within());
        let crossed = VarianceRow::bare(OfScatter::Interaction, (p - 1) * (o - 1), self.squares_of_interaction());
        let crossed = crossed.against(&within);
        let interaction = match crossed.p {
            _ if crossed.degrees_of_freedom == 0 => Interaction::None,
            Some(p) if p <= pooled_above => Interaction::Kept,
            None if crossed.sum_of_squares > 0.0 => Interaction::Kept,
            _ => Interaction::Pooled,
        };
        let kept = interaction == Interaction::Kept;
        let repeatability = if kept { within } else { within.with(&crossed) };
        let base = if kept { crossed } else { repeatability };

        let people = VarianceRow::bare(OfScatter::People, o - 1, self.squares_of_people()).against(&base);
        let parts = VarianceRow::bare(OfScatter::Parts, p - 1, self.squares_of_parts()).against(&base);
        let all = VarianceRow::bare(OfScatter::Total, p * o * n - 1, self.squares_in_all());

        let beyond = |row: &VarianceRow, under: &VarianceRow, readings: usize| {
            Component::of_variance((row.mean_square() - under.mean_square()) / readings as f64)
        };
        let spread = Spread {
            repeatability: Component::of_variance(repeatability.mean_square()),
            people: (o > 1).then(|| beyond(&people, &base, p * n)),
            interaction: kept.then(|| beyond(&crossed, &within, n)),
            parts: (p > 1).then(|| beyond(&parts, &base, o * n)),
        };
        // The interaction keeps its own row where it is pooled: its p is why.
        let rows = [parts, people, crossed, within, all].into_iter().filter(|row| row.degrees_of_freedom > 0).collect();
        VarianceTable { rows, interaction, spread, degrees_of_freedom: repeatability.degrees_of_freedom }
    }

    fn squares_of_parts(&self) -> f64 {
        let mean = self.grand_mean();
        let squares: f64 = (0..self.parts()).map(|part| (self.part_mean(part) - mean).powi(2)).sum();
        squares * (self.people() * self.trials()) as f64
    }

    fn squares_of_people(&self) -> f64 {
        let mean = self.grand_mean();
        let squares: f64 = (0..self.people()).map(|person| (self.person_mean(person) - mean).powi(2)).sum();
        squares * (self.parts() * self.trials()) as f64
    }

    fn squares_of_interaction(&self) -> f64 {
        let mean = self.grand_mean();
        let part_means: Vec<f64> = (0..self.parts()).map(|part| self.part_mean(part)).collect();
        let person_means: Vec<f64> = (0..self.people()).map(|person| self.person_mean(person)).collect();
        let beside = |(part, person): (usize, usize)| {
            self.cell_mean(part, person) - part_means[part] - person_means[person] + mean
        };
        self.cells().map(|cell| beside(cell).powi(2)).sum::<f64>() * self.trials() as f64
    }

    fn squares_within(&self) -> f64 {
        self.cells()
            .map(|(part, person)| {
                let mean = self.cell_mean(part, person);
                self.cell(part, person).iter().map(|reading| (reading - mean).powi(2)).sum::<f64>()
            })
            .sum()
    }

    fn squares_in_all(&self) -> f64 {
        let mean = self.grand_mean();
        self.cells().flat_map(|(part, person)| self.cell(part, person)).map(|reading| (reading - mean).powi(2)).sum()
    }
}
