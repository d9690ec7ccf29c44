//! Viscosity over temperature, and SAE J300.

use witnessmark::mechanics::oil::{
    Grade, Kinematic, NoGrade, OilFault, Summer, Vogel, Walther, Winter, density_kg_m3, dynamic_pa_s,
};

use crate::{assert_close, assert_near};

fn at(temperature_c: f64, mm2_s: f64) -> Kinematic {
    Kinematic { temperature_c, viscosity_m2_s: mm2_s / 1e6 }
}

fn walther(v40: f64, v100: f64) -> Walther {
    Walther::through(at(40.0, v40), at(100.0, v100)).unwrap()
}

fn mm2_s(oil: &Walther, temperature_c: f64) -> f64 {
    oil.viscosity_m2_s(temperature_c).unwrap() * 1e6
}

/// ASTM D341, worked independently: a thin oil with K = °C + 273.15.
#[test]
fn d341_thin() {
    let oil = walther(32.0, 5.4);
    assert_near(oil.a, 9.5308151, 1e-8);
    assert_near(oil.b, 3.7465784, 1e-8);
    assert_near(mm2_s(&oil, 80.0), 8.5332147, 1e-7);
    assert_near(mm2_s(&oil, 120.0), 3.7238613, 1e-7);
}

/// ASTM D341, worked independently: an SAE 30 and a 10W-30 (illustrative oils), 870 kg/m³ at 15 °C.
#[test]
fn d341_engine_oils() {
    let oil = walther(93.0, 10.9);
    assert_near(oil.a, 9.0713683, 1e-8);
    assert_near(oil.b, 3.5165823, 1e-8);
    for (celsius, expected) in
        [(20.0, 306.07222), (40.0, 93.0), (60.0, 37.84609), (90.0, 14.130534), (120.0, 6.9897469), (150.0, 4.1310909)]
    {
        assert_near(mm2_s(&oil, celsius), expected, 1e-7);
    }
    let dynamic = |oil: &Walther| dynamic_pa_s(oil.viscosity_m2_s(120.0).unwrap(), density_kg_m3(870.0, 120.0));
    assert_near(dynamic(&oil), 5.6660461e-3, 1e-7);
    let oil = walther(69.0, 10.5);
    assert_near(oil.a, 8.2878894, 1e-8);
    assert_near(oil.b, 3.214385, 1e-7);
    for (celsius, expected) in [(20.0, 189.33486), (60.0, 31.705204), (90.0, 13.262127), (150.0, 4.3161021)] {
        assert_near(mm2_s(&oil, celsius), expected, 1e-7);
    }
    assert_near(dynamic(&oil), 5.6833413e-3, 1e-7);
}

#[test]
fn d341_outside_what_it_covers() {
    let fault = |one, other| Walther::through(one, other).unwrap_err();
    assert_eq!(fault(at(40.0, 32.0), at(100.0, 2.0)), OilFault::Viscosity);
    assert_eq!(fault(at(40.0, 32.0), at(100.0, 32.0)), OilFault::NotThinner);
    assert_eq!(fault(at(40.0, 5.4), at(100.0, 32.0)), OilFault::NotThinner);
    assert_eq!(fault(at(40.0, 32.0), at(40.5, 31.0)), OilFault::TooClose);
    assert_eq!(fault(at(-300.0, 32.0), at(100.0, 5.4)), OilFault::Temperature(-300.0));
    assert_eq!(walther(32.0, 5.4).viscosity_m2_s(200.0), Err(OilFault::Viscosity));
    assert_eq!(walther(93.0, 10.9).viscosity_m2_s(-70.0), Err(OilFault::Viscosity));
    assert_eq!(walther(32.0, 5.4), Walther::through(at(100.0, 5.4), at(40.0, 32.0)).unwrap());
}

/// Independent computation (numerical solution of the three equations): 0.090405 mm²/s, 930.269 K, −94.1208 °C.
#[test]
fn vogel() {
    let measured = [at(40.0, 93.0), at(70.0, 26.173379), at(100.0, 10.9)];
    let oil = Vogel::through(measured).unwrap();
    assert_near(oil.a_m2_s * 1e6, 0.090405094, 1e-5);
    assert_near(oil.b_k, 930.26898, 1e-6);
    assert_near(oil.c_c, -94.120778, 1e-6);
    assert_near(oil.viscosity_m2_s(120.0).unwrap() * 1e6, 6.9667207, 1e-6);
    let [one, other, third] = measured;
    assert_eq!(Vogel::through([third, one, other]).unwrap(), oil);
}

