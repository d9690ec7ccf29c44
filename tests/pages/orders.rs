//! `/orders` and `/receiving`: what is to order and what comes, over all jobs.

use crate::asked::get;
use crate::shop::House;
use crate::suppliers::{ids, moved, part, supplied, supplier, writing};
use witnessmark::record::part_moves::MoveKind;
use witnessmark::record::parts::{self, NewPart, Origin, Whose};
use witnessmark::record::{acts, sendings};

/// Beside what is supplied to job 1: on job 2 six of eight cam followers to order at Harrow Lane, a gasket set from nobody yet,
/// and what is not ordered at all.
async fn wanted() -> House {
    let house = supplied().await;
    house.open("=Flat six <b>", "opposed", 6, 7).await;
    let (harrow, _) = supplier(&house, "Harrow Lane <Co>").await;
    let mut w = writing(&house, 2).await;
    let followers = parts::insert(&mut w, 2, &part("cam followers", 8, Some(harrow))).await.expect("a part");
    moved(&mut w, followers, MoveKind::Received, 2, "2026-01-02", None).await;
    for new in [
        NewPart { maker: "-Øst, \"fine\"".into(), ..part("=gasket set", 1, None) },
        NewPart { whose: Whose::Customer, ..part("his own manifold", 1, None) },
        NewPart { origin: Origin::Made, ..part("torque plate", 1, None) },
    ] {
        parts::insert(&mut w, 2, &new).await.expect("a part");
    }
    let mut w2 = w;
    w2.go_on(&witnessmark::record::NewAct {
        person: None,
        device: "pc",
        what: "lay out",
        build: Some(1),
        at: house.doing().at,
        idempotency_key: "studs again",
    })
    .await
    .expect("an act");
    parts::insert(&mut w2, 1, &part("main studs", 10, Some(harrow))).await.expect("a part");
    w2.commit().await.expect("kept");
    house
}

#[tokio::test]
async fn what_is_to_order_stands_by_supplier_and_nobody_last() {
    let house = wanted().await;
    assert!(house.see("/").await.text.contains("href=\"/orders\""));
    let page = house.see("/orders").await.text;
    let at = |text: &str| page.find(text).unwrap_or_else(|| panic!("{text}: {page}"));
    assert!(at("Harrow Lane &#60;Co&#62;</a>") < at("main studs") && at("cam followers") < at("No supplier chosen"));
    assert!(at("No supplier chosen") < at("=gasket set"));
    assert!(page.contains("<td class=\"figure\">6</td>"), "two of eight are here: {page}");
    for absent in ["his own manifold", "torque plate", "rod bolts", "<b>"] {
        assert!(!page.contains(absent), "{absent}: {page}");
    }
    assert!(House::staffed().await.see("/orders").await.text.contains("Nothing is to order."));
}

#[tokio::test]
async fn the_table_is_guarded_for_spreadsheets() {
    let house = wanted().await;
    let table = house.see("/orders.csv").await;
    assert!(table.header("content-type").starts_with("text/csv"));
    assert_eq!(
        table.text.split("\r\n").collect::<Vec<_>>(),
        [
            "Supplier,Quantity,Part,Maker,Part number,Job,What it is,Needed for",
            "Harrow Lane <Co>,6,cam followers,Thimble & Ring,TR-204,2,'=Flat six <b>,",
            "Harrow Lane <Co>,10,main studs,Thimble & Ring,TR-204,1,\"Inline four, 1.6\",",
            ",1,'=gasket set,\"'-Øst, \"\"fine\"\"\",TR-204,2,'=Flat six <b>,",
            ""
        ]
    );
}

