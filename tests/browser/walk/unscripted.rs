//! A browser that runs no script: the same job by plain forms.

use super::steps::photo;
use super::{begin_as, take_in};
use crate::chromium::Screen;
use crate::page::Touch;

#[tokio::test(flavor = "multi_thread")]
async fn readings_are_taken_by_plain_forms() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    page.scripts(false).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    page.fill("main 1 clearance, vertical", "2.5").await;
    page.within("Entry").await.press("Save").await;
    page.see("Kept: main 1").await;
    page.see("main 1 clearance, near the parting line").await;

    page.fill("main 1 clearance, near the parting line", "wide").await;
    page.within("Entry").await.press("Save").await;
    page.see("Not saved yet").await;
    assert_eq!(page.field("main 1 clearance, near the parting line").await, "wide");
    page.fill("main 1 clearance, near the parting line", "25").await;
    page.within("Entry").await.press("Save").await;
    page.see("Keep it as read, or read again?").await;
    page.press("Keep 25 as read").await;
    page.see("main 2 clearance, vertical").await;
    page.see("Kept: main 1").await;
    // What looks the page over is a script itself.
    page.scripts(true).await;
    page.look_over("sheet-unscripted", Touch::Bench).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn photos_and_notes_are_sent_by_plain_forms() {
    let (shop, page) = begin_as("Bente", Screen::Phone).await;
    page.scripts(false).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/phone?step=check-in").await;
    page.upload("From this phone, one or many", &[&photo(&shop, "left.png", 40), &photo(&shop, "stamp.png", 200)])
        .await;
    page.press("Keep these photos").await;
    page.see("As it came: left.png").await;
    page.see("As it came: stamp.png").await;
    page.fill("Note", "Rag in the intake").await;
    page.press("Save the note").await;
    page.within("Sent").await.see("Rag in the intake").await;
    assert_eq!(page.path().await, "/jobs/1/phone?step=check-in");
}
