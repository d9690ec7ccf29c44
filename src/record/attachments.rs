//! Files attached to a job or one of its steps: photographs above all.

use super::{Connection, Result, Stamp, Writing};

/// An attachment as kept.
#[derive(Clone, Debug)]
pub struct Attachment {
    pub id: i64,
    pub step: Option<i64>,
    /// The round whose record it is.
    pub round: Option<i64>,
    /// The part it shows or belongs to.
    pub part: Option<i64>,
    /// The work sent out whose ticket or report it is.
    pub sending: Option<i64>,
    /// The file's public id.
    pub file: String,
    /// Of its bytes, hex.
    pub sha256: String,
    pub name: String,
    pub caption: String,
    pub media_type: String,
    pub width: Option<i64>,
    pub height: Option<i64>,
    pub bytes: i64,
    /// Whether smaller copies of a picture are kept.
    pub previewed: bool,
    pub stamp: Stamp,
    pub withdrawn: Option<Stamp>,
}

/// Those of a build, newest first; those withdrawn as well.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Attachment>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.step, t.round, t.part, t.sending, f.public_id AS file, f.sha256, t.name, t.caption, f.media_type,
                  f.width, f.height, f.bytes, f.preview_sha256 IS NOT NULL AS "previewed!: bool", a.at, p.name AS "by?: String", w.at AS "withdrawn_at?: String",
                  q.name AS "withdrawn_by?: String"
           FROM attachment t JOIN file f ON f.id = t.file JOIN act a ON a.id = t.made
           LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act w ON w.id = t.withdrawn LEFT JOIN person q ON q.id = w.person
           WHERE t.build = ? ORDER BY t.id DESC"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Attachment {
                id: row.id,
                step: row.step,
                round: row.round,
                part: row.part,
                sending: row.sending,
                file: row.file,
                sha256: row.sha256,
                name: row.name,
                caption: row.caption,
                media_type: row.media_type,
                width: row.width,
                height: row.height,
                bytes: row.bytes,
                previewed: row.previewed,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: Stamp::of_any(row.withdrawn_by, row.withdrawn_at.as_deref())?,
            })
        })
        .collect()
}

/// A file to attach.
#[derive(Clone, Copy, Debug)]
pub struct NewAttachment<'a> {
    pub step: Option<i64>,
    pub round: Option<i64>,
    pub part: Option<i64>,
    pub sending: Option<i64>,
    pub file: i64,
    pub name: &'a str,
    pub caption: &'a str,
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewAttachment<'_>) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO attachment (build, step, round, part, sending, file, name, caption, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        new.step,
        new.round,
        new.part,
        new.sending,
        new.file,
        new.name,
        new.caption,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws an attachment; whether there was one of the build that stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE attachment SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
