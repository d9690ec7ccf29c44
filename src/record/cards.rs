//! Cards: for whom each line is, and what was issued, frozen.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::Audience;
use std::collections::BTreeMap;

/// A card as issued.
#[derive(Clone, Debug)]
pub struct CardIssue {
    pub number: i64,
    pub audience: Audience,
    pub replaces: Option<i64>,
    /// The PDF's internal file id and digest.
    pub file: i64,
    pub sha256: String,
    /// The build's newest act that the card shows.
    pub record_act: i64,
    /// The act that issued it.
    pub act: i64,
    pub stamp: Stamp,
}

fn audience(word: &str, table: &'static str, row: &str) -> Result<Audience> {
    Audience::from_word(word).ok_or_else(|| Error::corrupt(table, "audience", row, "unknown word"))
}

/// The shop's preset, by line.
pub async fn presets(db: &mut Connection) -> Result<BTreeMap<String, Audience>> {
    let rows = sqlx::query!("SELECT line, audience FROM card_preset").fetch_all(db).await?;
    rows.into_iter().map(|row| Ok((row.line.clone(), audience(&row.audience, "card_preset", &row.line)?))).collect()
}

pub async fn put_preset(w: &mut Writing, line: &str, audience: Audience) -> Result<()> {
    let (act, word) = (w.act, audience.word());
    sqlx::query!(
        "INSERT INTO card_preset (line, audience, made, act) VALUES (?, ?, ?, ?)
         ON CONFLICT (line) DO UPDATE SET audience = excluded.audience, act = excluded.act",
        line,
        word,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// What a job chose differently from the preset, by line.
pub async fn choices(db: &mut Connection, build: i64) -> Result<BTreeMap<String, Audience>> {
    let rows = sqlx::query!("SELECT line, audience FROM card_choice WHERE build = ?", build).fetch_all(db).await?;
    rows.into_iter().map(|row| Ok((row.line.clone(), audience(&row.audience, "card_choice", &row.line)?))).collect()
}

pub async fn put_choice(w: &mut Writing, build: i64, line: &str, audience: Audience) -> Result<()> {
    let (act, word) = (w.act, audience.word());
    sqlx::query!(
        "INSERT INTO card_choice (build, line, audience, made, act) VALUES (?, ?, ?, ?, ?)
         ON CONFLICT (build, line) DO UPDATE SET audience = excluded.audience, act = excluded.act",
        build,
        line,
        word,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// What was issued for a build, in order.
pub async fn issues(db: &mut Connection, build: i64) -> Result<Vec<CardIssue>> {
    let rows = sqlx::query!(
        r#"SELECT c.number, c.audience, c.replaces, c.file, f.sha256, c.record_act, c.made, a.at,
                  p.name AS "by?: String"
           FROM card_issue c JOIN file f ON f.id = c.file JOIN act a ON a.id = c.made
           LEFT JOIN person p ON p.id = a.person
           WHERE c.build = ? ORDER BY c.number"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(CardIssue {
                number: row.number,
                audience: audience(&row.audience, "card_issue", &row.number.to_string())?,
                replaces: row.replaces,
                file: row.file,
                sha256: row.sha256,
                record_act: row.record_act,
                act: row.made,
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

/// The number of the card that an act issued.
pub async fn issued_by(db: &mut Connection, build: i64, act: i64) -> Result<Option<i64>> {
    let row = sqlx::query!("SELECT number FROM card_issue WHERE build = ? AND made = ?", build, act)
        .fetch_optional(db)
        .await?;
    Ok(row.map(|row| row.number))
}

/// A card to be issued.
#[derive(Clone, Debug)]
pub struct NewCardIssue {
    pub number: i64,
    pub audience: Audience,
    pub replaces: Option<i64>,
    pub file: i64,
    pub record_act: i64,
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewCardIssue) -> Result<()> {
    let (act, word) = (w.act, new.audience.word());
    sqlx::query!(
        "INSERT INTO card_issue (build, number, audience, replaces, file, record_act, made) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        new.number,
        word,
        new.replaces,
        new.file,
        new.record_act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
