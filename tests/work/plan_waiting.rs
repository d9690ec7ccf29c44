//! What steps wait for: parts, work sent out, what somebody said is awaited.

use crate::setting::Bench;
use witnessmark::work::{PartForm, Refused, StepState, WaitForm};

/// An inline four agreed, so that parts, main line and crank can begin.
async fn agreed(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    bench.sign(job, &["check-in", "tear-down", "cracks", "agree"]).await;
    job
}

async fn needs(bench: &Bench, job: i64, step: &str) -> Vec<String> {
    bench.shop.step(job, step, bench.now()).await.expect("a step").row.needs
}

async fn next(bench: &Bench) -> Vec<String> {
    let floor = bench.shop.floor("tablet", bench.now()).await.expect("the floor");
    floor.rows[0].next.iter().map(|step| step.key.clone()).collect()
}

#[tokio::test]
async fn a_step_lacks_a_part_until_all_of_it_is_here() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    assert_eq!(next(&bench).await, ["parts", "main-line", "crank"]);
    let crank = bench.part(job, "crank", "crank").await;
    assert_eq!(needs(&bench, job, "crank").await, ["crank, to order"]);
    assert_eq!(next(&bench).await, ["parts", "main-line"], "only what is really ready");
    bench.moved(job, &crank, "ordered", "2026-03-01", "2026-04-13").await;
    assert_eq!(needs(&bench, job, "crank").await, ["crank: six weeks"]);
    bench.moved(job, &crank, "received", "2026-03-02", "").await;
    assert_eq!(needs(&bench, job, "crank").await, [""; 0]);
    bench.moved(job, &crank, "refused", "2026-03-02", "").await;
    assert_eq!(needs(&bench, job, "crank").await, ["crank, to order: six weeks"], "the wrong one came");
    assert_eq!(next(&bench).await, ["parts", "main-line"]);
}

/// What a customer brings and what is made here is not ordered.
#[tokio::test]
async fn a_part_that_is_not_bought_is_not_to_order() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    let part = |what: &str, whose: &str, origin: &str| PartForm {
        description: what.into(),
        quantity: "1".into(),
        whose: whose.into(),
        origin: origin.into(),
        step: "crank".into(),
        ..PartForm::default()
    };
    for form in [part("her own crank", "customer", "bought"), part("torque plate", "shop", "made")] {
        bench.shop.add_part(&bench.doing(), job, &form).await.expect("a part");
    }
    assert_eq!(needs(&bench, job, "crank").await, ["her own crank, to be brought", "torque plate, to be made"]);
    let groups = bench.shop.parts(job, bench.now()).await.expect("parts").groups;
    let titles: Vec<&str> = groups.iter().map(|(title, _)| *title).collect();
    assert_eq!(titles, ["To be brought", "To be made"]);
}

#[tokio::test]
async fn a_part_that_another_took_the_place_of_is_not_waited_for() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    let cast = bench.part(job, "crank, cast", "crank").await;
    let mut form = bench.shop.part(job, &cast, bench.now()).await.unwrap().form;
    form.description = "crank, forged".into();
    form.replaces = cast;
    bench.shop.add_part(&bench.doing(), job, &form).await.unwrap();
    assert_eq!(needs(&bench, job, "crank").await, ["crank, forged, to order"]);
}

#[tokio::test]
async fn work_that_is_away_is_waited_for_until_it_is_back() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    bench.sent_out(job, "line honing", "main-line", "", "2026-03-20").await;
    assert_eq!(needs(&bench, job, "main-line").await, ["line honing, to be sent out: three weeks"]);
    let sent = bench.shop.sendings(job, bench.now()).await.unwrap().rows[0].public_id.clone();
    let mut form = bench.shop.sending(job, &sent, bench.now()).await.unwrap().form;
    form.sent = "2026-03-02".into();
    bench.shop.change_sending(&bench.doing(), job, &sent, None, &form).await.unwrap();
    assert_eq!(needs(&bench, job, "main-line").await, ["line honing: three weeks"]);
    form.back = "2026-03-02".into();
    bench.shop.change_sending(&bench.doing(), job, &sent, None, &form).await.unwrap();
    assert_eq!(needs(&bench, job, "main-line").await, [""; 0]);
}

#[tokio::test]
async fn what_the_whole_job_waits_for_keeps_every_step() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    bench.waits(job, "", "deposit", "", "2026-03-03").await;
    bench.waits(job, "crank", "customer", "which stroke", "").await;
    assert_eq!(needs(&bench, job, "crank").await, ["the customer’s answer (which stroke)", "the deposit: tomorrow"]);
    assert_eq!(needs(&bench, job, "bore").await, ["the deposit: tomorrow"]);
    assert_eq!(needs(&bench, job, "agree").await, [""; 0], "it is done");
    let floor = bench.shop.floor("tablet", bench.now()).await.unwrap();
    assert!(floor.rows[0].next.is_empty());
    assert_eq!(floor.rows[0].waits, ["the deposit: tomorrow", "the customer’s answer (which stroke)"]);
    let waits = bench.shop.step(job, "crank", bench.now()).await.unwrap().waits;
    assert_eq!(waits.iter().map(|wait| wait.step.is_none()).collect::<Vec<_>>(), [true, false]);
    bench.shop.end_waiting(&bench.doing(), job, waits[0].id).await.unwrap();
    assert_eq!(next(&bench).await, ["parts", "main-line"]);
    let again = bench.shop.end_waiting(&bench.doing(), job, waits[0].id).await;
    assert!(matches!(again, Err(Refused::NotFound)), "{again:?}");
    let elsewhere = bench.inline_four().await;
    let other = bench.shop.end_waiting(&bench.doing(), elsewhere, waits[1].id).await;
    assert!(matches!(other, Err(Refused::NotFound)), "{other:?}");
}

#[tokio::test]
async fn who_reads_has_begun_whatever_is_not_here() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    bench.part(job, "main shells", "main-line").await;
    bench.take(job, "main-clearance-vertical@main.1", "2.4 thou", None).await;
    let row = bench.shop.step(job, "main-line", bench.now()).await.unwrap().row;
    assert_eq!((row.state, row.needs), (StepState::Begun, vec!["main shells, to order".to_owned()]));
}

#[tokio::test]
async fn every_fault_of_a_wait_is_said_at_once() {
    let bench = Bench::open().await;
    let job = agreed(&bench).await;
    let form = WaitForm {
        step: "nothing".into(),
        why: "weather".into(),
        words: "w".repeat(300),
        since: "2026-03-02".into(),
        expected: "2026-02-27".into(),
    };
    let Err(Refused::Faults(faults)) = bench.shop.begin_waiting(&bench.doing(), job, &form).await else {
        panic!("it was taken")
    };
    assert_eq!(faults.iter().map(|fault| &*fault.field).collect::<Vec<_>>(), ["why", "words", "step", "expected"]);
    let later = WaitForm { since: "2026-03-09".into(), expected: "soon".into(), ..form };
    let Err(Refused::Faults(faults)) = bench.shop.begin_waiting(&bench.doing(), job, &later).await else {
        panic!("it was taken")
    };
    assert!(faults.iter().any(|fault| fault.field == "since") && faults.iter().any(|fault| fault.field == "expected"));
}
