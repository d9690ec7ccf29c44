//! Search: over a full shop, fast enough for a call; and nothing of a person is left in it once the person's row is empty.

use crate::setting::{Bench, a_four};
use sqlx::Connection as _;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use std::time::{Duration, Instant};
use witnessmark::record::part_moves::{self, MoveKind, NewMove};
use witnessmark::record::parts::{self, AsItCame, NewPart, Origin, Whose};
use witnessmark::record::{NewAct, notes};
use witnessmark::work::NewJob;

fn part(description: &str, number: String) -> NewPart {
    NewPart {
        description: description.to_owned(),
        maker: "Thimble & Ring".to_owned(),
        part_number: number,
        quantity: 8,
        serial: String::new(),
        supplier: None,
        whose: Whose::Shop,
        origin: Origin::Bought,
        as_it_came: AsItCame::New,
        shelf: "rack 4".to_owned(),
        step: None,
        cost: None,
        price: None,
        core: None,
        replaces: None,
        note: String::new(),
    }
}

/// 200 jobs, each with 60 parts and 20 notes.
async fn full(bench: &Bench) {
    let record = bench.shop.record();
    for job in 1..=200 {
        let new = NewJob {
            name: format!("Customer {} Quill", ["Ada", "Bea", "Cyd"][job % 3]),
            phone: format!("555 {job:04}"),
            title: format!("Inline four of {job}"),
            ..a_four()
        };
        let job = bench.shop.open_job(&bench.doing(), &new).await.unwrap();
        let key = format!("filled {job}");
        let act = NewAct {
            person: None,
            device: "pc",
            what: "fill",
            build: Some(job),
            at: bench.now(),
            idempotency_key: &key,
        };
        let mut w = record.begin(&act).await.unwrap().unwrap();
        for number in 0..60 {
            let what = ["rod bolts", "main studs", "gasket set", "cam followers"][number % 4];
            let id = parts::insert(&mut w, job, &part(what, format!("TR-{job:03}-{number:02}"))).await.unwrap();
            let ordered = NewMove {
                part: id,
                kind: MoveKind::Ordered,
                quantity: 8,
                day: "2026-03-02".parse().unwrap(),
                due: None,
                place: None,
                words: format!("order {job}/{number}"),
            };
            part_moves::insert(&mut w, &ordered).await.unwrap();
        }
        for number in 0..20 {
            let text =
                format!("Cap {number} sits proud on the left; ask the machine shop whether they moved the dowel.");
            notes::insert(&mut w, job, None, &text).await.unwrap();
        }
        w.commit().await.unwrap();
    }
}

#[tokio::test]
#[expect(clippy::disallowed_methods, reason = "a test measures")]
async fn a_shop_of_two_hundred_jobs_answers_at_once() {
    let bench = Bench::open().await;
    full(&bench).await;
    let mut slowest = Duration::ZERO;
    for (typed, first, jobs) in [
        ("555 0117", 117, 1),
        ("5550117", 117, 1),
        ("TR-042-17", 42, 1),
        ("tr04217", 42, 1),
        ("bea quill proud", 199, 67),
        ("rod bolts", 200, 200),
        ("c", 200, 200),
        ("inline four of 77", 77, 1),
        ("200", 200, 1),
    ] {
        let began = Instant::now();
        let view = bench.shop.search(typed).await.unwrap();
        let took = began.elapsed();
        println!("{typed}: {took:?}");
        slowest = slowest.max(took);
        assert_eq!(view.jobs[0].job, first, "{typed}");
        assert!(view.jobs.len() + view.more_jobs >= jobs, "{typed}: {}", view.jobs.len() + view.more_jobs);
        assert!(view.jobs.len() <= 20 && view.jobs.iter().all(|job| job.hits.len() <= 4), "{typed}");
    }
    // 42 ms at most were measured, beside compilers on two processors; a loaded machine is given more.
    assert!(slowest < Duration::from_millis(250), "{slowest:?}");
}

#[tokio::test]
async fn a_person_that_is_emptied_leaves_both_indexes() {
    let bench = Bench::open().await;
    bench.inline_four().await;
    assert_eq!(bench.shop.search("5550101").await.unwrap().people.len(), 1);
    let mut form = bench.shop.job_form(1, bench.now()).await.unwrap().form;
    (form.customer, form.phone) = ("erased".into(), String::new());
    bench.shop.change_job(&bench.doing(), 1, &form).await.unwrap();
    for typed in ["quill", "5550101", "555 0101"] {
        assert!(bench.shop.search(typed).await.unwrap().is_empty(), "{typed}");
    }
    let file = SqliteConnectOptions::new().filename(bench.folder.path().join("record.db"));
    let mut db = SqliteConnection::connect_with(&file).await.unwrap();
    let checks = "INSERT INTO found (found) VALUES ('integrity-check'); INSERT INTO found_run (found_run) VALUES ('integrity-check');";
    sqlx::raw_sql(checks).execute(&mut db).await.unwrap();
    for table in ["found_data", "found_run_data"] {
        let pages: Vec<Vec<u8>> = sqlx::query_scalar(if table == "found_data" {
            "SELECT block FROM found_data"
        } else {
            "SELECT block FROM found_run_data"
        })
        .fetch_all(&mut db)
        .await
        .unwrap();
        for trace in ["quill", "0101", "555"] {
            let there = pages.iter().any(|page| page.windows(trace.len()).any(|part| part == trace.as_bytes()));
            assert!(!there, "{trace} in {table}");
        }
    }
}
