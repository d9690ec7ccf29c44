//! Notes to a job or one of its steps.

use super::{Connection, Result, Stamp, Writing};

/// A note as kept.
#[derive(Clone, Debug)]
pub struct Note {
    pub id: i64,
    pub step: Option<i64>,
    pub text: String,
    pub stamp: Stamp,
}

/// Those of a build that have not been withdrawn, newest first.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Note>> {
    let rows = sqlx::query!(
        r#"SELECT n.id AS "id!: i64", n.step, n.text, a.at, p.name AS "by?: String"
           FROM note n JOIN act a ON a.id = n.made LEFT JOIN person p ON p.id = a.person
           WHERE n.build = ? AND n.withdrawn IS NULL ORDER BY n.id DESC"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| Ok(Note { id: row.id, step: row.step, text: row.text, stamp: Stamp::of(row.by, &row.at)? }))
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, step: Option<i64>, text: &str) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO note (build, step, text, made, act) VALUES (?, ?, ?, ?, ?)",
        build,
        step,
        text,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws a note; whether there was one of the build that stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE note SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
