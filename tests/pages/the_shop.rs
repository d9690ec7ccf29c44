//! `/shop`, its people and its gauges.

use crate::asked::noon;
use crate::shop::{HAND, House};

const SETTINGS: [(&str, &str); 7] = [
    ("name", "Thimble & Ring <Works>"),
    ("address", "14 Millrace Yard\r\nNether Wend"),
    ("phone", "555 0142"),
    ("paper", "a4"),
    ("zone", "America/Chicago"),
    ("warranty", "Twelve months on our work."),
    ("rule", "guarded"),
];

#[tokio::test]
async fn the_shop_is_named_and_its_zone_shows() {
    let house = House::with_a_job().await;
    let page = house.see("/shop").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains(HAND) && page.text.contains("value=\"letter\" checked"), "{}", page.text);
    let saved = house.send("/shop", &[SETTINGS.as_slice(), &[("saw", "0")]].concat()).await;
    assert_eq!((saved.status.as_u16(), saved.header("location")), (303, "/shop?kept=yes"));
    let page = house.see("/shop?kept=yes").await.text;
    assert!(page.contains("Thimble &#38; Ring &#60;Works&#62;") && page.contains("value=\"a4\" checked"), "{page}");
    assert!(house.see("/jobs/1").await.text.contains("today 06:00"), "noon in Greenwich");
    let later = house.open("A later one", "inline", 1, 1).await;
    for (job, rule) in [(1, "simple"), (later, "guarded")] {
        let details = house.see(&format!("/jobs/{job}/details")).await.text;
        assert!(details.contains(&format!("value=\"{rule}\" checked")), "{job}: {details}");
    }
}

#[tokio::test]
async fn every_fault_of_the_settings_is_said_at_once() {
    let house = House::staffed().await;
    let wrong =
        [("name", &*"n".repeat(130)), ("paper", "foolscap"), ("zone", "Moon/Crater"), ("warranty", "kept as typed")];
    let page = house.send("/shop", &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["name", "paper", "zone", "rule"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("kept as typed"));
}

#[tokio::test]
async fn two_tablets_do_not_overwrite_each_others_settings() {
    let house = House::staffed().await;
    let unseen = [SETTINGS.as_slice(), &[("saw", "0")]].concat();
    assert_eq!(house.send("/shop", &unseen).await.status, 303);
    let late = [("saw", "0"), ("name", "Quill's"), ("paper", "letter"), ("zone", "UTC"), ("rule", "simple")];
    let page = house.send("/shop", &late).await;
    assert_eq!(page.status, 409);
    for part in ["someone was quicker", "Thimble &#38; Ring", "value=\"Quill&#39;s\""] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
}

#[tokio::test]
async fn names_come_on_the_list_and_go_off_it() {
    let house = House::staffed().await;
    let added = house.send("/shop/people", &[("name", "Ida <b>"), ("phone", "555 0111")]).await;
    assert_eq!((added.status.as_u16(), added.header("location")), (303, "/shop/people"));
    let page = house.see("/shop/people").await.text;
    assert!(page.contains("Ida &#60;b&#62;") && page.contains("555 0111"), "{page}");
    let ida = house.shop.hands().await.unwrap().into_iter().find(|hand| hand.name == "Ida <b>").unwrap().id;
    assert_eq!(house.send(&format!("/shop/people/{ida}/remove"), &[]).await.status, 303);
    assert!(!house.see("/shop/people").await.text.contains("Ida"));
    for id in [&*ida, "ffffffffffffffffffffffffffffffff", "x"] {
        assert_eq!(house.send(&format!("/shop/people/{id}/remove"), &[]).await.status, 404, "{id}");
    }
    let wrong = house.send("/shop/people", &[("name", " "), ("phone", &"1".repeat(99))]).await;
    assert_eq!(wrong.status, 422);
    assert!(wrong.text.contains("href=\"#field-name\"") && wrong.text.contains("href=\"#field-phone\""));
}

#[tokio::test]
async fn a_customer_is_nobody_to_take_off_the_list() {
    let house = House::with_a_job().await;
    let mut look = house.shop.record().look().await.unwrap();
    let people = witnessmark::record::people::all(&mut look).await.unwrap();
    let customer = people.into_iter().find(|person| !person.works_here).expect("the job's customer").public_id;
    drop(look);
    assert_eq!(house.send(&format!("/shop/people/{customer}/remove"), &[]).await.status, 404);
    assert!(house.see("/jobs/1").await.text.contains("Quill &#38; Sons"));
}

#[tokio::test]
async fn gauges_are_added_and_changed() {
    let house = House::staffed().await;
    assert!(house.see("/shop/gauges").await.text.contains("No gauge is listed yet."));
    let gauge = [("name", "Bore gauge <2>"), ("kind", "bore_gauge"), ("serial", "B-17"), ("step", "tenth")];
    assert_eq!(house.send("/shop/gauges", &gauge).await.header("location"), "/shop/gauges");
    let page = house.see("/shop/gauges").await.text;
    assert!(page.contains("Bore gauge &#60;2&#62;") && page.contains("2\u{a0}tenths"), "{page}");
    let kept = house.shop.gauges(noon()).await.unwrap().remove(0);
    let (address, saw) = (format!("/shop/gauges/{}", kept.id), kept.saw.to_string());
    let form = house.see(&address).await.text;
    assert!(form.contains("value=\"B-17\"") && form.contains("value=\"tenth\" checked"), "{form}");
    let changed = [("name", "Bore gauge 2"), ("kind", "bore_gauge"), ("step", "thou"), ("saw", &saw)];
    assert_eq!(house.send(&address, &changed).await.status, 303);
    let late =
        house.send(&address, &[("name", "Mine"), ("kind", "bore_gauge"), ("step", "tenth"), ("saw", &saw)]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("Bore gauge 2") && late.text.contains("value=\"Mine\""), "{}", late.text);
}

#[tokio::test]
async fn every_fault_of_a_gauge_is_said_at_once() {
    let house = House::staffed().await;
    let page = house.send("/shop/gauges", &[("serial", "S <1>")]).await;
    assert_eq!(page.status, 422);
    for field in ["name", "kind", "step"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"S &#60;1&#62;\""));
    for id in ["ffffffffffffffffffffffffffffffff", "1", "%00"] {
        assert_eq!(house.see(&format!("/shop/gauges/{id}")).await.status, 404, "{id}");
        let gauge = [("name", "x"), ("kind", "feeler"), ("step", "thou")];
        assert_eq!(house.send(&format!("/shop/gauges/{id}"), &gauge).await.status, 404, "{id}");
    }
}
