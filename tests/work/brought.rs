//! Readings that come with a thing from another job: a crank of an engine that was scrapped, fitted in the next one.

use crate::setting::Bench;
use jiff::Timestamp;
use std::collections::BTreeMap;
use witnessmark::work::{
    ChangeForm, EndingForm, FindingKey, JobRecord, MoveForm, NewEntry, PartView, Refused, RoundForm, SheetKey, SlotKey,
    SlotView, TemperaturesForm, Took,
};

const CRANK: SheetKey = SheetKey::Crankshaft;
const MAINS: SheetKey = SheetKey::MainBearings;
const JOURNAL: &str = "main-journal-front-0@main.1";
const SHELLS_IN: &str = "main-shell-bore-vertical@main.1";

async fn read(bench: &Bench, job: i64, sheet: SheetKey, slot: &str, text: &str) -> i64 {
    let slot = SlotKey::parse(slot);
    let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw: None, as_read: true, gauge: None };
    match bench.shop.take(&bench.doing(), job, &entry).await.unwrap() {
        Took::Kept { number, .. } => number,
        other => panic!("{other:?}"),
    }
}

async fn slot(bench: &Bench, job: i64, sheet: SheetKey, slot: &str) -> SlotView {
    let view = bench.shop.sheet(job, sheet, None, bench.now()).await.unwrap();
    let slot = SlotKey::parse(slot);
    view.places.into_iter().flat_map(|place| place.slots).find(|of| of.key == slot).expect("a slot")
}

async fn clearance(bench: &Bench, job: i64) -> Option<String> {
    let view = bench.shop.sheet(job, MAINS, None, bench.now()).await.unwrap();
    let key = FindingKey::parse("main-clearance-vertical@main.1");
    view.places.into_iter().flat_map(|place| place.findings).find(|f| f.key == key).and_then(|f| f.value)
}

fn day(at: Timestamp) -> String {
    at.strftime("%Y-%m-%d").to_string()
}

/// Scraps the engine of a job; its crank, or its first rod, goes to the other.
async fn send_away(bench: &Bench, kind: &str, from: i64, to: i64) {
    let loaded = JobRecord::load(&mut bench.shop.record().look().await.unwrap(), from).await.unwrap().unwrap();
    let thing = loaded.items.iter().find(|item| item.at.kind.key() == kind).expect("one of the kind");
    let view = bench.shop.ending(from, bench.now()).await.unwrap();
    let form = EndingForm {
        saw: view.saw,
        kind: "scrapped".into(),
        day: day(bench.now()),
        whither: BTreeMap::from([(format!("item-{}", thing.public_id), "job".to_owned())]),
        to_job: to.to_string(),
        ..EndingForm::default()
    };
    bench.shop.end_job(&bench.doing(), from, &form).await.unwrap();
}

async fn crank_part(bench: &Bench, job: i64) -> PartView {
    let rows = bench.shop.parts(job, bench.now()).await.unwrap().groups.into_iter().flat_map(|(_, rows)| rows);
    let id = rows.into_iter().find(|row| row.description == "crank").expect("the crank").public_id;
    bench.shop.part(job, &id, bench.now()).await.unwrap()
}

fn fitted(bench: &Bench, change: &str) -> MoveForm {
    MoveForm {
        kind: "fitted".into(),
        quantity: "1".into(),
        day: day(bench.now()),
        item: "crank".into(),
        change: change.into(),
        ..MoveForm::default()
    }
}

