//! Bobweights, balance factors and residual unbalance.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};

use witnessmark::mechanics::balance::{
    BalanceFault, CylinderMasses, GRADES, Reciprocating, Throw, bobweight_kg, counterweight_kg, least_primary_factor,
    permissible_by_plane_kg_m, permissible_eccentricity_m, permissible_unbalance_kg_m, primary_residual,
    unbalance_force_n,
};

use crate::assert_close;

const G_MM: f64 = 1e-6;

fn rad_s(rpm: f64) -> f64 {
    rpm * TAU / 60.0
}

fn cylinder() -> CylinderMasses {
    CylinderMasses {
        piston_kg: 0.430,
        pin_kg: 0.120,
        rings_kg: 0.038,
        locks_kg: 0.003,
        small_end_kg: 0.180,
        big_end_kg: 0.420,
        shells_kg: 0.044,
    }
}

/// Independent computation.
#[test]
fn a_bobweight_for_two_rods() {
    assert_close(cylinder().reciprocating_kg() * 1e3, 771.0, 1e-9);
    assert_close(cylinder().rotating_kg() * 1e3, 464.0, 1e-9);
    let both = [cylinder(), cylinder()];
    assert_close(bobweight_kg(&both, 0.5, 0.004).unwrap() * 1e3, 1703.0, 1e-9);
    assert_close(bobweight_kg(&both, 0.52, 0.004).unwrap() * 1e3, 1733.84, 1e-9);
    assert_close(bobweight_kg(&both[..1], 0.5, 0.004).unwrap() * 1e3, 853.5, 1e-9);
}

/// The textbook single: 240 rpm, throw 150 mm, 50 kg up and down and 37 kg turning, two thirds balanced at 400 mm, 60° past
/// TDC (data from memory, figures worked from the formula `B·b = r·(m_rot + c·m_rec)` and the residual's components).
#[test]
fn a_textbook_single() {
    let balanced = 37.0 + 50.0 * 2.0 / 3.0;
    assert_close(counterweight_kg(balanced, 0.15, 0.4).unwrap(), 26.375, 1e-9);
    let single = [Reciprocating { mass_kg: 50.0, bore_rad: 0.0 }];
    let residual = primary_residual(&single, 0.15, rad_s(240.0), 2.0 / 3.0).unwrap();
    let [along, across] = residual.at_n(60_f64.to_radians());
    assert_close(along.hypot(across), 2846.8, 0.1);
    let full = 50.0 * 0.15 * rad_s(240.0).powi(2);
    assert_close(along, full / 3.0 * 0.5, 1e-6);
    assert_close(across, -full * 2.0 / 3.0 * 60_f64.to_radians().sin(), 1e-6);
    assert_close(residual.greatest_n(), full * 2.0 / 3.0, 1e-6);
}

/// Vector sum: a 90° vee on one pin at half the reciprocating mass has no primary force left; at 60° half of one
/// cylinder's is.
#[test]
fn vees_on_one_pin() {
    let vee = |half_rad: f64| {
        let pair = [-half_rad, half_rad].map(|bore_rad| Reciprocating { mass_kg: 0.771, bore_rad });
        primary_residual(&pair, 0.044196, 100.0, 0.5).unwrap().greatest_n()
    };
    let one = 0.771 * 0.044196 * 1e4;
    assert_close(vee(FRAC_PI_4), 0.0, 1e-9);
    assert_close(vee(30_f64.to_radians()), one / 2.0, 1e-9);
    assert_close(vee(0.0), one, 1e-9);
    assert_close(vee(FRAC_PI_2), one, 1e-9);
}

/// Vector sum along the crank; the trade's habit agrees (common practice, no source): half for vees of eight on a
/// cross-plane crank and all vees of two, nothing for fours and sixes in line and flat.
#[test]
fn factors_of_usual_cranks() {
    let factor = |angles_deg: &[f64]| {
        let throws: Vec<Throw> = angles_deg
            .iter()
            .enumerate()
            .map(|(place, angle)| Throw {
                angle_rad: angle.to_radians(),
                position_m: 0.1 * place as f64,
                reciprocating_kg: 0.771,
            })
            .collect();
        least_primary_factor(&throws).unwrap()
    };
    let half = 0.5_f64;
    assert_close(factor(&[0.0]), half, 0.0);
    assert_close(factor(&[0.0, 90.0, 270.0, 180.0]), half, 0.0);
    assert_close(factor(&[0.0, 120.0, 240.0]), half, 0.0);
    assert_close(factor(&[0.0, 180.0, 180.0, 0.0]), 0.0, 0.0);
    assert_close(factor(&[0.0, 120.0, 240.0, 240.0, 120.0, 0.0]), 0.0, 0.0);
    // A flat six: opposed pairs, 120° from pair to pair.
    assert_close(factor(&[0.0, 180.0, 120.0, 300.0, 240.0, 60.0]), 0.0, 0.0);
}

