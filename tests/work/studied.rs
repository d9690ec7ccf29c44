//! A study of a gauge tells how it repeats, and every finding that rests on it follows.

use crate::setting::Bench;
use witnessmark::work::{SheetKey, StudyEntry, StudyForm};

/// Five parts, each read 1 tenth below and above its size: s² = 2 tenths², five degrees of freedom; a half tenth by kind.
#[tokio::test]
async fn a_studied_gauge_is_known_by_its_study() {
    let bench = Bench::open().await;
    let gauge = bench.bore_gauge("Dial", "tenth").await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    let good_to = async || {
        let sheet = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
        let place = sheet.places.iter().find(|place| place.label == "main 1").unwrap();
        place.findings[0].good_to.clone().unwrap()
    };
    assert_eq!(good_to().await, "± 0.2\u{a0}thou");
    let form = StudyForm {
        measured: "ring".into(),
        unit: "thou".into(),
        people: vec![bench.person.clone()],
        parts: "5".into(),
        trials: "2".into(),
        ..StudyForm::default()
    };
    let study = bench.shop.plan_study(&bench.doing(), &gauge, &form).await.unwrap();
    for part in 1..=5 {
        for (trial, text) in [(1, "1.9"), (2, "2.1")] {
            let entry = StudyEntry { spot: format!("{part}.1.{trial}"), text: text.into(), ..StudyEntry::default() };
            bench.shop.take_in_study(&bench.doing(), &study, &entry).await.unwrap();
        }
    }
    // 2·√((0.1·√2)² + 0.029² + 0.059²) thou, the setting as by kind.
    assert_eq!(good_to().await, "± 0.3\u{a0}thou");
    bench.shop.withdraw_study(&bench.doing(), &study).await.unwrap();
    assert_eq!(good_to().await, "± 0.2\u{a0}thou");
}
