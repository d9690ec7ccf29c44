//! Steps: begun, stopped, signed, changed since signed, reopened; calls on findings.

use crate::setting::Bench;
use witnessmark::work::{
    FindingKey, JobForm, LimitForm, NewCall, NewCorrection, NewJob, Refused, RoundForm, SheetKey, Standing, StepState,
};

const CLEARANCE: &str = "main-clearance-vertical@main.1";

async fn with_limit(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    let limit = LimitForm {
        feature: "main-clearance-vertical".into(),
        least: "2.0".into(),
        most: "2.6".into(),
        source: "bearing maker".into(),
        reason: "first set".into(),
        ..LimitForm::default()
    };
    bench.shop.set_limit(&bench.doing(), job, &limit).await.unwrap();
    job
}

#[tokio::test]
async fn a_job_opens_with_the_default_steps_and_only_the_first_can_begin() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let view = bench.shop.job(job, bench.now()).await.unwrap();
    assert_eq!(view.steps.len(), 18);
    let ready: Vec<_> = view.steps.iter().filter(|step| step.waits_for.is_empty()).map(|step| &step.key).collect();
    assert_eq!(ready, ["check-in"]);
}

#[tokio::test]
async fn an_engine_that_comes_back_is_still_its_owners_and_worked_in_its_unit() {
    let bench = Bench::open().await;
    let first = NewJob {
        name: "R. Quill".into(),
        phone: "555 0101".into(),
        title: "Twin".into(),
        layout: "inline".into(),
        cylinders: "2".into(),
        mains: "3".into(),
        unit: "millimetre".into(),
        ..NewJob::default()
    };
    let first = bench.shop.open_job(&bench.doing(), &first).await.unwrap();
    let back = NewJob { title: "Twin again".into(), engine_of: first.to_string(), ..NewJob::default() };
    let named = NewJob { name: "R. Quill".into(), phone: "555 0101".into(), ..back.clone() };
    for again in [back, named] {
        let job = bench.shop.open_job(&bench.doing(), &again).await.unwrap();
        let head = bench.shop.job(job, bench.now()).await.unwrap().head;
        assert_eq!((head.unit.key(), head.customer.as_deref()), ("millimetre", Some("R. Quill")));
    }
    let mut look = bench.shop.record().look().await.unwrap();
    let people = witnessmark::record::people::all(&mut look).await.unwrap();
    assert_eq!(people.iter().filter(|person| !person.works_here).count(), 1, "kept once");
}

#[tokio::test]
async fn what_is_out_is_listed_until_somebody_makes_the_call() {
    let bench = Bench::open().await;
    let job = with_limit(&bench).await;
    bench.take(job, CLEARANCE, "3.3 thou", None).await;
    let open = |view: witnessmark::work::StepView| view.open.into_iter().find(|f| f.standing == Standing::Out);
    let view = bench.shop.step(job, "bearings", bench.now()).await.unwrap();
    assert!(open(view).unwrap().needs_call());

    let call = NewCall { because: "oil pump is larger".into(), for_owner: "Main 2 runs wide by choice.".into() };
    let key = FindingKey::parse(CLEARANCE);
    bench.shop.accept(&bench.doing(), job, &key, &call).await.unwrap();
    let accepted = open(bench.shop.step(job, "bearings", bench.now()).await.unwrap()).unwrap();
    assert!(!accepted.needs_call());
    assert_eq!(accepted.call.unwrap().because, "oil pump is larger");

    bench.take(job, CLEARANCE, "3.5 thou", Some(1)).await;
    let changed = open(bench.shop.step(job, "bearings", bench.now()).await.unwrap()).unwrap();
    assert!(changed.call.as_ref().unwrap().changed_since && changed.needs_call());
}

#[tokio::test]
async fn a_signed_step_says_when_its_findings_change_and_is_reopened_with_a_reason() {
    let bench = Bench::open().await;
    let job = with_limit(&bench).await;
    bench.take(job, CLEARANCE, "2.5 thou", None).await;
    bench.shop.sign_step(&bench.doing(), job, "bearings", None, "").await.unwrap();
    let signed = bench.shop.step(job, "bearings", bench.now()).await.unwrap().row.signed.unwrap();
    assert_eq!((signed.by.as_str(), signed.changed), ("Ada Pell", None));
    let again = bench.shop.sign_step(&bench.doing(), job, "bearings", None, "").await;
    assert!(matches!(again, Err(Refused::Conflict { .. })), "{again:?}");

    bench.take(job, CLEARANCE, "2.6 thou", Some(1)).await;
    let signed = bench.shop.step(job, "bearings", bench.now()).await.unwrap().row.signed.unwrap();
    assert_eq!(signed.changed.as_deref(), Some("readings changed"));

    let silent = bench.shop.reopen_step(&bench.doing(), job, "bearings", None, " ").await;
    assert!(matches!(silent, Err(Refused::Faults(_))), "{silent:?}");
    bench.shop.reopen_step(&bench.doing(), job, "bearings", None, "second reading differs").await.unwrap();
    let view = bench.shop.step(job, "bearings", bench.now()).await.unwrap();
    assert_eq!(view.row.state, StepState::Begun);
    assert_eq!(view.signed_before[0].reopened.as_deref(), Some("second reading differs"));
}

