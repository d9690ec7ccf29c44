//! What became of the old parts that core deposits were asked for.

use super::words::{day, word};
use super::{Connection, Result, Stamp, Writing};
use crate::engine::kept_words;
use jiff::civil::Date;

kept_words! {
    /// What became of an old part.
    pub enum Fate {
        GivenBack = "given-back", "given back";
        /// It never comes, so its deposit stays.
        Scrapped = "scrapped", "scrapped";
    }
}

/// What became of an old part, as kept.
#[derive(Clone, Debug)]
pub struct CoreFate {
    pub id: i64,
    pub build: i64,
    pub said: NewFate,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// What became of an old part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFate {
    /// The line that asks for the deposit.
    pub deposit: i64,
    pub what: Fate,
    /// The line that gives it back.
    pub credit: Option<i64>,
    pub day: Date,
}

/// Those of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<CoreFate>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", l.build, t.deposit, t.what, t.credit, t.day,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM core_fate t JOIN charge_line l ON l.id = t.deposit JOIN act a ON a.id = t.made
           LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR l.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(CoreFate {
                id: row.id,
                build: row.build,
                said: NewFate {
                    deposit: row.deposit,
                    what: word("core_fate", "what", row.id, &row.what, Fate::from_key)?,
                    credit: row.credit,
                    day: day("core_fate", "day", row.id, &row.day)?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, new: &NewFate) -> Result<()> {
    let (act, what, day) = (w.act, new.what.key(), new.day.to_string());
    sqlx::query!(
        "INSERT INTO core_fate (deposit, what, credit, day, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        new.deposit,
        what,
        new.credit,
        day,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Withdraws what was said to have become of an old part; whether anything was.
pub async fn withdraw(w: &mut Writing, deposit: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE core_fate SET withdrawn = ?, act = ? WHERE deposit = ? AND withdrawn IS NULL",
        act,
        act,
        deposit
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
