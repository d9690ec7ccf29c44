//! The demonstration shop in a folder of its own, laid out once for all tests, which only look at it.

use jiff::Timestamp;
use std::path::Path;
use std::sync::LazyLock;
use tempfile::TempDir;
use tokio::runtime::Runtime;
use witnessmark::upkeep::demo::{self, DemoShop};
use witnessmark::work::{SheetKey, SheetView, Shop};

static LAID_OUT: LazyLock<(TempDir, DemoShop)> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a folder");
    // Apart from the tests' own runtimes, one of which waits for this.
    let laid_out = std::thread::scope(|scope| scope.spawn(|| in_folder(folder.path())).join().expect("laid out"));
    (folder, laid_out)
});

/// A Monday morning in the shop.
pub fn now() -> Timestamp {
    "2026-03-02T15:00:00Z".parse().expect("an instant")
}

/// Lays out a shop in a folder and closes it.
pub fn in_folder(folder: &Path) -> DemoShop {
    Runtime::new().expect("a runtime").block_on(async {
        let (shop, laid_out) = demo::open(folder, now()).await.expect("the demonstration shop");
        shop.close().await;
        laid_out
    })
}

pub fn demo() -> &'static DemoShop {
    &LAID_OUT.1
}

pub fn folder() -> &'static Path {
    LAID_OUT.0.path()
}

pub async fn shop() -> Shop {
    Shop::open(folder()).await.expect("the record")
}

/// The number of the job whose title begins so, on the floor.
pub async fn job(shop: &Shop, title: &str) -> i64 {
    let floor = shop.floor("a test", now()).await.unwrap();
    floor.rows.iter().find(|row| row.title.starts_with(title)).unwrap_or_else(|| panic!("no {title}")).job
}

/// Every job, those that left the shop included.
pub fn every_job() -> std::ops::RangeInclusive<i64> {
    1..=i64::try_from(demo().jobs).expect("few jobs")
}

pub async fn sheet(shop: &Shop, job: i64, key: SheetKey) -> SheetView {
    shop.sheet(job, key, None, now()).await.unwrap()
}
