//! Propagated uncertainty against Monte Carlo (as JCGM 101:2008 does it), and what correlation must do.

use std::collections::BTreeMap;

use proptest::prelude::*;
use witnessmark::metrology::{Measured, Source, difference, mean, propagate, standard_deviation, sum};

/// Draws per comparison: the standard deviation found is then good to 1/√(2·DRAWS), 0.16 %.
const DRAWS: usize = 200_000;
const AGREES: f64 = 0.01;

/// Normal deviates from a fixed seed: splitmix64 (Steele, Lea and Flood 2014) and the Box–Muller transform.
struct Deviates(u64);

impl Deviates {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.uniform(), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

/// The standard deviation of `f` when each source is one normal deviate, shared by all inputs that have it.
fn by_monte_carlo(inputs: &[&Measured], f: impl Fn(&[f64]) -> f64) -> f64 {
    let mut deviates = Deviates(2);
    let results: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let mut drawn: BTreeMap<&Source, f64> = BTreeMap::new();
            let values: Vec<f64> = inputs
                .iter()
                .map(|input| {
                    let shift = |(source, part)| part * *drawn.entry(source).or_insert_with(|| deviates.normal());
                    input.value() + input.parts().iter().map(shift).sum::<f64>()
                })
                .collect();
            f(&values)
        })
        .collect();
    standard_deviation(&results).expect("many draws")
}

#[track_caller]
fn agrees(inputs: &[&Measured], f: impl Fn(&[f64]) -> f64) {
    let (propagated, drawn) = (propagate(inputs, &f).expect("finite").u(), by_monte_carlo(inputs, &f));
    assert!((propagated / drawn - 1.0).abs() < AGREES, "propagated {propagated}, drawn {drawn}");
}

fn measured(value: f64, own: &str, own_u: f64, shared: &[(&str, f64)]) -> Measured {
    let shared = shared.iter().map(|&(setting, u)| (Source::Setting(setting.into()), u));
    let parts = std::iter::once((Source::Reading(own.into()), own_u)).chain(shared).collect();
    Measured::new(value, parts).expect("finite")
}

/// Housing − 2 × shell − journal, the housing's bore gauge set in the micrometer that read the journal.
#[test]
fn a_bearing_clearance() {
    let housing = measured(64.850e-3, "housing", 1.5e-6, &[("bore gauge", 1.5e-6), ("micrometer", 1.3e-6)]);
    let shell = measured(2.368e-3, "shell", 1.3e-6, &[("ball micrometer", 1.0e-6)]);
    let journal = measured(60.070e-3, "journal", 1.5e-6, &[("micrometer", 1.3e-6)]);
    agrees(&[&housing, &shell, &journal], |x| x[0] - 2.0 * x[1] - x[2]);
}

/// Clearance per inch of journal: a quotient of sizes that share a setting.
#[test]
fn a_clearance_ratio() {
    let bore = measured(60.114e-3, "bore", 1.5e-6, &[("micrometer", 2e-6)]);
    let journal = measured(60.070e-3, "journal", 1.5e-6, &[("micrometer", 2e-6)]);
    agrees(&[&bore, &journal], |x| (x[0] - x[1]) / x[1]);
}

/// Compression ratio from bore, stroke and chamber: products and quotients.
#[test]
fn a_compression_ratio() {
    let bore = measured(101.6e-3, "bore", 2e-6, &[("bore gauge", 5e-6)]);
    let stroke = measured(88.392e-3, "stroke", 20e-6, &[]);
    let clearance_volume = measured(80.2e-6, "chamber", 0.4e-6, &[]);
    agrees(&[&bore, &stroke, &clearance_volume], |x| {
        let swept = std::f64::consts::PI / 4.0 * x[0] * x[0] * x[1];
        (swept + x[2]) / x[2]
    });
}

/// The comparison can fail: forgetting that a source is shared is far outside its tolerance.
#[test]
fn forgetting_a_shared_source_would_show() {
    let (a, b) = (measured(1.0, "a", 1.0, &[("s", 2.0)]), measured(1.0, "b", 1.0, &[("s", 2.0)]));
    let drawn = by_monte_carlo(&[&a, &b], |x| x[0] - x[1]);
    assert!((a.u().hypot(b.u()) / drawn - 1.0).abs() > 0.5, "{drawn}");
}

/// A value with up to four of six sources.
fn any_measured() -> impl Strategy<Value = Measured> {
    let parts = proptest::collection::btree_map(0_u8..6, -10.0_f64..10.0, 0..4);
    (-100.0_f64..100.0, parts).prop_map(|(value, parts)| {
        let parts = parts.into_iter().map(|(n, u)| (Source::Setting(n.to_string().into()), u)).collect();
        Measured::new(value, parts).unwrap()
    })
}

proptest! {
    /// In a linear combination each source contributes the combination of its parts.
    #[test]
    fn linear_combinations(a in any_measured(), b in any_measured(), p in -3.0_f64..3.0, q in -3.0_f64..3.0) {
        let found = propagate(&[&a, &b], |x| p * x[0] + q * x[1]).unwrap();
        for n in 0..6 {
            let source = Source::Setting(n.to_string().into());
            let part = |of: &Measured| of.parts().get(&source).copied().unwrap_or_default();
            prop_assert!((part(&found) - (p * part(&a) + q * part(&b))).abs() < 1e-9);
        }
    }

    #[test]
    fn what_is_wholly_shared_cancels(a in any_measured()) {
        let nothing = difference(&a, &a).unwrap();
        prop_assert!(nothing.u() == 0.0 && nothing.value() == 0.0);
    }

    #[test]
    fn the_mean_does_not_depend_on_order(a in any_measured(), b in any_measured(), c in any_measured()) {
        let (one, other) = (mean(&[&a, &b, &c]).unwrap(), mean(&[&c, &a, &b]).unwrap());
        prop_assert!((one.value() - other.value()).abs() < 1e-9 && (one.u() - other.u()).abs() < 1e-9);
    }

    /// √(u(a)² + u(b)²) without sharing; with it, between the difference and the sum of the two.
    #[test]
    fn a_sum_is_within_what_correlation_allows(a in any_measured(), b in any_measured()) {
        let u = sum(&[&a, &b]).unwrap().u();
        prop_assert!(u <= a.u() + b.u() + 1e-9 && u >= (a.u() - b.u()).abs() - 1e-9);
    }

    /// The same sources, and the same numbers but for the last bit: JSON's reader may miss by that.
    #[test]
    fn through_json_and_back(a in any_measured(), name in ".{0,20}") {
        let a = a.with_part(Source::Material(name.into()), 0.5).unwrap();
        let back: Measured = serde_json::from_str(&serde_json::to_string(&a).unwrap()).unwrap();
        let same = |x: f64, y: f64| (x - y).abs() <= f64::EPSILON * x.abs();
        prop_assert!(same(a.value(), back.value()));
        prop_assert!(a.parts().keys().eq(back.parts().keys()));
        prop_assert!(a.parts().values().zip(back.parts().values()).all(|(&x, &y)| same(x, y)));
    }

    #[test]
    fn sources_as_text_and_back(kind in 0_usize..8, name in ".{0,20}") {
        let make = [Source::Reading, Source::Setting, Source::Master, Source::Temperature, Source::Material, Source::Study,
            Source::Spread, Source::Maker][kind];
        let source = make(name.into());
        prop_assert_eq!(source.to_string().parse::<Source>().unwrap(), source);
    }
}
