//! Readings: taken, repeated, corrected, rivals, moved, asked about.

use crate::setting::Bench;
use witnessmark::work::{
    Condition, Corrected, NewCorrection, NewEntry, ReadingState, Refused, RoundForm, SettingForm, SheetKey, SlotKey,
    Standing, TemperaturesForm, Took,
};

const VERTICAL: &str = "main-clearance-vertical@main.1";

async fn slot(bench: &Bench, job: i64, key: &str) -> witnessmark::work::SlotView {
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let key = SlotKey::parse(key);
    view.places.into_iter().flat_map(|place| place.slots).find(|slot| slot.key == key).unwrap()
}

#[tokio::test]
async fn a_reading_is_kept_as_typed_and_its_finding_follows() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let took = bench.take(job, VERTICAL, "2.5 thou", None).await;
    let next = SlotKey::parse("main-clearance-parting@main.1");
    assert_eq!(took, Took::Kept { number: 1, next: Some(next) });
    let kept = slot(&bench, job, VERTICAL).await;
    assert_eq!(kept.readings[0].typed, "2.5 thou");
    assert_eq!(kept.readings[0].shown, "2.5\u{a0}thou");
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let main_two = view.places.iter().find(|place| place.key == "main.1").unwrap();
    assert_eq!(main_two.label, "main 2");
    assert_eq!(main_two.findings[0].value.as_deref(), Some("2.5\u{a0}thou"));
    assert_eq!(main_two.findings[0].standing, Standing::Figure, "no limit, no verdict");
    assert!(view.settings[0].contains("zeroed on micrometer set to the journal of main 2"), "{:?}", view.settings);
}

#[tokio::test]
async fn the_same_post_sent_twice_is_one_reading() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let entry = NewEntry {
        sheet: SheetKey::MainBearings,
        slot: SlotKey::parse(VERTICAL),
        text: ".0025".into(),
        checked: false,
        saw: None,
        as_read: false,
        gauge: None,
    };
    let doing = bench.doing();
    let first = bench.shop.take(&doing, job, &entry).await.unwrap();
    let second = bench.shop.take(&doing, job, &entry).await.unwrap();
    assert_eq!(first, second);
    assert_eq!(slot(&bench, job, VERTICAL).await.readings.len(), 1);
}

#[tokio::test]
async fn all_in_one_figure_but_for_those_named_is_one_act() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let took = bench.take(job, "main-clearance@mains", "2.7 except 3: 2.5; main 5: 2.6", None).await;
    assert!(matches!(took, Took::Kept { number: 1, .. }), "{took:?}");
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let clearances: Vec<_> = view
        .places
        .iter()
        .filter(|place| place.key.starts_with("main."))
        .map(|place| place.findings[0].value.clone().unwrap_or_default())
        .collect();
    assert_eq!(clearances, ["2.7\u{a0}thou", "2.7\u{a0}thou", "2.5\u{a0}thou", "2.7\u{a0}thou", "2.6\u{a0}thou"]);
    assert_eq!(slot(&bench, job, "main-clearance@main.2").await.readings[0].typed, "2.5");

    // Undone as it was said: at once.
    bench.shop.withdraw_reading(&bench.doing(), job, 1).await.unwrap();
    assert!(slot(&bench, job, "main-clearance@main.2").await.readings.is_empty());
    assert!(slot(&bench, job, "main-clearance@main.4").await.readings.is_empty());
}

#[tokio::test]
async fn an_exception_to_what_another_has_read_is_its_rival() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance@main.2", "2.4", None).await;
    let took = bench.take(job, "main-clearance@mains", "2.7 except 3: 2.5", None).await;
    assert_eq!(took, Took::Rival { number: 2 });
    assert_eq!(slot(&bench, job, "main-clearance@main.2").await.rivals.len(), 2);
    assert!(slot(&bench, job, "main-clearance@mains").await.rivals.is_empty());
}

