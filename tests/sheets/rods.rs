//! Rods by hand: big and small ends, the pin in the rod, length, bend and twist, side clearance.

use witnessmark::engine::{Architecture, Layout, LimitKind::Absolute, TargetFeature};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing, sheet};

use crate::bench::{Bench, MICROMETRE, TENTH, THOU, close, is_missing, value, verdict};

fn slots_of(bench: &Bench) -> Vec<String> {
    let slots = (sheet(witnessmark::engine::SheetKey::Rods).slots)(&bench.setup);
    slots.iter().map(|slot| slot.key.to_string()).collect()
}

/// 2.2248 vertically and 2.2252 near the parting line: 4 tenths out of round; the mean 2.2250 would lie within 2.2245 to
/// 2.2251, the worse end lies a tenth above.
#[test]
fn a_big_end_is_judged_by_its_worse_end() {
    let bench = Bench::inch().limit("rod-housing-size", Absolute, Unit::Inch, 2.2245, 2.2251).reads(&[
        ("rod-housing-vertical@cylinder.0.0", "2.2248"),
        ("rod-housing-parting@cylinder.0.0", "2.2252"),
        ("rod-housing-parting@cylinder.0.1", "2.2250"),
    ]);
    let size = bench.finding("rod-housing-size@cylinder.0.0");
    close(value(&size), Unit::Inch.to_si(2.2248), 1e-12);
    assert_eq!(size.standing(), Standing::Out);
    close(size.judgement.expect("judged").margin, -TENTH, 1e-12);
    assert_eq!(size.working[..2], ["vertically 2.2248\u{a0}in", "near the parting line 2.2252\u{a0}in"]);
    let round = bench.finding("rod-housing-out-of-round@cylinder.0.0");
    close(value(&round), 4.0 * TENTH, 1e-12);
    assert_eq!(round.working, ["largest at the big end: |2.2248 − 2.2252| = 0.4\u{a0}thou"]);
    assert_eq!(round.readings, ["r0", "r1"]);
    let half = bench.finding("rod-housing-size@cylinder.0.1");
    assert_eq!((half.standing(), &half.remarks[0][..]), (Standing::Good, "not read vertically"));
    assert!(bench.find("rod-housing-out-of-round@cylinder.0.1").is_none());
    is_missing(&bench.finding("rod-housing-size@cylinder.0.2"), "big end of cylinder 3");
}

/// 0.9281 − 0.92755 = 0.55 thou runs; 0.9265 − 0.9275 = −1.0 thou is held; 0.9275 − 0.9275 cannot be told, with a bore gauge of
/// √(1.3² + 1.5² + 2.54²/12) and a micrometer of √(1.3² + 1.3² + 2.54²/12): u = 2.897 µm, ± 0.23 thou.
#[test]
fn a_pin_runs_in_the_rod_or_is_held() {
    let bench = Bench::inch().reads(&[
        ("small-end@cylinder.0.0", "0.9281"),
        ("pin@cylinder.0.0", "0.92755"),
        ("small-end@cylinder.0.1", "0.9265"),
        ("pin@cylinder.0.1", "0.9275"),
        ("small-end@cylinder.0.2", "0.9275"),
        ("pin@cylinder.0.2", "0.9275"),
    ]);
    let runs = bench.finding("pin-in-rod@cylinder.0.0");
    close(value(&runs), 0.55 * THOU, 1e-12);
    assert_eq!(runs.working, ["small end 0.92810 − pin 0.92755 = 0.55\u{a0}thou"]);
    assert!(runs.remarks.is_empty() && runs.readings.len() == 2, "{runs:?}");
    let held = bench.finding("pin-in-rod@cylinder.0.1");
    close(value(&held), -THOU, 1e-12);
    assert!(held.remarks[0].starts_with("interference: the rod holds the pin"), "{:?}", held.remarks);
    let between = bench.finding("pin-in-rod@cylinder.0.2");
    close(bench.u("pin-in-rod@cylinder.0.2"), 2.897_459e-6, 1e-11);
    assert_eq!(between.remarks, ["whether it runs or is held cannot be told: ± 0.2\u{a0}thou"]);
    assert!(bench.find("pin-in-rod@cylinder.0.3").is_none(), "nothing was read there");
}

