//! Invoices as comma-separated values for whatever does the books: RFC 4180, in UTF-8.
//!
//! Amounts are written with a point and without a separator of thousands. A text that a spreadsheet could take for a
//! formula (its first character other than a space is one of = + - @, or it begins with a tab or a line break) gets an
//! apostrophe in front; so does one that begins with an apostrophe, so that a reader gets every text back by taking one
//! apostrophe off.

use super::invoice::{Invoice, Of, Row};
use super::money::Money;

/// The header, in the order of the columns.
pub const COLUMNS: [&str; 18] = [
    "number",
    "date",
    "undoes",
    "row",
    "kind",
    "step",
    "text",
    "how_many",
    "unit",
    "price_each",
    "not_charged",
    "amount",
    "tax_key",
    "tax_percent",
    "net",
    "tax",
    "gross",
    "currency",
];

/// The rows of all invoices and credits, after a header.
pub fn to_csv(invoices: &[Invoice]) -> String {
    let mut csv = record(&COLUMNS.map(str::to_owned));
    for invoice in invoices {
        for (at, row) in invoice.rows.iter().enumerate() {
            csv.push_str(&record(&fields(invoice, at + 1, row)));
        }
    }
    csv
}

fn fields(invoice: &Invoice, at: usize, row: &Row) -> [String; COLUMNS.len()] {
    let plain = |money: Money| invoice.currency.plain(money);
    let (kind, step, how_many, unit, price_each) = match &row.of {
        Of::Line { kind, step, how_many, unit, price_each, .. } => {
            (kind.key(), step.as_deref().unwrap_or_default(), how_many.figures(), unit.as_str(), plain(*price_each))
        }
        Of::Discount => ("discount", "", String::new(), "", String::new()),
    };
    [
        invoice.number.to_string(),
        invoice.on.to_string(),
        invoice.undoes.as_ref().map_or_else(String::new, |undoes| undoes.number.to_string()),
        at.to_string(),
        kind.to_owned(),
        guarded(step),
        guarded(&row.text),
        how_many,
        guarded(unit),
        price_each,
        row.not_charged.map_or("", |why| why.key()).to_owned(),
        plain(row.amount),
        guarded(&row.tax.0),
        row.tax_percent.figures(),
        plain(row.sum.net),
        plain(row.sum.tax),
        plain(row.sum.gross),
        invoice.currency.code().to_owned(),
    ]
}

/// A text that no spreadsheet takes for a formula.
fn guarded(text: &str) -> String {
    let formula = text.trim_start().starts_with(['=', '+', '-', '@']);
    if formula || text.starts_with(['\t', '\r', '\n', '\'']) { format!("'{text}") } else { text.to_owned() }
}

/// One record: fields with a comma, a quote or a line break in quotes, quotes doubled; CR LF at its end (RFC 4180,
/// section 2).
fn record(fields: &[String]) -> String {
    let quoted = |field: &String| {
        let plain = !field.contains([',', '"', '\r', '\n']);
        if plain { field.clone() } else { format!("\"{}\"", field.replace('"', "\"\"")) }
    };
    let fields: Vec<String> = fields.iter().map(quoted).collect();
    format!("{}\r\n", fields.join(","))
}
