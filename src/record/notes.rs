//! Notes to a job or one of its steps.

use super::{Connection, Result, Stamp, Writing};

/// A note as kept.
#[derive(Clone, Debug)]
pub struct Note {
    pub id: i64,
    pub step: Option<i64>,
    pub text: String,
    pub stamp: Stamp,
    pub withdrawn: Option<Stamp>,
}

/// Those of a build, newest first; those withdrawn as well.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Note>> {
    let rows = sqlx::query!(
        r#"SELECT n.id AS "id!: i64", n.step, n.text, a.at, p.name AS "by?: String", w.at AS "withdrawn_at?: String",
                  q.name AS "withdrawn_by?: String"
           FROM note n JOIN act a ON a.id = n.made LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act w ON w.id = n.withdrawn LEFT JOIN person q ON q.id = w.person
           WHERE n.build = ? ORDER BY n.id DESC"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Note {
                id: row.id,
                step: row.step,
                text: row.text,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: Stamp::of_any(row.withdrawn_by, row.withdrawn_at.as_deref())?,
            })
        })
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
