//! "As round 1, checked again": what a round did not read anew stands as an earlier one read it.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::Place;

/// What was checked again, as kept.
#[derive(Clone, Debug)]
pub struct Recheck {
    pub id: i64,
    /// In which round it was checked.
    pub round: i64,
    /// The round whose figures stand.
    pub earlier: i64,
    /// At which place; none for all of them.
    pub place: Option<Place>,
    pub stamp: Stamp,
    pub withdrawn: Option<Stamp>,
}

/// Those of a build in order of writing; those withdrawn as well.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Recheck>> {
    let rows = sqlx::query!(
        r#"SELECT r.id AS "id!: i64", r.round, r.earlier, r.place, a.at, p.name AS "by?: String",
                  w.at AS "withdrawn_at?: String", q.name AS "withdrawn_by?: String"
           FROM recheck r JOIN act a ON a.id = r.made LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act w ON w.id = r.withdrawn LEFT JOIN person q ON q.id = w.person
           WHERE r.build = ? ORDER BY r.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |_| Error::corrupt("recheck", "place", row.id, "no place");
            Ok(Recheck {
                id: row.id,
                round: row.round,
                earlier: row.earlier,
                place: row.place.as_deref().map(str::parse).transpose().map_err(corrupt)?,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: Stamp::of_any(row.withdrawn_by, row.withdrawn_at.as_deref())?,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, round: i64, earlier: i64, place: Option<Place>) -> Result<i64> {
    let (act, place) = (w.act, place.map(|place| place.to_string()));
    let done = sqlx::query!(
        "INSERT INTO recheck (build, round, earlier, place, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        build,
        round,
        earlier,
        place,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws one of a build; whether there was one that stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE recheck SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
