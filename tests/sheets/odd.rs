//! What a reading is expected to be: ten times its neighbours is asked about, ordinary scatter is not.

use witnessmark::engine::LimitKind::{Absolute, PerDiameter};
use witnessmark::engine::TargetFeature;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{ExpectedFrom, acceptance, expectation, odd};

use crate::bench::{Bench, THOU, close};

#[track_caller]
fn is_odd(bench: &Bench, key: &str, si: f64) -> bool {
    odd(&bench.book(), &bench.slot(key), si).is_some()
}

fn four_mains() -> Bench {
    Bench::inch().reads(&[
        ("main-clearance-vertical@main.0", "2.5"),
        ("main-clearance-vertical@main.1", "2.7"),
        ("main-clearance-vertical@main.2", "2.4"),
        ("main-clearance-vertical@main.3", "2.6"),
    ])
}

#[test]
fn a_clearance_ten_times_its_neighbours_is_asked_about() {
    let bench = four_mains();
    for (thou, asked) in [(25.0, true), (0.25, true), (2.2, false), (3.1, false), (1.5, false)] {
        assert_eq!(is_odd(&bench, "main-clearance-vertical@main.4", thou * THOU), asked, "{thou}");
    }
}

/// Of two neighbours either may be the one that is off: what is like one of them is not asked about.
#[test]
fn one_odd_neighbour_of_two_does_not_make_the_others_odd() {
    let bench =
        Bench::inch().reads(&[("main-clearance-vertical@main.0", "2.6"), ("main-clearance-vertical@main.1", "26")]);
    assert!(!is_odd(&bench, "main-clearance-vertical@main.2", 2.5 * THOU));
    assert!(is_odd(&bench, "main-clearance-vertical@main.2", 0.25 * THOU));
}

#[test]
fn a_slipped_digit_in_a_size_is_asked_about() {
    let bench = Bench::inch().reads(&[
        ("bore-top-thrust@cylinder.0.0", "4.3775"),
        ("bore-top-pin@cylinder.0.0", "4.3771"),
        ("bore-middle-thrust@cylinder.0.0", "4.3774"),
    ]);
    for (inches, asked) in [(4.3875, false), (4.4775, true), (4.3600, true), (4.3779, false), (43.775, true)] {
        assert_eq!(is_odd(&bench, "bore-bottom-pin@cylinder.0.3", Unit::Inch.to_si(inches)), asked, "{inches}");
    }
}

/// A reading says nothing of itself: repeated, it is compared with the others.
#[test]
fn a_reading_is_not_its_own_neighbour() {
    let bench = four_mains().read("main-clearance-vertical@main.4", "25");
    let expected = expectation(&bench.book(), &bench.slot("main-clearance-vertical@main.4")).expect("neighbours");
    assert_eq!(expected.from, ExpectedFrom::Neighbours);
    assert!(expected.high < 10.0 * THOU);
}

#[test]
fn without_neighbours_the_target_is_expected_and_without_either_nothing() {
    let bare = Bench::inch();
    assert!(expectation(&bare.book(), &bare.slot("skirt@cylinder.0.0")).is_none());
    assert!(!is_odd(&bare, "skirt@cylinder.0.0", 0.9));
    let aimed = bare.target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725);
    let expected = expectation(&aimed.book(), &aimed.slot("skirt@cylinder.0.0")).expect("a target");
    assert_eq!(expected.from, ExpectedFrom::Target);
    assert!(is_odd(&aimed, "skirt@cylinder.0.0", Unit::Inch.to_si(4.2725)));
}

/// A thrust main of another diameter is expected to be what it is meant to be, not what its neighbours are.
#[test]
fn mains_that_differ_are_expected_at_their_own_target() {
    let bench = Bench::inch()
        .target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.4480)
        .target(TargetFeature::MainJournal, "main.4", Unit::Inch, 2.6480)
        .reads(&[("main-journal-front-0@main.0", "2.4481"), ("main-journal-front-0@main.1", "2.4480")]);
    assert!(!is_odd(&bench, "main-journal-front-0@main.4", Unit::Inch.to_si(2.6481)));
    assert!(is_odd(&bench, "main-journal-front-0@main.4", Unit::Inch.to_si(2.4481)));
    assert!(!is_odd(&bench, "main-journal-front-0@main.2", Unit::Inch.to_si(2.4479)));
}

#[test]
fn the_interval_of_a_slot_is_that_of_its_finding() {
    let bench = Bench::inch()
        .limit("main-clearance-vertical", Absolute, Unit::Thou, 2.0, 3.0)
        .limit_at("main-clearance-vertical", Some("main.0"), Absolute, Unit::Thou, 1.0, 2.0)
        .limit("bore-size", Absolute, Unit::Inch, 4.3765, 4.3775);
    let upper = |key: &str| acceptance(&bench.book(), &bench.slot(key)).and_then(|band| band.max());
    close(upper("main-clearance-vertical@main.1").expect("for all"), 3.0 * THOU, 1e-12);
    close(upper("main-clearance-vertical@main.0").expect("its own"), 2.0 * THOU, 1e-12);
    close(upper("main-plastic-strip@main.1").expect("the same finding"), 3.0 * THOU, 1e-12);
    close(upper("main-clearance@mains").expect("for all"), 3.0 * THOU, 1e-12);
    close(upper("bore@cylinders").expect("all bores"), Unit::Inch.to_si(4.3775), 1e-12);
    close(upper("bore-top-pin@cylinder.0.1").expect("a bore"), Unit::Inch.to_si(4.3775), 1e-12);
    assert!(upper("main-clearance-parting@main.1").is_none(), "no limit near the parting line");
    assert!(upper("main-journal-front-0@main.1").is_none(), "a journal alone decides nothing");
}

#[test]
fn the_interval_per_diameter_goes_by_the_target() {
    let bench = Bench::inch().target(TargetFeature::MainJournal, "main.1", Unit::Inch, 2.5).limit(
        "main-clearance-vertical",
        PerDiameter,
        Unit::ThouPerInch,
        0.75,
        1.0,
    );
    let band = |key: &str| acceptance(&bench.book(), &bench.slot(key));
    let known = band("main-clearance-vertical@main.1").expect("a diameter");
    close(known.max().expect("upper"), 2.5 * THOU, 1e-12);
    assert!(band("main-clearance-vertical@main.0").is_none(), "no diameter");
    assert!(band("main-clearance@mains").is_none(), "no diameter for all");
}
