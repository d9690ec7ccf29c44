//! Crush of shells by hand: CHECKS C05, δ = s/π and σ = E·s/(π·D).

use witnessmark::engine::{LimitKind, TargetFeature as T};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, MICROMETRE, THOU, close, is_missing, verdict};

fn metric() -> Bench {
    Bench::millimetre().target(T::MainHousing, "mains", Unit::Millimetre, 70.0).target(
        T::MainShellWall,
        "mains",
        Unit::Millimetre,
        2.4,
    )
}

/// 20 + 30 = 50 µm: 50/π = 15.915 µm; 207,000 N/mm² × 0.05/(π × 70) = 47.06 N/mm², and 2 × 47.06 × 2.4/70 = 3.23 N/mm² on the
/// housing.
#[test]
fn both_halves_add_up() {
    let bench = metric()
        .reads(&[("main-shell-proud-upper@main.0", "20"), ("main-shell-proud-lower@main.0", "30")])
        .limit("main-crush", LimitKind::Absolute, Unit::Micrometre, 60.0, 90.0);
    close(bench.value("main-crush@main.0"), 50.0 * MICROMETRE, 1e-12);
    assert_eq!(verdict(&bench.finding("main-crush@main.0")), Verdict::Out);
    let held = bench.finding("main-crush-interference@main.0");
    close(bench.value("main-crush-interference@main.0"), 15.915_49 * MICROMETRE, 1e-10);
    assert!(held.working[1].contains("47.1\u{a0}MPa") && held.working[1].contains("3.2\u{a0}MPa"), "{held:?}");
    assert!(held.remarks[0].contains("less than 16\u{a0}µm"), "{held:?}");
    // An indicator's zero is shared by both: u is more than √2 of one reading's own.
    assert!(bench.u("main-crush@main.0") > 0.0);
}

/// One half is doubled; a gap alone is the whole; both stand beside each other.
#[test]
fn one_half_or_the_gap_speaks_for_the_pair() {
    let bench = Bench::inch().read("rod-shell-proud-lower@cylinder.0.2", "1.1");
    close(bench.value("rod-crush@cylinder.0.2"), 2.2 * THOU, 1e-12);
    assert!(bench.finding("rod-crush@cylinder.0.2").remarks.contains(&"one half speaks for both".to_owned()));
    is_missing(&bench.finding("rod-crush-interference@cylinder.0.2"), "size of the housing, size of the shells");
    let gap = Bench::inch().read("rod-crush-gap@cylinder.0.2", "2");
    close(gap.value("rod-crush@cylinder.0.2"), 2.0 * THOU, 1e-12);
    let both = bench.read("rod-crush-gap@cylinder.0.2", "2");
    close(both.value("rod-crush@cylinder.0.2"), 2.2 * THOU, 1e-12);
    assert!(
        both.finding("rod-crush@cylinder.0.2").remarks.iter().any(|said| said.contains("by the gap at the joint: 2.0"))
    );
    assert!(Bench::inch().find("rod-crush@cylinder.0.2").is_none());
}

/// Shells below the joint are loose; a millimetre of each is no crush; 0.3 mm on 70 would stay bent: 207,000 N/mm² × 0.3/(π × 70) =
/// 282 N/mm².
#[test]
fn what_does_not_hold_is_said() {
    let of = |upper: &str, lower: &str| {
        metric().reads(&[("main-shell-proud-upper@main.1", upper), ("main-shell-proud-lower@main.1", lower)])
    };
    let loose = of("-30 µm", "10");
    close(loose.value("main-crush@main.1"), -20.0 * MICROMETRE, 1e-12);
    let held = loose.finding("main-crush-interference@main.1");
    assert!(matches!(&held.basis, Basis::NoFigure { because } if because.contains("loose")), "{held:?}");
    let small = Bench::millimetre()
        .target(T::MainHousing, "mains", Unit::Millimetre, 20.0)
        .target(T::MainShellWall, "mains", Unit::Millimetre, 1.0)
        .reads(&[("main-shell-proud-upper@main.1", "900"), ("main-shell-proud-lower@main.1", "900")]);
    assert_eq!(small.finding("main-crush-interference@main.1").standing(), Standing::NoFigure);
    let bent = of("150", "150").finding("main-crush-interference@main.1");
    assert!(bent.remarks.iter().any(|said| said.contains("would not spring back")), "{bent:?}");
}
