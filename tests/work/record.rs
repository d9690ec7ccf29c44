//! Rules of the record itself, tried by going round the house.

use crate::setting::Bench;
use sqlx::Connection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use witnessmark::work::{GaugeForm, StudyEntry, StudyForm};

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

#[tokio::test]
async fn what_was_read_in_a_study_is_never_overwritten_either() {
    let bench = Bench::open().await;
    let (shop, hand) = (&bench.shop, bench.shop.hands().await.unwrap().remove(0).id);
    let gauge = GaugeForm {
        name: "Micrometer".into(),
        kind: "outside_micrometer".into(),
        step: "tenth".into(),
        ..GaugeForm::default()
    };
    shop.keep_gauge(&bench.doing(), None, &gauge).await.unwrap();
    let gauge = shop.gauges(bench.now()).await.unwrap().remove(0).id;
    let plan = StudyForm {
        measured: "pins".into(),
        unit: "mm".into(),
        people: vec![hand],
        parts: "1".into(),
        trials: "2".into(),
        ..StudyForm::default()
    };
    let study = shop.plan_study(&bench.doing(), &gauge, &plan).await.unwrap();
    let entry = StudyEntry { spot: "1.1.1".into(), text: "22.004".into(), ..StudyEntry::default() };
    shop.take_in_study(&bench.doing(), &study, &entry).await.unwrap();
    let mut db = open(&bench).await;
    for forbidden in [
        "UPDATE study_reading SET si = 0.1, act = (SELECT max(id) FROM act)",
        "UPDATE study_reading SET state = 'corrected', act = 1",
        "UPDATE study SET parts = 2, act = (SELECT max(id) FROM act)",
        "UPDATE study_person SET person = 2",
        "DELETE FROM study_reading",
        "DELETE FROM study_person",
        "DELETE FROM study",
        "INSERT INTO study_person (study, place, person, made) VALUES (1, 2, 1, 1)",
    ] {
        assert!(sqlx::query(forbidden).execute(&mut db).await.is_err(), "{forbidden}");
    }
    let correction = StudyEntry { saw: Some(1), text: "22.006".into(), why: "misread".into(), ..entry };
    shop.take_in_study(&bench.doing(), &study, &correction).await.unwrap();
    let kept: Vec<(String, String)> =
        sqlx::query_as("SELECT typed, state FROM study_reading ORDER BY number").fetch_all(&mut db).await.unwrap();
    let word = |typed: &str, state: &str| (typed.to_owned(), state.to_owned());
    assert_eq!(kept, [word("22.004", "corrected"), word("22.006", "stands")]);
}
