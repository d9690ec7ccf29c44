//! What is said of many things at once: checked again as an earlier round had it, and fasteners tightened.

use crate::setting::Bench;
use witnessmark::work::{Refused, RoundForm, SheetKey, SheetView, Standing, TighteningForm};

const MAINS: SheetKey = SheetKey::MainBearings;

async fn sheet(bench: &Bench, job: i64) -> SheetView {
    bench.shop.sheet(job, MAINS, None, bench.now()).await.unwrap()
}

/// How the clearance of a main stands: standing, figure, what it is good to, remarks.
fn clearance(sheet: &SheetView, main: &str) -> (Standing, Option<String>, Option<String>, Vec<String>) {
    let place = sheet.places.iter().find(|place| place.key == main).unwrap();
    let finding = &place.findings[0];
    (finding.standing, finding.value.clone(), finding.good_to.clone(), finding.remarks.clone())
}

/// Two mains read in round 1, and round 2 begun.
async fn two_rounds(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    bench.take(job, "main-clearance-vertical@main.1", "2.6 thou", None).await;
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, MAINS, &form).await.unwrap();
    job
}

#[tokio::test]
async fn what_was_checked_again_stands_as_the_earlier_round_had_it() {
    let bench = Bench::open().await;
    let job = two_rounds(&bench).await;
    let before = bench.shop.sheet(job, MAINS, Some(1), bench.now()).await.unwrap();
    assert_eq!(clearance(&sheet(&bench, job).await, "main.0").0, Standing::Missing);
    bench.shop.recheck(&bench.doing(), job, (MAINS, 2, 1), None).await.unwrap();
    let now = sheet(&bench, job).await;
    for main in ["main.0", "main.1"] {
        let ((standing, value, good_to, remarks), then) = (clearance(&now, main), clearance(&before, main));
        assert_eq!((standing, value, good_to), (then.0, then.1, then.2), "{main}");
        assert!(remarks.contains(&"as round 1, checked again".to_owned()), "{remarks:?}");
    }
    assert_eq!(clearance(&now, "main.2").0, Standing::Missing, "what nobody read nobody checked again");
    assert_eq!((now.except.done.len(), now.except.done[0].earlier.as_str()), (1, "as round 1, as received"));
    // What is read anew goes before.
    bench.take(job, "main-clearance-vertical@main.1", "2.9 thou", None).await;
    let now = sheet(&bench, job).await;
    let (_, value, _, remarks) = clearance(&now, "main.1");
    assert_eq!((value.as_deref(), remarks.len()), (Some("2.9\u{a0}thou"), 0));
    assert_eq!(clearance(&now, "main.0").1.as_deref(), Some("2.5\u{a0}thou"));
    bench.shop.take_recheck_back(&bench.doing(), job, now.except.done[0].id).await.unwrap();
    assert_eq!(clearance(&sheet(&bench, job).await, "main.0").0, Standing::Missing);
}

#[tokio::test]
async fn one_place_alone_or_a_chain_of_rounds() {
    let bench = Bench::open().await;
    let job = two_rounds(&bench).await;
    let main: witnessmark::work::Place = "main.0".parse().unwrap();
    bench.shop.recheck(&bench.doing(), job, (MAINS, 2, 1), Some(main)).await.unwrap();
    let now = sheet(&bench, job).await;
    assert_eq!(clearance(&now, "main.0").1.as_deref(), Some("2.5\u{a0}thou"));
    assert_eq!(clearance(&now, "main.1").0, Standing::Missing);
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.take(job, "main-clearance-vertical@main.3", "2.2 thou", None).await;
    bench.shop.begin_round(&bench.doing(), job, MAINS, &form).await.unwrap();
    bench.shop.recheck(&bench.doing(), job, (MAINS, 3, 2), None).await.unwrap();
    let now = sheet(&bench, job).await;
    assert_eq!(clearance(&now, "main.0").3, ["as round 1, checked again"]);
    assert_eq!(clearance(&now, "main.3").3, ["as round 2, checked again"]);
    for wrong in [(MAINS, 1, 2), (MAINS, 2, 2), (MAINS, 9, 1), (SheetKey::Pistons, 2, 1)] {
        let refused = bench.shop.recheck(&bench.doing(), job, wrong, None).await;
        assert!(matches!(refused, Err(Refused::NotFound)), "{wrong:?}");
    }
}

/// "All five 2.7, except 3: 2.5": what is stated of a place goes before what is stated for all.
#[tokio::test]
async fn one_figure_for_all_and_another_for_one() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance@mains", "2.7", None).await;
    bench.take(job, "main-clearance@main.2", "2.5", None).await;
    let now = sheet(&bench, job).await;
    let value = |main: &str| clearance(&now, main).1;
    assert_eq!(value("main.2").as_deref(), Some("2.5\u{a0}thou"));
    for main in ["main.0", "main.1", "main.3", "main.4"] {
        assert_eq!(value(main).as_deref(), Some("2.7\u{a0}thou"), "{main}");
    }
}

#[tokio::test]
async fn fasteners_are_tightened_with_exceptions() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let form = TighteningForm {
        fasteners: "main caps".into(),
        to: "70".into(),
        steps: "three steps".into(),
        in_order: true,
        exceptions: "bolt 4: 65, thread pulled; bolt 7: left out".into(),
        lubricant: "engine oil".into(),
        ..TighteningForm::default()
    };
    bench.shop.tighten(&bench.doing(), job, "tear-down", &form).await.unwrap();
    let step = bench.shop.step(job, "tear-down", bench.now()).await.unwrap();
    let said = &step.tightened[0];
    assert_eq!(said.to, "70\u{a0}lbf·ft (95\u{a0}N·m) in 3 steps; in the order specified");
    assert_eq!(said.exceptions, ["bolt 4: 65\u{a0}lbf·ft, thread pulled", "bolt 7: left out"]);
    bench.shop.withdraw_tightening(&bench.doing(), job, said.id).await.unwrap();
    assert!(bench.shop.step(job, "tear-down", bench.now()).await.unwrap().tightened.is_empty());
    let wrong = TighteningForm { to: "3 kPa".into(), steps: "50, 30".into(), ..TighteningForm::default() };
    let Err(Refused::Faults(faults)) = bench.shop.tighten(&bench.doing(), job, "tear-down", &wrong).await else {
        panic!("it cannot be")
    };
    assert_eq!(faults.iter().map(|fault| fault.field.as_str()).collect::<Vec<_>>(), ["fasteners", "to"]);
}
