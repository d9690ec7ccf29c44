//! A job is settled at its end: storage, disposal, parts on order, what is kept and given back, what goes to whom.

use crate::charging::{charging, faults, says};
use crate::setting::Bench;
use witnessmark::work::{
    EndingForm, GoneForm, InvoiceForm, LineForm, MoveForm, PartForm, PaymentForm, RefundForm, Refused, SettleForm,
    StorageForm, TermsForm,
};

/// Ends a job so, on the day it is.
async fn ends(bench: &Bench, job: i64, form: EndingForm) {
    let saw = bench.shop.ending(job, bench.now()).await.unwrap().saw;
    let day = bench.shop.ending(job, bench.now()).await.unwrap().today;
    bench.shop.end_job(&bench.doing(), job, &EndingForm { saw, day, ..form }).await.unwrap();
}

async fn paid(bench: &Bench, job: i64, kind: &str, amount: &str) {
    let form = PaymentForm { kind: kind.into(), amount: amount.into(), sure: true, ..PaymentForm::default() };
    bench.shop.keep_payment(&bench.doing(), job, &form).await.unwrap();
}

async fn charged(bench: &Bench, job: i64, amount: &str) {
    let line = LineForm {
        kind: "other".into(),
        text: "Strip and measure".into(),
        how_many: "1".into(),
        each: amount.into(),
        ..LineForm::default()
    };
    bench.shop.add_charge(&bench.doing(), job, &line).await.unwrap();
}

async fn invoiced(bench: &Bench, job: i64) {
    let lines = bench.shop.draw_up(job, bench.now()).await.unwrap().lines.iter().map(|row| row.id).collect();
    let form = InvoiceForm { lines, sure: true, ..InvoiceForm::default() };
    bench.shop.issue_invoice(&bench.doing(), job, &form).await.unwrap();
}

fn amounts<W: AsRef<str>>(rows: &[(W, String)]) -> Vec<(&str, &str)> {
    rows.iter().map(|(words, amount)| (words.as_ref(), amount.trim_end_matches("\u{a0}EUR"))).collect()
}

#[tokio::test]
async fn storage_goes_by_the_week_begun_and_no_day_is_charged_twice() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    let parked = EndingForm { kind: "parked".into(), storage_from: "2026-03-05".into(), ..EndingForm::default() };
    ends(&bench, job, parked).await;
    bench.wait(24 * 11);
    // 13 March: eight days, of which four are free.
    let due = bench.shop.settle_view(job, "", bench.now()).await.unwrap().due;
    assert_eq!(due[0].words, "1 week of storage begun since 5 March 2026, while it was parked");
    assert_eq!((&*due[0].from, &*due[0].until, &*due[0].week), ("2026-03-05", "2026-03-13", "12.00"));
    let form = StorageForm { from: due[0].from.clone(), until: due[0].until.clone(), week: due[0].week.clone() };
    let doing = bench.doing();
    bench.shop.charge_storage(&doing, job, &form).await.unwrap();
    bench.shop.charge_storage(&doing, job, &form).await.unwrap();
    let again = faults(bench.shop.charge_storage(&bench.doing(), job, &form).await);
    says(&again, "stored_from", "from 5 March 2026 up to 16 March 2026: enter that day or a later one");
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert!(view.due.is_empty() && view.parked);
    assert_eq!(
        amounts(&view.listed),
        [("Storage, 5 March 2026 to 13 March 2026, each week begun", "12.00")],
        "the same post twice is one act"
    );
    // The weeks go on where those charged end, and no day is free again.
    bench.wait(24 * 4);
    let due = bench.shop.settle_view(job, "", bench.now()).await.unwrap().due;
    assert_eq!(
        (&*due[0].words, &*due[0].from),
        ("1 week of storage begun since 16 March 2026, while it was parked", "2026-03-16")
    );
    let backwards = StorageForm { from: "2026-03-17".into(), until: "2026-03-16".into(), week: String::new() };
    let wrong = faults(bench.shop.charge_storage(&bench.doing(), job, &backwards).await);
    says(&wrong, "stored_until", "enter that day or a later one");
    says(&wrong, "week", "enter what a week of storage costs");
    // Taken up again, it is stored no longer; what is due stays due.
    bench.shop.take_ending_back(&bench.doing(), job).await.unwrap();
    bench.wait(24 * 30);
    let due = bench.shop.settle_view(job, "", bench.now()).await.unwrap().due;
    assert_eq!((due.len(), &*due[0].until), (1, "2026-03-17"));
    assert_eq!(bench.shop.money(bench.now()).await.unwrap().to_settle.len(), 0, "the job goes on");
    // A line taken off is due again.
    let line = bench.shop.charges(job, bench.now()).await.unwrap().lines[0].id;
    bench.shop.withdraw_charge(&bench.doing(), job, line).await.unwrap();
    let due = bench.shop.settle_view(job, "", bench.now()).await.unwrap().due;
    assert_eq!(due[0].words, "2 weeks of storage begun since 5 March 2026, while it was parked");
}

