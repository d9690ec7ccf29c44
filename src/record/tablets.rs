//! Who may come in from the shop's network: the hash of its PIN, and the tablets that have entered it.

use super::{Connection, Result, Stamp, Writing};

/// A tablet that is let in.
#[derive(Clone, Debug)]
pub struct Tablet {
    pub id: i64,
    pub name: String,
    /// Who let it in, when.
    pub stamp: Stamp,
}

/// The PIN's hash; none where no PIN was ever set.
pub async fn pin_hash(db: &mut Connection) -> Result<Option<String>> {
    Ok(sqlx::query!("SELECT hash FROM shop_pin").fetch_optional(db).await?.map(|row| row.hash))
}

pub async fn put_pin_hash(w: &mut Writing, hash: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO shop_pin (id, hash, made, act) VALUES (1, ?, ?, ?)
         ON CONFLICT (id) DO UPDATE SET hash = excluded.hash, act = excluded.act",
        hash,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// The tablet of a session, if it is still let in and the same device.
pub async fn by_session(db: &mut Connection, session: &str, device: &str) -> Result<Option<i64>> {
    let row = sqlx::query!(
        r#"SELECT id AS "id!: i64" FROM tablet WHERE session = ? AND device = ? AND ended IS NULL"#,
        session,
        device
    )
    .fetch_optional(db)
    .await?;
    Ok(row.map(|row| row.id))
}

/// Those that are let in, oldest first.
pub async fn standing(db: &mut Connection) -> Result<Vec<Tablet>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.name, a.at, p.name AS "by?: String"
           FROM tablet t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE t.ended IS NULL ORDER BY t.id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(|row| Ok(Tablet { id: row.id, name: row.name, stamp: Stamp::of(row.by, &row.at)? })).collect()
}

/// How many were ever let in.
pub async fn count(db: &mut Connection) -> Result<i64> {
    Ok(sqlx::query!(r#"SELECT count(*) AS "count!: i64" FROM tablet"#).fetch_one(db).await?.count)
}

/// Lets a tablet in; a session its device had before ends.
pub async fn insert(w: &mut Writing, name: &str, device: &str, session: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE tablet SET ended = ?, act = ? WHERE device = ? AND ended IS NULL", act, act, device)
        .execute(&mut **w)
        .await?;
    sqlx::query!(
        "INSERT INTO tablet (name, device, session, made, act) VALUES (?, ?, ?, ?, ?)",
        name,
        device,
        session,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Ends one that is let in, or all of them; how many there were.
pub async fn end(w: &mut Writing, id: Option<i64>) -> Result<u64> {
    let act = w.act;
    let done =
        sqlx::query!("UPDATE tablet SET ended = ?1, act = ?1 WHERE ended IS NULL AND (?2 IS NULL OR id = ?2)", act, id)
            .execute(&mut **w)
            .await?;
    Ok(done.rows_affected())
}
