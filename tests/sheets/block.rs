//! The block by hand: walls, deck heights at the corners, flatness.

use witnessmark::engine::LimitKind::Absolute;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;

use crate::bench::{Bench, THOU, close, is_missing, verdict};

#[test]
fn the_least_wall_is_named_and_judged() {
    let bench = Bench::inch()
        .reads(&[
            ("wall-thrust@cylinder.0.0", "0.182"),
            ("wall-across@cylinder.0.0", "0.096"),
            ("wall-rear@cylinder.0.0", "0.150"),
        ])
        .limit("wall-least", Absolute, Unit::Inch, 0.1, f64::NAN);
    let least = bench.finding("wall-least@cylinder.0.0");
    close(bench.value("wall-least@cylinder.0.0"), Unit::Inch.to_si(0.096), 1e-12);
    assert_eq!(least.working, ["least of 3 sides: cylinder wall, side across from thrust"]);
    assert_eq!(verdict(&least), Verdict::Out);
    assert!(bench.find("wall-front@cylinder.0.0").is_none(), "not read, not asked after");
    is_missing(&bench.finding("wall-least@cylinder.0.1"), "walls of cylinder 2");
}

/// Corners 9.0002, 8.9998, 9.0007 in: mean 9.000 233 in, 0.9 thou from lowest to highest.
#[test]
fn a_deck_is_its_corners() {
    let bench = Bench::inch().reads(&[
        ("deck-height-front-inner@bank.0", "9.0002"),
        ("deck-height-front-outer@bank.0", "8.9998"),
        ("deck-height-rear-inner@bank.0", "9.0007"),
        ("deck-flatness@bank.0", "1.5"),
    ]);
    close(bench.value("deck-height@bank.0"), Unit::Inch.to_si(27.0007 / 3.0), 1e-12);
    close(bench.value("deck-tilt@bank.0"), 0.9 * THOU, 1e-12);
    assert_eq!(bench.finding("deck-tilt@bank.0").working, ["rear, inner 9.0007 − front, outer 8.9998 = 0.9\u{a0}thou"]);
    close(bench.value("deck-flatness@bank.0"), 1.5 * THOU, 1e-12);
    let one = Bench::inch().read("deck-height-front-inner@bank.0", "9.0002");
    assert!(one.find("deck-tilt@bank.0").is_none(), "one corner tilts nowhere");
}

/// 9.0000 and 9.0030: their mean is within, the low corner is not.
#[test]
fn a_deck_is_judged_by_its_worst_corner() {
    let bench = Bench::inch()
        .reads(&[("deck-height-front-inner@bank.0", "9.0000"), ("deck-height-rear-inner@bank.0", "9.0030")])
        .limit("deck-height", Absolute, Unit::Inch, 9.0010, 9.0030);
    assert_eq!(verdict(&bench.finding("deck-height@bank.0")), Verdict::Out);
}
