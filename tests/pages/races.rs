//! Two tablets that read one slot at the same instant: neither overwrites the other without a word.

use axum::Router;
use serde_json::Value;

use crate::asked::{ask, noon, post};
use crate::long::is_long;
use crate::shop::{House, encoded};
use witnessmark::work::SheetKey;

/// The bores of an inline four at three heights both ways.
const SLOTS_A_JOB: usize = 24;

/// Posts a reading as the script does; what became of it.
async fn read(router: Router, job: i64, slot: String, value: &'static str) -> Value {
    let key = format!("race {job} {slot} {value}");
    let fields = [("slot", &*slot), ("value", value), ("saw", ""), ("key", &key)];
    let request = post(&format!("/jobs/{job}/sheets/cylinder-bores/readings")).header("accept", "application/json");
    let answer = ask(&router, request, encoded(&fields)).await;
    assert_eq!(answer.status, 200, "{}", answer.text);
    serde_json::from_str(&answer.text).expect("JSON")
}

/// 48 races in the short form, 1,008 in the long one.
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn of_two_readings_of_a_slot_neither_is_overwritten() {
    let jobs = if is_long() { 42 } else { 2 };
    let house = House::staffed().await;
    let mut races = 0;
    for _ in 0..jobs {
        let job = house.open("Inline four", "inline", 4, 5).await;
        for cylinder in 0..4 {
            for height in ["top", "middle", "bottom"] {
                for way in ["thrust", "pin"] {
                    let slot = format!("bore-{height}-{way}@cylinder.0.{cylinder}");
                    let one = tokio::spawn(read(house.router.clone(), job, slot.clone(), "4.3751"));
                    let other = tokio::spawn(read(house.router.clone(), job, slot.clone(), "4.3752"));
                    let (one, other) = (one.await.expect("an answer"), other.await.expect("an answer"));
                    let mut took = [one["took"].as_str().expect("a word"), other["took"].as_str().expect("a word")];
                    took.sort_unstable();
                    assert_eq!(took, ["kept", "rival"], "{slot}: {one} {other}");
                    races += 1;
                }
            }
        }
        let sheet = house.shop.sheet(job, SheetKey::CylinderBores, None, noon()).await.expect("the sheet");
        let slots: Vec<_> = sheet.places.iter().flat_map(|place| &place.slots).filter(|slot| !slot.stated).collect();
        assert_eq!(slots.len(), SLOTS_A_JOB);
        for slot in slots {
            let mut waiting: Vec<&str> = slot.rivals.iter().map(|reading| reading.typed.as_str()).collect();
            waiting.sort_unstable();
            assert_eq!(waiting, ["4.3751", "4.3752"], "{}: nobody is asked which counts", slot.key);
        }
    }
    assert_eq!(races, jobs * SLOTS_A_JOB);
}
