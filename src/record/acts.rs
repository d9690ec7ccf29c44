//! Acts: one thing done by someone, the start of every transaction.

use super::{Connection, Error, Result, public_id};
use jiff::Timestamp;
use std::collections::BTreeMap;

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

/// The builds that acts after one have touched.
pub async fn touched_since(db: &mut Connection, act: i64) -> Result<Vec<i64>> {
    let rows =
        sqlx::query!(r#"SELECT DISTINCT build AS "build!: i64" FROM act WHERE id > ? AND build IS NOT NULL"#, act)
            .fetch_all(db)
            .await?;
    Ok(rows.into_iter().map(|row| row.build).collect())
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

/// The newest act that changed a build, leaving out acts of some kinds.
pub async fn newest_of_except(db: &mut Connection, build: i64, left_out: &[&str]) -> Result<i64> {
    let left_out = serde_json::json!(left_out).to_string();
    let row = sqlx::query!(
        r#"SELECT max(id) AS "id: i64" FROM act WHERE build = ? AND what NOT IN (SELECT value FROM json_each(?))"#,
        build,
        left_out
    )
    .fetch_one(db)
    .await?;
    Ok(row.id.unwrap_or(0))
}

/// Something somebody did on a job, and at which step, where that is known.
#[derive(Clone, Debug)]
pub struct DoneOnJob {
    pub person: i64,
    pub build: i64,
    pub what: String,
    pub at: Timestamp,
    pub step: Option<i64>,
    /// The sheet that was read.
    pub sheet: Option<String>,
}

/// What hands did on jobs from one instant until before another, in order.
pub async fn done_between(db: &mut Connection, from: Timestamp, until: Timestamp) -> Result<Vec<DoneOnJob>> {
    let (from, until) = (from.to_string(), until.to_string());
    let rows = sqlx::query!(
        r#"SELECT a.id AS "id!: i64", a.person AS "person!: i64", a.build AS "build!: i64", a.what, a.at
           FROM person p JOIN act a ON a.person = p.id
           WHERE a.at >= ? AND a.at < ? AND a.build IS NOT NULL ORDER BY a.id"#,
        from,
        until
    )
    .fetch_all(&mut *db)
    .await?;
    let (Some(first), Some(last)) = (rows.first().map(|row| row.id), rows.last().map(|row| row.id)) else {
        return Ok(Vec::new());
    };
    let mut steps: BTreeMap<i64, i64> = BTreeMap::new();
    let at_steps = sqlx::query!(
        r#"SELECT made AS "made!: i64", step AS "step!: i64" FROM sign_off WHERE made BETWEEN ?1 AND ?2
           UNION ALL SELECT made, step FROM stop_mark WHERE made BETWEEN ?1 AND ?2
           UNION ALL SELECT made, step FROM tightening WHERE made BETWEEN ?1 AND ?2
           UNION ALL SELECT made, step FROM note WHERE step IS NOT NULL AND made BETWEEN ?1 AND ?2
           UNION ALL SELECT made, step FROM attachment WHERE step IS NOT NULL AND made BETWEEN ?1 AND ?2"#,
        first,
        last
    );
    for row in at_steps.fetch_all(&mut *db).await? {
        steps.insert(row.made, row.step);
    }
    let mut sheets: BTreeMap<i64, String> = BTreeMap::new();
    let mut builds: Vec<i64> = rows.iter().map(|row| row.build).collect();
    builds.sort_unstable();
    builds.dedup();
    for build in builds {
        let read = sqlx::query!(
            "SELECT made, sheet FROM reading WHERE build = ? AND made BETWEEN ? AND ?",
            build,
            first,
            last
        );
        sheets.extend(read.fetch_all(&mut *db).await?.into_iter().map(|row| (row.made, row.sheet)));
    }
    rows.into_iter()
        .map(|row| {
            Ok(DoneOnJob {
                person: row.person,
                build: row.build,
                at: Stamp::of(None, &row.at)?.at,
                what: row.what,
                step: steps.get(&row.id).copied(),
                sheet: sheets.remove(&row.id),
            })
        })
        .collect()
}
