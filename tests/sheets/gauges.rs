//! What is known of gauges, and what follows: shared errors, repeated takes, what would settle a figure, what is too coarse.

use witnessmark::engine::{LimitKind, SheetKey, SlotKey};
use witnessmark::metrology::{GaugeKind, GaugeSet, KnownGauge, Source};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Coarse, Take, coarse, coarse_gauges};

use crate::bench::{Bench, MICROMETRE, TENTH, THOU, close};

const DIRECT: &str = "main-clearance-vertical@main.0";

fn gauge(name: &str, kind: GaugeKind) -> KnownGauge {
    KnownGauge { name: name.into(), id: Some(name.into()), ..KnownGauge::of_kind(kind) }
}

/// A bore gauge zeroed in the micrometer that reads the journal: what the micrometer is off by is in both, and goes.
#[test]
fn a_master_cancels_in_a_clearance() {
    let micrometer =
        KnownGauge { permissible_error: Some(4.0 * MICROMETRE), ..gauge("micrometer", GaugeKind::OutsideMicrometer) };
    let zeroed_in = |master: Option<KnownGauge>| GaugeSet { id: "morning".into(), master: master.map(Box::new) };
    let clearance = |master: Option<KnownGauge>| {
        let journal = |take: &mut Take| take.gauge = Some(micrometer.clone());
        let bore = |take: &mut Take| {
            take.gauge = Some(gauge("bore gauge", GaugeKind::BoreGauge));
            take.setting = Some(zeroed_in(master.clone()));
        };
        Bench::millimetre()
            .read_with("main-journal-front-0@main.0", "60.070", journal)
            .read_with("main-shell-bore-vertical@main.0", "60.114", bore)
            .finding(DIRECT)
    };
    let (apart, shared) = (clearance(None), clearance(Some(micrometer.clone())));
    let scale = |finding: &witnessmark::sheets::Finding| {
        let value = finding.value.as_ref().expect("a value");
        value.parts().get(&Source::Gauge("micrometer".into())).copied().unwrap_or_default().abs()
    };
    close(scale(&apart), 4.0 * MICROMETRE / 3.0_f64.sqrt(), 1e-12);
    close(scale(&shared), 0.0, 1e-15);
    assert!(apart.budget.contains("error of micrometer"), "{}", apart.budget);
}

/// Three takes at each of three mains, scattering by 0.1 thou either way: s² = 0.01 thou² with two degrees of freedom each.
#[test]
fn repeated_takes_tell_how_a_gauge_repeats() {
    let mut bench = Bench::inch();
    for main in ["main.0", "main.1", "main.2"] {
        for typed in ["2.4", "2.5", "2.6"] {
            bench = bench.read(&format!("main-clearance-vertical@{main}"), typed);
        }
    }
    let value = bench.finding(DIRECT).value.expect("a value");
    let own = (0.1 * THOU).hypot(TENTH / 12.0_f64.sqrt()) / 3.0_f64.sqrt();
    close(value.u(), own.hypot(1.5 * MICROMETRE), 1e-11);
    // All of it rests on one s with 6 degrees of freedom: u⁴ / ((s²/3)²/6).
    let freedom = value.effective_freedom().expect("found in few readings");
    close(freedom, 6.0 * value.u().powi(4) / ((0.1 * THOU).powi(2) / 3.0).powi(2), 1e-3);
    let twice = Bench::inch().read(DIRECT, "2.4").read(DIRECT, "2.6");
    assert_eq!(twice.finding(DIRECT).value.expect("a value").effective_freedom(), None, "two takes tell too little");
}

/// 2.05 thou with at least 2.0: the limit is 0.05 thou away, and U = 2·√(1.493² + 1.5²) µm = 4.2 µm. With the setting's
/// 1.5 µm alone U would still be 3 µm: nothing that is read once more settles it.
#[test]
fn a_figure_too_near_its_limit_says_that_nothing_settles_it() {
    let bench = Bench::inch().limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 3.0);
    let near = bench.clone().read(DIRECT, "2.05").finding(DIRECT);
    assert!(near.judgement.expect("judged").on_the_line);
    assert!(near.remarks.iter().any(|remark| remark.starts_with("no single reading would settle it")), "{near:?}");
    // Φ(1.27 µm / 2.002 µm): typed to 0.01 thou, its rounding counts for nothing.
    assert!(near.working.iter().any(|line| line == "probability of conformity 74 %"), "{:?}", near.working);
    let inside = bench.read(DIRECT, "2.5").finding(DIRECT);
    assert!(inside.remarks.is_empty() && inside.working.len() == 1, "{inside:?}");
}

/// 2.13 thou: 3.302 µm away, so u may be 1.651 µm; with the setting's 1.5 µm that leaves 0.690 µm to the reading, which is
/// 1.4925 µm now: (1.4925/0.690)² = 4.7, five times as often.
#[test]
fn the_one_reading_that_would_settle_it_is_named() {
    let bench = Bench::inch().limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 3.0);
    let said = bench.read_with(DIRECT, "2.13", |take| take.resolution = TENTH).finding(DIRECT).remarks;
    assert_eq!(said, ["would settle it: main 1, clearance, vertical, read 5 times as often"]);
}

