//! Combining uncertainty (JCGM 100:2008, the GUM) and deciding on conformity (JCGM 106:2012).

use std::collections::BTreeMap;

use statrs::distribution::{ContinuousCDF, Normal};
use witnessmark::metrology::{
    Band, Estimate, Measured, Rule, Source, Verdict, conformity, judge, propagate, resolution_u,
};

use crate::assert_close;

fn measured(value: f64, parts: &[(&str, f64)]) -> Measured {
    let parts = parts.iter().map(|&(name, u)| (Source::Study(name.into()), u)).collect::<BTreeMap<_, _>>();
    Measured::new(value, parts).expect("finite")
}

/// JCGM 100:2008, example H.1: an end gauge compared with a standard. Its model `l = l_s + d − l_s(δα·θ + α_s·δθ)`, its
/// inputs and its table of contributions, in nm; published u = 32 nm, 31.7 before rounding. Contributions and
/// results as quoted by the documentation of the GTC library; the inputs behind them from memory.
#[test]
fn an_end_gauge_by_comparison() {
    let standard = measured(50_000_623.0, &[("standard", 25.0)]);
    let difference = measured(215.0, &[("repeat", 5.8), ("random", 3.9), ("systematic", 6.7)]);
    let expansion_difference = measured(0.0, &[("expansion difference", 0.58e-6)]);
    let deviation = measured(-0.1, &[("temperature", 0.41)]);
    let expansion = measured(11.5e-6, &[("expansion", 1.2e-6)]);
    let temperature_difference = measured(0.0, &[("temperature difference", 0.029)]);
    let length = propagate(
        &[&standard, &difference, &expansion_difference, &deviation, &expansion, &temperature_difference],
        |x| x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]),
    )
    .expect("finite");
    assert_close(length.value(), 50_000_838.0, 0.5);
    assert_close(length.u(), 31.7, 0.05);
    let part = |name: &str| length.parts().get(&Source::Study(name.into())).copied().unwrap_or_default().abs();
    assert_close(part("standard"), 25.0, 0.05);
    assert_close(part("expansion difference"), 2.9, 0.05);
    assert_close(part("temperature difference"), 16.6, 0.1);
    assert_close(part("expansion"), 0.0, 0.05);
}

/// The same example's effective degrees of freedom, JCGM 100:2008, H.1.6: contributions 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm with
/// 18, 24, 5, 8, 50 and 2 degrees of freedom give `ν_eff` = 16.7, truncated to 16; the contributions are rounded in the table, which alone moves it between 16.64 and
/// 16.75 (worked independently). What has none counts as certain.
#[test]
fn effective_degrees_of_freedom() {
    let table = [(25.0, 18.0), (5.8, 24.0), (3.9, 5.0), (6.7, 8.0), (2.9, 50.0), (16.6, 2.0)];
    let mut length = Measured::exact(0.0).expect("finite");
    for (number, (u, freedom)) in table.into_iter().enumerate() {
        let source = Source::Reading(number.to_string().into());
        length = length
            .with_part(source.clone(), u)
            .expect("finite")
            .estimated(&source, Estimate { of: number.to_string(), share: 1.0, freedom });
    }
    assert_close(length.u(), 31.7, 0.05);
    let freedom = length.effective_freedom().expect("few readings");
    assert_close(freedom, 16.7, 0.06);
    assert_close(freedom.floor(), 16.0, 0.0);
    let certain = length.with_part(Source::Maker("a figure".into()), 31.7).expect("finite");
    assert!(certain.effective_freedom().expect("still") > 60.0);
}

