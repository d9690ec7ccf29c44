//! Engine families: what to start a job from, and what is odd about each. A job copies; it never points back for figures.

use super::engines::{read_architecture, write_architecture};
use super::{Connection, Error, Result, Writing, limits, public_id, targets};
use crate::engine::{Architecture, Limit, Materials, WorkingUnit};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A family as kept.
#[derive(Clone, Debug)]
pub struct Family {
    pub id: i64,
    pub public_id: String,
    pub name: String,
    pub note: String,
    pub architecture: Architecture,
    pub materials: Materials,
    pub unit: WorkingUnit,
    /// The build it was kept from, where that is known.
    pub kept_from: Option<i64>,
    pub act: i64,
}

/// What is said of a family.
#[derive(Clone, Debug)]
pub struct NewFamily {
    pub name: String,
    pub note: String,
    pub architecture: Architecture,
    pub materials: Materials,
    pub unit: WorkingUnit,
}

/// One step of a family's own list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FamilyStep {
    pub key: String,
    pub title: String,
    pub purpose: String,
    pub caution: String,
    /// Keys of the steps it follows.
    pub after: Vec<String>,
    /// Keys of its sheets.
    pub sheets: Vec<String>,
}

struct Row {
    id: i64,
    public_id: String,
    name: String,
    note: String,
    architecture: String,
    block_material: Option<String>,
    head_material: Option<String>,
    crank_material: Option<String>,
    piston_material: Option<String>,
    cap_material: Option<String>,
    rod_material: Option<String>,
    sleeve_material: Option<String>,
    bush_material: Option<String>,
    unit: String,
    kept_from: Option<i64>,
    act: i64,
}

impl TryFrom<Row> for Family {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            architecture: read_architecture("family", &row.public_id, &row.architecture)?,
            materials: Materials::from_keys([
                row.block_material.as_deref(),
                row.head_material.as_deref(),
                row.crank_material.as_deref(),
                row.piston_material.as_deref(),
                row.cap_material.as_deref(),
                row.rod_material.as_deref(),
                row.sleeve_material.as_deref(),
                row.bush_material.as_deref(),
            ]),
            unit: WorkingUnit::from_key(&row.unit)
                .ok_or_else(|| Error::corrupt("family", "unit", &row.public_id, "unknown word"))?,
            id: row.id,
            public_id: row.public_id,
            name: row.name,
            note: row.note,
            kept_from: row.kept_from,
            act: row.act,
        })
    }
}

/// Every family in use, by name.
pub async fn all(db: &mut Connection) -> Result<Vec<Family>> {
    sqlx::query_as!(
        Row,
        r#"SELECT id AS "id!: i64", public_id, name, note, architecture, block_material, head_material,
                  crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material, unit, kept_from, act
           FROM family WHERE withdrawn IS NULL ORDER BY name"#
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Family::try_from)
    .collect()
}

pub async fn by_public_id(db: &mut Connection, public_id: &str) -> Result<Option<Family>> {
    sqlx::query_as!(
        Row,
        r#"SELECT id AS "id!: i64", public_id, name, note, architecture, block_material, head_material,
                  crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material, unit, kept_from, act
           FROM family WHERE public_id = ?"#,
        public_id
    )
    .fetch_optional(db)
    .await?
    .map(Family::try_from)
    .transpose()
}

