//! Readings: as typed, with unit, gauge setting, person and time, never overwritten; only whether they count changes.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::{SheetKey, SlotKey};
use crate::quantity::Unit;

/// Whether a reading counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingState {
    Stands,
    /// Taken without having seen the one before it: someone has to choose.
    Rival,
    /// Replaced by a correction.
    Corrected,
    /// Not chosen among rivals.
    SetAside,
    /// Moved to another job.
    Moved,
    Withdrawn,
}

impl ReadingState {
    pub fn key(self) -> &'static str {
        match self {
            Self::Stands => "stands",
            Self::Rival => "rival",
            Self::Corrected => "corrected",
            Self::SetAside => "set_aside",
            Self::Moved => "moved",
            Self::Withdrawn => "withdrawn",
        }
    }

    fn from_key(key: &str) -> Option<Self> {
        [Self::Stands, Self::Rival, Self::Corrected, Self::SetAside, Self::Moved, Self::Withdrawn]
            .into_iter()
            .find(|state| state.key() == key)
    }
}

/// What a reading says. Lengths in m.
#[derive(Clone, Debug, PartialEq)]
pub enum Says {
    Figure(f64),
    Range(f64, f64),
    Checked { how: String },
}

/// Where a reading was taken that came here with the thing it is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brought {
    /// Build and number there: "3/17".
    pub from: String,
    /// The act that took it there.
    pub read_in: i64,
}

/// A reading as kept.
#[derive(Clone, Debug)]
pub struct Reading {
    pub build: i64,
    /// Counted within the build.
    pub number: i64,
    pub item: i64,
    pub sheet: SheetKey,
    pub slot: SlotKey,
    pub round: i64,
    pub take: i64,
    pub says: Says,
    pub typed: String,
    pub unit: Option<Unit>,
    pub resolution: f64,
    pub gauge: Option<i64>,
    pub gauge_setting: Option<i64>,
    pub corrects: Option<i64>,
    pub why: String,
    pub as_read: bool,
    pub moved_from: Option<String>,
    pub moved_to: Option<String>,
    pub brought: Option<Brought>,
    pub state: ReadingState,
    /// When it was read and by whom; of one that was brought here, there.
    pub stamp: Stamp,
    /// The act that took it here.
    pub made: i64,
}

impl Reading {
    /// By which findings name it.
    pub fn id(&self) -> String {
        format!("{}/{}", self.build, self.number)
    }

    /// The act in which it was read.
    pub fn read_in(&self) -> i64 {
        self.brought.as_ref().map_or(self.made, |brought| brought.read_in)
    }
}

/// A reading to be kept. Its number and take are counted when it is.
#[derive(Clone, Debug)]
pub struct NewReading {
    pub item: i64,
    pub sheet: SheetKey,
    pub slot: SlotKey,
    pub round: i64,
    pub says: Says,
    pub typed: String,
    pub unit: Option<Unit>,
    pub resolution: f64,
    pub gauge: Option<i64>,
    pub gauge_setting: Option<i64>,
    pub saw: Option<i64>,
    pub corrects: Option<i64>,
    pub why: String,
    pub as_read: bool,
    pub moved_from: Option<String>,
    pub brought: Option<Brought>,
    pub state: ReadingState,
}

struct Row {
    build: i64,
    number: i64,
    item: i64,
    sheet: String,
    slot: String,
    round: i64,
    take: i64,
    kind: String,
    si: Option<f64>,
    si_high: Option<f64>,
    words: String,
    typed: String,
    unit: String,
    resolution: f64,
    gauge: Option<i64>,
    gauge_setting: Option<i64>,
    corrects: Option<i64>,
    why: String,
    as_read: bool,
    moved_from: Option<String>,
    moved_to: Option<String>,
    brought_from: Option<String>,
    read_in: Option<i64>,
    state: String,
    at: String,
    by: Option<String>,
    made: i64,
}

impl TryFrom<Row> for Reading {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        let corrupt =
            |column, why: &str| Error::corrupt("reading", column, format!("{}/{}", row.build, row.number), why);
        let says = match (row.kind.as_str(), row.si, row.si_high) {
            ("figure", Some(si), _) => Says::Figure(si),
            ("range", Some(low), Some(high)) => Says::Range(low, high),
            ("checked", ..) => Says::Checked { how: row.words.clone() },
            _ => return Err(corrupt("kind", "not a kind of reading this edition takes")),
        };
        Ok(Self {
            sheet: SheetKey::from_key(&row.sheet).ok_or_else(|| corrupt("sheet", "unknown sheet"))?,
            slot: SlotKey::parse(&row.slot),
            says,
            unit: unit_from(&row.unit),
            state: ReadingState::from_key(&row.state).ok_or_else(|| corrupt("state", "unknown word"))?,
            stamp: Stamp::of(row.by, &row.at)?,
            build: row.build,
            number: row.number,
            item: row.item,
            round: row.round,
            take: row.take,
            typed: row.typed,
            resolution: row.resolution,
            gauge: row.gauge,
            gauge_setting: row.gauge_setting,
            corrects: row.corrects,
            why: row.why,
            as_read: row.as_read,
            moved_from: row.moved_from,
            moved_to: row.moved_to,
            brought: row.brought_from.zip(row.read_in).map(|(from, read_in)| Brought { from, read_in }),
            made: row.made,
        })
    }
}

