//! Clearance hot and cold. Coefficients of expansion as read in Callister, Appendix B; clearances computed independently.

use witnessmark::mechanics::thermal::{
    Sizes, ThermalFault, Warmed, Warmth, clearance_change_m, cold_clearance_m, growth_m, hot_clearance_m,
};

use crate::{assert_close, assert_near};

const MAIN: Sizes = Sizes { housing_m: 70e-3, wall_m: 2.4e-3, journal_m: 65.14e-3 };
const ROD: Sizes = Sizes { housing_m: 56e-3, wall_m: 1.8e-3, journal_m: 52.345e-3 };
const SHELL: f64 = 11.7e-6;
const CRANK: f64 = 12.3e-6;
const IRON: f64 = 11.4e-6;
const ALUMINIUM: f64 = 21.5e-6;

/// One housing material, shells as warm as the housing.
fn warmth(alpha_per_k: f64, housing_k: f64, journal_k: f64) -> Warmth {
    let housing = Warmed { alpha_per_k, rise_k: housing_k };
    let shell = Warmed { alpha_per_k: SHELL, rise_k: housing_k };
    Warmth { block: housing, cap: housing, shell, journal: Warmed { alpha_per_k: CRANK, rise_k: journal_k } }
}

#[test]
fn growth_of_a_length() {
    assert_close(growth_m(0.1, Warmed { alpha_per_k: ALUMINIUM, rise_k: 80.0 }), 172e-6, 1e-12);
    assert_close(growth_m(0.1, Warmed { alpha_per_k: ALUMINIUM, rise_k: -40.0 }), -86e-6, 1e-12);
}

#[test]
fn mains() {
    for (alpha, hot_mm) in [(ALUMINIUM, 0.10379722), (26e-6, 0.12899722)] {
        let hot = hot_clearance_m(0.06e-3, MAIN, warmth(alpha, 80.0, 90.0)).unwrap();
        assert_near(hot * 1000.0, hot_mm, 1e-6);
    }
}

#[test]
fn rods() {
    for (alpha, hot_mm) in [(12.3e-6, 0.052036068), (23.4e-6, 0.10798007)] {
        let hot = hot_clearance_m(0.055e-3, ROD, warmth(alpha, 90.0, 95.0)).unwrap();
        assert_near(hot * 1000.0, hot_mm, 1e-6);
    }
}

/// An aluminium block's 0.060 mm is down to 0.034 mm at −20 °C; 0.047 mm hot in iron; a titanium rod loses 22 µm.
#[test]
fn the_same_cold_clearance_elsewhere() {
    let hot_mm = |sizes, warmth| hot_clearance_m(0.06e-3, sizes, warmth).unwrap() * 1000.0;
    assert_close(hot_mm(MAIN, warmth(ALUMINIUM, -40.0, -40.0)), 0.034, 0.0005);
    assert_close(hot_mm(MAIN, warmth(IRON, 80.0, 90.0)), 0.047, 0.0005);
    assert_close(clearance_change_m(ROD, warmth(8.6e-6, 90.0, 95.0)).unwrap() * 1e6, -22.0, 0.5);
}

/// Geometry: a steel cap on an aluminium block opens by the mean of all aluminium and all steel.
#[test]
fn a_steel_cap_lies_between() {
    let change = |warmth| clearance_change_m(MAIN, warmth).unwrap();
    let (soft, hard) = (warmth(ALUMINIUM, 80.0, 90.0), warmth(SHELL, 80.0, 90.0));
    let mixed = change(Warmth { cap: hard.cap, ..soft });
    assert_close(mixed, f64::midpoint(change(soft), change(hard)), 1e-15);
    assert_close(change(soft) - mixed, 35e-3 * (ALUMINIUM - SHELL) * 80.0, 1e-15);
}

#[test]
fn the_cold_clearance_for_a_hot_one() {
    let cold = cold_clearance_m(0.10379722e-3, MAIN, warmth(ALUMINIUM, 80.0, 90.0)).unwrap();
    assert_close(cold, 0.06e-3, 1e-11);
}

#[test]
fn what_cannot_be() {
    let good = warmth(ALUMINIUM, 80.0, 90.0);
    let fault = |sizes, warmth| clearance_change_m(sizes, warmth).unwrap_err();
    assert_eq!(fault(Sizes { journal_m: 0.0, ..MAIN }, good), ThermalFault::Size("journal"));
    assert_eq!(fault(Sizes { housing_m: 70.0, ..MAIN }, good), ThermalFault::Size("housing"));
    assert_eq!(fault(Sizes { wall_m: 35e-3, ..MAIN }, good), ThermalFault::WallsFillHousing);
    assert_eq!(fault(MAIN, warmth(21.5, 80.0, 90.0)), ThermalFault::Alpha("block"));
    assert_eq!(fault(MAIN, warmth(ALUMINIUM, 80.0, -300.0)), ThermalFault::Rise("journal"));
}
