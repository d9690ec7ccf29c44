//! What to charge: time, quote, changes, the list, payments, invoices, on a real record.

use crate::charging::{charging, faults, says};
use crate::setting::Bench;
use witnessmark::work::{
    AgreedChangeForm, AnswerForm, Asked, DayEntry, DiscountForm, InvoiceForm, LineForm, MoveForm, PartForm,
    PaymentForm, QuoteLineForm, Refused, SendingForm, TaxForm, TimeForm,
};

fn hours(step: &str, hours: &str) -> TimeForm {
    TimeForm { step: step.into(), hours: hours.into(), ..TimeForm::default() }
}

async fn agree(bench: &Bench, job: i64) {
    let line = QuoteLineForm { step: "bearings".into(), hours: "4".into(), ..QuoteLineForm::default() };
    bench.shop.keep_quote_line(&bench.doing(), job, None, &line).await.unwrap();
    let sent = AnswerForm { kind: "sent".into(), ..AnswerForm::default() };
    bench.shop.answer_quote(&bench.doing(), job, &sent).await.unwrap();
    let yes = AnswerForm { kind: "agreed".into(), how: "phone".into(), words: "Go ahead".into(), ..sent };
    bench.shop.answer_quote(&bench.doing(), job, &yes).await.unwrap();
}

#[tokio::test]
async fn a_rate_of_190_is_refused_and_one_above_30_asked_about() {
    let bench = Bench::open().await;
    let tax = |rate: &str, sure| TaxForm {
        name: "high".into(),
        title: "High".into(),
        rate: rate.into(),
        sure,
        ..TaxForm::default()
    };
    let tried = async |form: TaxForm| faults(bench.shop.keep_tax(&bench.doing(), None, &form).await);
    says(&tried(tax("190", true)).await, "rate", "more than the price itself");
    says(&tried(tax("31", false)).await, "sure", "unusually high");
    bench.shop.keep_tax(&bench.doing(), None, &tax("31", true)).await.unwrap();
    says(&tried(tax("7", false)).await, "name", "already");
    let twice = TaxForm { usual_for: vec!["labour".into()], ..tax("8", false) };
    let id = bench.shop.money_settings().await.unwrap().taxes[0].clone();
    bench.shop.keep_tax(&bench.doing(), Some((id.id, id.act)), &twice).await.unwrap();
    says(&tried(TaxForm { name: "other".into(), ..twice.clone() }).await, "usual_for", "taxed at two rates");
    assert!(matches!(
        bench.shop.keep_tax(&bench.doing(), Some((id.id, id.act)), &twice).await,
        Err(Refused::Conflict { .. })
    ));
}

#[tokio::test]
async fn a_clock_runs_once_a_person_and_survives_a_restart() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    bench.shop.start_clock(&bench.doing(), job, "bearings").await.unwrap();
    bench.wait(2);
    // The record is opened anew, as after a restart.
    let again = witnessmark::work::Shop::open(bench.folder.path()).await.unwrap();
    assert_eq!(again.time(job, None, bench.now()).await.unwrap().clocks.len(), 1);
    again.start_clock(&bench.doing(), job, "").await.unwrap();
    let view = again.time(job, Some(&bench.person), bench.now()).await.unwrap();
    assert_eq!((view.clocks.len(), view.clocks[0].own), (1, true), "one at a time");
    assert_eq!((view.rows[0].hours.as_str(), view.rows[0].step.is_some()), ("2\u{a0}h", true));
    bench.wait(1);
    again.stop_clock(&bench.doing(), view.clocks[0].id).await.unwrap();
    assert_eq!(again.time(job, None, bench.now()).await.unwrap().rows[0].hours, "1\u{a0}h");
    assert!(matches!(again.stop_clock(&bench.doing(), view.clocks[0].id).await, Err(Refused::NotFound)));
}

#[tokio::test]
async fn the_end_of_the_day_proposes_what_was_done_and_keeps_it_once() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    for slot in 0..4 {
        bench.take(job, &format!("main-clearance-vertical@main.{slot}"), "2.5 thou", None).await;
    }
    let day = bench.shop.end_of_day(Some(&bench.person), "", bench.now()).await.unwrap();
    assert!(!day.rows.is_empty() && day.kept.is_empty());
    let entry = |hours: &str| DayEntry { field: "hours-0".into(), job, hours: hours.into(), ..DayEntry::default() };
    let wrong = bench.shop.keep_day(&bench.doing(), &bench.person, "", &[entry("1.1")]).await;
    says(&faults(wrong), "hours-0", "enter 1 or 1.25");
    let doing = bench.doing();
    bench.shop.keep_day(&doing, &bench.person, "", &[entry("1.25")]).await.unwrap();
    bench.shop.keep_day(&doing, &bench.person, "", &[entry("1.25")]).await.unwrap();
    let day = bench.shop.end_of_day(Some(&bench.person), "", bench.now()).await.unwrap();
    assert_eq!((day.rows.len(), day.kept.len()), (0, 1), "the same post twice is one act: {:?}", day.kept);
}

