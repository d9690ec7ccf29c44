//! What a shop does with an engine, each part as a person would walk through it, and judged by what stands on the page.

mod bores;
mod card;
mod demo;
mod details;
mod lan;
mod mains;
mod money;
mod new_job;
mod parts;
mod phone;
mod quick;
mod replay;
mod rivals;
mod short_block;
mod steps;
mod trouble;
mod unscripted;

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

/// Sets a limit on a finding of job 1, at every place, as "2.2" to "2.9" in what a bare figure is there.
async fn limit(page: &Page, finding: &str, least: &str, most: &str) {
    page.go("/jobs/1/limits").await;
    page.press(&format!("Set one on {finding}")).await;
    page.fill("At least", least).await;
    page.fill("At most", most).await;
    page.fill("Whose figure it is", "own practice").await;
    page.fill("Why it is set", "agreed with the owner").await;
    page.press("Set this limit").await;
    page.see("Kept. Every finding is judged by it from now on.").await;
}

/// Types into the slot that is armed and enters it, as at the bench.
async fn enter(page: &Page, armed: &str, typed: &str) {
    page.fill(armed, typed).await;
    page.type_keys("\n").await;
}
