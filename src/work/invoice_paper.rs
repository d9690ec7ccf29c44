//! An invoice in the words of its paper. What a part cost the shop, and who sold it, is not in it.

use super::ShopSettings;
use super::account::too_large;
use super::card_paper::made_at;
use super::doing::Done;
use super::when::civil;
use crate::charges::currency::Currency;
use crate::charges::invoice::{Invoice, Of, Row};
use crate::charges::line::{Kind, Why};
use crate::charges::money::Money;
use crate::handover::contents::{Align, Cell, Column, Paper, ShopHead, Table};
use crate::handover::invoice::Bill;
use jiff::Timestamp;

/// What stands around the figures.
pub(super) struct Letter {
    pub shop: ShopSettings,
    /// Name and address, a line each.
    pub to: Vec<String>,
    pub job: i64,
    pub heading: String,
    pub now: Timestamp,
}

/// An invoice as its paper says it.
pub(super) fn bill(letter: &Letter, invoice: &Invoice) -> Done<Bill> {
    let undoes = invoice.undoes.as_ref();
    let mut notes = vec![invoice.terms.words(invoice.currency)];
    notes.extend(
        invoice
            .by_rate
            .iter()
            .filter_map(|rate| Some(format!("{}: {}.", rate.title, rate.reason.as_deref()?.trim_end_matches('.')))),
    );
    notes.extend(
        undoes.map(|undoes| {
            format!("Undoes invoice {} in full: {}.", undoes.number, undoes.reason.trim_end_matches('.'))
        }),
    );
    Ok(Bill {
        paper: if letter.shop.paper == "a4" { Paper::A4 } else { Paper::Letter },
        kind_title: if undoes.is_some() { "Credit" } else { "Invoice" }.to_owned(),
        number: invoice.number.to_string(),
        date: civil(invoice.on),
        undoes: undoes.map(|undoes| format!("undoes invoice {}", undoes.number)),
        shop: ShopHead {
            name: letter.shop.name.clone(),
            address_lines: letter.shop.address.lines().map(str::to_owned).collect(),
            phone: letter.shop.phone.clone(),
        },
        to: letter.to.clone(),
        job: letter.job.to_string(),
        heading: letter.heading.clone(),
        made_at: made_at(letter.now),
        rows: rows(invoice),
        sums: sums(invoice)?,
        notes,
    })
}

fn rows(invoice: &Invoice) -> Table {
    let column = |title: &str, align| Column { title: title.to_owned(), align };
    Table {
        columns: vec![
            column("what", Align::Left),
            column("how many", Align::Right),
            column("each", Align::Right),
            column("tax", Align::Right),
            column(&format!("amount, {}", invoice.currency.code()), Align::Right),
        ],
        rows: invoice.rows.iter().map(|row| cells(row, invoice.currency)).collect(),
    }
}

fn cells(row: &Row, currency: Currency) -> Vec<Cell> {
    let (kind, how_many, each) = match &row.of {
        Of::Line { kind, how_many, unit, price_each, .. } => (
            Some(*kind),
            format!("{}\u{a0}{unit}", how_many.figures().replace('-', "\u{2212}")),
            currency.show(*price_each),
        ),
        Of::Discount => (None, String::new(), String::new()),
    };
    // What a line says for itself needs no kind before it.
    let named = kind.filter(|kind| !matches!(kind, Kind::Part | Kind::Other) && row.text != kind.title());
    let text = named.map_or_else(|| row.text.clone(), |kind| format!("{}: {}", kind.title(), row.text));
    let text = Cell { beneath: row.not_charged.map(|why| Why::words(why).to_owned()), ..Cell::of(text) };
    vec![
        text,
        Cell::of(how_many),
        Cell::of(each),
        Cell::of(row.tax_percent.show()),
        Cell::of(currency.show(row.amount)),
    ]
}

/// The last is what is to be paid, or what was credited.
fn sums(invoice: &Invoice) -> Done<Vec<(String, String)>> {
    let show = |amount| invoice.currency.show(amount);
    let mut sums = vec![("Before tax".to_owned(), show(invoice.sum.net))];
    sums.extend(invoice.by_rate.iter().map(|rate| {
        let words = format!("{} {} on {}", rate.title, rate.rate.percent().show(), show(rate.sum.net));
        (words, show(rate.sum.tax))
    }));
    if invoice.paid_before > Money::ZERO {
        sums.push(("In all".to_owned(), show(invoice.sum.gross)));
        sums.push(("Paid already".to_owned(), show(-invoice.paid_before)));
    }
    let last = match (&invoice.undoes, invoice.due) {
        (Some(_), _) => "Credited in all".to_owned(),
        (None, Some(due)) => format!("To pay by {}", civil(due)),
        (None, None) => "To pay".to_owned(),
    };
    let to_pay = invoice.to_pay().map_err(too_large)?;
    sums.push((last, invoice.currency.show_named(to_pay)));
    Ok(sums)
}
