//! Parts at the page: wanted, ordered, received, refused where they cannot be; rod bolts changed after the big end was read,
//! which is stale until it is read anew, and signed only then.

use super::{begin_as, enter, take_in};
use crate::chromium::{Light, Screen};
use crate::page::Touch;

const RODS: &str = "/jobs/1/sheets/rods";

#[tokio::test(flavor = "multi_thread")]
async fn other_rod_bolts_are_ordered_come_and_ask_for_the_big_end_anew() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/steps/check-in").await;
    page.press("Sign as Bente").await;
    page.see("signed by Bente").await;

    page.go(&format!("{RODS}?slot=rod-housing-vertical@cylinder.0.0")).await;
    enter(&page, "cylinder 1 big end, vertical", "2.2250 in").await;
    page.see("Kept: cylinder 1, big end, vertical, 2.2250").await;

    page.go("/jobs/1").await;
    page.press("Parts").await;
    page.see("No part is written down for this job.").await;
    page.look_over("parts-empty", Touch::Office).await;
    page.fill("How many", "sixteen").await;
    page.press("Write it down").await;
    page.see("Say what it is").await;
    page.see("Enter how many").await;
    page.fill("What it is", "Rod bolts, stretch").await;
    page.fill("How many", "16").await;
    page.pick("Which step waits for it", "Tear down").await;
    page.press("Write it down").await;
    page.see("To order").await;

    page.go("/jobs/1").await;
    page.see("Rod bolts, stretch").await;
    page.go("/jobs/1/parts").await;
    page.press("Rod bolts, stretch").await;
    page.fill("How many of it", "16").await;
    page.press("Note it").await;
    page.see("16 ordered").await;
    page.pick("It was", "received").await;
    page.fill("How many of it", "18").await;
    page.press("Note it").await;
    page.see("That makes 18 of 16 ordered").await;
    page.fill("How many of it", "16").await;
    page.press("Note it").await;
    page.see("16 here").await;
    page.look_over("part", Touch::Office).await;
    page.inspect_on(Screen::Phone, Light::Dark, "part-phone-dark").await;

    // The step that waited for them can begin.
    page.go("/jobs/1").await;
    page.press("Go on: Tear down").await;
    page.see("Sign as Bente").await;

    page.go("/jobs/1/parts").await;
    page.press("Rod bolts, stretch").await;
    page.pick("It was", "fitted").await;
    page.press("Fitted: as what, and what it changes").await;
    page.pick("It changes", "other rod bolts").await;
    page.press("Note it").await;
    page.see("16 fitted").await;

    page.go("/").await;
    page.see("stale").await;
    page.go(&format!("{RODS}?at=cylinder.0.0")).await;
    page.see("since other rod bolts").await;
    page.see("read before the change").await;
    page.look_over("rods-stale", Touch::Bench).await;
    page.go("/jobs/1/steps/parts").await;
    page.press("Sign as Bente").await;
    page.see("Say why it is signed although figures are stale").await;

    page.go(RODS).await;
    page.press("Begin a new round").await;
    page.choose("final").await;
    page.press("Begin the round").await;
    page.go(&format!("{RODS}?slot=rod-housing-vertical@cylinder.0.0")).await;
    enter(&page, "cylinder 1 big end, vertical", "2.2252 in").await;
    page.see("Kept: cylinder 1, big end, vertical, 2.2252").await;
    page.go("/jobs/1/changes").await;
    page.see("Nothing is stale by it.").await;
    page.look_over("changes", Touch::Bench).await;
    page.go("/jobs/1/steps/parts").await;
    page.press("Sign as Bente").await;
    page.see("signed by Bente").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn line_honing_is_sent_out_and_held_against_what_was_asked() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sent-out").await;
    page.fill("What is to be done", "Line honing").await;
    page.pick("Measured on", "Main bearings").await;
    page.fill("Fasteners pulled down to", "70 lbf·ft").await;
    page.press("Write it down").await;
    page.press("Line honing").await;
    page.pick("Ask", "main housing size").await;
    page.fill("At least", "2.9410").await;
    page.fill("At most", "2.9405").await;
    page.press("Ask it").await;
    page.see("Not saved yet").await;
    page.fill("At most", "2.9415").await;
    page.press("Ask it").await;
    page.see("2.9410 to 2.9415").await;
    page.look_over("sent-out", Touch::Office).await;

    page.go("/jobs/1/sheets/main-bearings?slot=main-housing-vertical@main.0").await;
    enter(&page, "main 1 housing, vertical", "2.9417").await;
    page.see("Kept: main 1, housing, vertical, 2.9417").await;
    page.go("/jobs/1/sent-out").await;
    page.press("Line honing").await;
    page.press("Change it").await;
    page.pick("Round read when it was back", "1 as received").await;
    page.press("Save it").await;
    page.see("2.9417").await;
    page.see("out").await;
    page.inspect_on(Screen::Tablet, Light::Dark, "sent-out-tablet-dark").await;
}
