//! What lines come to. Worked by hand, the working beside each; no source, but that tax is so much of a price.

use witnessmark::charges::csv::to_csv;
use witnessmark::charges::discount::{Discount, DiscountFault, Much, On};
use witnessmark::charges::hours::Quarters;
use witnessmark::charges::invoice::{Draft, Invoice, InvoiceFault, invoiced_on, may_change};
use witnessmark::charges::line::{HowMany, Kind, Line, LineFault, LineId, Price, Priced, Why, labour_by_step};
use witnessmark::charges::money::Money;
use witnessmark::charges::number::Number;
use witnessmark::charges::percent::Percent;
use witnessmark::charges::rounding::{Prices, Rounding, TaxRounding, Terms};
use witnessmark::charges::tax::{Tax, TaxFault, TaxTable};
use witnessmark::charges::total::{Sum, TotalFault, total};

use crate::charge_lines::{at_rate, day, draft, line, minor, percent, taxes, untaxed};

const AWAY: Rounding = Rounding::HalfAwayFromZero;

fn sum(net: i64, tax: i64, gross: i64) -> Sum {
    Sum { net: minor(net), tax: minor(tax), gross: minor(gross) }
}

fn off(on: On, much: Much) -> Discount {
    Discount { text: "Goodwill".to_owned(), on, much }
}

fn marked_up(line: Line, each: i64, mark_up: &str) -> Line {
    Line { priced: Priced::Charged(Price { each: minor(each), mark_up: percent(mark_up) }), ..line }
}

/// 12.5 h × 85.00 = 1 062.50; 8 × 23.40 + 25 % = 8 × 29.25 = 234.00; 3 × 3.33 + 10 % = 3 × 3.66 (from 3.663) = 10.98;
/// sent out 480.00 + 15 % = 552.00; core deposit 150.00; 2.5 × 7.90 = 19.75. 10 % off all but the core deposit:
/// 187.92 of 1 879.23. Net 1 841.31, 19 % of it 349.85 (from 349.848 9).
#[test]
fn a_whole_invoice() {
    let lines = [
        line(1, Kind::Labour, 12_500, 8_500),
        marked_up(line(2, Kind::Part, 8_000, 0), 2_340, "25"),
        marked_up(line(3, Kind::Part, 3_000, 0), 333, "10"),
        marked_up(line(4, Kind::SentOut, 1_000, 0), 48_000, "15"),
        line(5, Kind::CoreDeposit, 1_000, 15_000),
        line(6, Kind::Supplies, 2_500, 790),
    ];
    let tenth = off(On::Everything, Much::Percent(percent("10")));
    let total = total(&lines, &[tenth], &taxes("19", "7"), Terms::default()).unwrap();
    let amounts: Vec<i64> = total.lines.iter().map(|part| part.amount.minor()).collect();
    assert_eq!(amounts, [106_250, 23_400, 1_098, 55_200, 15_000, 1_975]);
    assert_eq!(total.discounts[0].amount, minor(-18_792));
    assert_eq!(total.sum, sum(184_131, 34_985, 219_116));
    assert_eq!(total.by_rate.len(), 1, "only rates that lines stand at");
}

/// 10.00 off 100.00 at 19 % and 50.00 at 7 %: 6.67 and 3.33. Then 19 % of 93.33 is 17.73, 7 % of 46.67 is 3.27.
#[test]
fn a_discount_over_two_rates() {
    let lines = [line(1, Kind::Labour, 1_000, 10_000), at_rate(line(2, Kind::Part, 1_000, 5_000), "reduced")];
    let total = total(&lines, &[off(On::Everything, Much::Amount(minor(1_000)))], &taxes("19", "7"), Terms::default());
    let total = total.unwrap();
    assert_eq!(total.discounts.iter().map(|part| part.amount.minor()).collect::<Vec<_>>(), [-667, -333]);
    assert_eq!(total.by_rate[0].sum, sum(9_333, 1_773, 11_106));
    assert_eq!(total.by_rate[1].sum, sum(4_667, 327, 4_994));
    assert_eq!(total.sum, sum(14_000, 2_100, 16_100));
}

