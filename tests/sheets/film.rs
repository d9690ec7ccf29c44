//! Smallest film and power lost through the sheets: CHECKS C07 at a bearing's own clearance.

use witnessmark::engine::{FindingKey, Materials, SheetKey, TargetFeature as T};
use witnessmark::metrology::Material;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, MICROMETRE, close, is_missing, value};

/// An oil of 5.6833 mPa·s at 120 °C (C07-10), 10 kN at 6000 rpm on a journal of 65.14 mm in a bearing 20 mm long.
fn metric() -> Bench {
    Bench::millimetre()
        .target(T::MainJournal, "mains", Unit::Millimetre, 65.14)
        .target(T::MainLength, "mains", Unit::Millimetre, 20.0)
        .target(T::MainLoad, "mains", Unit::Kilonewton, 10.0)
        .target(T::LoadSpeed, "engine", Unit::RevolutionPerMinute, 6000.0)
        .target(T::OilAt40, "engine", Unit::One, 69.0)
        .target(T::OilAt100, "engine", Unit::One, 10.5)
        .target(T::OilDensity, "engine", Unit::One, 870.0)
        .target(T::OilTemperature, "engine", Unit::Celsius, 120.0)
}

/// C07-6: 3.935 µm at 60 µm of clearance, 4.044 at 47, 3.522 at 104, to 1 %, as their grid was coarser and the clearances are
/// rounded to a micrometre here.
#[test]
fn the_smallest_film_at_three_clearances() {
    for (clearance, film) in [("60", 3.935), ("47", 4.044), ("104", 3.522)] {
        let bench = metric().read("main-clearance-vertical@main.0", clearance);
        close(bench.value("main-film@main.0") / (film * MICROMETRE), 1.0, 0.01);
        let found = bench.finding("main-film@main.0");
        assert!(
            found.working[0].contains("cold clearance")
                && found.working[0].contains("5.68 mPa·s at 120.0\u{a0}°C (SAE 30")
        );
        assert!(found.remarks[0].contains("no promise"), "{:?}", found.remarks);
        assert!(found.value.as_ref().unwrap().u() > 0.0, "the clearance is uncertain, so the film is");
    }
}

/// C07-5 by Ocvirk: 5.0357 µm at 60 µm, 65 mm, 20 mm, 12 kN, 6000 rpm and 8 mPa·s, here 8/855.8625 = 9.3473 mm²/s at 40 °C;
/// by its length 4.3 µm.
#[test]
fn the_short_bearing_stands_beside_it() {
    let bench = metric()
        .target(T::MainJournal, "mains", Unit::Millimetre, 65.0)
        .target(T::MainLoad, "mains", Unit::Kilonewton, 12.0)
        .target(T::OilAt40, "engine", Unit::One, 8000.0 / 855.8625)
        .target(T::OilAt100, "engine", Unit::One, 2.6)
        .target(T::OilTemperature, "engine", Unit::Celsius, 40.0)
        .read("main-clearance-vertical@main.0", "60");
    close(bench.value("main-film@main.0"), 4.3 * MICROMETRE, 0.05 * MICROMETRE);
    assert_eq!(
        bench.finding("main-film@main.0").working[1],
        "as a short bearing, without regard to its length: 5.04\u{a0}µm"
    );
}

/// C07-4 in inches, on a rod: 1.5 in long and across, 3.0 thou, 500 lbf, 1800 rpm, 4 µreyn = 27.579 mPa·s: 0.000641 in. Friction
/// (r/c)·f = 3.4769: f = 3.4769 × 0.0015/0.75 = 0.0069538, so 0.0069538 × 500 lbf × 2π × 30/s × 0.75 in = 491.5 in·lbf/s, 0.0745 hp.
#[test]
fn a_rod_bearing_in_inches() {
    let viscosity = 4e-6 * 6_894.757_293;
    let bench = Bench::inch()
        .target(T::RodJournal, "throws", Unit::Inch, 1.5)
        .target(T::RodBearingLength, "cylinders", Unit::Inch, 1.5)
        .target(T::RodLoad, "cylinders", Unit::PoundForce, 500.0)
        .target(T::LoadSpeed, "engine", Unit::RevolutionPerMinute, 1800.0)
        .target(T::OilAt40, "engine", Unit::One, viscosity * 1e6 / 855.8625)
        .target(T::OilAt100, "engine", Unit::One, 5.4)
        .target(T::OilDensity, "engine", Unit::One, 870.0)
        .target(T::OilTemperature, "engine", Unit::Celsius, 40.0)
        .read("rod-clearance-vertical@cylinder.0.1", "3.0");
    close(bench.value("rod-film@cylinder.0.1") / Unit::Inch.to_si(0.000_641_032), 1.0, 0.005);
    close(bench.value("rod-film-power@cylinder.0.1") / Unit::Horsepower.to_si(491.5 / 6600.0), 1.0, 0.005);
    assert!(bench.finding("rod-film@cylinder.0.1").working[0].contains("0.641\u{a0}thou (16.3\u{a0}µm)"));
}

