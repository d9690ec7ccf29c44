//! A browser that runs no script: the same job by plain forms.

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
