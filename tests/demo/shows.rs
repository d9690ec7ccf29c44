//! What the demonstration shop is there to show.

use crate::laid_out::{demo, every_job, folder, in_folder, job, now, sheet, shop};
use witnessmark::work::{Audience, ReadingState, SheetKey, Standing, StepState};

#[test]
fn it_is_laid_out_once_and_the_same_each_time() {
    assert_eq!(in_folder(folder()), *demo(), "a second time on the same record");
    let other = tempfile::tempdir().unwrap();
    assert_eq!(in_folder(other.path()), *demo(), "in another empty folder, to the byte of the card");
}

#[tokio::test]
async fn it_is_not_laid_out_among_other_files() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("letter.txt"), "keep this").unwrap();
    let refused = witnessmark::upkeep::demo::open(folder.path(), now()).await.err().unwrap().to_string();
    assert!(refused.contains("name a new folder or an empty one"), "{refused}");
    let names = std::fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name());
    assert_eq!(names.collect::<Vec<_>>(), ["letter.txt"]);
}

#[tokio::test]
async fn five_engines_are_on_the_floor_and_one_has_left() {
    let floor = shop().await.floor("a test", now()).await.unwrap();
    assert_eq!((floor.rows.len(), floor.left), (5, 1));
    let touched: Vec<(&str, &str)> = floor.rows.iter().map(|row| (row.title.as_str(), row.touched.as_str())).collect();
    assert_eq!(touched[0], ("Tamblyn 246 six, panel van", "today 08:37 by Marta Voss"));
    assert!(touched[1..].iter().all(|(_, when)| when.contains("February")), "{touched:?}");
    assert!(floor.rows.iter().all(|row| row.customer.is_some()));
}

#[tokio::test]
async fn the_inline_six_is_nearly_done() {
    let shop = shop().await;
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let view = shop.job(six, now()).await.unwrap();
    let open: Vec<&str> =
        view.steps.iter().filter(|step| !step.state.is_done()).map(|step| step.key.as_str()).collect();
    assert_eq!(open, ["hand-over"]);
    assert!(view.notes.len() > 10 && view.photos.len() > 6);
    assert_eq!((view.tally.out, view.tally.accepted, view.tally.missing, view.undecided), (0, 1, 0, 0));

    let mains = sheet(&shop, six, SheetKey::MainBearings).await;
    let kinds: Vec<(&str, bool)> = mains.rounds.iter().map(|round| (round.kind, round.counts)).collect();
    let counts = [("as received", false), ("back from machining", false), ("trial", false), ("final", true)];
    assert_eq!(kinds, counts);
    assert!(mains.rounds.iter().all(|round| !round.condition.is_empty()));
    let crank = sheet(&shop, six, SheetKey::Crankshaft).await;
    let slots: Vec<_> = mains.places.iter().chain(&crank.places).flat_map(|place| &place.slots).collect();
    let corrected = slots.iter().flat_map(|slot| &slot.struck).find(|r| r.state == ReadingState::Corrected).unwrap();
    assert_eq!(corrected.typed, "2.4987");
    let correction = slots.iter().flat_map(|slot| &slot.readings).find(|r| !r.why.is_empty()).unwrap();
    assert!(correction.why.contains("digits exchanged"));
    assert!(slots.iter().any(|slot| slot.readings.iter().any(|r| r.take == 2)), "no reading was repeated");
    let routes = |place: &str| {
        let place = mains.places.iter().find(|p| p.key == place).unwrap();
        place
            .slots
            .iter()
            .filter(|slot| !slot.readings.is_empty())
            .map(|slot| slot.group)
            .collect::<std::collections::BTreeSet<_>>()
            .len()
    };
    assert_eq!(routes("main.5"), 4, "all four routes");

    let bores = sheet(&shop, six, SheetKey::CylinderBores).await;
    assert_eq!(bores.rounds.iter().find(|round| round.counts).unwrap().kind, "back from machining");

    let card = shop.card(six, now()).await.unwrap();
    let issued: Vec<Audience> = card.issues.iter().map(|issue| issue.audience).collect();
    assert_eq!(issued, [Audience::Owner, Audience::Shop]);
    assert!(!card.changed_since);
    let kept = demo().card.as_ref().unwrap();
    assert_eq!((kept.job, kept.number), (six, 1));
    assert!(kept.bytes.starts_with(b"%PDF-"));
}

#[tokio::test]
async fn the_vee_eight_waits() {
    let shop = shop().await;
    let eight = job(&shop, "Callow").await;
    let floor = shop.floor("a test", now()).await.unwrap();
    let row = floor.rows.iter().find(|row| row.job == eight).unwrap();
    let (step, stopped_at) = &row.stopped[0];
    assert_eq!((step.key.as_str(), stopped_at.as_str()), ("main-line", "main cap 3, second torque step"));
    assert_eq!((row.undecided, row.tally.out, row.tally.accepted), (1, 1, 0));
    let view = shop.job(eight, now()).await.unwrap();
    assert!(view.steps.iter().any(|step| matches!(step.state, StepState::Elsewhere(_))));
    assert!(view.steps.iter().any(|step| step.key == "parts" && step.state == StepState::Begun));
    let bores = sheet(&shop, eight, SheetKey::CylinderBores).await;
    let stands_in =
        bores.places.iter().flat_map(|place| &place.findings).filter(|f| f.basis.contains("target stands in"));
    assert!(stands_in.count() > 0);
}

