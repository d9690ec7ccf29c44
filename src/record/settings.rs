//! The shop's own choices, as words.

use super::{Connection, Result, Writing};
use std::collections::BTreeMap;

pub async fn all(db: &mut Connection) -> Result<BTreeMap<String, String>> {
    let rows = sqlx::query!("SELECT key, value FROM setting").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| (row.key, row.value)).collect())
}

/// The newest act that changed one of them: what a form saw.
pub async fn newest(db: &mut Connection) -> Result<i64> {
    let row = sqlx::query!(r#"SELECT max(act) AS "act: i64" FROM setting"#).fetch_one(db).await?;
    Ok(row.act.unwrap_or(0))
}

pub async fn put(w: &mut Writing, key: &str, value: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO setting (key, value, made, act) VALUES (?, ?, ?, ?)
         ON CONFLICT (key) DO UPDATE SET value = excluded.value, act = excluded.act",
        key,
        value,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
