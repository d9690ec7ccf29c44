//! What a build aims at: target dimensions, by feature and place.

use super::{Connection, Error, Result, Writing};
use crate::engine::{TargetFeature, TargetKey};

/// A target as kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    pub key: TargetKey,
    /// In m.
    pub si: f64,
    pub typed: String,
}

/// Those of a build that hold; unknown features of a later edition are left out.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Target>> {
    let rows = sqlx::query!(
        r#"SELECT feature, place, si AS "si!: f64", typed FROM target WHERE build = ? AND si IS NOT NULL"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().filter_map(|row| read(&row.feature, &row.place, row.si, row.typed).transpose()).collect()
}

/// Those of several builds at once, by build.
pub async fn all(db: &mut Connection) -> Result<Vec<(i64, Target)>> {
    let rows =
        sqlx::query!(r#"SELECT build, feature, place, si AS "si!: f64", typed FROM target WHERE si IS NOT NULL"#)
            .fetch_all(db)
            .await?;
    let with_build = |row: (i64, Option<Target>)| row.1.map(|target| (row.0, target));
    rows.into_iter()
        .map(|row| Ok((row.build, read(&row.feature, &row.place, row.si, row.typed)?)))
        .filter_map(|row| row.map(with_build).transpose())
        .collect()
}

pub(super) fn read(feature: &str, place: &str, si: f64, typed: String) -> Result<Option<Target>> {
    let Some(feature) = TargetFeature::from_key(feature) else { return Ok(None) };
    let place = place.parse().map_err(|why| Error::corrupt("target", "place", place, why))?;
    Ok(Some(Target { key: TargetKey { feature, place }, si, typed }))
}

/// Sets a target, or lifts it.
pub async fn put(w: &mut Writing, build: i64, key: TargetKey, si: Option<f64>, typed: &str) -> Result<()> {
    let (act, feature, place) = (w.act, key.feature.key(), key.place.to_string());
    sqlx::query!(
        "INSERT INTO target (build, feature, place, si, typed, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (build, feature, place) DO UPDATE SET si = excluded.si, typed = excluded.typed, act = excluded.act",
        build,
        feature,
        place,
        si,
        typed,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
