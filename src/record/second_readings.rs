//! Which features are read twice: insert-only, the newest per feature holds.

use super::{Connection, Result, Stamp, Writing};
use crate::engine::SlotFeature;
use std::collections::BTreeSet;

/// The features that hold of rows in order of writing.
fn that_hold(rows: impl IntoIterator<Item = (String, bool)>) -> BTreeSet<SlotFeature> {
    let mut wanted = BTreeSet::new();
    for (feature, is_wanted) in rows {
        let feature = SlotFeature::parse(&feature);
        if is_wanted {
            wanted.insert(feature)
        } else {
            wanted.remove(&feature)
        };
    }
    wanted
}

pub async fn of_build(db: &mut Connection, build: i64) -> Result<BTreeSet<SlotFeature>> {
    let rows = sqlx::query!(
        r#"SELECT feature, wanted AS "wanted: bool" FROM second_reading WHERE build = ? ORDER BY id"#,
        build
    )
    .fetch_all(db)
    .await?;
    Ok(that_hold(rows.into_iter().map(|row| (row.feature, row.wanted))))
}

/// Everything that was asked for or lifted on a build, in order of writing.
pub async fn said_of(db: &mut Connection, build: i64) -> Result<Vec<(SlotFeature, bool, Stamp)>> {
    let rows = sqlx::query!(
        r#"SELECT s.feature, s.wanted AS "wanted: bool", a.at, p.name AS "by?: String"
           FROM second_reading s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE s.build = ? ORDER BY s.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| Ok((SlotFeature::parse(&row.feature), row.wanted, Stamp::of(row.by, &row.at)?)))
        .collect()
}

pub async fn of_family(db: &mut Connection, family: i64) -> Result<BTreeSet<SlotFeature>> {
    let rows = sqlx::query!(
        r#"SELECT feature, wanted AS "wanted: bool" FROM family_second_reading WHERE family = ? ORDER BY id"#,
        family
    )
    .fetch_all(db)
    .await?;
    Ok(that_hold(rows.into_iter().map(|row| (row.feature, row.wanted))))
}

pub async fn insert(w: &mut Writing, build: i64, feature: &SlotFeature, wanted: bool) -> Result<()> {
    let (act, feature) = (w.act, feature.text());
    sqlx::query!(
        "INSERT INTO second_reading (build, feature, wanted, made) VALUES (?, ?, ?, ?)",
        build,
        feature,
        wanted,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn insert_for_family(w: &mut Writing, family: i64, feature: &SlotFeature, wanted: bool) -> Result<()> {
    let (act, feature) = (w.act, feature.text());
    sqlx::query!(
        "INSERT INTO family_second_reading (family, feature, wanted, made) VALUES (?, ?, ?, ?)",
        family,
        feature,
        wanted,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
