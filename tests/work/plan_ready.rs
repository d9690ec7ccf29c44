//! What can go ahead now over all engines, why all else waits, and what can be done in part.

use crate::setting::Bench;
use witnessmark::work::{PromiseForm, ReadyView, Shop};

/// What a shop says that looked before and loads only what was touched since; one that opens now says the same.
async fn ready(bench: &Bench) -> ReadyView {
    let view = bench.shop.ready(bench.now()).await.expect("what is ready");
    let opened = Shop::open(bench.folder.path()).await.expect("the same record");
    let anew = opened.ready(bench.now()).await.expect("what is ready");
    assert_eq!(format!("{view:?}"), format!("{anew:?}"));
    view
}

fn steps(view: &ReadyView) -> Vec<(i64, &str)> {
    view.ready.iter().map(|row| (row.job, &*row.step.key)).collect()
}

async fn promise(bench: &Bench, job: i64, day: &str) {
    let form = PromiseForm { day: day.into(), words: String::new(), sure: true };
    bench.shop.promise(&bench.doing(), job, &form).await.expect("a promise");
}

#[tokio::test]
async fn the_most_urgent_stands_first_and_what_lacks_nothing_but_a_part_says_so() {
    let bench = Bench::open().await;
    let (first, second, third) = (bench.inline_four().await, bench.inline_four().await, bench.inline_four().await);
    promise(&bench, second, "2026-02-20").await;
    promise(&bench, third, "2026-06-20").await;
    let view = ready(&bench).await;
    assert_eq!(steps(&view), [(second, "check-in"), (third, "check-in"), (first, "check-in")]);
    assert!(view.ready[0].late && view.ready[0].spare.as_deref().is_some_and(|spare| spare.ends_with("days late")));
    assert!(!view.ready[1].late && view.ready[2].spare.is_none());
    assert!(view.guessed, "nobody said any hours");

    bench.sign(first, &["check-in", "tear-down", "cracks", "agree"]).await;
    let crank = bench.part(first, "crank", "crank").await;
    bench.moved(first, &crank, "ordered", "2026-03-01", "2026-04-13").await;
    bench.part(first, "pistons", "parts").await;
    bench.waits(first, "parts", "customer", "which pistons", "").await;
    let view = ready(&bench).await;
    assert_eq!(steps(&view)[2..], [(first, "main-line")]);
    let waiting = view.waiting.iter().find(|job| job.job == first).expect("it waits");
    let why: Vec<_> = waiting.needs.iter().map(|row| (&*row.step.key, &*row.why)).collect();
    assert_eq!(
        why,
        [
            ("parts", "pistons, to order; the customer’s answer (which pistons)"),
            ("crank", "crank: six weeks, nothing else"),
        ]
    );
    assert_eq!(waiting.behind[0].why, "Order and check parts; Main line and housings");
}

#[tokio::test]
async fn a_step_that_lacks_only_things_is_done_in_part_where_its_sheets_read_others() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.sign(job, &["check-in", "tear-down", "cracks", "agree"]).await;
    // The sheet of the parts' step reads pistons and rods: with pistons on order, rods can be read; and the crank's step has
    // nothing left without the crank.
    bench.part(job, "pistons", "parts").await;
    bench.part(job, "crank", "crank").await;
    let view = ready(&bench).await;
    let partly: Vec<_> = view.partly.iter().map(|row| (&*row.step.key, row.sheet.key(), &*row.of)).collect();
    assert_eq!(partly, [("parts", "rods", "rod")]);
    assert_eq!(view.partly[0].lacks, "pistons, to order");
    // What waits for an answer too is not to be begun.
    bench.waits(job, "parts", "customer", "", "").await;
    assert!(ready(&bench).await.partly.is_empty());
    // Work that is away is what its sheet reads.
    bench.sent_out(job, "line honing", "main-line", "2026-03-01", "2026-03-20").await;
    assert!(ready(&bench).await.partly.is_empty());
}

#[tokio::test]
async fn what_is_named_after_no_thing_keeps_no_reading() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.sign(job, &["check-in", "tear-down", "cracks", "agree"]).await;
    bench.part(job, "stud kit", "main-line").await;
    let view = ready(&bench).await;
    assert_eq!((&*view.partly[0].step.key, &*view.partly[0].of), ("main-line", "block, main shells"));
}

#[tokio::test]
async fn what_has_left_is_not_among_them() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.shop.close_job(&bench.doing(), job).await.unwrap();
    let view = ready(&bench).await;
    assert!(view.ready.is_empty() && view.waiting.is_empty());
}
