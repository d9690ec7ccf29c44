//! The oil film: inverses, monotonicity, units, and no figure that is not a number.

use proptest::prelude::*;
use witnessmark::mechanics::film::{
    Bearing, Film, finite_bearing, finite_bearing_load_n, petroff_torque_nm, short_bearing, short_bearing_load_n,
    sommerfeld,
};

fn any_bearing() -> impl Strategy<Value = Bearing> {
    (0.02_f64..0.12, 0.13_f64..1.49, 5e-4_f64..3e-3, 50.0_f64..1200.0, 2e-3_f64..0.03).prop_map(
        |(diameter_m, l_over_d, psi, speed_rad_s, viscosity_pa_s)| Bearing {
            diameter_m,
            length_m: l_over_d * diameter_m,
            clearance_m: psi * diameter_m,
            speed_rad_s,
            viscosity_pa_s,
        },
    )
}

fn finite(film: &Film) -> bool {
    let figures =
        [film.min_film_m, film.attitude_rad, film.friction, film.power_w, film.flow_m3_s, film.side_flow_m3_s];
    figures.into_iter().all(|figure| figure.is_finite() && figure > 0.0)
}

proptest! {
    /// The load for an eccentricity leads back to it, short and finite; the film is what it leaves of the clearance.
    #[test]
    fn load_and_eccentricity_are_inverse(bearing in any_bearing(), eccentricity in 0.051_f64..0.989) {
        let load = finite_bearing_load_n(&bearing, eccentricity).unwrap();
        let film = finite_bearing(&bearing, load).unwrap();
        prop_assert!((film.eccentricity - eccentricity).abs() < 1e-9);
        let left = bearing.clearance_m / 2.0 * (1.0 - eccentricity);
        prop_assert!((film.min_film_m - left).abs() < 1e-9 * bearing.clearance_m);
        prop_assert!(finite(&film));
        let eccentricity = eccentricity.min(0.9);
        let load = short_bearing_load_n(&bearing, eccentricity).unwrap();
        let film = short_bearing(&bearing, load).unwrap();
        prop_assert!((film.eccentricity - eccentricity).abs() < 1e-9);
        prop_assert!(finite(&film));
    }

    /// More load, less film and more heat, over the whole table without a step: also where its rows change.
    #[test]
    fn more_load_less_film(bearing in any_bearing(), eccentricity in 0.051_f64..0.98, more in 0.0001_f64..0.009) {
        let loads = [eccentricity, eccentricity + more].map(|e| finite_bearing_load_n(&bearing, e).unwrap());
        prop_assert!(loads[0] < loads[1]);
        let films = loads.map(|load| finite_bearing(&bearing, load).unwrap());
        prop_assert!(films[0].min_film_m > films[1].min_film_m);
        prop_assert!(films[0].attitude_rad > films[1].attitude_rad);
        prop_assert!(films[0].power_w < films[1].power_w);
        prop_assert!(films[0].side_flow_m3_s < films[1].side_flow_m3_s);
        prop_assert!(films.iter().all(|film| film.side_flow_m3_s < film.flow_m3_s));
    }

    /// Thicker oil and more speed carry more; a longer bearing carries more, and more for its length.
    #[test]
    fn what_carries_more(bearing in any_bearing(), eccentricity in 0.051_f64..0.989, more in 1.001_f64..1.5) {
        let load = |bearing: Bearing| finite_bearing_load_n(&bearing, eccentricity).unwrap();
        let here = load(bearing);
        let thicker = load(Bearing { viscosity_pa_s: bearing.viscosity_pa_s * more, ..bearing });
        let faster = load(Bearing { speed_rad_s: bearing.speed_rad_s * more, ..bearing });
        prop_assert!((thicker / here / more - 1.0).abs() < 1e-9);
        prop_assert!((faster / here / more - 1.0).abs() < 1e-9);
        if bearing.length_m * more <= 1.5 * bearing.diameter_m {
            let longer = load(Bearing { length_m: bearing.length_m * more, ..bearing });
            prop_assert!(longer > here * more);
        }
    }

    /// The short bearing carries at least as much as the finite one at equal eccentricity.
    #[test]
    fn short_promises_more(bearing in any_bearing(), eccentricity in 0.2_f64..0.9) {
        let finite = finite_bearing_load_n(&bearing, eccentricity).unwrap();
        prop_assert!(short_bearing_load_n(&bearing, eccentricity).unwrap() > finite);
    }

    /// Friction is never below that of an unloaded journal.
    #[test]
    fn petroff_is_the_least(bearing in any_bearing(), eccentricity in 0.051_f64..0.989) {
        let load = finite_bearing_load_n(&bearing, eccentricity).unwrap();
        let torque = finite_bearing(&bearing, load).unwrap().power_w / bearing.speed_rad_s;
        prop_assert!(torque > petroff_torque_nm(&bearing).unwrap());
    }

    /// A bearing scaled in all its lengths carries its square at the same eccentricity.
    #[test]
    fn scaling(bearing in any_bearing(), eccentricity in 0.051_f64..0.989, by in 0.5_f64..1.5) {
        let scaled = Bearing {
            diameter_m: bearing.diameter_m * by,
            length_m: bearing.length_m * by,
            clearance_m: bearing.clearance_m * by,
            ..bearing
        };
        let [one, other] = [bearing, scaled].map(|each| finite_bearing_load_n(&each, eccentricity).unwrap());
        prop_assert!((other / one / by / by - 1.0).abs() < 1e-9);
    }

    /// Any figures at all: numbers or a fault.
    #[test]
    fn finite_or_a_fault(
        given in proptest::array::uniform6(
            prop_oneof![proptest::num::f64::NORMAL | proptest::num::f64::ZERO, 1e-6_f64..10.0],
        ),
    ) {
        let [diameter_m, length_m, clearance_m, speed_rad_s, viscosity_pa_s, load] = given;
        let bearing = Bearing { diameter_m, length_m, clearance_m, speed_rad_s, viscosity_pa_s };
        for film in [finite_bearing(&bearing, load), short_bearing(&bearing, load)].into_iter().flatten() {
            prop_assert!(finite(&film));
        }
        let figures = [
            sommerfeld(&bearing, load),
            petroff_torque_nm(&bearing),
            short_bearing_load_n(&bearing, load),
            finite_bearing_load_n(&bearing, load),
        ];
        prop_assert!(figures.into_iter().flatten().all(f64::is_finite));
    }
}