#[tokio::test]
async fn the_quote_names_its_own_week_of_storage() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    let terms = TermsForm { storage_week: "9.50".into(), ..TermsForm::default() };
    bench.shop.keep_quote_terms(&bench.doing(), job, 0, &terms).await.unwrap();
    let parked = EndingForm { kind: "parked".into(), storage_from: "2026-03-02".into(), ..EndingForm::default() };
    ends(&bench, job, parked).await;
    bench.wait(24 * 20);
    assert_eq!(bench.shop.settle_view(job, "", bench.now()).await.unwrap().due[0].week, "9.50");
    let glance = bench.shop.money(bench.now()).await.unwrap();
    assert_eq!(glance.to_settle[0].open, ["3 weeks of storage begun since 2 March 2026, while it was parked"]);
}

#[tokio::test]
async fn a_forfeitable_deposit_pays_first_and_its_rest_is_kept() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    paid(&bench, job, "deposit-forfeitable", "100").await;
    paid(&bench, job, "progress", "50").await;
    charged(&bench, job, "70").await;
    invoiced(&bench, job).await;
    // What it would be is seen before it is said.
    let view = bench.shop.settle_view(job, "handed_over", bench.now()).await.unwrap();
    assert_eq!((view.ended.as_deref(), view.refund.as_deref()), (None, Some("66.70")));
    ends(&bench, job, EndingForm { kind: "cancelled".into(), ..EndingForm::default() }).await;
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert_eq!(amounts(&view.owed), [("On invoices", "83.30"), ("Owed, with tax", "83.30")]);
    assert_eq!(
        amounts(&view.paid),
        [
            ("Received", "150.00"),
            ("Pays what is owed", "83.30"),
            ("Kept, a deposit agreed so", "16.70"),
            ("To be given back", "50.00")
        ]
    );
    let give = |amount: &str, method: &str| RefundForm {
        amount: amount.into(),
        method: method.into(),
        reference: "slip 7".into(),
        ..RefundForm::default()
    };
    let wrong = faults(bench.shop.give_back(&bench.doing(), job, &give("150.01", "")).await);
    says(&wrong, "method", "choose how");
    says(&wrong, "amount", "150.00\u{a0}EUR came in and was not given back: enter that or less");
    let asked = faults(bench.shop.give_back(&bench.doing(), job, &give("140", "cash")).await);
    says(&asked, "sure", "140.00");
    bench.shop.give_back(&bench.doing(), job, &give("50", "cash")).await.unwrap();
    let charges = bench.shop.charges(job, bench.now()).await.unwrap();
    assert_eq!(charges.payments[2].when, "2 March 2026; in cash, slip 7");
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert_eq!(view.refund, None);
    let kept = PaymentForm { kind: "given-back".into(), amount: "101".into(), sure: true, ..PaymentForm::default() };
    says(&faults(bench.shop.keep_payment(&bench.doing(), job, &kept).await), "amount", "100.00\u{a0}EUR came in");
}

