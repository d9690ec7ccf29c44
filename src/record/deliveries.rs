//! What was ordered of each supplier and what came, over every job, those that have left the shop as well.

use super::part_moves::MoveKind;
use super::words::{any_day, day, word};
use super::{Connection, Result};
use jiff::civil::Date;

/// What became of a part that somebody supplies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    pub id: i64,
    pub part: i64,
    pub supplier: i64,
    pub kind: MoveKind,
    pub quantity: i64,
    pub day: Date,
    pub due: Option<Date>,
}

/// Work that was sent out and is back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SentAndBack {
    pub supplier: i64,
    pub sent: Date,
    pub due: Option<Date>,
    pub back: Date,
}

/// Orders, promises and arrivals that stand, in order of writing.
pub async fn moved(db: &mut Connection) -> Result<Vec<Moved>> {
    let rows = sqlx::query!(
        r#"SELECT m.id AS "id!: i64", m.part, t.supplier AS "supplier!: i64", m.kind, m.quantity, m.day, m.due
           FROM part_move m JOIN part t ON t.id = m.part
           WHERE m.withdrawn IS NULL AND t.withdrawn IS NULL AND t.supplier IS NOT NULL
             AND m.kind IN ('ordered', 'promised', 'received') ORDER BY m.id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Moved {
                id: row.id,
                part: row.part,
                supplier: row.supplier,
                kind: word("part_move", "kind", row.id, &row.kind, MoveKind::from_key)?,
                quantity: row.quantity,
                day: day("part_move", "day", row.id, &row.day)?,
                due: any_day("part_move", "due", row.id, row.due.as_deref())?,
            })
        })
        .collect()
}

/// Work sent out that is back, in order of writing.
pub async fn sent_and_back(db: &mut Connection) -> Result<Vec<SentAndBack>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id!: i64", supplier AS "supplier!: i64", sent AS "sent!: String", due, back AS "back!: String"
           FROM sending WHERE withdrawn IS NULL AND supplier IS NOT NULL AND sent IS NOT NULL AND back IS NOT NULL ORDER BY id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(SentAndBack {
                supplier: row.supplier,
                sent: day("sending", "sent", row.id, &row.sent)?,
                due: any_day("sending", "due", row.id, row.due.as_deref())?,
                back: day("sending", "back", row.id, &row.back)?,
            })
        })
        .collect()
}
