//! Clocks that somebody started on a job; each runs until it is stopped, one a person.

use super::{Connection, Result, Stamp, Writing};

/// A clock that runs.
#[derive(Clone, Debug)]
pub struct Clock {
    pub id: i64,
    pub build: i64,
    pub step: Option<i64>,
    pub person: i64,
    pub name: String,
    /// When it was started.
    pub started: Stamp,
}

/// Those that run, the one started first first.
pub async fn running(db: &mut Connection) -> Result<Vec<Clock>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.step, t.person, h.name, a.at, p.name AS "by?: String"
           FROM work_clock t JOIN person h ON h.id = t.person JOIN act a ON a.id = t.made
           LEFT JOIN person p ON p.id = a.person WHERE t.stopped IS NULL ORDER BY t.id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Clock {
                id: row.id,
                build: row.build,
                step: row.step,
                person: row.person,
                name: row.name,
                started: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

/// One of a job's clocks, as a document tells it.
#[derive(Clone, Debug)]
pub struct Ran {
    pub step: Option<i64>,
    pub name: String,
    pub started: Stamp,
    pub stopped: Option<Stamp>,
}

/// Those of a build, in order of starting.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Ran>> {
    let rows = sqlx::query!(
        r#"SELECT t.step, h.name, a.at, p.name AS "by?: String", e.at AS "ended_at?: String", q.name AS "ended_by?: String"
           FROM work_clock t JOIN person h ON h.id = t.person JOIN act a ON a.id = t.made
           LEFT JOIN person p ON p.id = a.person LEFT JOIN act e ON e.id = t.stopped LEFT JOIN person q ON q.id = e.person
           WHERE t.build = ? ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Ran {
                step: row.step,
                name: row.name,
                started: Stamp::of(row.by, &row.at)?,
                stopped: Stamp::of_any(row.ended_by, row.ended_at.as_deref())?,
            })
        })
        .collect()
}

pub async fn start(w: &mut Writing, build: i64, step: Option<i64>, person: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO work_clock (build, step, person, made, act) VALUES (?, ?, ?, ?, ?)",
        build,
        step,
        person,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn stop(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE work_clock SET stopped = ?, act = ? WHERE id = ? AND stopped IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
