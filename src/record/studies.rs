//! Repeatability studies of gauges: their plan, who reads, and every reading as typed, never overwritten.

use super::readings::{unit_from, unit_text};
use super::{Connection, Error, Result, Stamp, Writing, public_id};
use crate::quantity::Unit;

/// A study as kept.
#[derive(Clone, Debug)]
pub struct Study {
    pub id: i64,
    pub public_id: String,
    pub gauge: i64,
    /// What is measured.
    pub measured: String,
    /// Of a bare figure.
    pub unit: Unit,
    /// The whole width of what is permitted; SI.
    pub tolerance: Option<f64>,
    pub parts: i64,
    pub trials: i64,
    pub stamp: Stamp,
    /// Whether it has been withdrawn.
    pub withdrawn: bool,
}

/// A study to be kept.
#[derive(Clone, Debug)]
pub struct NewStudy {
    pub gauge: i64,
    pub measured: String,
    pub unit: Unit,
    pub tolerance: Option<f64>,
    pub tolerance_typed: String,
    pub parts: i64,
    pub trials: i64,
    /// Internal ids, in the order they read.
    pub people: Vec<i64>,
}

/// Part, person and trial, each counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct StudySpot {
    pub part: i64,
    /// Which person of the study.
    pub place: i64,
    pub trial: i64,
}

/// A reading as kept.
#[derive(Clone, Debug)]
pub struct StudyReading {
    /// Counted within the study.
    pub number: i64,
    pub spot: StudySpot,
    pub si: f64,
    pub typed: String,
    /// One step of the last digit typed; SI.
    pub resolution: f64,
    pub corrects: Option<i64>,
    pub why: String,
    /// Whether it counts; otherwise it was corrected.
    pub stands: bool,
    pub stamp: Stamp,
}

/// A reading to be kept.
#[derive(Clone, Debug)]
pub struct NewStudyReading {
    pub spot: StudySpot,
    pub si: f64,
    pub typed: String,
    pub resolution: f64,
    /// The reading it corrects and why.
    pub corrects: Option<(i64, String)>,
}

struct Row {
    id: i64,
    public_id: String,
    gauge: i64,
    measured: String,
    unit: String,
    tolerance: Option<f64>,
    parts: i64,
    trials: i64,
    at: String,
    by: Option<String>,
    withdrawn: bool,
}

impl TryFrom<Row> for Study {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            unit: unit_from(&row.unit).ok_or_else(|| Error::corrupt("study", "unit", row.id, "unknown unit"))?,
            stamp: Stamp::of(row.by, &row.at)?,
            id: row.id,
            public_id: row.public_id,
            gauge: row.gauge,
            measured: row.measured,
            tolerance: row.tolerance,
            parts: row.parts,
            trials: row.trials,
            withdrawn: row.withdrawn,
        })
    }
}

/// A study with how many readings of it stand.
#[derive(Clone, Debug)]
pub struct CountedStudy {
    pub study: Study,
    pub people: i64,
    pub read: i64,
}

/// The studies of a gauge that have not been withdrawn, newest first.
pub async fn of_gauge(db: &mut Connection, gauge: i64) -> Result<Vec<CountedStudy>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.public_id, s.gauge, s.measured, s.unit, s.tolerance, s.parts, s.trials, a.at,
                  p.name AS "by?: String",
                  (SELECT count(place) FROM study_person WHERE study = s.id) AS "people!: i64",
                  (SELECT count(number) FROM study_reading WHERE study = s.id AND state = 'stands') AS "read!: i64"
           FROM study s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE s.gauge = ? AND s.withdrawn IS NULL ORDER BY s.id DESC"#,
        gauge
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let study = Row {
                id: row.id,
                public_id: row.public_id,
                gauge: row.gauge,
                measured: row.measured,
                unit: row.unit,
                tolerance: row.tolerance,
                parts: row.parts,
                trials: row.trials,
                at: row.at,
                by: row.by,
                withdrawn: false,
            };
            Ok(CountedStudy { study: study.try_into()?, people: row.people, read: row.read })
        })
        .collect()
}

/// A study by its public id, withdrawn ones too.
pub async fn by_public_id(db: &mut Connection, public_id: &str) -> Result<Option<Study>> {
    sqlx::query_as!(
        Row,
        r#"SELECT s.id AS "id!: i64", s.public_id, s.gauge, s.measured, s.unit, s.tolerance, s.parts, s.trials, a.at,
                  p.name AS "by?: String", s.withdrawn IS NOT NULL AS "withdrawn!: bool"
           FROM study s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE s.public_id = ?"#,
        public_id
    )
    .fetch_optional(db)
    .await?
    .map(Study::try_from)
    .transpose()
}

