//! What holds for every network of steps, by the critical path and by simulation.

use std::num::{NonZeroU32, NonZeroUsize};

use jiff::civil::{Date, date};
use petgraph::algo::is_cyclic_directed;
use petgraph::graph::DiGraph;
use proptest::collection::vec;
use proptest::prelude::*;
use witnessmark::plan::{
    Calendar, CriticalPath, Days, Forecast, Graph, Hours, Job, Simulation, Takes, Task, ThreePoint,
};

const TODAY: Date = date(2026, 3, 2);

/// Up to ten steps, each behind some before it.
fn any_steps() -> impl Strategy<Value = Vec<Vec<usize>>> {
    (1_usize..=10).prop_flat_map(|count| {
        let before = |step: usize| vec(any::<prop::sample::Index>(), 0..=3.min(step));
        let all: Vec<_> = (0..count).map(before).collect();
        all.prop_map(|all| {
            let after = |(step, before): (usize, Vec<prop::sample::Index>)| {
                before.into_iter().map(|one| one.index(step)).collect()
            };
            all.into_iter().enumerate().map(after).collect()
        })
    })
}

/// Any arrows at all, circles among them.
fn any_arrows() -> impl Strategy<Value = Vec<Vec<usize>>> {
    (1_usize..=8).prop_flat_map(|count| vec(vec(0..count, 0..=2), count))
}

fn any_duration() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), (0_u8..40).prop_map(f64::from), 0.0_f64..1000.0]
}

fn any_plan() -> impl Strategy<Value = (Vec<Vec<usize>>, Vec<f64>)> {
    any_steps().prop_flat_map(|after| {
        let count = after.len();
        (Just(after), vec(any_duration(), count))
    })
}

fn any_takes() -> impl Strategy<Value = Takes> {
    let hours = (0.1_f64..10.0, 0.0_f64..10.0, 0.0_f64..20.0);
    let three = hours.prop_map(|(a, m, b)| ThreePoint::new(a, a + m, a + m + b).expect("three figures"));
    prop_oneof![
        1 => Just(Takes::Nothing),
        4 => three.prop_map(|three| Takes::Bench(Hours::pert(&three))),
        2 => (0_u16..60).prop_map(|day| Takes::Wait(Days::fixed(day))),
    ]
}

fn any_job() -> impl Strategy<Value = Job> {
    any_steps().prop_flat_map(|after| {
        let count = after.len();
        vec(any_takes(), count).prop_map(move |takes| {
            let tasks = after.iter().zip(takes).zip(1..);
            let task = |((after, takes), key): ((&Vec<usize>, Takes), u64)| Task { key, after: after.clone(), takes };
            Job { tasks: tasks.map(task).collect() }
        })
    })
}

/// A new place for each of so many steps.
fn any_places(count: usize) -> impl Strategy<Value = Vec<usize>> {
    Just((0..count).collect::<Vec<_>>()).prop_shuffle()
}

/// The list with what stood at `step` at `places[step]`.
fn moved<T: Clone>(list: &[T], places: &[usize]) -> Vec<T> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by_key(|&step| places[step]);
    order.into_iter().map(|step| list[step].clone()).collect()
}

fn renamed(after: &[usize], places: &[usize]) -> Vec<usize> {
    after.iter().map(|&step| places[step]).collect()
}

