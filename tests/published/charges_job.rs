//! Agreements, payments, endings and a day's hours. Worked by hand; the rules are common practice or our own judgement,
//! no source.

use witnessmark::charges::glance::{Account, Glance, What, awaited, days_between, glance};
use witnessmark::charges::hours::Quarters;
use witnessmark::charges::line::{Kind, Line, Price, Priced};
use witnessmark::charges::money::Money;
use witnessmark::charges::number::Number;
use witnessmark::charges::odd::Odd;
use witnessmark::charges::payment::{Balance, DepositAsked, Paid, Payment, PaymentFault};
use witnessmark::charges::percent::Percent;
use witnessmark::charges::quote::{
    Agreement, Answer, Change, ChangeId, Cover, How, NotAgreed, QuoteLine, QuoteLineId, Said, Under, covered,
    hours_by_step,
};
use witnessmark::charges::rounding::Rounding;
use witnessmark::charges::settle::{Ending, Settlement, settle, storage_weeks};
use witnessmark::charges::time::{Act, Habits, TimeFault, propose};

use crate::charge_lines::{day, euro, line, minor, untaxed};

const AWAY: Rounding = Rounding::HalfAwayFromZero;

fn said(on: &str) -> Said {
    Said { on: day(on), how: How::Phone, words: "Go on".to_owned() }
}

fn yes() -> Answer {
    Answer::Agreed(said("2026-04-02"))
}

fn quoted(id: i64, step: Option<&str>, hours: Option<u32>, amount: i64) -> QuoteLine {
    QuoteLine {
        id: QuoteLineId(id),
        step: step.map(str::to_owned),
        text: format!("Quoted {id}"),
        hours: hours.map(Quarters),
        amount: minor(amount),
    }
}

fn change(id: i64, price: i64, days: i32, answer: Answer) -> Change {
    let (text, why) = ("Sleeve cylinder 4".to_owned(), "a crack in cylinder 4".to_owned());
    Change { id: ChangeId(id), text, why, price: minor(price), days, answer }
}

fn agreement(answer: Answer, changes: Vec<Change>) -> Agreement {
    Agreement {
        lines: vec![quoted(1, Some("bore"), Some(20), 50_000), quoted(2, None, None, 30_000)],
        exclusions: vec!["Cracks found later".to_owned()],
        answer,
        without_calling: minor(10_000),
        changes,
    }
}

fn done(id: i64, amount: i64, under: Under) -> Line {
    Line { under, ..line(id, Kind::Part, 1_000, amount) }
}

fn covers(agreement: &Agreement, lines: &[Line]) -> Vec<Cover> {
    covered(agreement, lines, AWAY).unwrap().lines.into_iter().map(|(_, cover)| cover).collect()
}

const FIRST: Under = Under::Quote(QuoteLineId(1));
const SECOND: Under = Under::Quote(QuoteLineId(2));
const CHANGE: Under = Under::Change(ChangeId(1));

/// 500.00 and 300.00 are agreed, 100.00 may be spent. 480 + 50 under the first: 30 beyond, so 70 left; 80 of no
/// agreement does not fit, 60 does and leaves 10.
#[test]
fn what_may_be_spent_without_calling() {
    let agreed = agreement(yes(), Vec::new());
    let lines = [
        done(1, 48_000, FIRST),
        done(2, 5_000, FIRST),
        done(3, 8_000, Under::Nothing),
        done(4, 6_000, Under::Nothing),
        done(5, 30_000, SECOND),
    ];
    assert_eq!(
        covers(&agreed, &lines),
        [
            Cover::Agreed,
            Cover::WithoutCalling(minor(3_000)),
            Cover::Nothing(minor(8_000), NotAgreed::Beyond),
            Cover::WithoutCalling(minor(6_000)),
            Cover::Agreed,
        ]
    );
    let covered = covered(&agreed, &lines, AWAY).unwrap();
    assert_eq!((covered.used, covered.left, covered.not_agreed), (minor(9_000), minor(1_000), minor(8_000)));
    assert_eq!(covers(&agreed, &[done(1, 10_000, Under::Nothing)]), [Cover::WithoutCalling(minor(10_000))]);
}