#[tokio::test]
async fn a_signed_step_says_what_it_rests_on_that_is_different_now() {
    let bench = Bench::open().await;
    let job = with_limit(&bench).await;
    bench.take(job, CLEARANCE, "2.5 thou", None).await;
    bench.shop.sign_step(&bench.doing(), job, "bearings", None, "").await.unwrap();
    let changed = async || {
        let view = bench.shop.job(job, bench.now()).await.unwrap();
        view.steps.into_iter().find(|step| step.key == "bearings").unwrap().signed.unwrap().changed
    };
    let changes = async |form: fn(&mut JobForm)| {
        let mut changed = bench.shop.job_form(job, bench.now()).await.unwrap().form;
        form(&mut changed);
        bench.shop.change_job(&bench.doing(), job, &changed).await.unwrap();
    };
    bench.shop.add_note(&bench.doing(), job, Some("bearings"), "caps numbered").await.unwrap();
    bench.take(job, "bore-top-thrust@cylinder.0.0", "4.0002", None).await;
    assert_eq!(changed().await, None, "nothing that this step rests on");

    changes(|form| form.unit = "millimetre".into()).await;
    assert_eq!(changed().await.as_deref(), Some("the same figures, worded otherwise"));
    changes(|form| form.unit = "inch".into()).await;
    assert_eq!(changed().await, None, "as it was");

    changes(|form| form.rule = "guarded".into()).await;
    assert_eq!(changed().await.as_deref(), Some("decision rule changed"));
    changes(|form| form.rule = "simple".into()).await;

    let limit = LimitForm {
        feature: "main-clearance-vertical".into(),
        least: "2.2".into(),
        most: "2.6".into(),
        source: "bearing maker".into(),
        reason: "for the street".into(),
        ..LimitForm::default()
    };
    bench.shop.set_limit(&bench.doing(), job, &limit).await.unwrap();
    assert_eq!(changed().await.as_deref(), Some("limits changed"));

    let round = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, SheetKey::MainBearings, &round).await.unwrap();
    assert_eq!(changed().await.as_deref(), Some("round 2 (final) counts now; limits changed"));
    bench.take(job, CLEARANCE, "2.4 thou", None).await;
    assert_eq!(changed().await.as_deref(), Some("round 2 (final) counts now; limits changed"));

    bench.shop.let_round_count(&bench.doing(), job, SheetKey::MainBearings, 1).await.unwrap();
    let correction = NewCorrection { text: "2.55 thou".into(), why: "dial misread".into(), as_read: false };
    bench.shop.correct(&bench.doing(), job, 1, &correction).await.unwrap();
    assert_eq!(changed().await.as_deref(), Some("readings changed; limits changed"));
}

#[tokio::test]
async fn stopped_here_stands_on_the_floor_until_resumed() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.shop.stop_here(&bench.doing(), job, "check-in", "crate half unpacked").await.unwrap();
    let floor = bench.shop.floor("tablet", bench.now()).await.unwrap();
    let (step, stopped_at) = &floor.rows[0].stopped[0];
    assert_eq!((&*step.key, &**stopped_at), ("check-in", "crate half unpacked"));
    assert_eq!(floor.carry_on, Some(job));
    let mark = bench.shop.step(job, "check-in", bench.now()).await.unwrap().stopped[0].0;
    bench.shop.resume(&bench.doing(), job, mark).await.unwrap();
    assert!(bench.shop.floor("tablet", bench.now()).await.unwrap().rows[0].stopped.is_empty());
}

