//! Rules of the record itself, tried by going round the house.

use crate::setting::Bench;
use sqlx::Connection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};

async fn open(bench: &Bench) -> SqliteConnection {
    let file = bench.folder.path().join("record.db");
    SqliteConnection::connect_with(&SqliteConnectOptions::new().filename(file)).await.unwrap()
}

#[tokio::test]
async fn what_was_read_is_never_overwritten_and_nothing_is_deleted() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    bench.shop.add_note(&bench.doing(), job, None, "a newer act").await.unwrap();
    let mut db = open(&bench).await;
    for forbidden in [
        "UPDATE reading SET si = 0.1",
        "UPDATE reading SET state = 'withdrawn'",
        "UPDATE act SET what = 'nothing'",
        "DELETE FROM reading",
        "DELETE FROM person",
        "INSERT INTO note (build, text, made, act) VALUES (1, 'x', 1, 1)",
    ] {
        assert!(sqlx::query(forbidden).execute(&mut db).await.is_err(), "{forbidden}");
    }
}

#[tokio::test]
async fn a_change_leaves_before_and_after_in_history_but_nothing_of_people() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let mut form = bench.shop.job_form(job, bench.now()).await.unwrap().form;
    form.title = "Inline four, balanced".into();
    form.phone = "555 0199".into();
    bench.shop.change_job(&bench.doing(), job, &form).await.unwrap();
    let mut db = open(&bench).await;
    let rows: Vec<(String, Option<String>, Option<String>)> =
        sqlx::query_as("SELECT table_name, before, after FROM history").fetch_all(&mut db).await.unwrap();
    let build = rows.iter().find(|row| row.0 == "build").unwrap();
    assert!(build.1.as_ref().unwrap().contains("\"Inline four\""));
    assert!(build.2.as_ref().unwrap().contains("Inline four, balanced"));
    let person = rows.iter().find(|row| row.0 == "person").unwrap();
    assert_eq!((&person.1, &person.2), (&None, &None));
    assert!(rows.iter().all(|row| !format!("{row:?}").contains("555 0199")));
}

#[tokio::test]
async fn the_record_is_durable_at_every_commit() {
    let bench = Bench::open().await;
    let mut look = bench.shop.record().look().await.unwrap();
    let journal: (String,) = sqlx::query_as("PRAGMA journal_mode").fetch_one(&mut *look).await.unwrap();
    let synchronous: (i64,) = sqlx::query_as("PRAGMA synchronous").fetch_one(&mut *look).await.unwrap();
    assert_eq!((journal.0.as_str(), synchronous.0), ("wal", 2), "write-ahead log, FULL");
    let version: (String,) = sqlx::query_as("SELECT sqlite_version()").fetch_one(&mut *look).await.unwrap();
    let parts: Vec<u32> = version.0.split('.').map(|part| part.parse().unwrap()).collect();
    assert!(
        parts >= vec![3, 51, 3],
        "a fault in resetting the write-ahead log is mended from 3.51.3 on: {}",
        version.0
    );
}

#[tokio::test]
async fn two_forms_on_one_job_conflict_and_both_texts_are_shown() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let mut first = bench.shop.job_form(job, bench.now()).await.unwrap().form;
    let mut second = first.clone();
    first.wants = "More torque".into();
    second.wants = "Less noise".into();
    bench.shop.change_job(&bench.doing(), job, &first).await.unwrap();
    let refused = bench.shop.change_job(&bench.doing(), job, &second).await;
    assert!(
        matches!(&refused, Err(witnessmark::work::Refused::Conflict { stands }) if stands.contains("More torque")),
        "{refused:?}"
    );
}