#[tokio::test]
async fn a_scrapped_engine_is_disposed_of_once_and_the_job_settled() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    let early = SettleForm { day: "2026-03-02".into(), ..SettleForm::default() };
    says(&faults(bench.shop.settle_job(&bench.doing(), job, &early).await), "settle", "how the job ended");
    let part =
        PartForm { description: "Gasket set".into(), quantity: "2".into(), cost: "20".into(), ..Default::default() };
    bench.shop.add_part(&bench.doing(), job, &part).await.unwrap();
    let set = bench.shop.parts(job, bench.now()).await.unwrap().groups[0].1[0].public_id.clone();
    let moved = |kind: &str, quantity: &str| MoveForm {
        kind: kind.into(),
        quantity: quantity.into(),
        day: "2026-03-02".into(),
        ..MoveForm::default()
    };
    bench.shop.move_part(&bench.doing(), job, &set, &moved("ordered", "2")).await.unwrap();
    bench.shop.move_part(&bench.doing(), job, &set, &moved("received", "1")).await.unwrap();
    ends(&bench, job, EndingForm { kind: "scrapped".into(), ..EndingForm::default() }).await;
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert_eq!(view.disposal.as_deref(), Some("35.00"));
    // One is here and goes to the shelf, so that nobody pays it.
    assert_eq!(view.waiting, 1);
    let open = &bench.shop.money(bench.now()).await.unwrap().to_settle[0].open;
    assert!(open[0].ends_with("done or bought and not on the charges"), "{open:?}");
    let keys: Vec<String> = view.goes.iter().map(|row| row.key.clone()).collect();
    assert_eq!((keys.len(), &*keys[0], &*view.goes[0].whither), (2, "engine", "to scrap"));
    assert_eq!((&*view.goes[1].what, &*view.goes[1].whither), ("Gasket set", "to the shop’s shelf"));
    let gone = GoneForm { day: "2026-03-02".into(), words: "fetched by his brother".into(), things: keys };
    says(&faults(bench.shop.note_gone(&bench.doing(), job, &GoneForm::default()).await), "gone", "tick what has gone");
    bench.shop.note_gone(&bench.doing(), job, &gone).await.unwrap();
    assert!(matches!(bench.shop.note_gone(&bench.doing(), job, &gone).await, Err(Refused::Conflict { .. })));
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert_eq!(view.waiting, 0, "what stays with the shop is not charged");
    let (words, id) = view.goes[1].gone.clone().unwrap();
    assert_eq!(words, "2 March 2026, fetched by his brother");
    bench.shop.withdraw_gone(&bench.doing(), job, id).await.unwrap();
    assert_eq!(bench.shop.settle_view(job, "", bench.now()).await.unwrap().waiting, 1);
    let again = GoneForm { things: vec![view.goes[1].key.clone()], ..gone };
    bench.shop.note_gone(&bench.doing(), job, &again).await.unwrap();
    // The other is on order and cannot go back.
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert_eq!((view.waiting, view.on_order[0].amount.as_str()), (0, "25.00"));
    says(&faults(bench.shop.charge_on_order(&bench.doing(), job, &[]).await), "on_order", "tick the parts");
    bench.shop.charge_on_order(&bench.doing(), job, std::slice::from_ref(&set)).await.unwrap();
    let twice = faults(bench.shop.charge_on_order(&bench.doing(), job, std::slice::from_ref(&set)).await);
    says(&twice, "on_order", "on the charges already");
    bench.shop.charge_disposal(&bench.doing(), job, "35").await.unwrap();
    says(&faults(bench.shop.charge_disposal(&bench.doing(), job, "35").await), "disposal", "already");

    invoiced(&bench, job).await;
    let settle = async |sure| {
        let saw = bench.shop.settle_view(job, "", bench.now()).await.unwrap().saw;
        let form = SettleForm { saw, day: "2026-03-02".into(), words: "by letter".into(), sure };
        bench.shop.settle_job(&bench.doing(), job, &form).await
    };
    says(&faults(settle(false).await), "settled_sure", "71.40\u{a0}EUR to be paid");
    assert_eq!(bench.shop.money(bench.now()).await.unwrap().to_settle[0].open, ["71.40\u{a0}EUR to be paid"]);
    paid(&bench, job, "on-invoice", "71.40").await;
    settle(false).await.unwrap();
    let glance = bench.shop.money(bench.now()).await.unwrap();
    assert!(glance.to_settle.is_empty() && glance.rows.is_empty());
    let view = bench.shop.settle_view(job, "", bench.now()).await.unwrap();
    assert!(!view.is_to_settle() && !view.settled.unwrap().changed);
    let late = SettleForm { saw: "0 0 0 0".into(), day: "2026-03-02".into(), ..SettleForm::default() };
    assert!(matches!(bench.shop.settle_job(&bench.doing(), job, &late).await, Err(Refused::Conflict { .. })));
    // What is charged afterwards changes it.
    charged(&bench, job, "10").await;
    let open = &bench.shop.money(bench.now()).await.unwrap().to_settle[0].open;
    assert_eq!(open[0], "changed since it was settled");
    assert!(bench.shop.settle_view(job, "", bench.now()).await.unwrap().is_to_settle());
    bench.shop.withdraw_settlement(&bench.doing(), job).await.unwrap();
    assert!(matches!(bench.shop.withdraw_settlement(&bench.doing(), job).await, Err(Refused::NotFound)));
}

