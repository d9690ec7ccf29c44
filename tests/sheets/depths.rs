//! Three depths, per place or all at once: checked good, one figure or a range, every reading; what is missing says so.

use witnessmark::engine::{LimitKind, SheetKey, TargetFeature};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, THOU, close, is_missing, value, verdict};

const MAINS: [&str; 5] = ["main.0", "main.1", "main.2", "main.3", "main.4"];

/// "2.5–2.8 thou, all five": the middle with the range's half-width as a rectangular spread, judged by the worse end.
#[test]
fn one_range_for_all_mains() {
    let bench = Bench::inch()
        .limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 2.7)
        .read("main-clearance@mains", "2.5–2.8 thou, all five");
    for place in MAINS {
        let finding = bench.finding(&format!("main-clearance-vertical@{place}"));
        assert_eq!(finding.basis, Basis::Stated);
        close(value(&finding), 2.65 * THOU, 1e-12);
        let (low, high) = finding.range.expect("a range");
        close(low, 2.5 * THOU, 1e-12);
        close(high, 2.8 * THOU, 1e-12);
        assert_eq!(verdict(&finding), Verdict::Out, "its upper end is");
        close(finding.judgement.expect("judged").margin, -0.1 * THOU, 1e-12);
        // Φ(−0.1 thou / 7.109 µm) = Φ(−0.357) = 0.36 of the upper end.
        let conforms = "probability of conformity of the worse end 36 %";
        assert_eq!(finding.working, ["stated 2.5\u{a0}thou to 2.8\u{a0}thou", conforms]);
        // A gauge not named: 5 and 5 µm, the step 2.54/√12; with the range's 0.15 thou/√3 in the middle only.
        let end = (2.0 * 25.0 + 2.54 * 2.54 / 12.0_f64).sqrt() * 1e-6;
        close(finding.range_u, end, 1e-11);
        close(finding.value.expect("a value").u(), end.hypot(0.15 * THOU / 3.0_f64.sqrt()), 1e-11);
    }
    assert!(bench.find("main-clearance-spread@mains").is_none(), "a stated range is no spread that was measured");
}

#[test]
fn one_figure_for_all_and_a_places_own_before_it() {
    let bench = Bench::inch()
        .read("main-clearance@mains", "2.5")
        .read("main-clearance@main.2", "3.1")
        .read("main-clearance-vertical@main.4", "2.7");
    close(bench.value("main-clearance-vertical@main.0"), 2.5 * THOU, 1e-12);
    close(bench.value("main-clearance-vertical@main.2"), 3.1 * THOU, 1e-12);
    let read = bench.finding("main-clearance-vertical@main.4");
    close(value(&read), 2.7 * THOU, 1e-12);
    assert_eq!(read.basis, Basis::Readings, "what was read goes before what was stated");
}

#[test]
fn checked_good_has_no_figure_and_no_verdict() {
    let bench = Bench::inch()
        .limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 3.0)
        .checked("main-clearance@mains", "turns by hand")
        .checked("main-clearance@main.1", "strip within the card");
    let all = bench.finding("main-clearance-vertical@main.0");
    assert_eq!(all.standing(), Standing::Checked);
    assert!(all.value.is_none() && all.judgement.is_none());
    assert_eq!(all.working, ["checked good: turns by hand"]);
    let own = bench.finding("main-clearance-vertical@main.1");
    assert_eq!(own.basis, Basis::Checked { how: "strip within the card".into() });
}

#[test]
fn a_later_check_goes_before_an_earlier_figure_and_a_later_figure_before_a_check() {
    let checked = Bench::inch().read("main-clearance@main.0", "2.5").checked("main-clearance@main.0", "by hand");
    assert_eq!(checked.finding("main-clearance-vertical@main.0").standing(), Standing::Checked);
    let again = checked.read("main-clearance@main.0", "2.7").finding("main-clearance-vertical@main.0");
    close(value(&again), 2.6 * THOU, 1e-12);
    assert_eq!(again.readings, ["r0", "r2"]);
}

#[test]
fn bores_and_skirts_as_stated() {
    let bench = Bench::inch()
        .read("bore@cylinders", "4.3770 to 4.3776")
        .read("bore@cylinder.0.3", "4.3780")
        .read("skirt-stated@cylinders", "4.3725");
    let size = bench.finding("bore-size@cylinder.0.0");
    assert_eq!((size.basis.clone(), size.working.len()), (Basis::Stated, 1));
    let clearance = bench.finding("piston-clearance@cylinder.0.0");
    assert_eq!(clearance.basis, Basis::Stated);
    let (low, high) = clearance.range.expect("a range");
    close(low, 4.5 * THOU, 1e-12);
    close(high, 5.1 * THOU, 1e-12);
    assert_eq!(clearance.working, ["bore 4.3773 − skirt 4.3725 = 4.8\u{a0}thou"]);
    let own = bench.finding("piston-clearance@cylinder.0.3");
    close(value(&own), 5.5 * THOU, 1e-12);
    assert!(own.range.is_none());
}

