//! What a promise costs: ten thousand trials of a job of twenty steps, without and with ten things on their way.
//!
//! `cargo bench --bench plan` prints the figures; those of a reference run stand in DEVELOPERS.md.

use criterion::{Criterion, criterion_group, criterion_main};
use jiff::civil::date;
use std::hint::black_box;
use std::num::{NonZeroU32, NonZeroUsize};
use witnessmark::plan::{Calendar, Hours, Job, Lead, Simulation, Takes, Task, ThreePoint};

const STEPS: usize = 20;

/// Each step after the one before and the third before; the things that come are needed by every other step.
fn job(arrivals: usize) -> Job {
    let bench = Hours::pert(&ThreePoint::new(1.0, 3.0, 9.0).expect("hours"));
    let away = Lead::usual(&ThreePoint::new(5.0, 15.0, 60.0).expect("days"), &[]).from_order();
    let came = |step: usize| Some(STEPS + step / 2).filter(|thing| step.is_multiple_of(2) && *thing < STEPS + arrivals);
    let step = |step: usize| Task {
        key: step as u64,
        after: [step.checked_sub(1), step.checked_sub(3), came(step)].into_iter().flatten().collect(),
        takes: Takes::Bench(bench.clone()),
    };
    let thing = |thing: usize| Task { key: (STEPS + thing) as u64, after: vec![], takes: Takes::Wait(away.clone()) };
    Job { tasks: (0..STEPS).map(step).chain((0..arrivals).map(thing)).collect() }
}

fn costs(criterion: &mut Criterion) {
    let calendar = Calendar::new([8.0, 8.0, 8.0, 8.0, 6.0, 0.0, 0.0], []).expect("a week");
    let simulation = Simulation {
        calendar: &calendar,
        today: date(2026, 3, 2),
        hands: NonZeroUsize::MIN,
        seed: 7,
        trials: NonZeroU32::new(10_000).expect("trials"),
    };
    for arrivals in [0, 10] {
        let jobs = [job(arrivals)];
        let forecast = &simulation.forecast(&jobs).expect("a date")[0];
        let name = format!("10,000 trials of twenty steps, {arrivals} things to come");
        println!("{name}: {} in four of five", forecast.quantile(0.8));
        criterion.bench_function(&name, |b| b.iter(|| black_box(simulation.forecast(&jobs).expect("a date").len())));
    }
}

criterion_group! {
    name = plan;
    config = Criterion::default().sample_size(20);
    targets = costs
}
criterion_main!(plan);