#[test]
fn vogel_outside_what_it_covers() {
    let fault = |v70: f64| Vogel::through([at(40.0, 93.0), at(70.0, v70), at(100.0, 10.9)]).unwrap_err();
    assert_eq!(fault(60.0), OilFault::NotBent);
    assert_eq!(fault(93.0), OilFault::NotThinner);
    assert_eq!(fault(10.0), OilFault::NotThinner);
    let oil = Vogel::through([at(40.0, 93.0), at(70.0, 26.173379), at(100.0, 10.9)]).unwrap();
    assert_eq!(oil.viscosity_m2_s(-95.0), Err(OilFault::Temperature(-95.0)));
    assert_eq!(oil.viscosity_m2_s(-69.0), Err(OilFault::Viscosity));
}

fn grade(text: &str) -> Grade {
    text.parse().unwrap()
}

/// SAE J300 (Jan 2015), read on two public reproductions of its table.
#[test]
fn j300_hot() {
    for (text, min, below, high_shear) in [
        ("8", 4.0, 6.1, 1.7),
        ("12", 5.0, 7.1, 2.0),
        ("16", 6.1, 8.2, 2.3),
        ("20", 6.9, 9.3, 2.6),
        ("30", 9.3, 12.5, 2.9),
        ("40", 12.5, 16.3, 3.7),
        ("50", 16.3, 21.9, 3.7),
        ("60", 21.9, 26.1, 3.7),
    ] {
        let grade = grade(text);
        let range = grade.summer().unwrap().at_100();
        assert_near(range.min_m2_s * 1e6, min, 1e-12);
        assert_near(range.below_m2_s * 1e6, below, 1e-12);
        assert_near(range.middle_m2_s() * 1e6, f64::midpoint(min, below), 1e-12);
        assert_near(grade.min_high_shear_pa_s().unwrap() * 1000.0, high_shear, 1e-12);
    }
    for (text, high_shear) in [
        ("0W-40", 3.5),
        ("5W-40", 3.5),
        ("10W-40", 3.5),
        ("15W-40", 3.7),
        ("20W-40", 3.7),
        ("25W-40", 3.7),
        ("10W-50", 3.7),
    ] {
        assert_near(grade(text).min_high_shear_pa_s().unwrap() * 1000.0, high_shear, 1e-12);
    }
}

/// SAE J300 (Jan 2015), as above.
#[test]
fn j300_cold() {
    for (text, max, celsius) in [
        ("0W-20", 6200.0, -35.0),
        ("5W-30", 6600.0, -30.0),
        ("10W-40", 7000.0, -25.0),
        ("15W-40", 7000.0, -20.0),
        ("20W-50", 9500.0, -15.0),
        ("25W", 13000.0, -10.0),
    ] {
        let cranking = grade(text).winter().unwrap().cranking();
        assert_near(cranking.max_pa_s * 1000.0, max, 1e-12);
        assert_close(cranking.temperature_c, celsius, 0.0);
    }
}

#[test]
fn grades_as_written() {
    assert_eq!(grade("10W-40"), Grade::Multi(Winter::W10, Summer::S40));
    assert_eq!(grade(" sae 10w40 "), Grade::Multi(Winter::W10, Summer::S40));
    assert_eq!(grade("20W – 50"), Grade::Multi(Winter::W20, Summer::S50));
    assert_eq!(grade("SAE 30"), Grade::Mono(Summer::S30));
    assert_eq!(grade("SAE 20W"), Grade::Cold(Winter::W20));
    assert_eq!(grade("20W").min_high_shear_pa_s(), None);
    for text in ["10W-40", "0W-8", "SAE 30", "SAE 25W"] {
        assert_eq!(grade(text).to_string(), text);
    }
    for text in ["", "W", "10W--40", "30W", "10W-35", "SAE", "10", "40-10W", "10W-40W", "75W-90"] {
        assert_eq!(text.parse::<Grade>(), Err(NoGrade(text.to_owned())), "{text}");
    }
}
