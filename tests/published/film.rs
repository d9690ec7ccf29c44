//! The oil film against Raimondi and Boyd, worked examples, and the equation it comes from.

use std::f64::consts::TAU;

use witnessmark::mechanics::film::{
    Bearing, FilmFault, finite_bearing, finite_bearing_load_n, petroff_torque_nm, short_bearing, short_bearing_load_n,
    sommerfeld,
};

use crate::reynolds::solve;
use crate::{assert_close, assert_near};

/// Steps of θ and z; a quarter of those the table was made with, which moves S by less than 0.3 %.
const AROUND: usize = 180;
const ALONG: usize = 20;

/// A bearing of 60 mm; only its length over diameter matters where S is compared.
fn bearing(l_over_d: f64) -> Bearing {
    Bearing {
        diameter_m: 60e-3,
        length_m: 60e-3 * l_over_d,
        clearance_m: 60e-6,
        speed_rad_s: 500.0,
        viscosity_pa_s: 0.01,
    }
}

/// The load that makes S so.
fn load_at(bearing: &Bearing, s: f64) -> f64 {
    sommerfeld(bearing, 1.0).unwrap() / s
}

fn friction_variable(bearing: &Bearing, load_n: f64) -> f64 {
    finite_bearing(bearing, load_n).unwrap().friction * bearing.diameter_m / bearing.clearance_m
}

fn unit_flow(bearing: &Bearing) -> f64 {
    let (r, c) = (bearing.diameter_m / 2.0, bearing.clearance_m / 2.0);
    r * c * bearing.speed_rad_s / TAU * bearing.length_m
}

/// Raimondi and Boyd (1958), full bearing: at l/d = 1 the rows of S 0.264, 0.121 and 0.0446 and their flows read in a solved
/// textbook (Jindal, Machine Design), the others from memory. Their coarser grid and chart: to 1.5 %.
#[test]
fn raimondi_and_boyd() {
    for (l_over_d, eccentricity, s, friction) in [
        (1.0, 0.1, 1.33, 26.4),
        (1.0, 0.2, 0.631, 12.8),
        (1.0, 0.4, 0.264, 5.79),
        (1.0, 0.6, 0.121, 3.22),
        (1.0, 0.8, 0.0446, 1.7),
        (1.0, 0.9, 0.0188, 1.05),
        (0.5, 0.4, 0.779, 17.0),
        (0.5, 0.6, 0.319, 8.10),
        (0.5, 0.8, 0.0923, 3.26),
        (0.5, 0.9, 0.0313, 1.60),
    ] {
        let bearing = bearing(l_over_d);
        let load = finite_bearing_load_n(&bearing, eccentricity).unwrap();
        assert_near(sommerfeld(&bearing, load).unwrap(), s, 0.015);
        assert_near(friction_variable(&bearing, load), friction, 0.015);
    }
    for (eccentricity, flow) in [(0.4, 3.99), (0.6, 4.33), (0.8, 4.62)] {
        let bearing = bearing(1.0);
        let load = finite_bearing_load_n(&bearing, eccentricity).unwrap();
        assert_near(finite_bearing(&bearing, load).unwrap().flow_m3_s / unit_flow(&bearing), flow, 0.005);
    }
}

/// Rows of the table, and what lies between rows and columns, computed anew by finite differences.
#[test]
fn table_against_finite_differences() {
    for (l_over_d, eccentricity) in
        [(0.125, 0.5), (0.25, 0.9), (0.5, 0.8), (1.0, 0.1), (1.0, 0.6), (1.5, 0.95), (0.5, 0.98)]
    {
        agrees_with_finite_differences(l_over_d, eccentricity, 0.003);
    }
    for (l_over_d, eccentricity) in
        [(0.307, 0.85), (0.1875, 0.75), (0.375, 0.55), (0.85, 0.925), (1.25, 0.25), (0.307, 0.97)]
    {
        agrees_with_finite_differences(l_over_d, eccentricity, 0.007);
    }
}

