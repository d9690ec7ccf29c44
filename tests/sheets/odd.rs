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

/// Rod journals, big ends, small ends, pins and their bores beside their neighbours: a thimble turn or a digit off is asked about,
/// what parts differ by is not.
#[test]
fn sizes_of_rods_and_pins_are_held_against_each_other() {
    for (slot, places, sound, odd) in [
        (
            "rod-journal-front-0",
            ["throw.0", "throw.1", "throw.2"],
            ["2.0999", "2.0997", "2.1000"],
            ["2.1248", "2.0979"],
        ),
        (
            "rod-housing-vertical",
            ["cylinder.0.0", "cylinder.0.1", "cylinder.0.2"],
            ["2.2247", "2.2249", "2.2246"],
            ["2.1998", "2.2427"],
        ),
        (
            "small-end",
            ["cylinder.0.0", "cylinder.0.1", "cylinder.0.2"],
            ["0.9273", "0.9274", "0.9272"],
            ["0.9523", "0.9373"],
        ),
        ("pin", ["cylinder.0.0", "cylinder.0.1", "cylinder.0.2"], ["0.9271", "0.9271", "0.9270"], ["0.9521", "0.9217"]),
        (
            "pin-bore",
            ["cylinder.0.0", "cylinder.0.1", "cylinder.0.2"],
            ["0.9275", "0.9276", "0.9275"],
            ["0.9025", "0.9375"],
        ),
    ] {
        let read = |bench: Bench, nth: usize| bench.read(&format!("{slot}@{}", places[nth]), sound[nth]);
        let bench = read(read(Bench::inch(), 0), 1);
        let last = format!("{slot}@{}", places[2]);
        assert!(!is_odd(&bench, &last, sound[2]), "{slot} {}", sound[2]);
        for text in odd {
            assert!(is_odd(&bench, &last, text), "{slot} {text}");
        }
        assert!(
            expectation(&Bench::inch().book(), &Bench::inch().slot(&last)).is_none(),
            "{slot}: nothing to compare with"
        );
    }
}

/// A deck from below to above, and ring gaps filed above their maker's least; ten times as much is asked about. Oil rails are
/// not, as they come from twice to four times apart.
#[test]
fn decks_and_gaps_are_held_against_their_neighbours() {
    let decks = Bench::inch().reads(&[
        ("deck-clearance-thrust@cylinder.0.0", "0.8 thou"),
        ("deck-clearance-thrust@cylinder.0.1", "-0.6 thou"),
    ]);
    for (text, asked) in [("2.0 thou", false), ("-2.0 thou", false), ("20 thou", true), ("-18 thou", true)] {
        assert_eq!(is_odd(&decks, "deck-clearance-thrust@cylinder.0.2", text), asked, "{text}");
    }
    let gaps = Bench::inch()
        .target(TargetFeature::TopRingGap, "cylinders", Unit::Thou, 16.0)
        .reads(&[("ring-gap-top@cylinder.0.0", "18"), ("ring-gap-top@cylinder.0.1", "18.5")]);
    for (text, asked) in [("17.5", false), ("19", false), ("81", true), ("1.8 thou", true)] {
        assert_eq!(is_odd(&gaps, "ring-gap-top@cylinder.0.2", text), asked, "{text}");
    }
    let rails = Bench::inch().reads(&[("ring-gap-rail@cylinder.0.0", "20"), ("ring-gap-rail@cylinder.0.1", "21")]);
    assert!(!is_odd(&rails, "ring-gap-rail@cylinder.0.2", "50"));
}

/// Gaps all two thou above their maker's least are as they should be, decks all above their target wait for the cut: nobody asks after
/// a zero. Rod journals so far below theirs are asked about.
#[test]
fn only_what_is_made_to_its_target_is_asked_after_a_zero() {
    let all = |slot: &str, place: &str, text: &str, bench: Bench| {
        (0..4).fold(bench, |bench, n| bench.read(&format!("{slot}@{place}.{n}"), text))
    };
    let aimed = Bench::inch().target(TargetFeature::TopRingGap, "cylinders", Unit::Thou, 16.0).target(
        TargetFeature::RodJournal,
        "throws",
        Unit::Inch,
        2.1,
    );
    let gaps = all("ring-gap-top", "cylinder.0", "18", aimed);
    let asked = |bench: &Bench, sheet| {
        witnessmark::sheets::set_doubts(&bench.book(), sheet, &std::collections::BTreeSet::new(), None)
    };
    assert!(asked(&gaps, SheetKey::Rings).is_empty());
    let at = ["front-0", "front-90", "rear-0", "rear-90"];
    let journals = at.into_iter().fold(gaps, |bench, at| all(&format!("rod-journal-{at}"), "throw", "2.0975", bench));
    let doubts = asked(&journals, SheetKey::Crankshaft);
    assert!(doubts.iter().any(|doubt| doubt.key.starts_with("target:rod-journal")), "{doubts:?}");
}
