//! Limits: whose goes first, per journal diameter, guarded, and none at all.

use witnessmark::engine::LimitKind::{Absolute, PerDiameter};
use witnessmark::engine::TargetFeature;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::Standing;

use crate::bench::{Bench, THOU, close, verdict};

const CLEARANCE: &str = "main-clearance-vertical";
const NONE: f64 = f64::NAN;

fn absolute(bench: Bench, min: f64, max: f64) -> Bench {
    bench.limit(CLEARANCE, Absolute, Unit::Thou, min, max)
}

fn direct(bench: Bench, place: &str, thou: &str) -> Bench {
    bench.read(&format!("main-clearance-vertical@{place}"), thou)
}

#[track_caller]
fn stands(bench: &Bench, place: &str) -> Standing {
    bench.finding(&format!("{CLEARANCE}@{place}")).standing()
}

#[test]
fn without_a_limit_the_figure_stands() {
    let bench = direct(Bench::inch(), "main.0", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::Figure);
    assert!(bench.finding("main-clearance-vertical@main.0").band.is_none());
}

/// A limit that was lifted stands in the list without figures.
#[test]
fn a_lifted_limit_judges_nothing() {
    let bench = direct(absolute(absolute(Bench::inch(), 2.0, 2.2), NONE, NONE), "main.0", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::Figure);
}

#[test]
fn at_the_limit_is_good() {
    let bench = direct(direct(absolute(Bench::inch(), 2.0, 2.5), "main.0", "2.5"), "main.1", "2.0");
    assert_eq!(stands(&bench, "main.0"), Standing::Good);
    assert_eq!(stands(&bench, "main.1"), Standing::Good);
}

#[test]
fn one_sided_limits() {
    let bench = direct(absolute(Bench::inch(), NONE, 2.4), "main.0", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::Out);
    let bench = direct(absolute(Bench::inch(), 2.4, NONE), "main.0", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::Good);
}

#[test]
fn a_places_own_limit_goes_first_and_of_equals_the_newest() {
    let bench = absolute(Bench::inch(), 2.0, 2.2)
        .limit_at(CLEARANCE, Some("main.4"), Absolute, Unit::Thou, 3.0, 4.0)
        .limit(CLEARANCE, Absolute, Unit::Thou, 2.4, 2.6);
    let bench = direct(direct(bench, "main.0", "2.5"), "main.4", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::Good, "the newer limit for all");
    assert_eq!(stands(&bench, "main.4"), Standing::Out, "its own, though older");
}

#[test]
fn a_limit_for_all_mains_by_name_is_one_for_every_main() {
    let bench = Bench::inch().limit_at(CLEARANCE, Some("mains"), Absolute, Unit::Thou, 2.0, 2.4);
    assert_eq!(stands(&direct(bench, "main.0", "2.5"), "main.0"), Standing::Out);
}

/// 0.75 to 1.0 thou per inch: on 2.5 in 1.875 to 2.5 thou, on 3.0 in 2.25 to 3.0 thou. Mains differ, and so do their limits.
#[test]
fn per_diameter_of_mains_that_differ() {
    let bench = Bench::inch()
        .target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.5)
        .target(TargetFeature::MainJournal, "main.4", Unit::Inch, 3.0)
        .limit(CLEARANCE, PerDiameter, Unit::ThouPerInch, 0.75, 1.0);
    let bench = direct(direct(bench, "main.0", "2.7"), "main.4", "2.7");
    assert_eq!(stands(&bench, "main.0"), Standing::Out);
    assert_eq!(stands(&bench, "main.4"), Standing::Good);
    let band = bench.finding("main-clearance-vertical@main.4").band.expect("a band");
    close(band.min().expect("lower"), 2.25 * THOU, 1e-12);
    close(band.max().expect("upper"), 3.0 * THOU, 1e-12);
}

