//! `/jobs/{n}/steps/{key}/accept`: "my call, because …".

use crate::asked::{ask, get, noon, post};
use crate::shop::{House, encoded};

const PAGE: &str = "/jobs/1/steps/bearings/accept";
const FINDING: &str = "main-clearance-vertical@main.1";

async fn with_main_2_out() -> House {
    let house = House::with_a_job().await;
    house.take(1, FINDING, "3.4").await;
    house
}

#[tokio::test]
async fn a_finding_is_shown_with_its_working_and_accepted_with_a_reason() {
    let house = with_main_2_out().await;
    let page = house.see(&format!("{PAGE}?finding={FINDING}")).await;
    assert_eq!(page.status, 200);
    for part in [
        "<h1>main 2: main clearance, vertical</h1>",
        "3.4\u{a0}thou",
        "name=\"because\"",
        "sheets/main-bearings?at=main.1",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let fields = [("finding", FINDING), ("because", "pump is <larger>"), ("for_owner", "Main 2 runs wide.")];
    let made = house.send(PAGE, &fields).await;
    assert_eq!((made.status.as_u16(), made.header("location")), (303, "/jobs/1/steps/bearings"));
    let step = house.see("/jobs/1/steps/bearings").await.text;
    assert!(step.contains("pump is &#60;larger&#62;") && step.contains("1 out, accepted"), "{step}");
    house.send(&format!("{PAGE}/withdraw"), &[("finding", FINDING)]).await;
    assert!(!house.see("/jobs/1/steps/bearings").await.text.contains("pump is"));
}

#[tokio::test]
async fn a_call_needs_a_reason_and_keeps_what_was_typed() {
    let house = with_main_2_out().await;
    let refused = house.send(PAGE, &[("finding", FINDING), ("because", " "), ("for_owner", "Runs wide.")]).await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.text.contains("href=\"#field-because\"") && refused.text.contains(">Runs wide.</textarea>"),
        "{}",
        refused.text
    );
    let step = house.shop.step(1, "bearings", noon()).await.unwrap();
    assert!(step.open.iter().all(|finding| finding.call.is_none()));
}

#[tokio::test]
async fn a_call_is_made_by_name() {
    let house = with_main_2_out().await;
    let page = ask(&house.router, get(&format!("{PAGE}?finding={FINDING}")), "").await;
    assert!(page.text.contains("Tap your name first") && !page.text.contains("name=\"because\""), "{}", page.text);
    assert!(
        page.text
            .contains("href=\"/who?back=/jobs/1/steps/bearings/accept%3Ffinding%3Dmain-clearance-vertical%40main.1\""),
        "{}",
        page.text
    );
    let refused = ask(&house.router, post(PAGE), encoded(&[("finding", FINDING), ("because", "it is")])).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("href=\"#field-person\"") && refused.text.contains("id=\"field-person\""));
}

#[tokio::test]
async fn what_is_not_open_here_is_not_found() {
    let house = with_main_2_out().await;
    for finding in ["", "bore-size@main.1", "main-clearance-vertical@main.77", "<b>", "oil-flow@engine"] {
        let address = format!("{PAGE}?{}", encoded(&[("finding", finding)]));
        assert_eq!(house.see(&address).await.status, 404, "{finding}");
        assert_eq!(house.send(PAGE, &[("finding", finding), ("because", "it is")]).await.status, 404, "{finding}");
    }
}
