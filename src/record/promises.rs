//! Dates told to customers; the newest of a job holds.

use super::words::day;
use super::{Connection, Result, Stamp, Writing};
use jiff::civil::Date;

/// A date told to a customer.
#[derive(Clone, Debug)]
pub struct Promise {
    pub build: i64,
    pub day: Date,
    /// How it was put, and to whom.
    pub words: String,
    pub stamp: Stamp,
}

/// Those of a build, or of every build that has not left the shop, in order of writing.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Promise>> {
    let rows = sqlx::query!(
        r#"SELECT o.id AS "id!: i64", o.build, o.day, o.words, a.at, p.name AS "by?: String"
           FROM build b CROSS JOIN promise o ON o.build = b.id JOIN act a ON a.id = o.made LEFT JOIN person p ON p.id = a.person
           WHERE (?1 IS NULL AND b.closed IS NULL) OR b.id = ?1 ORDER BY o.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Promise {
                build: row.build,
                day: day("promise", "day", row.id, &row.day)?,
                words: row.words,
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, on: Date, words: &str) -> Result<()> {
    let (act, day) = (w.act, on.to_string());
    sqlx::query!("INSERT INTO promise (build, day, words, made) VALUES (?, ?, ?, ?)", build, day, words, act)
        .execute(&mut **w)
        .await?;
    Ok(())
}
