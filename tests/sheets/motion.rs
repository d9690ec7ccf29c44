//! Motion and load by hand: piston speed, rod ratio, rod bolts.

use witnessmark::engine::{Architecture, Layout, LimitKind, SheetKey, TargetFeature};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, close, is_missing, value, verdict};

const LOAD: &str = "bolt-load@cylinder.0.0";

/// Stroke 88.392, rod 152.4 mm, both read, at 6500 rpm.
fn turning() -> Bench {
    (0..4)
        .fold(Bench::millimetre(), |bench, n: u8| {
            bench.read(&format!("stroke@throw.{n}"), "88.392").read(&format!("rod-length@cylinder.0.{n}"), "152.400")
        })
        .target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 6500.0)
}

/// Piston, pin and rings 620 g as one, small end 180; the big end as said.
fn weighed(bench: Bench, big_end: &str) -> Bench {
    bench.reads(&[
        ("weight-piston-stated@cylinders", "620.0"),
        ("weight-pin-stated@cylinders", "0.0"),
        ("weight-rings-stated@cylinders", "0.0"),
        ("weight-locks-stated@cylinders", "0.0"),
        ("weight-small-end-stated@cylinders", "180.0"),
        ("weight-big-end-stated@cylinders", big_end),
        ("weight-rod-shells-stated@cylinders", "0.0"),
    ])
}

/// C03-4: mean piston speed 19.1516 m/s, greatest acceleration 26415.366 m/s², 2693.6176 times gravity, at 0°; 152.4 / 88.392.
#[test]
fn speed_and_rod_ratio() {
    let bench = turning();
    let speed = bench.finding("mean-piston-speed@engine");
    close(value(&speed), 19.1516, 1e-9);
    assert_eq!(
        speed.working,
        [
            "2 × stroke 88.392\u{a0}mm × 6500\u{a0}rpm = 19.2\u{a0}m/s",
            "greatest acceleration with the rod 152.400\u{a0}mm: 26415\u{a0}m/s², 2694 times gravity at 0.0° after the throw’s top"
        ]
    );
    assert_eq!(speed.basis, Basis::Readings);
    close(bench.value("rod-ratio@engine"), 152.4 / 88.392, 1e-9);
    let judged = bench.limit("mean-piston-speed", LimitKind::Absolute, Unit::MetrePerSecond, f64::NAN, 18.0);
    assert_eq!(verdict(&judged.finding("mean-piston-speed@engine")), Verdict::Out);
}

/// The longest stroke and the shortest rod count: 2 × 88.492 mm × 6500 / 60, 152.3 / 88.492.
#[test]
fn the_least_favourable_of_all() {
    let bench = turning().read("stroke@throw.2", "88.592").read("rod-length@cylinder.0.1", "152.200");
    // A second take joins the first by its mean.
    close(bench.value("mean-piston-speed@engine"), 2.0 * 0.088_492 * 6500.0 / 60.0, 1e-12);
    close(bench.value("rod-ratio@engine"), 152.3 / 88.492, 1e-9);
}

/// C03-6: (0.62 + 0.18)·26415.366 + (0.42 − 0.15)·rω² = 26661.09 N, 13330.545 N a bolt: the rod weighed without its cap. With
/// the cap, whose mass is not known apart, 0.42 kg is counted: 0.15·rω² more, rω² = 0.044196·680.678408² = 20477.03 m/s².
#[test]
fn rod_bolts_at_the_highest_speed() {
    let bare = weighed(turning(), "270.0").finding(LOAD);
    close(value(&bare), 26_661.09, 0.005);
    assert_eq!(bare.remarks[0], "13331\u{a0}N on each of two bolts, at the top of the exhaust stroke");
    assert_eq!(bare.basis, Basis::Stated);
    assert_eq!(
        bare.working,
        [
            "at 6500\u{a0}rpm the piston turns back at 26415\u{a0}m/s², 2694 times gravity, the crank pin runs round at 20477\u{a0}m/s², 2088 times gravity",
            "on reciprocating 800.0\u{a0}g and rotating 270.0\u{a0}g: 26661\u{a0}N"
        ]
    );
    let whole = weighed(turning(), "420.0").finding(LOAD);
    close(value(&whole), 26_661.09 + 0.15 * 20_477.03, 0.01);
    assert!(whole.remarks[1].starts_with("the whole big end is counted"), "{:?}", whole.remarks);
    // Twice the speed, four times the load.
    let twice =
        weighed(turning(), "270.0").target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 13e3);
    close(twice.value(LOAD), 4.0 * 26_661.09, 0.02);
}