/// Who reads in a study, by name, in the order they were put down; those off the shop's list since too.
pub async fn people_of(db: &mut Connection, study: i64) -> Result<Vec<String>> {
    let rows = sqlx::query!(
        "SELECT p.name FROM study_person s JOIN person p ON p.id = s.person WHERE s.study = ? ORDER BY s.place",
        study
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| row.name).collect())
}

/// Every reading of a study, corrected ones too, in order of taking.
pub async fn readings_of(db: &mut Connection, study: i64) -> Result<Vec<StudyReading>> {
    let rows = sqlx::query!(
        r#"SELECT r.number, r.part, r.place, r.trial, r.si, r.typed, r.resolution, r.corrects, r.why,
                  r.state = 'stands' AS "stands!: bool", a.at, p.name AS "by?: String"
           FROM study_reading r JOIN act a ON a.id = r.made LEFT JOIN person p ON p.id = a.person
           WHERE r.study = ? ORDER BY r.number"#,
        study
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(StudyReading {
                number: row.number,
                spot: StudySpot { part: row.part, place: row.place, trial: row.trial },
                si: row.si,
                typed: row.typed,
                resolution: row.resolution,
                corrects: row.corrects,
                why: row.why,
                stands: row.stands,
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

/// Keeps a study with its people; its public id.
pub async fn insert(w: &mut Writing, new: &NewStudy) -> Result<String> {
    let (public_id, act, unit) = (public_id(), w.act, unit_text(Some(new.unit)));
    let done = sqlx::query!(
        "INSERT INTO study (public_id, gauge, measured, unit, tolerance, tolerance_typed, parts, trials, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        public_id,
        new.gauge,
        new.measured,
        unit,
        new.tolerance,
        new.tolerance_typed,
        new.parts,
        new.trials,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    let study = done.last_insert_rowid();
    for (place, person) in (1_i64..).zip(&new.people) {
        sqlx::query!(
            "INSERT INTO study_person (study, place, person, made) VALUES (?, ?, ?, ?)",
            study,
            place,
            person,
            act
        )
        .execute(&mut **w)
        .await?;
    }
    Ok(public_id)
}

/// The public id of the study that an act planned.
pub async fn planned_by(db: &mut Connection, act: i64) -> Result<Option<String>> {
    let row = sqlx::query!("SELECT public_id FROM study WHERE made = ?", act).fetch_optional(db).await?;
    Ok(row.map(|row| row.public_id))
}

/// Keeps a reading; what it corrects counts no more.
pub async fn insert_reading(w: &mut Writing, study: i64, new: &NewStudyReading) -> Result<()> {
    let act = w.act;
    if let Some((corrected, _)) = &new.corrects {
        sqlx::query!(
            "UPDATE study_reading SET state = 'corrected', act = ? WHERE study = ? AND number = ?",
            act,
            study,
            corrected
        )
        .execute(&mut **w)
        .await?;
    }
    let newest = sqlx::query!(r#"SELECT max(number) AS "number: i64" FROM study_reading WHERE study = ?"#, study)
        .fetch_one(&mut **w)
        .await?;
    let number = newest.number.unwrap_or(0) + 1;
    let (corrects, why) = new.corrects.as_ref().map_or((None, ""), |(number, why)| (Some(*number), why.as_str()));
    let StudySpot { part, place, trial } = new.spot;
    sqlx::query!(
        "INSERT INTO study_reading (study, number, part, place, trial, si, typed, resolution, corrects, why, state, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 'stands', ?, ?)",
        study,
        number,
        part,
        place,
        trial,
        new.si,
        new.typed,
        new.resolution,
        corrects,
        why,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Withdraws a study; it stays in the record.
pub async fn withdraw(w: &mut Writing, study: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE study SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, study)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// A reading of the newest study of a gauge, as far as its repeatability needs it.
#[derive(Clone, Debug)]
pub struct Repeat {
    pub gauge: i64,
    /// The study's public id.
    pub study: String,
    /// Who read.
    pub person: String,
    pub part: i64,
    pub si: f64,
}

/// Every reading that counts of the newest study of each gauge, together by person and part.
pub async fn repeats(db: &mut Connection) -> Result<Vec<Repeat>> {
    Ok(sqlx::query_as!(
        Repeat,
        r#"SELECT s.gauge, s.public_id AS study, p.name AS person, r.part, r.si
           FROM study s JOIN study_reading r ON r.study = s.id AND r.state = 'stands'
           JOIN study_person o ON o.study = s.id AND o.place = r.place JOIN person p ON p.id = o.person
           WHERE s.withdrawn IS NULL
             AND s.id = (SELECT max(t.id) FROM study t WHERE t.gauge = s.gauge AND t.withdrawn IS NULL)
           ORDER BY s.gauge, r.place, r.part"#
    )
    .fetch_all(db)
    .await?)
}
