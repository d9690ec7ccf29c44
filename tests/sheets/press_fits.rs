//! Press fits by hand: a sleeve in an aluminium block, a bush in a rod, a pin that the rod holds.

use witnessmark::engine::{SheetKey, TargetFeature, WorkingUnit};
use witnessmark::metrology::Material;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Standing, sheet};

use crate::bench::{Bench, MICROMETRE, THOU, close, is_missing};

/// A steel bush of 60 mm, 75 µm tight over 22 mm, with 15 mm of aluminium round it.
fn bushed() -> Bench {
    let mut bench = Bench::inline(1, 2, WorkingUnit::Millimetre)
        .target(TargetFeature::BushInside, "cylinders", Unit::Millimetre, 55.0)
        .target(TargetFeature::SmallEndBacking, "cylinders", Unit::Millimetre, 15.0)
        .target(TargetFeature::SmallEndWidth, "cylinders", Unit::Millimetre, 22.0)
        .target(TargetFeature::FitFriction, "engine", Unit::One, 0.12)
        .reads(&[("bush-bore@cylinder.0.0", "60.000"), ("bush-outside@cylinder.0.0", "60.075")]);
    bench.setup.materials.rods = Some(Material::CastAluminium);
    bench.setup.materials.bushes = Some(Material::CarbonSteel);
    bench
}

/// The bush of `tests/published/press_fit.rs`, whose metals are 1 % softer and 0.008 apart in Poisson's ratio: 6509 N there,
/// 195 `N·m`, its bore closed by 43.5 µm; hot by 90 K 22.08 µm, 1916 N. It is lost 127.6 K above 20 °C.
#[test]
fn the_published_bush_through_the_sheet() {
    let cold = bushed();
    close(cold.value("bush-interference@cylinder.0.0"), 75.0 * MICROMETRE, 1e-9);
    close(cold.value("bush-holds@cylinder.0.0"), 6509.0, 0.015 * 6509.0);
    close(cold.value("bush-closes@cylinder.0.0"), 43.5 * MICROMETRE, 0.015 * 43.5 * MICROMETRE);
    close(cold.value("bush-lost@cylinder.0.0"), 127.55, 0.1);
    assert!(cold.find("bush-interference-hot@cylinder.0.0").is_none(), "nobody said how warm");
    let hot = bushed().target(TargetFeature::SmallEndWarmer, "engine", Unit::Kelvin, 90.0);
    close(hot.value("bush-interference-hot@cylinder.0.0"), 22.08 * MICROMETRE, 0.01 * MICROMETRE);
    close(hot.value("bush-holds@cylinder.0.0"), 1916.0, 0.015 * 1916.0);
    let said = format!("{:?}", hot.finding("bush-holds@cylinder.0.0"));
    assert!(said.contains("when hot") && said.contains("cold"), "{said}");
}

/// The bond alone, 10 `MPa` over π·60·22 mm², adds 41.5 `kN`.
#[test]
fn a_retaining_compound_adds_to_what_holds() {
    let bare = bushed().value("bush-holds@cylinder.0.0");
    let bonded = bushed().target(TargetFeature::FitBond, "engine", Unit::Kilopascal, 10_000.0);
    close(bonded.value("bush-holds@cylinder.0.0") - bare, 41_469.0, 1.0);
}

/// A pin 1.0 thou larger than the small end, solid, in steel: at 0.927 in, the press alone.
#[test]
fn a_pin_that_the_rod_holds() {
    let mut bench = Bench::inch()
        .target(TargetFeature::PinInside, "cylinders", Unit::Inch, 0.0)
        .target(TargetFeature::SmallEndBacking, "cylinders", Unit::Inch, 0.25)
        .reads(&[("small-end@cylinder.0.0", "0.9260"), ("pin@cylinder.0.0", "0.9270")]);
    bench.setup.materials.rods = Some(Material::AlloySteel);
    is_missing(&bench.finding("pin-holds@cylinder.0.0"), "small end, width");
    let bench = bench.target(TargetFeature::SmallEndWidth, "cylinders", Unit::Inch, 1.0);
    // p = E·δ·(D² − d²)/(2·d·D²) of one metal, D = 0.927 + 0.5 in: 207 GPa · 0.001 · (1.427² − 0.927²)/(2 · 0.927 · 1.427²)
    // = 64.5 MPa; 0.08 · 64.5 MPa · π · 0.927 in · 1 in = 9.7 kN.
    let (d, outside) = (0.927, 1.427);
    let pressure = 207e9 * 0.001 * (outside * outside - d * d) / (2.0 * d * outside * outside);
    let force = 0.08 * pressure * std::f64::consts::PI * d * 0.0254 * 0.0254;
    close(bench.value("pin-holds@cylinder.0.0"), force, 1e-3 * force);
    close(force, 9700.0, 50.0);
    assert!(bench.find("pin-lost@cylinder.0.0").is_none(), "one metal: never loose");
    let said = format!("{:?}", bench.finding("pin-holds@cylinder.0.0").remarks);
    assert!(said.contains("common practice, no source"), "{said}");
    // A pin that runs is no press fit.
    let runs = Bench::inch().reads(&[("small-end@cylinder.0.0", "0.9280"), ("pin@cylinder.0.0", "0.9270")]);
    assert!(runs.find("pin-holds@cylinder.0.0").is_none());
}

