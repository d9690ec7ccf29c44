//! "My call, because …": findings accepted as they were seen then.

use super::{Connection, Result, Stamp, Writing};
use crate::engine::FindingKey;

/// An acceptance as kept.
#[derive(Clone, Debug)]
pub struct Acceptance {
    pub id: i64,
    pub build: i64,
    pub finding: FindingKey,
    /// Whose call.
    pub person: String,
    pub because: String,
    /// What the owner's card says of it; may be empty.
    pub for_owner: String,
    /// The finding as seen then, JSON.
    pub seen: String,
    pub stamp: Stamp,
}

/// An acceptance to be kept.
#[derive(Clone, Debug)]
pub struct NewAcceptance {
    pub finding: FindingKey,
    pub person: i64,
    pub because: String,
    pub for_owner: String,
    pub seen: String,
}

/// Those of one build, or of all, that have not been withdrawn.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Acceptance>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.build, c.finding, p.name AS person, c.because, c.for_owner, c.seen, a.at
           FROM acceptance c JOIN person p ON p.id = c.person JOIN act a ON a.id = c.made
           WHERE c.withdrawn IS NULL AND (?1 IS NULL OR c.build = ?1) ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Acceptance {
                id: row.id,
                build: row.build,
                finding: FindingKey::parse(&row.finding),
                stamp: Stamp::of(Some(row.person.clone()), &row.at)?,
                person: row.person,
                because: row.because,
                for_owner: row.for_owner,
                seen: row.seen,
            })
        })
        .collect()
}

/// Those of a build that were withdrawn, with who withdrew them and when.
pub async fn taken_back(db: &mut Connection, build: i64) -> Result<Vec<(Acceptance, Stamp)>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.build, c.finding, p.name AS person, c.because, c.for_owner, c.seen, a.at,
                  w.at AS withdrawn_at, q.name AS "withdrawn_by?: String"
           FROM acceptance c JOIN person p ON p.id = c.person JOIN act a ON a.id = c.made
           JOIN act w ON w.id = c.withdrawn LEFT JOIN person q ON q.id = w.person WHERE c.build = ? ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let call = Acceptance {
                id: row.id,
                build: row.build,
                finding: FindingKey::parse(&row.finding),
                stamp: Stamp::of(Some(row.person.clone()), &row.at)?,
                person: row.person,
                because: row.because,
                for_owner: row.for_owner,
                seen: row.seen,
            };
            Ok((call, Stamp::of(row.withdrawn_by, &row.withdrawn_at)?))
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewAcceptance) -> Result<i64> {
    let (act, finding) = (w.act, new.finding.to_string());
    let done = sqlx::query!(
        "INSERT INTO acceptance (build, finding, person, because, for_owner, seen, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        finding,
        new.person,
        new.because,
        new.for_owner,
        new.seen,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws what stands accepted of a finding; whether anything did.
pub async fn withdraw(w: &mut Writing, build: i64, finding: &FindingKey) -> Result<bool> {
    let (act, finding) = (w.act, finding.to_string());
    let done = sqlx::query!(
        "UPDATE acceptance SET withdrawn = ?, act = ? WHERE build = ? AND finding = ? AND withdrawn IS NULL",
        act,
        act,
        build,
        finding
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
