//! Main bearings at each of the three depths, and by more than one route.

use super::{begin_as, enter, limit, take_in};
use crate::chromium::{Light, Screen};
use crate::page::Touch;

#[tokio::test(flavor = "multi_thread")]
async fn all_mains_are_given_in_one_entry() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    limit(&page, "main clearance, vertical", "2.2", "2.9").await;
    page.go("/jobs/1/steps/bearings").await;
    page.press("Main bearings").await;
    page.look_over("sheet-empty", Touch::Bench).await;

    let at_once = page.within("All at once").await;
    at_once.fill("A figure or a range", "2.5–2.8 thou, all five").await;
    at_once.press("Save").await;
    page.see("Kept:").await;
    page.look_over("sheet-stated", Touch::Bench).await;
    for main in ["main.0", "main.2", "main.4"] {
        page.go(&format!("/jobs/1/sheets/main-bearings?at={main}")).await;
        let follows = page.within("What follows at main").await;
        follows.see("2.5").await;
        follows.see("2.8").await;
        follows.see("good").await;
    }
    page.go("/jobs/1/steps/bearings").await;
    page.see("Nothing is out, on the line or missing").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_place_is_checked_good_and_says_how() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    let at_once = page.within("All at once").await;
    at_once.press("Checked good").await;
    page.see("Not saved yet").await;
    page.see("Say how it was checked").await;
    let entry = page.within("Entry").await;
    entry.fill("all mains one figure for all", "turns freely by hand, caps down").await;
    entry.press("Checked good").await;
    page.see("Kept:").await;
    page.go("/jobs/1/sheets/main-bearings?at=main.3").await;
    page.see("checked good").await;
    page.see("turns freely by hand, caps down").await;
    page.look_over("sheet-checked-desk", Touch::Bench).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_reading_is_typed_one_after_the_other() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    limit(&page, "main clearance, vertical", "2.2", "2.9").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("main 1 clearance, near the parting line").await;
    // A gauge types on without waiting for what is on its way.
    page.type_keys("2.9\n2 thou\n3.0\n2,4\n.0028\n").await;
    page.see("main 4 clearance, vertical").await;
    page.see("Kept: main 3, clearance, near the parting line, .0028").await;
    page.look_over("sheet-direct", Touch::Bench).await;
    page.type_keys("64 µm\n2.7\n2.5 thou\n2.9\n").await;
    page.see("gauge zeroed on the journal 2 of 2").await;

    for (main, vertical) in [("main.0", "2.5"), ("main.2", "2.4"), ("main.3", "2.5"), ("main.4", "2.5")] {
        page.go(&format!("/jobs/1/sheets/main-bearings?at={main}")).await;
        let follows = page.within("What follows at main").await;
        follows.see(&format!("main clearance, vertical good {vertical} thou")).await;
    }
    page.see("64 µm").await;
    page.inspect_on(Screen::Desk, Light::Dark, "sheet-direct-desk-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn two_routes_say_whether_they_agree() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("Kept: main 1, clearance, vertical, 2.5").await;
    page.go("/jobs/1/sheets/crankshaft?slot=main-journal-front-0@main.0").await;
    enter(&page, "main 1 front, 0°", "2.7490").await;
    page.see("main 1 front, 90°").await;
    page.go("/jobs/1/sheets/main-bearings?slot=main-shell-bore-vertical@main.0").await;
    enter(&page, "main 1 bore, vertical", "2.7516").await;
    page.see("Kept: main 1, bore, vertical, 2.7516").await;
    let follows = page.within("What follows at main 1").await;
    // 2.7516 less 2.7490 in is 2.6 thou, a tenth more than the gauge zeroed on the journal said.
    follows.see("by shells in, cap down: 2.6 thou").await;
    follows.see("−0.1 thou").await;
    follows.see("the routes agree within what they can tell").await;
    page.look_over("sheet-two-routes", Touch::Bench).await;
}
