//! Gauges, and what each was set to: readings of one setting share its error.

use super::{Connection, Error, Result, Stamp, Writing, public_id};
use crate::metrology::GaugeKind;
use crate::quantity::Unit;

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
        r#"SELECT id AS "id!: i64", public_id, kind, name, serial, step_unit, act
           FROM gauge WHERE withdrawn IS NULL ORDER BY name"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |column| Error::corrupt("gauge", column, &row.public_id, "unknown word");
            let step = STEP_UNITS.into_iter().find(|(key, _)| *key == row.step_unit);
            Ok(Gauge {
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
    let done = sqlx::query!(
        "INSERT INTO gauge (public_id, kind, name, serial, step_unit, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        id,
        kind,
        new.name,
        new.serial,
        step,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewGauge) -> Result<()> {
    let (act, kind, step) = (w.act, new.kind.key(), step_key(new.step));
    sqlx::query!(
        "UPDATE gauge SET kind = ?, name = ?, serial = ?, step_unit = ?, act = ? WHERE id = ?",
        kind,
        new.name,
        new.serial,
        step,
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
            made: Stamp::of(row.by, &row.at)?,
        })
    }
}

/// The settings made for a build, newest first.
pub async fn settings_of(db: &mut Connection, build: i64) -> Result<Vec<GaugeSetting>> {
    let rows = sqlx::query_as!(
        SettingRow,
        r#"SELECT s.id AS "id!: i64", s.gauge, s.zeroed_on, s.set_to, s.typed, a.at, p.name AS "by?: String"
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
        r#"SELECT s.id AS "id!: i64", s.gauge, s.zeroed_on, s.set_to, s.typed, a.at, p.name AS "by?: String"
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
        "INSERT INTO gauge_setting (gauge, build, zeroed_on, set_to, typed, made) VALUES (?, ?, ?, ?, ?, ?)",
        new.gauge,
        new.build,
        new.zeroed_on,
        new.set_to,
        new.typed,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}