#[test]
fn what_is_not_agreed_is_told() {
    let line = [done(1, 2_000, CHANGE)];
    for (answer, cover) in [
        (yes(), Cover::Agreed),
        (Answer::NotAsked, Cover::Nothing(minor(2_000), NotAgreed::NotAsked)),
        (Answer::Awaited { since: day("2026-04-10") }, Cover::Nothing(minor(2_000), NotAgreed::Awaited)),
        (Answer::Declined(said("2026-04-11")), Cover::Nothing(minor(2_000), NotAgreed::Declined)),
    ] {
        assert_eq!(covers(&agreement(yes(), vec![change(1, 2_000, 1, answer.clone())]), &line), [cover]);
        let quote = covers(&agreement(answer, Vec::new()), &[done(1, 2_000, FIRST)]);
        assert_eq!(quote, [cover]);
    }
    let own_error = Line {
        priced: Priced::OwnError(Price { each: minor(99_999), mark_up: Percent::ZERO }),
        ..done(2, 0, Under::Nothing)
    };
    let given_back = Line { kind: Kind::CoreReturned, ..done(3, 99_999, Under::Nothing) };
    let declined = agreement(Answer::Declined(said("2026-04-02")), Vec::new());
    assert_eq!(covers(&declined, &[own_error, given_back]), [Cover::Agreed, Cover::Agreed]);
}

/// A change that leaves out 200.00 of the agreed 800.00: of 500 and 300 done, the last 200 are not agreed.
#[test]
fn what_was_left_out_is_not_charged() {
    let less = agreement(yes(), vec![change(1, -20_000, -2, yes())]);
    assert_eq!(less.agreed(), Ok(minor(60_000)));
    assert_eq!(less.days_later(), -2);
    assert_eq!(
        covers(&less, &[done(1, 50_000, FIRST), done(2, 30_000, SECOND)]),
        [Cover::Agreed, Cover::Nothing(minor(20_000), NotAgreed::Beyond)]
    );
}

#[test]
fn a_message_to_send() {
    assert_eq!(
        change(1, 45_000, 3, Answer::NotAsked).message("Job 12", euro()),
        "Job 12: a crack in cylinder 4\nWe propose: Sleeve cylinder 4\n\
         This costs 450.00\u{a0}EUR more. The engine is ready 3 days later.\n\
         Please answer yes or no. Until then this part of the work waits."
    );
    let less = change(1, -45_000, -1, Answer::NotAsked).message("Job 12", euro());
    assert!(less.contains("450.00\u{a0}EUR less. The engine is ready 1 day sooner."), "{less}");
}

/// Quoted 5 h to bore; worked 4 h, 1.5 h and half an hour of our own error; 1 h at nothing quoted.
#[test]
fn hours_quoted_and_worked() {
    let worked = |id, step: Option<&str>, thousandths| Line {
        step: step.map(str::to_owned),
        ..line(id, Kind::Labour, thousandths, 8_000)
    };
    let error = Line {
        priced: Priced::OwnError(Price { each: minor(8_000), mark_up: Percent::ZERO }),
        ..worked(3, Some("bore"), 500)
    };
    let lines = [
        worked(1, Some("bore"), 4_000),
        worked(2, Some("bore"), 1_500),
        error,
        worked(4, None, 1_000),
        Line { step: Some("deck".to_owned()), ..line(5, Kind::Part, 1_000, 1) },
    ];
    let quote = agreement(yes(), Vec::new());
    let steps = hours_by_step(&quote.lines, &lines);
    let told: Vec<_> =
        steps.iter().map(|it| (it.step.as_deref(), it.quoted.0, it.worked.0, it.not_charged.0)).collect();
    assert_eq!(told, [(None, 0, 4, 0), (Some("bore"), 20, 24, 2)]);
}

fn payment(paid: Paid, amount: i64, on: &str) -> Payment {
    Payment::new(paid, minor(amount), day(on)).unwrap()
}

/// 1 000.00 charged and 100.00 credited; 300.00 deposit, 700.00 paid, 50.00 given back: 950.00 came in for 900.00.
#[test]
fn balances() {
    let payments = [
        payment(Paid::Deposit { refundable: true }, 30_000, "2026-04-02"),
        payment(Paid::OnInvoice, 70_000, "2026-05-10"),
        payment(Paid::GivenBack, 5_000, "2026-05-11"),
    ];
    let balance = Balance::of([minor(100_000), minor(-10_000)], &payments).unwrap();
    assert_eq!(balance.charged, minor(90_000));
    assert_eq!(balance.received, minor(95_000));
    assert_eq!((balance.open, balance.over), (Money::ZERO, minor(5_000)));
    let balance = Balance::of([minor(100_000)], &payments[..1]).unwrap();
    assert_eq!((balance.open, balance.over), (minor(70_000), Money::ZERO));
    assert_eq!(Payment::new(Paid::OnInvoice, Money::ZERO, day("2026-05-10")), Err(PaymentFault::NotAboveZero));
}

