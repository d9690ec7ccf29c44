//! `/`: every engine in the shop on one page.

use crate::shop::{House, full};

#[tokio::test]
async fn an_empty_shop_says_what_will_be_here_and_what_to_do() {
    let house = House::empty().await;
    let page = house.see("/").await;
    assert_eq!(page.status, 200);
    for part in
        ["No engine is in the shop.", "href=\"/jobs/new\"", "href=\"/families\"", "href=\"/shop\"", "Who is here?"]
    {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    assert!(!page.text.contains("Carry on"));
}

#[tokio::test]
async fn one_look_tells_how_every_engine_stands() {
    let page = full().await.see("/").await.text;
    for part in [
        "Vee twelve, 6.6 litres",
        "vee 12, 7 mains",
        "class=\"mark-2\"",
        "href=\"/jobs/2/steps/bearings\"",
        "Fit main bearings",
        "5 of 18 steps done",
        "main cap 3, second torque step; wrench set to 70 lbf·ft",
        "1 out</span>",
        "1 out, accepted</span>",
        "today 12:00 by Renée Øst",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(page.contains("Quill &#38; Sons &#60;of Harrow Lane&#62;"), "hostile names stay text: {page}");
    let (newest, oldest) = (page.find("Vee twelve"), page.find("Inline four"));
    assert!(newest < oldest, "the engine last touched stands first");
}

#[tokio::test]
async fn it_opens_where_this_tablet_left_off() {
    let house = House::with_a_job().await;
    assert!(!house.see("/").await.text.contains("Carry on"), "this tablet has done nothing yet");
    house.send("/jobs/1/steps/check-in/stop", &[("stopped_at", "crate half unpacked")]).await;
    let page = house.see("/").await.text;
    assert!(page.contains("href=\"/jobs/1/steps/check-in\">Carry on with job 1: Check in</a>"), "{page}");
}