#[tokio::test]
async fn two_tablets_on_one_slot_leave_it_undecided_until_someone_chooses() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    assert_eq!(bench.take(job, VERTICAL, "2.9 thou", None).await, Took::Rival { number: 2 });
    let undecided = slot(&bench, job, VERTICAL).await;
    assert_eq!(undecided.rivals.len(), 2);
    assert_eq!(bench.shop.floor("tablet", bench.now()).await.unwrap().rows[0].undecided, 1);

    bench.shop.choose(&bench.doing(), job, 2).await.unwrap();
    let decided = slot(&bench, job, VERTICAL).await;
    assert!(decided.rivals.is_empty());
    assert_eq!(decided.readings[0].typed, "2.9 thou");
    assert_eq!(decided.struck[0].state, ReadingState::SetAside);
    let again = bench.shop.choose(&bench.doing(), job, 1).await;
    assert!(matches!(again, Err(Refused::Conflict { .. })), "{again:?}");
}

#[tokio::test]
async fn a_repeat_having_seen_the_first_raises_the_take_and_the_mean_counts() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.4 thou", None).await;
    bench.take(job, VERTICAL, "2.6 thou", Some(1)).await;
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let finding = &view.places.iter().find(|place| place.key == "main.1").unwrap().findings[0];
    assert_eq!(finding.value.as_deref(), Some("2.5\u{a0}thou"));
    assert_eq!(slot(&bench, job, VERTICAL).await.readings[1].take, 2);
}

#[tokio::test]
async fn a_correction_strikes_the_old_reading_and_says_why() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    let no_reason = NewCorrection { text: "2.7 thou".into(), why: " ".into(), as_read: false };
    assert!(matches!(bench.shop.correct(&bench.doing(), job, 1, &no_reason).await, Err(Refused::Faults(_))));
    let correction = NewCorrection { text: "2.7 thou".into(), why: "dial misread".into(), as_read: false };
    bench.shop.correct(&bench.doing(), job, 1, &correction).await.unwrap();
    let corrected = slot(&bench, job, VERTICAL).await;
    assert_eq!(corrected.readings.len(), 1);
    assert_eq!(corrected.readings[0].typed, "2.7 thou");
    assert_eq!((corrected.struck[0].typed.as_str(), corrected.struck[0].state), ("2.5 thou", ReadingState::Corrected));
    assert_eq!(corrected.readings[0].why, "dial misread");
    let twice = bench.shop.correct(&bench.doing(), job, 1, &correction).await;
    assert!(matches!(twice, Err(Refused::Conflict { .. })), "{twice:?}");
}

#[tokio::test]
async fn a_new_round_leaves_the_old_one_and_the_builder_says_which_counts() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    let form = RoundForm {
        kind: "trial".into(),
        condition: Condition { torque: "70 lbf·ft".into(), ..Condition::default() },
        temperatures: TemperaturesForm { parts: "70 F".into(), gauge: String::new() },
    };
    bench.shop.begin_round(&bench.doing(), job, SheetKey::MainBearings, &form).await.unwrap();
    assert!(slot(&bench, job, VERTICAL).await.readings.is_empty());
    let old = bench.shop.sheet(job, SheetKey::MainBearings, Some(1), bench.now()).await.unwrap();
    assert_eq!(old.rounds.len(), 2);
    assert!(old.rounds[1].condition.contains("torque: 70 lbf·ft; parts 21.1"), "{}", old.rounds[1].condition);
    bench.shop.let_round_count(&bench.doing(), job, SheetKey::MainBearings, 1).await.unwrap();
    assert_eq!(slot(&bench, job, VERTICAL).await.readings.len(), 1);
}

#[tokio::test]
async fn a_reading_on_the_wrong_job_is_moved_and_traced() {
    let bench = Bench::open().await;
    let (wrong, right) = (bench.inline_four().await, bench.inline_four().await);
    bench.take(wrong, VERTICAL, "2.5 thou", None).await;
    bench.shop.move_reading(&bench.doing(), wrong, 1, right, "wrong tablet").await.unwrap();
    let left = slot(&bench, wrong, VERTICAL).await;
    assert!(left.readings.is_empty());
    assert_eq!(left.struck[0].state, ReadingState::Moved);
    let there = slot(&bench, right, VERTICAL).await;
    assert_eq!((there.readings[0].typed.as_str(), there.readings[0].why.as_str()), ("2.5 thou", "wrong tablet"));
    let nowhere = bench.shop.move_reading(&bench.doing(), right, 1, 99, "x").await;
    assert!(matches!(nowhere, Err(Refused::Faults(_))), "{nowhere:?}");
}

