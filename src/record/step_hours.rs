//! How long steps take at the bench, as their builder says.

use super::{Connection, Result, Writing};
use std::collections::BTreeMap;

/// Hours at the bench: least, most likely, most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hours {
    pub least: f64,
    pub likely: f64,
    pub most: f64,
}

/// By step, of a build or of every build that has not left the shop.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<BTreeMap<i64, Hours>> {
    let rows = sqlx::query!(
        r#"SELECT h.step AS "step!: i64", h.least, h.likely, h.most
           FROM build b CROSS JOIN step s ON s.build = b.id CROSS JOIN step_hours h ON h.step = s.id
           WHERE (?1 IS NULL AND b.closed IS NULL) OR b.id = ?1"#,
        build
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| (row.step, Hours { least: row.least, likely: row.likely, most: row.most })).collect())
}

/// Says how long a step takes; what was said before stays in history.
pub async fn set(w: &mut Writing, step: i64, hours: Hours) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO step_hours (step, least, likely, most, made, act) VALUES (?1, ?2, ?3, ?4, ?5, ?5)
         ON CONFLICT (step) DO UPDATE SET least = ?2, likely = ?3, most = ?4, act = ?5",
        step,
        hours.least,
        hours.likely,
        hours.most,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
