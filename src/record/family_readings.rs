//! What earlier engines of a family read, of finished parts: what the next one of it is compared with.

use super::{Connection, Result, targets};
use crate::engine::{SlotKey, TargetKey};
use std::collections::BTreeMap;

/// One figure of another engine of the family.
#[derive(Clone, Debug)]
pub struct FamilyReading {
    pub engine: i64,
    pub build: i64,
    pub slot: SlotKey,
    /// In m.
    pub si: f64,
}

/// Figures that stand in the finished rounds that count, of the family's dozen newest builds of other engines; and the
/// targets of those builds.
pub async fn of(
    db: &mut Connection,
    family: i64,
    engine: i64,
) -> Result<(Vec<FamilyReading>, BTreeMap<i64, BTreeMap<TargetKey, f64>>)> {
    let rows = sqlx::query!(
        r#"SELECT b.engine, r.build AS "build!: i64", r.slot, r.si AS "si!: f64"
           FROM reading r JOIN round o ON o.id = r.round JOIN build b ON b.id = r.build
           WHERE r.build IN (SELECT b.id FROM build b JOIN engine e ON e.id = b.engine
                             WHERE e.family = ? AND b.engine <> ? ORDER BY b.id DESC LIMIT 12)
             AND r.state = 'stands' AND r.kind = 'figure' AND r.si IS NOT NULL
             AND r.brought_from IS NULL AND o.counts = 1 AND o.kind NOT IN ('received', 'refresh')"#,
        family,
        engine
    )
    .fetch_all(&mut *db)
    .await?;
    let read = rows
        .into_iter()
        .map(|row| FamilyReading { engine: row.engine, build: row.build, slot: SlotKey::parse(&row.slot), si: row.si })
        .collect();
    let rows = sqlx::query!(
        r#"SELECT t.build, t.feature, t.place, t.si AS "si!: f64", t.typed FROM target t
           WHERE t.build IN (SELECT b.id FROM build b JOIN engine e ON e.id = b.engine
                             WHERE e.family = ? AND b.engine <> ? ORDER BY b.id DESC LIMIT 12)
             AND t.si IS NOT NULL"#,
        family,
        engine
    )
    .fetch_all(&mut *db)
    .await?;
    let mut by_build: BTreeMap<i64, BTreeMap<TargetKey, f64>> = BTreeMap::new();
    for row in rows {
        if let Some(target) = targets::read(&row.feature, &row.place, row.si, row.typed)? {
            by_build.entry(row.build).or_default().insert(target.key, target.si);
        }
    }
    Ok((read, by_build))
}
