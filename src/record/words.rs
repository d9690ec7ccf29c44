//! Days, words and amounts of the house as a row keeps them.

use super::{Error, Result};
use crate::charges::hours::Quarters;
use crate::charges::percent::Percent;
use jiff::civil::Date;
use serde::de::IntoDeserializer;
use serde::de::value::Error as Unknown;
use serde::{Deserialize, Serialize};

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

/// A word of a row, or of a document, by the name it has there.
pub(super) fn named<'a, T: Deserialize<'a>>(
    table: &'static str,
    column: &'static str,
    row: i64,
    name: &'a str,
) -> Result<T> {
    by_name(name).map_err(|why| Error::corrupt(table, column, row, why))
}

/// A word by the name it has in a row, a form or a document.
pub(crate) fn by_name<'a, T: Deserialize<'a>>(name: &'a str) -> std::result::Result<T, Unknown> {
    T::deserialize(name.into_deserializer())
}

/// The name a word has in a row and in a document.
pub(crate) fn name_of(word: impl Serialize) -> String {
    let name = serde_json::to_value(word).ok().and_then(|name| name.as_str().map(str::to_owned));
    name.expect("a word is written as a text")
}

/// An amount, a percentage or a number of a row, as the room of charges takes it.
pub(super) fn figure<Kept, T: TryFrom<Kept>>(
    table: &'static str,
    column: &'static str,
    row: i64,
    kept: Kept,
) -> Result<T>
where
    T::Error: std::fmt::Display,
{
    T::try_from(kept).map_err(|why| Error::corrupt(table, column, row, why))
}

/// A figure that may not be there.
pub(super) fn any_figure<Kept, T: TryFrom<Kept>>(
    table: &'static str,
    column: &'static str,
    row: i64,
    kept: Option<Kept>,
) -> Result<Option<T>>
where
    T::Error: std::fmt::Display,
{
    kept.map(|kept| figure(table, column, row, kept)).transpose()
}

/// A percentage, kept in parts per million.
pub(super) fn percent(table: &'static str, column: &'static str, row: i64, ppm: i64) -> Result<Percent> {
    figure(table, column, row, figure::<i64, u32>(table, column, row, ppm)?)
}

/// Quarter hours.
pub(super) fn quarters(table: &'static str, row: i64, kept: i64) -> Result<Quarters> {
    Ok(Quarters(figure(table, "quarters", row, kept)?))
}