#[test]
fn payments_asked_about() {
    let open = Balance { charged: minor(100), open: minor(100), ..Balance::default() };
    let invoice = Some(("the invoice", day("2026-05-04")));
    let asks = |payment: Payment, before| payment.odd(before, invoice, day("2026-05-20"));
    assert_eq!(asks(payment(Paid::OnInvoice, 100, "2026-05-04"), open), []);
    let above = asks(payment(Paid::OnInvoice, 101, "2026-05-20"), open);
    assert_eq!(above, [Odd::PaidAbove { paid: minor(101), open: minor(100) }]);
    assert_eq!(
        above[0].words(euro()),
        "1.01\u{a0}EUR is paid and 1.00\u{a0}EUR is open: is the amount right, and is the rest to be kept or given back?"
    );
    assert_eq!(asks(payment(Paid::Deposit { refundable: false }, 500, "2026-05-10"), open), []);
    let given = asks(payment(Paid::GivenBack, 1, "2026-05-10"), open);
    assert_eq!(given, [Odd::GivenBackAbove { given: minor(1), over: Money::ZERO }]);
    assert!(matches!(asks(payment(Paid::OnInvoice, 1, "2026-05-03"), open)[..], [Odd::OutOfOrder { .. }]));
    assert!(matches!(asks(payment(Paid::OnInvoice, 1, "2026-05-21"), open)[..], [Odd::OutOfOrder { .. }]));
}

/// 800.00 quoted and agreed, 550.00 done, of which 480.00 invoiced; 200.00 paid of a deposit of 300.00.
#[test]
fn a_job_at_a_glance() {
    let agreed = agreement(yes(), vec![change(1, 9_000, 2, Answer::Awaited { since: day("2026-05-11") })]);
    let lines = [done(1, 48_000, FIRST), done(2, 5_000, SECOND), done(3, 2_000, CHANGE)];
    let old = untaxed(1, "2026-05-01", &lines[..1], &[]);
    let number = Number::ByYear { year: 2026, count: 2 };
    let credit = old.credit(number, day("2026-05-02"), "Wrong address", &[]).unwrap();
    let mut invoices = vec![old, credit];
    invoices.push(untaxed(3, "2026-05-04", &lines[..1], &invoices));
    let payments = [payment(Paid::Deposit { refundable: true }, 20_000, "2026-04-20")];
    let account = Account {
        agreement: &agreed,
        done: &lines,
        invoices: &invoices,
        deposit: Some(DepositAsked { amount: minor(30_000), on: day("2026-04-02") }),
        payments: &payments,
        rounding: AWAY,
    };
    assert_eq!(
        glance(account),
        Ok(Glance {
            quoted: minor(80_000),
            agreed: minor(80_000),
            done: minor(55_000),
            unbilled: minor(7_000),
            not_agreed: minor(2_000),
            invoiced: minor(48_000),
            paid: minor(20_000),
            open: minor(28_000),
            over: Money::ZERO,
        })
    );
    let awaits: Vec<_> =
        awaited(account, day("2026-05-14")).unwrap().into_iter().map(|it| (it.what, it.days)).collect();
    assert_eq!(
        awaits,
        [
            (What::Deposit(minor(10_000)), 42),
            (What::Money(minor(28_000)), 10),
            (What::AnswerToChange("Sleeve cylinder 4".to_owned()), 3),
        ]
    );
    let asked = agreement(Answer::Awaited { since: day("2026-05-14") }, Vec::new());
    let awaits = awaited(Account { agreement: &asked, invoices: &[], deposit: None, ..account }, day("2026-05-14"));
    assert!(matches!(&awaits.unwrap()[..], [it] if it.what == What::AnswerToQuote && it.days == 0));
}

/// Money of two invoices of 100.00, 150.00 paid: the second is awaited, since its own date.
#[test]
fn the_oldest_invoice_is_paid_first() {
    let agreed = agreement(yes(), Vec::new());
    let lines = [done(1, 10_000, FIRST), done(2, 10_000, FIRST)];
    let second = untaxed(1, "2026-05-10", &lines[..1], &[]);
    let invoices = [second.clone(), untaxed(2, "2026-05-01", &lines[1..], &[second])];
    let payments = [payment(Paid::OnInvoice, 15_000, "2026-05-11")];
    let account = Account {
        agreement: &agreed,
        done: &lines,
        invoices: &invoices,
        deposit: None,
        payments: &payments,
        rounding: AWAY,
    };
    let awaits = awaited(account, day("2026-05-12")).unwrap();
    assert!(matches!(&awaits[..], [it] if it.what == What::Money(minor(5_000)) && it.days == 2), "{awaits:?}");
    let awaits = awaited(Account { payments: &[], ..account }, day("2026-05-12")).unwrap();
    assert!(matches!(&awaits[..], [it] if it.what == What::Money(minor(20_000)) && it.days == 11), "{awaits:?}");
}

/// Across the end of February of a leap year.
#[test]
fn days_between_dates() {
    assert_eq!(days_between(day("2028-02-28"), day("2028-03-01")), 2);
    assert_eq!(days_between(day("2026-12-31"), day("2026-12-30")), -1);
    assert_eq!(days_between(day("2024-01-01"), day("2026-01-01")), 731);
}

