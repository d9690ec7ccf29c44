//! Places that are read twice, the second time without seeing the first.

use crate::setting::{Bench, a_four};
use witnessmark::work::{FamilyForm, NewJob, Refused, SheetKey, SlotKey, SlotView, Standing, Took, Wanted};

const FEATURE: &str = "main-clearance-vertical";
const SLOT: &str = "main-clearance-vertical@main.1";

async fn asked_twice(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    bench.shop.read_twice(&bench.doing(), job, &[FEATURE.to_owned()]).await.unwrap();
    job
}

/// The slot, and how the clearance of its main stands, with what it rests on.
async fn seen(bench: &Bench, job: i64) -> (SlotView, Standing, String) {
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let place = view.places.into_iter().find(|place| place.key == "main.1").unwrap();
    let slot = place.slots.into_iter().find(|slot| slot.key == SlotKey::parse(SLOT)).unwrap();
    let finding = &place.findings[0];
    assert_eq!(finding.value.is_none(), finding.standing == Standing::Missing, "{finding:?}");
    (slot, finding.standing, finding.basis.clone())
}

#[tokio::test]
async fn the_first_is_covered_until_the_second_agrees() {
    let bench = Bench::open().await;
    let job = asked_twice(&bench).await;
    assert!(seen(&bench, job).await.0.read_twice);
    bench.take(job, SLOT, "2.5 thou", None).await;
    let (slot, standing, basis) = seen(&bench, job).await;
    assert_eq!((slot.wanted, slot.readings.len(), slot.saw), (Some(Wanted::Second), 0, Some(1)));
    assert_eq!(standing, Standing::Missing);
    assert!(basis.contains("second reading wanted: main 2, clearance, vertical"), "{basis}");
    // Taken on a tablet that has not seen the first: no rival, as it is not to be seen.
    assert!(matches!(bench.take(job, SLOT, "2.6 thou", None).await, Took::Kept { number: 2, .. }));
    let (slot, standing, _) = seen(&bench, job).await;
    assert_eq!((slot.wanted, slot.readings.len()), (None, 2));
    assert_eq!(standing, Standing::Figure);
    assert!(matches!(bench.take(job, SLOT, "2.7 thou", None).await, Took::Rival { .. }), "the third time it is");
}

#[tokio::test]
async fn where_two_differ_a_third_decides() {
    let bench = Bench::open().await;
    let job = asked_twice(&bench).await;
    bench.take(job, SLOT, "2.5 thou", None).await;
    bench.take(job, SLOT, "3.1 thou", Some(1)).await;
    let (slot, standing, basis) = seen(&bench, job).await;
    assert_eq!((slot.wanted, slot.readings.len()), (Some(Wanted::Another), 2), "both are shown");
    assert_eq!(standing, Standing::Missing);
    assert!(basis.contains("differ by more than the gauge can tell"), "{basis}");
    bench.take(job, SLOT, "2.5 thou", Some(2)).await;
    assert_eq!(seen(&bench, job).await.0.wanted, None);
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let finding = &view.places.iter().find(|place| place.key == "main.1").unwrap().findings[0];
    assert_eq!(finding.value.as_deref(), Some("2.5\u{a0}thou"), "the two that agree");
}

#[tokio::test]
async fn entry_comes_round_to_what_is_still_covered() {
    let bench = Bench::open().await;
    let job = asked_twice(&bench).await;
    for main in 0..5 {
        bench.take(job, &format!("main-clearance-parting@main.{main}"), "2.9 thou", None).await;
    }
    for main in 0..4 {
        bench.take(job, &format!("main-clearance-vertical@main.{main}"), "2.5 thou", None).await;
    }
    let last = bench.take(job, "main-clearance-vertical@main.4", "2.5 thou", None).await;
    let next = SlotKey::parse("main-clearance-vertical@main.0");
    assert_eq!(last, Took::Kept { number: 10, next: Some(next) });
}

#[tokio::test]
async fn a_family_asks_and_its_jobs_copy_it() {
    let bench = Bench::open().await;
    let first = asked_twice(&bench).await;
    let form = FamilyForm { name: "Small fours".into(), ..FamilyForm::default() };
    let family = bench.shop.keep_as_family(&bench.doing(), first, &form).await.unwrap();
    let wanted = async || {
        let page = bench.shop.family(&family).await.unwrap();
        page.second.into_iter().filter(|field| field.wanted).map(|field| field.key).collect::<Vec<_>>()
    };
    assert_eq!(wanted().await, [FEATURE]);
    let new = NewJob { family: family.clone(), ..a_four() };
    let job = bench.shop.open_job(&bench.doing(), &new).await.unwrap();
    let keys = ["skirt".to_owned()];
    bench.shop.read_twice_in_family(&bench.doing(), &family, &keys).await.unwrap();
    assert_eq!(wanted().await, ["skirt"]);
    let of_job = bench.shop.limits(job, bench.now()).await.unwrap().second;
    let of_job: Vec<_> = of_job.into_iter().filter(|field| field.wanted).collect();
    assert_eq!((of_job.len(), of_job[0].key.as_str()), (1, FEATURE), "a later change leaves the job as it is");
    assert_eq!(of_job[0].title, "Main bearings, gauge zeroed on the journal: clearance, vertical");
    let unknown = bench.shop.read_twice(&bench.doing(), job, &["valve-stem".to_owned()]).await;
    assert!(matches!(unknown, Err(Refused::Faults(_))), "{unknown:?}");
    let nowhere = bench.shop.read_twice_in_family(&bench.doing(), "none", &keys).await;
    assert!(matches!(nowhere, Err(Refused::NotFound)), "{nowhere:?}");
}
