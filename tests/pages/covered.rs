//! A first reading that is covered until the second: no page and no paper of the job tells one figure from another.

use crate::asked::get;
use crate::shop::House;
use axum::body::{Body, to_bytes};
use std::collections::{BTreeMap, VecDeque};
use std::io::Write;
use std::process::{Command, Stdio};
use tower::ServiceExt;
use witnessmark::work::{NewEntry, RoundForm, SheetKey, SlotKey};

const CLEARANCE: &str = "main-clearance-vertical@main.1";
const JOURNAL: &str = "main-journal-front-0@main.1";
const BORE: &str = "bore-top-thrust@cylinder.0.0";

async fn take(house: &House, sheet: SheetKey, slot: &str, text: &str) {
    let slot = SlotKey::parse(slot);
    let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw: None, as_read: true, gauge: None };
    house.shop.take(&house.doing(), 1, &entry).await.expect("a reading");
}

/// A job with first readings of these figures in two rounds, and much beside them that is read once; every page of it.
async fn pages_with(clearance: &str, journal: &str, bore: &str) -> BTreeMap<String, String> {
    let house = House::with_a_job().await;
    let twice = ["main-clearance-vertical", "main-journal-front-0", "bore-top-thrust"].map(|key| ("second", key));
    assert_eq!(house.send("/jobs/1/limits/second", &twice).await.status, 303);
    for round in [1, 2] {
        take(&house, SheetKey::MainBearings, "main-plastic-strip@main.1", "2.5").await;
        take(&house, SheetKey::Crankshaft, "main-journal-rear-0@main.1", "2.4990").await;
        take(&house, SheetKey::MainBearings, CLEARANCE, clearance).await;
        take(&house, SheetKey::Crankshaft, JOURNAL, journal).await;
        take(&house, SheetKey::CylinderBores, BORE, bore).await;
        for slot in ["bore-top-pin@cylinder.0.0", "bore-bottom-thrust@cylinder.0.0", "bore-top-pin@cylinder.0.1"] {
            take(&house, SheetKey::CylinderBores, slot, "4.0005").await;
        }
        if round == 1 {
            for sheet in [SheetKey::MainBearings, SheetKey::Crankshaft, SheetKey::CylinderBores] {
                let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
                house.shop.begin_round(&house.doing(), 1, sheet, &form).await.expect("a round");
            }
        }
    }
    every_page(&house).await
}

/// Every address that the floor, or a page it leads to, leads to; as text, without what is random in it.
async fn every_page(house: &House) -> BTreeMap<String, String> {
    let mut pages = BTreeMap::new();
    let readings = (1..=20).map(|n| format!("/jobs/1/readings/{n}"));
    let mut ahead: VecDeque<String> = ["/".to_owned(), "/jobs/1".to_owned()].into_iter().chain(readings).collect();
    while let Some(address) = ahead.pop_front() {
        if pages.contains_key(&without_ids(&address)) {
            continue;
        }
        let text = text_at(house, &address).await;
        for href in text.split("href=\"").skip(1).filter_map(|rest| rest.split(['"', '#']).next()) {
            // Each place is seen as a whole, and limits on their own page; every slot and finding in turn would take long.
            if href.starts_with("/jobs/1") && !href.contains("slot=") && !href.contains("limits?on=") {
                ahead.push_back(href.replace("&#38;", "&"));
            }
        }
        pages.insert(without_ids(&address), without_ids(&text));
        assert!(pages.len() < 500, "addresses without end: {address}");
    }
    pages
}

async fn text_at(house: &House, address: &str) -> String {
    let page = house.see(address).await;
    if page.header("content-type") != "application/pdf" {
        return page.text;
    }
    let response = house.router.clone().oneshot(get(address).body(Body::empty()).expect("a request")).await;
    let bytes = to_bytes(response.expect("an answer").into_body(), usize::MAX).await.expect("a body");
    let mut reader = Command::new("pdftotext")
        .args(["-layout", "-", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("pdftotext is needed for this test");
    reader.stdin.take().expect("its input").write_all(&bytes).expect("it reads");
    String::from_utf8(reader.wait_with_output().expect("its words").stdout).expect("text")
}

/// Ids and keys are random: 32 digits in hex.
fn without_ids(text: &str) -> String {
    text.split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| word.len() == 32 && word.chars().all(|c| c.is_ascii_hexdigit()))
        .fold(text.to_owned(), |text, id| text.replace(id, "…"))
}

#[tokio::test]
async fn no_page_tells_one_first_reading_from_another() {
    let one = pages_with("2.37", "2.4991", "4.0006").await;
    let other = pages_with("7.91", "2.4713", "4.0188").await;
    assert!(one.keys().any(|address| address.contains(".pdf")), "{:?}", one.keys());
    for address in ["/jobs/1", "/jobs/1/sheets/main-bearings?round=1", "/jobs/1/readings/3", "/jobs/1/card"] {
        assert!(one.contains_key(address), "{address}: {:?}", one.keys());
    }
    assert!(one["/jobs/1/readings/3"].contains("covered until the second reading"));
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (address, page) in &one {
        if *page != other[address] {
            let differs = page.lines().zip(other[address].lines()).find(|(one, other)| one != other);
            panic!("{address}: {differs:?}");
        }
    }
}

#[tokio::test]
async fn once_the_second_is_taken_both_are_seen() {
    let house = House::with_a_job().await;
    house.send("/jobs/1/limits/second", &[("second", "main-clearance-vertical")]).await;
    take(&house, SheetKey::MainBearings, CLEARANCE, "2.37").await;
    assert!(!house.see("/jobs/1/readings/1").await.text.contains("2.37"));
    take(&house, SheetKey::MainBearings, CLEARANCE, "2.41").await;
    let page = house.see("/jobs/1/readings/1").await.text;
    assert!(page.contains("2.37") && page.contains("2.41"), "{page}");
}
