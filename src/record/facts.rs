//! What is known of a build in words.

use super::{Connection, Result, Writing};
use std::collections::BTreeMap;

/// Text by the fact's key; emptied ones are left out.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<BTreeMap<String, String>> {
    let rows = sqlx::query!("SELECT key, text FROM fact WHERE build = ? AND text <> ''", build).fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| (row.key, row.text)).collect())
}

pub async fn put(w: &mut Writing, build: i64, key: &str, text: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO fact (build, key, text, made, act) VALUES (?, ?, ?, ?, ?)
         ON CONFLICT (build, key) DO UPDATE SET text = excluded.text, act = excluded.act",
        build,
        key,
        text,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
