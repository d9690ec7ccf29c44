//! What holds for every calendar, every curve and every history.

use jiff::SignedDuration;
use jiff::civil::{Date, date};
use proptest::collection::vec;
use proptest::prelude::*;
use witnessmark::plan::{
    Calendar, Delivery, Hours, Lead, Promises, ThreePoint, Worked, bench_hours, days_between, how_far_off,
};

const START: Date = date(2026, 3, 2);

fn after(days: i64) -> Date {
    START.saturating_add(SignedDuration::from_hours(24 * days))
}

fn any_calendar() -> impl Strategy<Value = Calendar> {
    let hours = prop_oneof![2 => Just(0.0), 3 => Just(8.0), 2 => 0.1_f64..12.0];
    let closed = vec((0_i64..400).prop_map(after), 0..20);
    (vec(hours, 7), closed).prop_filter_map("works at all", |(week, closed)| {
        Calendar::new(week.try_into().expect("seven days"), closed).ok()
    })
}

fn any_three() -> impl Strategy<Value = ThreePoint> {
    (0.0_f64..50.0, 0.0_f64..50.0, 0.0_f64..100.0)
        .prop_filter_map("some time", |(a, m, b)| ThreePoint::new(a, a + m, a + m + b).ok())
}

/// Days promised and days it took.
fn any_history() -> impl Strategy<Value = Vec<(i64, i64)>> {
    vec((1_i64..90, 0_i64..200), 1..12)
}

fn deliveries(history: &[(i64, i64)]) -> Vec<Delivery> {
    let delivery = |&(promised, taken)| Delivery { ordered: START, promised: after(promised), received: after(taken) };
    history.iter().map(delivery).collect()
}

fn kept(history: &[(i64, i64)]) -> Promises {
    Promises::kept(&deliveries(history)).expect("a history")
}

