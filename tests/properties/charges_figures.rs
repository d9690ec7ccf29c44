//! Figures shown are read back; parts of amounts against decimal arithmetic of another making.

use proptest::prelude::*;
use rust_decimal::{Decimal, RoundingStrategy};
use witnessmark::charges::currency::Currency;
use witnessmark::charges::hours::Quarters;
use witnessmark::charges::line::HowMany;
use witnessmark::charges::money::Money;
use witnessmark::charges::number::{Number, Numbering};
use witnessmark::charges::percent::{Percent, TaxRate};
use witnessmark::charges::rounding::Rounding;

use crate::charge_lines::minor;

fn currency() -> impl Strategy<Value = Currency> {
    proptest::sample::select(Currency::all().collect::<Vec<_>>())
}

fn strategy(rounding: Rounding) -> RoundingStrategy {
    match rounding {
        Rounding::HalfAwayFromZero => RoundingStrategy::MidpointAwayFromZero,
        Rounding::HalfToEven => RoundingStrategy::MidpointNearestEven,
    }
}

proptest! {
    /// An amount shown, plain or named is read back.
    #[test]
    fn amounts_shown_are_read_back(currency in currency(), amount in 0_i64..=1_000_000_000_000_000) {
        let amount = minor(amount);
        for shown in [currency.show(amount), currency.show_named(amount), currency.plain(amount)] {
            prop_assert_eq!(currency.read(&shown), Ok(amount), "{}", shown);
        }
    }

    /// What other programs read is the same number.
    #[test]
    fn plain_amounts_are_decimal(currency in currency(), amount in -1_000_000_000_000_000_i64..=1_000_000_000_000_000) {
        let plain: Decimal = currency.plain(minor(amount)).parse().unwrap();
        prop_assert_eq!(plain, Decimal::new(amount, u32::from(currency.decimals())));
    }

    /// No text makes reading panic, and what is read is the number that another reader finds.
    #[test]
    fn any_text_is_read_or_refused(currency in currency(), text in "[0-9 ,.'−a-z€-]{0,12}") {
        if let Ok(amount) = currency.read(&text) {
            let plain: String = text.replace(',', ".").chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
            let expected: Decimal = format!("0{plain}").trim_end_matches('.').parse().unwrap();
            prop_assert_eq!(Decimal::new(amount.minor(), u32::from(currency.decimals())), expected);
        }
        let _ = (Quarters::read(&text), Percent::read(&text), HowMany::read(&text), text.parse::<Number>());
    }

    #[test]
    fn percentages_shown_are_read_back(ppm in 0_u32..=10_000_000) {
        let percent = Percent::from_ppm(ppm).unwrap();
        prop_assert_eq!(Percent::read(&percent.show()), Ok(percent));
        prop_assert_eq!(Percent::read(&percent.figures().replace('.', ",")), Ok(percent));
        prop_assert_eq!(TaxRate::new(percent).is_ok(), ppm <= 1_000_000);
    }

    #[test]
    fn hours_shown_are_read_back(quarters in 0_u32..=40_000) {
        let hours = Quarters(quarters);
        prop_assert_eq!(Quarters::read(&hours.show()), Ok(hours));
        prop_assert_eq!(Quarters::read(&format!("{}:{:02}", quarters / 4, quarters % 4 * 15)), Ok(hours));
        prop_assert_eq!(Quarters::read(&format!("{} min", u64::from(quarters) * 15)), Ok(hours));
    }

    #[test]
    fn how_many_is_read_back(thousandths in 1_i64..=1_000_000_000) {
        let how_many = HowMany::from_thousandths(thousandths).unwrap();
        prop_assert_eq!(HowMany::read(&how_many.figures()), Ok(how_many));
        prop_assert_eq!((-how_many).figures(), format!("-{}", how_many.figures()));
    }

    #[test]
    fn parts_are_those_of_decimal_arithmetic(
        ppm in 0_u32..=10_000_000, amount in -1_000_000_000_000_i64..=1_000_000_000_000,
    ) {
        let percent = Percent::from_ppm(ppm).unwrap();
        let exact = Decimal::from(amount) * Decimal::new(i64::from(ppm), 6);
        for rounding in Rounding::ALL {
            let part = percent.of(minor(amount), rounding).unwrap();
            prop_assert_eq!(Decimal::from(part.minor()), exact.round_dp_with_strategy(0, strategy(rounding)));
            prop_assert_eq!(percent.of(minor(-amount), rounding), Ok(-part));
            let on_top = percent.on_top_of(minor(amount), rounding).unwrap();
            let exact = Decimal::from(amount) + exact;
            prop_assert_eq!(Decimal::from(on_top.minor()), exact.round_dp_with_strategy(0, strategy(rounding)));
        }
    }

    #[test]
    fn labour_is_that_of_decimal_arithmetic(quarters in 0_u32..=40_000, rate in 0_i64..=1_000_000_000) {
        let exact = Decimal::from(quarters) * Decimal::from(rate) / Decimal::from(4);
        for rounding in Rounding::ALL {
            let labour = Quarters(quarters).at(minor(rate), rounding).unwrap();
            prop_assert_eq!(Decimal::from(labour.minor()), exact.round_dp_with_strategy(0, strategy(rounding)));
        }
    }

    /// Each number follows the one before, is read back as shown, and skips none.
    #[test]
    fn numbers_have_no_gaps(years in proptest::collection::vec(0_u16..2, 1..40), by_year: bool) {
        let numbering = if by_year { Numbering::ByYear } else { Numbering::Plain };
        let (mut year, mut last) = (2026, None::<Number>);
        for later in years {
            year += later;
            let number = Number::next(last, numbering, year).unwrap();
            prop_assert_eq!(number.to_string().parse(), Ok(number));
            if let Some(last) = last {
                prop_assert!(number.follows(last) && !last.follows(number) && number > last);
            }
            last = Some(number);
        }
    }

    #[test]
    fn sums_are_exact(amounts in proptest::collection::vec(-1_000_000_000_i64..=1_000_000_000, 0..50)) {
        let sum = Money::sum(amounts.iter().map(|amount| minor(*amount))).unwrap();
        prop_assert_eq!(sum.minor(), amounts.iter().sum::<i64>());
        prop_assert_eq!(sum.less(sum), Ok(Money::ZERO));
    }
}