/// 20 % of 100.00 labour is 20.00; 10 % of 150.00 in all is 15.00, taken from the 130.00 left: 80 to 50, 9.23 and 5.77.
#[test]
fn a_discount_on_labour_comes_first() {
    let lines = [line(1, Kind::Labour, 1_000, 10_000), at_rate(line(2, Kind::Part, 1_000, 5_000), "none")];
    let discounts = [off(On::Everything, Much::Percent(percent("10"))), off(On::Labour, Much::Percent(percent("20")))];
    let total = total(&lines, &discounts, &taxes("19", "7"), Terms::default()).unwrap();
    let shares: Vec<_> = total.discounts.iter().map(|part| (part.discount, part.amount.minor())).collect();
    assert_eq!(shares, [(0, -923), (0, -577), (1, -2_000)]);
    assert_eq!(total.sum.net, minor(11_500));
}

#[test]
fn discounts_that_cannot_be() {
    let lines = [line(1, Kind::Labour, 1_000, 10_000), line(2, Kind::CoreDeposit, 1_000, 10_000)];
    let fault = |discounts: &[Discount]| match total(&lines, discounts, &taxes("19", "7"), Terms::default()) {
        Err(TotalFault::Discount(fault)) => fault,
        other => panic!("{other:?}"),
    };
    let too_much = [off(On::Everything, Much::Amount(minor(10_001)))];
    assert!(matches!(fault(&too_much), DiscountFault::AboveCharges(_)), "no discount on a core deposit");
    let nothing_there = [off(On::Parts, Much::Amount(minor(1)))];
    assert!(matches!(fault(&nothing_there), DiscountFault::AboveCharges(_)));
    let both = [off(On::Labour, Much::Percent(percent("60"))), off(On::Everything, Much::Percent(percent("60")))];
    assert!(matches!(fault(&both), DiscountFault::AboveCharges(_)));
    assert!(matches!(fault(&[off(On::Labour, Much::Percent(percent("101")))]), DiscountFault::Percent(_)));
    assert!(matches!(fault(&[off(On::Labour, Much::Amount(minor(-1)))]), DiscountFault::BelowZero(_)));
}

/// 119.00 with 19 % in it: 19.00. 100.00: 15.97 (from 15.966 4), net 84.03.
#[test]
fn tax_included() {
    let terms = Terms { prices: Prices::TaxIncluded, ..Terms::default() };
    let of = |amount| total(&[line(1, Kind::Part, 1_000, amount)], &[], &taxes("19", "7"), terms).unwrap().sum;
    assert_eq!(of(11_900), sum(10_000, 1_900, 11_900));
    assert_eq!(of(10_000), sum(8_403, 1_597, 10_000));
}

/// Three lines of 0.33 at 19 %: 0.062 7 each is 0.06, together 0.18; on the total 0.188 1 is 0.19, of which the first
/// line has the odd cent.
#[test]
fn tax_of_each_line_and_of_the_total() {
    let lines: Vec<Line> = (1..=3).map(|id| line(id, Kind::Part, 1_000, 33)).collect();
    let taxes_of = |tax_rounding| {
        let terms = Terms { tax_rounding, ..Terms::default() };
        let total = total(&lines, &[], &taxes("19", "7"), terms).unwrap();
        (total.sum.tax.minor(), total.lines.iter().map(|part| part.sum.tax.minor()).collect::<Vec<_>>())
    };
    assert_eq!(taxes_of(TaxRounding::EachLine), (18, vec![6, 6, 6]));
    assert_eq!(taxes_of(TaxRounding::TotalPerRate), (19, vec![7, 6, 6]));
}