/// A press fit of 0.8 to 1.2 thou is a limit below zero.
#[test]
fn an_interference_is_judged_below_zero() {
    let read = |small| {
        Bench::inch()
            .limit("pin-in-rod", Absolute, Unit::Thou, -1.2, -0.8)
            .reads(&[("small-end@cylinder.0.0", small), ("pin@cylinder.0.0", "0.9275")])
            .finding("pin-in-rod@cylinder.0.0")
    };
    assert_eq!(verdict(&read("0.9265")), Verdict::Good);
    assert_eq!(verdict(&read("0.9270")), Verdict::Out);
}

#[test]
fn half_of_a_fit_says_what_is_missing_and_a_target_stands_in() {
    let small =
        Bench::inch().limit("pin-in-rod", Absolute, Unit::Thou, 0.0, 2.0).read("small-end@cylinder.0.0", "0.9281");
    is_missing(&small.finding("pin-in-rod@cylinder.0.0"), "pin of cylinder 1");
    let pin_set = small.target(TargetFeature::Pin, "cylinders", Unit::Inch, 0.9275);
    let fit = pin_set.finding("pin-in-rod@cylinder.0.0");
    is_missing(&fit, "pin of cylinder 1; its target stands in");
    close(value(&fit), 0.6 * THOU, 1e-12);
    assert!(pin_set.find("pin-in-rod@cylinder.0.1").is_none(), "nobody read anything there");
    let pin = Bench::inch().read("pin@cylinder.0.0", "0.9275");
    assert!(pin.find("pin-in-rod@cylinder.0.0").is_none(), "pins are read for the pistons too");
    let end_set = pin.target(TargetFeature::SmallEnd, "cylinders", Unit::Inch, 0.9281);
    is_missing(&end_set.finding("pin-in-rod@cylinder.0.0"), "small end of cylinder 1; its target stands in");
    is_missing(&end_set.finding("small-end-size@cylinder.0.0"), "small end of cylinder 1");
}

#[test]
fn a_pin_of_another_rod_is_no_fit() {
    for (small, pin) in [("0.8660", "0.9275"), ("1.0300", "0.9275")] {
        let bench = Bench::inch()
            .limit("pin-in-rod", Absolute, Unit::Thou, -1.2, 1.2)
            .reads(&[("small-end@cylinder.0.0", small), ("pin@cylinder.0.0", pin)]);
        let fit = bench.finding("pin-in-rod@cylinder.0.0");
        let Basis::NoFigure { because } = &fit.basis else { panic!("{fit:?}") };
        assert_eq!(*because, format!("small end {small}0 and pin {pin}0 do not belong together: look at both"));
        assert!(fit.value.is_none() && fit.judgement.is_none());
    }
}

/// 6.0010 − 5.9995 = 1.5 thou, in inches and one in millimetres: 152.3873 mm is 5.9995 in.
#[test]
fn lengths_and_their_spread() {
    let bench = Bench::inch().reads(&[
        ("rod-length@cylinder.0.0", "6.0010"),
        ("rod-length@cylinder.0.1", "152.3873 mm"),
        ("rod-length@cylinder.0.2", "6.0000"),
    ]);
    close(bench.value("rod-length@cylinder.0.1"), Unit::Inch.to_si(5.9995), 1e-12);
    let apart = bench.finding("rod-length-spread@cylinders");
    close(value(&apart), 1.5 * THOU, 1e-12);
    assert_eq!(apart.working, ["cylinder 1 6.00100 − cylinder 2 5.99950 = 1.50\u{a0}thou"]);
    assert!(bench.find("rod-length@cylinder.0.3").is_none(), "nobody asks for it");
    let set = bench.target(TargetFeature::RodLength, "engine", Unit::Inch, 6.0);
    is_missing(&set.finding("rod-length@cylinder.0.3"), "length of cylinder 4");
    close(set.finding("rod-length@cylinder.0.0").target.expect("a target"), Unit::Inch.to_si(6.0), 1e-12);
}

