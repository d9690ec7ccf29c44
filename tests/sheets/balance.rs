//! Weights and balance by hand: what goes up and down, what turns, bobweights, what the balancer may leave.

use witnessmark::engine::{Architecture, Layout, Pins, TargetFeature};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Finding, Standing};

use crate::bench::{Bench, close, is_missing, value};

const GRAM: f64 = 1e-3;
const GRAM_MM: f64 = 1e-6;
const BOBWEIGHT: &str = "bobweight@throw.0";

fn engine(layout: Layout, cylinders: u8) -> Bench {
    let mut bench = Bench::millimetre();
    bench.setup.architecture = Architecture::new(layout, cylinders, 5, vec![], vec![]).expect("an engine");
    bench
}

/// Piston 430, pin 120, rings 38, locks 3, small end 180, big end 420, shells 44 g: the same for all.
fn stated(bench: Bench) -> Bench {
    let masses = [
        ("piston", "430.0"),
        ("pin", "120.0"),
        ("rings", "38.0"),
        ("locks", "3.0"),
        ("small-end", "180.0"),
        ("big-end", "420.0"),
        ("rod-shells", "44.0"),
    ];
    masses.iter().fold(bench, |bench, (part, typed)| bench.read(&format!("weight-{part}-stated@cylinders"), typed))
}

fn with(bench: Bench, factor: f64, oil: f64) -> Bench {
    bench.target(TargetFeature::BalanceFactor, "engine", Unit::One, factor).target(
        TargetFeature::OilMass,
        "engine",
        Unit::Gram,
        oil,
    )
}

/// C12-2: reciprocating 771, rotating 464; on a throw of two rods with 4 g of oil 928 + 0.5·1542 + 4 = 1703, at 0.52 1733.84 g.
/// Worked independently; not published.
#[test]
fn a_throw_of_two_rods() {
    let vee = stated(engine(Layout::Vee, 8));
    let half = with(vee.clone(), 0.5, 4.0);
    close(half.value("reciprocating@cylinder.0.0"), 771.0 * GRAM, 1e-12);
    close(half.value("rotating@cylinder.1.3"), 464.0 * GRAM, 1e-12);
    let bobweight = half.finding(BOBWEIGHT);
    close(value(&bobweight), 1703.0 * GRAM, 1e-12);
    assert_eq!(bobweight.basis, Basis::Stated);
    assert_eq!(
        bobweight.working,
        ["rotating (464.0 + 464.0) + 0.500 × reciprocating (771.0 + 771.0) + oil 4.0 = 1703.0\u{a0}g"]
    );
    close(with(vee, 0.52, 4.0).value("bobweight@throw.3"), 1733.84 * GRAM, 1e-12);
    assert!(half.find("bobweight@throw.4").is_none(), "eight rods on four pins");
}

/// One rod on a throw: 464 + 0.5·771 + 4 = 853.5; without a share of what goes up and down 468 g. A vee of split pins likewise.
#[test]
fn a_throw_of_one_rod() {
    for layout in [Layout::Inline, Layout::Opposed] {
        let bench = stated(engine(layout, 2));
        close(with(bench.clone(), 0.5, 4.0).value("bobweight@throw.1"), 853.5 * GRAM, 1e-12);
        close(with(bench, 0.0, 4.0).value("bobweight@throw.1"), 468.0 * GRAM, 1e-12);
    }
    close(with(stated(engine(Layout::Inline, 1)), 0.5, 4.0).value(BOBWEIGHT), 853.5 * GRAM, 1e-12);
    let mut split = with(stated(engine(Layout::Vee, 6)), 0.5, 4.0);
    split.setup.architecture = split.setup.architecture.with_pins(Pins::Single);
    close(split.value("bobweight@throw.5"), 853.5 * GRAM, 1e-12);
}

