//! Parts of a job from the wish to the engine, work sent out, and what a change makes stale.

use crate::setting::Bench;
use witnessmark::work::{
    AskForm, ChangeForm, Doing, MoveForm, PartForm, PartState, PartView, Refused, RoundForm, SendingForm, SheetKey,
    StepView,
};

const MAINS: SheetKey = SheetKey::MainBearings;

fn bolts() -> PartForm {
    PartForm { description: "Rod bolts".into(), quantity: "8".into(), step: "parts".into(), ..PartForm::default() }
}

async fn a_part(bench: &Bench, job: i64, form: &PartForm) -> String {
    bench.shop.add_part(&bench.doing(), job, form).await.unwrap();
    let view = bench.shop.parts(job, bench.now()).await.unwrap();
    let rows: Vec<_> = view.groups.into_iter().flat_map(|(_, rows)| rows).collect();
    rows.into_iter().find(|row| row.description == form.description).unwrap().public_id
}

fn of(kind: &str, quantity: &str, day: &str) -> MoveForm {
    MoveForm { kind: kind.into(), quantity: quantity.into(), day: day.into(), ..MoveForm::default() }
}

async fn part(bench: &Bench, job: i64, id: &str) -> PartView {
    bench.shop.part(job, id, bench.now()).await.unwrap()
}

/// What a refused form says, field by field.
fn faults<T: std::fmt::Debug>(done: Result<T, Refused>) -> Vec<(String, String)> {
    match done {
        Err(Refused::Faults(faults)) => faults.into_iter().map(|fault| (fault.field, fault.message)).collect(),
        other => panic!("{other:?}"),
    }
}

fn says(faults: &[(String, String)], field: &str, words: &str) {
    assert!(faults.iter().any(|(of, said)| of == field && said.contains(words)), "{field}: {words}: {faults:?}");
}

#[tokio::test]
async fn a_part_is_ordered_comes_in_two_parcels_and_is_fitted() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let id = a_part(&bench, job, &bolts()).await;
    assert_eq!(part(&bench, job, &id).await.row.state, PartState::Wanted);
    let ordered = MoveForm { due: "2026-03-01".into(), ..of("ordered", "8", "2026-02-20") };
    bench.shop.move_part(&bench.doing(), job, &id, &ordered).await.unwrap();
    let view = part(&bench, job, &id).await;
    assert_eq!((view.row.state, view.row.late, view.next[0].0), (PartState::Awaited, true, "received"));
    assert_eq!(view.row.when, "due 1 March 2026");
    bench.shop.move_part(&bench.doing(), job, &id, &of("received", "6", "2026-03-02")).await.unwrap();
    assert_eq!(part(&bench, job, &id).await.row.counted, "6 of 8 here");
    bench.shop.move_part(&bench.doing(), job, &id, &of("received", "2", "2026-03-02")).await.unwrap();
    let here = part(&bench, job, &id).await;
    assert_eq!((here.row.state, here.row.late), (PartState::Here, false));
    bench.shop.move_part(&bench.doing(), job, &id, &of("fitted", "8", "2026-03-02")).await.unwrap();
    assert_eq!(part(&bench, job, &id).await.row.state, PartState::Fitted);
}

#[tokio::test]
async fn what_cannot_be_is_refused_with_the_reason() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let odd = PartForm {
        quantity: "-3".into(),
        cost: "12,5,0".into(),
        whose: "customer".into(),
        price: "5".into(),
        step: "nowhere".into(),
        ..PartForm::default()
    };
    let refused = faults(bench.shop.add_part(&bench.doing(), job, &odd).await);
    for (field, words) in [
        ("description", "say what it is"),
        ("quantity", "a whole number from 1"),
        ("cost", "12,5,0"),
        ("price", "not charged"),
        ("step", "from the list"),
    ] {
        says(&refused, field, words);
    }
    let id = a_part(&bench, job, &bolts()).await;
    bench.shop.move_part(&bench.doing(), job, &id, &of("ordered", "8", "2026-02-20")).await.unwrap();
    let tried = async |form: MoveForm| faults(bench.shop.move_part(&bench.doing(), job, &id, &form).await);
    says(&tried(of("received", "8", "2026-02-19")).await, "day", "ordered on 20 February 2026");
    says(&tried(of("received", "8", "2026-03-09")).await, "day", "not come yet");
    says(&tried(of("received", "9", "2026-02-25")).await, "quantity", "9 of 8 ordered");
    says(&tried(of("fitted", "1", "2026-02-25")).await, "quantity", "enter at most 0");
    says(&tried(of("returned", "0", "2026-02-25")).await, "quantity", "whole number");
    says(&tried(of("promised", "8", "2026-02-25")).await, "due", "promised for");
    let backwards = MoveForm { due: "2026-02-01".into(), ..of("ordered", "8", "2026-02-20") };
    says(&tried(backwards).await, "due", "before the day of the order");
    // Nine came in a box for eight: it is so.
    let sure = MoveForm { sure: true, ..of("received", "9", "2026-02-25") };
    bench.shop.move_part(&bench.doing(), job, &id, &sure).await.unwrap();
}

