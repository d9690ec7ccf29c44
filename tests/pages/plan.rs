//! `/jobs/{n}/plan` and its steps.

use crate::shop::{House, full};

#[tokio::test]
async fn the_plan_says_a_date_and_what_it_rests_on() {
    let house = full().await;
    assert!(house.see("/jobs/2").await.text.contains("href=\"/jobs/2/plan\">Plan</a>"));
    let page = house.see("/jobs/2/plan").await;
    assert_eq!(page.status, 200);
    for part in [
        "<strong>Tell him ",
        "8 of 10",
        "our guess",
        "none: it decides",
        "aria-labelledby=\"plan-title plan-desc\"",
        "href=\"/jobs/2/plan/bearings\"",
        "href=\"/jobs/2/plan?moves=yes#moves\"",
        "Nothing is waited for.",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    for inline in [" style=", "<style", " onclick"] {
        assert!(!page.text.contains(inline), "{inline}");
    }
    let asked = house.see("/jobs/2/plan?moves=yes&first=3").await;
    assert_eq!(asked.status, 200);
    assert!(asked.text.contains("Job 3 first"), "{}", asked.text);
    for odd in ["?first=77", "?first=x", "?moves=perhaps"] {
        assert_eq!(house.see(&format!("/jobs/2/plan{odd}")).await.status, 200, "{odd}");
    }
    assert_eq!(house.see("/jobs/77/plan").await.status, 404);
}

#[tokio::test]
async fn a_date_is_promised_and_stands_on_job_and_floor() {
    let house = House::with_a_job().await;
    let promise = [("day", "2026-06-15"), ("told", "on the <phone>")];
    let kept = house.send("/jobs/1/promises", &promise).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/plan#promised"));
    for (page, words) in [("/", "promised 15 June 2026"), ("/jobs/1", "15 June 2026"), ("/jobs/1/plan", "holds in")] {
        assert!(house.see(page).await.text.contains(words), "{page}");
    }
    assert!(house.see("/jobs/1/plan").await.text.contains("on the &#60;phone&#62;"));
    let past = house.send("/jobs/1/promises", &[("day", "2026-02-15"), ("told", "kept as typed")]).await;
    assert_eq!(past.status, 422);
    assert!(past.text.contains("href=\"#field-day\"") && past.text.contains("kept as typed"), "{}", past.text);
    let sure = house.send("/jobs/1/promises", &[("day", "2026-02-15"), ("sure", "yes")]).await;
    assert_eq!(sure.status, 303);
    assert!(house.see("/").await.text.contains("promised 15 February 2026 <strong class=\"late\">late</strong>"));
}

#[tokio::test]
async fn a_job_waits_from_its_plan() {
    let house = House::with_a_job().await;
    let refused = house.send("/jobs/1/waits", &[("words", "half of it"), ("expected", "one day")]).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("href=\"#field-why\"") && refused.text.contains("value=\"half of it\""));
    let kept = house.send("/jobs/1/waits", &[("why", "deposit"), ("words", "half of it")]).await;
    assert_eq!(kept.header("location"), "/jobs/1/plan#waits");
    let page = house.see("/jobs/1/plan").await.text;
    for part in ["the deposit (half of it)", "nobody named a day: our guess is 1 to 28 days", "Ask for a day"] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[tokio::test]
async fn a_steps_hours_and_what_it_follows_are_set_on_its_page() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/plan/bore").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("Hours not given") && page.text.contains("value=\"parts\" checked"), "{}", page.text);
    let wrong = house.send("/jobs/1/plan/bore/hours", &[("least", "4"), ("likely", "2"), ("most", "-1")]).await;
    assert_eq!(wrong.status, 422);
    assert!(wrong.text.contains("href=\"#field-most\"") && wrong.text.contains("value=\"-1\""), "{}", wrong.text);
    let hours = [("least", "4"), ("likely", "6"), ("most", "12")];
    assert_eq!(house.send("/jobs/1/plan/bore/hours", &hours).await.header("location"), "/jobs/1/plan#steps");
    assert!(house.see("/jobs/1/plan").await.text.contains("4 to 12 h, likely 6 h</td>"));
    let circle = house.send("/jobs/1/plan/agree/after", &[("after", "bore"), ("after", "cracks")]).await;
    assert_eq!(circle.status, 422);
    for part in ["href=\"#field-after\"", "in a circle: ", "Bore and hone", "value=\"bore\" checked"] {
        assert!(circle.text.contains(part), "{part}: {}", circle.text);
    }
    let saw = house.shop.step_plan(1, "bore", crate::asked::noon()).await.unwrap().act.to_string();
    let ticked = [("saw", &*saw), ("after", "parts"), ("after", "deck")];
    assert_eq!(house.send("/jobs/1/plan/bore/after", &ticked).await.status, 303);
    assert!(house.see("/jobs/1/steps/bore").await.text.contains("Order and check parts, Decks and machining done"));
    let late = house.send("/jobs/1/plan/bore/after", &[("saw", &saw), ("after", "parts")]).await;
    assert_eq!(late.status, 409);
    for unknown in ["/jobs/1/plan/nothing", "/jobs/9/plan/bore"] {
        assert_eq!(house.see(unknown).await.status, 404, "{unknown}");
        assert_eq!(house.send(&format!("{unknown}/hours"), &hours).await.status, 404, "{unknown}");
        assert_eq!(house.send(&format!("{unknown}/after"), &[("after", "deck")]).await.status, 404, "{unknown}");
    }
}
