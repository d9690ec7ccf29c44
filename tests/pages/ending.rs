//! `/jobs/{n}/ending`: parked, ended, what goes where, taken back.

use crate::asked::noon;
use crate::shop::House;
use crate::suppliers::{moved, part, supplied, writing};
use witnessmark::record::part_moves::MoveKind;
use witnessmark::record::parts::{self, NewPart, Whose};
use witnessmark::record::{builds, engines, items};
use witnessmark::work::{NewEntry, SheetKey, SlotKey};

const PAGE: &str = "/jobs/1/ending";

/// What the page's form saw.
async fn saw(house: &House) -> String {
    let page = house.see(PAGE).await.text;
    page.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("an act").to_owned()
}

async fn send(house: &House, fields: &[(&str, &str)]) -> crate::asked::Answer {
    let saw = saw(house).await;
    house.send(PAGE, &[fields, &[("saw", saw.as_str())]].concat()).await
}

/// Job 1 with bolts here, of which two are the customer's own; job 2 beside it.
async fn two_jobs() -> House {
    let house = supplied().await;
    house.open("Flat six", "opposed", 6, 7).await;
    let mut w = writing(&house, 1).await;
    for new in [part("head bolts", 10, None), NewPart { whose: Whose::Customer, ..part("his own pins", 2, None) }] {
        let id = parts::insert(&mut w, 1, &new).await.expect("a part");
        moved(&mut w, id, MoveKind::Received, new.quantity, "2026-01-05", None).await;
    }
    w.commit().await.expect("kept");
    house
}

/// The items fitted in the engine of a job, by kind: the first of each with its public id and its id.
async fn crank(house: &House, job: i64) -> Option<(String, i64)> {
    let mut look = house.shop.record().look().await.expect("a look");
    let engine = builds::by_id(&mut look, job).await.expect("a job").expect("one").engine;
    assert!(engines::by_id(&mut look, engine).await.expect("an engine").is_some());
    let fitted = items::fitted(&mut look, engine).await.expect("items");
    fitted.into_iter().find(|item| item.at.kind.word() == "crank").map(|item| (item.public_id, item.item))
}

async fn parts_of(house: &House, job: i64) -> Vec<parts::Part> {
    let mut look = house.shop.record().look().await.expect("a look");
    let all = parts::of(&mut look, Some(job)).await.expect("parts");
    all.into_iter().filter(|part| !part.withdrawn).collect()
}

#[tokio::test]
async fn a_parked_job_stays_on_the_floor_and_goes_on() {
    let house = two_jobs().await;
    assert!(house.see("/jobs/1").await.text.contains("href=\"/jobs/1/ending\""));
    let page = house.see(PAGE).await.text;
    for part in
        ["8 <strong>rod bolts</strong>", "crank balanced", "piston, cylinder 1", "10 head bolts", "with the engine"]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    let parked =
        [("kind", "parked"), ("day", "2026-03-02"), ("storage_from", "2026-04-01"), ("words", "he <saves up>")];
    // It was opened on the day of the tests.
    let made = send(&house, &parked).await;
    assert_eq!((made.status.as_u16(), made.header("location")), (303, PAGE), "{}", made.text);
    let floor = house.see("/").await.text;
    assert!(floor.contains("parked since 2 March 2026, storage from 1 April 2026"), "{floor}");
    assert!(house.see(PAGE).await.text.contains("he &#60;saves up&#62;"));
    assert_eq!(house.send("/jobs/1/ending/withdraw", &[]).await.header("location"), "/jobs/1");
    assert!(!house.see("/").await.text.contains("parked since"));
    assert!(house.see(PAGE).await.text.contains("Taken back: parked, 2 March 2026"));
    assert_eq!(house.send("/jobs/1/ending/withdraw", &[]).await.status, 404);
    assert_eq!(house.see("/jobs/77/ending").await.status, 404);
}

#[tokio::test]
async fn crank_and_bolts_go_to_another_job_and_the_crank_comes_back() {
    let house = two_jobs().await;
    let (crank_key, crank_id) = crank(&house, 1).await.expect("a crank");
    let crank_key = format!("whither-item-{crank_key}");
    let bolts =
        parts_of(&house, 1).await.into_iter().find(|part| part.said.description == "head bolts").expect("bolts");
    let bolts = format!("whither-part-{}", bolts.public_id);
    let fields = [("kind", "scrapped"), ("day", "2026-03-02"), (&*crank_key, "job"), (&*bolts, "job"), ("to_job", "2")];
    assert_eq!(send(&house, &fields).await.status, 303);
    let page = house.see(PAGE).await.text;
    for part in
        ["<strong>scrapped</strong>", "<dt>to job 2</dt><dd>crank, 10 head bolts</dd>", "<dt>to scrap</dt><dd>block, "]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(page.contains("<dt>back to the customer</dt><dd>2 his own pins</dd>"), "{page}");
    assert!(house.shop.job(1, noon()).await.unwrap().head.closed);
    assert_eq!(crank(&house, 1).await, None);
    let given = parts_of(&house, 2).await;
    let said: Vec<_> =
        given.iter().map(|part| (part.item, part.said.description.as_str(), part.said.quantity)).collect();
    assert_eq!(said, [(Some(crank_id), "crank", 1), (None, "head bolts", 10)]);
    // Taken back, the crank is in its engine again and no part of job 2; the bolts stay there.
    assert_eq!(house.send("/jobs/1/ending/withdraw", &[]).await.status, 303);
    assert!(!house.shop.job(1, noon()).await.unwrap().head.closed);
    assert_eq!(crank(&house, 1).await.expect("the crank").1, crank_id);
    assert_eq!(parts_of(&house, 2).await.len(), 1);
}

