//! The simulation against an independent one and against closed forms. Tolerances are four standard errors of the trials
//! or the part that the reference states for itself.

use std::num::{NonZeroU32, NonZeroUsize};

use jiff::civil::{Date, date};
use statrs::distribution::{Beta, ContinuousCDF, LogNormal, Normal};
use witnessmark::plan::{Calendar, Forecast, Hours, Job, Simulation, Takes, Task, ThreePoint};

use crate::{assert_close, assert_near};

const TODAY: Date = date(2026, 3, 2);
const TRIALS: u32 = 40_000;

fn bench(key: u64, after: &[usize], hours: Hours) -> Task {
    Task { key, after: after.to_vec(), takes: Takes::Bench(hours) }
}

/// With hands for everything, as the critical path has it.
fn forecast(tasks: Vec<Task>) -> Forecast {
    let calendar = Calendar::new([24.0; 7], []).expect("a calendar");
    let trials = NonZeroU32::new(TRIALS).expect("trials");
    let simulation = Simulation { calendar: &calendar, today: TODAY, hands: NonZeroUsize::MAX, seed: 12345, trials };
    simulation.forecast(&[Job { tasks }]).expect("a forecast").remove(0)
}

fn pert(least: f64, likely: f64, most: f64) -> Hours {
    Hours::pert(&ThreePoint::new(least, likely, most).expect("three figures"))
}

