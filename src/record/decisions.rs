//! Options accepted: what was chosen on a sheet, beside what else could have been, and why.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::SheetKey;

/// An option accepted, as kept.
#[derive(Clone, Debug)]
pub struct Decision {
    pub id: i64,
    pub said: NewDecision,
    pub stamp: Stamp,
    pub withdrawn: Option<Stamp>,
}

/// An option accepted. Its lines are worded as the page showed them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewDecision {
    pub sheet: SheetKey,
    /// What was typed to choose from.
    pub asked: String,
    pub chosen: Vec<String>,
    pub alternatives: Vec<String>,
    pub reason: String,
}

/// Those of a build in order of writing; those withdrawn as well.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Decision>> {
    let rows = sqlx::query!(
        r#"SELECT d.id AS "id!: i64", d.sheet, d.asked, d.chosen, d.alternatives, d.reason, a.at, p.name AS "by?: String",
                  w.at AS "withdrawn_at?: String", q.name AS "withdrawn_by?: String"
           FROM decision d JOIN act a ON a.id = d.made LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act w ON w.id = d.withdrawn LEFT JOIN person q ON q.id = w.person
           WHERE d.build = ? ORDER BY d.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |column, why: serde_json::Error| Error::corrupt("decision", column, row.id, why);
            Ok(Decision {
                id: row.id,
                said: NewDecision {
                    sheet: super::words::word("decision", "sheet", row.id, &row.sheet, SheetKey::from_key)?,
                    asked: row.asked,
                    chosen: serde_json::from_str(&row.chosen).map_err(|why| corrupt("chosen", why))?,
                    alternatives: serde_json::from_str(&row.alternatives)
                        .map_err(|why| corrupt("alternatives", why))?,
                    reason: row.reason,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: Stamp::of_any(row.withdrawn_by, row.withdrawn_at.as_deref())?,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewDecision) -> Result<i64> {
    let (act, sheet) = (w.act, new.sheet.key());
    let written = |why| Error::corrupt("decision", "chosen", "a new row", why);
    let chosen = serde_json::to_string(&new.chosen).map_err(written)?;
    let alternatives = serde_json::to_string(&new.alternatives).map_err(written)?;
    let done = sqlx::query!(
        "INSERT INTO decision (build, sheet, asked, chosen, alternatives, reason, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        sheet,
        new.asked,
        chosen,
        alternatives,
        new.reason,
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
        "UPDATE decision SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
