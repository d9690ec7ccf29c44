//! `/shop/calendar`: hours at the bench, hands, closed days.

use crate::shop::House;

const WEEK: [(&str, &str); 8] = [
    ("monday", "9"),
    ("tuesday", "9"),
    ("wednesday", "4,5"),
    ("thursday", "9"),
    ("friday", "9"),
    ("saturday", ""),
    ("sunday", ""),
    ("hands", "2"),
];

#[tokio::test]
async fn what_nobody_said_is_our_guess_until_it_is_saved() {
    let house = House::staffed().await;
    assert!(house.see("/shop").await.text.contains("href=\"/shop/calendar\""));
    let page = house.see("/shop/calendar").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("what stands here is our guess") && page.text.contains("No day ahead is closed."));
    let saved = house.send("/shop/calendar", &[WEEK.as_slice(), &[("saw", "0")]].concat()).await;
    assert_eq!((saved.status.as_u16(), saved.header("location")), (303, "/shop/calendar"));
    let page = house.see("/shop/calendar").await.text;
    assert!(!page.contains("our guess") && page.contains("value=\"4.5\"") && page.contains("value=\"2\""), "{page}");
}

#[tokio::test]
async fn two_tablets_do_not_overwrite_each_others_hours() {
    let house = House::staffed().await;
    house.send("/shop/calendar", &[WEEK.as_slice(), &[("saw", "0")]].concat()).await;
    let late = house.send("/shop/calendar", &[&[("hands", "5")], &WEEK[..7], &[("saw", "0")]].concat()).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("someone was quicker") && late.text.contains("value=\"5\""), "{}", late.text);
}

#[tokio::test]
async fn every_fault_is_said_at_once() {
    let house = House::staffed().await;
    let wrong = [("monday", "-1"), ("tuesday", "25"), ("wednesday", "all day"), ("hands", "0")];
    let page = house.send("/shop/calendar", &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["monday", "tuesday", "wednesday", "hands"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"all day\""));
    let never = house.send("/shop/calendar", &[("hands", "1")]).await;
    assert_eq!(never.status, 422);
    assert!(never.text.contains("works on no day of the week"), "{}", never.text);
}

#[tokio::test]
async fn days_are_closed_and_opened_after_all() {
    let house = House::staffed().await;
    let fair = [("from", "2026-05-29"), ("until", "2026-06-01"), ("words", "the <fair>")];
    assert_eq!(house.send("/shop/calendar/closed", &fair).await.header("location"), "/shop/calendar#closed");
    let page = house.see("/shop/calendar").await.text;
    for day in ["29 May 2026", "30 May 2026", "31 May 2026", "1 June 2026", "the &#60;fair&#62;"] {
        assert!(page.contains(day), "{day}: {page}");
    }
    assert_eq!(house.send("/shop/calendar/closed/2026-05-31/open", &[]).await.status, 303);
    let page = house.see("/shop/calendar").await.text;
    assert!(!page.contains("31 May 2026") && page.contains("30 May 2026"));
    for day in ["2026-05-31", "sunday", "%00"] {
        assert_eq!(house.send(&format!("/shop/calendar/closed/{day}/open"), &[]).await.status, 404, "{day}");
    }
    for wrong in [
        &[("words", "no day")][..],
        &[("from", "2026-05-29"), ("until", "2026-05-01")],
        &[("from", "2026-05-29"), ("until", "2027-05-29")],
        &[("from", "someday")],
    ] {
        assert_eq!(house.send("/shop/calendar/closed", wrong).await.status, 422, "{wrong:?}");
    }
}