/// A distribution handed in as points of its own cumulative curve, its outermost 10⁻⁴ at each end cut off.
fn tabled(distribution: &impl ContinuousCDF<f64, f64>) -> Hours {
    let (from, to) = (distribution.inverse_cdf(1e-4), distribution.inverse_cdf(1.0 - 1e-4));
    let at = |index: i32| from + (to - from) * f64::from(index) / 1000.0;
    let mut points: Vec<(f64, f64)> = (0..=1000).map(|index| (at(index), distribution.cdf(at(index)))).collect();
    points[0].1 = 0.0;
    points[1000].1 = 1.0;
    Hours::of_curve(&points).expect("a curve")
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn deviation(values: &[f64]) -> f64 {
    let mean = mean(values);
    (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / values.len() as f64).sqrt()
}

/// That the trials lie below the values of these shares as often as they should.
#[track_caller]
fn follows(forecast: &Forecast, quantile: impl Fn(f64) -> f64) {
    for share in [0.05, 0.2, 0.5, 0.8, 0.95] {
        let below = forecast.hours().partition_point(|&hours| hours <= quantile(share));
        let error = (share * (1.0 - share) / f64::from(TRIALS)).sqrt();
        assert_close(below as f64 / f64::from(TRIALS), share, 4.0 * error + 1e-4);
    }
}

/// Independent computation of an engine build in days: beta-PERT, 200 000 trials of another generator.
///
/// Mean, spread and quantiles to half a part in a hundred as stated there; shares to four standard errors of both.
#[test]
fn an_engine_build_as_computed_independently() {
    let all = forecast(vec![
        bench(0, &[], pert(1.0, 1.0, 2.0)),
        bench(1, &[0], pert(10.0, 15.0, 40.0)),
        bench(2, &[0], pert(1.0, 2.0, 3.0)),
        bench(3, &[2], pert(5.0, 8.0, 15.0)),
        bench(4, &[1], pert(3.0, 5.0, 10.0)),
        bench(5, &[3, 1], pert(2.0, 3.0, 5.0)),
        bench(6, &[5, 4], pert(1.0, 2.0, 4.0)),
        bench(7, &[6], pert(3.0, 4.0, 6.0)),
        bench(8, &[7], pert(1.0, 1.0, 2.0)),
    ]);
    assert_near(mean(all.hours()), 32.518, 0.005);
    assert_near(deviation(all.hours()), 5.272, 0.015);
    for (share, days) in [(0.1, 26.23), (0.5, 31.8), (0.8, 36.98), (0.9, 39.93), (0.95, 42.34)] {
        assert_near(all.quantile_hours(share), days, 0.005);
    }
    let within = all.hours().partition_point(|&hours| hours <= 32.5);
    assert_close(within as f64 / f64::from(TRIALS), 0.5487, 0.011);
    assert_close(all.decides()[1], 0.987, 0.0025);
    assert_close(all.decides()[3], 0.0135, 0.0025);
    assert_close(all.decides()[5], 0.0427, 0.0045);
    assert_eq!(all.decides().last(), Some(&1.0));
}

/// The curve drawn from, against the beta distribution of statrs 0.19.
#[test]
fn the_curve_of_three_figures_is_beta() {
    for (least, likely, most) in [(10.0, 15.0, 40.0), (1.0, 1.0, 2.0), (0.0, 6.0, 6.0), (2.0, 3.0, 4.0)] {
        let expected = ThreePoint::new(least, likely, most).expect("three figures");
        let hours = Hours::pert(&expected);
        let range = most - least;
        let (alpha, beta) = (1.0 + 4.0 * (likely - least) / range, 1.0 + 4.0 * (most - likely) / range);
        let reference = Beta::new(alpha, beta).expect("a beta distribution");
        for index in 0..=100 {
            let x = f64::from(index) / 100.0;
            assert_close(hours.share_within(least + range * x), reference.cdf(x), 1e-4);
        }
        assert_near(hours.mean(), expected.mean(), 1e-5);
    }
}

#[test]
fn a_sum_of_normals_is_normal() {
    let normal = |mean, deviation| Normal::new(mean, deviation).expect("a normal distribution");
    let all = forecast(vec![
        bench(1, &[], tabled(&normal(20.0, 2.0))),
        bench(2, &[0], tabled(&normal(40.0, 6.0))),
        bench(3, &[1], tabled(&normal(30.0, 3.0))),
    ]);
    follows(&all, |share| normal(90.0, 7.0).inverse_cdf(share));
    assert_eq!(all.decides(), [1.0, 1.0, 1.0]);
}

#[test]
fn one_lognormal_is_itself() {
    let lognormal = LogNormal::new(2.0, 0.5).expect("a lognormal distribution");
    follows(&forecast(vec![bench(1, &[], tabled(&lognormal))]), |share| lognormal.inverse_cdf(share));
}

/// Both of two alike are done by x with the chance F(x)²; each is the later one in half the trials.
#[test]
fn the_later_of_two() {
    let lognormal = LogNormal::new(2.0, 0.5).expect("a lognormal distribution");
    let end = Hours::fixed(0.0).expect("hours");
    let tasks = vec![bench(1, &[], tabled(&lognormal)), bench(2, &[], tabled(&lognormal)), bench(3, &[0, 1], end)];
    let all = forecast(tasks);
    follows(&all, |share| lognormal.inverse_cdf(share.sqrt()));
    assert_close(all.decides()[0], 0.5, 0.01);
    assert_close(all.decides()[0] + all.decides()[1], 1.0, 1e-12);
}

/// The sum of two exponentials of the same rate: 1 − (1 + λx)·e^(−λx).
#[test]
fn a_sum_of_two_exponentials() {
    let points = (0..=2000).map(|index| f64::from(index) / 100.0);
    let mut points: Vec<(f64, f64)> = points.map(|x| (x, 1.0 - (-x).exp())).collect();
    points[2000].1 = 1.0;
    let exponential = Hours::of_curve(&points).expect("a curve");
    let all = forecast(vec![bench(1, &[], exponential.clone()), bench(2, &[0], exponential)]);
    for x in [0.3_f64, 1.0, 2.0, 4.0] {
        let share = 1.0 - (1.0 + x) * (-x).exp();
        let below = all.hours().partition_point(|&hours| hours <= x) as f64 / f64::from(TRIALS);
        assert_close(below, share, 4.0 * (share * (1.0 - share) / f64::from(TRIALS)).sqrt() + 1e-4);
    }
}

/// With one pair of hands two steps that could go side by side add up: the sum of two even ones is a triangle, the
/// later of them would be x².
#[test]
fn one_pair_of_hands_adds_what_two_would_do_side_by_side() {
    let even = Hours::of_curve(&[(0.0, 0.0), (1.0, 1.0)]).expect("a curve");
    let calendar = Calendar::new([24.0; 7], []).expect("a calendar");
    let trials = NonZeroU32::new(TRIALS).expect("trials");
    let jobs = [Job { tasks: vec![bench(1, &[], even.clone()), bench(2, &[], even)] }];
    let by = |hands: usize| {
        let hands = NonZeroUsize::new(hands).expect("hands");
        let floor = Simulation { calendar: &calendar, today: TODAY, hands, seed: 3, trials };
        floor.forecast(&jobs).expect("a forecast").remove(0)
    };
    follows(&by(2), f64::sqrt);
    follows(&by(1), |share| if share < 0.5 { (2.0 * share).sqrt() } else { 2.0 - (2.0 - 2.0 * share).sqrt() });
}
