//! Totals: sums hold to the last coin under every rounding, the order of lines changes nothing, and all is as decimal
//! arithmetic of another making has it.

use proptest::prelude::*;
use rust_decimal::{Decimal, RoundingStrategy};
use witnessmark::charges::discount::{Discount, Much, On};
use witnessmark::charges::line::{HowMany, Kind, Line, Price, Priced};
use witnessmark::charges::money::Money;
use witnessmark::charges::percent::Percent;
use witnessmark::charges::rounding::{Prices, Rounding, TaxRounding, Terms};
use witnessmark::charges::tax::TaxTable;
use witnessmark::charges::total::{Sum, Total, total};

use crate::charge_lines::{at_rate, line, minor, taxes};

/// Lines up to 10⁹ minor units each, of every kind, at three rates, charged and not.
pub fn lines() -> impl Strategy<Value = Vec<Line>> {
    let one = (
        proptest::sample::select(Kind::ALL.to_vec()),
        prop_oneof![1_i64..=20, 1_i64..=5_000],
        prop_oneof![0_i64..=50, 0_i64..=1_000_000_000],
        0_u32..=1_000_000,
        proptest::sample::select(vec!["standard", "reduced", "none"]),
        0_u8..10,
    );
    proptest::collection::vec(one, 1..12).prop_map(|drawn| {
        let drawn = drawn.into_iter().zip(1..);
        drawn
            .map(|((kind, quarters, each, ppm, rate, priced), id)| {
                let mark_up = if kind.may_be_marked_up() { ppm } else { 0 };
                let price = Price { each: minor(each), mark_up: Percent::from_ppm(mark_up).unwrap() };
                let priced = match priced {
                    0 => Priced::Warranty(price),
                    1 => Priced::OwnError(price),
                    2 if kind == Kind::Part => Priced::CustomersOwn,
                    _ => Priced::Charged(price),
                };
                let thousandths = if kind == Kind::Labour { quarters * 250 } else { quarters * 333 };
                at_rate(Line { priced, ..line(id, kind, thousandths, each) }, rate)
            })
            .collect()
    })
}

/// At most two discounts of up to 40 % each, so that something is left.
pub fn discounts() -> impl Strategy<Value = Vec<Discount>> {
    let one = (proptest::sample::select(vec![On::Labour, On::Parts, On::Everything]), 0_u32..=400_000);
    let discount =
        |(on, ppm)| Discount { text: "Goodwill".to_owned(), on, much: Much::Percent(Percent::from_ppm(ppm).unwrap()) };
    proptest::collection::vec(one.prop_map(discount), 0..3)
}

pub fn terms() -> impl Strategy<Value = Terms> {
    let of = |(prices, rounding, tax_rounding)| Terms { prices, rounding, tax_rounding };
    (
        proptest::sample::select(Prices::ALL.to_vec()),
        proptest::sample::select(Rounding::ALL.to_vec()),
        proptest::sample::select(TaxRounding::ALL.to_vec()),
    )
        .prop_map(of)
}

pub fn table() -> impl Strategy<Value = TaxTable> {
    let rate = || proptest::sample::select(vec!["0", "5.5", "7", "8.875", "19", "25", "100", "0.0001"]);
    (rate(), rate()).prop_map(|(standard, reduced)| taxes(standard, reduced))
}

fn sum_of(sums: impl IntoIterator<Item = Sum>) -> Sum {
    sums.into_iter().fold(Sum::default(), |so_far, sum| so_far.plus(sum).unwrap())
}

fn decimal(money: Money) -> Decimal {
    Decimal::from(money.minor())
}

fn rounded(exact: Decimal, rounding: Rounding) -> Decimal {
    exact.round_dp_with_strategy(
        0,
        match rounding {
            Rounding::HalfAwayFromZero => RoundingStrategy::MidpointAwayFromZero,
            Rounding::HalfToEven => RoundingStrategy::MidpointNearestEven,
        },
    )
}

/// What a line comes to, by decimal arithmetic.
fn reference_amount(line: &Line, rounding: Rounding) -> Decimal {
    let Priced::Charged(price) = line.priced else { return Decimal::ZERO };
    let each = decimal(price.each) * (Decimal::ONE + Decimal::new(i64::from(price.mark_up.ppm()), 6));
    let amount = rounded(rounded(each, rounding) * Decimal::new(line.how_many.thousandths(), 3), rounding);
    if line.kind == Kind::CoreReturned { -amount } else { amount }
}

