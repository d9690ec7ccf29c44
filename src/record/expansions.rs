//! The shop's own coefficients of expansion, instead of the usual ones.

use super::{Connection, Result, Writing};
use crate::metrology::{Expansion, Material};
use std::collections::BTreeMap;

/// A coefficient the shop goes by.
#[derive(Clone, Debug)]
pub struct OwnExpansion {
    pub expansion: Expansion,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// Those in use, by material; one of an unknown material is left out.
pub async fn all(db: &mut Connection) -> Result<BTreeMap<Material, OwnExpansion>> {
    let rows =
        sqlx::query!("SELECT material, per_kelvin, low, high, source, act FROM expansion WHERE withdrawn IS NULL")
            .fetch_all(db)
            .await?;
    let own = rows.into_iter().filter_map(|row| {
        let expansion = Expansion { per_kelvin: row.per_kelvin, span: (row.low, row.high), source: row.source.into() };
        Some((Material::from_key(&row.material)?, OwnExpansion { expansion, act: row.act }))
    });
    Ok(own.collect())
}

/// Keeps the shop's own coefficient of a material.
pub async fn put(w: &mut Writing, material: Material, expansion: &Expansion) -> Result<()> {
    let (act, key, (low, high)) = (w.act, material.key(), expansion.span);
    sqlx::query!(
        "INSERT INTO expansion (material, per_kelvin, low, high, source, made, act) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?6)
         ON CONFLICT (material) DO UPDATE SET per_kelvin = ?2, low = ?3, high = ?4, source = ?5, act = ?6, withdrawn = NULL",
        key,
        expansion.per_kelvin,
        low,
        high,
        expansion.source,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Goes back to the usual coefficient of a material.
pub async fn withdraw(w: &mut Writing, material: Material) -> Result<()> {
    let (act, key) = (w.act, material.key());
    sqlx::query!("UPDATE expansion SET withdrawn = ?1, act = ?1 WHERE material = ?2", act, key)
        .execute(&mut **w)
        .await?;
    Ok(())
}
