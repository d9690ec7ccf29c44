//! Charged lines, rates and terms to try the room of charges on.

use jiff::civil::Date;
use witnessmark::charges::currency::Currency;
use witnessmark::charges::invoice::{Draft, Invoice};
use witnessmark::charges::line::{HowMany, Kind, Line, LineId, Price, Priced};
use witnessmark::charges::money::Money;
use witnessmark::charges::number::Number;
use witnessmark::charges::percent::{Percent, TaxRate};
use witnessmark::charges::quote::Under;
use witnessmark::charges::rounding::Terms;
use witnessmark::charges::tax::{Tax, TaxKey, TaxTable};

pub fn minor(minor: i64) -> Money {
    Money::from_minor(minor).expect("an amount")
}

pub fn percent(text: &str) -> Percent {
    Percent::read(text).expect("a percentage")
}

pub fn euro() -> Currency {
    Currency::from_code("EUR").expect("a currency")
}

pub fn day(text: &str) -> Date {
    text.parse().expect("a date")
}

/// Standard, reduced and none, at these percentages.
pub fn taxes(standard: &str, reduced: &str) -> TaxTable {
    let tax = |key: &str, rate: &str| Tax {
        key: TaxKey(key.to_owned()),
        title: format!("Tax {key}"),
        rate: TaxRate::new(percent(rate)).expect("a rate"),
        reason: None,
        usual_for: Vec::new(),
    };
    TaxTable::new(vec![tax("standard", standard), tax("reduced", reduced), tax("none", "0")]).expect("rates")
}

/// A charged line under no agreement, taxed at the standard rate.
pub fn line(id: i64, kind: Kind, thousandths: i64, each: i64) -> Line {
    Line {
        id: LineId(id),
        kind,
        text: format!("{} {id}", kind.title()),
        step: None,
        how_many: HowMany::from_thousandths(thousandths).expect("how many"),
        unit: "pc".to_owned(),
        priced: Priced::Charged(Price { each: minor(each), mark_up: Percent::ZERO }),
        tax: TaxKey("standard".to_owned()),
        under: Under::Nothing,
    }
}

pub fn at_rate(line: Line, key: &str) -> Line {
    Line { tax: TaxKey(key.to_owned()), ..line }
}

pub fn draft<'a>(count: u32, lines: &'a [Line], taxes: &'a TaxTable, terms: Terms) -> Draft<'a> {
    let number = Number::ByYear { year: 2026, count };
    Draft {
        number,
        on: day("2026-05-04"),
        currency: euro(),
        terms,
        taxes,
        lines,
        discounts: &[],
        held: Money::ZERO,
        pay_within: None,
    }
}

/// An invoice in default terms without tax.
pub fn untaxed(count: u32, on: &str, lines: &[Line], issued: &[Invoice]) -> Invoice {
    let taxes = taxes("0", "0");
    Invoice::draw_up(Draft { on: day(on), ..draft(count, lines, &taxes, Terms::default()) }, issued)
        .expect("an invoice")
}
