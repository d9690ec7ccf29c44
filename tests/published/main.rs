//! Formulas against what others have published: standards, handbooks, certified data, reference libraries. Each check
//! names its source, or says that it is common practice, or from memory.

mod balance;
mod bearing;
#[path = "../support/charge_lines.rs"]
mod charge_lines;
mod charges_figures;
mod charges_job;
mod charges_total;
mod compression;
mod crank;
mod film;
mod matching;
mod motion;
mod oil;
mod plan_critical_path;
mod plan_history;
mod plan_simulation;
mod press_fit;
mod ranges;
mod reynolds;
mod ring;
mod routes;
mod selection;
mod shim;
mod statistics;
mod study;
mod temperature;
mod thermal;
mod uncertainty;
mod units;
mod whole_sheet;

/// That `actual` is `expected` to within `tolerance`, in the unit of both.
#[track_caller]
fn assert_close(actual: f64, expected: f64, tolerance: f64) {
    assert!((actual - expected).abs() <= tolerance, "{actual} is not {expected} ± {tolerance}");
}

/// The same to within a part of the expected.
#[track_caller]
fn assert_near(actual: f64, expected: f64, part: f64) {
    assert_close(actual, expected, part * expected.abs());
}