#[tokio::test]
async fn a_quote_is_agreed_changed_by_phone_and_stays_as_it_was_sent() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    agree(&bench, job).await;
    let quote = bench.shop.quote(job, bench.now()).await.unwrap();
    assert_eq!((quote.total.as_str(), quote.answer.asked), ("320.00\u{a0}EUR", Asked::Agreed));
    let more = QuoteLineForm { text: "More".into(), amount: "5".into(), ..QuoteLineForm::default() };
    let refused = bench.shop.keep_quote_line(&bench.doing(), job, None, &more).await;
    says(&faults(refused), "quote", "as a change");
    let change = AgreedChangeForm {
        text: "Sleeve cylinder 3".into(),
        why: "Cylinder 3 is cracked".into(),
        price: "140".into(),
        days: "2".into(),
        less: false,
    };
    bench.shop.propose_change(&bench.doing(), job, &change).await.unwrap();
    let row = bench.shop.quote(job, bench.now()).await.unwrap().changes[0].clone();
    for words in ["This costs 140.00\u{a0}EUR more.", "2 days later", "Job 1"] {
        assert!(row.message.contains(words), "{words}: {}", row.message);
    }
    let sent = AnswerForm { kind: "sent".into(), ..AnswerForm::default() };
    bench.shop.answer_change(&bench.doing(), job, row.id, &sent).await.unwrap();
    let no_words = AnswerForm { kind: "agreed".into(), day: "2026-03-01".into(), ..AnswerForm::default() };
    let refused = faults(bench.shop.answer_change(&bench.doing(), job, row.id, &no_words).await);
    says(&refused, "how", "how he answered");
    says(&refused, "words", "his own words");
    says(&refused, "sure", "before he was asked");
    let yes = AnswerForm { kind: "agreed".into(), how: "phone".into(), words: "Do it".into(), ..AnswerForm::default() };
    bench.shop.answer_change(&bench.doing(), job, row.id, &yes).await.unwrap();
    assert_eq!(bench.shop.quote(job, bench.now()).await.unwrap().agreed, "460.00\u{a0}EUR");
    let again = faults(bench.shop.answer_change(&bench.doing(), job, row.id, &yes).await);
    says(&again, "kind", "write a new change");
}

/// A part at a mark-up, one of the customer's own, work sent out, and hours, all done on an agreed quote.
async fn all_done(bench: &Bench, job: i64) {
    charging(bench).await;
    agree(bench, job).await;
    bench.shop.keep_time(&bench.doing(), job, &hours("bearings", "4")).await.unwrap();
    for (description, whose, cost) in [("Bearing shells", "shop", "100"), ("Own pistons", "customer", "")] {
        let part = PartForm {
            description: description.into(),
            quantity: "1".into(),
            whose: whose.into(),
            cost: cost.into(),
            ..PartForm::default()
        };
        bench.shop.add_part(&bench.doing(), job, &part).await.unwrap();
    }
    let parts = bench.shop.parts(job, bench.now()).await.unwrap();
    for row in parts.groups.iter().flat_map(|(_, rows)| rows) {
        let came =
            MoveForm { kind: "received".into(), quantity: "1".into(), day: "2026-03-02".into(), ..MoveForm::default() };
        bench.shop.move_part(&bench.doing(), job, &row.public_id, &came).await.unwrap();
    }
    let out = SendingForm {
        what: "Balancing".into(),
        sent: "2026-03-01".into(),
        back: "2026-03-02".into(),
        cost: "50".into(),
        ..SendingForm::default()
    };
    bench.shop.add_sending(&bench.doing(), job, &out).await.unwrap();
}

#[tokio::test]
async fn nothing_that_was_done_or_bought_is_forgotten() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    all_done(&bench, job).await;
    let view = bench.shop.charges(job, bench.now()).await.unwrap();
    let amounts: Vec<_> = view.waiting.iter().map(|row| (row.kind, row.amount.as_str())).collect();
    assert_eq!(amounts, [("Labour", "320.00"), ("Part", "125.00"), ("Part", "0.00"), ("Work sent out", "55.00")]);
    assert_eq!(view.waiting[2].not_charged, Some("your own part, not charged"));
    bench.shop.list_charges(&bench.doing(), job).await.unwrap();
    let view = bench.shop.charges(job, bench.now()).await.unwrap();
    assert!(view.waiting.is_empty());
    assert_eq!(view.lines.len(), 4);
    assert_eq!(view.totals.last().unwrap().1, "595.00\u{a0}EUR");
    assert_eq!(view.not_agreed.as_deref(), Some("180.00\u{a0}EUR"), "the part and the balancing were never asked");
    let glance = bench.shop.money(bench.now()).await.unwrap();
    assert_eq!((glance.rows[0].done.as_str(), glance.rows[0].unbilled.as_deref()), ("500.00", Some("500.00")));
    let time = bench.shop.time(job, None, bench.now()).await.unwrap().rows[0].id;
    says(&faults(bench.shop.withdraw_time(&bench.doing(), job, time).await), "rows", "take that line off first");
}

