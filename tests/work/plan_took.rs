//! What steps really took: hours written down and signed say what the next one takes, and what is left of one begun.

use crate::setting::Bench;
use witnessmark::work::{DayEntry, HoursForm, PlanAsked, PlanStep, PlanView, TimeForm};

async fn worked(bench: &Bench, job: i64, step: &str, hours: &str) {
    let form = TimeForm { step: step.into(), hours: hours.into(), ..TimeForm::default() };
    bench.shop.keep_time(&bench.doing(), job, &form).await.expect("time worked");
}

async fn plan(bench: &Bench, job: i64) -> PlanView {
    bench.shop.plan(job, PlanAsked::default(), bench.now()).await.expect("a plan")
}

async fn check_in(bench: &Bench, job: i64) -> PlanStep {
    plan(bench, job).await.steps.into_iter().find(|row| row.step.key == "check-in").expect("the step")
}

#[tokio::test]
async fn a_step_takes_what_such_steps_took_unless_the_builder_says_otherwise() {
    let bench = Bench::open().await;
    let jobs = [bench.inline_four().await, bench.inline_four().await, bench.inline_four().await];
    let next = bench.inline_four().await;
    assert!(check_in(&bench, next).await.guessed);
    for (job, hours) in jobs.into_iter().zip(["9", "12", "14"]) {
        worked(&bench, job, "check-in", hours).await;
        assert!(check_in(&bench, next).await.earlier.is_none_or(|earlier| !earlier.contains(hours)), "not signed yet");
        bench.sign(job, &["check-in"]).await;
    }
    let step = check_in(&bench, next).await;
    assert_eq!(step.earlier.as_deref(), Some("three engines took 9 to 14\u{a0}h"));
    assert!(!step.guessed, "{step:?}");
    let likely: f64 =
        step.hours.split("likely ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap().parse().unwrap();
    assert!((10.0..13.5).contains(&likely), "{step:?}");
    let own = bench.shop.step_plan(next, "check-in", bench.now()).await.expect("the step");
    assert!(own.earlier == step.earlier && !own.guessed);
    let said = HoursForm { least: "20".into(), likely: "20".into(), most: "20".into() };
    bench.shop.expect_hours(&bench.doing(), next, "check-in", &said).await.expect("hours");
    let step = check_in(&bench, next).await;
    assert_eq!((step.earlier, &*step.hours), (None, "20 to 20 h, likely 20 h"));
}

/// Today is Monday 2 March 2026; eight hours a day.
#[tokio::test]
async fn of_a_step_begun_what_is_left_is_reckoned() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let steps = bench.shop.job(job, bench.now()).await.expect("the job").steps;
    let keys: Vec<&str> = steps.iter().map(|step| &*step.key).filter(|key| *key != "hand-over").collect();
    bench.sign(job, &keys).await;
    let said = HoursForm { least: "20".into(), likely: "20".into(), most: "20".into() };
    bench.shop.expect_hours(&bench.doing(), job, "hand-over", &said).await.expect("hours");
    assert_eq!(plan(&bench, job).await.told.expect("a date").even, "4 March 2026");
    worked(&bench, job, "hand-over", "5").await;
    let view = plan(&bench, job).await;
    assert_eq!(view.told.expect("a date").even, "3 March 2026", "fifteen hours are left");
    assert_eq!(view.steps[0].worked.as_deref(), Some("5\u{a0}h"));
    // It has outlasted what was said: up to a quarter of what it took is added.
    worked(&bench, job, "hand-over", "16").await;
    assert_eq!(plan(&bench, job).await.told.expect("a date").safe, "2 March 2026");
}

/// What was loaded for the plan before is loaded anew for each job that the day's hours were kept of.
#[tokio::test]
async fn hours_kept_at_the_end_of_a_day_count_on_every_job_they_are_of() {
    let bench = Bench::open().await;
    let jobs = [bench.inline_four().await, bench.inline_four().await];
    for job in jobs {
        assert_eq!(check_in(&bench, job).await.worked, None);
    }
    let entry = |job: i64| DayEntry {
        job,
        step: "check-in".into(),
        hours: "1.5".into(),
        field: format!("hours-{job}"),
        charged: String::new(),
    };
    let doing = bench.doing();
    for _ in 0..2 {
        bench.shop.keep_day(&doing, &bench.person, "", &jobs.map(entry)).await.expect("a day");
    }
    for job in jobs {
        assert_eq!(check_in(&bench, job).await.worked.as_deref(), Some("1.5\u{a0}h"), "job {job}, once");
    }
}

/// A clock that is started elsewhere stops the one that runs, whose time counts on its own job.
#[tokio::test]
async fn time_of_a_clock_stopped_by_another_counts_on_its_own_job() {
    let bench = Bench::open().await;
    let (one, other) = (bench.inline_four().await, bench.inline_four().await);
    bench.shop.start_clock(&bench.doing(), one, "check-in").await.expect("a clock");
    assert_eq!(check_in(&bench, one).await.worked, None);
    bench.wait(2);
    bench.shop.start_clock(&bench.doing(), other, "check-in").await.expect("another");
    assert_eq!(check_in(&bench, one).await.worked.as_deref(), Some("2\u{a0}h"));
    assert_eq!(check_in(&bench, other).await.worked, None);
}
