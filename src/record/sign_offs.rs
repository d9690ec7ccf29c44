//! Steps signed, with everything as it was seen then.

use super::{Connection, Result, Stamp, Writing};

/// A sign-off as kept.
#[derive(Clone, Debug)]
pub struct SignOff {
    pub id: i64,
    pub build: i64,
    pub step: i64,
    /// Whose name.
    pub person: String,
    /// As seen then, JSON.
    pub seen: String,
    pub stamp: Stamp,
    pub reopened: bool,
    pub why: String,
    /// Why it was signed though it rested on stale readings; empty where it did not.
    pub despite: String,
}

/// Those of one build, or of all, in order of signing.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<SignOff>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.build, s.step, p.name AS person, s.seen, a.at, s.reopened, s.why, s.despite
           FROM sign_off s JOIN person p ON p.id = s.person JOIN act a ON a.id = s.made
           WHERE ?1 IS NULL OR s.build = ?1 ORDER BY s.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(SignOff {
                id: row.id,
                build: row.build,
                step: row.step,
                stamp: Stamp::of(Some(row.person.clone()), &row.at)?,
                person: row.person,
                seen: row.seen,
                reopened: row.reopened.is_some(),
                why: row.why,
                despite: row.despite,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, step: i64, person: i64, seen: &str, despite: &str) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO sign_off (build, step, person, seen, made, act, why, despite) VALUES (?, ?, ?, ?, ?, ?, '', ?)",
        build,
        step,
        person,
        seen,
        act,
        act,
        despite
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn reopen(w: &mut Writing, step: i64, why: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE sign_off SET reopened = ?, why = ?, act = ? WHERE step = ? AND reopened IS NULL",
        act,
        why,
        act,
        step
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
