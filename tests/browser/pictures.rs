//! The pictures of README.md, made anew from the demonstration shop where that is asked for:
//! `cargo test --test browser pictures -- --ignored`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::chromium::{Light, Screen};
use crate::page::Page;
use crate::shop::Shop;

/// Wide enough to read the card's smallest words in.
const CARD_WIDTH: &str = "900";

fn picture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures").join(name)
}

#[tokio::test(flavor = "multi_thread")]
#[ignore = "writes tests/pictures: its times of day are new each time"]
async fn a_sheet_at_the_bench_and_an_owners_card() {
    let shop = Shop::demonstration().await;
    let page = Page::open(&shop.address, Screen::Tablet, Light::Bright).await;
    page.press("Who is here?").await;
    page.press("Marta Voss").await;
    page.press("Job 2 Tamblyn 246 six, pickup").await;
    let job = page.path().await;
    page.go(&format!("{job}/sheets/main-bearings?at=main.2")).await;
    page.see("Main 3").await;
    fs::copy(page.screenshot("readme-bench").await, picture("bench.png")).expect("the sheet's picture");

    let card = picture("card");
    let drawn = Command::new("pdftoppm")
        .args(["-png", "-singlefile", "-f", "1", "-scale-to-x", CARD_WIDTH, "-scale-to-y", "-1"])
        .args([&shop.file("data/spec-card.pdf"), &card])
        .status()
        .expect("pdftoppm");
    assert!(drawn.success(), "{drawn}");
}