#[track_caller]
fn agrees_with_finite_differences(l_over_d: f64, eccentricity: f64, part: f64) {
    let (bearing, solution) = (bearing(l_over_d), solve(eccentricity, l_over_d, AROUND, ALONG));
    let load = finite_bearing_load_n(&bearing, eccentricity).unwrap();
    assert_near(sommerfeld(&bearing, load).unwrap(), solution.s, part);
    let film = finite_bearing(&bearing, load_at(&bearing, solution.s)).unwrap();
    assert_near(1.0 - film.eccentricity, 1.0 - eccentricity, part);
    assert_close(film.attitude_rad.to_degrees(), solution.attitude_deg, 0.1);
    assert_near(film.flow_m3_s / unit_flow(&bearing), solution.flow, part);
    assert_near(film.side_flow_m3_s / unit_flow(&bearing), solution.side_flow, part);
}

/// Jindal, Machine Design, Ex. 17-2 (read, solved): h₀ of 0.008 at c of 0.04 mm is S = 0.0446 and 6.293 mPa·s.
#[test]
fn viscosity_for_a_film() {
    let bearing = Bearing {
        diameter_m: 60e-3,
        length_m: 60e-3,
        clearance_m: 80e-6,
        speed_rad_s: 1260.0 / 60.0 * TAU,
        viscosity_pa_s: 6.292769e-3,
    };
    assert_near(sommerfeld(&bearing, 6000.0).unwrap(), 0.0446, 1e-6);
    assert_near(finite_bearing(&bearing, 6000.0).unwrap().min_film_m, 8e-6, 0.005);
}

/// Jindal, Machine Design, Ex. 17-3 (read, solved): 0.2874 L/min.
#[test]
fn flow_of_a_bearing() {
    let bearing = Bearing {
        diameter_m: 60e-3,
        length_m: 60e-3,
        clearance_m: 0.0008 * 60e-3,
        speed_rad_s: 1440.0 / 60.0 * TAU,
        viscosity_pa_s: 3.4688889e-3,
    };
    let film = finite_bearing(&bearing, 10_500.0).unwrap();
    assert_near(film.min_film_m, 0.2 * 24e-6, 0.005);
    assert_near(film.flow_m3_s * 60_000.0, 0.28740096, 0.005);
}

/// The bearing of Shigley, Ex. 12-1 and 12-2, by another finite-difference solution of the same equation (361 × 81 points):
/// S 0.135, ε 0.572 645, 0.000 641 in, (r/c)f 3.476 91, 52.2566°. The book's charts (from memory) give 0.42, 3.50, 53°.
#[test]
fn a_textbook_bearing_in_inches() {
    let inch = 0.0254;
    let bearing = Bearing {
        diameter_m: 1.5 * inch,
        length_m: 1.5 * inch,
        clearance_m: 0.003 * inch,
        speed_rad_s: 30.0 * TAU,
        viscosity_pa_s: 4e-6 * 6894.757293,
    };
    let load = 500.0 * 4.4482216152605;
    let film = finite_bearing(&bearing, load).unwrap();
    assert_near(sommerfeld(&bearing, load).unwrap(), 0.135, 1e-6);
    assert_near(film.eccentricity, 0.572645, 0.005);
    assert_near(film.min_film_m / inch, 0.000641032, 0.005);
    assert_near(film.friction * 500.0, 3.47691, 0.005);
    assert_near(film.attitude_rad.to_degrees(), 52.2566, 0.005);
    assert_near(film.power_w, film.friction * load * TAU * 30.0 * 0.75 * inch, 1e-12);
}

fn rod() -> Bearing {
    Bearing { diameter_m: 65e-3, length_m: 20e-3, clearance_m: 60e-6, speed_rad_s: 100.0 * TAU, viscosity_pa_s: 8e-3 }
}

