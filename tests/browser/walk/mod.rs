//! What a shop does with an engine, each part as a person would walk through it, and judged by what stands on the page.

mod new_job;
mod steps;

use crate::chromium::{Light, Screen};
use crate::page::Page;
use crate::shop::Shop;

/// A page on an empty shop, with this name tapped.
async fn begin_as(name: &str, screen: Screen) -> (Shop, Page) {
    let shop = Shop::empty().await;
    let page = Page::open(&shop.address, screen, Light::Bright).await;
    page.go("/who").await;
    page.fill("Name, as called in the shop", name).await;
    page.press("Begin with this name").await;
    page.see("No engine is in the shop").await;
    (shop, page)
}

/// Opens a job as on the phone and leaves its page open: a vee eight with five mains, worked in inches.
async fn take_in(page: &Page, whose: &str, what: &str) {
    page.go("/jobs/new").await;
    page.fill("Whose engine", whose).await;
    page.fill("What it is", what).await;
    page.choose("vee").await;
    page.within("Cylinders").await.choose("8").await;
    page.within("Main bearings").await.choose("5").await;
    page.press("Open the job").await;
    page.see(what).await;
    page.see("Whose").await;
}