/// 2.7505 − 2.7480 in is 2.5 thou, the journal read before the crank came.
#[tokio::test]
async fn a_crank_brings_what_was_read_of_it() {
    let bench = Bench::open().await;
    let (old, new) = (bench.inline_four().await, bench.inline_four().await);
    let number = read(&bench, old, CRANK, JOURNAL, "2.7480").await;
    // Of the block it leaves behind.
    read(&bench, old, MAINS, SHELLS_IN, "2.7509").await;
    // Of the crank in that block.
    read(&bench, old, CRANK, "end-play@engine", "6").await;
    bench.wait(48);
    send_away(&bench, "crank", old, new).await;
    let when = slot(&bench, old, CRANK, JOURNAL).await.readings[0].when.clone();
    read(&bench, new, MAINS, SHELLS_IN, "2.7505").await;
    let part = crank_part(&bench, new).await;
    let id = part.row.public_id;
    // It lies here and is in no engine: nothing of it can stand in one.
    assert_eq!((part.read_elsewhere.len(), part.read_elsewhere[0].to_bring), (1, 0));
    assert_eq!(part.read_elsewhere[0].left, ["2 once it is fitted here"]);
    let refused = bench.shop.bring_readings(&bench.doing(), new, &id, old).await;
    assert!(matches!(refused, Err(Refused::Faults(_))), "{refused:?}");

    bench.shop.move_part(&bench.doing(), new, &id, &fitted(&bench, "")).await.unwrap();
    let offered = crank_part(&bench, new).await.read_elsewhere;
    assert_eq!((offered[0].job, offered[0].readings, offered[0].to_bring), (old, 2, 1));
    assert_eq!(offered[0].left, ["1 read together with other parts of that engine"]);
    assert_eq!(clearance(&bench, new).await, None);
    let doing = bench.doing();
    bench.shop.bring_readings(&doing, new, &id, old).await.unwrap();
    // The same post again brings nothing twice.
    bench.shop.bring_readings(&doing, new, &id, old).await.unwrap();
    let here = slot(&bench, new, CRANK, JOURNAL).await;
    assert_eq!(here.readings.len(), 1);
    let came = &here.readings[0];
    assert_eq!((came.typed.as_str(), came.brought_from.as_deref()), ("2.7480", Some(&*format!("{old}/{number}"))));
    assert_eq!(came.when, when, "read when and by whom it was read, not when it came");
    assert_eq!(clearance(&bench, new).await.as_deref(), Some("2.5\u{a0}thou"));
    let offered = &crank_part(&bench, new).await.read_elsewhere[0];
    assert!(offered.to_bring == 0 && offered.left[0] == "1 taken in already", "{:?}", offered.left);
    // Where it was read it stands as before.
    assert_eq!(slot(&bench, old, CRANK, JOURNAL).await.readings.len(), 1);
}

/// Another crank makes what was read of the first stale; what comes with it stands, and does not mix with that.
#[tokio::test]
async fn what_was_read_of_the_thing_before_is_stale_and_is_asked_about() {
    let bench = Bench::open().await;
    let (old, new) = (bench.inline_four().await, bench.inline_four().await);
    read(&bench, old, CRANK, JOURNAL, "2.7480").await;
    read(&bench, new, CRANK, JOURNAL, "2.7470").await;
    read(&bench, new, MAINS, SHELLS_IN, "2.7505").await;
    send_away(&bench, "crank", old, new).await;
    let id = crank_part(&bench, new).await.row.public_id;
    let refused = bench.shop.move_part(&bench.doing(), new, &id, &fitted(&bench, "")).await;
    let Err(Refused::Faults(faults)) = refused else { panic!("{refused:?}") };
    assert!(faults.len() == 1 && faults[0].field == "change", "{faults:?}");
    bench.shop.move_part(&bench.doing(), new, &id, &fitted(&bench, "crankshaft")).await.unwrap();
    assert!(slot(&bench, new, CRANK, JOURNAL).await.stale);
    let offered = crank_part(&bench, new).await.read_elsewhere;
    assert_eq!(offered[0].to_bring, 0);
    assert!(offered[0].left[0].starts_with("1 of what this job’s round has read already"), "{:?}", offered[0].left);

    // At another temperature they stay out: 23 °C in this round, 20 °C where they were read.
    let round = |parts: &str| RoundForm {
        kind: "final".into(),
        temperatures: TemperaturesForm { parts: parts.into(), ..TemperaturesForm::default() },
        ..RoundForm::default()
    };
    bench.shop.begin_round(&bench.doing(), new, CRANK, &round("23")).await.unwrap();
    read(&bench, new, CRANK, "main-journal-front-0@main.2", "2.7480").await;
    let offered = crank_part(&bench, new).await.read_elsewhere;
    assert!(offered[0].to_bring == 0 && offered[0].left[0].contains("another temperature"), "{:?}", offered[0].left);
    bench.shop.begin_round(&bench.doing(), new, CRANK, &round("20")).await.unwrap();
    bench.shop.bring_readings(&bench.doing(), new, &id, old).await.unwrap();
    let here = slot(&bench, new, CRANK, JOURNAL).await;
    assert_eq!((here.readings.len(), here.readings[0].typed.as_str(), here.stale), (1, "2.7480", false));
    assert_eq!(clearance(&bench, new).await.as_deref(), Some("2.5\u{a0}thou"));

    // What is done to it from now on makes it stale as any other.
    bench.wait(1);
    let ground = ChangeForm { change: "crank-ground".into(), ..ChangeForm::default() };
    bench.shop.note_change(&bench.doing(), new, &ground).await.unwrap();
    assert!(slot(&bench, new, CRANK, JOURNAL).await.stale);
}

