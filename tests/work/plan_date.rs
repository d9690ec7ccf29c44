//! A job's plan: the date to tell, the way through the steps, what moves it, and what another engine first does.

use crate::setting::Bench;
use witnessmark::work::{ClosureForm, HoursForm, PlanAsked, PlanView, PromiseForm, Refused, SupplierForm, WeekForm};

/// Every step of an inline four done but the last, which takes just so many hours.
async fn nearly_done(bench: &Bench, hours: &str) -> i64 {
    let job = bench.inline_four().await;
    let steps = bench.shop.job(job, bench.now()).await.unwrap().steps;
    let keys: Vec<&str> = steps.iter().map(|step| &*step.key).filter(|key| *key != "hand-over").collect();
    bench.sign(job, &keys).await;
    expect(bench, job, "hand-over", hours).await;
    job
}

/// A step takes just so many hours.
async fn expect(bench: &Bench, job: i64, step: &str, hours: &str) {
    let form = HoursForm { least: hours.into(), likely: hours.into(), most: hours.into() };
    bench.shop.expect_hours(&bench.doing(), job, step, &form).await.expect("hours");
}

async fn plan(bench: &Bench, job: i64) -> PlanView {
    bench.shop.plan(job, PlanAsked::default(), bench.now()).await.expect("a plan")
}

/// Today is Monday 2 March 2026; eight hours a day, Monday to Friday, one pair of hands.
#[tokio::test]
async fn what_is_fixed_is_done_on_its_day() {
    let bench = Bench::open().await;
    let job = nearly_done(&bench, "20").await;
    let told = plan(&bench, job).await.told.expect("a date");
    assert_eq!((&*told.even, &*told.given, &*told.safe), ("4 March 2026", "4 March 2026", "4 March 2026"));
    assert_eq!(told.sentence, "Tell him 4 March.");
    // Closed on Tuesday: a day later; six hours a day: another.
    let closed = ClosureForm { from: "2026-03-03".into(), ..ClosureForm::default() };
    bench.shop.close_days(&bench.doing(), &closed).await.unwrap();
    assert_eq!(plan(&bench, job).await.told.unwrap().even, "5 March 2026");
    let week = WeekForm { hours: ["6", "6", "6", "6", "6", "", ""].map(str::to_owned), hands: "1".into() };
    bench.shop.keep_week(&bench.doing(), 0, &week).await.unwrap();
    let view = plan(&bench, job).await;
    assert_eq!((&*view.told.unwrap().even, view.guessed_time, view.guessed_steps), ("6 March 2026", false, 0));
    assert_eq!(view.bench, "1 pair of hands, 30 hours a week");
}

#[tokio::test]
async fn another_engine_first_costs_this_one_its_hours() {
    let bench = Bench::open().await;
    let (first, second) = (nearly_done(&bench, "8").await, nearly_done(&bench, "16").await);
    assert_eq!(plan(&bench, second).await.told.unwrap().given, "4 March 2026", "behind the other's day");
    let asked = PlanAsked { first: Some(second), ..PlanAsked::default() };
    let (job, moved) = bench.shop.plan(first, asked, bench.now()).await.unwrap().first.expect("it was asked");
    let moved: Vec<_> = moved.iter().map(|one| (one.job, &*one.now, &*one.then, &*one.by)).collect();
    assert_eq!(job, second);
    assert_eq!(
        moved,
        [
            (first, "2 March 2026", "4 March 2026", "2 days later"),
            (second, "4 March 2026", "3 March 2026", "1 day sooner"),
        ]
    );
    // Promised, it goes first by itself.
    let promise = PromiseForm { day: "2026-03-03".into(), ..PromiseForm::default() };
    bench.shop.promise(&bench.doing(), second, &promise).await.unwrap();
    let told = plan(&bench, second).await.told.unwrap();
    assert_eq!(
        (&*told.given, told.promise_holds.as_deref()),
        ("3 March 2026", Some("the day promised holds in 100 of 100"))
    );
}

#[tokio::test]
async fn the_same_record_gives_the_same_plan() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.part(job, "crank", "crank").await;
    let (one, other) = (plan(&bench, job).await, plan(&bench, job).await);
    assert_eq!(format!("{one:?}"), format!("{other:?}"));
    let told = one.told.expect("a date");
    assert!(told.trials >= 1000 && told.sentence.starts_with("Tell him "), "{told:?}");
    assert_eq!((one.guessed_steps, one.guessed_time), (18, true), "and says that all of it is guessed");
    assert!(one.picture.is_some());
}

