//! Viscosity over temperature: through its points, falling, and no figure that is not a number.

use proptest::prelude::*;
use witnessmark::mechanics::oil::{Grade, Kinematic, Vogel, Walther};

fn at(temperature_c: f64, viscosity_m2_s: f64) -> Kinematic {
    Kinematic { temperature_c, viscosity_m2_s }
}

/// Any pair of 40 and 100 °C that an engine oil may have.
fn any_oil() -> impl Strategy<Value = (f64, f64)> {
    (4e-6_f64..26e-6, 3.0_f64..12.0).prop_map(|(v100, times)| (v100 * times, v100))
}

proptest! {
    #[test]
    fn falls_through_its_points((v40, v100) in any_oil(), celsius in 0.0_f64..149.0) {
        let oil = Walther::through(at(40.0, v40), at(100.0, v100)).unwrap();
        prop_assert!((oil.viscosity_m2_s(40.0).unwrap() / v40 - 1.0).abs() < 1e-10);
        prop_assert!((oil.viscosity_m2_s(100.0).unwrap() / v100 - 1.0).abs() < 1e-10);
        if let (Ok(here), Ok(warmer)) = (oil.viscosity_m2_s(celsius), oil.viscosity_m2_s(celsius + 1.0)) {
            prop_assert!(warmer < here);
        }
    }

    /// Through three points of the one equation the other passes too, and stays near between them.
    #[test]
    fn the_two_equations_agree((v40, v100) in any_oil(), celsius in 40.0_f64..100.0) {
        let oil = Walther::through(at(40.0, v40), at(100.0, v100)).unwrap();
        let measured = [40.0, 70.0, 100.0].map(|celsius| at(celsius, oil.viscosity_m2_s(celsius).unwrap()));
        let vogel = Vogel::through(measured).unwrap();
        for one in measured {
            prop_assert!((vogel.viscosity_m2_s(one.temperature_c).unwrap() / one.viscosity_m2_s - 1.0).abs() < 1e-9);
        }
        let (one, other) = (vogel.viscosity_m2_s(celsius).unwrap(), oil.viscosity_m2_s(celsius).unwrap());
        prop_assert!((one / other - 1.0).abs() < 0.01, "{one} {other}");
    }

    #[test]
    fn finite_or_a_fault(
        temperatures in proptest::array::uniform4(-80.0_f64..400.0),
        logs in proptest::array::uniform3(-6.0_f64..2.0),
    ) {
        let [one, other, third] = [0, 1, 2].map(|i| at(temperatures[i], 10_f64.powf(logs[i])));
        let walther = Walther::through(one, other).and_then(|oil| oil.viscosity_m2_s(temperatures[3]));
        let vogel = Vogel::through([one, other, third]).and_then(|oil| oil.viscosity_m2_s(temperatures[3]));
        prop_assert!([walther, vogel].into_iter().flatten().all(|viscosity| viscosity > 2e-6 && viscosity <= 20.001));
    }

    /// No text breaks the reader, and what it reads shows as it is read again.
    #[test]
    fn any_text(text in "[ 0-9swaeWAES–-]{0,9}|.{0,12}") {
        if let Ok(grade) = text.parse::<Grade>() {
            prop_assert_eq!(grade.to_string().parse::<Grade>(), Ok(grade));
        }
    }
}
