//! Engines: their skeleton and materials. They live for decades, through several builds.

use super::{Connection, Error, Result, Writing, public_id};
use crate::engine::{Architecture, Materials};
use std::collections::BTreeMap;

/// An engine as kept.
#[derive(Clone, Debug)]
pub struct Engine {
    pub id: i64,
    pub public_id: String,
    pub family: Option<i64>,
    pub architecture: Architecture,
    pub materials: Materials,
}

/// What can be said of an engine's make-up.
#[derive(Clone, Debug)]
pub struct NewEngine {
    pub family: Option<i64>,
    pub architecture: Architecture,
    pub materials: Materials,
}

struct Row {
    id: i64,
    public_id: String,
    family: Option<i64>,
    architecture: String,
    block_material: Option<String>,
    head_material: Option<String>,
    crank_material: Option<String>,
    piston_material: Option<String>,
    cap_material: Option<String>,
    rod_material: Option<String>,
    sleeve_material: Option<String>,
    bush_material: Option<String>,
}

impl TryFrom<Row> for Engine {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        Ok(Self {
            architecture: read_architecture("engine", &row.public_id, &row.architecture)?,
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
            id: row.id,
            public_id: row.public_id,
            family: row.family,
        })
    }
}

pub(super) fn read_architecture(table: &'static str, row: &str, text: &str) -> Result<Architecture> {
    serde_json::from_str(text).map_err(|why| Error::corrupt(table, "architecture", row, why))
}

pub(super) fn write_architecture(architecture: &Architecture) -> String {
    serde_json::to_string(architecture).unwrap_or_default()
}

pub async fn by_id(db: &mut Connection, id: i64) -> Result<Option<Engine>> {
    sqlx::query_as!(
        Row,
        r#"SELECT id AS "id!: i64", public_id, family, architecture, block_material, head_material,
                  crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material
           FROM engine WHERE id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?
    .map(Engine::try_from)
    .transpose()
}

/// The family of each build's engine that has one, of a build or of every build that has not left the shop.
pub async fn families(db: &mut Connection, build: Option<i64>) -> Result<BTreeMap<i64, i64>> {
    let rows = sqlx::query!(
        r#"SELECT b.id AS "id!: i64", e.family AS "family!: i64" FROM build b JOIN engine e ON e.id = b.engine
           WHERE e.family IS NOT NULL AND ((?1 IS NULL AND b.closed IS NULL) OR b.id = ?1)"#,
        build
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| (row.id, row.family)).collect())
}

pub async fn all(db: &mut Connection) -> Result<Vec<Engine>> {
    sqlx::query_as!(
        Row,
        r#"SELECT id AS "id!: i64", public_id, family, architecture, block_material, head_material,
                  crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material FROM engine"#
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Engine::try_from)
    .collect()
}

pub async fn insert(w: &mut Writing, new: &NewEngine) -> Result<i64> {
    let (id, act) = (public_id(), w.act);
    let architecture = write_architecture(&new.architecture);
    let [block, head, crank, pistons, caps, rods, sleeves, bushes] = new.materials.keys();
    let done = sqlx::query!(
        "INSERT INTO engine (public_id, family, architecture, block_material, head_material, crank_material, piston_material, cap_material, rod_material, sleeve_material, bush_material, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        new.family,
        architecture,
        block,
        head,
        crank,
        pistons,
        caps,
        rods,
        sleeves,
        bushes,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewEngine) -> Result<()> {
    let act = w.act;
    let architecture = write_architecture(&new.architecture);
    let [block, head, crank, pistons, caps, rods, sleeves, bushes] = new.materials.keys();
    sqlx::query!(
        "UPDATE engine SET family = ?, architecture = ?, block_material = ?, head_material = ?, crank_material = ?,
                           piston_material = ?, cap_material = ?, rod_material = ?,
                           sleeve_material = ?, bush_material = ?, act = ?
         WHERE id = ?",
        new.family,
        architecture,
        block,
        head,
        crank,
        pistons,
        caps,
        rods,
        sleeves,
        bushes,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