/// The hot clearance goes before the cold one, and is said. Aluminium opens: the film is thinner.
#[test]
fn the_hot_clearance_goes_first() {
    let cold = metric().read("main-clearance-vertical@main.0", "60");
    let mut warm = cold
        .clone()
        .target(T::MainHousing, "mains", Unit::Millimetre, 70.0)
        .target(T::MainShellWall, "mains", Unit::Millimetre, 2.4)
        .target(T::HousingWarmer, "engine", Unit::Kelvin, 80.0)
        .target(T::JournalWarmer, "engine", Unit::Kelvin, 90.0);
    warm.setup.materials =
        Materials { block: Some(Material::CastAluminium), crank: Some(Material::CarbonSteel), ..Materials::default() };
    let (hot, found) = (warm.value("main-clearance-hot@main.0"), warm.finding("main-film@main.0"));
    assert!(hot > 80.0 * MICROMETRE, "{hot}");
    assert!(found.working[0].starts_with("hot clearance"), "{:?}", found.working);
    assert!(value(&found) < cold.value("main-film@main.0"));
}

#[test]
fn what_is_missing_is_named_and_nothing_is_asked_where_no_load_is() {
    let bench = Bench::millimetre().read("main-clearance-vertical@main.0", "60");
    assert!(bench.find("main-film@main.0").is_none());
    let bench = bench.target(T::MainLoad, "mains", Unit::Kilonewton, 10.0);
    let film = bench.finding("main-film@main.0");
    for what in ["size of the journal of main 1", "main bearing length", "oil at 40 °C", "oil in the bearings"] {
        is_missing(&film, what);
    }
    is_missing(&bench.finding("main-film-power@main.1"), "clearance of main 2");
    let checked = metric().checked("main-clearance@main.0", "turns freely");
    assert_eq!(checked.finding("main-film@main.0").standing(), Standing::NoFigure);
}

/// A load that would bring the parts together, an oil that thickens in the heat, a bearing longer than the table has, a clearance
/// stated as nothing to speak of: no film, and why.
#[test]
fn what_cannot_be_says_why() {
    let read = metric().read("main-clearance-vertical@main.0", "60");
    let because = |bench: Bench| match bench.finding("main-film@main.0").basis {
        Basis::NoFigure { because } => because,
        other => panic!("{other:?}"),
    };
    let heavy = read.clone().target(T::MainLoad, "mains", Unit::Kilonewton, 900.0);
    assert!(because(heavy).contains("it would touch"));
    let thick = read.clone().target(T::OilAt100, "engine", Unit::One, 90.0);
    assert!(because(thick).contains("oil gets thinner when warmer"));
    let long = read.clone().target(T::MainLength, "mains", Unit::Millimetre, 120.0);
    assert!(because(long).contains("the table covers"));
    let bound = metric().read("main-clearance-vertical@main.0", "0");
    assert!(because(bound).contains("clearance"));
    for key in SheetKey::ALL {
        for finding in read.book().findings(key) {
            assert!(finding.value.as_ref().is_none_or(|value| value.value().is_finite() && value.u().is_finite()));
        }
    }
    // Narrower than the table: as a short bearing, which it is. 4 mm on 65.14.
    let narrow =
        read.target(T::MainLength, "mains", Unit::Millimetre, 7.0).target(T::MainLoad, "mains", Unit::Newton, 500.0);
    assert!(narrow.finding("main-film@main.0").working[0].ends_with("as a short bearing"));
}

/// A range stated for all: the film of either end.
#[test]
fn a_stated_range_gives_a_range_of_films() {
    let bench = metric().read("main-clearance@mains", "47-104 µm");
    let book = bench.book();
    let film = book.finding(SheetKey::MainBearings, &FindingKey::parse("main-film@main.3")).unwrap();
    let (least, most) = film.range.unwrap();
    close(least / (3.522 * MICROMETRE), 1.0, 0.01);
    close(most / (4.044 * MICROMETRE), 1.0, 0.01);
}
