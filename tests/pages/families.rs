//! `/families`, `/families/{id}`, `/jobs/{n}/family`: keeping a job as what the next can start from.

use crate::shop::House;

#[tokio::test]
async fn without_families_the_list_teaches() {
    let page = House::staffed().await.see("/families").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("No family is kept yet.") && page.text.contains("keep it as a family"), "{}", page.text);
}

#[tokio::test]
async fn a_job_is_kept_as_a_family_and_listed() {
    let house = House::with_a_job().await;
    assert!(house.see("/jobs/1/family").await.text.contains("inline 4, 5 mains with its numbering"));
    let form = [("name", "Wend <four>"), ("note", "Bores 1 & 2 siamesed"), ("key", &*"c".repeat(32))];
    let kept = house.send("/jobs/1/family", &form).await;
    assert_eq!(kept.status, 303);
    let again = house.send("/jobs/1/family", &form).await;
    assert_eq!(again.header("location"), kept.header("location"), "sent twice, it is one family");
    let list = house.see("/families").await.text;
    for part in ["Wend &#60;four&#62;", "Bores 1 &#38; 2 siamesed", "inline 4, 5 mains", "1 limit,", "18 steps"] {
        assert!(list.contains(part), "{part}: {list}");
    }
    let page = house.see(kept.header("location").split('?').next().unwrap()).await;
    assert_eq!(page.status, 200);
    for part in ["main clearance, vertical", "2.0 to 2.6\u{a0}thou", "bearing maker", "Fit main bearings"] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let without_name = house.send("/jobs/1/family", &[("name", ""), ("note", &"x".repeat(3000))]).await;
    assert_eq!(without_name.status, 422);
    assert!(without_name.text.contains("href=\"#field-name\"") && without_name.text.contains("href=\"#field-note\""));
    let taken = house.send("/jobs/1/family", &[("name", "Wend <four>"), ("note", "typed & kept")]).await;
    assert_eq!(taken.status, 422);
    assert!(taken.text.contains("typed &#38; kept"), "{}", taken.text);
}

#[tokio::test]
async fn a_family_is_changed_and_two_tablets_do_not_overwrite_each_other() {
    let house = House::with_a_job().await;
    let kept = house.send("/jobs/1/family", &[("name", "Fours")]).await;
    let address = kept.header("location").split('?').next().unwrap().to_owned();
    let saw = house.shop.family(&address["/families/".len()..]).await.unwrap().saw.to_string();
    assert_eq!(house.send(&address, &[("saw", &saw), ("name", "Small fours"), ("note", "odd")]).await.status, 303);
    let late = house.send(&address, &[("saw", &saw), ("name", "Fours of old"), ("note", "odd")]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("Small fours") && late.text.contains("value=\"Fours of old\""), "{}", late.text);
    let nameless = house.send(&address, &[("saw", &saw), ("name", " ")]).await;
    assert_eq!(nameless.status, 422);
    assert!(nameless.text.contains("href=\"#field-name\""));
}

#[tokio::test]
async fn a_family_asks_for_second_readings() {
    let house = House::with_a_job().await;
    let kept = house.send("/jobs/1/family", &[("name", "Wend four")]).await;
    let address = kept.header("location").split('?').next().unwrap().to_owned();
    let ticked = [("second", "skirt"), ("second", "bore-top-thrust")];
    assert_eq!(house.send(&format!("{address}/second"), &ticked).await.status, 303);
    let page = house.see(&address).await.text;
    assert!(page.contains("2 chosen") && page.contains("value=\"skirt\" checked"), "{page}");
    assert_eq!(house.send(&format!("{address}/second"), &[("second", "valve <b>")]).await.status, 422);
    assert_eq!(house.send("/families/none/second", &ticked).await.status, 404);
}

#[tokio::test]
async fn an_unknown_family_is_not_found() {
    let house = House::staffed().await;
    for id in ["1", "ffffffffffffffffffffffffffffffff", "%3Cb%3E", "%00"] {
        assert_eq!(house.see(&format!("/families/{id}")).await.status, 404, "{id}");
        assert_eq!(house.send(&format!("/families/{id}"), &[("name", "x")]).await.status, 404, "{id}");
    }
}

#[tokio::test]
async fn earlier_jobs_say_what_the_next_quote_may_reckon_with() {
    let house = House::with_a_job().await;
    let kept = house.send("/jobs/1/family", &[("name", "Wend <four>")]).await;
    let address = format!("{}/hours", kept.header("location").split('?').next().expect("an address"));
    assert!(house.see(&address).await.text.contains("No step of this family is done with time noted on it."));
    assert_eq!(house.see("/families/unknown/hours").await.status, 404);
    house.send("/jobs/1/quote", &[("text", "Bearings"), ("step", "bearings"), ("hours", "2"), ("amount", "160")]).await;
    house.send("/jobs/1/time", &[("hours", "3.5"), ("step", "bearings")]).await;
    let page = house.see(&address).await.text;
    assert!(page.contains("No step of this family is done"), "a step that goes on says nothing yet: {page}");
    house.shop.sign_step(&house.doing(), 1, "bearings", None, "").await.expect("signed");
    let page = house.see(&address).await.text;
    for said in [
        "One job took 3.5\u{a0}h: too few to reckon with. 1 of 1 took more than was quoted.",
        "<span class=\"late\">3.5\u{a0}h</span>",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let family = address.split('/').nth(2).expect("an id").to_owned();
    let next =
        witnessmark::work::NewJob { title: "The next".into(), name: "B. Rill".into(), family, ..Default::default() };
    let next = house.shop.open_job(&house.doing(), &next).await.expect("a job");
    let quote = house.see(&format!("/jobs/{next}/quote")).await.text;
    assert!(quote.contains(&format!("href=\"{address}\"")), "{quote}");
}