#[tokio::test]
async fn what_is_used_is_not_withdrawn_and_says_where() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let id = a_part(&bench, job, &bolts()).await;
    bench.shop.move_part(&bench.doing(), job, &id, &of("received", "8", "2026-03-02")).await.unwrap();
    let fitted = MoveForm { change: "rod-bolts".into(), ..of("fitted", "8", "2026-03-02") };
    bench.shop.move_part(&bench.doing(), job, &id, &fitted).await.unwrap();
    let newer = PartForm { description: "Better bolts".into(), replaces: id.clone(), ..bolts() };
    a_part(&bench, job, &newer).await;
    let refused = faults(bench.shop.withdraw_part(&bench.doing(), job, &id).await);
    for words in ["fitted on 2 March 2026", "Better bolts takes its place", "the change “other rod bolts” names it"]
    {
        says(&refused, "withdraw", words);
    }
    assert_eq!(part(&bench, job, &id).await.row.state, PartState::Replaced);
    let received = part(&bench, job, &id).await.moves.last().unwrap().id;
    let refused = faults(bench.shop.withdraw_move(&bench.doing(), job, &id, received).await);
    says(&refused, "moves", "what came after rests on it");
    // A part does not take the place of the one that takes its own.
    let round = PartForm { replaces: part(&bench, job, &id).await.choices.replaces[0].0.clone(), ..bolts() };
    assert!(round.replaces.is_empty(), "the first choice is none");
}

#[tokio::test]
async fn two_who_change_a_part_at_once_are_told() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let id = a_part(&bench, job, &bolts()).await;
    let saw = part(&bench, job, &id).await.act;
    let shelf = |shelf: &str| PartForm { shelf: shelf.into(), ..bolts() };
    bench.shop.change_part(&bench.doing(), job, &id, Some(saw), &shelf("left")).await.unwrap();
    let later = bench.shop.change_part(&bench.doing(), job, &id, Some(saw), &shelf("right")).await;
    assert!(matches!(later, Err(Refused::Conflict { .. })), "{later:?}");
    assert_eq!(part(&bench, job, &id).await.row.shelf, "left");
}

#[tokio::test]
async fn the_same_post_sent_twice_is_one_part() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let doing: Doing = bench.doing();
    bench.shop.add_part(&doing, job, &bolts()).await.unwrap();
    bench.shop.add_part(&doing, job, &bolts()).await.unwrap();
    let groups = bench.shop.parts(job, bench.now()).await.unwrap().groups;
    assert_eq!(groups.iter().map(|(_, rows)| rows.len()).sum::<usize>(), 1);
}

/// How many findings of a step are stale.
async fn step(bench: &Bench, job: i64) -> StepView {
    bench.shop.step(job, "main-line", bench.now()).await.unwrap()
}

async fn stale(bench: &Bench, job: i64) -> usize {
    step(bench, job).await.row.tally.stale
}

/// Two mains read, and then the caps put on other fasteners.
async fn with_other_studs(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    bench.take(job, "main-clearance-vertical@main.1", "2.6 thou", None).await;
    assert_eq!(stale(bench, job).await, 0);
    let form = ChangeForm { change: "main-fastener".into(), words: "studs for bolts".into(), ..ChangeForm::default() };
    bench.shop.note_change(&bench.doing(), job, &form).await.unwrap();
    job
}

