//! A step at the bench: notes, photos, stopped, resumed, signed, opened again, set aside.

use std::path::PathBuf;

use image::{Rgb, RgbImage};

use super::{begin_as, take_in};
use crate::chromium::{Light, Screen};
use crate::page::Touch;
use crate::shop::Shop;

/// A picture as a camera might bring it.
pub fn photo(shop: &Shop, name: &str, red: u8) -> PathBuf {
    let file = shop.file(name);
    RgbImage::from_fn(640, 480, |x, y| Rgb([red, x.to_le_bytes()[0], y.to_le_bytes()[0]]))
        .save(&file)
        .expect("a picture");
    file
}

#[tokio::test(flavor = "multi_thread")]
async fn a_step_is_noted_photographed_stopped_and_signed() {
    let (shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.press("Go on: Check in").await;
    page.see("What came, its stamps and serials").await;

    page.press("Write a note").await;
    page.press("Keep this note").await;
    page.see("Not saved yet").await;
    page.fill("New note", "Two plugs of the left bank missing, rag in the intake.").await;
    page.press("Keep this note").await;
    page.see("Sign as Bente").await;
    page.see("rag in the intake").await;
    page.press("Write a note").await;
    page.see("Withdraw").await;
    page.look_over("notes", Touch::Bench).await;
    page.press("Check in").await;

    page.press("Add photos").await;
    page.see("No photo yet").await;
    let photos = [photo(&shop, "left side.png", 40), photo(&shop, "stamp.png", 200)];
    page.upload("From this tablet, one or many", &[&photos[0], &photos[1]]).await;
    page.see("As it came: left side.png").await;
    page.see("As it came: stamp.png").await;
    page.look_over("photos", Touch::Bench).await;
    let note = shop.file("note.txt");
    std::fs::write(&note, "no picture at all").expect("a text");
    page.upload("From this tablet, one or many", &[&note]).await;
    page.see("As it came: note.txt").await;
    page.see("No preview of this kind of file").await;

    page.go("/jobs/1/steps/check-in").await;
    page.fill("Stopped here", "right side not photographed").await;
    page.press("Mark it").await;
    page.see("Go on from here").await;
    page.look_over("step-stopped", Touch::Bench).await;
    page.go("/").await;
    page.see("Stopped here: right side not photographed").await;
    page.look_over("floor-stopped", Touch::Bench).await;
    page.press("Carry on with job 1: Check in").await;
    page.press("Go on from here").await;
    page.see_no("Go on from here").await;
    page.go("/").await;
    page.see_no("Stopped here").await;

    page.go("/jobs/1/steps/check-in").await;
    page.press("Sign as Bente").await;
    page.see("signed by Bente").await;
    page.look_over("step-signed", Touch::Bench).await;
    page.press("Next: Tear down").await;
    page.see("Caps and parts kept in order").await;
    page.go("/jobs/1").await;
    page.see("Steps 1 of 18 done").await;
    page.look_over("job-begun", Touch::Bench).await;
    page.inspect_on(Screen::UprightTablet, Light::Dark, "job-begun-upright-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_step_is_opened_again_or_not_done_here() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/steps/check-in").await;
    page.press("Sign as Bente").await;
    page.press("Open this step again").await;
    page.press("Open it again").await;
    page.see("Say why the step is opened again").await;
    page.fill("Why it is opened again", "The pan came a day later").await;
    page.press("Open it again").await;
    page.see("Signed before").await;
    page.see("opened again: The pan came a day later").await;
    page.see("begun").await;
    page.look_over("step-opened-again", Touch::Bench).await;

    page.go("/jobs/1/steps/cracks").await;
    page.press("Not done here").await;
    page.press("Done elsewhere").await;
    page.see("Say who did it").await;
    page.fill("Done elsewhere, by whom", "the test bench in Fjell").await;
    page.press("Done elsewhere").await;
    page.see("done elsewhere by the test bench in Fjell").await;
    page.look_over("step-elsewhere", Touch::Bench).await;

    page.go("/jobs/1/steps/balance").await;
    page.press("Not done here").await;
    page.press("Not on this job").await;
    page.see("Open this step again").await;
    page.go("/jobs/1").await;
    page.within("Weights and balance").await.see("not on this job").await;
    page.within("Clean and look for cracks").await.see("By the test bench in Fjell").await;
    page.look_over("job-desk", Touch::Bench).await;
}