/// Between centres 40 mm, with ends of 60 and 22 mm: (60 + 22)/2 = 41.
#[test]
fn ends_that_run_into_each_other_are_named() {
    let bench = Bench::millimetre().reads(&[
        ("rod-housing-vertical@cylinder.0.0", "60.000"),
        ("small-end@cylinder.0.0", "22.000"),
        ("rod-length@cylinder.0.0", "40.000"),
    ]);
    let length = bench.finding("rod-length@cylinder.0.0");
    assert_eq!(
        length.remarks,
        [
            "cannot be: at 40.000 between centres a big end of 60.000 and a small end of 22.000\u{a0}mm run into each other; \
          look at all three"
        ]
    );
    assert!(
        bench
            .read("rod-length@cylinder.0.0", "150.000")
            .read("rod-length@cylinder.0.1", "150")
            .finding("rod-length@cylinder.0.1")
            .remarks
            .is_empty()
    );
}

#[test]
fn bend_and_twist_are_as_read() {
    let bench = Bench::millimetre()
        .limit("rod-bend", Absolute, Unit::Micrometre, f64::NAN, 25.0)
        .limit("rod-twist", Absolute, Unit::Micrometre, f64::NAN, 25.0)
        .reads(&[("rod-bend@cylinder.0.0", "0.010"), ("rod-twist@cylinder.0.0", "0.040")]);
    let bend = bench.finding("rod-bend@cylinder.0.0");
    close(value(&bend), 10.0 * MICROMETRE, 1e-12);
    assert_eq!(verdict(&bend), Verdict::Good);
    assert_eq!(verdict(&bench.finding("rod-twist@cylinder.0.0")), Verdict::Out);
    assert!(bench.find("rod-bend@cylinder.0.1").is_none());
}

/// Rods share pins in a vee: eight cylinders, four side clearances. An opposed twin has a pin for each, a single one pin.
#[test]
fn side_clearance_is_of_the_pin() {
    let engine = |layout, cylinders, mains| {
        let mut bench = Bench::inch();
        bench.setup.architecture = Architecture::new(layout, cylinders, mains, vec![], vec![]).expect("an engine");
        bench
    };
    let sides = |bench: &Bench| slots_of(bench).into_iter().filter(|key| key.starts_with("rod-side")).count();
    let vee = engine(Layout::Vee, 8, 5);
    let single = engine(Layout::Inline, 1, 2);
    assert_eq!((sides(&vee), sides(&engine(Layout::Opposed, 2, 2)), sides(&single)), (4, 2, 1));
    assert_eq!(vee.slot("rod-side-clearance@throw.0").label, "both rods of the pin together");
    assert_eq!(single.slot("rod-side-clearance@throw.0").label, "rod on its pin");
    let vee = vee
        .target(TargetFeature::RodSideClearance, "throws", Unit::Thou, 15.0)
        .limit("rod-side-clearance", Absolute, Unit::Thou, 10.0, 20.0)
        .read("rod-side-clearance@throw.3", "22");
    let side = vee.finding("rod-side-clearance@throw.3");
    close(value(&side), 22.0 * THOU, 1e-12);
    assert_eq!(verdict(&side), Verdict::Out);
    is_missing(&vee.finding("rod-side-clearance@throw.0"), "side clearance of throw 1");
    let one = single.read("rod-housing-vertical@cylinder.0.0", "2.1247").read("rod-length@cylinder.0.0", "6");
    assert!(one.find("rod-length-spread@cylinders").is_none(), "one rod has no spread");
}
