//! Amounts, percentages, hours and numbers: decimals by ISO 4217, rounding by IEEE 754 and ISO 80000-1, all from
//! memory; the rest worked by hand.

use witnessmark::charges::currency::Currency;
use witnessmark::charges::hours::Quarters;
use witnessmark::charges::money::{Money, TooLarge};
use witnessmark::charges::number::{Number, NumberFault, Numbering};
use witnessmark::charges::odd::Odd;
use witnessmark::charges::percent::{Percent, PercentFault, TaxRate};
use witnessmark::charges::read::ReadFault;
use witnessmark::charges::rounding::{Prices, Rounding, TaxRounding, Terms};

use crate::charge_lines::{day, euro, minor, percent};

fn currency(code: &str) -> Currency {
    Currency::from_code(code).unwrap()
}

/// ISO 4217, minor units; from memory.
#[test]
fn decimals_of_currencies() {
    for code in
        ["EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "ZAR", "INR"]
    {
        assert_eq!(currency(code).decimals(), 2, "{code}");
    }
    for code in ["JPY", "KRW", "ISK", "CLP", "VND"] {
        assert_eq!(currency(code).decimals(), 0, "{code}");
    }
    for code in ["KWD", "BHD", "OMR", "JOD", "TND"] {
        assert_eq!(currency(code).decimals(), 3, "{code}");
    }
    assert_eq!(currency(" eur "), euro());
    assert!(Currency::from_code("XXQ").is_err());
}

#[test]
fn amounts_are_shown_in_their_decimals() {
    let shown = |code: &str, amount: i64| currency(code).show(minor(amount)).replace('\u{a0}', " ");
    assert_eq!(shown("EUR", 125_000), "1 250.00");
    assert_eq!(shown("EUR", 5), "0.05");
    assert_eq!(shown("EUR", -123_456_789), "−1 234 567.89");
    assert_eq!(shown("EUR", 99_999), "999.99");
    assert_eq!(shown("JPY", 1_250), "1 250");
    assert_eq!(shown("JPY", 0), "0");
    assert_eq!(shown("KWD", 1_250), "1.250");
    assert_eq!(euro().show_named(minor(1250)), "12.50\u{a0}EUR");
    assert_eq!(euro().plain(minor(-125_000)), "-1250.00");
    assert_eq!(currency("KWD").smallest(), "0.001\u{a0}KWD");
}

#[test]
fn amounts_are_read_as_typed() {
    let euros = |text: &str| euro().read(text).map(Money::minor);
    for text in
        ["1250.00", "1250,00", "1250", "1 250.00", "1'250,0", "1\u{202f}250", "1’250", "€1250", "1250 EUR", "eur 1250"]
    {
        assert_eq!(euros(text), Ok(125_000), "{text}");
    }
    assert_eq!(euros(".5"), Ok(50));
    assert_eq!(euros("12."), Ok(1200));
    assert_eq!(currency("JPY").read("¥ 1 250").map(Money::minor), Ok(1250));
    assert_eq!(currency("KWD").read("1.250").map(Money::minor), Ok(1250));
    assert_eq!(currency("KWD").read("1,25").map(Money::minor), Ok(1250));
}

#[test]
fn amounts_that_could_mean_two_things_are_refused() {
    let enter = "an amount such as 1250.00";
    let fault = |text: &str| euro().read(text).unwrap_err();
    assert_eq!(fault("1,250.00"), ReadFault::TwoMarks { text: "1,250.00".to_owned(), enter });
    for text in ["1,250", "1.250"] {
        assert_eq!(fault(text), ReadFault::Thousands { text: text.to_owned(), enter });
        assert!(matches!(currency("JPY").read(text), Err(ReadFault::Thousands { .. })));
    }
    assert!(matches!(currency("KWD").read("1,250"), Err(ReadFault::Thousands { .. })));
    assert!(matches!(currency("KWD").read("1.2505"), Err(ReadFault::TooFine { .. })));
    assert!(matches!(fault("12.5055"), ReadFault::TooFine { .. }));
    assert!(matches!(fault("12 50"), ReadFault::Groups { .. }));
    assert!(matches!(fault("1250 000"), ReadFault::Groups { .. }));
    assert!(matches!(fault("-5"), ReadFault::BelowZero { .. }));
    assert!(matches!(fault("  "), ReadFault::Empty { .. }));
    assert!(matches!(fault("99999999999999999999.5"), ReadFault::TooLarge { .. }));
    assert!(matches!(fault(&"9".repeat(41)), ReadFault::TooLong { .. }));
    for text in ["12a", ".", "1e5", "NaN", "1..5", "$5", "٣", "1. 5"] {
        assert!(matches!(fault(text), ReadFault::NoNumber { .. }), "{text}");
    }
    assert_eq!(
        fault("1,250").to_string(),
        "“1,250” could be thousands or a fraction: set thousands apart by a space, and enter an amount such as 1250.00"
    );
}

#[test]
fn amounts_end_somewhere() {
    let most = minor(1_000_000_000_000_000);
    assert_eq!(most.plus(minor(1)), Err(TooLarge));
    assert_eq!((-most).less(minor(1)), Err(TooLarge));
    assert_eq!(Money::from_minor(i64::MIN), Err(TooLarge));
    assert_eq!(Money::sum([most, minor(5), -most]), Ok(minor(5)), "only the sum must be an amount");
    assert_eq!(percent("19").on_top_of(most, Rounding::HalfToEven), Err(TooLarge));
}

#[test]
fn percentages_are_exact() {
    for (text, ppm) in
        [("19", 190_000), ("7.5", 75_000), ("8,875 %", 88_750), ("0", 0), ("0.0001%", 1), ("1000", 10_000_000)]
    {
        assert_eq!(Percent::read(text).map(Percent::ppm), Ok(ppm), "{text}");
    }
    assert_eq!(percent("8.8750").show(), "8.875\u{a0}%");
    assert_eq!(percent("100").figures(), "100");
    assert!(matches!(Percent::read("0.00001"), Err(PercentFault::Read(ReadFault::TooFine { .. }))));
    assert_eq!(Percent::read("1000.0001"), Err(PercentFault::TooLarge));
}

/// A tax of 190 is refused with words, one of 31 asked about.
#[test]
fn rates_of_tax() {
    assert_eq!(
        TaxRate::new(percent("190")).unwrap_err().to_string(),
        "a tax of 190\u{a0}% is more than the price itself: enter a rate such as 19 or 8.875"
    );
    assert!(TaxRate::new(percent("100.0001")).is_err());
    assert_eq!(TaxRate::new(percent("100")).map(TaxRate::percent), Ok(Percent::HUNDRED));
    assert_eq!(TaxRate::new(percent("30")).unwrap().odd(), None);
    let odd = TaxRate::new(percent("31")).unwrap().odd().unwrap();
    assert_eq!(odd.words(euro()), "A tax of 31\u{a0}% is unusually high: is it right?");
}

/// Halves in units: IEEE 754 roundTiesToEven and roundTiesToAway; from memory.
#[test]
fn halves() {
    let half = percent("50");
    for (amount, away, even) in [(1, 1, 0), (3, 2, 2), (5, 3, 2), (7, 4, 4), (-1, -1, 0), (-3, -2, -2), (-5, -3, -2)] {
        assert_eq!(half.of(minor(amount), Rounding::HalfAwayFromZero), Ok(minor(away)), "{amount}");
        assert_eq!(half.of(minor(amount), Rounding::HalfToEven), Ok(minor(even)), "{amount}");
    }
}

/// ISO 80000-1, annex on rounding, range 0.1: 12.25 is 12.2 by its rule A and 12.3 by rule B; 12.35 is 12.4 by both;
/// 12.223 is 12.2, 12.251 and 12.275 are 12.3. From memory.
#[test]
fn rounding_range_of_a_tenth() {
    for (thousandths, to_even, away) in
        [(12_250, 122, 123), (12_350, 124, 124), (12_223, 122, 122), (12_251, 123, 123), (12_275, 123, 123)]
    {
        assert_eq!(percent("1").of(minor(thousandths), Rounding::HalfToEven), Ok(minor(to_even)));
        assert_eq!(percent("1").of(minor(thousandths), Rounding::HalfAwayFromZero), Ok(minor(away)));
    }
}

/// By hand: 8.875 % of 100.00 is 8.875; 10 % of 1 985 JPY is 198.5; 5 % of 1.250 KWD is 0.062 5.
#[test]
fn parts_of_amounts() {
    let both = |rate: &str, amount| {
        Rounding::ALL.map(|rounding| percent(rate).of(minor(amount), rounding).map(Money::minor).unwrap())
    };
    assert_eq!(both("8.875", 10_000), [888, 888]);
    assert_eq!(both("10", 1_985), [199, 198]);
    assert_eq!(both("5", 1_250), [63, 62]);
    assert_eq!(percent("25").on_top_of(minor(2_340), Rounding::HalfToEven), Ok(minor(2_925)));
}

#[test]
fn the_rule_stands_in_words() {
    assert_eq!(
        Terms::default().words(euro()),
        "Prices are before tax. Tax is worked out on the total of each rate. \
         Amounts and tax are rounded to 0.01\u{a0}EUR, halves away from zero."
    );
    let terms =
        Terms { prices: Prices::TaxIncluded, rounding: Rounding::HalfToEven, tax_rounding: TaxRounding::EachLine };
    assert_eq!(
        terms.words(currency("JPY")),
        "Prices include tax. Tax is worked out on each line. \
         Amounts and tax are rounded to 1\u{a0}JPY, halves to the even figure."
    );
}

#[test]
fn hours_as_typed() {
    for text in ["1.5", "1,5", "1.50 h", "1½", "1 ½ h", "1:30", "90 min", "1.5 hours", " 1.5h "] {
        assert_eq!(Quarters::read(text), Ok(Quarters(6)), "{text}");
    }
    for (text, quarters) in [("0.25", 1), ("¼", 1), ("¾ h", 3), ("8", 32), ("0:15", 1), ("10000", 40_000)] {
        assert_eq!(Quarters::read(text), Ok(Quarters(quarters)), "{text}");
    }
    assert_eq!(
        Quarters::read("1.4").unwrap_err().to_string(),
        "“1.4” is no whole quarter of an hour: enter 1.25 or 1.5"
    );
    assert!(matches!(Quarters::read("0:20"), Err(ReadFault::NoQuarter { .. })));
    assert!(matches!(Quarters::read("10000.25"), Err(ReadFault::TooLarge { .. })));
    for text in ["1:75", "1:0", "1:015", "1:+5", "h", "", "min", "-1", "1.333", "abc", "1:30:00", "999999999999 min"] {
        assert!(Quarters::read(text).is_err(), "{text}");
    }
    assert_eq!(Quarters(7).show(), "1.75\u{a0}h");
    assert_eq!(Quarters(8).show(), "2\u{a0}h");
}

/// By hand: 1.75 h at 85.55 is 149.712 5; 0.25 h at 0.10 is 0.025.
#[test]
fn labour() {
    assert_eq!(Quarters(7).at(minor(8_555), Rounding::HalfAwayFromZero), Ok(minor(14_971)));
    assert_eq!(Quarters(1).at(minor(10), Rounding::HalfAwayFromZero), Ok(minor(3)));
    assert_eq!(Quarters(1).at(minor(10), Rounding::HalfToEven), Ok(minor(2)));
}

#[test]
fn numbers_follow_without_gaps() {
    let number = |text: &str| text.parse::<Number>().unwrap();
    let next = |last: Option<&str>, numbering, year| {
        Number::next(last.map(number), numbering, year).map(|number| number.to_string())
    };
    assert_eq!(next(None, Numbering::ByYear, 2026), Ok("2026-0001".to_owned()));
    assert_eq!(next(Some("2026-0042"), Numbering::ByYear, 2026), Ok("2026-0043".to_owned()));
    assert_eq!(next(Some("2026-9999"), Numbering::ByYear, 2026), Ok("2026-10000".to_owned()));
    assert_eq!(next(Some("2026-0042"), Numbering::ByYear, 2027), Ok("2027-0001".to_owned()));
    assert_eq!(next(None, Numbering::Plain, 2026), Ok("1".to_owned()));
    assert_eq!(next(Some("99"), Numbering::Plain, 2026), Ok("100".to_owned()));
    let last = number("2027-0001");
    assert_eq!(next(Some("2027-0001"), Numbering::ByYear, 2026), Err(NumberFault::YearBack { last, year: 2026 }));
    assert_eq!(next(Some("7"), Numbering::ByYear, 2026), Err(NumberFault::OtherWay(number("7"))));
    assert_eq!(next(Some("4294967295"), Numbering::Plain, 2026), Err(NumberFault::UsedUp(number("4294967295"))));
    assert!(number("2026-0043").follows(number("2026-0042")));
    assert!(number("2027-0001").follows(number("2026-0042")));
    for (before, after) in
        [("2026-0042", "2026-0044"), ("2026-0042", "2027-0002"), ("2027-0001", "2026-0002"), ("1", "3")]
    {
        assert!(!number(after).follows(number(before)), "{after} after {before}");
    }
    for text in ["2026-42", "0042", "", "2026-0000", "0", "+7", "2026-", "-1", "2026-0042 ", "26-0001", "2026-00042"] {
        assert!(text.parse::<Number>().is_err(), "“{text}”");
    }
}

#[test]
fn what_is_odd_is_asked_about() {
    let odd = Odd::if_out_of_order("the invoice", day("2026-05-04"), "the payment", day("2026-05-02")).unwrap();
    assert_eq!(
        odd.words(euro()),
        "The dates are out of order: the payment 2026-05-02, the invoice 2026-05-04. Are both right?"
    );
    assert_eq!(Odd::if_out_of_order("a", day("2026-05-04"), "b", day("2026-05-04")), None);
}