#[tokio::test]
async fn a_part_comes_as_its_suppliers_own_history_says() {
    let bench = Bench::open().await;
    let slow = SupplierForm { name: "Harrow Cranks".into(), ..SupplierForm::default() };
    bench.shop.keep_supplier(&bench.doing(), None, &slow).await.unwrap();
    let earlier = bench.inline_four().await;
    let slow = bench.shop.parts(earlier, bench.now()).await.unwrap().choices.suppliers[1].0.clone();
    let bought = async |job: i64, what: &str| {
        let part = bench.part(job, what, "hand-over").await;
        let mut form = bench.shop.part(job, &part, bench.now()).await.unwrap().form;
        form.supplier.clone_from(&slow);
        bench.shop.change_part(&bench.doing(), job, &part, None, &form).await.unwrap();
        part
    };
    let job = nearly_done(&bench, "1").await;
    let crank = bought(job, "crank").await;
    let comes = async || {
        let need = plan(&bench, job).await.needs.into_iter().next().expect("a need");
        (need.what, need.comes, need.by, need.undated)
    };
    let (what, _, by, undated) = comes().await;
    assert_eq!((&*what, undated), ("crank, to order", true));
    assert_eq!(by, "nobody named a day: our guess is 3 to 56 days");
    bench.moved(job, &crank, "ordered", "2026-03-02", "2026-04-01").await;
    let (_, usual, by, undated) = comes().await;
    assert!(by.starts_with("by what we expect of anybody: 1.1 times as long as promised") && !undated, "{by}");
    // Eight came, each after twice the days that were promised; that job has left the shop since.
    for nth in 0..8 {
        let part = bought(earlier, &format!("crank {nth}")).await;
        bench.moved(earlier, &part, "ordered", "2025-11-01", "2025-11-21").await;
        bench.moved(earlier, &part, "received", "2025-12-11", "").await;
    }
    bench.shop.close_job(&bench.doing(), earlier).await.unwrap();
    let (_, own, by, _) = comes().await;
    assert_eq!(by, "by 8 deliveries of Harrow Cranks");
    assert!(
        usual.starts_with("half by ") && usual.contains("April 2026") && own.starts_with("half by "),
        "{usual} {own}"
    );
    assert!(own.contains("April 2026") && own != usual, "{usual} {own}");
}

#[tokio::test]
async fn what_moves_the_date_most_is_said_when_it_is_asked() {
    let bench = Bench::open().await;
    let job = nearly_done(&bench, "4").await;
    bench.waits(job, "hand-over", "customer", "colour", "").await;
    assert!(plan(&bench, job).await.movers.is_none());
    let asked = PlanAsked { moves: true, ..PlanAsked::default() };
    let movers = bench.shop.plan(job, asked, bench.now()).await.unwrap().movers.expect("it was asked");
    assert_eq!(movers.iter().map(|mover| &*mover.what).collect::<Vec<_>>(), ["the customer’s answer (colour)"]);
    assert!(movers[0].sooner.ends_with("days sooner") && movers[0].decides == "it decides in 100 of 100");
}

#[tokio::test]
async fn float_stands_at_every_step_that_does_not_decide() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.waits(job, "crank", "machine_shop", "nitriding", "2026-07-01").await;
    let view = plan(&bench, job).await;
    let float = |key: &str| view.steps.iter().find(|row| row.step.key == key).expect("a step").float.as_deref();
    assert_eq!(float("crank"), None, "it decides");
    assert!(float("bore").is_some_and(|float| float.ends_with("days")), "{:?}", float("bore"));
    assert_eq!(float("hand-over"), None);
    let picture = view.picture.expect("a picture");
    assert!(picture.description.contains("nothing is late"), "{}", picture.description);
}