/// What was stale on the job it comes from does not come.
#[tokio::test]
async fn what_is_stale_there_stays_there() {
    let bench = Bench::open().await;
    let (old, new) = (bench.inline_four().await, bench.inline_four().await);
    read(&bench, old, CRANK, JOURNAL, "2.7480").await;
    let ground = ChangeForm { change: "crank-ground".into(), ..ChangeForm::default() };
    bench.shop.note_change(&bench.doing(), old, &ground).await.unwrap();
    read(&bench, old, CRANK, "main-journal-rear-0@main.1", "2.7380").await;
    send_away(&bench, "crank", old, new).await;
    let id = crank_part(&bench, new).await.row.public_id;
    bench.shop.move_part(&bench.doing(), new, &id, &fitted(&bench, "")).await.unwrap();
    let offered = crank_part(&bench, new).await.read_elsewhere;
    assert_eq!((offered[0].readings, offered[0].to_bring), (2, 1));
    assert!(offered[0].left[0].starts_with("1 stale: "), "{:?}", offered[0].left);
    bench.shop.bring_readings(&bench.doing(), new, &id, old).await.unwrap();
    assert!(slot(&bench, new, CRANK, JOURNAL).await.readings.is_empty());
    assert_eq!(slot(&bench, new, CRANK, "main-journal-rear-0@main.1").await.readings.len(), 1);
}

/// Ground on the second of three jobs, the crank brings the third nothing of what the first read of its journals.
#[tokio::test]
async fn what_a_job_between_has_changed_does_not_come() {
    let bench = Bench::open().await;
    let (first, second, third) = (bench.inline_four().await, bench.inline_four().await, bench.inline_four().await);
    read(&bench, first, CRANK, JOURNAL, "2.7480").await;
    send_away(&bench, "crank", first, second).await;
    let id = crank_part(&bench, second).await.row.public_id;
    bench.shop.move_part(&bench.doing(), second, &id, &fitted(&bench, "")).await.unwrap();
    bench.shop.bring_readings(&bench.doing(), second, &id, first).await.unwrap();
    let number = slot(&bench, second, CRANK, JOURNAL).await.readings[0].number;
    let ground = ChangeForm { change: "crank-ground".into(), ..ChangeForm::default() };
    bench.shop.note_change(&bench.doing(), second, &ground).await.unwrap();
    send_away(&bench, "crank", second, third).await;
    let id = crank_part(&bench, third).await.row.public_id;
    bench.shop.move_part(&bench.doing(), third, &id, &fitted(&bench, "")).await.unwrap();
    for offered in crank_part(&bench, third).await.read_elsewhere {
        assert!(offered.to_bring == 0 && offered.left[0].starts_with("1 stale: "), "{offered:?}");
    }
    // The grinding was noted by mistake, and what the second had taken in is struck out: what the first read comes.
    bench.shop.withdraw_change(&bench.doing(), second, 1).await.unwrap();
    bench.shop.withdraw_reading(&bench.doing(), second, number).await.unwrap();
    let offered = crank_part(&bench, third).await.read_elsewhere;
    assert_eq!((offered.len(), offered[0].job, offered[0].to_bring), (1, first, 1));
}

/// One rod is one thing: it cannot be fitted at four places at once, and comes to stand where it is fitted.
#[tokio::test]
async fn a_rod_is_read_where_it_is_fitted_now() {
    let bench = Bench::open().await;
    let (old, new) = (bench.inline_four().await, bench.inline_four().await);
    read(&bench, old, SheetKey::Rods, "rod-length@cylinder.0.0", "5.700").await;
    send_away(&bench, "rod", old, new).await;
    let rows = bench.shop.parts(new, bench.now()).await.unwrap().groups.into_iter().flat_map(|(_, rows)| rows);
    let id = rows.into_iter().next().expect("the rod").public_id;
    let fit = MoveForm { item: "rod".into(), ..fitted(&bench, "") };
    let refused = bench.shop.move_part(&bench.doing(), new, &id, &fit).await;
    let Err(Refused::Faults(faults)) = refused else { panic!("{refused:?}") };
    assert_eq!(faults[0].field, "place");
    let fit = MoveForm { place: "cylinder.0.2".into(), ..fit };
    bench.shop.move_part(&bench.doing(), new, &id, &fit).await.unwrap();
    bench.shop.bring_readings(&bench.doing(), new, &id, old).await.unwrap();
    assert_eq!(slot(&bench, new, SheetKey::Rods, "rod-length@cylinder.0.2").await.readings.len(), 1);
    assert!(slot(&bench, new, SheetKey::Rods, "rod-length@cylinder.0.0").await.readings.is_empty());
}