fn play(jobs: &[Job], hands: usize, seed: u64) -> Vec<Forecast> {
    let calendar = Calendar::new([8.0, 8.0, 0.0, 8.0, 6.5, 0.0, 2.0], [date(2026, 3, 6)]).expect("a calendar");
    let hands = NonZeroUsize::new(hands).expect("hands");
    let trials = NonZeroU32::new(50).expect("trials");
    Simulation { calendar: &calendar, today: TODAY, hands, seed, trials }.forecast(jobs).expect("a forecast")
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

proptest! {
    #[test]
    fn a_circle_is_found_exactly_where_petgraph_finds_one(after in any_arrows()) {
        let arrows = after.iter().enumerate().flat_map(|(step, before)| before.iter().map(move |&one| (one, step)));
        let mut reference = DiGraph::<(), ()>::new();
        let nodes: Vec<_> = after.iter().map(|_| reference.add_node(())).collect();
        for (from, to) in arrows {
            reference.add_edge(nodes[from], nodes[to], ());
        }
        prop_assert_eq!(Graph::new(after).is_err(), is_cyclic_directed(&reference));
    }

    #[test]
    fn floats_are_never_below_zero_and_the_critical_way_is_the_whole((after, durations) in any_plan()) {
        let graph = Graph::new(after).expect("no circle");
        let path = CriticalPath::new(&graph, &durations).expect("durations");
        for (step, t) in path.times.iter().enumerate() {
            prop_assert!(t.total_float >= 0.0 && t.free_float >= 0.0);
            prop_assert!(t.free_float <= t.total_float + 1e-9 * path.length);
            prop_assert!(close(t.latest_finish - t.latest_start, durations[step]));
            prop_assert!(t.latest_finish <= path.length + 1e-9 * path.length);
        }
        // Back from the last end, each critical step begins where another critical one ends, down to the beginning.
        let mut at = path.length;
        let mut left = path.critical.clone();
        while at > 1e-9 * path.length {
            let ends = |step: &usize| close(path.times[*step].earliest_finish, at);
            let step = left.iter().rposition(ends).map(|index| left.remove(index));
            prop_assert!(step.is_some(), "no critical step ends at {at}");
            at = step.map_or(0.0, |step| path.times[step].earliest_start);
        }
    }

    #[test]
    fn the_order_of_entry_changes_no_time(
        ((after, durations), places) in any_plan().prop_flat_map(|plan| {
            let count = plan.0.len();
            (Just(plan), any_places(count))
        })
    ) {
        let path = CriticalPath::new(&Graph::new(after.clone()).expect("no circle"), &durations).expect("durations");
        let after: Vec<Vec<usize>> = after.iter().map(|before| renamed(before, &places)).collect();
        let turned = Graph::new(moved(&after, &places)).expect("no circle");
        let turned = CriticalPath::new(&turned, &moved(&durations, &places)).expect("durations");
        prop_assert_eq!((moved(&path.times, &places), path.length), (turned.times, turned.length));
    }

    #[test]
    fn one_more_to_wait_for_never_brings_the_end_forward(
        (after, durations) in any_plan(), step in any::<prop::sample::Index>(), before in any::<prop::sample::Index>()
    ) {
        let length = |after: Vec<Vec<usize>>| {
            CriticalPath::new(&Graph::new(after).expect("no circle"), &durations).expect("durations").length
        };
        let step = step.index(after.len());
        let mut more = after.clone();
        if step > 0 {
            more[step].push(before.index(step));
        }
        prop_assert!(length(more) >= length(after));
    }

    #[test]
    fn durations_that_are_none_are_refused((after, mut durations) in any_plan(), wrong in prop_oneof![
        Just(f64::NAN), Just(f64::INFINITY), Just(-1.0)
    ]) {
        let graph = Graph::new(after).expect("no circle");
        durations[0] = wrong;
        prop_assert!(CriticalPath::new(&graph, &durations).is_err());
        durations.pop();
        prop_assert!(CriticalPath::new(&graph, &durations).is_err());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_same_seed_gives_the_same_trials(job in any_job(), hands in 1_usize..4, seed in any::<u64>()) {
        let jobs = [job];
        prop_assert_eq!(play(&jobs, hands, seed), play(&jobs, hands, seed));
    }

    #[test]
    fn the_order_of_entry_changes_no_trial(
        (job, places) in any_job().prop_flat_map(|job| {
            let count = job.tasks.len();
            (Just(job), any_places(count))
        }),
        hands in 1_usize..4,
    ) {
        let tasks = job.tasks.iter().map(|task| Task { after: renamed(&task.after, &places), ..task.clone() });
        let turned = Job { tasks: moved(&tasks.collect::<Vec<_>>(), &places) };
        let (as_entered, turned) = (play(&[job], hands, 5).remove(0), play(&[turned], hands, 5).remove(0));
        prop_assert_eq!(as_entered.hours(), turned.hours());
        prop_assert_eq!(as_entered.quantile(0.8), turned.quantile(0.8));
        prop_assert_eq!(moved(as_entered.decides(), &places), turned.decides());
    }

    /// With hands for everything: one pair may gain by an accident of order.
    #[test]
    fn one_more_to_wait_for_brings_no_trial_forward(
        job in any_job(), step in any::<prop::sample::Index>(), before in any::<prop::sample::Index>()
    ) {
        let mut more = job.clone();
        let step = step.index(job.tasks.len());
        if step > 0 {
            more.tasks[step].after.push(before.index(step));
        }
        let (less, more) = (play(&[job], 99, 5).remove(0), play(&[more], 99, 5).remove(0));
        prop_assert!(less.hours().iter().zip(more.hours()).all(|(less, more)| less <= more));
        for share in [0.02, 0.5, 0.8, 1.0] {
            prop_assert!(less.quantile(share) <= more.quantile(share));
        }
    }

    /// No fewer hands than one step after the other, no more than all at once.
    #[test]
    fn one_pair_of_hands_is_between_all_at_once_and_one_after_the_other(job in any_job()) {
        let bench_only = |task: &Task| Task {
            takes: if matches!(task.takes, Takes::Wait(_)) { Takes::Nothing } else { task.takes.clone() },
            ..task.clone()
        };
        let job = Job { tasks: job.tasks.iter().map(bench_only).collect() };
        let most: f64 = job.tasks.iter().map(|task| match &task.takes {
            Takes::Bench(hours) => hours.quantile(1.0),
            _ => 0.0,
        }).sum();
        let mut in_a_row = job.clone();
        for step in 1..in_a_row.tasks.len() {
            in_a_row.tasks[step].after.push(step - 1);
        }
        let [many, one, row] = [(&job, 99), (&job, 1), (&in_a_row, 99)].map(|(job, hands)| {
            play(std::slice::from_ref(job), hands, 5).remove(0)
        });
        for ((many, one), row) in many.hours().iter().zip(one.hours()).zip(row.hours()) {
            prop_assert!(many <= &(one + 1e-9));
            prop_assert!(close(*one, *row), "hands are never idle while there is bench work only");
            prop_assert!(*one <= most + 1e-9);
        }
    }

    /// The chain that decides is as long as the time to the end; every trial has one.
    #[test]
    fn something_decides_every_trial(job in any_job(), hands in 1_usize..4) {
        let forecast = play(&[job], hands, 5).remove(0);
        let sum: f64 = forecast.decides().iter().sum();
        prop_assert!(sum >= 1.0 - 1e-9);
        prop_assert!(forecast.decides().iter().all(|share| (0.0..=1.0).contains(share)));
    }

    #[test]
    fn dates_rise_with_their_share_and_hold_as_often_as_they_say(job in any_job(), share in 0.01_f64..1.0) {
        let forecast = play(&[job], 1, 5).remove(0);
        let date = forecast.quantile(share);
        prop_assert!(forecast.chance_by(date) >= share - 1e-12);
        prop_assert!(forecast.chance_by(date.yesterday().expect("a day before")) < share);
        prop_assert!(date >= TODAY && date <= forecast.quantile(1.0));
    }

    /// A job of a later turn changes nothing for the first as long as the hands are enough for both.
    #[test]
    fn with_hands_enough_jobs_do_not_meet(one in any_job(), other in any_job()) {
        let apart = |task: &Task| Task { key: task.key + 100, ..task.clone() };
        let other = Job { tasks: other.tasks.iter().map(apart).collect() };
        let alone = [play(std::slice::from_ref(&one), 99, 5).remove(0), play(std::slice::from_ref(&other), 99, 5).remove(0)];
        prop_assert_eq!(play(&[one, other], 99, 5), alone);
    }
}
