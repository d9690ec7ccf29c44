//! Readings of main journals kept on the sheet of the main bearings, as records have them from before they had their home with the
//! crankshaft: shown there, counted, corrected, and gone over by new ones.

use crate::setting::Bench;
use witnessmark::engine::{SheetKey, SlotKey};
use witnessmark::quantity::Unit;
use witnessmark::record::acts::NewAct;
use witnessmark::record::readings::{self, NewReading, ReadingState, Says};
use witnessmark::work::{FindingKey, JobRecord, NewCorrection, RoundForm, SlotView};

const JOURNAL: &str = "main-journal-front-0@main.1";
const SHELLS_IN: &str = "main-shell-bore-vertical@main.1";

/// Lays a reading of a journal into the round of the main bearings that counts, as editions before this one did.
async fn lay(bench: &Bench, job: i64, slot: &str, inches: f64) -> i64 {
    let loaded = JobRecord::load(&mut bench.shop.record().look().await.unwrap(), job).await.unwrap().unwrap();
    let round = loaded.counting(SheetKey::MainBearings).expect("a round").id;
    let doing = bench.doing();
    let act = NewAct {
        at: doing.at,
        person: None,
        device: "tablet",
        what: "take reading",
        idempotency_key: &doing.key,
        build: Some(job),
    };
    let mut w = bench.shop.record().begin(&act).await.unwrap().expect("a new act");
    let new = NewReading {
        item: loaded.items[0].item,
        sheet: SheetKey::MainBearings,
        slot: SlotKey::parse(slot),
        round,
        says: Says::Figure(Unit::Inch.to_si(inches)),
        typed: format!("{inches}"),
        unit: Some(Unit::Inch),
        resolution: Unit::Inch.to_si(1e-4),
        gauge: None,
        gauge_setting: None,
        saw: None,
        corrects: None,
        why: String::new(),
        as_read: false,
        moved_from: None,
        brought: None,
        state: ReadingState::Stands,
    };
    let number = readings::insert(&mut w, job, &new).await.unwrap();
    w.commit().await.unwrap();
    number
}

async fn slot(bench: &Bench, job: i64, key: SheetKey, slot: &str) -> Option<SlotView> {
    let view = bench.shop.sheet(job, key, None, bench.now()).await.unwrap();
    let slot = SlotKey::parse(slot);
    view.places.into_iter().flat_map(|place| place.slots).find(|of| of.key == slot)
}

/// Readings on the sheet of the main bearings of which no row is there or on the crankshaft's.
async fn unasked(bench: &Bench, job: i64) -> usize {
    bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap().unasked.len()
}

async fn clearance(bench: &Bench, job: i64) -> Option<String> {
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let key = FindingKey::parse("main-clearance-vertical@main.1");
    view.places.into_iter().flat_map(|place| place.findings).find(|f| f.key == key).and_then(|f| f.value)
}

/// 2.7505 − 2.7480 in is 2.5 thou; corrected to 2.7481 in, 2.4 thou; read anew on the crankshaft's sheet as 2.7483 in, 2.2 thou.
#[tokio::test]
async fn journals_kept_with_the_main_bearings_stand_and_count() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, SHELLS_IN, "2.7505", None).await;
    let number = lay(&bench, job, JOURNAL, 2.7480).await;
    assert_eq!(clearance(&bench, job).await.as_deref(), Some("2.5\u{a0}thou"));
    assert!(slot(&bench, job, SheetKey::MainBearings, JOURNAL).await.is_none());
    assert_eq!(unasked(&bench, job).await, 0);
    let shown = slot(&bench, job, SheetKey::Crankshaft, JOURNAL).await.expect("the crankshaft's");
    assert_eq!(shown.readings.len(), 1);
    assert_eq!(shown.read_elsewhere.as_deref(), Some("read on Main bearings, round 1"));
    let crank = bench.shop.sheet(job, SheetKey::Crankshaft, None, bench.now()).await.unwrap();
    assert_eq!(crank.armed.map(|slot| slot.to_string()).as_deref(), Some("main-journal-front-0@main.0"));
    let tally = bench.shop.job(job, bench.now()).await.unwrap().tally;
    assert_eq!(tally.missing, 4, "the other mains' clearances: nobody took up the crankshaft's sheet");

    let correction = NewCorrection { text: "2.7481".into(), why: "thimble misread".into(), as_read: true };
    bench.shop.correct(&bench.doing(), job, number, &correction).await.unwrap();
    assert_eq!(clearance(&bench, job).await.as_deref(), Some("2.4\u{a0}thou"));
    assert_eq!(bench.shop.reading(job, number, bench.now()).await.unwrap().sheet, SheetKey::Crankshaft);

    // What a tablet kept for the sheet as it was goes to the slot's home.
    bench.take(job, JOURNAL, "2.7483", Some(number)).await;
    assert_eq!(clearance(&bench, job).await.as_deref(), Some("2.2\u{a0}thou"));
    let shown = slot(&bench, job, SheetKey::Crankshaft, JOURNAL).await.expect("the crankshaft's");
    assert_eq!((shown.readings.len(), shown.read_elsewhere), (1, None));
    assert_eq!(unasked(&bench, job).await, 1, "what is gone over is still seen where it lies");
    assert!(bench.shop.job(job, bench.now()).await.unwrap().tally.missing > 4, "now it is taken up");
}

/// Another round of the main bearings counts, without journals: those of the first count no more, as before.
#[tokio::test]
async fn they_count_with_the_round_they_lie_in() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, SHELLS_IN, "2.7505", None).await;
    lay(&bench, job, JOURNAL, 2.7480).await;
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, SheetKey::MainBearings, &form).await.unwrap();
    bench.take(job, SHELLS_IN, "2.7506", None).await;
    assert_eq!(clearance(&bench, job).await, None);
    let shown = slot(&bench, job, SheetKey::Crankshaft, JOURNAL).await.expect("the crankshaft's");
    assert!(shown.readings.is_empty() && shown.read_elsewhere.is_none());
    assert_eq!(unasked(&bench, job).await, 1, "and is seen where it lies");
}
