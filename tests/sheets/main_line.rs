//! The main line by hand: each housing off the line through the ends, from main to main, and over all.

use witnessmark::engine::LimitKind::Absolute;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;

use crate::bench::{Bench, MICROMETRE, THOU, close, verdict};

/// 0, +0.4, −0.5, 0 thou: steps 0.4, 0.9, 0.5; over all 0.4 − (−0.5) = 0.9.
#[test]
fn steps_and_the_whole_line() {
    let read = ["0", "+0.4", "-0.5", "0"].into_iter().enumerate();
    let bench = read
        .fold(Bench::inch(), |bench, (main, off)| bench.read(&format!("main-line-vertical@main.{main}"), off))
        .limit("main-line-step-vertical", Absolute, Unit::Thou, f64::NAN, 0.5)
        .limit("main-line-spread-vertical", Absolute, Unit::Thou, f64::NAN, 1.0);
    close(bench.value("main-line-vertical@main.2"), -0.5 * THOU, 1e-12);
    for (main, step, judged) in [(1, 0.4, Verdict::Good), (2, 0.9, Verdict::Out)] {
        let key = format!("main-line-step-vertical@main.{main}");
        close(bench.value(&key), step * THOU, 1e-12);
        assert_eq!(verdict(&bench.finding(&key)), judged);
    }
    close(bench.value("main-line-spread-vertical@mains"), 0.9 * THOU, 1e-12);
    assert_eq!(verdict(&bench.finding("main-line-spread-vertical@mains")), Verdict::Good);
    assert!(bench.find("main-line-step-vertical@main.0").is_none(), "there is none before the first");
    assert!(bench.find("main-line-step-vertical@main.4").is_none(), "the fifth was not read");
    assert!(bench.find("main-line-spread-sideways@mains").is_none());
}

/// A feeler's gap is told in micrometres beside thou, one main left out; either way by itself. One housing alone shows nothing.
#[test]
fn a_gap_left_out_and_the_other_way() {
    let bench = Bench::millimetre().reads(&[
        ("main-line-sideways@main.0", "0"),
        ("main-line-sideways@main.1", "1 thou"),
        ("main-line-sideways@main.3", "40"),
    ]);
    close(bench.value("main-line-spread-sideways@mains"), 40.0 * MICROMETRE, 1e-12);
    close(bench.value("main-line-step-sideways@main.1"), 25.4 * MICROMETRE, 1e-12);
    assert!(bench.find("main-line-step-sideways@main.3").is_none());
    let alone = Bench::millimetre().read("main-line-vertical@main.1", "20");
    assert!(alone.find("main-line-spread-vertical@mains").is_none());
}
