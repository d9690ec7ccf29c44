//! Cylinder bores against the pistons' skirts: clearance, corrections, a reading on the wrong job, rounds.

use super::{begin_as, enter, take_in};
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};

/// Cylinder 1 read at three heights both ways, over a skirt that was measured before.
async fn read_cylinder_1(page: &Page) {
    page.go("/jobs/1/sheets/pistons").await;
    page.go("/jobs/1/sheets/pistons?slot=skirt@cylinder.0.0").await;
    enter(page, "cylinder 1 skirt at gauge point", "4.3720").await;
    page.see("Kept: cylinder 1, skirt").await;
    page.go("/jobs/1/sheets/cylinder-bores").await;
    enter(page, "cylinder 1 top, thrust way", "4.3767").await;
    page.see("cylinder 1 top, pin way").await;
    page.type_keys("4.3766\n4.3766\n4.3765\n4.3764\n").await;
    page.see("cylinder 1 bottom, pin way").await;
    page.type_keys("4.3764\n").await;
    page.see("Kept: cylinder 1, bottom, pin way, 4.3764").await;
    page.go("/jobs/1/sheets/cylinder-bores?at=cylinder.0.0").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_bore_and_its_skirt_give_the_clearance_and_corrections_stay() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    read_cylinder_1(&page).await;
    let follows = page.within("What follows at cylinder 1").await;
    follows.see("smallest thrust way 4.3764 − skirt 4.3720 = 4.4 thou").await;
    page.look_over("sheet-bore", Touch::Bench).await;

    page.press("bottom, thrust way: 4.3764").await;
    page.see("Correct it").await;
    page.press("Correct").await;
    page.see("Not saved yet").await;
    page.look_over("reading-refused", Touch::Bench).await;
    page.fill("What it should say", "4.3762").await;
    page.fill("Why", "thimble misread").await;
    page.press("Correct").await;
    page.press("1 struck out").await;
    page.see("4.3764").await;
    page.see("thimble misread").await;
    page.within("What follows at cylinder 1").await.see("4.3762 − skirt 4.3720 = 4.2 thou").await;
    page.look_over("sheet-corrected", Touch::Bench).await;
    page.inspect_on(Screen::UprightTablet, Light::Dark, "sheet-corrected-upright-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_reading_on_the_wrong_job_is_moved() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    take_in(&page, "Aron Vestby", "Vee eight from the grey boat").await;
    page.go("/jobs/1/sheets/cylinder-bores").await;
    enter(&page, "cylinder 1 top, thrust way", "4.3767").await;
    page.see("Kept:").await;
    page.press("Not right?").await;
    page.see("Move it to another job").await;
    page.look_over("reading", Touch::Bench).await;
    page.press("Move it to another job").await;
    page.fill("Number of the other job", "7").await;
    page.fill("Why it is moved", "typed on the wrong job").await;
    page.press("Move it").await;
    page.see("There is no job 7").await;
    page.fill("Number of the other job", "2").await;
    page.press("Move it").await;
    page.see("moved to another job").await;
    page.go("/jobs/2/sheets/cylinder-bores?at=cylinder.0.0").await;
    page.see("moved here from job 1").await;
    page.see("4.3767").await;
    page.look_over("sheet-moved-here", Touch::Bench).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_new_round_stands_beside_the_old_one() {
    let (_shop, page) = begin_as("Bente", Screen::Tablet).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    read_cylinder_1(&page).await;
    page.press("Begin a new round").await;
    page.choose("back from machining").await;
    page.fill("Torque plate", "on, with the run gasket").await;
    page.fill("Temperature of the parts", "warm").await;
    page.press("Begin the round").await;
    page.see("Not saved yet").await;
    page.fill("Temperature of the parts", "21 °C").await;
    page.press("Begin the round").await;
    page.see("back from machining, round 2 counts").await;
    page.go("/jobs/1/sheets/cylinder-bores?slot=bore-top-thrust@cylinder.0.0").await;
    enter(&page, "cylinder 1 top, thrust way", "4.3790").await;
    page.see("Kept:").await;
    page.go("/jobs/1/sheets/cylinder-bores?at=cylinder.0.0").await;
    page.within("What follows at cylinder 1").await.see("4.3790 − skirt 4.3720 = 7.0 thou").await;
    let compared = page.within("piston clearance, thrust way, round by round").await;
    compared.see("7.0").await;
    compared.see("4.4").await;
    page.look_over("sheet-rounds", Touch::Bench).await;

    page.press("Round 1: as received").await;
    page.see("does not count").await;
    page.press("Let round 1 count").await;
    page.see("as received, round 1 counts").await;
    page.go("/jobs/1/sheets/cylinder-bores?at=cylinder.0.0").await;
    page.within("What follows at cylinder 1").await.see("4.3764 − skirt 4.3720 = 4.4 thou").await;
}
