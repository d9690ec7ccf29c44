//! The shop's own choices, as words.

use super::{Connection, Result, Writing};
use std::collections::BTreeMap;

pub async fn all(db: &mut Connection) -> Result<BTreeMap<String, String>> {
    let rows = sqlx::query!("SELECT key, value FROM setting").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| (row.key, row.value)).collect())
}

/// The act that last changed each.
pub async fn acts(db: &mut Connection) -> Result<BTreeMap<String, i64>> {
    let rows = sqlx::query!("SELECT key, act FROM setting").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| (row.key, row.act)).collect())
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