/// Net, tax and gross of amounts at a rate, by decimal arithmetic.
fn reference_sum(amounts: &[Decimal], percent: Percent, terms: Terms) -> (Decimal, Decimal, Decimal) {
    let p = Decimal::new(i64::from(percent.ppm()), 6);
    let amount: Decimal = amounts.iter().sum();
    let tax_of = |amount: Decimal| match terms.prices {
        Prices::BeforeTax => rounded(amount * p, terms.rounding),
        Prices::TaxIncluded => rounded(amount * p / (Decimal::ONE + p), terms.rounding),
    };
    let tax = match terms.tax_rounding {
        TaxRounding::TotalPerRate => tax_of(amount),
        TaxRounding::EachLine => amounts.iter().map(|amount| tax_of(*amount)).sum(),
    };
    match terms.prices {
        Prices::BeforeTax => (amount, tax, amount + tax),
        Prices::TaxIncluded => (amount - tax, tax, amount),
    }
}

fn price_basis(sum: Sum, terms: Terms) -> Money {
    match terms.prices {
        Prices::BeforeTax => sum.net,
        Prices::TaxIncluded => sum.gross,
    }
}

fn sums(total: &Total) -> (Sum, Vec<Sum>) {
    (total.sum, total.by_rate.iter().map(|rate| rate.sum).collect())
}