#[tokio::test]
async fn the_vintage_four_was_here_before() {
    let shop = shop().await;
    let refresh = job(&shop, "Wherry").await;
    let head = shop.job(refresh, now()).await.unwrap().head;
    assert_eq!((head.kind, head.unit.key()), ("refresh", "millimetre"));
    let before = shop.job(1, now()).await.unwrap();
    assert!(before.head.closed && before.steps.iter().all(|step| step.state.is_done()));
    assert_eq!(before.head.customer, head.customer);
    let mains = sheet(&shop, refresh, SheetKey::MainBearings).await;
    let standings: Vec<Standing> = mains
        .places
        .iter()
        .flat_map(|place| &place.findings)
        .filter(|f| f.key.feature.text() == "main-clearance-vertical")
        .map(|f| f.standing)
        .collect();
    assert_eq!(standings, [Standing::Good, Standing::Checked, Standing::Good]);
}

#[tokio::test]
async fn families_are_kept_and_one_is_started_from() {
    let shop = shop().await;
    let families = shop.families().await.unwrap();
    assert_eq!(families.len(), 2);
    assert!(families.iter().all(|family| !family.note.is_empty() && family.limits > 0));
    let rung = job(&shop, "Tamblyn 246 six, panel van").await;
    assert_eq!(shop.limits(rung, now()).await.unwrap().limits.len(), 11);
    assert_eq!(shop.job(rung, now()).await.unwrap().head.engine, "inline 6, 7 mains");
}

#[tokio::test]
async fn nobody_is_kept_twice_and_the_gauges_are_known() {
    let shop = shop().await;
    assert_eq!(shop.hands().await.unwrap().len(), 3);
    assert_eq!(shop.gauges(now()).await.unwrap().len(), 8, "no gauge was made up on the way");
    let mut look = shop.record().look().await.unwrap();
    let people = witnessmark::record::people::all(&mut look).await.unwrap();
    let names: std::collections::BTreeSet<&str> = people.iter().map(|person| person.name.as_str()).collect();
    assert_eq!(names.len(), people.len(), "{people:?}");
    assert_eq!(every_job().count(), 6);
}

#[tokio::test]
async fn a_micrometer_was_studied_by_two_people() {
    let shop = shop().await;
    let gauge =
        shop.gauges(now()).await.unwrap().into_iter().find(|gauge| gauge.name == "Micrometer, 2 to 3 in").unwrap();
    let studies = shop.studies(&gauge.id, now()).await.unwrap().studies;
    let study = shop.study(&studies[0].id, now()).await.unwrap();
    assert!(study.is_complete() && study.corrected.is_empty(), "{:?}", study.spots);
    assert_eq!((study.people.len(), study.parts, study.trials), (2, 5, 2));
    assert_eq!(study.results.unwrap().trials, 2);
}

#[tokio::test]
async fn the_sixs_short_block_is_read_and_its_fasteners_are_on_the_shops_card() {
    let shop = shop().await;
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let step = shop.step(six, "short-block", now()).await.unwrap();
    let said: Vec<&str> = step.tightened.iter().map(|one| one.fasteners.as_str()).collect();
    assert_eq!(said, ["main caps, 14 bolts", "rod bolts, 12"]);
    assert!(
        step.tightened[0].to.contains("in 3 steps: 30\u{a0}lbf·ft, 60\u{a0}lbf·ft, 80"),
        "{}",
        step.tightened[0].to
    );
    assert_eq!(step.tightened[1].exceptions.len(), 1);
    for key in [SheetKey::Crankshaft, SheetKey::RodBearings, SheetKey::Rings] {
        let view = sheet(&shop, six, key).await;
        assert!(view.places.iter().flat_map(|place| &place.findings).any(|f| f.standing.is_found()), "{}", view.title);
    }
    let card = shop.card(six, now()).await.unwrap();
    let line = card.lines.iter().find(|line| line.key == "tightened").expect("a line");
    assert_eq!((line.value.as_str(), line.audience), ("2 sets", Audience::Shop));
}

#[tokio::test]
async fn its_money_stands_as_the_office_left_it() {
    let shop = shop().await;
    let money = shop.money(now()).await.unwrap();
    let awaited: Vec<&str> = money.awaited.iter().map(|row| row.what.as_str()).collect();
    assert_eq!(awaited.len(), 3, "{awaited:?}");
    assert!(awaited[0].starts_with("a deposit of 1\u{a0}000.00"), "{awaited:?}");
    assert!(awaited.iter().any(|what| what.contains("inserts in main 3")), "{awaited:?}");
    assert!(money.to_settle.is_empty(), "{:?}", money.to_settle);
    assert_eq!(money.cores.len(), 1, "the water pump's");
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let charges = shop.charges(six, now()).await.unwrap();
    assert_eq!((charges.invoices.len(), charges.waiting.len(), charges.payments.len()), (1, 0, 2));
    assert_eq!(charges.not_agreed, None, "{:?}", charges.lines);
    // The first job was settled when it left.
    let settled = shop.settle_view(1, "", now()).await.unwrap();
    assert!(settled.open.is_empty() && !settled.is_to_settle(), "{:?}", settled.open);
    let family = shop.families().await.unwrap().into_iter().find(|family| family.name == "Wherry light four").unwrap();
    let hours = shop.family_hours(&family.id).await.unwrap();
    assert_eq!(hours.steps.iter().map(|step| step.title.as_str()).next(), Some("The job as a whole"));
    assert_eq!(hours.steps.len(), 5);
}
