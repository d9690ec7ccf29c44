//! Two tablets at the same engine, and one that loses the wireless.

use super::{begin_as, enter, take_in};
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};

const SLOT: &str = "/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.1";

#[tokio::test(flavor = "multi_thread")]
async fn two_readings_of_one_slot_wait_for_somebody_to_choose() {
    let (shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    let other = Page::open(&shop.address, Screen::UprightTablet, Light::Dark).await;
    page.go(SLOT).await;
    other.go(SLOT).await;
    enter(&page, "main 2 clearance, vertical", "2.5").await;
    page.see("Kept: main 2, clearance, vertical, 2.5").await;
    enter(&other, "main 2 clearance, vertical", "2.7").await;
    other.see("Another tablet read main 2").await;
    other.look_over("sheet-rival", Touch::Bench).await;

    page.go("/jobs/1").await;
    page.see("1 undecided").await;
    page.go("/jobs/1/sheets/main-bearings?at=main.1").await;
    page.see("Which counts?").await;
    page.look_over("sheet-undecided", Touch::Bench).await;
    page.press("2.7 thou").await;
    page.see_no("Which counts?").await;
    page.within("What follows at main 2").await.see("2.7 thou").await;
    page.go("/jobs/1").await;
    page.see("Steps").await;
    page.see_no("undecided").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_typed_without_the_wireless_is_sent_when_it_is_back() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    page.wireless(false).await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("2.5, not saved yet").await;
    page.type_keys("2.6\n").await;
    page.wireless(true).await;
    page.see("Kept: main 1, clearance, near the parting line, 2.6").await;
    page.see_no("not saved yet").await;
    page.go("/jobs/1/sheets/main-bearings?at=main.0").await;
    page.within("What follows at main 1").await.see("2.5 thou").await;
}
