//! Bearings in the heat by hand, with the coefficients of their materials.

use witnessmark::engine::{LimitKind, SheetKey, TargetFeature};
use witnessmark::metrology::{Expansion, Material};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Standing, clearance_over_temperature};

use crate::bench::{Bench, MICROMETRE, at, close, is_missing};

const HOT: &str = "main-clearance-hot@main.0";

/// The engine of the worked case: housing 70 mm, walls 2.4 mm, journal 65.14 mm, cold clearance 60 µm.
fn main(block: Material) -> Bench {
    let mut bench = Bench::millimetre()
        .target(TargetFeature::MainHousing, "mains", Unit::Millimetre, 70.0)
        .target(TargetFeature::MainShellWall, "mains", Unit::Millimetre, 2.4)
        .target(TargetFeature::MainJournal, "mains", Unit::Millimetre, 65.14)
        .target(TargetFeature::HousingWarmer, "engine", Unit::Kelvin, 80.0)
        .target(TargetFeature::JournalWarmer, "engine", Unit::Kelvin, 90.0)
        .read("main-clearance-vertical@main.0", "60 µm");
    bench.setup.materials.block = Some(block);
    bench.setup.materials.crank = Some(Material::AlloySteel);
    let exactly = |per_kelvin: f64| Expansion { per_kelvin, span: (per_kelvin, per_kelvin), source: "the case".into() };
    bench.setup.expansions.insert(Material::CastAluminium, exactly(21.5e-6));
    bench.setup.expansions.insert(Material::Magnesium, exactly(26.0e-6));
    bench.setup.expansions.insert(Material::AlloySteel, exactly(12.3e-6));
    bench.setup.expansions.insert(Material::CarbonSteel, exactly(11.7e-6));
    bench
}

/// 60 + 70·21.5·0.08 − 4.8·11.7·0.08 − 65.14·12.3·0.09 = 103.797 µm, of magnesium 128.997; coefficients of 356, magnesium, plain
/// and 4140 steel as read in Callister, table B.6; the case worked independently.
#[test]
fn an_aluminium_block_opens_and_magnesium_more() {
    close(main(Material::CastAluminium).value(HOT), 103.797_22 * MICROMETRE, 1e-11);
    close(main(Material::Magnesium).value(HOT), 128.997_22 * MICROMETRE, 1e-11);
}

/// A steel cap holds its half back: 70/2·(21.5 − 12.3)·0.08 = 25.8 µm less.
#[test]
fn a_steel_cap_holds_half_of_it_back() {
    let mut bench = main(Material::CastAluminium);
    let alike = bench.value(HOT);
    assert!(!bench.finding(HOT).working[0].contains("cap"));
    bench.setup.materials.caps = Some(Material::AlloySteel);
    assert!(
        bench.finding(HOT).working[0]
            .contains("housing of cast aluminium with a cap of alloy steel 80.0\u{a0}K warmer")
    );
    close(alike - bench.value(HOT), 35.0 * (21.5 - 12.3) * 0.08 * MICROMETRE, 1e-12);
}

/// All parts at −20 °C: 60 − (70·21.5 − 4.8·11.7 − 65.14·12.3)·0.04 = 34.1 µm, shown as 34.
#[test]
fn the_coldest_start_and_the_cold_figure_for_a_hot_one_are_said() {
    let bench = main(Material::CastAluminium).target(TargetFeature::LowestStart, "engine", Unit::Celsius, -20.0).limit(
        "main-clearance-hot",
        LimitKind::Absolute,
        Unit::Micrometre,
        80.0,
        100.0,
    );
    let hot = bench.finding(HOT);
    assert_eq!(hot.standing(), Standing::Out);
    let said = hot.remarks.join("; ");
    assert!(said.contains("34\u{a0}µm at a start at −20.0\u{a0}°C"), "{said}");
    // 80 and 100 less the 43.8 that the heat opens it by.
    assert!(said.contains("to be so hot: 36\u{a0}µm to 56\u{a0}µm cold"), "{said}");
}

#[test]
fn what_is_not_known_is_named_and_nothing_is_asked_of_who_says_no_temperature() {
    let mut bench = main(Material::CastAluminium);
    bench.setup.materials.block = None;
    is_missing(&bench.finding(HOT), "the block’s material");
    let quiet = Bench::millimetre().read("main-clearance-vertical@main.0", "60 µm");
    assert!(quiet.find(HOT).is_none());
}

/// Ten kelvin either way of an estimated rise, rectangular: 5.77 K on 70·21.5 − 4.8·11.7 nm/K is 8.3 µm of the housings' part.
#[test]
fn an_estimated_rise_makes_it_less_sure() {
    let bench = main(Material::CastAluminium);
    assert!(bench.u(HOT) > 8.0 * MICROMETRE && bench.u("main-clearance-vertical@main.0") < 3.0 * MICROMETRE);
}

/// From −20 °C (34.1 µm) over 20 °C (60 µm) to 100 °C at the housing (103.8 µm).
#[test]
fn the_curve_goes_from_the_coldest_start_to_hot() {
    let bench = main(Material::CastAluminium);
    let points = |bench: &Bench| {
        clearance_over_temperature(SheetKey::MainBearings, &bench.book(), at("main.0")).expect("told hot")
    };
    assert_eq!(points(&bench).len(), 2, "no start is colder than 20 °C");
    let cold = bench.clone().target(TargetFeature::LowestStart, "engine", Unit::Celsius, -20.0);
    let found = points(&cold);
    let expected = [(253.15, 34.1), (293.15, 60.0), (373.15, 103.8)];
    assert_eq!(found.len(), expected.len());
    for ((kelvin, clearance), (at_kelvin, micrometres)) in found.into_iter().zip(expected) {
        close(kelvin, at_kelvin, 1e-9);
        close(clearance, micrometres * MICROMETRE, 0.1 * MICROMETRE);
    }
    close(cold.value(HOT), points(&cold)[2].1, 1e-12);
    assert!(clearance_over_temperature(SheetKey::CylinderBores, &cold.book(), at("cylinder.0.0")).is_none());
}

/// A clearance stated as 50 to 70 µm is judged by its ends, hot as cold: 93.8 to 113.8.
#[test]
fn a_stated_range_stays_a_range_in_the_heat() {
    let bench = Bench { takes: Vec::new(), ..main(Material::CastAluminium) }
        .read("main-clearance@main.0", "50-70 µm")
        .limit("main-clearance-hot", LimitKind::Absolute, Unit::Micrometre, 80.0, 110.0);
    let hot = bench.finding(HOT);
    let (low, high) = hot.range.expect("a range");
    close(low, 93.797 * MICROMETRE, 0.1 * MICROMETRE);
    close(high, 113.797 * MICROMETRE, 0.1 * MICROMETRE);
    assert_eq!(hot.standing(), Standing::Out, "its upper end is");
}
