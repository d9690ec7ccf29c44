//! `/money` and `/shop/money`: each valid, invalid, and what was typed kept.

use crate::shop::House;

/// How the shop charges, as the form sends it.
pub const CHARGES: [(&str, &str); 9] = [
    ("saw", "0"),
    ("currency", "EUR"),
    ("labour_rate", "80"),
    ("mark_up_parts", "25"),
    ("mark_up_sent_out", "10"),
    ("prices", "before-tax"),
    ("rounding", "half-away-from-zero"),
    ("tax_rounding", "total-per-rate"),
    ("numbering", "by-year"),
];

/// A rate of tax, as the form sends it.
pub const STANDARD: [(&str, &str); 6] = [
    ("name", "standard"),
    ("title", "Sales tax <of the land>"),
    ("rate", "19"),
    ("usual-labour", "yes"),
    ("usual-part", "yes"),
    ("usual-supplies", "yes"),
];

/// A job in a shop that has said how it charges.
pub async fn charging() -> House {
    let house = House::with_a_job().await;
    assert_eq!(house.send("/shop/money", &CHARGES).await.status, 303);
    assert_eq!(house.send("/shop/money/taxes", &STANDARD).await.status, 303);
    house
}

#[tokio::test]
async fn the_shop_says_how_it_charges() {
    let house = charging().await;
    let page = house.see("/shop/money").await.text;
    for said in
        ["value=\"80.00\"", "Sales tax &#60;of the land&#62;, 19\u{a0}%", "usual for labour, part, shop supplies"]
    {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert!(house.see("/shop").await.text.contains("href=\"/shop/money\""));
    let late = house.send("/shop/money", &CHARGES).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("someone was quicker"), "{}", late.text);
}

#[tokio::test]
async fn every_fault_of_the_settings_is_said_at_once() {
    let house = House::with_a_job().await;
    let wrong = [("currency", "DUCATS"), ("mark_up_parts", "lots"), ("mark_up_sent_out", "2 000"), ("prices", "dear")];
    let page = house.send("/shop/money", &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["currency", "mark_up_parts", "mark_up_sent_out", "prices", "rounding", "numbering"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"lots\""));
    assert!(page.text.contains("Choose whether prices are before tax or include it"), "{}", page.text);
    let days = [&CHARGES[..], &[("pay_within", "soon"), ("storage_free_days", "900")]].concat();
    let days = house.send("/shop/money", &days).await;
    assert_eq!(days.status, 422);
    for said in ["“soon” is no number of days", "“900” is no number of days", "value=\"soon\""] {
        assert!(days.text.contains(said), "{said}: {}", days.text);
    }
    let tax = house.send("/shop/money/taxes", &[("name", "too high"), ("title", ""), ("rate", "190")]).await;
    assert_eq!(tax.status, 422);
    for said in ["in one word", "more than the price itself", "value=\"190\"", "<title>Error: "] {
        assert!(tax.text.contains(said), "{said}: {}", tax.text);
    }
    let odd = house.send("/shop/money/taxes", &[("name", "high"), ("title", "High"), ("rate", "40")]).await;
    assert_eq!(odd.status, 422);
    assert!(odd.text.contains("unusually high"), "{}", odd.text);
}

#[tokio::test]
async fn a_rate_is_changed_and_offered_no_more() {
    let house = charging().await;
    let page = house.see("/shop/money/taxes/1").await;
    assert_eq!(page.status, 200);
    let saw = page.text.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("an act");
    let form = [("saw", saw), ("name", "standard"), ("title", "Sales tax"), ("rate", "20")];
    assert_eq!(house.send("/shop/money/taxes/1", &form).await.status, 303);
    assert_eq!(house.send("/shop/money/taxes/1", &form).await.status, 409);
    assert!(house.see("/shop/money").await.text.contains("Sales tax, 20\u{a0}%"));
    assert_eq!(house.send("/shop/money/taxes/1/withdraw", &[]).await.status, 303);
    assert_eq!(house.send("/shop/money/taxes/1/withdraw", &[]).await.status, 404);
    assert_eq!(house.see("/shop/money/taxes/1").await.status, 404);
}

#[tokio::test]
async fn all_jobs_stand_there_in_figures() {
    let house = House::empty().await;
    assert!(house.see("/money").await.text.contains("No engine is in the shop."));
    let house = charging().await;
    assert!(house.see("/").await.text.contains("href=\"/money\""));
    house.send("/jobs/1/quote", &[("text", "All of it"), ("amount", "1 250.00")]).await;
    house.send("/jobs/1/quote/answer", &[("kind", "sent")]).await;
    let page = house.see("/money").await.text;
    for said in ["1\u{a0}250.00", "an answer to the quote", "since today", "Quill &#38; Sons"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let csv = house.see("/money/invoices.csv").await;
    assert!(csv.header("content-type").starts_with("text/csv") && csv.text.starts_with("number,date,undoes"));
}
