//! A signed step is looked over once more: by somebody else at once, by the same hand from the next day.

use crate::setting::Bench;
use witnessmark::work::{Doing, PersonForm, Refused};

#[tokio::test]
async fn the_same_hand_counts_from_the_next_day_and_another_at_once() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let checks = async || {
        let row = bench.shop.step(job, "check-in", bench.now()).await.unwrap().row;
        row.signed.map(|sign| sign.checks).unwrap_or_default()
    };
    let open = bench.shop.check_again(&bench.doing(), job, "check-in").await;
    assert!(matches!(open, Err(Refused::Conflict { .. })), "nothing is signed yet");
    bench.shop.sign_step(&bench.doing(), job, "check-in", None, "").await.unwrap();

    let same_day = bench.shop.check_again(&bench.doing(), job, "check-in").await;
    let Err(Refused::Faults(faults)) = same_day else { panic!("{same_day:?}") };
    assert!(faults[0].message.contains("look again tomorrow"), "{}", faults[0].message);
    assert!(checks().await.is_empty());

    let form = PersonForm { name: "Bo Tarn".into(), phone: String::new() };
    let other = bench.shop.add_hand(&bench.doing(), &form).await.unwrap();
    let doing = Doing { person: Some(other), ..bench.doing() };
    bench.shop.check_again(&doing, job, "check-in").await.unwrap();
    bench.wait(24);
    bench.shop.check_again(&bench.doing(), job, "check-in").await.unwrap();
    let kept = checks().await;
    let said: Vec<(&str, bool)> = kept.iter().map(|check| (&*check.by, check.same_hand)).collect();
    assert_eq!(said, [("Bo Tarn", false), ("Ada Pell", true)]);
}

#[tokio::test]
async fn what_is_signed_anew_is_to_be_checked_anew() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.shop.sign_step(&bench.doing(), job, "check-in", None, "").await.unwrap();
    bench.wait(24);
    bench.shop.check_again(&bench.doing(), job, "check-in").await.unwrap();
    bench.shop.reopen_step(&bench.doing(), job, "check-in", None, "a crack was found").await.unwrap();
    assert!(matches!(bench.shop.check_again(&bench.doing(), job, "check-in").await, Err(Refused::Conflict { .. })));
    bench.shop.sign_step(&bench.doing(), job, "check-in", None, "").await.unwrap();
    let view = bench.shop.step(job, "check-in", bench.now()).await.unwrap();
    assert!(view.row.signed.expect("signed").checks.is_empty());
    assert_eq!(view.signed_before[0].checks.len(), 1, "the check of what was signed before is kept");
}