#[tokio::test]
async fn one_post_marks_lines_of_several_jobs_each_by_its_own_act() {
    let house = wanted().await;
    let ids = ids(&house).await;
    let (_, harrow) = supplier(&house, "Harrow Lane <Co>").await;
    let names =
        ["cam followers", "main studs"].map(|name| (format!("part-{}", ids[name]), format!("seen-{}", ids[name])));
    let (day, due, words) = (format!("day-{harrow}"), format!("due-{harrow}"), format!("words-{harrow}"));
    let key = "00112233445566778899aabbccddeeff";
    let fields = [
        ("key", key),
        ("of", &harrow),
        (&names[0].0, "yes"),
        (&names[0].1, "6"),
        (&names[1].0, "yes"),
        (&names[1].1, "10"),
        (&day, "2026-01-02"),
        (&due, "2026-09-01"),
        (&words, "H-77"),
    ];
    let before = acts_of(&house).await;
    for _ in 0..2 {
        assert_eq!(house.send("/orders", &fields).await.header("location"), "/orders", "twice is once");
    }
    let after = acts_of(&house).await;
    assert!(after.0 > before.0 && after.1 > before.1, "{before:?} {after:?}");
    let page = house.see("/receiving").await.text;
    assert!(page.contains("cam followers") && page.contains("value=\"10\"") && page.contains("due 1 September 2026"));
    assert!(!house.see("/orders").await.text.contains("main studs"));
    // Whoever looked before that is told.
    let again =
        house.send("/orders", &fields.iter().copied().filter(|(name, _)| *name != "key").collect::<Vec<_>>()).await;
    assert_eq!(again.status, 422);
    assert!(again.text.contains("Main studs of job 1: 0 are to order now, not 10"), "{}", again.text);
}

async fn acts_of(house: &House) -> (i64, i64) {
    let mut look = house.shop.record().look().await.expect("a look");
    (acts::newest_of(&mut look, 1).await.expect("an act"), acts::newest_of(&mut look, 2).await.expect("an act"))
}

