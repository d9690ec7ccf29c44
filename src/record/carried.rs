//! Which engines carry a part that was made in the shop for another job.

use super::{Connection, Result, Stamp, Writing};

/// A part that a job's engine carries, as kept.
#[derive(Clone, Debug)]
pub struct Carried {
    pub id: i64,
    pub part: i64,
    /// The job whose engine carries it.
    pub build: i64,
    pub title: String,
    /// Where it sits, what it is marked with.
    pub words: String,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// The jobs whose engines carry a part of a build, in order of writing; what was withdrawn as well.
pub async fn of(db: &mut Connection, build: i64) -> Result<Vec<Carried>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.part, c.build, b.title, c.words, c.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM part t JOIN part_carried c ON c.part = t.id JOIN build b ON b.id = c.build JOIN act a ON a.id = c.made
           LEFT JOIN person p ON p.id = a.person
           WHERE t.build = ? ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Carried {
                id: row.id,
                part: row.part,
                build: row.build,
                title: row.title,
                words: row.words,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

/// A part made for another job.
#[derive(Clone, Debug)]
pub struct MadeFor {
    /// The part's public id.
    pub part: String,
    pub description: String,
    /// The job it was made for.
    pub build: i64,
    pub words: String,
}

/// The parts made for other jobs that a build's engine carries.
pub async fn by(db: &mut Connection, build: i64) -> Result<Vec<MadeFor>> {
    let rows = sqlx::query_as!(
        MadeFor,
        r#"SELECT t.public_id AS part, t.description, t.build, c.words
           FROM part_carried c JOIN part t ON t.id = c.part
           WHERE c.build = ? AND c.withdrawn IS NULL AND t.withdrawn IS NULL ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    Ok(rows)
}

pub async fn insert(w: &mut Writing, part: i64, build: i64, words: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO part_carried (part, build, words, made, act) VALUES (?, ?, ?, ?, ?)",
        part,
        build,
        words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Says that an engine carries a part no more; whether it was said to.
pub async fn withdraw(w: &mut Writing, part: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE part_carried SET withdrawn = ?, act = ? WHERE id = ? AND part = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        part
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
