//! What a reading is expected to be: ten times its neighbours is asked about, ordinary scatter is not.

use witnessmark::engine::LimitKind::{Absolute, PerDiameter};
use witnessmark::engine::{Measure, SheetKey, TargetFeature, WorkingUnit};
use witnessmark::quantity::{Entry, Unit};
use witnessmark::sheets::{ExpectedFrom, FamilyHistory, Odd, Slip, acceptance, expectation, misread};

use crate::bench::{Bench, THOU, close};

/// What is asked about a text typed at a slot.
#[track_caller]
fn odd(bench: &Bench, key: &str, text: &str) -> Option<Odd> {
    let slot = bench.slot(key);
    let how = slot.how(bench.setup.unit, bench.setup.unit.small(), None);
    let typed = slot.read(text, &how, bench.setup.unit).unwrap_or_else(|fault| panic!("{key} {text}: {fault}"));
    misread(&bench.book(), &slot, &typed, &how)
}

#[track_caller]
fn is_odd(bench: &Bench, key: &str, text: &str) -> bool {
    odd(bench, key, text).is_some()
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
    for (thou, asked) in [("25", true), ("0.25 thou", true), ("2.2", false), ("3.1", false), ("1.7", false)] {
        assert_eq!(is_odd(&bench, "main-clearance-vertical@main.4", thou), asked, "{thou}");
    }
}

/// Of two neighbours either may be the one that is off: what is like one of them is not asked about.
#[test]
fn one_odd_neighbour_of_two_does_not_make_the_others_odd() {
    let bench =
        Bench::inch().reads(&[("main-clearance-vertical@main.0", "2.6"), ("main-clearance-vertical@main.1", "26")]);
    assert!(!is_odd(&bench, "main-clearance-vertical@main.2", "2.5"));
    assert!(is_odd(&bench, "main-clearance-vertical@main.2", "0.25 thou"));
}

#[test]
fn a_slipped_digit_in_a_size_is_asked_about() {
    let bench = Bench::inch().reads(&[
        ("bore-top-thrust@cylinder.0.0", "4.3775"),
        ("bore-top-pin@cylinder.0.0", "4.3771"),
        ("bore-middle-thrust@cylinder.0.0", "4.3774"),
    ]);
    for (inches, asked) in [("4.3875", true), ("4.4775", true), ("4.3600", true), ("4.3779", false), ("4.3770", false)]
    {
        assert_eq!(is_odd(&bench, "bore-bottom-pin@cylinder.0.3", inches), asked, "{inches}");
    }
}

/// A reading says nothing of itself: repeated, it is compared with the others.
#[test]
fn a_reading_is_not_its_own_neighbour() {
    let bench = four_mains().read("main-clearance-vertical@main.4", "25");
    let expected = expectation(&bench.book(), &bench.slot("main-clearance-vertical@main.4")).expect("neighbours");
    assert_eq!(expected.from, ExpectedFrom::Neighbours);
    assert!(expected.far.1 < 10.0 * THOU);
}

#[test]
fn without_neighbours_the_target_is_expected_and_without_either_nothing() {
    let bare = Bench::inch();
    assert!(expectation(&bare.book(), &bare.slot("skirt@cylinder.0.0")).is_none());
    assert!(!is_odd(&bare, "skirt@cylinder.0.0", "35"));
    let aimed = bare.target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725);
    let expected = expectation(&aimed.book(), &aimed.slot("skirt@cylinder.0.0")).expect("a target");
    assert_eq!(expected.from, ExpectedFrom::Target);
    assert!(is_odd(&aimed, "skirt@cylinder.0.0", "4.2725"));
}

/// A thrust main of another diameter is expected to be what it is meant to be, not what its neighbours are.
#[test]
fn mains_that_differ_are_expected_at_their_own_target() {
    let bench = Bench::inch()
        .target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.4480)
        .target(TargetFeature::MainJournal, "main.4", Unit::Inch, 2.6480)
        .reads(&[("main-journal-front-0@main.0", "2.4481"), ("main-journal-front-0@main.1", "2.4480")]);
    assert!(!is_odd(&bench, "main-journal-front-0@main.4", "2.6481"));
    assert!(is_odd(&bench, "main-journal-front-0@main.4", "2.4481"));
    assert!(!is_odd(&bench, "main-journal-front-0@main.2", "2.4479"));
}