/// ISO 21940-11, `e_per·Ω = G` (definition; worked independently) for 22 kg at 6500 rpm.
#[test]
fn permissible_unbalance_by_grade() {
    for (name, micrometres, gram_mm) in
        [("G 6.3", 9.2554721, 203.62039), ("G 2.5", 3.6728064, 80.80174), ("G 16", 23.505961, 517.13114)]
    {
        let grade = GRADES.iter().find(|grade| grade.name == name).unwrap();
        let eccentricity = permissible_eccentricity_m(grade.speed_m_s, rad_s(6500.0)).unwrap();
        assert_close(eccentricity * 1e6, micrometres, 1e-6);
        let unbalance = permissible_unbalance_kg_m(grade.speed_m_s, 22.0, rad_s(6500.0)).unwrap();
        assert_close(unbalance / G_MM, gram_mm, 1e-4);
    }
    assert!(GRADES.is_sorted_by(|coarse, fine| coarse.speed_m_s > fine.speed_m_s));
    for grade in GRADES {
        assert_eq!(grade.name, format!("G {}", (grade.speed_m_s * 1e6).round() / 1e3));
    }
}

/// ISO 21940-11: the lever rule, each plane from 0.3 to 0.7 of the whole.
#[test]
fn two_planes() {
    for (a, b, share) in [(1.0, 1.0, 0.5), (2.0, 3.0, 0.6), (3.0, 2.0, 0.4), (1.0, 9.0, 0.7), (9.0, 1.0, 0.3)] {
        let [in_a, in_b] = permissible_by_plane_kg_m(203.6 * G_MM, a, b).unwrap();
        assert_close(in_a / G_MM, 203.6 * share, 1e-9);
        assert_close((in_a + in_b) / G_MM, 203.6, 1e-9);
    }
}

/// Independent computation.
#[test]
fn force_of_a_residual() {
    assert_close(unbalance_force_n(400.0 * G_MM, rad_s(6500.0)), 185.32924, 1e-5);
}

#[test]
fn what_cannot_be_is_refused() {
    use BalanceFault::{BelowZero, Factor, NoRod, NoThrow, NotAboveZero, Place};
    assert_eq!(bobweight_kg(&[], 0.5, 0.004), Err(NoRod));
    assert_eq!(bobweight_kg(&[cylinder()], 50.0, 0.004), Err(Factor));
    assert_eq!(bobweight_kg(&[cylinder()], 0.5, f64::NAN), Err(BelowZero { what: "oil" }));
    let light = CylinderMasses { pin_kg: -0.1, ..cylinder() };
    assert_eq!(bobweight_kg(&[light], 0.5, 0.0), Err(BelowZero { what: "pin" }));
    assert_eq!(counterweight_kg(1.0, 0.05, 0.0), Err(NotAboveZero { what: "counterweight's radius" }));
    assert_eq!(permissible_eccentricity_m(0.0063, 0.0), Err(NotAboveZero { what: "service speed" }));
    assert_eq!(permissible_unbalance_kg_m(0.0063, 0.0, 100.0), Err(NotAboveZero { what: "rotor's mass" }));
    assert_eq!(permissible_by_plane_kg_m(1e-4, 0.0, 0.0), Err(NotAboveZero { what: "distance between the planes" }));
    assert!(permissible_by_plane_kg_m(1e-4, -0.1, 0.3).is_err());
    assert_eq!(least_primary_factor(&[]), Err(NoThrow));
    let far = Throw { angle_rad: PI, position_m: f64::INFINITY, reciprocating_kg: 1.0 };
    assert_eq!(least_primary_factor(&[far]), Err(Place { what: "throw's place along the crank" }));
    let turned = [Reciprocating { mass_kg: 1.0, bore_rad: f64::NAN }];
    assert_eq!(primary_residual(&turned, 0.04, 100.0, 0.5), Err(Place { what: "bore's lean" }));
    assert_eq!(primary_residual(&[], 0.04, 100.0, 0.5), Err(NoRod));
}
