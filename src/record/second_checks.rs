//! Signed steps looked over once more, with everything as it was seen then.

use super::{Connection, Result, Stamp, Writing};

/// A second check as kept.
#[derive(Clone, Debug)]
pub struct SecondCheck {
    pub sign_off: i64,
    /// Whose name.
    pub person: String,
    /// As seen then, JSON.
    pub seen: String,
    pub stamp: Stamp,
}

/// Those of a build, in order.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<SecondCheck>> {
    let rows = sqlx::query!(
        r#"SELECT c.sign_off, p.name AS person, c.seen, a.at
           FROM second_check c JOIN person p ON p.id = c.person JOIN act a ON a.id = c.made
           WHERE c.build = ? ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(SecondCheck {
                sign_off: row.sign_off,
                stamp: Stamp::of(Some(row.person.clone()), &row.at)?,
                person: row.person,
                seen: row.seen,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, sign_off: i64, person: i64, seen: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO second_check (build, sign_off, person, seen, made) VALUES (?, ?, ?, ?, ?)",
        build,
        sign_off,
        person,
        seen,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
