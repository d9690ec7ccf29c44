//! Parts that steps may still wait for, of every job in the shop at once: what is surely here is left out.

use super::part_moves::MoveKind;
use super::parts::{Origin, Whose};
use super::words::{any_day, day, word};
use super::{Connection, Result};
use jiff::civil::Date;

/// A part that a step not done may wait for.
#[derive(Clone, Debug)]
pub struct MayWait {
    pub part: i64,
    pub build: i64,
    pub step: i64,
    pub description: String,
    pub quantity: i64,
    pub supplier: Option<i64>,
    pub whose: Whose,
    pub origin: Origin,
    /// What became of it, in order of writing.
    pub moves: Vec<Came>,
}

/// One thing that became of a part.
#[derive(Clone, Copy, Debug)]
pub struct Came {
    pub kind: MoveKind,
    pub quantity: i64,
    pub day: Date,
    pub due: Option<Date>,
}

/// Those of a build, or of every build that has not left the shop. Left out is what was replaced or withdrawn, and what is
/// here even if none of those sent back had been refused before.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<MayWait>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.step AS "step!: i64", t.description, t.quantity, t.supplier, t.whose, t.origin,
                  m.id AS "move_id?: i64", m.kind AS "kind?: String", m.quantity AS "moved?: i64", m.day AS "day?: String",
                  m.due AS "due?: String"
           FROM build b CROSS JOIN step s ON s.build = b.id CROSS JOIN part t ON t.step = s.id
           LEFT JOIN part_move m ON m.part = t.id AND m.withdrawn IS NULL
           WHERE ((?1 IS NULL AND b.closed IS NULL) OR b.id = ?1) AND s.state IN ('ahead', 'begun') AND t.withdrawn IS NULL
             AND NOT EXISTS (SELECT 1 FROM part o WHERE o.replaces = t.id AND o.withdrawn IS NULL)
             AND t.quantity > (SELECT coalesce(sum(CASE r.kind WHEN 'received' THEN r.quantity WHEN 'refused' THEN -r.quantity
                                                          WHEN 'returned' THEN -r.quantity ELSE 0 END), 0)
                               FROM part_move r WHERE r.part = t.id AND r.withdrawn IS NULL)
           ORDER BY t.id, m.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    let mut found: Vec<MayWait> = Vec::new();
    for row in rows {
        if found.last().is_none_or(|last| last.part != row.id) {
            found.push(MayWait {
                part: row.id,
                build: row.build,
                step: row.step,
                description: row.description,
                quantity: row.quantity,
                supplier: row.supplier,
                whose: word("part", "whose", row.id, &row.whose, Whose::from_key)?,
                origin: word("part", "origin", row.id, &row.origin, Origin::from_key)?,
                moves: Vec::new(),
            });
        }
        let (Some(id), Some(last)) = (row.move_id, found.last_mut()) else { continue };
        last.moves.push(Came {
            kind: word("part_move", "kind", id, row.kind.as_deref().unwrap_or_default(), MoveKind::from_key)?,
            quantity: row.moved.unwrap_or_default(),
            day: day("part_move", "day", id, row.day.as_deref().unwrap_or_default())?,
            due: any_day("part_move", "due", id, row.due.as_deref())?,
        });
    }
    Ok(found)
}