#[tokio::test]
async fn what_steps_follow_is_changed_and_a_circle_refused_and_named() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let follow = async |step: &str, after: &[&str], saw: Option<i64>| {
        let after: Vec<String> = after.iter().map(|key| (*key).to_owned()).collect();
        bench.shop.follow(&bench.doing(), job, step, saw, &after).await
    };
    let waits_for = async |key: &str| bench.shop.step(job, key, bench.now()).await.unwrap().row.waits_for;
    let saw = Some(bench.shop.step_plan(job, "bore", bench.now()).await.unwrap().act);
    follow("bore", &["parts", "crank"], saw).await.expect("changed");
    assert_eq!(waits_for("bore").await, ["Order and check parts", "Crank ground or polished"]);
    let late = follow("bore", &["parts"], saw).await;
    assert!(matches!(late, Err(Refused::Conflict { .. })), "{late:?}");
    // Taken back, and set once more.
    follow("bore", &["parts", "main-line"], None).await.expect("changed");
    assert_eq!(waits_for("bore").await, ["Order and check parts", "Main line and housings"]);
    let Err(Refused::Faults(faults)) = follow("agree", &["wash"], None).await else { panic!("a circle was taken") };
    let words = &faults[0].message;
    for title in ["Agree the work", "Bore and hone", "Final wash and plugs → Agree the work"] {
        assert!(words.contains(title), "{title}: {words}");
    }
    assert_eq!(waits_for("agree").await, ["Clean and look for cracks"], "nothing was changed");
    for other in ["agree", "nothing"] {
        assert!(matches!(follow("agree", &[other], None).await, Err(Refused::Faults(_))), "{other}");
    }
    let elsewhere = bench.shop.follow(&bench.doing(), 77, "agree", None, &[]).await;
    assert!(matches!(elsewhere, Err(Refused::NotFound)), "{elsewhere:?}");
}

#[tokio::test]
async fn hours_that_cannot_be_are_refused_all_at_once() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    for (least, likely, most, fields) in [
        ("-1", "soon", "", &["least", "likely", "most"][..]),
        ("4", "2", "1", &["likely", "most"]),
        ("0", "0", "0", &["most"]),
        ("1", "2", "1e9", &["most"]),
        ("NaN", "2", "inf", &["least", "most"]),
    ] {
        let form = HoursForm { least: least.into(), likely: likely.into(), most: most.into() };
        let Err(Refused::Faults(faults)) = bench.shop.expect_hours(&bench.doing(), job, "bore", &form).await else {
            panic!("{form:?} was taken")
        };
        assert_eq!(faults.iter().map(|fault| &*fault.field).collect::<Vec<_>>(), fields, "{form:?}");
    }
    let form = HoursForm { least: "1,5".into(), likely: "2".into(), most: "6".into() };
    bench.shop.expect_hours(&bench.doing(), job, "bore", &form).await.unwrap();
    let view = bench.shop.step_plan(job, "bore", bench.now()).await.unwrap();
    assert_eq!((&*view.hours.least, view.guessed), ("1.5", false));
}

#[tokio::test]
async fn a_promise_of_a_day_that_is_past_is_asked_about() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let promise = async |day: &str, sure| {
        let form = PromiseForm { day: day.into(), words: "on the phone".into(), sure };
        bench.shop.promise(&bench.doing(), job, &form).await
    };
    assert!(matches!(promise("2026-03-01", false).await, Err(Refused::Faults(_))));
    assert!(matches!(promise("", true).await, Err(Refused::Faults(_))));
    promise("2026-06-15", false).await.unwrap();
    promise("2026-03-01", true).await.unwrap();
    let promised = bench.shop.job(job, bench.now()).await.unwrap().promised.expect("the newest holds");
    assert_eq!((&*promised.day, promised.late), ("1 March 2026", true));
    let floor = bench.shop.floor("tablet", bench.now()).await.unwrap();
    assert!(floor.rows[0].promised.as_ref().is_some_and(|promised| promised.late));
    assert_eq!(plan(&bench, job).await.promised.len(), 2, "what was told before stays to be seen");
}

#[tokio::test]
async fn what_is_done_or_gone_has_no_date() {
    let bench = Bench::open().await;
    let job = nearly_done(&bench, "4").await;
    bench.sign(job, &["hand-over"]).await;
    let view = plan(&bench, job).await;
    assert!(view.told.is_none() && view.steps.is_empty() && view.picture.is_none());
    assert_eq!(view.no_date, "Every step is done.");
    bench.shop.close_job(&bench.doing(), job).await.unwrap();
    assert!(plan(&bench, job).await.no_date.contains("left the shop"));
}
