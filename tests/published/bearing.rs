//! Clearance by its routes, worst case, other halves, crush.

use std::f64::consts::PI;

use witnessmark::mechanics::bearing::{
    CrushFault, Halves, Limits, UpsideDown, clearance_from_housing_m, clearance_from_shell_bore_m,
    clearance_with_other_halves_m, crush, relative_clearance, worst_case_clearance,
};

use crate::{assert_close, assert_near};

const THOU: f64 = 25.4e-6;
const STANDARD: f64 = 0.0;

/// Independent computation: 64.85 less twice 2.368 less 60.07 mm is 0.044 mm, 0.001 732 in, 0.732 479 per mille.
#[test]
fn from_the_housing_in_millimetres() {
    let clearance = clearance_from_housing_m(64.85e-3, 2.368e-3, 2.368e-3, 60.07e-3);
    assert_close(clearance, 0.044e-3, 1e-12);
    assert_close(clearance / 0.0254, 0.0017322835, 1e-9);
    assert_near(relative_clearance(clearance, 60.07e-3), 0.00073247877, 1e-7);
}

/// Independent computation: 2.941 less twice 0.0953 less 2.748 in is 0.0024 in.
#[test]
fn from_the_housing_in_inches() {
    let inch = 0.0254;
    let clearance = clearance_from_housing_m(2.941 * inch, 0.0953 * inch, 0.0953 * inch, 2.748 * inch);
    assert_close(clearance / inch, 0.0024, 1e-9);
}

/// Geometry: walls that sum to the same leave the same bore, and both routes meet in it.
#[test]
fn both_routes_meet() {
    let by_housing = clearance_from_housing_m(64.85e-3, 2.367e-3, 2.369e-3, 60.07e-3);
    assert_close(clearance_from_shell_bore_m(60.114e-3, 60.07e-3), by_housing, 1e-12);
}

fn limits(min_mm: f64, max_mm: f64) -> Limits {
    Limits { min_m: min_mm / 1000.0, max_m: max_mm / 1000.0 }
}

/// Independent computation (worst case stack): 0.021 to 0.067 mm.
#[test]
fn worst_case() {
    let (wall, journal) = (limits(2.364, 2.372), limits(60.062, 60.078));
    let clearance = worst_case_clearance(limits(64.843, 64.857), wall, wall, journal).unwrap();
    assert_close(clearance.min_m, 0.021e-3, 1e-12);
    assert_close(clearance.max_m, 0.067e-3, 1e-12);
    let fault = worst_case_clearance(limits(64.843, 64.857), wall, limits(2.372, 2.364), journal);
    assert_eq!(fault, Err(UpsideDown("lower wall")));
    assert_eq!(UpsideDown("lower wall").to_string(), "the smallest lower wall is larger than the largest");
}

/// Common practice, no source: a pair of 1 under takes a thou off the clearance, one half of it half a thou; a half with a
/// thou extra gives half a thou, 2.1 to 2.6.
#[test]
fn other_halves() {
    let fitted = Halves { upper_undersize_m: STANDARD, lower_undersize_m: STANDARD };
    let after = |upper: f64, lower: f64| {
        let other = Halves { upper_undersize_m: upper * THOU, lower_undersize_m: lower * THOU };
        clearance_with_other_halves_m(2.6 * THOU, fitted, other) / THOU
    };
    assert_close(after(1.0, 1.0), 1.6, 1e-9);
    assert_close(after(0.0, 1.0), 2.1, 1e-9);
    assert_close(after(1.0, 0.0), 2.1, 1e-9);
    assert_close(after(-1.0, 0.0), 3.1, 1e-9);
    let one_under = Halves { upper_undersize_m: THOU, lower_undersize_m: STANDARD };
    assert_close(clearance_with_other_halves_m(2.1 * THOU, one_under, fitted) / THOU, 2.6, 1e-9);
}

/// Thin-wall formulas (mechanics of materials), worked by hand: 0.05 mm around a 70 mm bore, 2.4 mm wall, E = 207 · 10⁹ Pa.
#[test]
fn crush_of_a_pair() {
    let found = crush(0.05e-3, 70e-3, 2.4e-3, 207e9).unwrap();
    assert_near(found.interference_m, 15.91549e-6, 1e-6);
    assert_near(found.hoop_stress_pa, 47.0644e6, 1e-5);
    assert_near(found.contact_pressure_pa, 3.22727e6, 1e-5);
}

/// The thin ring agrees with the thick-walled cylinder under outside pressure (Lamé): closing by δ takes p = E·(δ/D)/K, with
/// K = (D² + d²)/(D² − d²) − ν; to first order they differ by 1 + 2ν times the wall over the diameter.
#[test]
fn thin_ring_against_a_thick_one() {
    let (bore, wall, modulus, excess) = (70e-3_f64, 1.5e-3, 207e9, 0.05e-3);
    let inner = bore - 2.0 * wall;
    let k = (bore * bore + inner * inner) / (bore * bore - inner * inner) - 0.29;
    let thick = modulus * (excess / PI / bore) / k;
    assert_near(crush(excess, bore, wall, modulus).unwrap().contact_pressure_pa, thick, 2.0 * wall / bore);
}

#[test]
fn crush_that_cannot_be() {
    assert_eq!(crush(-1e-6, 70e-3, 2.4e-3, 207e9), Err(CrushFault::Loose));
    assert_eq!(crush(5e-3, 70e-3, 2.4e-3, 207e9), Err(CrushFault::Excess));
    assert_eq!(crush(0.05e-3, 0.0, 2.4e-3, 207e9), Err(CrushFault::Bore));
    assert_eq!(crush(0.05e-3, 70e-3, 0.0, 207e9), Err(CrushFault::Wall));
    assert_eq!(crush(0.05e-3, 70e-3, 10e-3, 207e9), Err(CrushFault::Wall));
    assert_eq!(crush(0.05e-3, 70e-3, 2.4e-3, 207.0), Err(CrushFault::Modulus));
    assert_close(crush(0.0, 70e-3, 2.4e-3, 207e9).unwrap().contact_pressure_pa, 0.0, 0.0);
}