#[tokio::test]
async fn a_change_makes_stale_what_was_read_before_until_it_is_read_in_a_new_round() {
    let bench = Bench::open().await;
    let job = with_other_studs(&bench).await;
    assert!(stale(&bench, job).await >= 2);
    let sheet = bench.shop.sheet(job, MAINS, None, bench.now()).await.unwrap();
    assert_eq!((sheet.stale.len(), &*sheet.stale[0].which), (1, "2 readings at main 1, main 2"));
    let signed = bench.shop.sign_step(&bench.doing(), job, "main-line", None, " ").await;
    says(&faults(signed), "despite", "say why it is signed although figures are stale");
    // Read again in the same round, the old reading is still in its mean.
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", Some(1)).await;
    assert!(stale(&bench, job).await >= 2);
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, MAINS, &form).await.unwrap();
    bench.take(job, "main-clearance-vertical@main.0", "2.4 thou", None).await;
    bench.take(job, "main-clearance-vertical@main.1", "2.4 thou", None).await;
    assert_eq!(stale(&bench, job).await, 0);
    bench.shop.sign_step(&bench.doing(), job, "main-line", None, "").await.unwrap();
}

#[tokio::test]
async fn rechecked_the_same_is_one_tap_and_can_be_taken_back() {
    let bench = Bench::open().await;
    let job = with_other_studs(&bench).await;
    let change = bench.shop.changes(job, bench.now()).await.unwrap().changes[0].id;
    bench.shop.check_after_change(&bench.doing(), job, change, MAINS).await.unwrap();
    assert_eq!(stale(&bench, job).await, 0);
    let changes = bench.shop.changes(job, bench.now()).await.unwrap();
    assert!(changes.changes[0].checked[0].1.contains("looked at again, the same"), "{:?}", changes.changes);
    bench.shop.withdraw_check(&bench.doing(), job, changes.changes[0].checked[0].0).await.unwrap();
    assert!(stale(&bench, job).await >= 2);
    bench.shop.withdraw_change(&bench.doing(), job, change).await.unwrap();
    assert_eq!(stale(&bench, job).await, 0);
}

#[tokio::test]
async fn a_round_checked_again_after_the_change_is_not_stale() {
    let bench = Bench::open().await;
    let job = with_other_studs(&bench).await;
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, MAINS, &form).await.unwrap();
    bench.shop.recheck(&bench.doing(), job, (MAINS, 2, 1), None).await.unwrap();
    assert_eq!(stale(&bench, job).await, 0);
}

#[tokio::test]
async fn a_change_at_one_main_leaves_the_others() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    bench.take(job, "main-clearance-vertical@main.1", "2.6 thou", None).await;
    let form = ChangeForm { change: "main-cap".into(), place: "main.1".into(), ..ChangeForm::default() };
    bench.shop.note_change(&bench.doing(), job, &form).await.unwrap();
    let sheet = bench.shop.sheet(job, MAINS, None, bench.now()).await.unwrap();
    assert_eq!(sheet.stale[0].which, "1 reading at main 2");
    let wrong = ChangeForm { change: "main-cap".into(), place: "main.9".into(), ..ChangeForm::default() };
    says(&faults(bench.shop.note_change(&bench.doing(), job, &wrong).await), "place", "from the list");
    let wrong = ChangeForm { change: "the weather".into(), ..ChangeForm::default() };
    says(&faults(bench.shop.note_change(&bench.doing(), job, &wrong).await), "change", "choose what was changed");
}

#[tokio::test]
async fn a_step_is_signed_although_stale_with_a_reason_that_stays() {
    let bench = Bench::open().await;
    let job = with_other_studs(&bench).await;
    bench.shop.sign_step(&bench.doing(), job, "main-line", None, "same studs, new box").await.unwrap();
    let signed = step(&bench, job).await.row.signed.unwrap();
    assert_eq!(signed.despite, "same studs, new box");
}

