//! Days on which the shop does not work.

use super::words::day;
use super::{Connection, Result, Writing};
use jiff::civil::Date;

/// A day on which the shop does not work, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClosedDay {
    pub day: Date,
    pub words: String,
}

/// As they stand, in order.
pub async fn all(db: &mut Connection) -> Result<Vec<ClosedDay>> {
    let rows =
        sqlx::query!(r#"SELECT day AS "day!: String", words FROM closed_day WHERE withdrawn IS NULL ORDER BY day"#)
            .fetch_all(db)
            .await?;
    rows.into_iter()
        .map(|row| Ok(ClosedDay { day: day("closed_day", "day", 0, &row.day)?, words: row.words }))
        .collect()
}

/// Closes the shop on a day; one opened before is closed again.
pub async fn close(w: &mut Writing, new: &ClosedDay) -> Result<()> {
    let (act, day) = (w.act, new.day.to_string());
    sqlx::query!(
        "INSERT INTO closed_day (day, words, made, act) VALUES (?1, ?2, ?3, ?3)
         ON CONFLICT (day) DO UPDATE SET words = ?2, withdrawn = NULL, act = ?3",
        day,
        new.words,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Opens the shop on a day after all.
pub async fn open(w: &mut Writing, day: Date) -> Result<()> {
    let (act, day) = (w.act, day.to_string());
    sqlx::query!("UPDATE closed_day SET withdrawn = ?, act = ? WHERE day = ? AND withdrawn IS NULL", act, act, day)
        .execute(&mut **w)
        .await?;
    Ok(())
}