#[tokio::test]
async fn a_core_gives_back_its_own_deposit_once_and_one_scrapped_none() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    let part = PartForm {
        description: "Water pump".into(),
        quantity: "2".into(),
        cost: "60".into(),
        core: "15".into(),
        ..PartForm::default()
    };
    bench.shop.add_part(&bench.doing(), job, &part).await.unwrap();
    let own = PartForm { whose: "customer".into(), ..part };
    says(&faults(bench.shop.add_part(&bench.doing(), job, &own).await), "core", "no exchange");
    let id = bench.shop.parts(job, bench.now()).await.unwrap().groups[0].1[0].public_id.clone();
    let came =
        MoveForm { kind: "received".into(), quantity: "2".into(), day: "2026-03-02".into(), ..MoveForm::default() };
    bench.shop.move_part(&bench.doing(), job, &id, &came).await.unwrap();
    let waiting = bench.shop.charges(job, bench.now()).await.unwrap().waiting;
    let said: Vec<_> = waiting.iter().map(|row| (row.kind, row.amount.as_str())).collect();
    assert_eq!(said, [("Part", "150.00"), ("Core deposit", "30.00")]);
    bench.shop.list_charges(&bench.doing(), job).await.unwrap();
    bench.wait(24 * 3);
    let view = bench.shop.part(job, &id, bench.now()).await.unwrap();
    assert_eq!((view.core.as_deref(), view.cores[0].words.as_str()), (Some("15.00\u{a0}EUR"), "open for 3 days"));
    let money = bench.shop.money(bench.now()).await.unwrap();
    assert_eq!((money.cores.len(), money.cores[0].core.amount.as_str()), (1, "30.00\u{a0}EUR"));
    let deposit = view.cores[0].line;

    let by_hand = LineForm {
        kind: "core-returned".into(),
        text: "Pump".into(),
        how_many: "1".into(),
        each: "30".into(),
        ..LineForm::default()
    };
    says(&faults(bench.shop.add_charge(&bench.doing(), job, &by_hand).await), "kind", "“Core given back”");
    bench.shop.scrap_core(&bench.doing(), job, deposit).await.unwrap();
    let scrapped = faults(bench.shop.give_core_back(&bench.doing(), job, deposit).await);
    says(&scrapped, "cores", "scrapped on 5 March 2026 and brings no deposit back");
    assert!(bench.shop.money(bench.now()).await.unwrap().cores.is_empty());
    bench.shop.unscrap_core(&bench.doing(), job, deposit).await.unwrap();
    assert!(matches!(bench.shop.unscrap_core(&bench.doing(), job, deposit).await, Err(Refused::NotFound)));
    let doing = bench.doing();
    bench.shop.give_core_back(&doing, job, deposit).await.unwrap();
    bench.shop.give_core_back(&doing, job, deposit).await.unwrap();
    says(&faults(bench.shop.give_core_back(&bench.doing(), job, deposit).await), "cores", "comes back once");
    let view = bench.shop.charges(job, bench.now()).await.unwrap();
    let credit = view.lines.last().unwrap();
    assert_eq!((credit.kind, credit.amount.as_str(), view.lines.len()), ("Core returned", "−30.00", 3));
    assert_eq!(view.totals.last().unwrap().1, "178.50\u{a0}EUR");
    // Neither is changed while the other stands.
    let line = bench.shop.charge(job, credit.id, bench.now()).await.unwrap();
    let changed = bench.shop.change_charge(&bench.doing(), job, credit.id, line.act, &line.form).await;
    says(&faults(changed), "line", "gives back exactly its deposit");
    says(&faults(bench.shop.withdraw_charge(&bench.doing(), job, deposit).await), "line", "was given back");
    bench.shop.withdraw_charge(&bench.doing(), job, credit.id).await.unwrap();
    assert!(bench.shop.charges(job, bench.now()).await.unwrap().cores[0].is_open);
    bench.shop.withdraw_charge(&bench.doing(), job, deposit).await.unwrap();
    let waiting = bench.shop.charges(job, bench.now()).await.unwrap().waiting;
    assert_eq!((waiting.len(), waiting[0].kind), (1, "Core deposit"));
}
