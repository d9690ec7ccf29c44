//! Items: physical things with a past, and where they are fitted.

use super::{Connection, Error, Result, Writing, public_id};
use crate::engine::{ItemKind, ItemRef, Place};

/// An item fitted in an engine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fitted {
    pub item: i64,
    pub public_id: String,
    pub at: ItemRef,
    pub serial: String,
    pub note: String,
}

struct Row {
    id: i64,
    public_id: String,
    kind: String,
    place: String,
    serial: String,
    note: String,
}

impl TryFrom<Row> for Fitted {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        let kind = ItemKind::from_key(&row.kind)
            .ok_or_else(|| Error::corrupt("item", "kind", &row.public_id, format!("no kind “{}”", row.kind)))?;
        let place: Place = row.place.parse().map_err(|why| Error::corrupt("fitting", "place", &row.public_id, why))?;
        Ok(Self {
            item: row.id,
            public_id: row.public_id,
            at: ItemRef { kind, place },
            serial: row.serial,
            note: row.note,
        })
    }
}

/// What is fitted in an engine now.
pub async fn fitted(db: &mut Connection, engine: i64) -> Result<Vec<Fitted>> {
    sqlx::query_as!(
        Row,
        r#"SELECT i.id AS "id!: i64", i.public_id, i.kind, f.place, i.serial, i.note
           FROM fitting f JOIN item i ON i.id = f.item
           WHERE f.engine = ? AND f.taken_out IS NULL ORDER BY f.id"#,
        engine
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Fitted::try_from)
    .collect()
}

/// What was taken out of an engine and is not in it again, each where it was last.
pub async fn taken_out(db: &mut Connection, engine: i64) -> Result<Vec<Fitted>> {
    sqlx::query_as!(
        Row,
        r#"SELECT i.id AS "id!: i64", i.public_id, i.kind, f.place, i.serial, i.note
           FROM fitting f JOIN item i ON i.id = f.item
           WHERE f.id IN (SELECT max(id) FROM fitting WHERE engine = ? GROUP BY item) AND f.taken_out IS NOT NULL ORDER BY f.id"#,
        engine
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Fitted::try_from)
    .collect()
}

/// The engine that an item is fitted in now.
pub async fn engine_of(db: &mut Connection, item: i64) -> Result<Option<i64>> {
    let row = sqlx::query!("SELECT engine FROM fitting WHERE item = ? AND taken_out IS NULL", item)
        .fetch_optional(db)
        .await?;
    Ok(row.map(|row| row.engine))
}

/// The builds of every engine that an item is or was fitted in.
pub async fn builds_of(db: &mut Connection, item: i64) -> Result<Vec<i64>> {
    let rows = sqlx::query!(
        r#"SELECT DISTINCT b.id AS "id!: i64" FROM fitting f JOIN build b ON b.engine = f.engine WHERE f.item = ? ORDER BY b.id"#,
        item
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| row.id).collect())
}

/// The serials of what is fitted in any engine, each once with the engine.
pub async fn serials(db: &mut Connection) -> Result<Vec<(i64, String)>> {
    let rows = sqlx::query!(
        r#"SELECT f.engine AS "engine!: i64", i.serial AS "serial!: String" FROM fitting f JOIN item i ON i.id = f.item
         WHERE f.taken_out IS NULL AND i.serial <> '' GROUP BY f.engine, i.serial ORDER BY min(f.id)"#
    )
    .fetch_all(db)
    .await?;
    Ok(rows.into_iter().map(|row| (row.engine, row.serial)).collect())
}

/// Makes an item and fits it.
pub async fn fit_new(w: &mut Writing, engine: i64, at: ItemRef, serial: &str) -> Result<i64> {
    let (id, act, kind) = (public_id(), w.act, at.kind.key());
    let done = sqlx::query!(
        "INSERT INTO item (public_id, kind, serial, note, made, act) VALUES (?, ?, ?, '', ?, ?)",
        id,
        kind,
        serial,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    let item = done.last_insert_rowid();
    fit(w, engine, item, at.place).await?;
    Ok(item)
}

/// Fits an item that has a past already.
pub async fn fit(w: &mut Writing, engine: i64, item: i64, place: Place) -> Result<()> {
    let (act, place) = (w.act, place.to_string());
    sqlx::query!(
        "INSERT INTO fitting (item, engine, place, made, act) VALUES (?, ?, ?, ?, ?)",
        item,
        engine,
        place,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Takes an item out of its engine; it keeps its readings.
pub async fn take_out(w: &mut Writing, engine: i64, item: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE fitting SET taken_out = ?, act = ? WHERE engine = ? AND item = ? AND taken_out IS NULL",
        act,
        act,
        engine,
        item
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn set_serial(w: &mut Writing, item: i64, serial: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE item SET serial = ?, act = ? WHERE id = ?", serial, act, item).execute(&mut **w).await?;
    Ok(())
}
