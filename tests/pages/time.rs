//! `/jobs/{n}/time`, the clock, and `/time` at the end of the day.

use crate::money::charging;
use crate::shop::House;

const TIME: &str = "/jobs/1/time";

#[tokio::test]
async fn time_is_entered_and_withdrawn() {
    let house = charging().await;
    assert!(house.see(TIME).await.text.contains("No time is kept for this job."));
    assert_eq!(house.see("/jobs/9/time").await.status, 404);
    let bad = house
        .send(TIME, &[("hours", "1.1"), ("day", "2026-04-01"), ("step", "nowhere"), ("words", "Mains & caps")])
        .await;
    assert_eq!(bad.status, 422);
    for said in ["enter 1 or 1.25", "not come yet", "from the list", "value=\"Mains &#38; caps\""] {
        assert!(bad.text.contains(said), "{said}: {}", bad.text);
    }
    let good = [("hours", "1:30"), ("day", "2026-03-01"), ("step", "bearings"), ("charged", "own-error")];
    assert_eq!(house.send(TIME, &good).await.status, 303);
    let page = house.see(TIME).await.text;
    for said in ["1.5\u{a0}h", "1 March 2026", "our own error, not charged"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert!(house.see("/jobs/1/steps/bearings").await.text.contains("worked at this step"));
    assert_eq!(house.send("/jobs/1/time/1/withdraw", &[]).await.status, 303);
    assert_eq!(house.send("/jobs/1/time/1/withdraw", &[]).await.status, 404);
}

#[tokio::test]
async fn a_clock_starts_at_a_step_and_stops() {
    let house = House::with_a_job().await;
    let step = "/jobs/1/steps/bearings";
    let started = house.send("/jobs/1/clock", &[("step", "bearings"), ("back", step)]).await;
    assert_eq!((started.status.as_u16(), started.header("location")), (303, step));
    let page = house.see(step).await.text;
    assert!(page.contains("works on it since today 12:00") && page.contains("/clocks/1/stop"), "{page}");
    let away = house.send("/clocks/1/stop", &[("back", "//elsewhere.example")]).await;
    assert_eq!((away.status.as_u16(), away.header("location")), (303, "/"));
    assert_eq!(house.send("/clocks/1/stop", &[]).await.status, 404);
}

#[tokio::test]
async fn the_end_of_the_day_is_kept_in_one_post() {
    let house = House::with_a_job().await;
    house.take(1, "main-clearance-vertical@main.0", "2.5 thou").await;
    let page = house.see("/time").await.text;
    assert!(page.contains("name=\"hours-0\"") && page.contains("name=\"job-0\" value=\"1\""), "{page}");
    let form = |hours: &'static str| {
        [("person", house.hand.as_str()), ("day", "2026-03-02"), ("job-0", "1"), ("step-0", ""), ("hours-0", hours)]
    };
    let bad = house.send("/time", &form("a while")).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("value=\"a while\"") && bad.text.contains("href=\"#field-hours-0\""), "{}", bad.text);
    assert_eq!(house.send("/time", &form("0.25")).await.status, 303);
    assert!(house.see("/time").await.text.contains("0.25\u{a0}h"));
}
