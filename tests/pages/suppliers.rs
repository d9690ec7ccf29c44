//! `/suppliers`: who they are, what is there now, promised against received.

use crate::shop::House;
use witnessmark::record::part_moves::{self, MoveKind, NewMove};
use witnessmark::record::parts::{self, AsItCame, NewPart, Origin, Whose};
use witnessmark::record::sendings::{self, NewSending};
use witnessmark::record::suppliers::{self, NewSupplier};
use witnessmark::record::{NewAct, Writing};
use witnessmark::work::Condition;

/// A transaction of the record on a job.
pub async fn writing(house: &House, job: i64) -> Writing {
    let doing = house.doing();
    let act = NewAct {
        person: None,
        device: "pc",
        what: "lay out",
        build: Some(job),
        at: doing.at,
        idempotency_key: &doing.key,
    };
    house.shop.record().begin(&act).await.expect("an act").expect("a new one")
}

pub fn part(description: &str, quantity: i64, supplier: Option<i64>) -> NewPart {
    NewPart {
        description: description.into(),
        maker: "Thimble & Ring".into(),
        part_number: "TR-204".into(),
        quantity,
        serial: String::new(),
        supplier,
        whose: Whose::Shop,
        origin: Origin::Bought,
        as_it_came: AsItCame::New,
        shelf: String::new(),
        step: None,
        cost: None,
        price: None,
        core: None,
        replaces: None,
        note: String::new(),
    }
}

pub async fn moved(w: &mut Writing, part: i64, kind: MoveKind, quantity: i64, day: &str, due: Option<&str>) {
    let day = day.parse().expect("a day");
    let due = due.map(|due| due.parse().expect("a day"));
    let new = NewMove { part, kind, quantity, day, due, place: None, words: String::new() };
    part_moves::insert(w, &new).await.expect("a move");
}

/// The public id and the act of every part, by what it is.
pub async fn ids(house: &House) -> std::collections::BTreeMap<String, String> {
    let mut look = house.shop.record().look().await.expect("a look");
    let all = parts::of(&mut look, None).await.expect("parts");
    all.into_iter().map(|part| (part.said.description, part.public_id)).collect()
}

/// Its row's id, by name, and its public id.
pub async fn supplier(house: &House, name: &str) -> (i64, String) {
    let mut look = house.shop.record().look().await.expect("a look");
    let all = suppliers::all(&mut look).await.expect("suppliers");
    let found = all.into_iter().find(|supplier| supplier.said.name == name).expect("listed");
    (found.id, found.public_id)
}

/// Job 1, and Harrow Lane with deliveries 2 days early, on the day and 9 days late, bolts on order and a crank away.
pub async fn supplied() -> House {
    let house = House::with_a_job().await;
    let mut w = writing(&house, 1).await;
    let new = NewSupplier { name: "Harrow Lane <Co>".into(), phone: "555 0188".into(), ..NewSupplier::default() };
    let harrow = suppliers::insert(&mut w, &new).await.expect("a supplier");
    for (what, came) in [("gasket", "2026-01-18"), ("studs", "2026-01-20"), ("cam", "2026-01-29")] {
        let id = parts::insert(&mut w, 1, &part(what, 1, Some(harrow))).await.expect("a part");
        moved(&mut w, id, MoveKind::Ordered, 1, "2026-01-02", Some("2026-01-20")).await;
        moved(&mut w, id, MoveKind::Received, 1, came, None).await;
    }
    let bolts = parts::insert(&mut w, 1, &part("rod bolts", 8, Some(harrow))).await.expect("a part");
    moved(&mut w, bolts, MoveKind::Ordered, 8, "2026-01-02", Some("2026-01-20")).await;
    let crank = NewSending {
        supplier: Some(harrow),
        what: "crank balanced".into(),
        step: None,
        sheet: None,
        condition: Condition::default(),
        words: String::new(),
        sent: Some("2026-01-05".parse().expect("a day")),
        due: Some("2026-02-01".parse().expect("a day")),
        back: None,
        before_round: None,
        after_round: None,
        cost: None,
        price: None,
    };
    sendings::insert(&mut w, 1, &crank).await.expect("sent");
    w.commit().await.expect("kept");
    house
}