#[test]
fn what_was_checked_without_a_figure_gives_no_clearance_and_leaves_nothing_missing() {
    let bench = Bench::inch().target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725).limit(
        "piston-clearance",
        LimitKind::Absolute,
        Unit::Thou,
        4.0,
        6.0,
    );
    let bores = bench.clone().checked("bore@cylinders", "plug gauge passes");
    let skirts = bench.checked("skirt-stated@cylinders", "by the maker's sheet");
    let of_both = bores.clone().checked("skirt-stated@cylinders", "by the maker's sheet");
    let read = bores.clone().read("skirt@cylinder.0.0", "4.3725");
    let thrust = skirts.clone().read("bore-top-thrust@cylinder.0.0", "4.3775");
    for (bench, because) in [
        (bores, "bores were checked good"),
        (read, "bores were checked good"),
        (skirts, "skirts were checked good"),
        (thrust, "skirts were checked good"),
        (of_both, "bores and skirts were checked good"),
    ] {
        let clearance = bench.finding("piston-clearance@cylinder.0.0");
        assert_eq!(clearance.basis, Basis::NoFigure { because: because.into() });
        assert_eq!(clearance.standing(), Standing::NoFigure);
        assert!(clearance.value.is_none() && clearance.judgement.is_none() && !clearance.readings.is_empty());
    }
}

/// Nothing taken: the sizes and clearances asked of every place are missing, and say what of; nothing else is found.
#[test]
fn nothing_taken() {
    let bench = Bench::inch();
    let book = bench.book();
    let missing = |sheet| {
        let findings = book.findings(sheet).iter();
        findings.map(|finding| (finding.key.to_string(), finding.standing())).collect::<Vec<_>>()
    };
    for (sheet, count) in [(SheetKey::Pistons, 4), (SheetKey::CylinderBores, 8), (SheetKey::MainBearings, 5)] {
        let found = missing(sheet);
        assert_eq!(found.len(), count, "{found:?}");
        assert!(found.iter().all(|(_, standing)| *standing == Standing::Missing), "{found:?}");
    }
    is_missing(&bench.finding("skirt-diameter@cylinder.0.0"), "skirt of cylinder 1");
    is_missing(&bench.finding("bore-size@cylinder.0.1"), "bore of cylinder 2");
    is_missing(&bench.finding("piston-clearance@cylinder.0.2"), "piston skirt of cylinder 3");
    is_missing(&bench.finding("main-clearance-vertical@main.4"), "clearance of main 5");
}

/// A target stands in: the figure is shown, and counts as missing even where it would be within limits.
#[test]
fn a_target_stands_in_without_a_verdict() {
    let bench = Bench::inch()
        .target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725)
        .target(TargetFeature::Bore, "cylinders", Unit::Inch, 4.3770)
        .limit("piston-clearance", LimitKind::Absolute, Unit::Thou, 4.0, 6.0)
        .read("bore-top-thrust@cylinder.0.0", "4.3775");
    let clearance = bench.finding("piston-clearance@cylinder.0.0");
    is_missing(&clearance, "piston skirt of cylinder 1; its target stands in");
    close(value(&clearance), 5.0 * THOU, 1e-12);
    assert!(clearance.band.is_some(), "the limit is shown beside it");
    let skirt = bench.finding("skirt-diameter@cylinder.0.0");
    is_missing(&skirt, "skirt of cylinder 1");
    assert!(skirt.value.is_none());
    is_missing(&bench.finding("bore-size@cylinder.0.1"), "bore of cylinder 2");
    is_missing(&bench.finding("piston-clearance@cylinder.0.1"), "bore of cylinder 2");
}

#[test]
fn a_measured_skirt_takes_the_targets_place() {
    let bench = Bench::inch()
        .target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.3725)
        .reads(&[("bore-top-thrust@cylinder.0.0", "4.3775"), ("skirt@cylinder.0.0", "4.3721")]);
    let clearance = bench.finding("piston-clearance@cylinder.0.0");
    assert_eq!(clearance.basis, Basis::Readings);
    close(value(&clearance), 5.4 * THOU, 1e-12);
}
