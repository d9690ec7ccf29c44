//! What turns against what stands, as it was read.

use witnessmark::engine::LimitKind::Absolute;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;

use crate::bench::{Bench, close, is_missing, verdict};

#[test]
fn only_the_rods_count_as_missing() {
    let bench = Bench::millimetre()
        .reads(&[("clear-rod-to-block@cylinder.0.1", "1.4"), ("clear-to-pan@engine", "1/4 in")])
        .limit("clear-rod-to-block", Absolute, Unit::Millimetre, 1.5, f64::NAN);
    assert_eq!(verdict(&bench.finding("clear-rod-to-block@cylinder.0.1")), Verdict::Out);
    close(bench.value("clear-to-pan@engine"), 0.00635, 1e-12);
    is_missing(&bench.finding("clear-rod-to-block@cylinder.0.0"), "rod or bolt to block of cylinder 1");
    assert!(bench.find("clear-to-tray@engine").is_none(), "an engine may have no tray");
}