#[tokio::test]
async fn what_was_read_of_the_crank_is_taken_in_where_it_is_fitted() {
    let house = two_jobs().await;
    let entry = NewEntry {
        sheet: SheetKey::Crankshaft,
        slot: SlotKey::parse("main-journal-front-0@main.1"),
        text: "2.7480".into(),
        checked: false,
        saw: None,
        as_read: true,
        gauge: None,
    };
    house.shop.take(&house.doing(), 1, &entry).await.expect("a reading");
    let (key, _) = crank(&house, 1).await.expect("a crank");
    let key = format!("whither-item-{key}");
    let fields = [("kind", "scrapped"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "2")];
    assert_eq!(send(&house, &fields).await.status, 303);
    let page = format!("/jobs/2/parts/{}", parts_of(&house, 2).await[0].public_id);
    let before = house.see(&page).await.text;
    assert!(before.contains("None of 1 reading of it can be taken in here; 1 once it is fitted here"), "{before}");
    let readings = format!("{page}/readings");
    let refused = house.send(&readings, &[("from", "1")]).await;
    assert!(refused.status == 422 && refused.text.contains("nothing more to take in from job 1"), "{}", refused.text);
    let fitted = [("kind", "fitted"), ("of", "1"), ("day", "2026-03-02"), ("item", "crank")];
    assert_eq!(house.send(&format!("{page}/moves"), &fitted).await.status, 303);
    assert!(house.see(&page).await.text.contains("Take in 1 reading of job 1"));
    assert_eq!(house.send(&readings, &[("from", "1")]).await.header("location"), format!("{page}#field-readings"));
    let sheet = house.see("/jobs/2/sheets/crankshaft?at=main.1").await.text;
    assert!(sheet.contains("came with the part, read on job 1/1"), "{sheet}");
    assert_eq!(house.send(&format!("/jobs/2/parts/{}/readings", "0".repeat(32)), &[("from", "1")]).await.status, 404);
    assert_eq!(house.send(&readings, &[("from", "77")]).await.status, 404);
}

#[tokio::test]
async fn a_thing_fitted_elsewhere_does_not_come_back_by_itself() {
    let house = two_jobs().await;
    let (key, id) = crank(&house, 1).await.expect("a crank");
    let key = format!("whither-item-{key}");
    let fields = [("kind", "cancelled"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "2")];
    assert_eq!(send(&house, &fields).await.status, 303);
    let (_, other) = crank(&house, 2).await.expect("a crank");
    let mut w = writing(&house, 2).await;
    let engine = builds::by_id(&mut w, 2).await.expect("a job").expect("one").engine;
    items::take_out(&mut w, engine, other).await.expect("out");
    items::fit(&mut w, engine, id, witnessmark::work::Place::Engine).await.expect("fitted");
    w.commit().await.expect("kept");
    for address in ["/jobs/1/ending/withdraw", "/jobs/1/reopen"] {
        let refused = house.send(address, &[]).await;
        assert_eq!(refused.status, 422, "{address}");
        assert!(refused.text.contains("rank is fitted on job 2 now"), "{}", refused.text);
    }
    assert!(house.shop.job(1, noon()).await.unwrap().head.closed);
    // The engine comes back for another job: what it lacks is made anew.
    let again = witnessmark::work::NewJob { title: "Again".into(), engine_of: "1".into(), ..Default::default() };
    let again = house.shop.open_job(&house.doing(), &again).await.expect("a job");
    assert!(crank(&house, again).await.is_some_and(|(_, crank)| crank != id));
}

#[tokio::test]
async fn every_fault_of_an_ending_is_said_at_once() {
    let house = two_jobs().await;
    let (key, _) = crank(&house, 1).await.expect("a crank");
    let key = format!("whither-item-{key}");
    let empty = send(&house, &[("day", ""), ("storage_from", "x"), ("words", "typed <b>")]).await;
    assert_eq!(empty.status, 422);
    for part in ["#field-kind", "#field-day", "#field-storage_from", "typed &#60;b&#62;"] {
        assert!(empty.text.contains(part), "{part}: {}", empty.text);
    }
    house.shop.close_job(&house.doing(), 2).await.expect("closed");
    for (fields, field) in [
        ([("kind", "cancelled"), ("day", "2026-03-01"), (&*key, ""), ("to_job", "")], "day"),
        ([("kind", "cancelled"), ("day", "2027-03-01"), (&*key, ""), ("to_job", "")], "day"),
        ([("kind", "cancelled"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "")], "to_job"),
        ([("kind", "cancelled"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "1")], "to_job"),
        ([("kind", "cancelled"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "2")], "to_job"),
        ([("kind", "cancelled"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "77")], "to_job"),
        ([("kind", "parked"), ("day", "2026-03-02"), (&*key, "job"), ("to_job", "2")], &*key),
        ([("kind", "sold_on"), ("day", "2026-03-02"), (&*key, "moon"), ("to_job", "")], &*key),
        ([("kind", "sold_on"), ("day", "2026-03-02"), ("storage_from", "2026-03-02"), ("to_job", "")], "storage_from"),
    ] {
        let page = send(&house, &fields).await;
        assert_eq!(page.status, 422, "{fields:?}");
        assert!(page.text.contains(&format!("#field-{field}\"")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    let seen = saw(&house).await;
    let fields = [("kind", "parked"), ("day", "2026-03-02"), ("saw", &*seen)];
    assert_eq!(house.send(PAGE, &fields).await.status, 303);
    let late = house.send(PAGE, &fields).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("parked, 2 March 2026"), "{}", late.text);
}
