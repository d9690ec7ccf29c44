//! The first name, a job from a phone call, and the floor.

use super::begin_as;
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};
use crate::shop::Shop;

#[tokio::test(flavor = "multi_thread")]
async fn a_job_from_the_phone_stands_on_the_floor() {
    let shop = Shop::empty().await;
    let page = Page::open(&shop.address, Screen::Tablet, Light::Bright).await;
    page.see("No engine is in the shop").await;
    page.look_over("floor-empty", Touch::Bench).await;

    page.press("Who is here?").await;
    page.see("Enter the first name").await;
    page.press("Begin with this name").await;
    page.see("Not saved yet").await;
    page.see("Enter the name as it is called in the shop").await;
    page.look_over("who-refused", Touch::Bench).await;
    page.fill("Name, as called in the shop", "Bente").await;
    page.press("Begin with this name").await;
    page.see("At this tablet: Bente").await;

    page.press("Take in the first job").await;
    page.look_over("new-job", Touch::Bench).await;
    page.press("Open the job").await;
    page.see("Not saved yet").await;
    page.look_over("new-job-refused", Touch::Bench).await;
    page.fill("Whose engine", "Aron Vestby").await;
    page.fill("Phone", "555 0143").await;
    page.fill("What it is", "Inline six from the grey boat").await;
    page.fill("What he wants", "Runs hot on the long leg. No more power, only peace.").await;
    page.choose("inline").await;
    page.within("Cylinders").await.choose("6").await;
    page.within("Main bearings").await.choose("7").await;
    page.press("Open the job").await;

    page.see("Steps 0 of 18 done").await;
    page.see("Runs hot on the long leg.").await;
    page.see("inline 6, 7 mains").await;
    page.look_over("job-new", Touch::Bench).await;
    page.press("Shop floor").await;
    page.see("Carry on with job 1").await;
    let row = page.within("Job 1").await;
    for words in ["Aron Vestby", "inline 6, 7 mains", "next Check in", "0 of 18 steps done", "by Bente"] {
        row.see(words).await;
    }
    page.look_over("floor-one-job", Touch::Bench).await;
    page.inspect_on(Screen::Desk, Light::Dark, "floor-one-job-desk-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_family_of_hands_shares_one_tablet() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    page.press("At this tablet").await;
    page.fill("Name, as called in the shop", "Ove").await;
    page.press("Add this name").await;
    page.see("At this tablet: Ove").await;
    page.press("At this tablet").await;
    page.see("Who is at this tablet?").await;
    page.look_over("who", Touch::Bench).await;
    page.press("Bente").await;
    page.see("At this tablet: Bente").await;

    page.press("Light").await;
    page.look_over("light", Touch::Bench).await;
    page.press("Dark").await;
    page.see("No engine is in the shop").await;
    page.look_over("floor-empty-chosen-dark", Touch::Bench).await;
}
