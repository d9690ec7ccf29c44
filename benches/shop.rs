//! What a page, a reading, a sheet and a card cost, beside the ceilings of the same run: an answer of the same size that
//! is only handed out, and the bare SQL of the page.
//!
//! `cargo bench` prints the figures; those of a reference run stand in DEVELOPERS.md.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::Request;
use axum::routing::get;
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use std::sync::atomic::{AtomicU64, Ordering};
use tokio::runtime::Runtime;
use tower::ServiceExt;
use witnessmark::record::readings;
use witnessmark::web::{Door, server};
use witnessmark::work::{Audience, Doing, JobRecord, NewEntry, NewJob, RoundForm, SheetKey, Shop, SlotKey, Took};

static KEYS: AtomicU64 = AtomicU64::new(0);
const PAGE: &str = "/jobs/1/sheets/main-bearings?at=main.3";

fn now() -> jiff::Timestamp {
    "2026-03-02T08:00:00Z".parse().expect("an instant")
}

fn doing() -> Doing {
    let key = KEYS.fetch_add(1, Ordering::Relaxed);
    Doing { person: None, device: "bench".into(), key: format!("key {key}"), at: now() }
}

/// A vee twelve with seven mains and 600 readings in four rounds.
async fn full_job(shop: &Shop) -> i64 {
    let new = NewJob {
        title: "Vee twelve".into(),
        layout: "vee".into(),
        cylinders: "12".into(),
        mains: "7".into(),
        ..NewJob::default()
    };
    let job = shop.open_job(&doing(), &new).await.expect("a job");
    let mut taken = 0;
    for kind in ["received", "machined", "trial", "final"] {
        for sheet in [SheetKey::CylinderBores, SheetKey::MainBearings] {
            let round = RoundForm { kind: kind.into(), ..RoundForm::default() };
            shop.begin_round(&doing(), job, sheet, &round).await.expect("a round");
            let view = shop.sheet(job, sheet, None, now()).await.expect("a sheet");
            let slots = view.places.into_iter().flat_map(|place| place.slots).filter(|slot| !slot.stated);
            for slot in slots.collect::<Vec<_>>() {
                if taken == 600 {
                    return job;
                }
                take(shop, job, sheet, slot.key, None).await;
                taken += 1;
            }
        }
    }
    job
}

async fn take(shop: &Shop, job: i64, sheet: SheetKey, slot: SlotKey, saw: Option<i64>) -> i64 {
    let text = match slot.to_string() {
        key if key.contains("clearance") || key.contains("strip") => "2.5 thou",
        key if key.contains("wall") => ".0953",
        key if key.contains("journal") => "2.7480",
        key if key.contains("shell-bore") => "2.7505",
        key if key.contains("housing") => "2.9410",
        _ => "4.1255",
    };
    let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw, as_read: true, gauge: None };
    match shop.take(&doing(), job, &entry).await.expect("a reading") {
        Took::Kept { number, .. } => number,
        other => panic!("{other:?}"),
    }
}

async fn answer(router: Router, address: &str) -> Vec<u8> {
    let request = Request::get(address).header("host", "127.0.0.1:8040").body(Body::empty()).expect("a request");
    let response = router.oneshot(request).await.expect("an answer");
    assert!(response.status().is_success(), "{address}: {}", response.status());
    to_bytes(response.into_body(), usize::MAX).await.expect("a body").to_vec()
}

fn costs(criterion: &mut Criterion) {
    let runtime = Runtime::new().expect("a runtime");
    let folder = tempfile::tempdir().expect("a folder");
    let shop = runtime.block_on(Shop::open(folder.path())).expect("a record");
    let job = runtime.block_on(full_job(&shop));
    let house = server::house(witnessmark::bench::routes().with_state(shop.clone()), Door::at_home(), now);

    let page = runtime.block_on(answer(house.clone(), PAGE));
    println!("the page of a job with 600 readings is {} bytes", page.len());
    criterion.bench_function("page of a job with 600 readings", |b| {
        b.iter(|| black_box(runtime.block_on(answer(house.clone(), PAGE))));
    });
    let stored = Router::new().route("/", get(move || async move { page.clone() }));
    criterion.bench_function("ceiling: a stored answer of the same size", |b| {
        b.iter(|| black_box(runtime.block_on(answer(stored.clone(), "/"))));
    });
    criterion.bench_function("ceiling: the bare SQL of its readings", |b| {
        b.iter(|| {
            runtime.block_on(async {
                let mut look = shop.record().look().await.expect("a look");
                black_box(readings::of_build(&mut look, job).await.expect("readings").len())
            })
        });
    });
    criterion.bench_function("the floor", |b| b.iter(|| black_box(runtime.block_on(answer(house.clone(), "/")))));
    let loaded = runtime.block_on(async {
        let mut look = shop.record().look().await.expect("a look");
        JobRecord::load(&mut look, job).await.expect("a job").expect("it stands")
    });
    criterion.bench_function("working out main bearings", |b| {
        b.iter(|| black_box(loaded.book().findings(SheetKey::MainBearings).len()));
    });
    // A repeat each time, in a slot that the 600 leave free: the job grows by as many readings as there are samples.
    let mut saw = None;
    criterion.bench_function("saving a reading", |b| {
        b.iter(|| {
            let slot = SlotKey::parse("skirt@cylinder.0.0");
            saw = Some(runtime.block_on(take(&shop, job, SheetKey::Pistons, slot, saw)));
        });
    });
    criterion.bench_function("the shop's card", |b| {
        b.iter(|| black_box(runtime.block_on(shop.preview_card(job, Audience::Shop, now())).expect("a card").len()));
    });
}

criterion_group! {
    name = shop;
    config = Criterion::default().sample_size(20);
    targets = costs
}
criterion_main!(shop);
