//! A phone beside the engine: photos and notes that outlive a page pushed out and a server that does not answer.

use super::steps::photo;
use super::{begin_as, take_in};
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};
use crate::shop::Shop;

async fn at_the_phone() -> (Shop, Page) {
    let (shop, page) = begin_as("Bente", Screen::Phone).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.go("/jobs/1/phone").await;
    page.see("Nothing yet").await;
    (shop, page)
}

/// How often the record shows something on the page of the job's photos.
async fn kept(shop: &Shop, words: &str) -> usize {
    String::from_utf8_lossy(&shop.bytes("/jobs/1/phone").await).matches(words).count()
}

#[tokio::test(flavor = "multi_thread")]
async fn photos_wait_on_the_phone_until_the_server_has_them_once() {
    let (shop, page) = at_the_phone().await;
    page.look_over("phone-empty", Touch::Bench).await;
    page.unreachable(&["*/jobs/1/photos"]).await;
    page.fill("What it shows, if it is not plain", "Block from the left").await;
    let photos = [photo(&shop, "left.png", 40), photo(&shop, "stamp.png", 200), photo(&shop, "deck.png", 90)];
    page.upload("From this phone, one or many", &[&photos[0], &photos[1], &photos[2]]).await;
    page.see("3 not yet sent").await;
    page.see("The shop's computer does not answer").await;
    page.go("/jobs/1/phone").await;
    page.see("3 not yet sent").await;
    page.console_errors().await;
    page.inspect("phone-unsent").await;
    page.go("/jobs/1").await;
    page.see("3 not yet saved").await;
    assert_eq!(kept(&shop, "As it came").await, 0);

    page.unreachable(&[]).await;
    page.see_no("not yet saved").await;
    page.go("/jobs/1/phone").await;
    for name in ["left.png", "stamp.png", "deck.png"] {
        assert_eq!(kept(&shop, &format!("As it came: {name}")).await, 1, "{name}");
    }
    assert_eq!(kept(&shop, "<p class=\"as-typed\">Block from the left").await, 3);
    page.see("Block from the left").await;
    page.console_errors().await;
    page.look_over("phone-sent", Touch::Bench).await;
    page.inspect_on(Screen::Phone, Light::Dark, "phone-sent-dark").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_note_outlives_its_page_and_a_server_that_does_not_answer() {
    let (shop, page) = at_the_phone().await;
    page.fill("Note", "Two plugs of the left bank missing").await;
    page.go("/jobs/1/phone").await;
    assert_eq!(page.field("Note").await, "Two plugs of the left bank missing");
    page.wireless(false).await;
    page.press("Save the note").await;
    page.see("1 not yet sent").await;
    assert_eq!(page.field("Note").await, "");
    page.wireless(true).await;
    page.see_no("not yet sent").await;
    page.within("Sent").await.see("Two plugs of the left bank missing").await;
    assert_eq!(kept(&shop, "<p class=\"as-typed\">Two plugs").await, 1);
    page.go("/jobs/1/phone").await;
    assert_eq!(page.field("Note").await, "");
}

#[tokio::test(flavor = "multi_thread")]
async fn what_the_server_refuses_is_said_and_thrown_away_by_hand() {
    let (shop, page) = at_the_phone().await;
    let empty = shop.file("empty.jpg");
    std::fs::write(&empty, "").expect("a file");
    page.upload("From this phone, one or many", &[&empty, &photo(&shop, "left.png", 40)]).await;
    page.see("As it came: left.png").await;
    page.see("empty.jpg: not kept").await;
    page.see("this file is empty").await;
    page.press("Throw it away").await;
    page.see_no("not kept").await;
}
