//! Days and words of the house as a row keeps them.

use super::{Error, Result};
use jiff::civil::Date;

/// A day of a row, as kept.
pub(super) fn day(table: &'static str, column: &'static str, row: i64, text: &str) -> Result<Date> {
    text.parse().map_err(|why| Error::corrupt(table, column, row, why))
}

/// A day that may not be known.
pub(super) fn any_day(table: &'static str, column: &'static str, row: i64, text: Option<&str>) -> Result<Option<Date>> {
    text.map(|text| day(table, column, row, text)).transpose()
}

/// A word of a row, by its key.
pub(super) fn word<T>(
    table: &'static str,
    column: &'static str,
    row: i64,
    key: &str,
    known: fn(&str) -> Option<T>,
) -> Result<T> {
    known(key).ok_or_else(|| Error::corrupt(table, column, row, format!("no word “{key}”")))
}