#[test]
fn a_sleeve_asks_only_for_what_is_missing() {
    let sleeved = Bench::inch().reads(&[("sleeve-bore@cylinder.0.1", "4.2500")]);
    is_missing(&sleeved.finding("sleeve-interference@cylinder.0.1"), "sleeve of cylinder 2");
    assert!(sleeved.find("sleeve-interference@cylinder.0.0").is_none(), "not read, not asked for");
    let loose = sleeved.clone().read("sleeve-outside@cylinder.0.1", "4.2490");
    let finding = loose.finding("sleeve-interference@cylinder.0.1");
    close(finding.value.clone().expect("a value").value(), -THOU, 1e-9);
    assert!(finding.remarks[0].contains("loose by 1.0\u{a0}thou"), "{:?}", finding.remarks);
    let wrong = sleeved.read("sleeve-outside@cylinder.0.1", "4.3500");
    let finding = wrong.finding("sleeve-interference@cylinder.0.1");
    assert_eq!(finding.standing(), Standing::NoFigure);
    assert!(format!("{:?}", finding.basis).contains("do not belong together"));
}

/// 2 thou tight in aluminium: 25.4 µm of room over 50.8 µm at 21.5 millionths over 107.95 mm is 32.8 K.
#[test]
fn what_fits_a_sleeve_is_said_beside_it() {
    let mut bench =
        Bench::inch().reads(&[("sleeve-bore@cylinder.0.0", "4.2500"), ("sleeve-outside@cylinder.0.0", "4.2520")]);
    bench.setup.materials.block = Some(Material::CastAluminium);
    let said = bench.finding("sleeve-interference@cylinder.0.0").remarks.join("; ");
    assert!(said.contains("32.8\u{a0}K warmer") && said.contains("common practice, no source"), "{said}");
}

/// Ductile iron 90 K warmer in aluminium 60 K warmer, 92 mm: 10.9 · 90 − 21.5 · 60 = −309 millionths, −28.4 µm of 56.
#[test]
fn a_sleeve_is_warmer_than_the_block_behind_it() {
    let mut bench = Bench::inline(1, 2, WorkingUnit::Millimetre)
        .target(TargetFeature::BoreWarmer, "engine", Unit::Kelvin, 90.0)
        .reads(&[("sleeve-bore@cylinder.0.0", "92.000"), ("sleeve-outside@cylinder.0.0", "92.056")]);
    bench.setup.materials.block = Some(Material::CastAluminium);
    is_missing(&bench.finding("sleeve-interference-hot@cylinder.0.0"), "what the sleeve is made of");
    bench.setup.materials.sleeves = Some(Material::DuctileIron);
    let apart = bench.clone().target(TargetFeature::SleeveHolderWarmer, "engine", Unit::Kelvin, 60.0);
    close(apart.value("sleeve-interference-hot@cylinder.0.0"), 27.572 * MICROMETRE, 0.01 * MICROMETRE);
    // Where no more is said, both are alike: 10.6 · 90 millionths less, and it is loose.
    let alike = bench.finding("sleeve-interference-hot@cylinder.0.0");
    close(alike.value.clone().expect("a value").value(), (56.0 - 87.768) * MICROMETRE, 0.01 * MICROMETRE);
    assert!(alike.remarks[0].contains("loose when hot"), "{:?}", alike.remarks);
    close(bench.value("sleeve-lost@cylinder.0.0"), 56.0 / (92e3 * 10.6e-6), 0.01);
}

#[test]
fn an_engine_is_asked_for_what_it_has() {
    let slots = |bench: &Bench| {
        let slots = (sheet(SheetKey::PressFits).slots)(&bench.setup);
        let of = |word: &str| slots.iter().filter(|slot| slot.key.to_string().starts_with(word)).count();
        (of("sleeve"), of("bush"))
    };
    let mut bench = Bench::inch();
    assert_eq!(slots(&bench), (8, 8), "nothing said: either may be");
    bench.setup.materials.bushes = Some(Material::BearingBronze);
    assert_eq!(slots(&bench), (0, 8));
}

#[test]
fn a_fit_by_its_letters() {
    let options = sheet(SheetKey::PressFits).options.as_ref().expect("a choice");
    let bench =
        Bench::millimetre().reads(&[("bush-bore@cylinder.0.0", "25.010"), ("bush-outside@cylinder.0.0", "25.050")]);
    let found = (options.work_out)(&bench.book(), "25 H7/s6").expect("a fit");
    assert!(found[0].said.contains("shaft 25.035\u{a0}mm to 25.048\u{a0}mm"), "{}", found[0].said);
    assert!(found[0].rows[0].1.contains("bore for the bush 25.010\u{a0}mm, within its limits"), "{:?}", found[0].rows);
    assert!(found[0].rows[0].1.contains("2\u{a0}µm too large"), "{:?}", found[0].rows);
    assert!((options.work_out)(&bench.book(), "tight").unwrap_err().contains("60 H7/p6"));
}
