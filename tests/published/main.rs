//! Formulas against what others have published: standards, handbooks, certified data, reference libraries. Each check
//! names its source, or says that it is common practice, or from memory.

mod crank;
mod ranges;
mod statistics;
mod study;
mod temperature;
mod uncertainty;
mod units;
mod whole_sheet;

/// That `actual` is `expected` to within `tolerance`, in the unit of both.
#[track_caller]
fn assert_close(actual: f64, expected: f64, tolerance: f64) {
    assert!((actual - expected).abs() <= tolerance, "{actual} is not {expected} ± {tolerance}");
}