/// Each weighed to 0.1 g by one scale, 0.1 g by itself and 0.1 g by its zero, set once for the pistons and once for the rods:
/// √(5·(0.1² + 0.1²/12) + (4·0.1)² + 0.1²) g.
#[test]
fn parts_weighed_by_themselves() {
    let parts = [("piston", "430.0"), ("pin", "120.0"), ("rings", "38.0"), ("locks", "3.0"), ("small-end", "180.0")];
    let bench = parts.iter().fold(engine(Layout::Inline, 4), |bench, (part, typed)| {
        bench.read(&format!("weight-{part}@cylinder.0.2"), typed)
    });
    let found = bench.finding("reciprocating@cylinder.0.2");
    assert_eq!(found.basis, Basis::Readings);
    assert_eq!(found.working, ["piston 430.0 + pin 120.0 + rings 38.0 + locks 3.0 + small end 180.0 = 771.0\u{a0}g"]);
    let own = 0.01 + 0.01 / 12.0;
    close(bench.u("reciprocating@cylinder.0.2"), (5.0 * own + 0.16 + 0.01_f64).sqrt() * GRAM, 1e-9);
    is_missing(&bench.finding("rotating@cylinder.0.2"), "big end of cylinder 3, shells of cylinder 3");
    // What is weighed by itself goes before what is stated for all.
    let both = stated(bench).read("weight-piston@cylinder.0.2", "432.0");
    close(both.value("reciprocating@cylinder.0.2"), 772.0 * GRAM, 1e-12);
    close(both.value("reciprocating@cylinder.0.1"), 771.0 * GRAM, 1e-12);
}

/// 430.6 − 429.9 = 0.7 g; one piston alone has nothing to differ from.
#[test]
fn the_heaviest_less_the_lightest() {
    let one = engine(Layout::Inline, 4).read("weight-piston@cylinder.0.0", "430.6");
    assert!(one.find("weight-spread-piston@cylinders").is_none());
    let spread = one
        .reads(&[("weight-piston@cylinder.0.1", "429.9"), ("weight-piston@cylinder.0.3", "430.0")])
        .finding("weight-spread-piston@cylinders");
    close(value(&spread), 0.7 * GRAM, 1e-12);
    assert_eq!(spread.working, ["cylinder 1 430.6\u{a0}g − cylinder 2 429.9\u{a0}g = 0.7\u{a0}g"]);
}

/// Pins stated as 119.0 to 121.0 g: 770 to 772, and half of two such in a bobweight: 1702 to 1704 g.
#[test]
fn a_range_goes_through() {
    let bench = with(stated(engine(Layout::Vee, 8)), 0.5, 4.0).read("weight-pin-stated@cylinders", "119.0 to 121.0");
    let ends = |finding: &Finding, low: f64, high: f64| {
        let (least, greatest) = finding.range.expect("a range");
        close(least, low * GRAM, 1e-12);
        close(greatest, high * GRAM, 1e-12);
    };
    ends(&bench.finding("reciprocating@cylinder.0.0"), 770.0, 772.0);
    ends(&bench.finding(BOBWEIGHT), 1702.0, 1704.0);
}

/// Neither factor nor oil is adopted unasked; what is common is said, by the layout.
#[test]
fn what_is_common_is_offered_and_not_adopted() {
    let offered = |bench: Bench, usual: &str| {
        let bobweight = bench.finding(BOBWEIGHT);
        is_missing(&bobweight, "balance factor, oil counted in a bobweight");
        assert!(bobweight.value.is_none());
        let said = format!("balance factor: common practice, no source: {usual}");
        assert!(bobweight.remarks[0].starts_with(&said), "{:?}", bobweight.remarks);
        assert_eq!(bobweight.remarks[1], "oil: common practice, no source: 3 to 5 g for a throw");
    };
    offered(stated(engine(Layout::Vee, 8)), "0.5");
    offered(stated(engine(Layout::Inline, 4)), "0,");
    offered(stated(engine(Layout::Opposed, 6)), "0,");
    offered(stated(engine(Layout::Inline, 3)), "0.5");
    let without_oil = stated(engine(Layout::Vee, 8)).target(TargetFeature::BalanceFactor, "engine", Unit::One, 0.5);
    assert_eq!(without_oil.finding(BOBWEIGHT).remarks.len(), 1);
    let without_shells = {
        let mut bench = with(stated(engine(Layout::Vee, 8)), 0.5, 4.0);
        bench.takes.retain(|(key, _)| !key.to_string().starts_with("weight-rod-shells"));
        bench.finding(BOBWEIGHT)
    };
    is_missing(&without_shells, "shells of cylinder 1, shells of cylinder 2");
    assert!(without_shells.remarks.is_empty());
}