#[test]
fn per_diameter_goes_by_the_measured_journal_before_its_target() {
    let bench = Bench::inch()
        .target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.5)
        .limit(CLEARANCE, PerDiameter, Unit::ThouPerInch, NONE, 1.0)
        .read("main-journal-front-0@main.0", "2.4000");
    let band = direct(bench, "main.0", "2.3").finding("main-clearance-vertical@main.0").band.expect("a band");
    close(band.max().expect("upper"), 2.4 * THOU, 1e-12);
}

#[test]
fn per_diameter_without_a_diameter_judges_nothing() {
    let bench = Bench::inch().limit(CLEARANCE, PerDiameter, Unit::ThouPerInch, 0.75, 1.0);
    assert_eq!(stands(&direct(bench, "main.0", "2.5"), "main.0"), Standing::Figure);
}

/// U of a direct clearance is 2 · 2.1 µm = 0.17 thou: within it of a limit nothing is claimed when guarded.
#[test]
fn guarded_says_on_the_line() {
    let bench = direct(absolute(Bench::inch().guarded(), 2.0, 2.6), "main.0", "2.5");
    assert_eq!(stands(&bench, "main.0"), Standing::OnTheLine);
    let simple = direct(absolute(Bench::inch(), 2.0, 2.6), "main.0", "2.5").finding("main-clearance-vertical@main.0");
    assert_eq!(simple.standing(), Standing::Good);
    assert!(simple.judgement.expect("judged").on_the_line, "told beside it");
    let clear = direct(absolute(Bench::inch().guarded(), 2.0, 2.8), "main.0", "2.5");
    assert_eq!(stands(&clear, "main.0"), Standing::Good);
}

/// A wide stated range near no limit is good when guarded: its width is not its ends' uncertainty.
#[test]
fn the_width_of_a_range_is_not_doubt_about_its_ends() {
    // Ends are good to U = 14.2 µm = 0.56 thou.
    let bench = absolute(Bench::inch().guarded(), 1.4, 3.6).read("main-clearance@mains", "2.0 to 3.0");
    assert_eq!(stands(&bench, "main.0"), Standing::Good);
}

#[test]
fn spread_and_shape_have_limits_of_their_own() {
    let bench = Bench::inch()
        .limit("main-clearance-spread", Absolute, Unit::Thou, NONE, 0.5)
        .limit("main-journal-out-of-round", Absolute, Unit::Tenth, NONE, 3.0)
        .limit("bore-taper", Absolute, Unit::Thou, NONE, 0.5)
        .limit("bore-spread", Absolute, Unit::Thou, NONE, 1.0)
        .limit("skirt-diameter", Absolute, Unit::Inch, 4.3720, 4.3730)
        .limit("main-clearance-per-diameter", Absolute, Unit::ThouPerInch, 0.7, 0.9)
        .reads(&[
            ("main-clearance-vertical@main.0", "2.5"),
            ("main-clearance-vertical@main.1", "3.2"),
            ("main-journal-front-0@main.0", "2.7480"),
            ("main-journal-front-90@main.0", "2.7476"),
            ("bore-top-thrust@cylinder.0.0", "4.3776"),
            ("bore-bottom-thrust@cylinder.0.0", "4.3770"),
            ("bore-top-thrust@cylinder.0.1", "4.3770"),
            ("skirt@cylinder.0.0", "4.3731"),
        ]);
    for (key, expected) in [
        ("main-clearance-spread@mains", Verdict::Out),
        ("main-journal-out-of-round@main.0", Verdict::Out),
        ("bore-taper@cylinder.0.0", Verdict::Out),
        ("bore-spread@cylinders", Verdict::Good),
        ("skirt-diameter@cylinder.0.0", Verdict::Out),
        // 2.5 / 2.748 = 0.9098.
        ("main-clearance-per-diameter@main.0", Verdict::Out),
    ] {
        assert_eq!(verdict(&bench.finding(key)), expected, "{key}");
    }
}