pub(super) fn unit_from(text: &str) -> Option<Unit> {
    serde_json::from_value(serde_json::Value::String(text.to_owned())).ok()
}

pub(super) fn unit_text(unit: Option<Unit>) -> String {
    unit.and_then(|unit| serde_json::to_value(unit).ok())
        .and_then(|v| v.as_str().map(str::to_owned))
        .unwrap_or_default()
}

/// Every reading of a build, in order of taking.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Reading>> {
    sqlx::query_as!(
        Row,
        r#"SELECT r.build, r.number, r.item, r.sheet, r.slot, r.round, r.take, r.kind, r.si, r.si_high, r.words, r.typed,
                  r.unit, r.resolution, r.gauge, r.gauge_setting, r.corrects, r.why, r.as_read AS "as_read: bool",
                  r.moved_from, r.moved_to, r.brought_from, r.read_in, r.state, a.at, p.name AS "by?: String", r.made
           FROM reading r JOIN act a ON a.id = coalesce(r.read_in, r.made) LEFT JOIN person p ON p.id = a.person
           WHERE r.build = ? ORDER BY r.number"#,
        build
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Reading::try_from)
    .collect()
}

pub async fn by_number(db: &mut Connection, build: i64, number: i64) -> Result<Option<Reading>> {
    sqlx::query_as!(
        Row,
        r#"SELECT r.build, r.number, r.item, r.sheet, r.slot, r.round, r.take, r.kind, r.si, r.si_high, r.words, r.typed,
                  r.unit, r.resolution, r.gauge, r.gauge_setting, r.corrects, r.why, r.as_read AS "as_read: bool",
                  r.moved_from, r.moved_to, r.brought_from, r.read_in, r.state, a.at, p.name AS "by?: String", r.made
           FROM reading r JOIN act a ON a.id = coalesce(r.read_in, r.made) LEFT JOIN person p ON p.id = a.person
           WHERE r.build = ? AND r.number = ?"#,
        build,
        number
    )
    .fetch_optional(db)
    .await?
    .map(Reading::try_from)
    .transpose()
}

/// The reading that an act took.
pub async fn number_by_act(db: &mut Connection, build: i64, act: i64) -> Result<Option<i64>> {
    let row =
        sqlx::query!("SELECT number FROM reading WHERE build = ? AND made = ? ORDER BY number LIMIT 1", build, act)
            .fetch_optional(db)
            .await?;
    Ok(row.map(|row| row.number))
}

/// Keeps a reading; its number within the build.
pub async fn insert(w: &mut Writing, build: i64, new: &NewReading) -> Result<i64> {
    let (act, sheet, slot) = (w.act, new.sheet.key(), new.slot.to_string());
    let newest = sqlx::query!(r#"SELECT max(number) AS "number: i64" FROM reading WHERE build = ?"#, build)
        .fetch_one(&mut **w)
        .await?;
    let takes = sqlx::query!(
        r#"SELECT max(take) AS "take: i64" FROM reading WHERE build = ? AND slot = ? AND round = ?"#,
        build,
        slot,
        new.round
    )
    .fetch_one(&mut **w)
    .await?;
    let (number, take) = (newest.number.unwrap_or(0) + 1, takes.take.unwrap_or(0) + 1);
    let (kind, si, si_high, words) = match &new.says {
        Says::Figure(si) => ("figure", Some(*si), None, ""),
        Says::Range(low, high) => ("range", Some(*low), Some(*high), ""),
        Says::Checked { how } => ("checked", None, None, how.as_str()),
    };
    let (unit, state) = (unit_text(new.unit), new.state.key());
    let (brought_from, read_in) = new.brought.as_ref().map(|brought| (&brought.from, brought.read_in)).unzip();
    sqlx::query!(
        "INSERT INTO reading (build, number, item, sheet, slot, round, take, kind, si, si_high, words, typed, unit,
             resolution, gauge, gauge_setting, saw, corrects, why, as_read, moved_from, brought_from, read_in, state, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        number,
        new.item,
        sheet,
        slot,
        new.round,
        take,
        kind,
        si,
        si_high,
        words,
        new.typed,
        unit,
        new.resolution,
        new.gauge,
        new.gauge_setting,
        new.saw,
        new.corrects,
        new.why,
        new.as_read,
        new.moved_from,
        brought_from,
        read_in,
        state,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(number)
}

pub async fn set_state(w: &mut Writing, build: i64, number: i64, state: ReadingState) -> Result<()> {
    let (act, state) = (w.act, state.key());
    sqlx::query!("UPDATE reading SET state = ?, act = ? WHERE build = ? AND number = ?", state, act, build, number)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// Marks a reading as moved to another job.
pub async fn set_moved(w: &mut Writing, build: i64, number: i64, to: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE reading SET state = 'moved', moved_to = ?, act = ? WHERE build = ? AND number = ?",
        to,
        act,
        build,
        number
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
