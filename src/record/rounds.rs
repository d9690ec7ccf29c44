//! Rounds of readings: what each was for, and the condition the parts were in.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::SheetKey;
use serde::{Deserialize, Serialize};

/// What a round was for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoundKind {
    Received,
    Machined,
    Trial,
    Final,
    Refresh,
}

impl RoundKind {
    pub const ALL: [Self; 5] = [Self::Received, Self::Machined, Self::Trial, Self::Final, Self::Refresh];

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        match self {
            Self::Received => "received",
            Self::Machined => "machined",
            Self::Trial => "trial",
            Self::Final => "final",
            Self::Refresh => "refresh",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    pub fn word(self) -> &'static str {
        match self {
            Self::Received => "as received",
            Self::Machined => "back from machining",
            Self::Trial => "trial",
            Self::Final => "final",
            Self::Refresh => "refresh",
        }
    }

    /// Whether the parts are read as they came, worn, rather than as they were made.
    pub fn reads_parts_as_they_came(self) -> bool {
        matches!(self, Self::Received | Self::Refresh)
    }
}

/// The condition of the parts; each in words, empty where not noted.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Condition {
    /// Torque plate on, with which gasket.
    pub plate: String,
    pub fasteners: String,
    pub lubricant: String,
    pub torque: String,
    /// Which shells were in.
    pub shells: String,
}

/// A round as kept.
#[derive(Clone, Debug)]
pub struct Round {
    pub id: i64,
    pub build: i64,
    pub sheet: SheetKey,
    pub kind: RoundKind,
    pub number: i64,
    pub condition: Condition,
    pub temperature_c: Option<f64>,
    /// Of the gauge; none: as warm as the parts.
    pub gauge_temperature_c: Option<f64>,
    pub counts: bool,
    pub made: Stamp,
}

/// A round to begin.
#[derive(Clone, Debug)]
pub struct NewRound {
    pub sheet: SheetKey,
    pub kind: RoundKind,
    pub condition: Condition,
    pub temperature_c: Option<f64>,
    pub gauge_temperature_c: Option<f64>,
}

/// The rounds of one build, or of all, in order of sheet and number. Those of unknown sheets are left out.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Round>> {
    let rows = sqlx::query!(
        r#"SELECT r.id AS "id!: i64", r.build, r.sheet, r.kind, r.number, r.condition, r.temperature_c,
                  r.gauge_temperature_c, r.counts AS "counts: bool", a.at, p.name AS "by?: String"
           FROM round r JOIN act a ON a.id = r.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR r.build = ?1 ORDER BY r.build, r.sheet, r.number"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .filter_map(|row| {
            let sheet = SheetKey::from_key(&row.sheet)?;
            let corrupt = |column, why: String| Error::corrupt("round", column, row.id, why);
            Some((|| {
                Ok(Round {
                    sheet,
                    kind: RoundKind::from_key(&row.kind).ok_or_else(|| corrupt("kind", "unknown word".into()))?,
                    condition: serde_json::from_str(&row.condition)
                        .map_err(|why| corrupt("condition", why.to_string()))?,
                    made: Stamp::of(row.by.clone(), &row.at)?,
                    id: row.id,
                    build: row.build,
                    number: row.number,
                    temperature_c: row.temperature_c,
                    gauge_temperature_c: row.gauge_temperature_c,
                    counts: row.counts,
                })
            })())
        })
        .collect()
}

/// Begins a round; it counts from now on, and those before it no longer do.
pub async fn insert(w: &mut Writing, build: i64, new: &NewRound) -> Result<i64> {
    let (act, sheet, kind) = (w.act, new.sheet.key(), new.kind.key());
    let condition = serde_json::to_string(&new.condition).unwrap_or_default();
    let row =
        sqlx::query!(r#"SELECT max(number) AS "number: i64" FROM round WHERE build = ? AND sheet = ?"#, build, sheet)
            .fetch_one(&mut **w)
            .await?;
    let number = row.number.unwrap_or(0) + 1;
    sqlx::query!(
        "UPDATE round SET counts = 0, act = ? WHERE build = ? AND sheet = ? AND counts = 1",
        act,
        build,
        sheet
    )
    .execute(&mut **w)
    .await?;
    let done = sqlx::query!(
        "INSERT INTO round (build, sheet, kind, number, condition, temperature_c, gauge_temperature_c, counts, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, 1, ?, ?)",
        build,
        sheet,
        kind,
        number,
        condition,
        new.temperature_c,
        new.gauge_temperature_c,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Says which round of its sheet counts.
pub async fn let_count(w: &mut Writing, round: &Round) -> Result<()> {
    let (act, sheet) = (w.act, round.sheet.key());
    sqlx::query!(
        "UPDATE round SET counts = 0, act = ? WHERE build = ? AND sheet = ? AND counts = 1",
        act,
        round.build,
        sheet
    )
    .execute(&mut **w)
    .await?;
    sqlx::query!("UPDATE round SET counts = 1, act = ? WHERE id = ?", act, round.id).execute(&mut **w).await?;
    Ok(())
}

/// Notes the temperatures that a round is read at.
pub async fn set_temperatures(w: &mut Writing, round: i64, parts: Option<f64>, gauge: Option<f64>) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE round SET temperature_c = ?, gauge_temperature_c = ?, act = ? WHERE id = ?",
        parts,
        gauge,
        act,
        round
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