#[test]
fn a_gauge_past_its_date_is_named_on_what_rests_on_it() {
    let overdue = |take: &mut Take| {
        take.gauge = Some(gauge("old bore gauge", GaugeKind::BoreGauge));
        take.past_due = true;
    };
    let bench = Bench::inch().read_with(DIRECT, "2.5", overdue).read("main-clearance-vertical@main.1", "2.5");
    assert_eq!(bench.finding(DIRECT).remarks, ["old bore gauge was past its date of calibration"]);
    assert!(bench.finding("main-clearance-vertical@main.1").remarks.is_empty());
    let spread = bench.finding("main-clearance-spread@mains").remarks;
    assert!(spread.iter().any(|remark| remark.starts_with("old bore gauge")), "{spread:?}");
}

#[test]
fn a_step_is_held_against_the_tightest_limit_it_feeds() {
    let bench = Bench::inch().limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 3.0).limit(
        "bore-taper",
        LimitKind::Absolute,
        Unit::Thou,
        0.0,
        0.5,
    );
    let book = bench.book();
    let at = |slot: &str, step: f64| coarse(&book, &SlotKey::parse(slot), step);
    assert_eq!(at(DIRECT, TENTH), Coarse::Fine, "a tenth of a thou of one thou");
    assert!(matches!(at(DIRECT, 0.11 * THOU), Coarse::Coarse { tolerance } if (tolerance - THOU).abs() < 1e-12));
    assert!(matches!(at(DIRECT, THOU), Coarse::Coarse { .. }), "as wide as the tolerance");
    assert!(matches!(at(DIRECT, 1.01 * THOU), Coarse::Useless { .. }));
    assert!(
        matches!(at("main-journal-front-0@main.0", 0.2 * THOU), Coarse::Coarse { .. }),
        "a journal feeds the clearance"
    );
    let taper = at("bore-top-thrust@cylinder.0.0", 0.1 * THOU);
    assert!(matches!(taper, Coarse::Coarse { tolerance } if (tolerance - 0.5 * THOU).abs() < 1e-12), "{taper:?}");
    assert_eq!(at("skirt@cylinder.0.0", THOU), Coarse::Fine, "nothing it feeds has a limit");
}

/// A limit of one thou by a journal of 2 in and 0.5 thou/in: rod journals and big ends feed it. Gaps of 16 to 20 thou take a feeler of one.
#[test]
fn rods_and_rings_have_what_they_feed() {
    let bench = Bench::inch()
        .target(witnessmark::engine::TargetFeature::RodJournal, "throws", Unit::Inch, 2.0)
        .limit("rod-clearance-vertical", LimitKind::PerDiameter, Unit::ThouPerInch, 0.75, 1.25)
        .limit("ring-gap-top", LimitKind::Absolute, Unit::Thou, 16.0, 20.0)
        .limit("pin-in-piston", LimitKind::Absolute, Unit::Thou, 0.3, 0.5);
    let book = bench.book();
    let at = |slot: &str, step: f64| coarse(&book, &SlotKey::parse(slot), step);
    for slot in
        ["rod-journal-rear-90@throw.1", "rod-housing-vertical@cylinder.0.1", "rod-clearance-vertical@cylinder.0.1"]
    {
        assert!(
            matches!(at(slot, 0.2 * THOU), Coarse::Coarse { tolerance } if (tolerance - THOU).abs() < 1e-9),
            "{slot}"
        );
    }
    assert!(matches!(at("ring-gap-top@cylinder.0.1", THOU), Coarse::Coarse { .. }));
    assert_eq!(at("ring-gap-second@cylinder.0.1", THOU), Coarse::Fine);
    assert!(matches!(at("pin@cylinder.0.1", THOU), Coarse::Useless { .. }));
}

#[test]
fn a_coarse_gauge_is_named_once_and_counts_by_its_own_step() {
    let rough = KnownGauge { resolution: Some(0.5 * THOU), ..gauge("rough dial", GaugeKind::BoreGauge) };
    let with = |take: &mut Take| take.gauge = Some(rough.clone());
    let bench = Bench::inch()
        .limit("main-clearance-vertical", LimitKind::Absolute, Unit::Thou, 2.0, 3.0)
        .read_with(DIRECT, "2.50", with)
        .read_with("main-clearance-vertical@main.1", "2.50", with);
    let said = coarse_gauges(&bench.book(), SheetKey::MainBearings);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("rough dial was read to 0.5\u{a0}thou"), "{said:?}");
    assert!(coarse_gauges(&bench.book(), SheetKey::CylinderBores).is_empty());
    let reading = (1.3 * MICROMETRE).hypot(0.5 * THOU / 12.0_f64.sqrt());
    close(bench.finding(DIRECT).value.expect("a value").u(), reading.hypot(1.5 * MICROMETRE), 1e-11);
}