#[tokio::test]
async fn the_odd_is_asked_about_and_the_impossible_refused() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let entry = |place: u8, text: &str| NewEntry {
        sheet: SheetKey::MainBearings,
        slot: SlotKey::parse(&format!("main-clearance-vertical@main.{place}")),
        text: text.into(),
        checked: false,
        saw: None,
        as_read: false,
        gauge: None,
    };
    for place in 0..3 {
        let took = bench.shop.take(&bench.doing(), job, &entry(place, "2.5 thou")).await.unwrap();
        assert!(matches!(took, Took::Kept { .. }), "{took:?}");
    }
    let took = bench.shop.take(&bench.doing(), job, &entry(3, "25 thou")).await.unwrap();
    let Took::Odd { question } = took else { panic!("{took:?}") };
    assert!(question.contains("main 4") && question.contains("25.0"), "{question}");
    for text in ["", "abc", "NaN", "-2 thou", "4.3775 in", "2.5 psi", "1e999", "2.5-2.8 thou"] {
        let refused = bench.shop.take(&bench.doing(), job, &entry(3, text)).await;
        assert!(matches!(&refused, Err(Refused::Faults(faults)) if faults[0].field == "value"), "{text}: {refused:?}");
    }
}

/// A value kept as read is not asked about again: not when it is repeated, nor when another is corrected to it.
#[tokio::test]
async fn the_same_value_is_never_asked_about_twice() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    for main in ["main.0", "main.2", "main.3"] {
        bench.take(job, &format!("main-clearance-vertical@{main}"), "2.5 thou", None).await;
    }
    let entry = |text: &str, saw: Option<i64>, as_read: bool| NewEntry {
        sheet: SheetKey::MainBearings,
        slot: SlotKey::parse(VERTICAL),
        text: text.into(),
        checked: false,
        saw,
        as_read,
        gauge: None,
    };
    let take = async |entry: NewEntry| bench.shop.take(&bench.doing(), job, &entry).await.unwrap();
    let Took::Odd { question } = take(entry("5.2", None, false)).await else { panic!("twice the others") };
    assert!(question.contains("two digits exchanged"), "{question}");
    assert!(matches!(take(entry("5.2", None, true)).await, Took::Kept { number: 4, .. }));
    assert!(matches!(take(entry("5.2 thou", Some(4), false)).await, Took::Kept { number: 5, .. }), "asked about again");
    assert!(slot(&bench, job, VERTICAL).await.readings.iter().all(|reading| reading.as_read), "odd all the same");
    assert!(matches!(take(entry("5.3", Some(5), false)).await, Took::Odd { .. }), "another value");

    let correction = |text: &str| NewCorrection { text: text.into(), why: "dial misread".into(), as_read: false };
    let odd = bench.shop.correct(&bench.doing(), job, 5, &correction("25")).await.unwrap();
    assert!(matches!(odd, Corrected::Odd { .. }), "{odd:?}");
    let same = bench.shop.correct(&bench.doing(), job, 5, &correction(".0052")).await.unwrap();
    assert_eq!(same, Corrected::Kept);
}

#[tokio::test]
async fn all_mains_at_once_by_a_range() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance@mains", "2.5–2.8 thou, all five", None).await;
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let stated = view.places.iter().filter(|place| place.key.starts_with("main."));
    assert!(stated.clone().count() == 5);
    for place in stated {
        assert_eq!(place.findings[0].range.as_deref(), Some("2.5 to 2.8\u{a0}thou"), "{}", place.label);
    }
}

/// Bores that a plug gauge passed have no figure: no clearance follows, and none is missing for it.
#[tokio::test]
async fn bores_checked_good_leave_no_clearance_missing() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let missing = async || bench.shop.job(job, bench.now()).await.unwrap().tally.missing;
    assert_eq!(missing().await, 0, "of sheets that nobody took up nothing is missing");
    let (sheet, slot, text) = (SheetKey::CylinderBores, SlotKey::parse("bore@cylinders"), "plug gauge passes".into());
    let entry = NewEntry { sheet, slot, text, checked: true, saw: None, as_read: false, gauge: None };
    bench.shop.take(&bench.doing(), job, &entry).await.unwrap();
    assert_eq!(missing().await, 0, "neither bores nor clearances");
    let view = bench.shop.sheet(job, SheetKey::CylinderBores, None, bench.now()).await.unwrap();
    let clearance = view.places[1].findings.iter().find(|f| f.key.feature.text() == "piston-clearance").unwrap();
    assert_eq!(
        (clearance.word.as_str(), clearance.basis.as_str()),
        ("no figure", "no figure: bores were checked good")
    );
    assert!(!clearance.is_open() && clearance.value.is_none());
}

