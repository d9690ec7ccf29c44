//! Press fits: a solved boundary problem, a closed form for one metal, and ISO 286 limits.

use witnessmark::mechanics::iso_fits::{Fit, NoSuchFit};
use witnessmark::mechanics::press_fit::{
    Elastic, FitFault, Grip, Joint, heat_to_fit_k, holds_n, lost_at_rise_k, turns_nm, warm_interference_m,
};
use witnessmark::mechanics::thermal::Warmed;

use crate::{assert_close, assert_near};

const STEEL: Elastic = Elastic { modulus_pa: 207e9, poisson: 0.292 };
const ALUMINIUM: Elastic = Elastic { modulus_pa: 71e9, poisson: 0.333 };
/// A thin steel bush in an aluminium boss.
const BUSH: Joint = Joint { at_m: 60e-3, inside_m: 55e-3, outside_m: 90e-3, inner: STEEL, outer: ALUMINIUM };
const GRIP: Grip = Grip { length_m: 22e-3, friction: 0.12, bond_pa: 0.0 };

/// Closed form, and the radial equation solved by collocation (independent computation).
#[test]
fn a_steel_bush_in_aluminium_cold_and_hot() {
    let alphas = (11.7e-6, 21.5e-6);
    for (rise, interference_um, mpa, force, torque, outer, inner, closes_um) in [
        (0.0, 75.0, 13.080813, 6509.3826, 195.28148, 34.010115, -150.71372, 43.520287),
        (90.0, 22.08, 3.8509915, 1916.3622, 57.490867, 10.012578, -44.370119, 12.812372),
    ] {
        let warm = |alpha_per_k| Warmed { alpha_per_k, rise_k: rise };
        let interference = warm_interference_m(75e-6, BUSH.at_m, warm(alphas.0), warm(alphas.1));
        assert_near(interference * 1e6, interference_um, 1e-9);
        let pressed = BUSH.pressed(interference).unwrap();
        assert_near(pressed.pressure_pa / 1e6, mpa, 1e-6);
        assert_near(pressed.outer_hoop_pa / 1e6, outer, 1e-6);
        assert_near(pressed.inner_hoop_pa / 1e6, inner, 1e-6);
        assert_near(pressed.bore_closes_m * 1e6, closes_um, 1e-6);
        let holds = holds_n(BUSH.at_m, pressed.pressure_pa, GRIP).unwrap();
        assert_near(holds, force, 1e-6);
        assert_near(turns_nm(holds, BUSH.at_m), torque, 1e-6);
    }
}

/// A laboratory bond on the same joint (independent computation).
#[test]
fn what_a_bond_adds() {
    for (mpa, kilonewton, torque) in
        [(10.0, 41.469023, 1244.0707), (15.0, 62.203535, 1866.106), (25.0, 103.67256, 3110.1767)]
    {
        let bond = holds_n(BUSH.at_m, 0.0, Grip { bond_pa: mpa * 1e6, ..GRIP }).unwrap();
        assert_near(bond / 1000.0, kilonewton, 1e-6);
        assert_near(turns_nm(bond, BUSH.at_m), torque, 1e-6);
    }
}

/// Shigley's form for one metal and a solid shaft: `p = E·δ·(D_o² − D²)/(2·D·D_o²)`.
#[test]
fn a_solid_shaft_in_a_hub_of_the_same_steel() {
    let joint = Joint { at_m: 50e-3, inside_m: 0.0, outside_m: 100e-3, inner: STEEL, outer: STEEL };
    let pressed = joint.pressed(50e-6).unwrap();
    assert_near(pressed.pressure_pa / 1e6, 77.625, 1e-9);
    assert_close(pressed.bore_closes_m, 0.0, 0.0);
}

/// By hand: 75 µm over 60 mm and 9.8 millionths per kelvin, 127.55 K; 100 µm over 60 mm and 21.5 millionths, 77.5 K.
#[test]
fn where_heat_loosens_it_and_how_much_fits_it() {
    let lost = lost_at_rise_k(75e-6, 60e-3, 11.7e-6, 21.5e-6).unwrap().unwrap();
    assert_near(lost, 127.551, 1e-5);
    assert_near(heat_to_fit_k(75e-6, 25e-6, 60e-3, 21.5e-6).unwrap(), 77.5194, 1e-5);
    // Bronze in steel is lost in the cold, and two parts of one metal never are.
    assert!(lost_at_rise_k(50e-6, 22e-3, 18e-6, 12.3e-6).unwrap().unwrap() < 0.0);
    assert_eq!(lost_at_rise_k(50e-6, 22e-3, 12.3e-6, 12.3e-6).unwrap(), None);
}

#[test]
fn what_cannot_be_is_said() {
    let joint = |change: fn(&mut Joint)| {
        let mut joint = BUSH;
        change(&mut joint);
        joint.pressed(75e-6).unwrap_err()
    };
    assert_eq!(joint(|joint| joint.inside_m = 61e-3), FitFault::Inside);
    assert_eq!(joint(|joint| joint.outside_m = 60e-3), FitFault::Outside);
    assert_eq!(joint(|joint| joint.at_m = -60e-3), FitFault::At);
    assert_eq!(joint(|joint| joint.outer.poisson = 0.5), FitFault::Metal);
    assert_eq!(BUSH.pressed(1e-3).unwrap_err(), FitFault::Interference);
    assert_eq!(holds_n(60e-3, 1e6, Grip { friction: 0.0, ..GRIP }).unwrap_err(), FitFault::Friction);
}

/// Ø40 and Ø60 H7/p6 as the tables of ISO 286 have them; Ø25 H7/g6 with 7 to 41 µm of room, and Ø60.5 H7/s6, from
/// memory of the same standard.
#[test]
fn limits_by_iso_286() {
    for (text, hole, shaft, interference) in [
        ("40 H7/p6", (0.0, 25.0), (26.0, 42.0), (1.0, 42.0)),
        ("Ø60 H7/p6", (0.0, 30.0), (32.0, 51.0), (2.0, 51.0)),
        ("25 mm H7/g6", (0.0, 21.0), (-20.0, -7.0), (-41.0, -7.0)),
        ("60,5 H7/s6", (0.0, 30.0), (53.0, 72.0), (23.0, 72.0)),
    ] {
        let fit = Fit::parse(text).unwrap();
        let um = |(low, high): (f64, f64)| ((low * 1e6).round(), (high * 1e6).round());
        assert_eq!((um(fit.hole_m), um(fit.shaft_m), um(fit.interference_m())), (hole, shaft, interference), "{text}");
    }
    for (text, fault) in [
        ("60", NoSuchFit::NotAFit),
        ("sixty H7/p6", NoSuchFit::NotAFit),
        ("60 H7", NoSuchFit::NotAFit),
        ("0 H7/p6", NoSuchFit::Size),
        ("200 H7/p6", NoSuchFit::Size),
        ("60 G7/p6", NoSuchFit::Hole),
        ("60 H7/p9", NoSuchFit::Shaft),
        ("60 H7/z6", NoSuchFit::Shaft),
    ] {
        assert_eq!(Fit::parse(text).unwrap_err(), fault, "{text}");
    }
}
