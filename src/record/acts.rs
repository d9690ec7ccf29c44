//! Acts: one thing done by someone, the start of every transaction.

use super::{Connection, Error, Result, public_id};
use jiff::Timestamp;

/// Who does what, when.
#[derive(Clone, Debug)]
pub struct NewAct<'a> {
    pub person: Option<i64>,
    pub device: &'a str,
    pub what: &'a str,
    pub build: Option<i64>,
    pub at: Timestamp,
    /// The same post sent twice is one act.
    pub idempotency_key: &'a str,
}

/// Who did something, when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    pub by: Option<String>,
    pub at: Timestamp,
}

impl Stamp {
    pub(crate) fn of(by: Option<String>, at: &str) -> Result<Self> {
        let at = at.parse().map_err(|why| Error::corrupt("act", "at", at, why))?;
        Ok(Self { by, at })
    }

    /// Of an act that may never have come.
    pub(crate) fn of_any(by: Option<String>, at: Option<&str>) -> Result<Option<Self>> {
        at.map(|at| Self::of(by, at)).transpose()
    }
}

/// The act's id; none where its idempotency key is known already.
pub(super) async fn insert(db: &mut Connection, new: &NewAct<'_>) -> Result<Option<i64>> {
    let (id, at) = (public_id(), new.at.to_string());
    let done = sqlx::query!(
        "INSERT INTO act (public_id, person, identified, device, what, build, at, idempotency_key)
         VALUES (?, ?, 'named', ?, ?, ?, ?, ?) ON CONFLICT (idempotency_key) DO NOTHING",
        id,
        new.person,
        new.device,
        new.what,
        new.build,
        at,
        new.idempotency_key
    )
    .execute(db)
    .await?;
    Ok((done.rows_affected() == 1).then_some(done.last_insert_rowid()))
}

/// The act of an idempotency key.
pub async fn by_key(db: &mut Connection, key: &str) -> Result<Option<i64>> {
    let row =
        sqlx::query!(r#"SELECT id AS "id!: i64" FROM act WHERE idempotency_key = ?"#, key).fetch_optional(db).await?;
    Ok(row.map(|row| row.id))
}

/// What an act did.
pub async fn what(db: &mut Connection, act: i64) -> Result<Option<String>> {
    let row = sqlx::query!("SELECT what FROM act WHERE id = ?", act).fetch_optional(db).await?;
    Ok(row.map(|row| row.what))
}

/// The newest act touching a build.
pub async fn newest_of(db: &mut Connection, build: i64) -> Result<i64> {
    let row = sqlx::query!(r#"SELECT max(id) AS "id: i64" FROM act WHERE build = ?"#, build).fetch_one(db).await?;
    Ok(row.id.unwrap_or(0))
}

/// The newest act of all; 0 before the first.
pub async fn newest(db: &mut Connection) -> Result<i64> {
    let row = sqlx::query!(r#"SELECT max(id) AS "id: i64" FROM act"#).fetch_one(db).await?;
    Ok(row.id.unwrap_or(0))
}

/// The newest act of each build.
pub struct Touched {
    pub build: i64,
    pub act: i64,
    pub what: String,
    pub stamp: Stamp,
}

/// What last touched each build.
pub async fn newest_by_build(db: &mut Connection) -> Result<Vec<Touched>> {
    let rows = sqlx::query!(
        r#"SELECT a.id AS "id!: i64", a.build AS "build!: i64", a.what, a.at, p.name AS "by?: String"
           FROM act a LEFT JOIN person p ON p.id = a.person
           WHERE a.id IN (SELECT max(id) FROM act WHERE build IS NOT NULL GROUP BY build)"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| Ok(Touched { build: row.build, act: row.id, what: row.what, stamp: Stamp::of(row.by, &row.at)? }))
        .collect()
}

/// The build that a device last worked on.
pub async fn last_build_of_device(db: &mut Connection, device: &str) -> Result<Option<i64>> {
    let row = sqlx::query!(
        r#"SELECT build AS "build!: i64" FROM act WHERE device = ? AND build IS NOT NULL ORDER BY id DESC LIMIT 1"#,
        device
    )
    .fetch_optional(db)
    .await?;
    Ok(row.map(|row| row.build))
}

/// The build that an act touched.
pub async fn build_of(db: &mut Connection, act: i64) -> Result<Option<i64>> {
    let row = sqlx::query!("SELECT build FROM act WHERE id = ?", act).fetch_optional(db).await?;
    Ok(row.and_then(|row| row.build))
}

/// The newest act that changed a build, leaving out acts of one kind.
pub async fn newest_of_except(db: &mut Connection, build: i64, what: &str) -> Result<i64> {
    let row = sqlx::query!(r#"SELECT max(id) AS "id: i64" FROM act WHERE build = ? AND what <> ?"#, build, what)
        .fetch_one(db)
        .await?;
    Ok(row.id.unwrap_or(0))
}