proptest! {
    #[test]
    fn sums_hold_under_every_rounding(lines in lines(), discounts in discounts(), terms in terms(), table in table()) {
        let total = total(&lines, &discounts, &table, terms).unwrap();
        let parts = || total.lines.iter().map(|part| part.sum).chain(total.discounts.iter().map(|part| part.sum));
        prop_assert_eq!(sum_of(parts()), total.sum);
        prop_assert_eq!(sum_of(total.by_rate.iter().map(|rate| rate.sum)), total.sum);
        for sum in parts().chain([total.sum]).chain(total.by_rate.iter().map(|rate| rate.sum)) {
            prop_assert_eq!(sum.net.plus(sum.tax), Ok(sum.gross));
        }
        let amounts = total.lines.iter().map(|part| part.amount).chain(total.discounts.iter().map(|part| part.amount));
        prop_assert_eq!(Money::sum(amounts), Ok(price_basis(total.sum, terms)));
        for (part, line) in total.lines.iter().zip(&lines) {
            prop_assert_eq!(part.id, line.id);
            prop_assert_eq!(Ok(part.amount), line.amount(terms.rounding));
            prop_assert_eq!(part.amount, price_basis(part.sum, terms));
        }
    }

    #[test]
    fn decimal_arithmetic_agrees(lines in lines(), discounts in discounts(), terms in terms(), table in table()) {
        let total = total(&lines, &discounts, &table, terms).unwrap();
        for (part, line) in total.lines.iter().zip(&lines) {
            prop_assert_eq!(decimal(part.amount), reference_amount(line, terms.rounding));
        }
        for rate in &total.by_rate {
            let of_lines = lines.iter().filter(|line| line.tax == rate.key);
            let amounts: Vec<Decimal> = of_lines
                .map(|line| reference_amount(line, terms.rounding))
                .chain(total.discounts.iter().filter(|part| part.tax == rate.key).map(|part| decimal(part.amount)))
                .collect();
            let expected = reference_sum(&amounts, rate.rate.percent(), terms);
            prop_assert_eq!((decimal(rate.sum.net), decimal(rate.sum.tax), decimal(rate.sum.gross)), expected);
        }
        for (at, discount) in discounts.iter().enumerate() {
            let Much::Percent(percent) = discount.much else { unreachable!("only percentages are drawn") };
            let covered = |kind: Kind| match discount.on {
                On::Labour => kind == Kind::Labour,
                On::Parts => kind == Kind::Part,
                On::Everything => !matches!(kind, Kind::CoreDeposit | Kind::CoreReturned),
            };
            let given_on = lines.iter().filter(|line| covered(line.kind));
            let base: Decimal = given_on.map(|line| reference_amount(line, terms.rounding)).sum();
            let expected = rounded(base * Decimal::new(i64::from(percent.ppm()), 6), terms.rounding);
            let shares = total.discounts.iter().filter(|part| part.discount == at);
            prop_assert_eq!(shares.map(|part| -decimal(part.amount)).sum::<Decimal>(), expected);
        }
    }

    /// Neither the order of lines nor that of discounts changes a sum.
    #[test]
    fn permuting_changes_nothing(
        (lines, shuffled) in lines().prop_flat_map(|lines| (Just(lines.clone()), Just(lines).prop_shuffle())),
        discounts in discounts(), terms in terms(), table in table(),
    ) {
        let before = total(&lines, &discounts, &table, terms).unwrap();
        let turned: Vec<Discount> = discounts.into_iter().rev().collect();
        prop_assert_eq!(sums(&total(&shuffled, &turned, &table, terms).unwrap()), sums(&before));
    }

    /// Taxes of parts are parts of the tax: exactly where each line is rounded, else within a coin for each rate.
    #[test]
    fn taxes_of_parts(lines in lines(), at in 0_usize..12, terms in terms(), table in table()) {
        let (first, second) = lines.split_at(at.min(lines.len()));
        let of = |lines: &[Line]| total(lines, &[], &table, terms).unwrap().sum;
        let (whole, parts) = (of(&lines), of(first).plus(of(second)).unwrap());
        match terms.tax_rounding {
            TaxRounding::EachLine => prop_assert_eq!(parts, whole),
            TaxRounding::TotalPerRate => prop_assert!((parts.tax.minor() - whole.tax.minor()).abs() <= 3),
        }
    }

    /// Each line's part of the tax lies within a coin of its exact tax, and nothing uncharged is taxed.
    #[test]
    fn parts_are_near_their_exact_tax(lines in lines(), terms in terms(), table in table()) {
        let total = total(&lines, &[], &table, terms).unwrap();
        for (part, line) in total.lines.iter().zip(&lines) {
            let ppm = i128::from(table.get(&line.tax).unwrap().rate.percent().ppm());
            let whole = 1_000_000 + if terms.prices == Prices::TaxIncluded { ppm } else { 0 };
            let off = i128::from(part.sum.tax.minor()) * whole - i128::from(part.amount.minor()) * ppm;
            prop_assert!(off.abs() < whole);
        }
    }

    /// A discount of any amount up to all that is discountable takes exactly that, and leaves no rate below zero.
    #[test]
    fn amounts_off(lines in lines(), portions in proptest::collection::vec(0_i64..=100, 1..4), table in table()) {
        let terms = Terms::default();
        let core = |line: &Line| matches!(line.kind, Kind::CoreDeposit | Kind::CoreReturned);
        let lines: Vec<Line> = lines.into_iter().filter(|line| !core(line)).collect();
        let base = total(&lines, &[], &table, terms).unwrap().sum.net.minor();
        let all: i64 = portions.iter().sum::<i64>().max(1);
        let off = |amount| Discount { text: "Off".to_owned(), on: On::Everything, much: Much::Amount(minor(amount)) };
        let mut discounts: Vec<Discount> = portions.iter().map(|portion| off(base / all * portion)).collect();
        let rest = base - portions.iter().map(|portion| base / all * portion).sum::<i64>();
        discounts.push(off(rest));
        let free = total(&lines, &discounts, &table, terms).unwrap();
        prop_assert_eq!(free.sum.net, Money::ZERO);
        prop_assert!(free.by_rate.iter().all(|rate| rate.sum.net == Money::ZERO));
        discounts.push(off(1));
        prop_assert!(total(&lines, &discounts, &table, terms).is_err());
        discounts.truncate(1);
        let some = total(&lines, &discounts, &table, terms).unwrap();
        prop_assert!(some.by_rate.iter().all(|rate| rate.sum.net >= Money::ZERO));
    }

    /// Labour entered as hours on a line comes to hours times the rate.
    #[test]
    fn labour_lines_are_hours_at_a_rate(quarters in 1_u32..=10_000, rate in 0_i64..=1_000_000_000) {
        let hours = witnessmark::charges::hours::Quarters(quarters);
        let labour = line(1, Kind::Labour, HowMany::try_from(hours).unwrap().thousandths(), rate);
        for rounding in Rounding::ALL {
            prop_assert_eq!(labour.amount(rounding), Ok(hours.at(minor(rate), rounding).unwrap()));
        }
        prop_assert_eq!(labour.hours(), Some(hours));
    }
}