async fn typed(bench: &Bench, job: i64, text: &str, gauge: Option<String>) -> Result<Took, Refused> {
    let (sheet, slot) = (SheetKey::CylinderBores, SlotKey::parse("bore-top-thrust@cylinder.0.0"));
    let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw: None, as_read: true, gauge };
    bench.shop.take(&bench.doing(), job, &entry).await
}

async fn bore(bench: &Bench, job: i64) -> witnessmark::work::SlotView {
    let view = bench.shop.sheet(job, SheetKey::CylinderBores, None, bench.now()).await.unwrap();
    view.places[1].slots[1].clone()
}

#[tokio::test]
async fn a_deviation_is_added_to_what_the_gauge_was_set_to() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let gauge = bench.bore_gauge("Two-inch dial", "tenth").await;
    assert_eq!(bore(&bench, job).await.plus_two, None, "nothing it could be added to");
    assert!(typed(&bench, job, "+2", None).await.is_err());
    let setting =
        SettingForm { gauge, zeroed_on: "ring 4.0000".into(), set_to: "4.0000".into(), ..SettingForm::default() };
    bench.shop.set_gauge(&bench.doing(), job, &setting).await.unwrap();
    let set = bore(&bench, job).await;
    assert_eq!((set.plus_two.as_deref(), set.zeroed_on.as_deref()), (Some("2\u{a0}tenths"), Some("ring 4.0000")));
    assert_eq!(set.plus_from.as_deref(), Some("over 4.0000\u{a0}in, what the gauge was set to"));
    typed(&bench, job, "+2", None).await.unwrap();
    assert_eq!(bore(&bench, job).await.readings[0].shown, "4.0002\u{a0}in");
}

#[tokio::test]
async fn a_bare_deviation_is_read_by_the_gauge_that_took_it() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let coarse = bench.bore_gauge("Coarse", "thou").await;
    let fine = bench.bore_gauge("Fine", "tenth").await;
    for gauge in [&fine, &coarse] {
        let setting = SettingForm {
            gauge: gauge.clone(),
            zeroed_on: "ring".into(),
            set_to: "4.0000".into(),
            ..SettingForm::default()
        };
        bench.shop.set_gauge(&bench.doing(), job, &setting).await.unwrap();
    }
    assert_eq!(bore(&bench, job).await.gauge, "Coarse", "the one last set");
    typed(&bench, job, "+2", Some(fine)).await.unwrap();
    assert_eq!(bore(&bench, job).await.readings[0].shown, "4.0002\u{a0}in");
    assert_eq!(bore(&bench, job).await.gauge, "Fine", "the one last used");
}

/// The gauge was zeroed anew since, and it is another that was used last.
#[tokio::test]
async fn a_correction_is_read_by_the_gauge_and_setting_of_the_reading_it_corrects() {
    let bench = Bench::open().await;
    let (job, other) = (bench.inline_four().await, bench.inline_four().await);
    let fine = bench.bore_gauge("Fine", "tenth").await;
    let coarse = bench.bore_gauge("Coarse", "thou").await;
    let set = async |gauge: &str, set_to: &str| {
        let setting = SettingForm {
            gauge: gauge.into(),
            zeroed_on: "ring".into(),
            set_to: set_to.into(),
            ..SettingForm::default()
        };
        bench.shop.set_gauge(&bench.doing(), job, &setting).await.unwrap();
    };
    set(&fine, "4.0000").await;
    typed(&bench, job, "+2", Some(fine.clone())).await.unwrap();
    set(&fine, "4.0300").await;
    set(&coarse, "4.0600").await;
    let correction = NewCorrection { text: "+3".into(), why: "dial misread".into(), as_read: false };
    bench.shop.correct(&bench.doing(), job, 1, &correction).await.unwrap();
    assert_eq!(bore(&bench, job).await.readings[0].shown, "4.0003\u{a0}in");
    bench.shop.move_reading(&bench.doing(), job, 2, other, "wrong tablet").await.unwrap();
    let correction = NewCorrection { text: "+4".into(), why: "dial misread again".into(), as_read: false };
    bench.shop.correct(&bench.doing(), other, 1, &correction).await.unwrap();
    assert_eq!(bore(&bench, other).await.readings[0].shown, "4.0004\u{a0}in");
}

