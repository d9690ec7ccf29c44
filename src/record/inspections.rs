//! Parts that came in, looked at: what this shop looks at besides what every shop does, and what was found.

use super::{Connection, Result, Stamp, Writing};

/// Something the shop looks at on every part of a kind.
#[derive(Clone, Debug)]
pub struct Point {
    pub id: i64,
    /// The kind of part; "any" for all of them.
    pub kind: String,
    pub words: String,
}

/// Something looked at on a part, as kept.
#[derive(Clone, Debug)]
pub struct LookedAt {
    pub id: i64,
    pub said: NewLookedAt,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// Something looked at on a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewLookedAt {
    pub part: i64,
    pub what: String,
    pub good: bool,
    /// What is wrong with it.
    pub words: String,
}

/// What the shop looks at, in order of writing; what was withdrawn is left out.
pub async fn points(db: &mut Connection) -> Result<Vec<Point>> {
    let points = sqlx::query_as!(
        Point,
        r#"SELECT id AS "id!: i64", kind, words FROM inspection_point WHERE withdrawn IS NULL ORDER BY id"#
    );
    Ok(points.fetch_all(db).await?)
}

pub async fn insert_point(w: &mut Writing, kind: &str, words: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!("INSERT INTO inspection_point (kind, words, made, act) VALUES (?, ?, ?, ?)", kind, words, act, act)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// Withdraws something the shop looked at; whether it did.
pub async fn withdraw_point(w: &mut Writing, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE inspection_point SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL",
        act,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}

/// What was looked at on a build's parts, in order of writing; what was withdrawn as well.
pub async fn of(db: &mut Connection, build: i64) -> Result<Vec<LookedAt>> {
    let rows = sqlx::query!(
        r#"SELECT l.id AS "id!: i64", l.part, l.what, l.good AS "good: bool", l.words, l.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM part t JOIN part_looked_at l ON l.part = t.id JOIN act a ON a.id = l.made LEFT JOIN person p ON p.id = a.person
           WHERE t.build = ? ORDER BY l.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let said = NewLookedAt { part: row.part, what: row.what, good: row.good, words: row.words };
            Ok(LookedAt { id: row.id, said, stamp: Stamp::of(row.by, &row.at)?, withdrawn: row.withdrawn })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, new: &NewLookedAt) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO part_looked_at (part, what, good, words, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        new.part,
        new.what,
        new.good,
        new.words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