/// A thousand lines of 10⁹ minor units at 8.875 %: 10¹² and 88 750 000 000.
#[test]
fn large_amounts() {
    let lines: Vec<Line> = (0..1000).map(|id| line(id, Kind::Part, 1_000, 1_000_000_000)).collect();
    for tax_rounding in TaxRounding::ALL {
        let terms = Terms { tax_rounding, ..Terms::default() };
        let total = total(&lines, &[], &taxes("8.875", "7"), terms).unwrap();
        assert_eq!(total.sum, sum(1_000_000_000_000, 88_750_000_000, 1_088_750_000_000));
    }
    let beyond = [line(1, Kind::Part, 1_000_000_000, 1_000_000_001)];
    assert!(matches!(
        total(&beyond, &[], &taxes("19", "7"), Terms::default()),
        Err(TotalFault::Discount(DiscountFault::Line(LineFault::TooLarge(_))))
    ));
}

#[test]
fn shown_and_not_charged() {
    let price = Price { each: minor(8_000), mark_up: Percent::ZERO };
    let labour = line(1, Kind::Labour, 2_000, 8_000);
    let warranty = Line { priced: Priced::Warranty(price), ..labour.clone() };
    let own_error = Line { priced: Priced::OwnError(price), ..labour.clone() };
    let own_part = Line { priced: Priced::CustomersOwn, ..line(2, Kind::Part, 8_000, 0) };
    for (line, why, worth) in
        [(&warranty, Why::Warranty, 16_000), (&own_error, Why::OwnError, 16_000), (&own_part, Why::CustomersOwn, 0)]
    {
        assert_eq!(line.amount(AWAY), Ok(Money::ZERO));
        assert_eq!(line.worth(AWAY), Ok(minor(worth)));
        assert_eq!(line.not_charged(), Some(why));
    }
    let total = total(&[warranty, own_part], &[], &taxes("19", "7"), Terms::default()).unwrap();
    assert_eq!(total.sum, Sum::default());
    assert_eq!(total.lines.len(), 2);
}

#[test]
fn a_returned_core_is_given_back() {
    let lines = [line(1, Kind::CoreDeposit, 1_000, 15_000), line(2, Kind::CoreReturned, 1_000, 15_000)];
    let total = total(&lines, &[], &taxes("19", "7"), Terms::default()).unwrap();
    assert_eq!(total.lines[1].amount, minor(-15_000));
    assert_eq!(total.sum, Sum::default());
}

#[test]
fn kinds_are_kept_by_key() {
    for kind in Kind::ALL {
        assert_eq!(Kind::from_key(kind.key()), Some(kind));
        assert_eq!(serde_json::to_string(&kind).unwrap(), format!("\"{}\"", kind.key()), "as it is frozen");
    }
    assert_eq!(Kind::from_key("gift"), None);
}

#[test]
fn lines_that_cannot_be() {
    let labour = line(1, Kind::Labour, 1_000, 8_000);
    let fault = |line: Line| line.check().unwrap_err();
    assert_eq!(fault(Line { text: " ".to_owned(), ..labour.clone() }), LineFault::NoText);
    assert!(matches!(fault(marked_up(labour.clone(), 8_000, "10")), LineFault::MarkUp(_)));
    assert!(matches!(fault(Line { priced: Priced::CustomersOwn, ..labour.clone() }), LineFault::NoPart(_)));
    assert!(matches!(fault(line(1, Kind::Labour, 1_100, 8_000)), LineFault::NoQuarters(_)));
    assert!(matches!(fault(line(1, Kind::Part, 1_000, -1)), LineFault::BelowZero(_)));
    assert!(matches!(fault(Line { how_many: -HowMany::ONE, ..labour }), LineFault::HowMany));
    assert!(HowMany::read("0").is_err() && HowMany::read("1,000").is_err() && HowMany::read("1000000.001").is_err());
    assert_eq!(HowMany::read("2.5").map(HowMany::thousandths), Ok(2_500));
    let kept = |text: &str| serde_json::from_str::<HowMany>(text).ok();
    assert_eq!(kept("-1000"), Some(-HowMany::ONE), "what is given back");
    assert_eq!((kept("0"), kept("-9223372036854775808")), (None, None));
    let unknown = total(&[at_rate(line(1, Kind::Part, 1_000, 1), "luxury")], &[], &taxes("19", "7"), Terms::default());
    assert!(matches!(unknown, Err(TotalFault::Tax(TaxFault::Unknown(_)))));
}

