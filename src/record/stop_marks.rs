//! "Stopped here": work left half done, until somebody resumes it.

use super::{Connection, Result, Stamp, Writing};

/// A mark that nobody has resumed yet.
#[derive(Clone, Debug)]
pub struct StopMark {
    pub id: i64,
    pub build: i64,
    pub step: i64,
    pub stopped_at: String,
    pub stamp: Stamp,
}

/// Those of one build, or of all, that stand.
pub async fn standing(db: &mut Connection, build: Option<i64>) -> Result<Vec<StopMark>> {
    let rows = sqlx::query!(
        r#"SELECT m.id AS "id!: i64", m.build, m.step, m.stopped_at, a.at, p.name AS "by?: String"
           FROM stop_mark m JOIN act a ON a.id = m.made LEFT JOIN person p ON p.id = a.person
           WHERE m.resumed IS NULL AND (?1 IS NULL OR m.build = ?1) ORDER BY m.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(StopMark {
                id: row.id,
                build: row.build,
                step: row.step,
                stopped_at: row.stopped_at,
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

/// Those of a build that were resumed, with who went on and when.
pub async fn resumed(db: &mut Connection, build: i64) -> Result<Vec<(StopMark, Stamp)>> {
    let rows = sqlx::query!(
        r#"SELECT m.id AS "id!: i64", m.build, m.step, m.stopped_at, a.at, p.name AS "by?: String",
                  r.at AS resumed_at, q.name AS "resumed_by?: String"
           FROM stop_mark m JOIN act a ON a.id = m.made LEFT JOIN person p ON p.id = a.person
           JOIN act r ON r.id = m.resumed LEFT JOIN person q ON q.id = r.person WHERE m.build = ? ORDER BY m.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let stamp = Stamp::of(row.by, &row.at)?;
            let mark = StopMark { id: row.id, build: row.build, step: row.step, stopped_at: row.stopped_at, stamp };
            Ok((mark, Stamp::of(row.resumed_by, &row.resumed_at)?))
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, step: i64, stopped_at: &str) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO stop_mark (build, step, stopped_at, made, act) VALUES (?, ?, ?, ?, ?)",
        build,
        step,
        stopped_at,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Resumes a mark; whether there was one of the build that stood.
pub async fn resume(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE stop_mark SET resumed = ?, act = ? WHERE id = ? AND build = ? AND resumed IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
