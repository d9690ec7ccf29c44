//! The page of what can be chosen on a sheet, and the pages of every sheet there is.

use witnessmark::engine::SheetKey;

use crate::details::change;
use crate::shop::House;

/// Every sheet of an engine on which nothing was read, and on paper.
#[tokio::test]
async fn every_sheet_has_its_page_and_its_paper() {
    let house = House::with_a_job().await;
    for key in SheetKey::ALL {
        let address = format!("/jobs/1/sheets/{}", key.key());
        let page = house.see(&address).await;
        assert_eq!(page.status, 200, "{address}");
        assert!(page.text.contains(witnessmark::sheets::sheet(key).title), "{address}");
        assert_eq!(house.see(&format!("{address}/paper")).await.status, 200, "{address}, on paper");
    }
}

#[tokio::test]
async fn shells_are_chosen_from_what_is_typed() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/sheets/main-bearings").await;
    assert!(page.text.contains("/jobs/1/sheets/main-bearings/options\">Choose shells"), "the sheet leads there");
    let empty = house.see("/jobs/1/sheets/main-bearings/options").await;
    assert!(empty.text.contains("take a trial clearance first"), "{}", empty.text);
    house.take(1, "main-clearance-vertical@main.0", "2.6").await;
    let no_target = house.see("/jobs/1/sheets/main-bearings/options").await;
    assert!(no_target.text.contains("what clearance is aimed at"), "{}", no_target.text);
    let typed = house.see("/jobs/1/sheets/main-bearings/options?typed=thick").await;
    assert!(typed.text.contains("thick") && typed.status == 200, "{}", typed.text);
}

#[tokio::test]
async fn a_choice_is_taken_with_its_reason_and_stays_with_what_else_could_have_been() {
    let house = House::with_a_job().await;
    let aim = [("main-clearance@mains", "2.1 thou")];
    assert_eq!(change(&house, 1, &aim).await.status, 303);
    house.take(1, "main-clearance-vertical@main.0", "2.6").await;
    let address = "/jobs/1/sheets/main-bearings/options";
    let page = house.see(address).await.text;
    let title = page.split("name=\"choice\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    let title = title.unwrap_or_else(|| panic!("a choice: {page}"));
    let bad = house.send(address, &[("choice", title), ("reason", " ")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("Say why it is taken"), "{}", bad.text);
    let gone = house.send(address, &[("choice", "the moon"), ("reason", "why not")]).await;
    assert!(gone.status == 422 && gone.text.contains("not among them any more"), "{}", gone.text);
    let taken = house.send(address, &[("choice", title), ("reason", "on the shelf")]).await;
    assert_eq!((taken.status.as_u16(), taken.header("location")), (303, "/jobs/1/sheets/main-bearings"));
    let sheet = house.see("/jobs/1/sheets/main-bearings").await.text;
    assert!(sheet.contains("Decided today 12:00") && sheet.contains("on the shelf"), "{sheet}");
    let page = house.see(address).await.text;
    let withdraw = page.split("/decisions/").nth(1).and_then(|rest| rest.split('"').next()).expect("a decision");
    let withdrawn = house.send(&format!("/jobs/1/sheets/main-bearings/decisions/{withdraw}"), &[]).await;
    assert_eq!(withdrawn.status, 303);
    assert!(!house.see("/jobs/1/sheets/main-bearings").await.text.contains("on the shelf"));
}

#[tokio::test]
async fn where_nothing_is_to_be_chosen_there_is_no_page() {
    let house = House::with_a_job().await;
    for address in
        ["/jobs/1/sheets/block/options", "/jobs/9/sheets/main-bearings/options", "/jobs/1/sheets/valves/options"]
    {
        assert_eq!(house.see(address).await.status, 404, "{address}");
    }
}

/// Seven masses for all cylinders at once: each field says of what.
#[tokio::test]
async fn figures_for_all_at_once_are_told_apart() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/sheets/balance").await.text;
    for what in ["piston", "pin", "rod small end", "shells of a rod"] {
        let label = format!("<span class=\"capital\">{what}</span>: a figure or a range (g)");
        assert_eq!(page.matches(&label).count(), 1, "{what}");
    }
    let deck = house.see("/jobs/1/sheets/compression").await.text;
    assert!(deck.contains("<span class=\"capital\">chamber</span>: a figure or a range (cm³)"));
}
