//! Agreements, payments, endings and a day's hours: nothing is lost and nothing is counted twice.

use proptest::prelude::*;
use witnessmark::charges::glance::{Account, glance};
use witnessmark::charges::line::{Kind, Line};
use witnessmark::charges::money::Money;
use witnessmark::charges::payment::{Balance, Paid, Payment};
use witnessmark::charges::quote::{
    Agreement, Answer, Change, ChangeId, Cover, How, QuoteLine, QuoteLineId, Said, Under, covered,
};
use witnessmark::charges::rounding::Rounding;
use witnessmark::charges::settle::{Ending, settle, storage_weeks};
use witnessmark::charges::time::{Act, Habits, Proposed, propose};

use crate::charge_lines::{day, line, minor, untaxed};

const AWAY: Rounding = Rounding::HalfAwayFromZero;

fn answer() -> impl Strategy<Value = Answer> {
    let said = || Said { on: day("2026-04-02"), how: How::Signed, words: "As written".to_owned() };
    prop_oneof![
        1 => Just(Answer::NotAsked),
        1 => Just(Answer::Awaited { since: day("2026-04-01") }),
        1 => Just(Answer::Declined(said())),
        3 => Just(Answer::Agreed(said())),
    ]
}

fn agreement() -> impl Strategy<Value = Agreement> {
    let changes = proptest::collection::vec((-500_i64..1_000, answer()), 0..4);
    (proptest::collection::vec(0_i64..1_000, 0..4), answer(), 0_i64..500, changes).prop_map(
        |(lines, answer, limit, changes)| Agreement {
            lines: lines
                .into_iter()
                .zip(0..)
                .map(|(amount, id)| QuoteLine {
                    id: QuoteLineId(id),
                    step: None,
                    text: "Quoted".to_owned(),
                    hours: None,
                    amount: minor(amount),
                })
                .collect(),
            exclusions: Vec::new(),
            answer,
            without_calling: minor(limit),
            changes: changes
                .into_iter()
                .zip(0..)
                .map(|((price, answer), id)| Change {
                    id: ChangeId(id),
                    text: "Changed".to_owned(),
                    why: "found".to_owned(),
                    price: minor(price),
                    days: 0,
                    answer,
                })
                .collect(),
        },
    )
}

fn done() -> impl Strategy<Value = Vec<Line>> {
    let under = prop_oneof![
        (0_i64..5).prop_map(|id| Under::Quote(QuoteLineId(id))),
        (0_i64..5).prop_map(|id| Under::Change(ChangeId(id))),
        Just(Under::Nothing),
    ];
    let kind = prop_oneof![4 => Just(Kind::Part), 1 => Just(Kind::CoreReturned)];
    proptest::collection::vec((under, kind, 0_i64..600), 0..10).prop_map(|drawn| {
        let drawn = drawn.into_iter().zip(1..);
        drawn.map(|((under, kind, amount), id)| Line { under, ..line(id, kind, 1_000, amount) }).collect()
    })
}

fn payments() -> impl Strategy<Value = Vec<Payment>> {
    let paid = prop_oneof![
        any::<bool>().prop_map(|refundable| Paid::Deposit { refundable }),
        Just(Paid::Progress),
        Just(Paid::OnInvoice),
        Just(Paid::GivenBack),
    ];
    let payment = |(paid, amount)| Payment::new(paid, minor(amount), day("2026-05-01")).unwrap();
    proptest::collection::vec((paid, 1_i64..=1_000_000_000).prop_map(payment), 0..6)
}

