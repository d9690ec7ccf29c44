//! Which days storage was charged for, and that the money of an ended job is settled.

use super::words::{day, figure};
use super::{Connection, Result, Stamp, Writing};
use crate::charges::money::Money;
use crate::charges::settle::Span;
use jiff::civil::Date;

/// The days that a charged line of storage is for, as kept.
#[derive(Clone, Copy, Debug)]
pub struct KeptSpan {
    pub build: i64,
    pub line: i64,
    pub said: Span,
}

/// That a job is settled, as kept.
#[derive(Clone, Debug)]
pub struct KeptSettlement {
    pub id: i64,
    pub build: i64,
    pub said: NewSettlement,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// That a job is settled, in the figures as they stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewSettlement {
    /// None where the job left without one.
    pub ending: Option<i64>,
    pub day: Date,
    pub words: String,
    pub owed: Money,
    pub received: Money,
    pub forfeited: Money,
    pub held: Money,
    pub refund: Money,
    pub to_pay: Money,
}

/// The days that lines of storage are for, of a build or of every build; those of lines withdrawn are not among them.
pub async fn spans(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptSpan>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", l.build, t.line, t.from_day, t.until_day
           FROM storage_span t JOIN charge_line l ON l.id = t.line
           WHERE l.withdrawn IS NULL AND (?1 IS NULL OR l.build = ?1) ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(KeptSpan {
                build: row.build,
                line: row.line,
                said: Span {
                    from: day("storage_span", "from_day", row.id, &row.from_day)?,
                    until: day("storage_span", "until_day", row.id, &row.until_day)?,
                },
            })
        })
        .collect()
}

pub async fn insert_span(w: &mut Writing, line: i64, span: Span) -> Result<()> {
    let (act, from, until) = (w.act, span.from.to_string(), span.until.to_string());
    sqlx::query!(
        "INSERT INTO storage_span (line, from_day, until_day, made) VALUES (?, ?, ?, ?)",
        line,
        from,
        until,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Settlements of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptSettlement>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.ending, t.day, t.words, t.owed, t.received, t.forfeited, t.held, t.refund, t.to_pay,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM settlement t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let money = |column, kept| figure("settlement", column, row.id, kept);
            Ok(KeptSettlement {
                id: row.id,
                build: row.build,
                said: NewSettlement {
                    ending: row.ending,
                    day: day("settlement", "day", row.id, &row.day)?,
                    words: row.words,
                    owed: money("owed", row.owed)?,
                    received: money("received", row.received)?,
                    forfeited: money("forfeited", row.forfeited)?,
                    held: money("held", row.held)?,
                    refund: money("refund", row.refund)?,
                    to_pay: money("to_pay", row.to_pay)?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewSettlement) -> Result<()> {
    let (act, day) = (w.act, new.day.to_string());
    let [owed, received, forfeited, held, refund, to_pay] =
        [new.owed, new.received, new.forfeited, new.held, new.refund, new.to_pay].map(Money::minor);
    sqlx::query!(
        "INSERT INTO settlement (build, ending, day, words, owed, received, forfeited, held, refund, to_pay, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        new.ending,
        day,
        new.words,
        owed,
        received,
        forfeited,
        held,
        refund,
        to_pay,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Says that a job is not settled after all; whether it was.
pub async fn withdraw(w: &mut Writing, build: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE settlement SET withdrawn = ?, act = ? WHERE build = ? AND withdrawn IS NULL",
        act,
        act,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