#[tokio::test]
async fn what_does_not_stand_on_the_job_cannot_be_taken_back() {
    let bench = Bench::open().await;
    let (job, other) = (with_limit(&bench).await, with_limit(&bench).await);
    bench.take(job, CLEARANCE, "3.3 thou", None).await;
    let call = NewCall { because: "oil pump is larger".into(), ..NewCall::default() };
    bench.shop.accept(&bench.doing(), job, &FindingKey::parse(CLEARANCE), &call).await.unwrap();
    bench.shop.add_note(&bench.doing(), job, None, "a note").await.unwrap();
    let photo = witnessmark::work::Photo { name: "cap.png".into(), bytes: picture() };
    bench.shop.add_photos(&bench.doing(), job, None, vec![photo], "").await.unwrap();
    bench.shop.stop_here(&bench.doing(), job, "check-in", "half unpacked").await.unwrap();
    let view = bench.shop.job(job, bench.now()).await.unwrap();
    let (note, photo) = (view.notes[0].id, view.photos[0].id);
    let mark = bench.shop.step(job, "check-in", bench.now()).await.unwrap().stopped[0].0;
    // Of another job, unknown, standing, and taken back before.
    for (job, add, stands) in [(other, 0, false), (job, 77, false), (job, 0, true), (job, 0, false)] {
        let shop = &bench.shop;
        let key = FindingKey::parse(if add == 0 { CLEARANCE } else { "bore-size@cylinder.0.0" });
        let done = [
            shop.withdraw_note(&bench.doing(), job, note + add).await,
            shop.withdraw_photo(&bench.doing(), job, photo + add).await,
            shop.resume(&bench.doing(), job, mark + add).await,
            shop.take_call_back(&bench.doing(), job, &key).await,
        ];
        for done in done {
            assert!(
                if stands { done.is_ok() } else { matches!(done, Err(Refused::NotFound)) },
                "{job} {add}: {done:?}"
            );
        }
    }
}

fn picture() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(8, 8).write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

/// Two tablets show a step; what one does, the other has not seen.
#[tokio::test]
async fn who_has_not_seen_how_a_step_stands_is_told_first() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let shop = &bench.shop;
    let saw = async || Some(shop.step(job, "deck", bench.now()).await.unwrap().act);
    let told = |done: Result<(), Refused>, part: &str| {
        assert!(matches!(&done, Err(Refused::Conflict { stands }) if stands.contains(part)), "{part}: {done:?}");
    };
    let open = saw().await;
    bench.shop.add_note(&bench.doing(), job, Some("deck"), "a nick at stud 4").await.unwrap();
    shop.set_step_aside(&bench.doing(), job, "deck", open, None).await.expect("it was only begun since");
    told(shop.sign_step(&bench.doing(), job, "deck", open, "").await, "is not on this job");
    told(shop.set_step_aside(&bench.doing(), job, "deck", open, Some("Harrow & Sons")).await, "is not on this job");
    told(shop.stop_here(&bench.doing(), job, "deck", "stud 4").await, "is not on this job");

    let aside = saw().await;
    shop.reopen_step(&bench.doing(), job, "deck", aside, "he wants it cut").await.unwrap();
    told(shop.reopen_step(&bench.doing(), job, "deck", aside, "he asked me").await, "is open again");
    told(shop.sign_step(&bench.doing(), job, "deck", open, "").await, "is open again");

    let twice = bench.doing();
    for _ in 0..2 {
        shop.sign_step(&twice, job, "deck", saw().await, "").await.expect("the same post sent twice is one");
    }
    told(shop.set_step_aside(&bench.doing(), job, "deck", open, None).await, "is signed already by Ada Pell");
    let signed = saw().await;
    shop.reopen_step(&bench.doing(), job, "deck", signed, "cut again").await.unwrap();
    shop.sign_step(&bench.doing(), job, "deck", saw().await, "").await.unwrap();
    told(shop.reopen_step(&bench.doing(), job, "deck", signed, "cut once more").await, "is signed already by Ada Pell");
}

#[tokio::test]
async fn signing_needs_a_name() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let nobody = witnessmark::work::Doing { person: None, ..bench.doing() };
    assert!(matches!(bench.shop.sign_step(&nobody, job, "check-in", None, "").await, Err(Refused::Faults(_))));
}

#[tokio::test]
async fn a_step_that_is_not_on_this_job_hands_on_what_it_would_wait_for() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.shop.set_step_aside(&bench.doing(), job, "balance", None, None).await.unwrap();
    let waits_for = async |key: &str| bench.shop.step(job, key, bench.now()).await.unwrap().row.waits_for;
    assert_eq!(waits_for("short-block").await, ["Trial assembly"]);
    bench.shop.sign_step(&bench.doing(), job, "mock-up", None, "").await.unwrap();
    assert!(waits_for("short-block").await.is_empty());
}
