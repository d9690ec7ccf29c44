//! Limits of a build: insert-only with a reason; the newest per finding and place holds, an empty one lifts it.

use super::{Connection, Error, Result, Stamp, Writing};
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

/// A limit as it was set once, or lifted where it has no figures.
#[derive(Clone, Debug)]
pub struct PastLimit {
    pub limit: Limit,
    pub reason: String,
    pub stamp: Stamp,
}

/// Everything that was set or lifted on a build, the newest first.
pub async fn past_of_build(db: &mut Connection, build: i64) -> Result<Vec<PastLimit>> {
    let rows = sqlx::query!(
        r#"SELECT l.feature, l.place, l.kind, l.least, l.most, l.condition, l.source, l.reason, a.at,
                  p.name AS "by?: String"
           FROM limit_on_finding l JOIN act a ON a.id = l.made LEFT JOIN person p ON p.id = a.person
           WHERE l.build = ? ORDER BY l.id DESC"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let limit = Row {
                feature: row.feature,
                place: row.place,
                kind: row.kind,
                least: row.least,
                most: row.most,
                condition: row.condition,
                source: row.source,
            };
            Ok(PastLimit { limit: limit.try_into()?, reason: row.reason, stamp: Stamp::of(row.by, &row.at)? })
        })
        .collect()
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
