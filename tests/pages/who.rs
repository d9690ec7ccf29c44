//! `/who`: a name is tapped or added.

use crate::asked::{ask, post};
use crate::shop::{HAND, House, encoded};

#[tokio::test]
async fn the_first_start_asks_for_the_first_name() {
    let house = House::empty().await;
    let page = house.see("/who?back=/jobs/new").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("<h1>Who works here?</h1>") && !page.text.contains("name=\"person\""), "{}", page.text);
    let added = house.send("/who/new", &[("name", "  Ida Ø; Förster "), ("back", "/jobs/new")]).await;
    assert_eq!((added.status.as_u16(), added.header("location")), (303, "/jobs/new"));
    let cookie = added.cookie("witnessmark-who").expect("a name");
    let after = ask(&house.router, crate::asked::get("/who").header("cookie", cookie), "").await;
    assert!(
        after.text.contains("Ida Ø; Förster</strong>") && after.text.contains("at this tablet now"),
        "{}",
        after.text
    );
}

#[tokio::test]
async fn a_tap_names_who_is_here_and_leads_back_inside_only() {
    let house = House::staffed().await;
    let page = house.see("/who?back=/jobs/3").await.text;
    assert!(page.contains(HAND) && page.contains("value=\"/jobs/3\""), "{page}");
    for (back, leads_to) in [("/jobs/3", "/jobs/3"), ("//shop.example", "/"), ("", "/")] {
        let tapped = house.send("/who", &[("person", &house.hand), ("back", back)]).await;
        assert_eq!((tapped.status.as_u16(), tapped.header("location")), (303, leads_to));
        assert!(tapped.cookie("witnessmark-who").is_some());
    }
}

#[tokio::test]
async fn a_stranger_or_an_empty_name_is_refused() {
    let house = House::staffed().await;
    let stranger = house.send("/who", &[("person", "ffffffffffffffffffffffffffffffff")]).await;
    assert_eq!(stranger.status, 422);
    assert!(stranger.text.contains("href=\"#field-person\"") && stranger.text.contains("id=\"field-person\""));
    assert!(stranger.cookie("witnessmark-who").is_none());
    for (name, said) in [("  ", "Enter the name"), (&*"x".repeat(61), "at most 60 characters")] {
        let refused = house.send("/who/new", &[("name", name)]).await;
        assert_eq!(refused.status, 422);
        assert!(refused.text.contains(said) && refused.text.contains("<title>Error: "), "{}", refused.text);
    }
    let hostile = house.send("/who/new", &[("name", &"<script>alert(1)</script>".repeat(3))]).await;
    assert!(hostile.status == 422 && !hostile.text.contains("<script>alert"), "{}", hostile.text);
}

#[tokio::test]
async fn a_name_added_twice_is_one_hand() {
    let house = House::staffed().await;
    let key = "0".repeat(31) + "1";
    for _ in 0..2 {
        let sent = ask(&house.router, post("/who/new"), encoded(&[("key", &key), ("name", "Ida")])).await;
        assert_eq!(sent.status, 303);
    }
    assert_eq!(house.shop.hands().await.unwrap().len(), 2);
}
