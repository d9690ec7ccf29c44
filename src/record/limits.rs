//! Limits of a build: insert-only with a reason; the newest per finding and place holds, an empty one lifts it.

use super::{Connection, Error, Result, Writing};
use crate::engine::{FindingFeature, Limit, LimitKind, Place};
use std::collections::BTreeMap;

/// What one row says. A limit without figures lifts the one before.
pub(super) struct Row {
    pub feature: String,
    pub place: Option<String>,
    pub kind: String,
    pub least: Option<f64>,
    pub most: Option<f64>,
    pub condition: String,
    pub source: String,
}

impl TryFrom<Row> for Limit {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        let corrupt = |column, why: String| Error::corrupt("limit", column, &row.feature, why);
        let place = row.place.as_deref().map(str::parse::<Place>).transpose();
        Ok(Self {
            feature: FindingFeature::parse(&row.feature),
            place: place.map_err(|why| corrupt("place", why.to_string()))?,
            kind: LimitKind::from_key(&row.kind).ok_or_else(|| corrupt("kind", "unknown word".into()))?,
            min: row.least,
            max: row.most,
            condition: row.condition,
            source: row.source,
        })
    }
}

/// The newest of each finding and place, without those lifted.
pub(super) fn that_hold(rows: impl IntoIterator<Item = Row>) -> Result<Vec<Limit>> {
    let mut newest = BTreeMap::new();
    for row in rows {
        let limit = Limit::try_from(row)?;
        newest.insert((limit.feature.clone(), limit.place), limit);
    }
    Ok(newest.into_values().filter(|limit| limit.min.is_some() || limit.max.is_some()).collect())
}

pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Limit>> {
    let rows = sqlx::query_as!(
        Row,
        "SELECT feature, place, kind, least, most, condition, source FROM limit_on_finding WHERE build = ? ORDER BY id",
        build
    )
    .fetch_all(db)
    .await?;
    that_hold(rows)
}

pub async fn insert(w: &mut Writing, build: i64, limit: &Limit, reason: &str) -> Result<()> {
    let (act, feature, kind) = (w.act, limit.feature.text(), limit.kind.key());
    let place = limit.place.map(|place| place.to_string());
    sqlx::query!(
        "INSERT INTO limit_on_finding (build, feature, place, kind, least, most, condition, source, reason, made)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
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