/// An inch job says the same in pounds-force and feet per minute.
#[test]
fn in_inches() {
    let bench = weighed(turning(), "270.0");
    let mut inch = bench.clone();
    inch.setup.unit = Bench::inch().setup.unit;
    assert_eq!(inch.finding(LOAD).value, bench.finding(LOAD).value);
    assert!(inch.finding(LOAD).working[1].ends_with(": 5994\u{a0}lbf"), "{:?}", inch.finding(LOAD).working);
    assert!(inch.finding("mean-piston-speed@engine").working[0].ends_with("= 3770\u{a0}ft/min"));
}

#[test]
fn partial_readings_and_targets_that_stand_in() {
    let book = Bench::millimetre().book();
    let nothing = book.findings(SheetKey::Motion);
    assert_eq!(nothing.len(), 4, "the bolts' loads only: {nothing:?}");
    for what in ["piston of cylinder 1", "shells of cylinder 1", "stroke of throw 1", "rod length", "highest speed"] {
        is_missing(&nothing[0], what);
    }
    let aimed = Bench::millimetre()
        .target(TargetFeature::Stroke, "engine", Unit::Millimetre, 88.392)
        .target(TargetFeature::RodLength, "engine", Unit::Millimetre, 152.4)
        .target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 6500.0);
    let speed = aimed.finding("mean-piston-speed@engine");
    is_missing(&speed, "stroke of throw");
    close(value(&speed), 19.1516, 1e-9);
    is_missing(&weighed(aimed, "270.0").finding(LOAD), "stroke of throw 1, rod length of cylinder 1");
    let mut slow = weighed(turning(), "270.0");
    slow.setup.targets.clear();
    is_missing(&slow.finding(LOAD), "highest speed");
    assert!(slow.find("mean-piston-speed@engine").is_none());
    close(slow.value("rod-ratio@engine"), 152.4 / 88.392, 1e-9);
}

/// A rod that cannot go round: both are named, before what is missing.
#[test]
fn a_rod_too_short_for_its_stroke() {
    let bench = Bench::millimetre()
        .target(TargetFeature::Stroke, "engine", Unit::Millimetre, 88.392)
        .target(TargetFeature::RodLength, "engine", Unit::Millimetre, 44.5)
        .target(TargetFeature::PinOffset, "engine", Unit::Millimetre, 1.0);
    for key in [LOAD, "rod-ratio@engine"] {
        let finding = bench.finding(key);
        assert_eq!((finding.standing(), finding.value.is_none()), (Standing::NoFigure, true));
        let said = format!("{:?}", finding.basis);
        for what in ["88.392", "44.500", "pin offset 1000", "stroke of throw", "rod length of cylinder"] {
            assert!(said.contains(what), "no {what} in {said}");
        }
    }
    let centred = bench.target(TargetFeature::PinOffset, "engine", Unit::Millimetre, 0.0);
    assert!(centred.finding("rod-ratio@engine").value.is_some(), "it just goes round");
}

/// In a vee both rods of a pin go by its stroke; a single has one of all.
#[test]
fn other_layouts() {
    for (layout, cylinders, places) in [(Layout::Vee, 2, vec!["0.0", "1.0"]), (Layout::Inline, 1, vec!["0.0"])] {
        let mut bench = Bench::millimetre();
        bench.setup.architecture = Architecture::new(layout, cylinders, 2, vec![], vec![]).expect("an engine");
        let bench =
            places.iter().fold(bench, |bench, place| bench.read(&format!("rod-length@cylinder.{place}"), "152.400"));
        let bench = weighed(bench, "270.0").read("stroke@throw.0", "88.392").target(
            TargetFeature::HighestSpeed,
            "engine",
            Unit::RevolutionPerMinute,
            6500.0,
        );
        for place in places {
            close(bench.value(&format!("bolt-load@cylinder.{place}")), 26_661.09, 0.005);
        }
    }
}
