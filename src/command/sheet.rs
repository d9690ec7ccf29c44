//! `witnessmark sheet`: works one sheet out from a JSON document.

use super::{Stopped, say};
use clap::Args;
use clap::builder::PossibleValuesParser;
use clap::builder::TypedValueParser;
use std::fmt::Write;
use std::io;
use witnessmark::engine::SheetKey;
use witnessmark::exchange::{self, SheetInput};
use witnessmark::sheets::sheet;

const HELP: &str = "\
The document names the engine, its gauges and limits, and the readings as typed (“4.3775 in”, “2.5 thou”, “+2”, “2.5–2.8 \
thou”, “checked: turns by hand”). For each finding the result gives its key and place, the value in SI with its unit, u, k \
and U, the limit, the verdict and the working. All faults of a document are named at once, each with its path.

Example:
  witnessmark sheet --list
  witnessmark sheet main-bearings --example > input.json
  witnessmark sheet main-bearings < input.json
  witnessmark sheet main-bearings --choose '0.0957; 0.0958; 0.0957; 0.0959' < input.json";

/// Work one sheet out: readings as JSON in, findings as JSON out
#[derive(Args)]
#[command(after_help = HELP)]
pub struct Arguments {
    /// The sheet; its input is read from standard input
    #[arg(value_parser = sheet_key(), required_unless_present = "list")]
    key: Option<SheetKey>,
    /// List the sheets: key, title, edition, purpose
    #[arg(long, conflicts_with_all = ["key", "example"])]
    list: bool,
    /// Print a complete input of the sheet instead
    #[arg(long)]
    example: bool,
    /// Work out what can be chosen on it instead, from the input and TEXT: such as the walls of shells on the shelf
    #[arg(long, value_name = "TEXT", num_args = 0..=1, default_missing_value = "", conflicts_with = "example")]
    choose: Option<String>,
}

fn sheet_key() -> impl TypedValueParser<Value = SheetKey> {
    PossibleValuesParser::new(SheetKey::ALL.map(SheetKey::key))
        .try_map(|key| SheetKey::from_key(&key).ok_or("no such sheet"))
}

pub fn work_out(arguments: &Arguments) -> Result<(), Stopped> {
    match arguments.key {
        None => say(&list()),
        Some(key) if arguments.example => say(exchange::sheet_example(key)),
        Some(key) => {
            let text = io::read_to_string(io::stdin())
                .map_err(|why| Stopped::Failed(format!("cannot read the input: {why}")))?;
            let input = SheetInput::read(&text).map_err(|faults| {
                Stopped::Failed(faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
            })?;
            let document = match &arguments.choose {
                Some(typed) => {
                    let choices = exchange::choose(key, &input, typed).map_err(Stopped::Failed)?;
                    serde_json::to_string_pretty(&choices)?
                }
                None => serde_json::to_string_pretty(&exchange::work_out(key, &input))?,
            };
            say(&format!("{document}\n"))
        }
    }
}

/// A table of the sheets.
fn list() -> String {
    let heading = ["key", "title", "edition", "purpose"].map(str::to_owned);
    let sheets = SheetKey::ALL.map(|key| {
        let of = sheet(key);
        [key.key().to_owned(), of.title.to_owned(), of.edition.to_string(), of.purpose.to_owned()]
    });
    let rows: Vec<[String; 4]> = std::iter::once(heading).chain(sheets).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let (key, title, edition) = (width(0), width(1), width(2));
    let mut table = String::new();
    for [k, t, e, purpose] in &rows {
        let _ = writeln!(table, "{k:<key$}  {t:<title$}  {e:<edition$}  {purpose}");
    }
    table
}
