//! A value with its uncertainty; gauges, verdicts, repeatability, temperature.
//!
//! A [`Measured`] carries one signed standard uncertainty per [`Source`]; sharing a source is the correlation. Formulas
//! stay on plain f64 and [`propagate`] carries the uncertainty through them. Numbers are SI.
//!
//! | file | what is in it |
//! |---|---|
//! | `value.rs` | [`Measured`], [`Source`], [`propagate`] |
//! | `gauge.rs` | what a gauge can tell: [`KnownGauge::reading`] |
//! | `verdict.rs` | [`judge`] against a [`Band`], [`conformity`] |
//! | `range.rs` | what a range of repeated readings says, [`range_within_noise`] |
//! | `statistics.rs` | mean and standard deviation |
//! | `study/` | the repeatability [`Study`] of a gauge: people × parts × trials |
//! | `temperature.rs` | sizes at 20 °C, expansion of materials |

mod gauge;
mod range;
mod statistics;
mod study;
mod temperature;
mod value;
mod verdict;

pub use crate::quantity::NotFinite;
pub use gauge::{GaugeKind, GaugeSet, KnownGauge, Repeatability, default_reading_u, default_setting_u, resolution_u};
pub use range::{expected_range, range_spread, range_within_noise};
pub use statistics::{mean_of, standard_deviation};
pub use study::{
    AverageAndRange, Component, Guide, Interaction, OfScatter, POOLED_ABOVE, Spread, Study, StudyFault, VarianceRow,
    VarianceTable, range_factor,
};
pub use temperature::{Expansion, Material, to_20};
pub use value::{Estimate, Measured, NoSuchSource, Source, difference, mean, propagate, sum};
pub use verdict::{Band, BandFault, Judgement, Rule, Verdict, conformity, judge, judge_range};