proptest! {
    #[test]
    fn hours_to_a_day_are_worked_by_the_end_of_it(calendar in any_calendar(), start in 0_i64..400, days in 0_i64..800) {
        let (start, end) = (after(start), after(start + days));
        let hours = calendar.hours_to(start, end).expect("within twenty years");
        let back = calendar.end_of(start, hours).expect("within twenty years");
        // The same day, or the last open one before it.
        prop_assert!(back <= end);
        let between = (days_between(start, back) + 1..=days).map(|day| start.saturating_add(SignedDuration::from_hours(24 * day)));
        prop_assert!(between.map(|day| calendar.hours_on(day)).all(|hours| hours == 0.0));
        prop_assert!(back == start || calendar.hours_on(back) > 0.0);
    }

    #[test]
    fn a_day_is_found_for_hours_and_holds_them(calendar in any_calendar(), start in 0_i64..400, hours in 0.0_f64..300.0) {
        let start = after(start);
        let end = calendar.end_of(start, hours).expect("within twenty years");
        prop_assert!(calendar.hours_to(start, end).expect("hours") >= hours - 1e-6);
        if end > start {
            let before = end.yesterday().expect("a day");
            prop_assert!(calendar.hours_to(start, before).expect("hours") < hours);
        }
    }

    #[test]
    fn more_hours_never_end_earlier(calendar in any_calendar(), hours in 0.0_f64..300.0, more in 0.0_f64..50.0) {
        prop_assert!(calendar.end_of(START, hours + more).expect("a day") >= calendar.end_of(START, hours).expect("a day"));
    }

    #[test]
    fn a_share_of_hours_is_found_again(three in any_three(), share in 0.001_f64..0.999) {
        let hours = Hours::pert(&three);
        let at = hours.quantile(share);
        prop_assert!((three.least()..=three.most()).contains(&at));
        if three.most() > three.least() {
            prop_assert!((hours.share_within(at) - share).abs() < 1e-6);
        }
        prop_assert!((hours.mean() - three.mean()).abs() <= 1e-4 * three.most());
    }

    #[test]
    fn the_rest_of_work_is_finite_and_what_is_left(three in any_three(), spent in 0.0_f64..300.0, share in 0.0_f64..=1.0) {
        let hours = Hours::pert(&three);
        let rest = hours.rest_after(spent).expect("a rest");
        let left = rest.quantile(share);
        prop_assert!(left.is_finite() && left >= 0.0);
        let gone = hours.share_within(spent);
        if gone < 0.999 && three.most() > three.least() {
            let expected = hours.quantile(gone + share * (1.0 - gone)) - spent;
            prop_assert!((left - expected).abs() < 1e-4 * three.most(), "{left} {expected}");
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn one_order_that_came_later_moves_the_even_date_later(
        history in any_history(), which in any::<prop::sample::Index>(), more in 1_i64..100
    ) {
        let mut later = history.clone();
        let which = which.index(history.len());
        later[which].1 = later[which].1.max(1) + more;
        prop_assert!(kept(&later).ratio(0.5) > kept(&history).ratio(0.5));
    }

    /// All late by one more factor: whatever is judged beforehand, every share that matters comes later.
    #[test]
    fn a_later_history_gives_later_days(
        late in vec((1_i64..60, 2_i64..4), 1..8), factor in 2_i64..5, share in 0.5_f64..0.99
    ) {
        let took = |factor: i64| late.iter().map(|&(days, late)| (days, days * late * factor)).collect::<Vec<_>>();
        let (before, later) = (kept(&took(1)), kept(&took(factor)));
        prop_assert!(later.ratio(share) > before.ratio(share));
        let day = |promises: &Promises| promises.lead(START, after(21)).expect("a lead").from_order().quantile(share);
        prop_assert!(day(&later) >= day(&before));
    }

    #[test]
    fn what_is_still_out_comes_tomorrow_or_later(
        history in any_history(), promised in 0_i64..90, waited in 0_i64..900, share in 0.0_f64..=1.0
    ) {
        let lead = kept(&history).lead(START, after(promised)).expect("a lead");
        let days = lead.still_out(START, after(waited)).expect("days");
        prop_assert!(days.quantile(share) >= 1 && days.on_time() >= 1);
        prop_assert!((0..1200).all(|day| days.share_by(day) <= days.share_by(day + 1)));
        prop_assert_eq!((days.share_by(0), days.share_by(1096)), (0.0, 1.0));
        prop_assert!(days.mean().is_finite());
    }

    /// The longer it is overdue, the longer the rest is likely to be.
    #[test]
    fn what_is_overdue_is_not_about_to_come(history in any_history(), overdue in 60_i64..300) {
        let lead = kept(&history).lead(START, after(20)).expect("a lead");
        let rest = |waited: i64| lead.still_out(START, after(waited)).expect("days").quantile(0.5);
        prop_assert!(rest(3 * overdue) >= rest(overdue));
    }

    #[test]
    fn usual_leads_follow_what_came(three in any_three(), taken in vec(0_u16..400, 1..8), more in 1_u16..100) {
        let later: Vec<u16> = taken.iter().map(|&days| days.max(1) + more).collect();
        let days = |taken: &[u16]| Lead::usual(&three, taken).from_order();
        prop_assert!(days(&later).quantile(0.5) >= days(&taken).quantile(0.5));
        prop_assert!(days(&taken).mean().is_finite());
    }

    #[test]
    fn work_that_took_longer_takes_longer(
        three in any_three(), worked in vec((0.5_f64..40.0, 0.1_f64..4.0), 1..8), factor in 1.01_f64..3.0
    ) {
        let even = |factor: f64| {
            let history: Vec<Worked> = worked
                .iter()
                .map(|&(planned_hours, ratio)| Worked { planned_hours, actual_hours: planned_hours * ratio * factor })
                .collect();
            bench_hours(&three, &history).expect("a curve").quantile(0.5)
        };
        let (before, later) = (even(1.0), even(factor));
        prop_assert!(later > before && later.is_finite() && before > 0.0);
        prop_assert!(later < before * factor, "what is expected beforehand holds back");
    }

    /// Much history of the same ratio outweighs what was expected.
    #[test]
    fn enough_history_is_believed(three in any_three(), ratio in 0.5_f64..2.0) {
        let worked = vec![Worked { planned_hours: 10.0, actual_hours: 10.0 * ratio }; 2000];
        let hours = bench_hours(&three, &worked).expect("a curve");
        prop_assert!((hours.quantile(0.5) / (ratio * three.mean()) - 1.0).abs() < 0.01);
    }

    #[test]
    fn how_far_off_is_always_said(days in -4000_i64..4000) {
        let said = how_far_off(START, after(days));
        prop_assert_eq!(said.ends_with("late"), days < 0);
        prop_assert!(!said.starts_with("no ") && !said.starts_with('-'), "{}", said);
    }
}
