//! `/ready` and what a step waits for on its page.

use crate::asked::noon;
use crate::shop::{House, full};

#[tokio::test]
async fn an_empty_shop_says_what_stands_here() {
    let page = House::empty().await.see("/ready").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("No step can go ahead."), "{}", page.text);
}

#[tokio::test]
async fn every_step_that_can_go_ahead_is_one_tap_away() {
    let house = full().await;
    assert!(house.see("/").await.text.contains("href=\"/ready\">Ready now</a>"));
    let page = house.see("/ready").await.text;
    for part in [
        "href=\"/jobs/1/steps/check-in\"",
        "href=\"/jobs/2/steps/main-line\"",
        "class=\"mark-2\"",
        "our guess",
        "wait for other steps</summary>",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[tokio::test]
async fn a_wait_is_said_on_the_steps_page_and_ended_in_one_tap() {
    let house = House::with_a_job().await;
    let wait = [("why", "customer"), ("words", "which <cam>"), ("expected", "2026-04-13")];
    let kept = house.send("/jobs/1/steps/check-in/waits", &wait).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/steps/check-in#waits"));
    let page = house.see("/jobs/1/steps/check-in").await.text;
    assert!(page.contains("the customer’s answer (which &#60;cam&#62;)") && page.contains("It is here"), "{page}");
    assert!(page.contains("since 2 March 2026, expected 13 April 2026"), "{page}");
    let waiting = "the customer’s answer (which &#60;cam&#62;): six weeks";
    for address in ["/jobs/1", "/", "/ready"] {
        let page = house.see(address).await.text;
        assert!(page.contains(waiting), "{address}: {page}");
    }
    assert!(house.see("/ready").await.text.contains(", nothing else"));
    let id = house.shop.step(1, "check-in", noon()).await.unwrap().waits[0].id;
    let ended = house.send(&format!("/jobs/1/waits/{id}/end"), &[("step", "check-in")]).await;
    assert_eq!(ended.header("location"), "/jobs/1/steps/check-in#waits");
    assert!(!house.see("/jobs/1").await.text.contains(waiting));
    assert_eq!(house.send(&format!("/jobs/1/waits/{id}/end"), &[]).await.status, 404, "it is ended already");
}

#[tokio::test]
async fn every_fault_of_a_wait_is_said_at_once_and_what_was_typed_is_kept() {
    let house = House::with_a_job().await;
    let wrong = [("words", "which cam"), ("since", "2026-03-20"), ("expected", "2026-01-01")];
    let page = house.send("/jobs/1/steps/check-in/waits", &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["why", "since", "expected"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"which cam\"") && page.text.contains("<details open>"), "{}", page.text);
}