/// A refundable deposit of 200.00 and a forfeitable one of 500.00.
#[test]
fn endings() {
    let deposits = [
        payment(Paid::Deposit { refundable: true }, 20_000, "2026-04-02"),
        payment(Paid::Deposit { refundable: false }, 50_000, "2026-04-02"),
    ];
    let settled = |ending, owed| {
        let Settlement { counted, forfeited, held, refund, to_pay, .. } =
            settle(ending, minor(owed), &deposits).unwrap();
        [counted, forfeited, held, refund, to_pay].map(Money::minor)
    };
    assert_eq!(settled(Ending::Cancelled, 0), [0, 50_000, 0, 20_000, 0]);
    assert_eq!(settled(Ending::Cancelled, 30_000), [30_000, 20_000, 0, 20_000, 0]);
    assert_eq!(settled(Ending::Cancelled, 60_000), [60_000, 0, 0, 10_000, 0]);
    assert_eq!(settled(Ending::Cancelled, 90_000), [70_000, 0, 0, 0, 20_000]);
    assert_eq!(settled(Ending::Parked, 30_000), [30_000, 0, 40_000, 0, 0]);
    for ending in [Ending::HandedOver, Ending::ShortBlock, Ending::SoldOn, Ending::Scrapped] {
        assert_eq!(settled(ending, 30_000), [30_000, 0, 0, 40_000, 0]);
        assert_eq!(settled(ending, -10_000), [-10_000, 0, 0, 80_000, 0], "more cores came back than were charged");
    }
    assert_eq!(settled(Ending::Cancelled, -10_000), [-10_000, 50_000, 0, 30_000, 0]);
}

#[test]
fn weeks_begun() {
    let weeks = |until: &str, free| storage_weeks(day("2026-05-01"), day(until), free);
    assert_eq!(weeks("2026-05-01", 0), Ok(0));
    assert_eq!(weeks("2026-05-02", 0), Ok(1));
    assert_eq!(weeks("2026-05-08", 0), Ok(1));
    assert_eq!(weeks("2026-05-09", 0), Ok(2));
    assert_eq!(weeks("2026-05-15", 14), Ok(0));
    assert_eq!(weeks("2026-05-16", 14), Ok(1));
    assert_eq!(
        weeks("2026-04-30", 0).unwrap_err().to_string(),
        "it was fetched on 2026-04-30, before it was stored on 2026-05-01: set the dates right"
    );
}

fn act(person: &str, minute: u16, job: &str, step: Option<&str>) -> Act {
    Act { person: person.to_owned(), minute, job: job.to_owned(), step: step.map(str::to_owned) }
}

/// Ann: 8:00 and 8:30 bore, 9:10 deck, then a break of 50 min (tail 15), 10:00 other job (tail 15). Bore 30 + 40, deck
/// 15, other 15: 100 min, 7 quarters (6.67). Shares 4.9, 1.05, 1.05: 5, 1, 1. Bob at 23:55: 5 min to midnight, no
/// quarter.
#[test]
fn a_day_proposes_hours() {
    let acts = [
        act("Bob", 1435, "J1", None),
        act("Ann", 600, "J2", None),
        act("Ann", 480, "J1", Some("bore")),
        act("Ann", 550, "J1", Some("deck")),
        act("Ann", 510, "J1", Some("bore")),
    ];
    let proposed = propose(&acts, Habits::default()).unwrap();
    let told: Vec<_> = proposed
        .iter()
        .map(|it| (it.person.as_str(), it.job.as_str(), it.step.as_deref(), it.minutes, it.hours.0))
        .collect();
    assert_eq!(
        told,
        [
            ("Ann", "J1", Some("bore"), 70, 5),
            ("Ann", "J1", Some("deck"), 15, 1),
            ("Ann", "J2", None, 15, 1),
            ("Bob", "J1", None, 5, 0),
        ]
    );
}

/// A gap of 45 min is work, one of 46 a break.
#[test]
fn the_longest_gap() {
    let minutes = |gap: u16| {
        let acts = [act("Ann", 480, "J1", None), act("Ann", 480 + gap, "J1", None)];
        propose(&acts, Habits::default()).unwrap()[0].minutes
    };
    assert_eq!((minutes(45), minutes(46)), (60, 30));
}

#[test]
fn days_that_cannot_be() {
    assert_eq!(propose(&[act("Ann", 1440, "J1", None)], Habits::default()), Err(TimeFault::Minute(1440)));
    let habits = Habits { longest_gap_min: 10, tail_min: 11 };
    assert_eq!(propose(&[], habits), Err(TimeFault::Tail { tail_min: 11, longest_gap_min: 10 }));
    assert_eq!(propose(&[], Habits::default()), Ok(Vec::new()));
}
