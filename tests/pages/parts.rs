//! `/jobs/{n}/parts`, `/jobs/{n}/sent-out` and `/jobs/{n}/changes`: each valid, invalid, and what was typed kept.

use crate::shop::House;

/// The address of the first part, or of the first work sent out, that a list leads to.
fn first(page: &str, list: &str) -> String {
    let from = page.find(&format!("href=\"{list}/")).expect("a row") + 6;
    page[from..].split('"').next().expect("an address").to_owned()
}

#[tokio::test]
async fn without_parts_the_page_teaches() {
    let house = House::with_a_job().await;
    for (address, words) in [
        ("/jobs/1/parts", "No part is written down for this job."),
        ("/jobs/1/sent-out", "No work of this job was sent out."),
        ("/jobs/1/changes", "Nothing was changed after it was measured."),
    ] {
        let page = house.see(address).await;
        assert_eq!(page.status, 200);
        assert!(page.text.contains(words), "{address}: {}", page.text);
    }
    for address in
        ["/jobs/9/parts", "/jobs/1/parts/nothing", "/jobs/9/sent-out", "/jobs/1/sent-out/none", "/jobs/9/changes"]
    {
        assert_eq!(house.see(address).await.status, 404, "{address}");
    }
}

#[tokio::test]
async fn a_part_is_written_down_ordered_and_received() {
    let house = House::with_a_job().await;
    let bad =
        house.send("/jobs/1/parts", &[("description", ""), ("quantity", "some"), ("maker", "Northfell & Co")]).await;
    assert_eq!(bad.status, 422);
    for kept in ["Say what it is", "Enter how many", "value=\"some\"", "value=\"Northfell &#38; Co\"", "<title>Error: "]
    {
        assert!(bad.text.contains(kept), "{kept}: {}", bad.text);
    }
    let good = [("description", "Rod bolts"), ("quantity", "8"), ("cost", "14.20"), ("step", "parts")];
    let sent = house.send("/jobs/1/parts", &good).await;
    assert_eq!((sent.status.as_u16(), sent.header("location")), (303, "/jobs/1/parts"));
    let list = house.see("/jobs/1/parts").await.text;
    assert!(list.contains("To order") && list.contains("for Order and check parts"), "{list}");
    let address = first(&list, "/jobs/1/parts");
    let moves = format!("{address}/moves");
    let bad =
        house.send(&moves, &[("kind", "received"), ("of", "nine"), ("day", "tomorrow"), ("words", "box 3")]).await;
    assert_eq!(bad.status, 422);
    for kept in ["Enter how many", "Enter the day as 2027-03-01", "value=\"box 3\"", "id=\"field-of\""] {
        assert!(bad.text.contains(kept), "{kept}: {}", bad.text);
    }
    assert_eq!(
        house
            .send(&moves, &[("kind", "ordered"), ("of", "8"), ("day", "2026-02-01"), ("due", "2026-02-10")])
            .await
            .status,
        303
    );
    let page = house.see(&address).await.text;
    for said in
        ["on order", "late", "8 ordered, 1 February 2026, promised for 10 February 2026", "costs 14.20\u{a0}USD each"]
    {
        assert!(page.contains(said), "{said}: {page}");
    }
    let refused = house.send(&format!("{address}/withdraw"), &[]).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("8 are on order"), "{}", refused.text);
}

#[tokio::test]
async fn who_was_quicker_with_a_part_is_shown_beside() {
    let house = House::with_a_job().await;
    house.send("/jobs/1/parts", &[("description", "Rod bolts"), ("quantity", "8")]).await;
    let address = first(&house.see("/jobs/1/parts").await.text, "/jobs/1/parts");
    let page = house.see(&address).await.text;
    let saw = page.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("the act seen");
    let form = |shelf: &'static str| [("description", "Rod bolts"), ("quantity", "8"), ("shelf", shelf), ("saw", saw)];
    assert_eq!(house.send(&address, &form("left")).await.status, 303);
    let later = house.send(&address, &form("right")).await;
    assert_eq!(later.status, 409);
    assert!(later.text.contains("someone was quicker") && later.text.contains("value=\"right\""), "{}", later.text);
}

#[tokio::test]
async fn work_is_sent_out_with_what_is_asked() {
    let house = House::with_a_job().await;
    let bad = house.send("/jobs/1/sent-out", &[("what", ""), ("due", "soon"), ("torque", "70 lbf·ft")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("Say what is to be done") && bad.text.contains("value=\"70 lbf·ft\""), "{}", bad.text);
    let good = [("what", "Line honing"), ("sheet", "main-bearings"), ("torque", "70 lbf·ft")];
    assert_eq!(house.send("/jobs/1/sent-out", &good).await.status, 303);
    let address = first(&house.see("/jobs/1/sent-out").await.text, "/jobs/1/sent-out");
    let asked = format!("{address}/asked");
    let bad = house
        .send(&asked, &[("feature", "main-clearance-vertical"), ("least", "wide"), ("asked_at", "cylinder.0.0")])
        .await;
    assert_eq!(bad.status, 422);
    assert!(
        bad.text.contains("it is not found at this place") || bad.text.contains("It is not found at this place"),
        "{}",
        bad.text
    );
    assert_eq!(
        house.send(&asked, &[("feature", "main-clearance-vertical"), ("least", "2.4"), ("most", "2.6")]).await.status,
        303
    );
    let page = house.see(&address).await.text;
    assert!(page.contains("2.4 to 2.6\u{a0}thou") && page.contains("main 5"), "{page}");
    let gone = house.send(&address, &[("what", "Line honing"), ("back", "2026-02-01")]).await;
    assert_eq!(gone.status, 422);
    assert!(gone.text.contains("Enter the day it left"), "{}", gone.text);
}

#[tokio::test]
async fn a_change_is_noted_and_said_on_sheet_step_job_and_floor() {
    let house = House::with_a_job().await;
    house.take(1, "main-clearance-vertical@main.0", "2.5 thou").await;
    let bad = house.send("/jobs/1/changes", &[("change", "weather"), ("words", "wet & cold")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("Choose what was changed") && bad.text.contains("wet &#38; cold"), "{}", bad.text);
    assert_eq!(house.send("/jobs/1/changes", &[("change", "main-torque"), ("words", "60 to 70")]).await.status, 303);
    for address in ["/", "/jobs/1", "/jobs/1/steps/main-line", "/jobs/1/sheets/main-bearings", "/jobs/1/changes"] {
        let page = house.see(address).await.text;
        assert!(page.contains("stale</strong>"), "{address}: {page}");
    }
    let sign = house.send("/jobs/1/steps/main-line/sign", &[("person", &house.hand)]).await;
    assert_eq!(sign.status, 422);
    assert!(sign.text.contains("Say why it is signed although figures are stale"), "{}", sign.text);
    let page = house.see("/jobs/1/changes").await.text;
    let change = page.split("/jobs/1/changes/").nth(1).and_then(|rest| rest.split('/').next()).expect("its number");
    let check = format!("/jobs/1/changes/{change}/checked");
    assert_eq!(house.send(&check, &[("sheet", "nonsense")]).await.status, 404);
    let checked = house.send(&check, &[("sheet", "main-bearings"), ("on_sheet", "yes")]).await;
    assert_eq!((checked.status.as_u16(), checked.header("location")), (303, "/jobs/1/sheets/main-bearings"));
    let page = house.see("/jobs/1/sheets/main-bearings").await.text;
    assert!(!page.contains("stale</strong>"), "{page}");
}
