//! `/jobs/{n}/charges`: the list, discounts, deposits and payments.

use crate::money::charging;
use crate::shop::House;

const CHARGES: &str = "/jobs/1/charges";

#[tokio::test]
async fn without_a_rate_of_tax_the_page_teaches() {
    let house = House::with_a_job().await;
    assert!(house.see(CHARGES).await.text.contains("The shop has no rate of tax yet."));
    assert_eq!(house.see("/jobs/9/charges").await.status, 404);
    assert_eq!(house.see("/jobs/1/charges/7").await.status, 404);
}

#[tokio::test]
async fn what_was_worked_comes_on_the_list() {
    let house = charging().await;
    house.send("/jobs/1/time", &[("hours", "2"), ("step", "bearings")]).await;
    let page = house.see(CHARGES).await.text;
    assert!(page.contains("Not on the list yet") && page.contains("160.00"), "{page}");
    assert_eq!(house.send("/jobs/1/charges/list", &[]).await.status, 303);
    let page = house.see(CHARGES).await.text;
    for said in ["is not agreed", "190.40\u{a0}EUR", "href=\"/jobs/1/charges/1\""] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let refused = house.send("/jobs/1/time/1/withdraw", &[]).await;
    assert_eq!(refused.status, 422);
    let line = house.see("/jobs/1/charges/1").await.text;
    let saw = line.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("an act");
    let form = |how_many: &'static str| {
        [("saw", saw), ("text", "Mains <set>"), ("how_many", how_many), ("each", "90"), ("priced", "charged")]
    };
    let bad = house.send("/jobs/1/charges/1", &form("1.1")).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("by quarter hours") && bad.text.contains("Mains &#60;set&#62;"), "{}", bad.text);
    assert_eq!(house.send("/jobs/1/charges/1", &form("1.5")).await.status, 303);
    assert_eq!(house.send("/jobs/1/charges/1", &form("1.5")).await.status, 409);
    assert!(house.see(CHARGES).await.text.contains("135.00"));
    assert_eq!(house.send("/jobs/1/charges/1/withdraw", &[]).await.status, 303);
    assert!(house.see(CHARGES).await.text.contains("Not on the list yet"));
}

#[tokio::test]
async fn every_fault_of_a_line_is_said_at_once() {
    let house = charging().await;
    let wrong =
        [("by_hand", "yes"), ("kind", "magic"), ("text", "Dip & scrub"), ("how_many", "none"), ("each", "dear")];
    let page = house.send(CHARGES, &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["kind", "how_many", "each"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
    }
    assert!(page.text.contains("value=\"Dip &#38; scrub\""));
    let good = [("kind", "disposal"), ("text", "Waste oil"), ("how_many", "5"), ("unit", "l"), ("each", "2.50")];
    assert_eq!(house.send(CHARGES, &good).await.status, 303);
    assert!(house.see(CHARGES).await.text.contains("5\u{a0}l"));
}

#[tokio::test]
async fn discounts_deposits_and_payments_are_kept() {
    let house = charging().await;
    house.send(CHARGES, &[("kind", "other"), ("text", "Loan of a stand"), ("how_many", "1"), ("each", "100")]).await;
    for (address, bad, good, said) in [
        (
            "/jobs/1/discounts",
            [("discount", "Old friend"), ("given_on", "everything"), ("percent", "190")],
            [("discount", "Old friend"), ("given_on", "everything"), ("percent", "10")],
            "Old friend, on everything",
        ),
        (
            "/jobs/1/deposits",
            [("depositing", "yes"), ("deposit", "0"), ("deposit_words", "Old friend")],
            [("depositing", "yes"), ("deposit", "50"), ("deposit_words", "by Friday")],
            "by Friday",
        ),
        (
            "/jobs/1/payments",
            [("paying", "yes"), ("amount", "much"), ("paid_words", "Old friend")],
            [("paid", "deposit-forfeitable"), ("amount", "50"), ("paid_words", "cash")],
            "deposit, kept if he cancels",
        ),
    ] {
        let page = house.send(address, &bad).await;
        assert_eq!(page.status, 422, "{address}");
        assert!(page.text.contains("value=\"Old friend\""), "{address}: {}", page.text);
        assert_eq!(house.send(address, &good).await.status, 303, "{address}");
        assert!(house.see(CHARGES).await.text.contains(said), "{address}: {said}");
    }
    let ask = house.send("/jobs/1/payments", &[("paid", "on-invoice"), ("amount", "999")]).await;
    assert_eq!(ask.status, 422);
    assert!(ask.text.contains("is the amount right"), "{}", ask.text);
    for address in ["/jobs/1/discounts/1", "/jobs/1/deposits/1", "/jobs/1/payments/1"] {
        assert_eq!(house.send(&format!("{address}/withdraw"), &[]).await.status, 303, "{address}");
        assert_eq!(house.send(&format!("{address}/withdraw"), &[]).await.status, 404, "{address}");
    }
}

#[tokio::test]
async fn a_core_given_back_is_credited_once() {
    let house = charging().await;
    let line = [("kind", "core-deposit"), ("text", "Crank <old>"), ("how_many", "1"), ("each", "80")];
    assert_eq!(house.send(CHARGES, &line).await.status, 303);
    assert!(house.see("/money").await.text.contains("Cores to come back"));
    let page = house.see(CHARGES).await.text;
    assert!(page.contains("Core given back<span class=\"unseen\">: Crank &#60;old&#62;"), "{page}");
    assert!(!page.contains("<option value=\"core-returned\""), "{page}");
    for (deed, status) in
        [("scrapped", 303), ("back", 422), ("not-scrapped", 303), ("not-scrapped", 404), ("back", 303), ("back", 422)]
    {
        let done = house.send(&format!("/jobs/1/cores/1/{deed}"), &[]).await;
        assert_eq!(done.status, status, "{deed}: {}", done.text);
        assert!(status != 422 || done.text.contains("id=\"field-cores\""), "{}", done.text);
    }
    assert_eq!(house.send("/jobs/1/cores/9/back", &[]).await.status, 404);
    let page = house.see(CHARGES).await.text;
    assert!(page.contains("−80.00") && page.contains("given back 2 March 2026"), "{page}");
    assert!(!house.see("/money").await.text.contains("Cores to come back"));
}
