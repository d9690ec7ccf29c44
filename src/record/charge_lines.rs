//! Lines of what is charged: each for a part, for work sent out, for time worked, or by hand.

use super::words::{figure, percent};
use super::{Connection, Error, Result, Stamp, Writing};
use crate::charges::line::{HowMany, Kind, Price, Priced};
use crate::charges::money::Money;
use crate::charges::percent::Percent;
use crate::charges::quote::{ChangeId, QuoteLineId, Under};
use crate::charges::tax::TaxKey;
use std::collections::BTreeMap;

/// A line as kept.
#[derive(Clone, Debug)]
pub struct ChargeLine {
    pub id: i64,
    pub build: i64,
    pub of: LineOf,
    pub said: NewLine,
    pub stamp: Stamp,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// What a line charges; nothing of the three where it was written by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineOf {
    pub part: Option<i64>,
    pub sending: Option<i64>,
    /// Ids of the time worked.
    pub worked: Vec<i64>,
}

/// What is said of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewLine {
    pub kind: Kind,
    pub text: String,
    pub step: Option<i64>,
    pub how_many: HowMany,
    pub unit: String,
    pub priced: Priced,
    pub tax: TaxKey,
    pub under: Under,
}

/// How a price is kept: its name, the price of one and what is put on top.
pub fn price_columns(priced: Priced) -> (&'static str, Money, Percent) {
    match priced {
        Priced::Charged(Price { each, mark_up }) => ("charged", each, mark_up),
        Priced::Warranty(Price { each, mark_up }) => ("warranty", each, mark_up),
        Priced::OwnError(Price { each, mark_up }) => ("own-error", each, mark_up),
        Priced::CustomersOwn => ("customers-own", Money::ZERO, Percent::ZERO),
    }
}

/// What a line belongs to, as kept: a line of the quote, or a change.
pub fn under_columns(under: Under) -> (Option<i64>, Option<i64>) {
    match under {
        Under::Quote(QuoteLineId(id)) => (Some(id), None),
        Under::Change(ChangeId(id)) => (None, Some(id)),
        Under::Nothing => (None, None),
    }
}

/// Those of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<ChargeLine>> {
    let mut worked: BTreeMap<i64, Vec<i64>> = BTreeMap::new();
    let pairs = sqlx::query!(
        r#"SELECT w.line, w.worked FROM charge_line_worked w JOIN charge_line t ON t.id = w.line
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY w.id"#,
        build
    );
    for pair in pairs.fetch_all(&mut *db).await? {
        worked.entry(pair.line).or_default().push(pair.worked);
    }
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.kind, t.text, t.step, t.how_many, t.unit, t.priced, t.each, t.mark_up, t.tax,
                  t.quote_line, t.change, t.part, t.sending, t.withdrawn IS NOT NULL AS "withdrawn!: bool", t.act, a.at,
                  p.name AS "by?: String"
           FROM charge_line t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let unknown = |column| Error::corrupt("charge_line", column, row.id, "unknown word");
            let price = Price {
                each: figure("charge_line", "each", row.id, row.each)?,
                mark_up: percent("charge_line", "mark_up", row.id, row.mark_up)?,
            };
            let priced = match &*row.priced {
                "charged" => Priced::Charged(price),
                "warranty" => Priced::Warranty(price),
                "own-error" => Priced::OwnError(price),
                "customers-own" => Priced::CustomersOwn,
                _ => return Err(unknown("priced")),
            };
            let under = match (row.quote_line, row.change) {
                (Some(id), _) => Under::Quote(QuoteLineId(id)),
                (None, Some(id)) => Under::Change(ChangeId(id)),
                (None, None) => Under::Nothing,
            };
            Ok(ChargeLine {
                id: row.id,
                build: row.build,
                of: LineOf { part: row.part, sending: row.sending, worked: worked.remove(&row.id).unwrap_or_default() },
                said: NewLine {
                    kind: Kind::from_key(&row.kind).ok_or_else(|| unknown("kind"))?,
                    text: row.text,
                    step: row.step,
                    how_many: figure("charge_line", "how_many", row.id, row.how_many)?,
                    unit: row.unit,
                    priced,
                    tax: TaxKey(row.tax),
                    under,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
                act: row.act,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, of: &LineOf, new: &NewLine) -> Result<i64> {
    let (act, kind, how_many) = (w.act, new.kind.key(), new.how_many.thousandths());
    let (priced, each, mark_up) = price_columns(new.priced);
    let (each, mark_up) = (each.minor(), mark_up.ppm());
    let (quote_line, change) = under_columns(new.under);
    let done = sqlx::query!(
        "INSERT INTO charge_line (build, kind, text, step, how_many, unit, priced, each, mark_up, tax, quote_line, change,
                                  part, sending, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        kind,
        new.text,
        new.step,
        how_many,
        new.unit,
        priced,
        each,
        mark_up,
        new.tax.0,
        quote_line,
        change,
        of.part,
        of.sending,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    let line = done.last_insert_rowid();
    for worked in &of.worked {
        sqlx::query!("INSERT INTO charge_line_worked (line, worked, made) VALUES (?, ?, ?)", line, worked, act)
            .execute(&mut **w)
            .await?;
    }
    Ok(line)
}

/// Changes what is said of a line; its kind and what it charges stay.
pub async fn update(w: &mut Writing, id: i64, new: &NewLine) -> Result<()> {
    let (act, how_many) = (w.act, new.how_many.thousandths());
    let (priced, each, mark_up) = price_columns(new.priced);
    let (each, mark_up) = (each.minor(), mark_up.ppm());
    let (quote_line, change) = under_columns(new.under);
    sqlx::query!(
        "UPDATE charge_line SET text = ?, step = ?, how_many = ?, unit = ?, priced = ?, each = ?, mark_up = ?, tax = ?,
                                quote_line = ?, change = ?, act = ? WHERE id = ?",
        new.text,
        new.step,
        how_many,
        new.unit,
        priced,
        each,
        mark_up,
        new.tax.0,
        quote_line,
        change,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE charge_line SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