/// Each slip by its name, with what would have been read without it.
#[test]
fn the_likely_slip_is_named() {
    let journals = |unit: WorkingUnit, typed: [&str; 4]| {
        let keys = ["front-0@main.0", "front-90@main.0", "rear-0@main.0", "rear-90@main.0"];
        let read = |bench: Bench, (key, typed): (&str, &str)| bench.read(&format!("main-journal-{key}"), typed);
        keys.into_iter().zip(typed).fold(Bench::inline(4, 5, unit), read)
    };
    let inch = journals(WorkingUnit::Inch, ["2.2748", "2.2749", "2.2747", "2.2748"]);
    let metric = journals(WorkingUnit::Millimetre, ["57.781", "57.783", "57.780", "57.782"]);
    let named = |bench: &Bench, text: &str| {
        let odd = odd(bench, "main-journal-front-0@main.1", text).unwrap_or_else(|| panic!("{text} is not odd"));
        let question = odd.question(bench.book().words(), Measure::SIZE);
        let (slip, undone) = odd.slip.unwrap_or_else(|| panic!("{text}: no slip explains it"));
        let Entry::Figure(undone) = undone else { panic!("a figure") };
        (slip, bench.setup.unit.size().show_number(undone.si, 4), question)
    };
    let (slip, undone, question) = named(&inch, "2.2998");
    assert_eq!((slip, &*undone), (Slip::ThimbleTurn, "2.2748"));
    assert!(
        question.contains("one thimble turn (0.025\u{a0}in) from 2.2748\u{a0}in, which would go with its neighbours"),
        "{question}"
    );
    assert!(question.ends_with("Keep it as read, or read again?"), "{question}");
    let (slip, undone, question) = named(&metric, "58.281");
    assert_eq!((slip, &*undone), (Slip::ThimbleTurn, "57.7810"));
    assert!(question.contains("(0.5\u{a0}mm)"), "{question}");
    for (text, slip) in [("2.2784", Slip::SwappedDigits), ("2.7248", Slip::SwappedDigits)] {
        let (likely, without, _) = named(&inch, text);
        assert_eq!((likely, &*without), (slip, "2.2748"), "{text}");
    }
    let clearances = Bench::millimetre()
        .reads(&[("main-clearance-vertical@main.0", "64"), ("main-clearance-vertical@main.1", "66")]);
    let inches_for_millimetres = odd(&clearances, "main-clearance-vertical@main.2", ".0025").expect("far too little");
    assert_eq!(inches_for_millimetres.slip.map(|(slip, _)| slip), Some(Slip::OtherUnit));
    assert!(odd(&inch, "main-journal-front-0@main.1", "2.2600").is_some_and(|odd| odd.slip.is_none()), "just off");
}

/// A deviation to the wrong side is one where the other side would fit.
#[test]
fn a_wrong_sign_is_named() {
    let bench = Bench::inch().target(TargetFeature::Bore, "cylinders", Unit::Inch, 4.0).reads(&[
        ("bore-top-thrust@cylinder.0.0", "+4"),
        ("bore-top-thrust@cylinder.0.1", "+4.1"),
        ("bore-top-thrust@cylinder.0.2", "+3.9"),
    ]);
    let key = "bore-top-thrust@cylinder.0.3";
    assert_eq!(odd(&bench, key, "-4").and_then(|odd| odd.slip).map(|(slip, _)| slip), Some(Slip::WrongSign));
    assert_eq!(odd(&bench, key, "+4.2"), None);
}

/// Worn parts are far less alike than finished ones: what is odd among the finished need not be among the worn.
#[test]
fn parts_as_they_came_may_differ_more() {
    let bench = Bench::inch().reads(&[("bore-top-thrust@cylinder.0.0", "4.0045")]);
    let (slot, text) = (bench.slot("bore-middle-thrust@cylinder.0.0"), "4.0005");
    let how = slot.how(bench.setup.unit, bench.setup.unit.small(), None);
    let typed = slot.read(text, &how, bench.setup.unit).expect("a bore");
    let mut book = bench.book();
    assert!(misread(&book, &slot, &typed, &how).is_some());
    book.background.as_came.insert(SheetKey::CylinderBores);
    assert_eq!(misread(&book, &slot, &typed, &how), None);
}

/// What the limits allow is never odd, however alike the others are.
#[test]
fn what_the_limits_allow_is_expected() {
    let bench = four_mains();
    let key = "main-clearance-vertical@main.4";
    assert!(is_odd(&bench, key, "4.5"));
    assert!(!is_odd(&bench.limit("main-clearance-vertical", Absolute, Unit::Thou, 2.0, 4.5), key, "4.5"));
}

#[test]
fn a_range_is_compared_by_both_its_ends() {
    let bench = four_mains();
    assert!(!is_odd(&bench, "main-clearance@main.4", "2.4-2.7"));
    let odd = odd(&bench, "main-clearance@main.4", "24-27").expect("ten times the others");
    assert_eq!(odd.slip.map(|(slip, _)| slip), Some(Slip::DecimalPoint));
    assert!(is_odd(&bench, "main-clearance@mains", "2.4-9.7"));
}

/// The family's earlier engines speak before the target does.
#[test]
fn earlier_engines_of_the_family_lead_one_to_expect() {
    let bench = Bench::inch().target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725);
    let slot = bench.slot("skirt@cylinder.0.0");
    let mut book = bench.book();
    let history = FamilyHistory { mean: -0.5 * THOU, spread: 0.2 * THOU };
    book.background.family.insert(slot.key.feature.clone(), history);
    let expected = expectation(&book, &slot).expect("a family");
    assert_eq!(expected.from, ExpectedFrom::Family);
    close(expected.middle(), Unit::Inch.to_si(4.3720), 1e-9);
    assert!(expected.far.1 - expected.far.0 < 10.0 * THOU);
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
