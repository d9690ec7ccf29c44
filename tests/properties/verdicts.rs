//! Verdicts are symmetric, do not depend on the unit, and agree with their own margins.

use proptest::prelude::*;
use witnessmark::metrology::{Band, Judgement, Measured, Rule, Source, Verdict, conformity, judge, judge_range};

fn value(value: f64, u: f64) -> Measured {
    Measured::exact(value).unwrap().with_part(Source::Reading("1".into()), u).unwrap()
}

fn any_rule() -> impl Strategy<Value = Rule> {
    proptest::sample::select(vec![Rule::Simple, Rule::Guarded])
}

/// Limits at least 0.1 apart, values around them.
fn any_case() -> impl Strategy<Value = (f64, f64, f64, f64)> {
    (-10.0_f64..10.0, 0.1_f64..5.0, -20.0_f64..20.0, 0.001_f64..2.0)
        .prop_map(|(min, width, y, u)| (min, min + width, y, u))
}

proptest! {
    #[test]
    fn mirrored((min, max, y, u) in any_case(), rule in any_rule()) {
        let one = judge(&value(y, u), &Band::new(Some(min), Some(max)).unwrap(), rule);
        let other = judge(&value(-y, u), &Band::new(Some(-max), Some(-min)).unwrap(), rule);
        prop_assert_eq!(one, other);
    }

    /// The same in inches and in metres.
    #[test]
    fn in_another_unit((min, max, y, u) in any_case(), rule in any_rule()) {
        let one = judge(&value(y, u), &Band::new(Some(min), Some(max)).unwrap(), rule);
        prop_assume!((one.margin.abs() - 2.0 * u).abs() > 1e-6 && one.margin.abs() > 1e-6);
        let scaled = Band::new(Some(min * 0.0254), Some(max * 0.0254)).unwrap();
        let other = judge(&value(y * 0.0254, u * 0.0254), &scaled, rule);
        prop_assert_eq!((one.verdict, one.on_the_line), (other.verdict, other.on_the_line));
        prop_assert!((one.margin * 0.0254 - other.margin).abs() < 1e-12);
    }

    #[test]
    fn the_margin_tells_the_verdict((min, max, y, u) in any_case()) {
        let band = Band::new(Some(min), Some(max)).unwrap();
        let Judgement { verdict, on_the_line, margin } = judge(&value(y, u), &band, Rule::Simple);
        prop_assert_eq!(verdict, if margin >= 0.0 { Verdict::Good } else { Verdict::Out });
        prop_assert_eq!(verdict == Verdict::Good, min <= y && y <= max);
        let guarded = judge(&value(y, u), &band, Rule::Guarded);
        prop_assert_eq!(guarded.verdict == Verdict::OnTheLine, on_the_line);
        prop_assert!(guarded.verdict == verdict || on_the_line);
    }

    #[test]
    fn a_range_of_one_figure_is_that_figure((min, max, y, u) in any_case(), rule in any_rule()) {
        let band = Band::new(Some(min), Some(max)).unwrap();
        prop_assert_eq!(judge_range(y, y, u, &band, rule), judge(&value(y, u), &band, rule));
    }

    /// A range is never better than a figure within it.
    #[test]
    fn a_range_is_no_better_than_its_inside((min, max, y, u) in any_case(), wide in 0.0_f64..3.0, part in 0.0_f64..1.0) {
        let band = Band::new(Some(min), Some(max)).unwrap();
        let range = judge_range(y, y + wide, u, &band, Rule::Simple);
        prop_assert!(range.margin <= judge(&value(y + part * wide, u), &band, Rule::Simple).margin + 1e-9);
    }

    #[test]
    fn conformity_is_a_probability_and_follows_the_margin((min, max, y, u) in any_case()) {
        let band = Band::new(Some(min), Some(max)).unwrap();
        let p = conformity(&value(y, u), &band);
        prop_assert!((0.0..=1.0).contains(&p));
        let middle = f64::midpoint(min, max);
        prop_assert!(conformity(&value(middle, u), &band) >= p - 1e-12);
    }
}
