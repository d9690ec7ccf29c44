//! Time worked on jobs: whose, at which step, on which day, in quarter hours.

use super::words::{any_figure, day, quarters, word};
use super::{Connection, Result, Stamp, Writing};
use crate::charges::hours::Quarters;
use crate::charges::money::Money;
use crate::engine::kept_words;
use jiff::civil::Date;
use std::collections::BTreeMap;

kept_words! {
    /// Whether the customer pays time worked.
    pub enum Charged {
        Charged = "charged", "charged";
        Warranty = "warranty", "under warranty, not charged";
        OwnError = "own-error", "our own error, not charged";
    }
}

/// Time worked, as kept.
#[derive(Clone, Debug)]
pub struct Worked {
    pub id: i64,
    pub build: i64,
    /// Of whoever worked.
    pub name: String,
    pub said: NewWorked,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// Time worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewWorked {
    /// None for the job as a whole.
    pub step: Option<i64>,
    pub person: i64,
    pub day: Date,
    pub hours: Quarters,
    /// Of an hour; none for the shop's own when it is charged.
    pub rate: Option<Money>,
    pub charged: Charged,
    pub words: String,
}

/// That of a build, or of every build, in order of writing; what was withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Worked>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.step, t.person, t.day, t.quarters, t.rate, t.charged, t.words,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", h.name AS "hand!: String", a.at, p.name AS "by?: String"
           FROM worked t JOIN person h ON h.id = t.person JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Worked {
                id: row.id,
                build: row.build,
                name: row.hand,
                said: NewWorked {
                    step: row.step,
                    person: row.person,
                    day: day("worked", "day", row.id, &row.day)?,
                    hours: quarters("worked", row.id, row.quarters)?,
                    rate: any_figure("worked", "rate", row.id, row.rate)?,
                    charged: word("worked", "charged", row.id, &row.charged, Charged::from_key)?,
                    words: row.words,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

/// What a signed step of a job took.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepTook {
    /// The step's name in addresses, the same in every job that has it.
    pub key: String,
    pub family: Option<i64>,
    pub hours: Quarters,
}

/// What every step took that is signed, and for which time was written down.
pub async fn took(db: &mut Connection) -> Result<Vec<StepTook>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.key, e.family, sum(t.quarters) AS "quarters!: i64"
           FROM worked t JOIN step s ON s.id = t.step JOIN build b ON b.id = s.build JOIN engine e ON e.id = b.engine
           WHERE t.withdrawn IS NULL AND s.state = 'signed' GROUP BY s.id ORDER BY s.id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| Ok(StepTook { key: row.key, family: row.family, hours: quarters("worked", row.id, row.quarters)? }))
        .collect()
}

/// The newest act that wrote down time, signed or reopened a step, or said what family an engine is of.
pub async fn newest_change(db: &mut Connection) -> Result<i64> {
    let row = sqlx::query!(
        r#"SELECT max(coalesce((SELECT max(act) FROM worked), 0), coalesce((SELECT max(act) FROM sign_off), 0),
                      coalesce((SELECT max(act) FROM engine), 0)) AS "act!: i64""#
    )
    .fetch_one(db)
    .await?;
    Ok(row.act)
}

/// Time worked on each step of a build, or of every build that has not left the shop.
pub async fn of_steps(db: &mut Connection, build: Option<i64>) -> Result<BTreeMap<i64, Quarters>> {
    let rows = sqlx::query!(
        r#"SELECT t.step AS "step!: i64", sum(t.quarters) AS "quarters!: i64"
           FROM build b CROSS JOIN worked t ON t.build = b.id
           WHERE t.step IS NOT NULL AND t.withdrawn IS NULL AND ((?1 IS NULL AND b.closed IS NULL) OR b.id = ?1)
           GROUP BY t.step"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(|row| Ok((row.step, quarters("worked", row.step, row.quarters)?))).collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewWorked) -> Result<i64> {
    let (act, day, charged) = (w.act, new.day.to_string(), new.charged.key());
    let rate = new.rate.map(Money::minor);
    let done = sqlx::query!(
        "INSERT INTO worked (build, step, person, day, quarters, rate, charged, words, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        new.step,
        new.person,
        day,
        new.hours.0,
        rate,
        charged,
        new.words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws time of a build; whether there was any that stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE worked SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
