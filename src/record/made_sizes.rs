//! Dimensions of parts made in the shop: what their drawing asks for, and what was read.

use super::{Connection, Result, Stamp, Writing};

/// A dimension of a part, as kept.
#[derive(Clone, Debug)]
pub struct MadeSize {
    pub id: i64,
    pub said: NewMadeSize,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// A dimension of a part. In m.
#[derive(Clone, Debug, PartialEq)]
pub struct NewMadeSize {
    pub part: i64,
    /// "register diameter".
    pub name: String,
    pub size: f64,
    pub least: Option<f64>,
    pub most: Option<f64>,
    /// Size and tolerance as typed.
    pub typed: String,
}

/// What was read of a dimension, as kept.
#[derive(Clone, Debug)]
pub struct MadeReading {
    pub id: i64,
    pub said: NewMadeReading,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// What was read of a dimension. In m.
#[derive(Clone, Debug, PartialEq)]
pub struct NewMadeReading {
    pub size_of: i64,
    pub typed: String,
    pub value: f64,
    /// One step of the last digit given.
    pub resolution: f64,
    pub gauge: Option<i64>,
}

/// Those of a build's parts, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: i64) -> Result<Vec<MadeSize>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.part, s.name, s.size, s.least, s.most, s.typed, s.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM part t JOIN made_size s ON s.part = t.id JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE t.build = ? ORDER BY s.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let said = NewMadeSize {
                part: row.part,
                name: row.name,
                size: row.size,
                least: row.least,
                most: row.most,
                typed: row.typed,
            };
            Ok(MadeSize { id: row.id, said, stamp: Stamp::of(row.by, &row.at)?, withdrawn: row.withdrawn })
        })
        .collect()
}

/// What was read of a build's parts, in order of writing; what was withdrawn as well.
pub async fn readings(db: &mut Connection, build: i64) -> Result<Vec<MadeReading>> {
    let rows = sqlx::query!(
        r#"SELECT r.id AS "id!: i64", r.size_of, r.typed, r.value, r.resolution, r.gauge,
                  r.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM part t JOIN made_size s ON s.part = t.id JOIN made_reading r ON r.size_of = s.id JOIN act a ON a.id = r.made
           LEFT JOIN person p ON p.id = a.person
           WHERE t.build = ? ORDER BY r.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let said = NewMadeReading {
                size_of: row.size_of,
                typed: row.typed,
                value: row.value,
                resolution: row.resolution,
                gauge: row.gauge,
            };
            Ok(MadeReading { id: row.id, said, stamp: Stamp::of(row.by, &row.at)?, withdrawn: row.withdrawn })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, new: &NewMadeSize) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO made_size (part, name, size, least, most, typed, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        new.part,
        new.name,
        new.size,
        new.least,
        new.most,
        new.typed,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn insert_reading(w: &mut Writing, new: &NewMadeReading) -> Result<i64> {
    let act = w.act;
    let done = sqlx::query!(
        "INSERT INTO made_reading (size_of, typed, value, resolution, gauge, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        new.size_of,
        new.typed,
        new.value,
        new.resolution,
        new.gauge,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws a dimension; whether there was one that stood.
pub async fn withdraw(w: &mut Writing, id: i64) -> Result<bool> {
    let act = w.act;
    let done =
        sqlx::query!("UPDATE made_size SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
            .execute(&mut **w)
            .await?;
    Ok(done.rows_affected() > 0)
}

/// Withdraws what was read of a dimension; whether there was a reading that stood.
pub async fn withdraw_reading(w: &mut Writing, size_of: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE made_reading SET withdrawn = ?, act = ? WHERE id = ? AND size_of = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        size_of
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
