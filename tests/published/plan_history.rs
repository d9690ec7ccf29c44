//! How late things come, against the model summed numerically: the prior as it is stated, the likelihood of what came,
//! and nothing of the closed form that the house uses.

use jiff::civil::{Date, date};
use statrs::distribution::{ContinuousCDF, StudentsT};
use witnessmark::plan::{Delivery, LATENESS_WITHIN, Lead, Promises, ThreePoint, USUAL_LATENESS, WORTH};

use crate::{assert_close, assert_near};

const ORDERED: Date = date(2026, 3, 2);

fn after(days: i64) -> Date {
    ORDERED.saturating_add(jiff::SignedDuration::from_hours(24 * days))
}

fn delivery((promised, taken): (i64, i64)) -> Delivery {
    Delivery { ordered: ORDERED, promised: after(promised), received: after(taken) }
}

/// Our own judgement, no source: half come within 1.1 of the promised lead, nine of ten within a factor of 1.8 of that.
#[test]
fn without_history_it_is_as_judged_beforehand() {
    let promises = Promises::kept(&[]).expect("no history");
    assert_near(promises.ratio(0.5), 1.1, 1e-9);
    assert_near(promises.ratio(0.95), 1.1 * 1.8, 1e-4);
    assert_near(promises.ratio(0.05), 1.1 / 1.8, 1e-4);
}

/// Normal density without its constant.
fn bell(x: f64, mean: f64, deviation: f64) -> f64 {
    (-0.5 * ((x - mean) / deviation).powi(2)).exp() / deviation
}

/// The chance that the next logarithm is at most `x`, summed over mean and deviation on a fine grid.
fn summed(seen: &[f64], x: f64) -> f64 {
    // Freedom 6 and the range of nine in ten say the scale of the inverse gamma.
    let scale = LATENESS_WITHIN.ln() / StudentsT::new(0.0, 1.0, 6.0).expect("t").inverse_cdf(0.95);
    let (alpha, beta) = (3.0, 3.0 * scale * scale * WORTH / (WORTH + 1.0));
    let normal = statrs::distribution::Normal::new(0.0, 1.0).expect("a normal distribution");
    let (mut all, mut below) = (0.0, 0.0);
    for row in 0..150 {
        // Even in the logarithm of the deviation, from e⁻⁴ to e².
        let deviation = (-4.0 + 6.0 * (f64::from(row) + 0.5) / 150.0).exp();
        let variance = deviation * deviation;
        let prior = variance.powf(-alpha) * (-beta / variance).exp();
        for column in 0..200 {
            let mean = -4.0 + 8.0 * (f64::from(column) + 0.5) / 200.0;
            let likelihood: f64 = seen.iter().map(|&one| bell(one, mean, deviation)).product();
            let weight = prior * bell(mean, USUAL_LATENESS.ln(), deviation / WORTH.sqrt()) * likelihood;
            all += weight;
            below += weight * normal.cdf((x - mean) / deviation);
        }
    }
    below / all
}

#[test]
fn own_history_corrects_it_as_the_model_says() {
    for history in [&[(10, 14)][..], &[(10, 14), (30, 33), (5, 5)], &[(42, 90), (20, 61), (10, 25), (7, 8), (14, 40)]] {
        let history: Vec<Delivery> = history.iter().copied().map(delivery).collect();
        let promises = Promises::kept(&history).expect("a history");
        let days = |to: Date| (to.duration_since(ORDERED).as_hours() / 24) as f64;
        let seen: Vec<f64> = history.iter().map(|one| (days(one.received) / days(one.promised)).ln()).collect();
        for share in [0.1, 0.5, 0.8, 0.95] {
            assert_close(summed(&seen, promises.ratio(share).ln()), share, 2e-3);
        }
    }
}

/// To one in ten thousand, what is left out at the far end. A day is the one that the lead is nearest to; what is still out on a day has its later days, and their chances.
#[test]
fn days_are_the_distribution_in_whole_days() {
    let scale = LATENESS_WITHIN.ln() / StudentsT::new(0.0, 1.0, 6.0).expect("t").inverse_cdf(0.95);
    let reference = StudentsT::new((1.1_f64 * 20.0).ln(), scale, 6.0).expect("t");
    let lead = Promises::kept(&[]).expect("no history").lead(ORDERED, after(20)).expect("a lead");
    let days = lead.from_order();
    for day in [5, 10, 20, 22, 30, 60] {
        assert_close(days.share_by(day), reference.cdf((day as f64 + 0.5).ln()), 1e-4);
    }
    let out = lead.still_out(ORDERED, after(30)).expect("days");
    let gone = reference.cdf(30.5_f64.ln());
    for day in [1, 5, 20, 60] {
        let expected = (reference.cdf((day as f64 + 30.5).ln()) - gone) / (1.0 - gone);
        assert_close(out.share_by(day), expected, 2e-4);
    }
    assert_eq!((out.share_by(0), out.quantile(0.0), out.on_time()), (0.0, 1, 1));
    assert_eq!(lead.still_out(ORDERED, after(4)).expect("days").on_time(), 16);
}

/// Of a usual range the mean and the variance are kept: log-normal moments, t with six degrees of freedom about them.
#[test]
fn a_usual_range_says_middle_and_spread() {
    let range = ThreePoint::new(14.0, 21.0, 60.0).expect("three figures");
    let variance = (1.0 + range.beta_variance() / range.mean().powi(2)).ln();
    let reference = StudentsT::new(range.mean().ln() - variance / 2.0, variance.sqrt(), 6.0).expect("t");
    let days = Lead::usual(&range, &[]).from_order();
    for day in [10, 20, 40, 80] {
        assert_close(days.share_by(day), reference.cdf((day as f64 + 0.5).ln()), 1e-4);
    }
    assert_eq!(days.on_time(), 14);
}