#[tokio::test]
async fn what_is_fitted_as_a_rod_is_another_thing_from_then_on() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    let rod = PartForm { description: "Rod 2, another".into(), quantity: "1".into(), serial: "R-77".into(), ..bolts() };
    let id = a_part(&bench, job, &rod).await;
    bench.shop.move_part(&bench.doing(), job, &id, &of("received", "1", "2026-03-02")).await.unwrap();
    let nowhere = MoveForm { item: "rod".into(), place: "main.1".into(), ..of("fitted", "1", "2026-03-02") };
    let refused = faults(bench.shop.move_part(&bench.doing(), job, &id, &nowhere).await);
    says(&refused, "place", "no rod stands at main 2");
    let second = MoveForm { item: "rod".into(), place: "cylinder.0.1".into(), ..of("fitted", "1", "2026-03-02") };
    bench.shop.move_part(&bench.doing(), job, &id, &second).await.unwrap();
    assert!(part(&bench, job, &id).await.moves[0].what.contains("1 fitted at cylinder 2"));
    let refused = faults(bench.shop.withdraw_part(&bench.doing(), job, &id).await);
    says(&refused, "withdraw", "it is fitted at cylinder 2");
}

/// Line honing asked, away and back, with a round read before and after.
#[tokio::test]
async fn what_came_back_is_held_against_what_was_asked() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    for main in 0..5 {
        bench.take(job, &format!("main-clearance-vertical@main.{main}"), "2.0 thou", None).await;
    }
    let asks = SendingForm { what: "Line honing".into(), sheet: MAINS.key().into(), ..SendingForm::default() };
    bench.shop.add_sending(&bench.doing(), job, &asks).await.unwrap();
    let row = bench.shop.sendings(job, bench.now()).await.unwrap().rows.remove(0);
    assert_eq!(row.stands, "here still");
    let id = row.public_id;
    let size = AskForm {
        feature: "main-clearance-vertical".into(),
        least: "2.4".into(),
        most: "2.6".into(),
        ..AskForm::default()
    };
    bench.shop.ask_of_sending(&bench.doing(), job, &id, &size).await.unwrap();
    let crossed = AskForm { least: "2.6".into(), most: "2.4".into(), ..size.clone() };
    assert!(!faults(bench.shop.ask_of_sending(&bench.doing(), job, &id, &crossed).await).is_empty());
    let away = SendingForm { sent: "2026-02-20".into(), due: "2026-02-28".into(), ..asks.clone() };
    bench.shop.change_sending(&bench.doing(), job, &id, None, &away).await.unwrap();
    let view = bench.shop.sending(job, &id, bench.now()).await.unwrap();
    assert_eq!((view.row.late, view.form.before_round.as_str()), (true, "1"), "what was read when it left");
    let refused = faults(bench.shop.withdraw_sending(&bench.doing(), job, &id).await);
    says(&refused, "withdraw", "it is away");
    let form = RoundForm { kind: "machined".into(), ..RoundForm::default() };
    bench.shop.begin_round(&bench.doing(), job, MAINS, &form).await.unwrap();
    for (main, read) in ["2.5 thou", "2.5 thou", "2.9 thou", "2.5 thou", "2.5 thou"].iter().enumerate() {
        bench.take(job, &format!("main-clearance-vertical@main.{main}"), read, None).await;
    }
    let early = SendingForm { back: "2026-02-19".into(), ..away.clone() };
    let refused = faults(bench.shop.change_sending(&bench.doing(), job, &id, None, &early).await);
    says(&refused, "back", "it left on 20 February 2026");
    let back = SendingForm {
        back: "2026-03-02".into(),
        before_round: "1".into(),
        after_round: "2".into(),
        change: "line-hone".into(),
        ..away
    };
    bench.shop.change_sending(&bench.doing(), job, &id, None, &back).await.unwrap();
    let view = bench.shop.sending(job, &id, bench.now()).await.unwrap();
    assert_eq!((view.row.out, view.row.stands.as_str(), view.row.late), (1, "back 2 March 2026", false));
    let third = &view.asked[2];
    assert_eq!(
        (third.place.as_str(), third.before.as_deref(), third.after.as_deref()),
        ("main 3", Some("2.0\u{a0}thou"), Some("2.9\u{a0}thou"))
    );
    assert_eq!(third.came_back.map(|(_, word)| word), Some("out"));
    assert_eq!(view.asked[0].came_back.map(|(_, word)| word), Some("good"));
    let changes = bench.shop.changes(job, bench.now()).await.unwrap();
    assert_eq!(changes.changes[0].brought_by.as_deref(), Some("Line honing"));
}