#[tokio::test]
async fn a_supplier_is_added_changed_and_taken_off() {
    let house = House::staffed().await;
    assert!(house.see("/").await.text.contains("href=\"/suppliers\""));
    assert!(house.see("/suppliers").await.text.contains("No supplier is listed yet."));
    let fields = [("name", "Quill <Gaskets>"), ("phone", "555 0190"), ("usual_days", "14"), ("note", "ask for Ida")];
    assert_eq!(house.send("/suppliers", &fields).await.header("location"), "/suppliers");
    let page = house.see("/suppliers").await.text;
    assert!(page.contains("Quill &#60;Gaskets&#62;</a>") && page.contains("555 0190"), "{page}");
    let (_, id) = supplier(&house, "Quill <Gaskets>").await;
    let address = format!("/suppliers/{id}");
    let page = house.see(&address).await.text;
    assert!(page.contains("value=\"14\"") && page.contains("Nothing is on order"), "{page}");
    let saw = page.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("an act");
    let changed = [("saw", saw), ("name", "Quill Gaskets"), ("email", "ida@quill.example")];
    assert_eq!(house.send(&address, &changed).await.status, 303);
    let late = house.send(&address, &[("saw", saw), ("name", "Mine")]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("Quill Gaskets") && late.text.contains("value=\"Mine\""), "{}", late.text);
    assert_eq!(house.send(&format!("{address}/withdraw"), &[]).await.status, 303);
    assert!(house.see("/suppliers").await.text.contains("No supplier is listed yet."));
    for (address, status) in [(&address, 404), (&"/suppliers/1".to_owned(), 404)] {
        assert_eq!(house.see(address).await.status, status);
        assert_eq!(house.send(address, &[("name", "x")]).await.status, 404);
        assert_eq!(house.send(&format!("{address}/withdraw"), &[]).await.status, 404);
    }
}

#[tokio::test]
async fn every_fault_of_a_supplier_is_said_at_once() {
    let house = supplied().await;
    let wrong = [("name", " harrow lane <co>"), ("usual_days", "a <fortnight>"), ("phone", &*"5".repeat(90))];
    let page = house.send("/suppliers", &wrong).await;
    assert_eq!(page.status, 422);
    for part in ["#field-name", "#field-usual_days", "#field-phone", "listed already", "a &#60;fortnight&#62;"] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let page = house.send("/suppliers", &[("name", " "), ("usual_days", "-3")]).await;
    assert!(page.status == 422 && page.text.contains("#field-usual_days") && page.text.contains("#field-name"));
}

#[tokio::test]
async fn what_was_promised_stands_beside_what_came() {
    let house = supplied().await;
    let (_, id) = supplier(&house, "Harrow Lane <Co>").await;
    let page = house.see(&format!("/suppliers/{id}")).await.text;
    for part in [
        "Of 3 deliveries 2 came on the day promised or before; 8 of 10 within 9 days after it.",
        "From order to arrival half took at most 18 days, 8 of 10 at most 27 days.",
        "<svg class=\"drawing\"",
        "8 <strong>rod bolts</strong>",
        "late: was due 20 January 2026",
        "<strong>crank balanced</strong>",
        "href=\"/jobs/1\"",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    let list = house.see("/suppliers").await.text;
    assert!(list.contains("1 on order, 1 away") && list.contains("2 late"), "{list}");
    // Jobs that have left count in the past, not in what is there now.
    house.shop.close_job(&house.doing(), 1).await.expect("closed");
    let page = house.see(&format!("/suppliers/{id}")).await.text;
    assert!(page.contains("Of 3 deliveries 2 came") && page.contains("Nothing is on order"), "{page}");
}

#[tokio::test]
async fn a_supplier_with_something_on_order_stays_and_says_where() {
    let house = supplied().await;
    let (_, id) = supplier(&house, "Harrow Lane <Co>").await;
    let refused = house.send(&format!("/suppliers/{id}/withdraw"), &[]).await;
    assert_eq!(refused.status, 422);
    for part in ["#field-withdraw", "rod bolts for job 1", "crank balanced of job 1"] {
        assert!(refused.text.contains(part), "{part}: {}", refused.text);
    }
}