#[test]
fn rates_offered_by_kind() {
    let of =
        |at: usize, usual_for: &[Kind]| Tax { usual_for: usual_for.to_vec(), ..taxes("19", "7").rates()[at].clone() };
    let table = TaxTable::new(vec![of(0, &[Kind::Part, Kind::Labour]), of(2, &[Kind::CoreDeposit])]).unwrap();
    assert_eq!(table.usual(Kind::Labour).map(|tax| tax.key.0.as_str()), Some("standard"));
    assert_eq!(table.usual(Kind::Storage), None);
    assert!(matches!(TaxTable::new(vec![of(0, &[]), of(0, &[])]), Err(TaxFault::Twice(_))));
    assert_eq!(TaxTable::new(vec![of(0, &[Kind::Part]), of(1, &[Kind::Part])]), Err(TaxFault::UsualTwice(Kind::Part)));
}

/// 1.5 h and 2 h at 80.00 on one step, 0.5 h on none; the half hour under warranty is not charged.
#[test]
fn labour_of_a_step() {
    let on = |id, thousandths, step: Option<&str>| Line {
        step: step.map(str::to_owned),
        ..line(id, Kind::Labour, thousandths, 8_000)
    };
    let free = Line {
        priced: Priced::Warranty(Price { each: minor(8_000), mark_up: Percent::ZERO }),
        ..on(4, 500, Some("bore"))
    };
    let lines = [on(1, 1_500, Some("bore")), on(2, 500, None), on(3, 2_000, Some("bore")), free];
    let steps = labour_by_step(&lines, AWAY).unwrap();
    let told: Vec<_> = steps.iter().map(|it| (it.step.as_deref(), it.hours, it.amount.minor())).collect();
    assert_eq!(told, [(None, Quarters(2), 4_000), (Some("bore"), Quarters(14), 28_000)]);
}

#[test]
fn a_line_is_invoiced_once_until_credited() {
    let lines = [line(1, Kind::Labour, 1_000, 8_000), line(2, Kind::Part, 1_000, 100)];
    let first = untaxed(1, "2026-05-04", &lines, &[]);
    let taxes = taxes("0", "0");
    let again = |count, lines: &[Line], issued: &[Invoice]| {
        Invoice::draw_up(draft(count, lines, &taxes, Terms::default()), issued).map(|invoice| invoice.number)
    };
    let issued = [first.clone()];
    assert_eq!(
        again(2, &lines[1..], &issued).unwrap_err().to_string(),
        "“Part 2” stands on invoice 2026-0001 already: to invoice it anew, credit 2026-0001 first"
    );
    assert_eq!(
        may_change(&lines[0], &issued).unwrap_err().to_string(),
        "“Labour 1” stands on invoice 2026-0001, which stays as issued: to change it, credit 2026-0001, then invoice anew"
    );
    let (second, third) = (Number::ByYear { year: 2026, count: 2 }, Number::ByYear { year: 2026, count: 3 });
    let credit = first.credit(second, day("2026-05-05"), "Wrong customer", &issued).unwrap();
    assert_eq!(credit.sum, -first.sum);
    assert_eq!(credit.undoes.as_ref().map(|undoes| undoes.number), Some(first.number));
    let issued = [first.clone(), credit.clone()];
    assert_eq!(invoiced_on(LineId(1), &issued), None);
    assert_eq!(may_change(&lines[0], &issued), Ok(()));
    assert_eq!(again(3, &lines, &issued), Ok(third));
    let refused =
        |invoice: &Invoice, number, reason| invoice.credit(number, day("2026-05-06"), reason, &issued).unwrap_err();
    assert_eq!(refused(&first, third, "Again"), InvoiceFault::Credited { number: first.number, by: second });
    assert_eq!(refused(&credit, third, "Again"), InvoiceFault::IsCredit(second));
    assert_eq!(first.credit(second, day("2026-05-05"), " ", &[]), Err(InvoiceFault::NoReason(first.number)));
    assert_eq!(again(2, &lines, &issued), Err(InvoiceFault::NumberTaken(second)));
    assert_eq!(again(3, &[], &[]), Err(InvoiceFault::Empty));
    assert!(matches!(again(3, &[lines[0].clone(), lines[0].clone()], &[]), Err(InvoiceFault::TwiceHere { .. })));
}