proptest! {
    /// What is done is agreed, taken from what may be spent, or told as not agreed; no more is agreed than was.
    #[test]
    fn nothing_is_charged_silently(agreement in agreement(), done in done()) {
        let covered = covered(&agreement, &done, AWAY).unwrap();
        prop_assert_eq!(covered.lines.len(), done.len());
        prop_assert_eq!(covered.used.plus(covered.left), Ok(agreement.without_calling));
        prop_assert!(covered.left >= Money::ZERO);
        let parts = covered.lines.iter().map(|(_, cover)| match cover {
            Cover::Agreed => [Money::ZERO, Money::ZERO],
            Cover::WithoutCalling(part) => [*part, Money::ZERO],
            Cover::Nothing(part, _) => [Money::ZERO, *part],
        });
        let parts: Vec<[Money; 2]> = parts.collect();
        prop_assert_eq!(Money::sum(parts.iter().map(|part| part[0])), Ok(covered.used));
        prop_assert_eq!(Money::sum(parts.iter().map(|part| part[1])), Ok(covered.not_agreed));
        let charged = done.iter().map(|line| line.amount(AWAY).unwrap().above_zero());
        let agreed = Money::sum(charged).unwrap().less(covered.used).unwrap().less(covered.not_agreed).unwrap();
        prop_assert!(agreed >= Money::ZERO && agreed <= agreement.agreed().unwrap().above_zero());
    }

    /// What is done is invoiced or unbilled.
    #[test]
    fn nothing_done_is_forgotten(agreement in agreement(), done in done(), at in 0_usize..10, payments in payments()) {
        let (first, _) = done.split_at(at.min(done.len()));
        let invoices = if first.is_empty() { Vec::new() } else { vec![untaxed(1, "2026-05-04", first, &[])] };
        let account = Account {
            agreement: &agreement,
            done: &done,
            invoices: &invoices,
            deposit: None,
            payments: &payments,
            rounding: AWAY,
        };
        let glance = glance(account).unwrap();
        prop_assert_eq!(glance.invoiced.plus(glance.unbilled), Ok(glance.done));
        prop_assert_eq!(glance.open.less(glance.over), glance.invoiced.less(glance.paid));
        prop_assert!(glance.open == Money::ZERO || glance.over == Money::ZERO);
    }

    #[test]
    fn balances_balance(
        charged in proptest::collection::vec(-1_000_000_000_i64..=1_000_000_000, 0..6), payments in payments(),
    ) {
        let balance = Balance::of(charged.into_iter().map(minor), &payments).unwrap();
        prop_assert_eq!(balance.charged.plus(balance.over), balance.received.plus(balance.open));
        prop_assert!(balance.open >= Money::ZERO && balance.over >= Money::ZERO);
    }

    /// Whatever came in is counted, forfeited, held or given back; whatever is owed is counted or still to pay.
    #[test]
    fn settling_loses_nothing(owed in -1_000_000_000_i64..=5_000_000_000, payments in payments()) {
        for ending in Ending::ALL {
            let it = settle(ending, minor(owed), &payments).unwrap();
            prop_assert_eq!(Money::sum([it.counted, it.forfeited, it.held, it.refund]), Ok(it.received));
            prop_assert_eq!(it.counted.plus(it.to_pay), Ok(it.owed));
            prop_assert!([it.forfeited, it.held, it.refund, it.to_pay].iter().all(|part| *part >= Money::ZERO));
            prop_assert!(it.forfeited == Money::ZERO || ending == Ending::Cancelled);
            prop_assert!(it.held == Money::ZERO || ending == Ending::Parked);
            prop_assert!(it.to_pay == Money::ZERO || it.refund == Money::ZERO);
            let refundable = !payments.iter().any(|payment| payment.paid == Paid::Deposit { refundable: false });
            prop_assert!(it.forfeited == Money::ZERO || !refundable);
        }
    }

    #[test]
    fn storage_goes_by_weeks_begun(days in 0_i32..2_000, free in 0_u16..100) {
        let from = day("2026-05-01");
        let until = from.checked_add(jiff::Span::new().days(days)).unwrap();
        let weeks = i64::from(storage_weeks(from, until, free).unwrap());
        let charged = (i64::from(days) - i64::from(free)).max(0);
        prop_assert!(weeks * 7 >= charged && (weeks - 1) * 7 < charged.max(1));
        prop_assert!(days == 0 || storage_weeks(until, from, free).is_err());
    }

    /// Quarters sum to each person's rounded day, lie within a quarter of their minutes' share, and the order of acts
    /// changes nothing.
    #[test]
    fn a_day_is_shared_out(
        drawn in proptest::collection::vec((0_u8..3, 0_u16..1440, 0_u8..3, 0_u8..3), 0..40),
        gap in 0_u16..120, tail in 0_u16..60,
    ) {
        let acts: Vec<Act> = drawn
            .iter()
            .map(|&(person, minute, job, step)| Act {
                person: format!("P{person}"),
                minute,
                job: format!("J{job}"),
                step: (step > 0).then(|| format!("S{step}")),
            })
            .collect();
        let habits = Habits { longest_gap_min: gap.max(tail), tail_min: tail };
        let proposed = propose(&acts, habits).unwrap();
        let turned: Vec<Act> = acts.iter().rev().cloned().collect();
        prop_assert_eq!(&propose(&turned, habits).unwrap(), &proposed);
        for day in proposed.chunk_by(|one, next| one.person == next.person) {
            let minutes: u32 = day.iter().map(|it| it.minutes).sum();
            let quarters: u32 = day.iter().map(|it| it.hours.0).sum();
            prop_assert!(minutes.abs_diff(quarters * 15) <= 7, "{} min, {} quarters", minutes, quarters);
            prop_assert!(minutes <= 1440);
            for it in day.iter().filter(|_| minutes > 0) {
                prop_assert!((it.hours.0 * minutes).abs_diff(it.minutes * quarters) < minutes);
            }
        }
        for act in &acts {
            let of = |it: &&Proposed| (&it.person, &it.job, &it.step) == (&act.person, &act.job, &act.step);
            prop_assert!(proposed.iter().find(of).is_some());
        }
    }
}
