//! What can go ahead now in the largest shop: 200 jobs of 20 steps and 60 parts each.

use crate::setting::Bench;
use std::fmt::Write;
use std::time::Instant;
use witnessmark::record::NewAct;

/// 200 jobs of 20 steps with 60 parts each: three jobs of four half done, a fifth of the parts still to come. Written by one
/// act, as two thousand forms would take longer than the test is worth.
async fn many(bench: &Bench) {
    bench.inline_four().await;
    let record = bench.shop.record();
    let act =
        NewAct { person: None, device: "pc", what: "lay out", build: None, at: bench.now(), idempotency_key: "many" };
    let mut w = record.begin(&act).await.unwrap().expect("an act");
    let act = w.act;
    for build in 1000..1200_i64 {
        let mut sql = String::new();
        write!(
            sql,
            "INSERT INTO build (id, public_id, engine, kind, title, wants, unit, rule, made, act)
             VALUES ({build}, 'b{build}', 1, 'new', 'Engine {build}', '', 'inch', 'simple', {act}, {act});"
        )
        .unwrap();
        for step in 0..20 {
            let id = build * 100 + step;
            let state = if step < build % 4 * 5 { "signed" } else { "ahead" };
            write!(
                sql,
                "INSERT INTO step (id, build, key, title, purpose, caution, position, state, by_whom, made, act)
                 VALUES ({id}, {build}, 's{step}', 'Step {step}', '', '', {step}, '{state}', '', {act}, {act});"
            )
            .unwrap();
            for before in [step - 1, step - 3].into_iter().filter(|before| *before >= 0) {
                let before = build * 100 + before;
                write!(sql, "INSERT INTO step_after (step, after, made) VALUES ({id}, {before}, {act});").unwrap();
            }
            for part in 0..3 {
                let part_id = id * 10 + part;
                write!(
                    sql,
                    "INSERT INTO part (id, public_id, build, description, maker, part_number, quantity, serial, whose, origin,
                                       state_as_it_came, shelf, step, note, cost, price, made, act)
                     VALUES ({part_id}, 'p{part_id}', {build}, 'part {part}', '', '', 1, '', 'shop', 'bought', 'new', '', {id}, '',
                             1900, 2450, {act}, {act});
                     INSERT INTO part_move (part, kind, quantity, day, due, words, made, act)
                     VALUES ({part_id}, 'ordered', 1, '2026-02-01', '2026-04-01', '', {act}, {act});"
                )
                .unwrap();
                if (build + step + part) % 5 != 0 {
                    write!(
                        sql,
                        "INSERT INTO part_move (part, kind, quantity, day, words, made, act)
                         VALUES ({part_id}, 'received', 1, '2026-02-20', '', {act}, {act});"
                    )
                    .unwrap();
                }
            }
        }
        sqlx::raw_sql(sqlx::AssertSqlSafe(sql)).execute(&mut *w).await.unwrap();
    }
    w.commit().await.unwrap();
}

/// At most 20 ms as released: `cargo test --release --test work two_hundred -- --ignored --nocapture`.
#[tokio::test]
#[ignore = "a measurement, of a release build"]
#[expect(clippy::disallowed_methods, reason = "a test measures")]
async fn two_hundred_jobs_are_looked_over_in_twenty_milliseconds() {
    let bench = Bench::open().await;
    many(&bench).await;
    let look = async || {
        let begun = Instant::now();
        let view = bench.shop.ready(bench.now()).await.expect("what is ready");
        assert!(view.ready.len() > 50 && view.waiting.len() > 200, "{} {}", view.ready.len(), view.waiting.len());
        begun.elapsed().as_secs_f64() * 1e3
    };
    println!("first after start {:.1} ms", look().await);
    let (mut after_an_act, mut later) = (Vec::new(), Vec::new());
    for job in 1001..1021 {
        bench.part(job, "gasket", "s19").await;
        after_an_act.push(look().await);
        later.push(look().await);
    }
    for (name, took) in [("after an act", &mut after_an_act), ("with nothing done since", &mut later)] {
        took.sort_by(f64::total_cmp);
        println!("{name}: least {:.1} ms, middle {:.1} ms, most {:.1} ms", took[0], took[10], took[19]);
    }
    assert!(after_an_act[10] < 20.0, "{after_an_act:?}");
}

/// The money of the same shop: `cargo test --release --test work money_of_two -- --ignored --nocapture`.
#[tokio::test]
#[ignore = "a measurement, of a release build"]
#[expect(clippy::disallowed_methods, reason = "a test measures")]
async fn the_money_of_two_hundred_jobs_is_looked_over_within_half_a_second() {
    let bench = Bench::open().await;
    many(&bench).await;
    let mut took = Vec::new();
    for _ in 0..9 {
        let begun = Instant::now();
        let view = bench.shop.money(bench.now()).await.expect("the money");
        assert!(view.rows.len() > 199, "{}", view.rows.len());
        took.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    took.sort_by(f64::total_cmp);
    println!("the money of all jobs: least {:.1} ms, middle {:.1} ms, most {:.1} ms", took[0], took[4], took[8]);
    assert!(took[4] < 500.0, "{took:?}");
}

/// The same as it is built for tests, several times slower: a query for each job or each part would take longer still.
#[tokio::test]
#[expect(clippy::disallowed_methods, reason = "a test measures")]
async fn two_hundred_jobs_are_looked_over_at_once() {
    let bench = Bench::open().await;
    many(&bench).await;
    let look = async || {
        let begun = Instant::now();
        bench.shop.ready(bench.now()).await.expect("what is ready");
        begun.elapsed().as_secs_f64()
    };
    let first = look().await;
    bench.part(1001, "gasket", "s19").await;
    let (after_an_act, later) = (look().await, look().await);
    assert!(first < 3.0 && after_an_act < 1.0 && later < 1.0, "{first} s, {after_an_act} s, {later} s");
}
