//! Invoices: a credit returns to zero, what is frozen comes back, and the CSV is read back by a reader of another
//! making.

use proptest::prelude::*;
use witnessmark::charges::csv::{COLUMNS, to_csv};
use witnessmark::charges::invoice::{Draft, Invoice, Of};
use witnessmark::charges::line::Line;
use witnessmark::charges::money::Money;
use witnessmark::charges::number::Number;
use witnessmark::charges::total::Sum;

use crate::charge_lines::{day, draft, taxes};
use crate::charges_total::{discounts, lines, table, terms};

proptest! {
    #[test]
    fn a_credit_returns_to_zero(lines in lines(), discounts in discounts(), terms in terms(), table in table()) {
        let draft = Draft { discounts: &discounts, ..draft(1, &lines, &table, terms) };
        let invoice = Invoice::draw_up(draft, &[]).unwrap();
        let number = Number::ByYear { year: 2026, count: 2 };
        let credit = invoice.credit(number, day("2026-05-05"), "Returned", &[]).unwrap();
        prop_assert_eq!(invoice.sum.plus(credit.sum), Ok(Sum::default()));
        prop_assert_eq!(invoice.rows.len(), credit.rows.len());
        for (row, back) in invoice.rows.iter().zip(&credit.rows) {
            prop_assert_eq!(row.sum.plus(back.sum), Ok(Sum::default()));
            prop_assert_eq!(row.amount.plus(back.amount), Ok(Money::ZERO));
        }
        for (rate, back) in invoice.by_rate.iter().zip(&credit.by_rate) {
            prop_assert_eq!(rate.sum.plus(back.sum), Ok(Sum::default()));
        }
        let frozen = serde_json::to_string(&[&invoice, &credit]).unwrap();
        prop_assert_eq!(serde_json::from_str::<Vec<Invoice>>(&frozen).unwrap(), vec![invoice, credit]);
    }

    /// On each charged row of an invoice and of its credit, how many times the price each is the amount, to half a
    /// coin.
    #[test]
    fn the_customer_can_check_the_multiplication(lines in lines(), terms in terms(), table in table()) {
        let invoice = Invoice::draw_up(draft(1, &lines, &table, terms), &[]).unwrap();
        let number = Number::ByYear { year: 2026, count: 2 };
        let credit = invoice.credit(number, day("2026-05-05"), "Returned", &[]).unwrap();
        for row in invoice.rows.iter().chain(&credit.rows).filter(|row| row.not_charged.is_none()) {
            let Of::Line { how_many, price_each, .. } = &row.of else { unreachable!("no discount was given") };
            let off = how_many.thousandths() * price_each.minor() - row.amount.minor() * 1000;
            prop_assert!(off.abs() <= 500);
        }
    }

    /// Every field comes back as it was, after one apostrophe is taken off a guarded text; no text begins as a formula;
    /// every record ends in CR LF.
    #[test]
    fn csv_is_read_back(
        lines in lines(), terms in terms(),
        texts in proptest::collection::vec(" {0,2}[ -~\t\r\n'\"=+@,;äß€-]{0,20}[a-z]", 12),
    ) {
        let lines: Vec<Line> = lines
            .into_iter()
            .zip(&texts)
            .map(|(line, text)| Line { text: text.clone(), step: Some(text.clone()), ..line })
            .collect();
        let invoice = Invoice::draw_up(draft(1, &lines, &taxes("19", "7"), terms), &[]).unwrap();
        let csv = to_csv(std::slice::from_ref(&invoice));
        prop_assert!(csv.ends_with("\r\n"));
        let mut reader = csv::ReaderBuilder::new().terminator(csv::Terminator::CRLF).from_reader(csv.as_bytes());
        prop_assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), COLUMNS);
        let column = |name: &str| COLUMNS.iter().position(|column| *column == name).unwrap();
        let records: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        prop_assert_eq!(records.len(), invoice.rows.len());
        for ((record, row), text) in records.iter().zip(&invoice.rows).zip(&texts) {
            for guarded in [&record[column("text")], &record[column("step")]] {
                prop_assert!(!guarded.trim_start().starts_with(['=', '+', '-', '@']));
                prop_assert_eq!(guarded.strip_prefix('\'').unwrap_or(guarded), text);
            }
            let Sum { net, tax, gross } = row.sum;
            for (name, money) in [("amount", row.amount), ("net", net), ("tax", tax), ("gross", gross)] {
                prop_assert_eq!(&record[column(name)], &invoice.currency.plain(money));
            }
        }
    }
}
