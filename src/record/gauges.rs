//! Gauges, and what each was set to: readings of one setting share its error.

use super::{Connection, Error, Result, Stamp, Writing, public_id};
use crate::metrology::GaugeKind;
use crate::quantity::Unit;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// A gauge as kept.
#[derive(Clone, Debug)]
pub struct Gauge {
    pub id: i64,
    pub public_id: String,
    pub kind: GaugeKind,
    pub name: String,
    pub serial: String,
    /// What a bare deviation ("+2") means on it.
    pub step: Unit,
    pub known: Characteristics,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// A gauge to be kept.
#[derive(Clone, Debug)]
pub struct NewGauge {
    pub kind: GaugeKind,
    pub name: String,
    pub serial: String,
    pub step: Unit,
    pub known: Characteristics,
}

/// What is known of a gauge beyond its kind, in the SI unit of what it measures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Characteristics {
    pub range_low: Option<f64>,
    pub range_high: Option<f64>,
    /// Smallest step it is read to.
    pub resolution: Option<f64>,
    /// Maximum permissible error, either way.
    pub permissible_error: Option<f64>,
    pub calibrated: Option<Date>,
    /// When it is to be calibrated again.
    pub due: Option<Date>,
    /// The certificate of that calibration: a file.
    pub certificate: Option<i64>,
}

/// A setting of a gauge.
#[derive(Clone, Debug)]
pub struct GaugeSetting {
    pub id: i64,
    pub gauge: i64,
    /// Master, or the micrometer set to which journal.
    pub zeroed_on: String,
    /// In m; none where it was zeroed without a figure.
    pub set_to: Option<f64>,
    pub typed: String,
    /// The gauge it was zeroed in, where it was one.
    pub master: Option<i64>,
    pub made: Stamp,
}

/// A setting to be kept.
#[derive(Clone, Debug)]
pub struct NewGaugeSetting {
    pub gauge: i64,
    pub build: Option<i64>,
    pub zeroed_on: String,
    pub set_to: Option<f64>,
    pub typed: String,
    pub master: Option<i64>,
}

/// The units that a bare deviation can be in.
pub const STEP_UNITS: [(&str, Unit); 3] =
    [("thou", Unit::Thou), ("tenth", Unit::Tenth), ("micrometre", Unit::Micrometre)];

fn step_key(unit: Unit) -> &'static str {
    STEP_UNITS.into_iter().find(|(_, step)| *step == unit).map_or("thou", |(key, _)| key)
}

/// Every gauge in use, by name.
pub async fn all(db: &mut Connection) -> Result<Vec<Gauge>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id!: i64", public_id, kind, name, serial, step_unit, range_low, range_high, resolution,
                  permissible_error, calibrated, due, certificate, act
           FROM gauge WHERE withdrawn IS NULL ORDER BY name"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |column| Error::corrupt("gauge", column, &row.public_id, "unknown word or date");
            let step = STEP_UNITS.into_iter().find(|(key, _)| *key == row.step_unit);
            let date = |column, text: Option<&String>| {
                text.map(|text| text.parse::<Date>().map_err(|_| corrupt(column))).transpose()
            };
            Ok(Gauge {
                known: Characteristics {
                    range_low: row.range_low,
                    range_high: row.range_high,
                    resolution: row.resolution,
                    permissible_error: row.permissible_error,
                    calibrated: date("calibrated", row.calibrated.as_ref())?,
                    due: date("due", row.due.as_ref())?,
                    certificate: row.certificate,
                },
                kind: GaugeKind::from_key(&row.kind).ok_or_else(|| corrupt("kind"))?,
                step: step.ok_or_else(|| corrupt("step_unit"))?.1,
                id: row.id,
                public_id: row.public_id.clone(),
                name: row.name,
                serial: row.serial,
                act: row.act,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, new: &NewGauge) -> Result<i64> {
    let (id, act, kind, step) = (public_id(), w.act, new.kind.key(), step_key(new.step));
    let known = &new.known;
    let (calibrated, due) = (known.calibrated.map(|date| date.to_string()), known.due.map(|date| date.to_string()));
    let done = sqlx::query!(
        "INSERT INTO gauge (public_id, kind, name, serial, step_unit, range_low, range_high, resolution, permissible_error,
                            calibrated, due, certificate, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        kind,
        new.name,
        new.serial,
        step,
        known.range_low,
        known.range_high,
        known.resolution,
        known.permissible_error,
        calibrated,
        due,
        known.certificate,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewGauge) -> Result<()> {
    let (act, kind, step) = (w.act, new.kind.key(), step_key(new.step));
    let known = &new.known;
    let (calibrated, due) = (known.calibrated.map(|date| date.to_string()), known.due.map(|date| date.to_string()));
    sqlx::query!(
        "UPDATE gauge SET kind = ?, name = ?, serial = ?, step_unit = ?, range_low = ?, range_high = ?, resolution = ?,
                          permissible_error = ?, calibrated = ?, due = ?, certificate = ?, act = ?
         WHERE id = ?",
        kind,
        new.name,
        new.serial,
        step,
        known.range_low,
        known.range_high,
        known.resolution,
        known.permissible_error,
        calibrated,
        due,
        known.certificate,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

struct SettingRow {
    id: i64,
    gauge: i64,
    zeroed_on: String,
    set_to: Option<f64>,
    typed: String,
    master: Option<i64>,
    at: String,
    by: Option<String>,
}

impl TryFrom<SettingRow> for GaugeSetting {
    type Error = Error;
    fn try_from(row: SettingRow) -> Result<Self> {
        Ok(Self {
            id: row.id,
            gauge: row.gauge,
            zeroed_on: row.zeroed_on,
            set_to: row.set_to,
            typed: row.typed,
            master: row.master,
            made: Stamp::of(row.by, &row.at)?,
        })
    }
}

/// The settings made for a build, newest first.
pub async fn settings_of(db: &mut Connection, build: i64) -> Result<Vec<GaugeSetting>> {
    let rows = sqlx::query_as!(
        SettingRow,
        r#"SELECT s.id AS "id!: i64", s.gauge, s.zeroed_on, s.set_to, s.typed, s.master, a.at, p.name AS "by?: String"
           FROM gauge_setting s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE s.build = ? ORDER BY s.id DESC"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(GaugeSetting::try_from).collect()
}

/// One setting, whichever build it was made for.
pub async fn setting_by_id(db: &mut Connection, id: i64) -> Result<Option<GaugeSetting>> {
    sqlx::query_as!(
        SettingRow,
        r#"SELECT s.id AS "id!: i64", s.gauge, s.zeroed_on, s.set_to, s.typed, s.master, a.at, p.name AS "by?: String"
           FROM gauge_setting s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person WHERE s.id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?
    .map(GaugeSetting::try_from)
    .transpose()
}

pub async fn insert_setting(w: &mut Writing, new: &NewGaugeSetting) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO gauge_setting (gauge, build, zeroed_on, set_to, typed, master, made) VALUES (?, ?, ?, ?, ?, ?, ?)",
        new.gauge,
        new.build,
        new.zeroed_on,
        new.set_to,
        new.typed,
        new.master,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// The public ids of the gauges' certificates, by file.
pub async fn certificates(db: &mut Connection) -> Result<BTreeMap<i64, String>> {
    let rows = sqlx::query!(
        r#"SELECT f.id AS "id!: i64", f.public_id FROM file f JOIN gauge g ON g.certificate = f.id WHERE g.withdrawn IS NULL"#
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| (row.id, row.public_id)).collect())
}
