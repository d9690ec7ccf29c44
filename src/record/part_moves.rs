//! What became of a part: quoted, ordered, promised, received and on, each with its day and how many.

use super::words::{any_day, day, word};
use super::{Connection, Result, Stamp, Writing};
use crate::engine::{Place, kept_words};
use jiff::civil::Date;

kept_words! {
    /// What became of a part.
    pub enum MoveKind {
        Quoted = "quoted", "quoted";
        Ordered = "ordered", "ordered";
        Promised = "promised", "promised";
        Received = "received", "received";
        Inspected = "inspected", "inspected";
        Fitted = "fitted", "fitted";
        /// Sent back, taken out again.
        Returned = "returned", "returned";
        /// The wrong one, or a bad one: it lies apart until it goes back.
        Refused = "refused", "refused";
    }
}

/// One thing that became of a part, as kept.
#[derive(Clone, Debug)]
pub struct PartMove {
    pub id: i64,
    pub said: NewMove,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// One thing that became of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewMove {
    pub part: i64,
    pub kind: MoveKind,
    pub quantity: i64,
    pub day: Date,
    /// The day it is promised for.
    pub due: Option<Date>,
    /// Where it was fitted.
    pub place: Option<Place>,
    pub words: String,
}

/// Those of a build's parts, or of the parts of every build that has not left the shop, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<PartMove>> {
    of_builds(db, build, false).await
}

/// Those of the parts of every build there ever was.
pub async fn ever(db: &mut Connection) -> Result<Vec<PartMove>> {
    of_builds(db, None, true).await
}

/// `left`: those of builds that have left the shop as well, where no build is named.
async fn of_builds(db: &mut Connection, build: Option<i64>, left: bool) -> Result<Vec<PartMove>> {
    let rows = sqlx::query!(
        r#"SELECT m.id AS "id!: i64", m.part, m.kind, m.quantity, m.day, m.due, m.place, m.words,
                  m.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM build b CROSS JOIN part t ON t.build = b.id CROSS JOIN part_move m ON m.part = t.id JOIN act a ON a.id = m.made
           LEFT JOIN person p ON p.id = a.person
           WHERE (?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1 ORDER BY m.id"#,
        build,
        left
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |_| super::Error::corrupt("part_move", "place", row.id, "no place");
            Ok(PartMove {
                id: row.id,
                said: NewMove {
                    part: row.part,
                    kind: word("part_move", "kind", row.id, &row.kind, MoveKind::from_key)?,
                    quantity: row.quantity,
                    day: day("part_move", "day", row.id, &row.day)?,
                    due: any_day("part_move", "due", row.id, row.due.as_deref())?,
                    place: row.place.as_deref().map(str::parse).transpose().map_err(corrupt)?,
                    words: row.words,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, new: &NewMove) -> Result<i64> {
    let (act, kind, day) = (w.act, new.kind.key(), new.day.to_string());
    let (due, place) = (new.due.map(|due| due.to_string()), new.place.map(|place| place.to_string()));
    let done = sqlx::query!(
        "INSERT INTO part_move (part, kind, quantity, day, due, place, words, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        new.part,
        kind,
        new.quantity,
        day,
        due,
        place,
        new.words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws one of a part; whether there was one that stood.
pub async fn withdraw(w: &mut Writing, part: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE part_move SET withdrawn = ?, act = ? WHERE id = ? AND part = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        part
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
