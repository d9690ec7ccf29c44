//! `/jobs/{n}/settle`: each form valid and invalid, and what was typed kept.

use crate::money::charging;
use crate::shop::House;

const PAGE: &str = "/jobs/1/settle";

/// What a page's form saw.
async fn saw(house: &House, page: &str) -> String {
    let text = house.see(page).await.text;
    text.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("an act").to_owned()
}

async fn ends(house: &House, fields: &[(&str, &str)]) {
    let saw = saw(house, "/jobs/1/ending").await;
    let fields = [fields, &[("saw", saw.as_str()), ("day", "2026-03-02")]].concat();
    assert_eq!(house.send("/jobs/1/ending", &fields).await.status, 303);
}

#[tokio::test]
async fn before_it_ends_each_way_is_seen() {
    let house = House::with_a_job().await;
    assert_eq!(house.see("/jobs/77/settle").await.status, 404);
    assert!(house.see(PAGE).await.text.contains("The shop has no rate of tax yet."));
    for address in ["/jobs/1", "/jobs/1/ending"] {
        assert!(house.see(address).await.text.contains("href=\"/jobs/1/settle\""), "{address}");
    }
    let page = house.see("/jobs/1/settle?kind=scrapped").await.text;
    for said in ["A core that is scrapped", "aria-current=\"page\">scrapped", "tags and numbers he wants to keep"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let house = charging().await;
    let wrong = [("of", "disposal"), ("kind", "scrapped"), ("disposal", "dear <b>")];
    let page = house.send("/jobs/1/settle/disposal", &wrong).await;
    assert_eq!(page.status, 422);
    assert!(page.text.contains("value=\"dear &#60;b&#62;\"") && page.text.contains("#field-disposal"), "{}", page.text);
    let done = house.send("/jobs/1/settle/disposal", &[("kind", "scrapped"), ("disposal", "35")]).await;
    assert_eq!((done.status.as_u16(), done.header("location")), (303, "/jobs/1/settle?kind=scrapped#charged"));
    let early = house.send(PAGE, &[("of", "settle"), ("settled_on", "2026-03-02"), ("settled_words", "so")]).await;
    assert_eq!(early.status, 422);
    assert!(early.text.contains("id=\"field-settle\""));
}

#[tokio::test]
async fn every_form_says_all_its_faults_and_is_done_once() {
    let house = charging().await;
    house.send("/jobs/1/payments", &[("paid", "progress"), ("amount", "50"), ("paid_words", "cash")]).await;
    ends(&house, &[("kind", "cancelled")]).await;
    for (address, bad, fields, good) in [
        (
            "storage",
            [("of", "storage"), ("stored_from", "2026-03-05"), ("stored_until", "x"), ("week", "a <lot>")],
            &["stored_from", "stored_until", "week"][..],
            vec![("stored_from", "2026-02-10"), ("stored_until", "2026-03-01"), ("week", "10")],
        ),
        (
            "refund",
            [("of", "refund"), ("amount", "60"), ("paid_on", "2026-03-02"), ("reference", "a <lot>")],
            &["method", "amount"],
            vec![("amount", "10"), ("paid_on", "2026-03-02"), ("method", "cash"), ("reference", "slip 7")],
        ),
        (
            "gone",
            [("of", "gone"), ("gone_on", "2026-03-05"), ("gone_words", "a <lot>"), ("x", "")],
            &["gone", "gone_on"],
            vec![("gone-engine", "yes"), ("gone_on", "2026-03-02"), ("gone_words", "his brother")],
        ),
    ] {
        let address = format!("{PAGE}/{address}");
        let page = house.send(&address, &bad).await;
        assert_eq!(page.status, 422, "{address}");
        assert!(page.text.contains("a &#60;lot&#62;"), "{address}: {}", page.text);
        for field in fields {
            assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
            assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}: {}", page.text);
        }
        let done = house.send(&address, &good).await;
        assert_eq!(done.status, 303, "{address}: {}", done.text);
    }
    let page = house.see(PAGE).await.text;
    for said in ["30.00", "gone 2 March 2026, his brother", "To be given back", "each week begun"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert_eq!(house.send("/jobs/1/settle/gone/1/withdraw", &[]).await.status, 303);
    assert_eq!(house.send("/jobs/1/settle/gone/1/withdraw", &[]).await.status, 404);
    assert_eq!(house.send("/jobs/1/settle/on-order", &[("of", "on-order")]).await.status, 422);

    let money = house.see("/money").await.text;
    assert!(money.contains("To settle") && money.contains("Job 1: cancelled, 2 March 2026"), "{money}");
    let seen = saw(&house, PAGE).await;
    let form = |sure: &'static str| {
        [
            ("of", "settle"),
            ("saw", &*seen),
            ("settled_on", "2026-03-02"),
            ("settled_words", "<by letter>"),
            ("settled_sure", sure),
        ]
    };
    let asked = house.send(PAGE, &form("")).await;
    assert_eq!(asked.status, 422);
    assert!(asked.text.contains("is it settled all the same?") && asked.text.contains("&#60;by letter&#62;"));
    assert_eq!(house.send(PAGE, &form("yes")).await.status, 303);
    assert_eq!(house.send(PAGE, &form("yes")).await.status, 409);
    assert!(house.see(PAGE).await.text.contains("Settled on 2 March 2026"));
    assert!(!house.see("/money").await.text.contains("To settle"));
    assert_eq!(house.send("/jobs/1/settle/withdraw", &[]).await.status, 303);
    assert_eq!(house.send("/jobs/1/settle/withdraw", &[]).await.status, 404);
}