#[tokio::test]
async fn every_fault_of_an_order_is_said_at_once() {
    let house = wanted().await;
    let id = ids(&house).await["=gasket set"].clone();
    let (part, seen) = (format!("part-{id}"), format!("seen-{id}"));
    let nothing = house.send("/orders", &[("of", "nobody"), ("day-nobody", ""), ("due-nobody", "soon")]).await;
    assert_eq!(nothing.status, 422);
    for field in ["parts-nobody", "day-nobody", "due-nobody"] {
        assert!(nothing.text.contains(&format!("#field-{field}")), "{field}: {}", nothing.text);
        assert!(nothing.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    let wrong = [
        ("of", "nobody"),
        (&*part, "yes"),
        (&*seen, "1"),
        ("day-nobody", "2199-01-01"),
        ("due-nobody", "2025-01-01"),
        ("words-nobody", "N <1>"),
    ];
    let page = house.send("/orders", &wrong).await;
    assert_eq!(page.status, 422);
    for part in ["#field-day-nobody", "#field-from-nobody", "value=\"N &#60;1&#62;\"", "\" checked>"] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let backwards =
        [("of", "nobody"), (&*part, "yes"), (&*seen, "1"), ("day-nobody", "2026-01-03"), ("due-nobody", "2026-01-02")];
    assert!(house.send("/orders", &backwards).await.text.contains("#field-due-nobody"));
    let (_, harrow) = supplier(&house, "Harrow Lane <Co>").await;
    let right =
        [("of", "nobody"), (&*part, "yes"), (&*seen, "1"), ("day-nobody", "2026-01-03"), ("from-nobody", &harrow)];
    assert_eq!(house.send("/orders", &right).await.status, 303);
    let page = house.see(&format!("/suppliers/{harrow}")).await.text;
    assert!(page.contains("=gasket set"), "chosen from then on: {page}");
    assert_eq!(
        house.send("/orders", &[("of", "nobody"), ("part-x", "yes"), ("day-nobody", "2026-01-03")]).await.status,
        404
    );
}

#[tokio::test]
async fn what_came_is_taken_in_part_of_it_wrong() {
    let house = supplied().await;
    let page = house.see("/receiving").await.text;
    for part in ["rod bolts", "late: was due 20 January 2026", "<strong>crank balanced</strong> is back", "value=\"8\""]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    let bolts = ids(&house).await["rod bolts"].clone();
    let named = |name: &str| format!("{name}-{bolts}");
    let (came, seen, count, wrong, why) = (named("came"), named("seen"), named("count"), named("wrong"), named("why"));
    let mut look = house.shop.record().look().await.expect("a look");
    let crank = sendings::of(&mut look, None).await.expect("sent").remove(0);
    drop(look);
    let (back, act) = (format!("back-{}", crank.public_id), format!("act-{}", crank.public_id));
    let fields = [
        ("day", "2026-02-10"),
        (&*came, "yes"),
        (&*seen, "8"),
        (&*count, "6"),
        (&*wrong, "2"),
        (&*why, "M9 <not> 3/8"),
        (&*back, "yes"),
        (&*act, &crank.act.to_string()),
    ];
    assert_eq!(house.send("/receiving", &fields).await.header("location"), "/receiving");
    let page = house.see("/receiving").await.text;
    assert!(page.contains("Lies apart") && page.contains("M9 &#60;not&#62; 3/8"), "{page}");
    assert!(page.contains(&format!("/jobs/1/photos?thing={bolts}")) && page.contains("How many of 2"), "{page}");
    assert!(!page.contains("crank balanced"));
    let late = house.send("/receiving", &fields).await;
    assert_eq!(late.status, 422);
    assert!(late.text.contains("Rod bolts: 2 are awaited now, not 8"), "{}", late.text);
    assert!(late.text.contains("Crank balanced was changed meanwhile"), "{}", late.text);
}

#[tokio::test]
async fn every_fault_of_receiving_is_said_at_once() {
    let house = supplied().await;
    let empty = house.send("/receiving", &[("day", "x")]).await;
    assert!(empty.status == 422 && empty.text.contains("#field-came") && empty.text.contains("#field-day"));
    let bolts = ids(&house).await["rod bolts"].clone();
    let named = |name: &str| format!("{name}-{bolts}");
    let (came, seen, count, wrong, why) = (named("came"), named("seen"), named("count"), named("wrong"), named("why"));
    for (typed, faults) in [
        (
            [("day", "2026-02-10"), (&*came, "yes"), (&*seen, "8"), (&*count, "9"), (&*wrong, "-1"), (&*why, "")],
            vec!["count", "wrong"],
        ),
        (
            [("day", "2026-02-10"), (&*came, "yes"), (&*seen, "8"), (&*count, "2"), (&*wrong, "3"), (&*why, "<i>")],
            vec!["wrong"],
        ),
        (
            [("day", "2026-02-10"), (&*came, "yes"), (&*seen, "8"), (&*count, "2"), (&*wrong, "1"), (&*why, " ")],
            vec!["why"],
        ),
        (
            [("day", "2026-02-10"), (&*came, "yes"), (&*seen, "8"), (&*count, "two"), (&*wrong, ""), (&*why, "bent")],
            vec!["count", "wrong"],
        ),
        (
            [("day", "2026-01-01"), (&*came, "yes"), (&*seen, "8"), (&*count, "8"), (&*wrong, ""), (&*why, "")],
            vec!["came"],
        ),
    ] {
        let page = house.send("/receiving", &typed).await;
        assert_eq!(page.status, 422, "{typed:?}");
        for field in faults {
            assert!(page.text.contains(&format!("#field-{}", named(field))), "{field}: {}", page.text);
        }
        assert!(!page.text.contains("<i>"));
    }
    for (name, status) in [("came-x", 404), ("back-x", 404)] {
        assert_eq!(house.send("/receiving", &[("day", "2026-02-10"), (name, "yes")]).await.status, status, "{name}");
    }
    let empty = crate::asked::ask(&House::empty().await.router, get("/receiving"), "").await;
    assert!(empty.text.contains("Nothing is on order"));
}
