//! What is out, what looks odd, and what cannot be: listed until somebody makes the call, asked about, or refused.

use super::{begin_as, enter, limit, take_in};
use crate::chromium::Screen;
use crate::page::Touch;

#[tokio::test(flavor = "multi_thread")]
async fn what_is_out_waits_for_somebodys_call() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    limit(&page, "main clearance, vertical", "2.2", "2.9").await;
    page.go("/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.2").await;
    page.fill("main 3 clearance, vertical", "3.4").await;
    page.see("looks out").await;
    page.type_keys("\n").await;
    page.see("Kept: main 3, clearance, vertical, 3.4").await;
    page.go("/jobs/1").await;
    page.within("Fit main bearings").await.see("1 out").await;
    page.press("Fit main bearings").await;
    let point = page.within("main 3: main clearance, vertical").await;
    for words in ["out", "3.4 thou", "2.2 to 2.9 thou"] {
        point.see(words).await;
    }
    page.look_over("step-out", Touch::Bench).await;

    page.within("main 3: main clearance, vertical").await.press("My call, because …").await;
    page.see("Why it is good for this engine").await;
    page.press("Make the call").await;
    page.see("Not saved yet").await;
    page.look_over("call-refused", Touch::Bench).await;
    page.fill("Why it is good for this engine", "The pump gives a fifth more than it needs.").await;
    page.fill("Note for the owner, if any", "Main 3 runs wide by choice: keep to the thicker oil.").await;
    page.press("Make the call").await;
    let point = page.within("main 3: main clearance, vertical").await;
    point.see("My call, because The pump gives a fifth more than it needs. Bente").await;
    page.look_over("step-accepted", Touch::Bench).await;
    page.go("/").await;
    page.see("1 out, accepted").await;

    page.go("/jobs/1/card").await;
    page.see("What the owner is told of what was accepted 1 note").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_odd_figure_is_asked_about_and_the_impossible_refused() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("Kept:").await;
    page.fill("main 1 clearance, near the parting line", "25").await;
    page.see("looks odd").await;
    page.type_keys("\n").await;
    page.see("Keep it as read, or read again?").await;
    page.look_over("sheet-odd", Touch::Bench).await;
    page.press("Read again").await;
    enter(&page, "main 1 clearance, near the parting line", "2.6").await;
    page.see("Kept: main 1, clearance, near the parting line, 2.6").await;

    enter(&page, "main 2 clearance, vertical", "0.4").await;
    page.press("Keep 0.4 as read").await;
    page.see("Kept: main 2, clearance, vertical, 0.4").await;
    page.go("/jobs/1/sheets/main-bearings?at=main.1").await;
    page.see("looked odd, kept as read").await;

    page.go("/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.3").await;
    enter(&page, "main 4 clearance, vertical", "wide").await;
    page.see("not saved").await;
    page.look_over("sheet-impossible", Touch::Bench).await;
    page.press("Type it again").await;
    assert_eq!(page.field("main 4 clearance, vertical").await, "wide");
    enter(&page, "main 4 clearance, vertical", "2.4").await;
    page.see("Kept: main 4, clearance, vertical, 2.4").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_second_reading_is_taken_without_seeing_the_first() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/limits").await;
    page.press("Nothing chosen").await;
    page.choose("Main bearings, gauge zeroed on the journal: clearance, vertical").await;
    page.look_over("second-readings", Touch::Office).await;
    page.press("Read these twice").await;
    page.see("1 chosen").await;

    page.go("/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.0").await;
    enter(&page, "main 1 clearance, vertical", "2.4").await;
    page.see("Kept: main 1, clearance, vertical, covered until the second").await;
    page.see("taken, covered until the second").await;
    page.see_no("2.4").await;
    page.look_over("sheet-covered", Touch::Bench).await;
    page.go("/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.0").await;
    enter(&page, "main 1 clearance, vertical", "2.9").await;
    page.see("they differ by more than the gauge can tell: read it once more").await;
    page.go("/jobs/1/sheets/main-bearings?slot=main-clearance-vertical@main.0").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("3 readings: the mean of those that agree counts").await;
}

/// The refused form leaves the page at an address of its own; readings still go to the sheet.
#[tokio::test(flavor = "multi_thread")]
async fn readings_go_on_beside_a_temperature_that_was_refused() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    page.press("Another, or part and gauge apart").await;
    page.fill("Of the parts", "hot").await;
    page.press("Note them").await;
    page.see("Not saved yet").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("Kept: main 1, clearance, vertical, 2.5").await;
}