/// Ocvirk's short bearing, worked independently (its load integral done numerically returns 12 000 N). The finite bearing
/// has about 4.3 µm there, 17 % less.
#[test]
fn a_short_bearing() {
    let film = short_bearing(&rod(), 12_000.0).unwrap();
    assert_near(film.eccentricity, 0.8321439, 1e-6);
    assert_near(film.min_film_m, 5.0356829e-6, 1e-6);
    assert_near(film.attitude_rad.to_degrees(), 27.62789, 1e-6);
    assert_near(sommerfeld(&rod(), 12_000.0).unwrap(), 0.10171296, 1e-7);
    assert_near(short_bearing_load_n(&rod(), film.eccentricity).unwrap(), 12_000.0, 1e-9);
    assert_near(petroff_torque_nm(&rod()).unwrap(), 0.72278403, 1e-7);
    assert_close(finite_bearing(&rod(), 12_000.0).unwrap().min_film_m * 1e6, 4.3, 0.05);
}

/// Finite differences at l/d = 0.307 (241 × 41 points), computed independently: smallest films in µm.
#[test]
fn clearance_and_oil_compared() {
    let clearances = [60.0, 47.24, 103.8];
    for (viscosity, films) in [(5.683e-3, [3.935, 4.044, 3.522]), (9.408e-3, [5.211, 5.31, 4.794])] {
        for (clearance, film) in clearances.into_iter().zip(films) {
            let bearing =
                Bearing { diameter_m: 65.14e-3, clearance_m: clearance * 1e-6, viscosity_pa_s: viscosity, ..rod() };
            assert_near(finite_bearing(&bearing, 10_000.0).unwrap().min_film_m * 1e6, film, 0.01);
        }
    }
}

/// Petroff (from memory; geometry): a hardly loaded bearing turns with the torque of a central journal.
#[test]
fn unloaded_friction() {
    let bearing = bearing(0.5);
    let load = finite_bearing_load_n(&bearing, 0.05).unwrap();
    let torque = finite_bearing(&bearing, load).unwrap().friction * load * bearing.diameter_m / 2.0;
    assert_near(torque, petroff_torque_nm(&bearing).unwrap(), 0.003);
}

/// The finite bearing tends to the short one: at an eighth of the diameter and half eccentricity within 3 %; at half the
/// diameter its S is 13 to 57 % above at ε of 0.4 to 0.9 (finite differences, computed independently: short over finite).
#[test]
fn short_against_finite() {
    let load_ratio = |l_over_d, eccentricity| {
        let bearing = bearing(l_over_d);
        finite_bearing_load_n(&bearing, eccentricity).unwrap() / short_bearing_load_n(&bearing, eccentricity).unwrap()
    };
    assert_close(load_ratio(0.125, 0.5), 1.0, 0.03);
    assert_close(load_ratio(0.5, 0.4), 0.87, 0.01);
    assert_close(load_ratio(0.5, 0.9), 0.43, 0.01);
    assert_close(load_ratio(0.25, 0.6), 0.93, 0.01);
    assert_close(load_ratio(0.25, 0.8), 0.84, 0.01);
}

#[test]
fn what_cannot_be() {
    let good = bearing(0.5);
    let fault = |bearing: Bearing, load| finite_bearing(&bearing, load).unwrap_err();
    assert_eq!(fault(Bearing { speed_rad_s: 0.0, ..good }, 1e4), FilmFault::Size("speed"));
    assert_eq!(fault(good, -1e4), FilmFault::Size("load"));
    assert_eq!(fault(Bearing { clearance_m: 7e-3, ..good }, 1e4), FilmFault::Clearance);
    assert_eq!(fault(Bearing { length_m: 120e-3, ..good }, 1e4), FilmFault::Length(2.0));
    assert_eq!(fault(good, 1.0), FilmFault::TooLight);
    assert_eq!(fault(good, 1e7), FilmFault::TooHeavy);
    assert_eq!(short_bearing(&good, 1e8).unwrap_err(), FilmFault::TooHeavy);
    assert_eq!(short_bearing(&good, 1e-6).unwrap_err(), FilmFault::TooLight);
    assert_eq!(short_bearing_load_n(&good, 1.0), Err(FilmFault::Eccentricity));
    assert_eq!(finite_bearing_load_n(&good, 0.04), Err(FilmFault::TooLight));
    assert_eq!(finite_bearing_load_n(&good, 0.995), Err(FilmFault::TooHeavy));
    assert!(finite_bearing(&bearing(1.5), 1e4).is_ok() && finite_bearing(&bearing(0.125), 1e3).is_ok());
}
