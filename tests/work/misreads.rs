//! Whole sets asked about and answered; the family's earlier engines as what is expected.

use crate::setting::{Bench, a_four};
use witnessmark::work::{FamilyForm, NewEntry, NewJob, Refused, RoundForm, SheetKey, SlotKey, Took};

/// Reads every housing of a four the same.
async fn all_housings(bench: &Bench, job: i64, text: &str) {
    for main in 0..5 {
        for spot in ["vertical", "parting"] {
            bench.take(job, &format!("main-housing-{spot}@main.{main}"), text, None).await;
        }
    }
}

async fn asked(bench: &Bench, job: i64) -> Vec<(String, String)> {
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    view.doubts.into_iter().map(|doubt| (doubt.key, doubt.question)).collect()
}

#[tokio::test]
async fn a_question_about_a_whole_set_is_answered_once() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    all_housings(&bench, job, "2.6902").await;
    let doubts = asked(&bench, job).await;
    assert_eq!(doubts.len(), 1, "{doubts:?}");
    let (doubt, question) = &doubts[0];
    assert!(question.contains("All 10 read 2.6902"), "{question}");
    let answer =
        async |round, doubt| bench.shop.answer_doubt(&bench.doing(), job, SheetKey::MainBearings, round, doubt).await;
    for (round, doubt) in [(2, doubt.as_str()), (1, "target:nothing")] {
        let refused = answer(round, doubt).await;
        assert!(matches!(refused, Err(Refused::NotFound)), "{refused:?}");
    }
    answer(1, doubt).await.unwrap();
    assert_eq!(asked(&bench, job).await, []);
    assert!(matches!(answer(1, doubt).await, Err(Refused::NotFound)), "answered already");
}

#[tokio::test]
async fn a_gauge_zeroed_anew_answers_too() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let gauge = bench.bore_gauge("Two-inch dial", "tenth").await;
    let set = async || {
        let (gauge, zeroed_on) = (gauge.clone(), "ring 2.6900".to_owned());
        let form = witnessmark::work::SettingForm { gauge, zeroed_on, set_to: "2.6900".into(), ..Default::default() };
        bench.shop.set_gauge(&bench.doing(), job, &form).await.unwrap();
    };
    set().await;
    all_housings(&bench, job, "2.6902").await;
    assert_eq!(asked(&bench, job).await.len(), 1);
    set().await;
    assert_eq!(asked(&bench, job).await, []);
}

/// The third engine of a family is compared with what the first two read, from its first reading on.
#[tokio::test]
async fn earlier_engines_of_the_family_are_expected() {
    let bench = Bench::open().await;
    let first = bench.inline_four().await;
    let form = FamilyForm { name: "Small fours".into(), ..FamilyForm::default() };
    let family = bench.shop.keep_as_family(&bench.doing(), first, &form).await.unwrap();
    let of_family = async || {
        let new = NewJob { family: family.clone(), ..a_four() };
        bench.shop.open_job(&bench.doing(), &new).await.unwrap()
    };
    let finished = RoundForm { kind: "final".into(), ..RoundForm::default() };
    for wall in ["0.0950", "0.0951"] {
        let job = of_family().await;
        bench.shop.begin_round(&bench.doing(), job, SheetKey::MainBearings, &finished).await.unwrap();
        for main in 0..5 {
            bench.take(job, &format!("main-shell-wall-upper@main.{main}"), wall, None).await;
        }
    }
    let third = of_family().await;
    bench.shop.begin_round(&bench.doing(), third, SheetKey::MainBearings, &finished).await.unwrap();
    let entry = |text: &str| NewEntry {
        sheet: SheetKey::MainBearings,
        slot: SlotKey::parse("main-shell-wall-upper@main.0"),
        text: text.into(),
        checked: false,
        saw: None,
        as_read: false,
        gauge: None,
    };
    let took = bench.shop.take(&bench.doing(), third, &entry("0.1200")).await.unwrap();
    let Took::Odd { question } = took else { panic!("{took:?}") };
    assert!(question.contains("one thimble turn"), "{question}");
    assert!(question.contains("earlier engines of the family"), "{question}");
    assert!(matches!(bench.shop.take(&bench.doing(), third, &entry("0.0950")).await.unwrap(), Took::Kept { .. }));
}