#[test]
fn what_cannot_be_or_was_only_checked_gives_no_bobweight() {
    let no_figure = |bench: Bench, says: &str| {
        let bobweight = bench.finding(BOBWEIGHT);
        assert_eq!(bobweight.standing(), Standing::NoFigure);
        let said = format!("{:?}", bobweight.basis);
        assert!(said.contains(says), "{said}");
    };
    no_figure(with(stated(engine(Layout::Vee, 8)), 1.4, 4.0), "balance factor 1.400");
    let checked = with(stated(engine(Layout::Vee, 8)), 0.5, 4.0).checked("weight-pin-stated@cylinders", "one batch");
    no_figure(checked, "pin of cylinder 1 was checked good");
}

/// C12-4, C12-5, C12-6: a rotor of 22 kg at 6500 rpm may be left with 203.62039, 80.80174, 517.13114 g·mm by G 6.3, 2.5 and 16:
/// half in each plane.
#[test]
fn what_each_plane_may_be_left_with() {
    for (grade, whole) in [(6.3, 203.620_39), (2.5, 80.801_74), (16.0, 517.131_14)] {
        let bench = engine(Layout::Inline, 4).target(TargetFeature::BalanceGrade, "engine", Unit::One, grade).target(
            TargetFeature::CrankMass,
            "engine",
            Unit::Gram,
            22_000.0,
        );
        is_missing(&bench.finding("permissible-residual@engine"), "highest speed");
        let bench = bench.target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 6500.0);
        close(bench.value("permissible-residual@engine"), whole / 2.0 * GRAM_MM, 1e-11);
        let left = |typed: &str| bench.clone().read("residual-front@engine", typed).finding("residual-front@engine");
        let (least, most) = (whole / 2.0 - 1.0, whole / 2.0 + 1.0);
        assert!(left(&format!("{least:.1} g·mm")).remarks[0].starts_with("within the "));
        assert!(left(&format!("{most:.1} g·mm")).remarks[0].starts_with("above the "));
    }
    assert!(engine(Layout::Inline, 4).find("permissible-residual@engine").is_none(), "nothing is asked of it");
    let nothing = engine(Layout::Inline, 4)
        .target(TargetFeature::BalanceGrade, "engine", Unit::One, 16.0)
        .target(TargetFeature::CrankMass, "engine", Unit::Gram, 0.0)
        .target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 6500.0);
    assert_eq!(nothing.finding("permissible-residual@engine").standing(), Standing::NoFigure);
}

/// C12-7: 400 g·mm at 6500 rpm pull with 185.32924 N. As read; without a grade nothing is compared.
#[test]
fn what_is_left_as_read() {
    let bench = engine(Layout::Vee, 8)
        .target(TargetFeature::HighestSpeed, "engine", Unit::RevolutionPerMinute, 6500.0)
        .read("residual-rear@engine", "400 g·mm");
    let left = bench.finding("residual-rear@engine");
    close(value(&left), 400.0 * GRAM_MM, 1e-15);
    assert_eq!(left.working, ["rear plane 400\u{a0}g·mm", "at 6500\u{a0}rpm it pulls with 185\u{a0}N"]);
    assert!(left.remarks.is_empty());
    assert!(bench.find("residual-front@engine").is_none());
    let ounces = Bench::inch().read("residual-front@engine", "0.5").finding("residual-front@engine");
    close(value(&ounces), 0.5 * 720.077_887 * GRAM_MM, 1e-12);
}