#[tokio::test]
async fn an_invoice_is_numbered_frozen_and_undone_by_a_credit() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    all_done(&bench, job).await;
    bench.shop.list_charges(&bench.doing(), job).await.unwrap();
    let off = DiscountForm { text: "Returning customer".into(), percent: "10".into(), ..DiscountForm::default() };
    bench.shop.give_discount(&bench.doing(), job, &off).await.unwrap();
    let open = bench.shop.draw_up(job, bench.now()).await.unwrap();
    let lines: Vec<i64> = open.lines.iter().map(|row| row.id).collect();
    let discounts: Vec<i64> = open.discounts.iter().map(|(id, _)| *id).collect();
    let form = InvoiceForm { lines: lines.clone(), discounts, ..InvoiceForm::default() };
    let asked = faults(bench.shop.issue_invoice(&bench.doing(), job, &form).await);
    says(&asked, "sure", "“Bearing shells” is not agreed");
    let form = InvoiceForm { sure: true, ..form };
    let doing = bench.doing();
    let number = bench.shop.issue_invoice(&doing, job, &form).await.unwrap();
    assert_eq!(number, "2026-0001");
    assert_eq!(bench.shop.issue_invoice(&doing, job, &form).await.unwrap(), number, "the same post twice");
    let view = bench.shop.invoice(job, &number, bench.now()).await.unwrap();
    assert_eq!(view.sums.last().unwrap(), &("To pay by 16 March 2026".to_owned(), "535.50\u{a0}EUR".to_owned()));
    let pdf = bench.shop.invoice_pdf(job, &number).await.unwrap();
    assert!(pdf.starts_with(b"%PDF-1.7"));
    assert_eq!(pdf, bench.shop.invoice_pdf(job, &number).await.unwrap());

    let twice = faults(bench.shop.issue_invoice(&bench.doing(), job, &form).await);
    says(&twice, "lines", "taken off on an invoice already");
    let twice = InvoiceForm { discounts: Vec::new(), ..form.clone() };
    let twice = faults(bench.shop.issue_invoice(&bench.doing(), job, &twice).await);
    says(&twice, "lines", "credit 2026-0001 first");
    let line = bench.shop.charge(job, lines[0], bench.now()).await.unwrap();
    let edit = bench.shop.change_charge(&bench.doing(), job, lines[0], line.act, &line.form).await;
    says(&faults(edit), "line", "credit 2026-0001, then invoice anew");
    says(&faults(bench.shop.withdraw_charge(&bench.doing(), job, lines[0]).await), "line", "stays as issued");

    says(&faults(bench.shop.credit_invoice(&bench.doing(), job, &number, " ").await), "reason", "say why");
    let credit = bench.shop.credit_invoice(&bench.doing(), job, &number, "wrong hours").await.unwrap();
    assert_eq!(credit, "2026-0002");
    assert_eq!(bench.shop.charges(job, bench.now()).await.unwrap().invoiced, "0.00\u{a0}EUR");
    let again = faults(bench.shop.credit_invoice(&bench.doing(), job, &number, "again").await);
    says(&again, "reason", "credited already, by 2026-0002");
    // What was credited can be changed and invoiced anew, with the next number.
    let edit = LineForm { each: "70".into(), ..line.form };
    bench.shop.change_charge(&bench.doing(), job, lines[0], line.act, &edit).await.unwrap();
    assert_eq!(bench.shop.issue_invoice(&bench.doing(), job, &form).await.unwrap(), "2026-0003");
    assert_eq!(pdf, bench.shop.invoice_pdf(job, &number).await.unwrap(), "the first stays as it was issued");
}

