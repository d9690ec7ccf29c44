//! What the office adds to a job: who, serials, targets, words for the card, limits with their reasons.

use super::{begin_as, limit, take_in};
use crate::chromium::{Light, Screen};
use crate::page::Touch;

#[tokio::test(flavor = "multi_thread")]
async fn the_details_of_a_job_are_kept_and_their_faults_shown_at_once() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.press("Details").await;
    page.look_over("details", Touch::Office).await;
    page.fill("E-mail", "mira@example.org").await;
    page.fill("Serial, block", "WB 4417 <3>").await;
    page.pick("Block", "grey iron").await;
    page.fill("Firing order", "1-8-4-3-6-5-7").await;
    page.fill("bore", "wide").await;
    page.fill("stroke", "4.25").await;
    page.press("Save the details").await;

    let faults = page.within("Not saved yet").await;
    faults.see("firing order").await;
    faults.see("bore").await;
    assert_eq!(page.field("bore").await, "wide");
    assert_eq!(page.field("Serial, block").await, "WB 4417 <3>");
    page.look_over("details-refused", Touch::Office).await;

    page.fill("Firing order", "1-8-4-3-6-5-7-2").await;
    page.fill("bore", "4.375").await;
    page.fill("Oil", "10W-40 with zinc").await;
    page.press("Save the details").await;
    page.see("Kept.").await;
    assert_eq!(page.field("Firing order").await, "1-8-4-3-6-5-7-2");
    assert_eq!(page.field("bore").await, "4.375");
    page.press("To the card").await;
    // Eight times a quarter of pi × 4.375² × 4.25 in.
    page.see("Displacement 511.1").await;
    page.inspect_on(Screen::Tablet, Light::Dark, "card-maker-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_limit_is_set_changed_and_lifted_with_a_reason() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.press("Limits").await;
    page.see("No limit is set on this job").await;
    page.press("Set one on main clearance, vertical").await;
    page.fill("At least", "2.9").await;
    page.fill("At most", "2.2").await;
    page.press("Set this limit").await;
    page.see("Not saved yet").await;
    page.look_over("limits-refused", Touch::Office).await;

    limit(&page, "main clearance, vertical", "2.2", "2.9").await;
    page.see("2.2 to 2.9 thou").await;
    page.look_over("limits", Touch::Office).await;
    page.press("Change or lift main clearance, vertical").await;
    page.fill("At most", "3.1").await;
    page.fill("Why it is set", "thicker oil for the long climb").await;
    page.press("Set this limit").await;
    page.see("Kept. Every finding").await;
    page.see("2.2 to 3.1 thou").await;
    page.see("thicker oil for the long climb").await;
    page.see("agreed with the owner").await;

    page.press("Change or lift main clearance, vertical").await;
    page.fill("Why it is set", "the owner takes it as it comes").await;
    page.press("Lift it").await;
    page.see("lifted").await;
    page.see("the owner takes it as it comes").await;
}
