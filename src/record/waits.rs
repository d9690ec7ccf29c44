//! Why a job waits, where it is no part and no work sent out.

use super::words::{any_day, day, word};
use super::{Connection, Result, Stamp, Writing};
use crate::engine::kept_words;
use jiff::civil::Date;

kept_words! {
    /// For whom or what something waits.
    pub enum Why {
        Part = "part", "a part";
        MachineShop = "machine_shop", "the machine shop";
        Customer = "customer", "the customer’s answer";
        Deposit = "deposit", "the deposit";
        Me = "me", "me";
    }
}

/// Something awaited, as kept.
#[derive(Clone, Debug)]
pub struct Wait {
    pub id: i64,
    pub build: i64,
    pub said: NewWait,
    pub stamp: Stamp,
    pub ended: Option<Stamp>,
}

/// Something awaited.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewWait {
    /// Which step waits; none for the whole job.
    pub step: Option<i64>,
    pub why: Why,
    /// What is awaited.
    pub words: String,
    pub since: Date,
    pub expected: Option<Date>,
}

/// Those of a build, or of every build that has not left the shop, in order of writing; those ended as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Wait>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.step, t.why, t.words, t.since, t.expected, a.at, p.name AS "by?: String",
                  e.at AS "ended_at?: String", q.name AS "ended_by?: String"
           FROM build b CROSS JOIN wait t ON t.build = b.id JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act e ON e.id = t.ended LEFT JOIN person q ON q.id = e.person
           WHERE (?1 IS NULL AND b.closed IS NULL) OR b.id = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Wait {
                id: row.id,
                build: row.build,
                said: NewWait {
                    step: row.step,
                    why: word("wait", "why", row.id, &row.why, Why::from_key)?,
                    words: row.words,
                    since: day("wait", "since", row.id, &row.since)?,
                    expected: any_day("wait", "expected", row.id, row.expected.as_deref())?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                ended: Stamp::of_any(row.ended_by, row.ended_at.as_deref())?,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewWait) -> Result<i64> {
    let (act, why, since) = (w.act, new.why.key(), new.since.to_string());
    let expected = new.expected.map(|day| day.to_string());
    let done = sqlx::query!(
        "INSERT INTO wait (build, step, why, words, since, expected, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        new.step,
        why,
        new.words,
        since,
        expected,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Ends the waiting; whether there was one of the build that went on.
pub async fn end(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE wait SET ended = ?, act = ? WHERE id = ? AND build = ? AND ended IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