#[tokio::test]
async fn a_gauge_zeroed_at_a_journal_for_a_clearance_keeps_its_setting_for_sizes() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let gauge = bench.bore_gauge("Two-inch dial", "tenth").await;
    let setting =
        SettingForm { gauge, zeroed_on: "ring 4.0000".into(), set_to: "4.0000".into(), ..SettingForm::default() };
    bench.shop.set_gauge(&bench.doing(), job, &setting).await.unwrap();
    assert_eq!(slot(&bench, job, VERTICAL).await.zeroed_on, None, "not yet zeroed at this main");
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    let at_main = slot(&bench, job, VERTICAL).await.zeroed_on;
    assert_eq!(at_main.as_deref(), Some("micrometer set to the journal of main 2"));
    assert_eq!(bore(&bench, job).await.zeroed_on.as_deref(), Some("ring 4.0000"));
    typed(&bench, job, "+2", None).await.unwrap();
    assert_eq!(bore(&bench, job).await.readings[0].shown, "4.0002\u{a0}in");
}

#[tokio::test]
async fn a_gauge_named_by_its_first_reading_keeps_what_plus_two_meant() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let before = slot(&bench, job, VERTICAL).await.plus_two;
    bench.take(job, VERTICAL, "+2", None).await;
    let after = slot(&bench, job, VERTICAL).await;
    assert_eq!((&before, before.as_deref()), (&after.plus_two, Some("2\u{a0}thou")));
    assert_eq!(after.readings[0].shown, "2.0\u{a0}thou");
}

#[tokio::test]
async fn rounds_stand_side_by_side() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    let trial = RoundForm { kind: "trial".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, SheetKey::MainBearings, &trial).await.unwrap();
    bench.take(job, VERTICAL, "2.7 thou", None).await;
    let view = bench.shop.sheet(job, SheetKey::MainBearings, None, bench.now()).await.unwrap();
    let [clearance] = &view.compared[..] else { panic!("{:?}", view.compared) };
    let figures: Vec<_> = clearance.places[1].figures.iter().flatten().map(|(figure, _)| figure.as_str()).collect();
    assert_eq!((clearance.unit, clearance.places[1].label.as_str(), figures), ("thou", "main 2", vec!["2.5", "2.7"]));
    assert!(clearance.places[0].figures.iter().all(Option::is_none));
}

#[tokio::test]
async fn one_readings_page_shows_what_became_of_it() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, VERTICAL, "2.5 thou", None).await;
    let correction = NewCorrection { text: "2.7 thou".into(), why: "dial misread".into(), as_read: false };
    bench.shop.correct(&bench.doing(), job, 1, &correction).await.unwrap();
    let page = bench.shop.reading(job, 2, bench.now()).await.unwrap();
    assert_eq!(
        (page.whereabouts.as_str(), page.round.as_str()),
        ("main 2, clearance, vertical", "as received, round 1")
    );
    assert_eq!((page.reading.corrects, page.others[0].number), (Some(1), 1));
    assert!(matches!(bench.shop.reading(job, 3, bench.now()).await, Err(Refused::NotFound)));
}

/// A dial over the pistons is set on the deck, not on a journal, and that setting is of no bore.
#[tokio::test]
async fn a_dial_set_on_the_deck_says_so() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let (sheet, place) = (SheetKey::Compression, SlotKey::parse("deck-clearance-front@cylinder.0.2"));
    let entry = NewEntry {
        sheet,
        slot: place.clone(),
        text: "-2 thou".into(),
        checked: false,
        saw: None,
        as_read: true,
        gauge: None,
    };
    assert!(matches!(bench.shop.take(&bench.doing(), job, &entry).await, Ok(Took::Kept { .. })));
    let view = bench.shop.sheet(job, sheet, None, bench.now()).await.unwrap();
    let slot = view.places.iter().flat_map(|at| &at.slots).find(|slot| slot.key == place).unwrap();
    assert_eq!(slot.zeroed_on.as_deref(), Some("the deck at cylinder 3"));
    assert_eq!(slot.readings[0].shown, "−2.0\u{a0}thou");
}
