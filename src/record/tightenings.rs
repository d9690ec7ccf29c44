//! Fasteners tightened at a step: to what, in which steps, in which order, with which exceptions.

use super::{Connection, Error, Result, Stamp, Writing};
use crate::quantity::{Quantity, Unit};
use serde::{Deserialize, Serialize};

/// A torque, an angle or a stretch, with the unit it was said in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TightenedTo {
    #[serde(flatten)]
    pub quantity: Quantity,
    pub unit: Unit,
}

/// A fastener that differs from the others.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Exception {
    /// "bolt 4".
    pub fastener: String,
    /// None where it was not tightened so, or nobody says to what.
    pub to: Option<TightenedTo>,
    /// "thread pulled"; may be empty.
    pub words: String,
}

/// Fasteners tightened, to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct NewTightening {
    pub step: i64,
    pub fasteners: String,
    /// To what, as typed.
    pub typed: String,
    /// The figures on the way there, the last one the final.
    pub steps: Vec<TightenedTo>,
    /// In how many steps; none where it was not said.
    pub step_count: Option<i64>,
    pub in_order: bool,
    pub exceptions: Vec<Exception>,
    /// The wrench or stretch gauge.
    pub gauge: Option<i64>,
    pub lubricant: String,
}

/// Fasteners tightened, as kept.
#[derive(Clone, Debug)]
pub struct Tightening {
    pub id: i64,
    pub said: NewTightening,
    pub stamp: Stamp,
    pub withdrawn: Option<Stamp>,
}

/// Those of a build in order of writing; those withdrawn as well.
pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<Tightening>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.step, t.fasteners, t.typed, t.steps, t.step_count, t.in_order AS "in_order: bool",
                  t.exceptions, t.gauge, t.lubricant, a.at, p.name AS "by?: String", w.at AS "withdrawn_at?: String",
                  q.name AS "withdrawn_by?: String"
           FROM tightening t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           LEFT JOIN act w ON w.id = t.withdrawn LEFT JOIN person q ON q.id = w.person
           WHERE t.build = ? ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |column, why: serde_json::Error| Error::corrupt("tightening", column, row.id, why);
            Ok(Tightening {
                id: row.id,
                said: NewTightening {
                    step: row.step,
                    fasteners: row.fasteners,
                    typed: row.typed,
                    steps: serde_json::from_str(&row.steps).map_err(|why| corrupt("steps", why))?,
                    step_count: row.step_count,
                    in_order: row.in_order,
                    exceptions: serde_json::from_str(&row.exceptions).map_err(|why| corrupt("exceptions", why))?,
                    gauge: row.gauge,
                    lubricant: row.lubricant,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: Stamp::of_any(row.withdrawn_by, row.withdrawn_at.as_deref())?,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewTightening) -> Result<i64> {
    let act = w.act;
    let written = |why: serde_json::Error| Error::corrupt("tightening", "steps", build, why);
    let steps = serde_json::to_string(&new.steps).map_err(written)?;
    let exceptions = serde_json::to_string(&new.exceptions).map_err(written)?;
    let done = sqlx::query!(
        "INSERT INTO tightening (build, step, fasteners, typed, steps, step_count, in_order, exceptions, gauge, lubricant,
                                 made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        new.step,
        new.fasteners,
        new.typed,
        steps,
        new.step_count,
        new.in_order,
        exceptions,
        new.gauge,
        new.lubricant,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws one of a build; whether there was one that stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE tightening SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
