//! The short block at the page: a ratio worked out from what is read and aimed at, in inches and in millimetres; wrong and
//! empty entries; the wireless gone in between; and the choice of shells.

use std::time::Duration;

use super::{begin_as, enter, take_in};
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};

const COMPRESSION: &str = "/jobs/1/sheets/compression";

/// A vee eight of 4.000 by 3.480 in: 716.6 cm³ to a cylinder; a gasket of 0.0394 by 4.0906 in: 8.48 cm³.
async fn aims(page: &Page, targets: &[(&str, &str)]) {
    page.go("/jobs/1/details").await;
    for (title, typed) in targets {
        page.fill(title, typed).await;
    }
    page.press("Save the details").await;
    page.see("Kept.").await;
}

async fn unfold(page: &Page) {
    page.go("/jobs/1/details").await;
    page.press("Deck and compression").await;
}

/// 716.62 swept; 64.0 chamber + 8.48 gasket + 2.06 deck (10.0 thou) + 5.0 dish: 79.54 cm³, so (716.62 + 79.54) / 79.54 = 10.010:
/// the figures of an independent computation, without the crevice.
#[tokio::test(flavor = "multi_thread")]
async fn compression_is_worked_out_from_what_is_read() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    unfold(&page).await;
    for (title, typed) in [("bore", "101.6 mm"), ("stroke", "88.392 mm"), ("head gasket bore", "103.9 mm")] {
        page.fill(title, typed).await;
    }
    page.fill("head gasket, crushed", "1.0 mm").await;
    page.fill("piston crown volume", "5.0").await;
    page.press("Save the details").await;
    page.see("Kept.").await;

    page.go(&format!("{COMPRESSION}?slot=deck-clearance-front@cylinder.0.0")).await;
    enter(&page, "cylinder 1 on the pin’s axis, front", "low").await;
    page.see("not saved").await;
    page.press("Type it again").await;
    enter(&page, "cylinder 1 on the pin’s axis, front", "").await;
    page.wireless(false).await;
    enter(&page, "cylinder 1 on the pin’s axis, front", "10.0").await;
    page.see("not yet saved").await;
    page.wireless(true).await;
    page.all_is_saved(Duration::from_secs(30)).await;
    page.console_errors().await;
    page.go(&format!("{COMPRESSION}?slot=chamber@cylinder.0.0")).await;
    enter(&page, "cylinder 1 chamber", "64.0").await;
    page.see("Kept: cylinder 1, chamber, 64.0").await;
    page.go(&format!("{COMPRESSION}?at=cylinder.0.0")).await;
    let follows = page.within("What follows at cylinder 1").await;
    follows.see("716.62 swept + 79.54 above the piston").await;
    follows.see("10.010").await;
    follows.see("gasket thickness of bank 1").await;
    page.look_over("compression", Touch::Bench).await;
    page.inspect_on(Screen::Phone, Light::Dark, "compression-phone-dark").await;
}

/// Two mains at 2.6 thou where 2.1 is aimed at, in a job worked in millimetres: 66 and 53 µm.
#[tokio::test(flavor = "multi_thread")]
async fn shells_are_chosen_in_millimetres() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/details").await;
    page.choose("mm and µm").await;
    page.press("Crank, mains and rods").await;
    page.fill("main clearance, vertical", "53 µm").await;
    page.press("Save the details").await;
    page.see("Kept.").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    enter(&page, "main 1 clearance, vertical", "66").await;
    page.see("Kept: main 1, clearance, vertical, 66").await;
    page.press("Choose shells").await;
    page.see("66 µm now, 53 µm aimed at").await;
    page.see("25 µm undersize").await;
    page.fill("Walls of the half shells on the shelf", "a: thick").await;
    page.press("Work it out").await;
    page.see("thick").await;
    page.look_over("options-refused", Touch::Bench).await;
    aims(&page, &[("main clearance, vertical", "")]).await;
    page.go("/jobs/1/sheets/main-bearings/options").await;
    page.see("what clearance is aimed at").await;
}