#[tokio::test]
async fn an_issued_invoice_cannot_be_changed_past_the_shop_either() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    all_done(&bench, job).await;
    bench.shop.list_charges(&bench.doing(), job).await.unwrap();
    let lines: Vec<i64> = bench.shop.draw_up(job, bench.now()).await.unwrap().lines.iter().map(|row| row.id).collect();
    let form = InvoiceForm { lines, sure: true, ..InvoiceForm::default() };
    bench.shop.issue_invoice(&bench.doing(), job, &form).await.unwrap();
    let address = format!("sqlite://{}", bench.folder.path().join("record.db").display());
    let database = sqlx::SqlitePool::connect(&address).await.unwrap();
    for (sql, words) in [
        ("UPDATE invoice SET number = '2026-0009'", "written once"),
        ("DELETE FROM invoice", "nothing is deleted"),
        ("UPDATE charge_line SET each = 1, act = (SELECT max(id) FROM act)", "credit that first"),
        (
            "INSERT INTO invoice_line (invoice, line, made) SELECT invoice, line, (SELECT max(id) FROM act) FROM invoice_line",
            "stands on an invoice already",
        ),
    ] {
        let why = sqlx::query(sql).execute(&database).await.expect_err(sql).to_string();
        assert!(why.contains(words), "{sql}: {why}");
    }
}

#[tokio::test]
async fn payments_above_the_balance_and_out_of_order_are_asked_about() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    all_done(&bench, job).await;
    bench.shop.list_charges(&bench.doing(), job).await.unwrap();
    let deposit = PaymentForm { amount: "200".into(), ..PaymentForm::default() };
    bench.shop.ask_deposit(&bench.doing(), job, &deposit).await.unwrap();
    bench.wait(24 * 3);
    let waits = bench.shop.money(bench.now()).await.unwrap().awaited;
    assert_eq!((waits[0].what.as_str(), waits[0].how_long.as_str()), ("a deposit of 200.00\u{a0}EUR", "for 3 days"));
    let paid = PaymentForm { kind: "deposit-refundable".into(), amount: "200".into(), ..PaymentForm::default() };
    bench.shop.keep_payment(&bench.doing(), job, &paid).await.unwrap();
    let lines: Vec<i64> = bench.shop.draw_up(job, bench.now()).await.unwrap().lines.iter().map(|row| row.id).collect();
    let form = InvoiceForm { lines, sure: true, ..InvoiceForm::default() };
    bench.shop.issue_invoice(&bench.doing(), job, &form).await.unwrap();
    let too_much = PaymentForm { kind: "on-invoice".into(), amount: "400".into(), ..PaymentForm::default() };
    let asked = faults(bench.shop.keep_payment(&bench.doing(), job, &too_much).await);
    says(&asked, "sure", "395.00\u{a0}EUR is open");
    let early = PaymentForm { amount: "395".into(), day: "2026-03-01".into(), ..too_much.clone() };
    says(&faults(bench.shop.keep_payment(&bench.doing(), job, &early).await), "sure", "are both right?");
    // Three days after the deposit was asked, two weeks and more after the invoice.
    assert_eq!(bench.shop.money(bench.now()).await.unwrap().awaited[0].overdue, None);
    bench.wait(24 * 16);
    let waits = bench.shop.money(bench.now()).await.unwrap().awaited;
    let said = (waits[0].how_long.as_str(), waits[0].overdue.as_deref());
    assert_eq!(said, ("for 16 days", Some("overdue by 2 days")));
    let right = PaymentForm { amount: "395".into(), ..too_much };
    bench.shop.keep_payment(&bench.doing(), job, &right).await.unwrap();
    let view = bench.shop.charges(job, bench.now()).await.unwrap();
    assert_eq!((view.open.as_str(), view.over), ("0.00\u{a0}EUR", None));
    assert!(bench.shop.money(bench.now()).await.unwrap().awaited.is_empty());
}

#[tokio::test]
async fn what_goes_to_the_books_comes_back_as_it_was() {
    let bench = Bench::open().await;
    let job = bench.inline_four().await;
    charging(&bench).await;
    let odd = LineForm {
        kind: "supplies".into(),
        text: "=Oil, \"thick\"".into(),
        how_many: "2".into(),
        each: "10000000.00".into(),
        ..LineForm::default()
    };
    bench.shop.add_charge(&bench.doing(), job, &odd).await.unwrap();
    let lines: Vec<i64> = bench.shop.draw_up(job, bench.now()).await.unwrap().lines.iter().map(|row| row.id).collect();
    let form = InvoiceForm { lines, sure: true, ..InvoiceForm::default() };
    let number = bench.shop.issue_invoice(&bench.doing(), job, &form).await.unwrap();
    bench.shop.credit_invoice(&bench.doing(), job, &number, "a trial").await.unwrap();
    let text = bench.shop.invoices_csv().await.unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 2);
    assert_eq!((&rows[0][6], &rows[0][11], &rows[0][16]), ("'=Oil, \"thick\"", "20000000.00", "23800000.00"));
    assert_eq!((&rows[1][0], &rows[1][2], &rows[1][16]), ("2026-0002", "2026-0001", "-23800000.00"));
}
