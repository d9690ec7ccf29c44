//! Rod bearings by hand: journals of shared and single pins, and routes that disagree.

use witnessmark::engine::{Architecture, Layout, Pins, TargetFeature};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::Standing;

use crate::bench::{Bench, THOU, close, is_missing, verdict};

fn vee(pins: Pins) -> Bench {
    let mut bench = Bench::inch();
    let vee = Architecture::new(Layout::Vee, 6, 4, vec![], vec![]).expect("a vee six");
    bench.setup.architecture = vee.with_pins(pins);
    bench
}

/// Shells in 2.1023 less the journal of the third throw, 2.0999: 2.4 thou, for the rods of both banks.
#[test]
fn both_rods_of_a_shared_pin_run_on_its_journal() {
    let bench = vee(Pins::Shared).reads(&[
        ("rod-journal-front-0@throw.2", "2.0999"),
        ("rod-shell-bore-vertical@cylinder.0.2", "2.1023"),
        ("rod-shell-bore-vertical@cylinder.1.2", "2.1024"),
    ]);
    close(bench.value("rod-clearance-vertical@cylinder.0.2"), 2.4 * THOU, 1e-12);
    close(bench.value("rod-clearance-vertical@cylinder.1.2"), 2.5 * THOU, 1e-12);
    is_missing(&bench.finding("rod-clearance-vertical@cylinder.0.0"), "clearance of cylinder 1");
}

/// On single pins of a vee the pins stand bank by bank in turn: the second bank's first rod runs on the second pin.
#[test]
fn a_rod_of_its_own_pin_runs_on_no_other() {
    let bench = vee(Pins::Single)
        .reads(&[("rod-journal-front-0@throw.1", "2.0999"), ("rod-shell-bore-vertical@cylinder.1.0", "2.1023")]);
    close(bench.value("rod-clearance-vertical@cylinder.1.0"), 2.4 * THOU, 1e-12);
    let other = bench.read("rod-shell-bore-vertical@cylinder.0.0", "2.1023");
    is_missing(&other.finding("rod-clearance-vertical@cylinder.0.0"), "clearance of cylinder 1");
}

/// 2.2500 − 0.0742 − 0.0742 − 2.0999 = 0.0017 in; 1.7 thou on 2.0999 in are 0.81 thou/in.
#[test]
fn big_end_and_shells_give_the_clearance_and_its_ratio() {
    let bench = Bench::inch().reads(&[
        ("rod-journal-front-0@throw.0", "2.0999"),
        ("rod-housing-vertical@cylinder.0.0", "2.2500"),
        ("rod-shell-wall-upper@cylinder.0.0", "0.0742"),
        ("rod-shell-wall-lower@cylinder.0.0", "0.0742"),
    ]);
    close(bench.value("rod-clearance-vertical@cylinder.0.0"), 1.7 * THOU, 1e-11);
    close(bench.value("rod-clearance-per-diameter@cylinder.0.0"), 1.7e-3 / 2.0999, 1e-9);
}

#[test]
fn one_word_speaks_for_all_rods() {
    let bench = Bench::inch().read("rod-clearance@cylinders", "2.0 to 2.4 thou").limit(
        "rod-clearance-vertical",
        witnessmark::engine::LimitKind::Absolute,
        Unit::Thou,
        1.8,
        2.5,
    );
    assert_eq!(verdict(&bench.finding("rod-clearance-vertical@cylinder.0.3")), Verdict::Good);
    let checked = Bench::inch().checked("rod-clearance@cylinders", "strip, all alike");
    assert_eq!(checked.finding("rod-clearance-vertical@cylinder.0.3").standing(), Standing::Checked);
}

/// Every rod is a thou looser by its housing than with shells in: 2.2510 − 2 × 0.0742 − 2.0999 = 2.7 thou, shells in 2.1016:
/// 1.7 thou.
fn off_alike(rods: u8) -> Bench {
    (0..rods).fold(Bench::inch(), |bench, index| {
        bench
            .read(&format!("rod-journal-front-0@throw.{index}"), "2.0999")
            .read(&format!("rod-housing-vertical@cylinder.0.{index}"), "2.2510")
            .read(&format!("rod-shell-wall-upper@cylinder.0.{index}"), "0.0742")
            .read(&format!("rod-shell-wall-lower@cylinder.0.{index}"), "0.0742")
            .read(&format!("rod-shell-bore-vertical@cylinder.0.{index}"), "2.1016")
    })
}

#[test]
fn routes_that_are_all_off_alike_point_to_zero_or_torque() {
    let routes = off_alike(4).finding("rod-routes@cylinder.0.1");
    assert_eq!(routes.standing(), Standing::Out);
    assert!(
        routes.remarks.iter().any(|said| said.contains("all bearings are off alike, by 1.0\u{a0}thou")),
        "{routes:?}"
    );
}

#[test]
fn twice_a_wall_points_to_other_shells() {
    let other = off_alike(1).target(TargetFeature::RodShellWall, "cylinders", Unit::Inch, 0.0747);
    let routes = other.finding("rod-routes@cylinder.0.0");
    assert!(routes.remarks.iter().any(|said| said.contains("off by twice 0.5\u{a0}thou")), "{routes:?}");
    let alone = off_alike(1).finding("rod-routes@cylinder.0.0");
    assert!(!alone.remarks.iter().any(|said| said.contains("off by twice")), "no wall is counted on");
}