/// What is frozen comes back the same, and tells neither cost nor mark-up: 23.40 + 30 % is 30.42.
#[test]
fn an_invoice_tells_no_costs() {
    let lines = [marked_up(line(1, Kind::Part, 8_000, 0), 2_340, "30")];
    let taxes = taxes("19", "7");
    let invoice = Invoice::draw_up(draft(1, &lines, &taxes, Terms::default()), &[]).unwrap();
    let kept = serde_json::to_string(&invoice).unwrap();
    assert!(kept.contains("3042") && !kept.contains("2340") && !kept.contains("300000") && !kept.contains("mark"));
    assert_eq!(serde_json::from_str::<Invoice>(&kept).unwrap(), invoice);
    assert!(serde_json::from_str::<Invoice>(&kept.replace("EUR", "XXQ")).is_err());
}

/// 200.00 at 19 % is 238.00. Of 100.00 held 138.00 are left to pay, of 300.00 nothing, and never less; a credit is in full.
#[test]
fn what_came_in_before_is_taken_off_what_is_to_be_paid() {
    let lines = [line(1, Kind::Part, 2_000, 10_000)];
    let taxes = taxes("19", "7");
    for (held, before, to_pay) in [(0, 0, 23_800), (10_000, 10_000, 13_800), (30_000, 23_800, 0)] {
        let draft = Draft { held: minor(held), ..draft(1, &lines, &taxes, Terms::default()) };
        let invoice = Invoice::draw_up(draft, &[]).unwrap();
        assert_eq!((invoice.paid_before, invoice.to_pay()), (minor(before), Ok(minor(to_pay))), "{held}");
        let issued = [invoice.clone()];
        let number = Number::ByYear { year: 2026, count: 2 };
        let credit = invoice.credit(number, day("2026-05-05"), "wrong", &issued).unwrap();
        assert_eq!((credit.paid_before, credit.to_pay()), (minor(0), Ok(minor(-23_800))));
    }
}

/// RFC 4180: CR LF behind each record, quotes around fields with commas, quotes or line breaks, quotes doubled.
#[test]
fn comma_separated() {
    let text = |text: &str, line: Line| Line { text: text.to_owned(), ..line };
    let lines = [
        text("Bore, \"4.030\"\nand hone", line(1, Kind::Labour, 1_500, 8_000)),
        text(" =1+1", line(2, Kind::CoreReturned, 1_000, 100)),
    ];
    let (taxes, terms) = (taxes("8.875", "7"), Terms::default());
    let discounts = [off(On::Labour, Much::Amount(minor(1_000)))];
    let invoice = Invoice::draw_up(Draft { discounts: &discounts, ..draft(7, &lines, &taxes, terms) }, &[]).unwrap();
    assert_eq!(
        to_csv(&[invoice]),
        "number,date,undoes,row,kind,step,text,how_many,unit,price_each,not_charged,amount,tax_key,tax_percent,net,tax,gross,currency\r\n\
         2026-0007,2026-05-04,,1,labour,,\"Bore, \"\"4.030\"\"\nand hone\",1.5,pc,80.00,,120.00,standard,8.875,120.00,10.65,130.65,EUR\r\n\
         2026-0007,2026-05-04,,2,core-returned,,' =1+1,-1,pc,1.00,,-1.00,standard,8.875,-1.00,-0.09,-1.09,EUR\r\n\
         2026-0007,2026-05-04,,3,discount,,Goodwill,,,,,-10.00,standard,8.875,-10.00,-0.89,-10.89,EUR\r\n"
    );
}