/// JCGM 100:2008, example H.2: resistance, reactance and impedance from V, I and φ that were read together, so that they are
/// correlated: r(V,I) = −0.36, r(V,φ) = 0.86, r(I,φ) = −0.65. Published: R 127.732 ± 0.071, X 219.847 ± 0.295, Z 254.260 ±
/// 0.236 Ω. The correlation is laid into shared sources (the lower Cholesky factor of the correlation matrix).
/// Inputs and results from memory.
#[test]
fn three_results_from_inputs_that_share_sources() {
    let (r_vi, r_vp, r_ip): (f64, f64, f64) = (-0.36, 0.86, -0.65);
    let second = (1.0 - r_vi * r_vi).sqrt();
    let across = (r_ip - r_vp * r_vi) / second;
    let third = (1.0 - r_vp * r_vp - across * across).sqrt();
    let (u_v, u_i, u_p) = (0.0032, 0.0095e-3, 0.00075);
    let volts = measured(4.9990, &[("a", u_v)]);
    let amperes = measured(19.6610e-3, &[("a", u_i * r_vi), ("b", u_i * second)]);
    let phase = measured(1.04446, &[("a", u_p * r_vp), ("b", u_p * across), ("c", u_p * third)]);
    let inputs = [&volts, &amperes, &phase];
    for (value, u, f) in [
        (127.732, 0.071, (|x: &[f64]| x[0] / x[1] * x[2].cos()) as fn(&[f64]) -> f64),
        (219.847, 0.295, |x| x[0] / x[1] * x[2].sin()),
        (254.260, 0.236, |x| x[0] / x[1]),
    ] {
        let found = propagate(&inputs, f).expect("finite");
        assert_close(found.value(), value, 0.002);
        assert_close(found.u(), u, 0.002);
    }
}

/// JCGM 100:2008, F.2.2.1: a digital step δx gives u = 0.29 δx.
#[test]
fn resolution() {
    assert_close(resolution_u(1.0), 0.29, 0.0014);
}

/// A clearance read directly: repeat 1.3, transfer of the setting 1.5, a step of a tenth (2.54/√12) and 1 K either way on 65
/// mm of steel (0.4316), in µm: u 2.1596, U = 4.3192 (worked independently in numpy).
#[test]
fn a_direct_clearance() {
    let temperature = 11.5e-6 * 65e3 / 3_f64.sqrt();
    let clearance = measured(
        50.0,
        &[("repeat", 1.3), ("transfer", 1.5), ("step", resolution_u(2.54)), ("temperature", temperature)],
    );
    assert_close(clearance.u(), 2.159_603_1, 1e-6);
    assert_close(clearance.expanded(2.0), 4.319_206_2, 2e-6);
}

/// JCGM 106:2012, 7.4: an oil's viscosity y = 13.6, u = 1.8, limits 12.5 and 16.3 mm²/s: p = 0.66 (0.6626 by scipy).
#[test]
fn the_probability_of_conformity() {
    let viscosity = measured(13.6, &[("laboratory", 1.8)]);
    let band = Band::new(Some(12.5), Some(16.3)).expect("a band");
    assert_close(conformity(&viscosity, &band), 0.662_629_79, 1e-8);
}

/// The same over a whole range of cases by statrs 0.19, far tails included.
#[test]
fn conformity_as_a_reference_library_has_it() {
    let (low, high) = (2.0, 3.0);
    let band = Band::new(Some(low), Some(high)).expect("a band");
    for u in [0.01, 0.1, 0.4, 2.0] {
        for tenth in 0..60 {
            let y = f64::from(tenth) / 10.0;
            let normal = Normal::new(y, u).expect("a distribution");
            assert_close(conformity(&measured(y, &[("u", u)]), &band), normal.cdf(high) - normal.cdf(low), 1e-9);
        }
    }
}

/// ISO 14253-1: conformity is claimed where the value lies inside by U, nonconformity where it lies outside by U, and
/// neither between. With U = 2u the claim is right with at least 97.7 % on one limit: Φ(2) = 0.97725 (any normal table).
#[test]
fn guarded_claims_are_right_at_least_so_often() {
    let at_least = Band::new(Some(10.0), None).expect("a band");
    let at = |value: f64| measured(value, &[("u", 0.1)]);
    assert_close(conformity(&at(10.2), &at_least), 0.977_25, 1e-5);
    assert_eq!(judge(&at(10.201), &at_least, Rule::Guarded).verdict, Verdict::Good);
    assert_eq!(judge(&at(10.199), &at_least, Rule::Guarded).verdict, Verdict::OnTheLine);
}