pub async fn by_id(db: &mut Connection, id: i64) -> Result<Option<Family>> {
    sqlx::query_as!(
        Row,
        r#"SELECT id AS "id!: i64", public_id, name, note, architecture, block_material, head_material,
                  crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material, unit, kept_from, act
           FROM family WHERE id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?
    .map(Family::try_from)
    .transpose()
}

/// Keeps a family from a build; its id and public id.
pub async fn insert(w: &mut Writing, from: i64, new: &NewFamily) -> Result<(i64, String)> {
    let (id, act, architecture) = (public_id(), w.act, write_architecture(&new.architecture));
    let [block, head, crank, pistons, caps, rods, sleeves, bushes] = new.materials.keys();
    let unit = new.unit.key();
    let done = sqlx::query!(
        "INSERT INTO family (public_id, name, note, architecture, block_material, head_material, crank_material,
                             piston_material, cap_material, rod_material, sleeve_material, bush_material, unit, kept_from, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        new.name,
        new.note,
        architecture,
        block,
        head,
        crank,
        pistons,
        caps,
        rods,
        sleeves,
        bushes,
        unit,
        from,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok((done.last_insert_rowid(), id))
}

/// The public id of the family that an act made.
pub async fn made_by(db: &mut Connection, act: i64) -> Result<Option<String>> {
    let row = sqlx::query!("SELECT public_id FROM family WHERE made = ?", act).fetch_optional(db).await?;
    Ok(row.map(|row| row.public_id))
}

pub async fn update(w: &mut Writing, id: i64, new: &NewFamily) -> Result<()> {
    let (act, architecture) = (w.act, write_architecture(&new.architecture));
    let [block, head, crank, pistons, caps, rods, sleeves, bushes] = new.materials.keys();
    let unit = new.unit.key();
    sqlx::query!(
        "UPDATE family SET name = ?, note = ?, architecture = ?, block_material = ?, head_material = ?,
                           crank_material = ?, piston_material = ?, cap_material = ?, rod_material = ?,
                           sleeve_material = ?, bush_material = ?, unit = ?, act = ?
         WHERE id = ?",
        new.name,
        new.note,
        architecture,
        block,
        head,
        crank,
        pistons,
        caps,
        rods,
        sleeves,
        bushes,
        unit,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn targets_of(db: &mut Connection, family: i64) -> Result<Vec<targets::Target>> {
    let rows = sqlx::query!("SELECT feature, place, si, typed FROM family_target WHERE family = ?", family)
        .fetch_all(db)
        .await?;
    rows.into_iter().filter_map(|row| targets::read(&row.feature, &row.place, row.si, row.typed).transpose()).collect()
}

pub async fn put_target(w: &mut Writing, family: i64, target: &targets::Target) -> Result<()> {
    let (act, feature, place) = (w.act, target.key.feature.key(), target.key.place.to_string());
    sqlx::query!(
        "INSERT INTO family_target (family, feature, place, si, typed, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (family, feature, place) DO UPDATE
         SET si = excluded.si, typed = excluded.typed, act = excluded.act",
        family,
        feature,
        place,
        target.si,
        target.typed,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn limits_of(db: &mut Connection, family: i64) -> Result<Vec<Limit>> {
    let rows = sqlx::query_as!(
        limits::Row,
        "SELECT feature, place, kind, least, most, condition, source FROM family_limit WHERE family = ? ORDER BY id",
        family
    )
    .fetch_all(db)
    .await?;
    limits::that_hold(rows)
}

pub async fn insert_limit(w: &mut Writing, family: i64, limit: &Limit, reason: &str) -> Result<()> {
    let (act, feature, kind) = (w.act, limit.feature.text(), limit.kind.key());
    let place = limit.place.map(|place| place.to_string());
    sqlx::query!(
        "INSERT INTO family_limit (family, feature, place, kind, least, most, condition, source, reason, made)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        family,
        feature,
        place,
        kind,
        limit.min,
        limit.max,
        limit.condition,
        limit.source,
        reason,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// The limits of every family at once, by family.
pub async fn limits_by_family(db: &mut Connection) -> Result<BTreeMap<i64, Vec<Limit>>> {
    let rows = sqlx::query!(
        "SELECT family, feature, place, kind, least, most, condition, source FROM family_limit ORDER BY id"
    )
    .fetch_all(db)
    .await?;
    let mut by_family: BTreeMap<i64, Vec<limits::Row>> = BTreeMap::new();
    for row in rows {
        by_family.entry(row.family).or_default().push(limits::Row {
            feature: row.feature,
            place: row.place,
            kind: row.kind,
            least: row.least,
            most: row.most,
            condition: row.condition,
            source: row.source,
        });
    }
    by_family.into_iter().map(|(family, rows)| Ok((family, limits::that_hold(rows)?))).collect()
}

/// The own list of steps of every family that keeps one, by family.
pub async fn steps_by_family(db: &mut Connection) -> Result<BTreeMap<i64, Vec<FamilyStep>>> {
    let rows = sqlx::query!("SELECT family, steps FROM family_step ORDER BY id").fetch_all(db).await?;
    let read = |family: i64, steps: &str| {
        serde_json::from_str(steps).map_err(|why| Error::corrupt("family_step", "steps", family, why))
    };
    rows.into_iter().map(|row| Ok((row.family, read(row.family, &row.steps)?))).collect()
}

/// The family's own list of steps; none where it keeps the default.
pub async fn steps_of(db: &mut Connection, family: i64) -> Result<Option<Vec<FamilyStep>>> {
    let row = sqlx::query!("SELECT steps FROM family_step WHERE family = ? ORDER BY id DESC LIMIT 1", family)
        .fetch_optional(db)
        .await?;
    row.map(|row| serde_json::from_str(&row.steps).map_err(|why| Error::corrupt("family_step", "steps", family, why)))
        .transpose()
}

pub async fn insert_steps(w: &mut Writing, family: i64, steps: &[FamilyStep]) -> Result<()> {
    let act = w.act;
    let steps = serde_json::to_string(steps).unwrap_or_default();
    sqlx::query!("INSERT INTO family_step (family, steps, made) VALUES (?, ?, ?)", family, steps, act)
        .execute(&mut **w)
        .await?;
    Ok(())
}
