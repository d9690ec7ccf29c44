//! What was changed after readings were taken, what was looked at again since, and where a family differs from the map.

use super::words::word;
use super::{Connection, Error, Result, Stamp, Writing};
use crate::engine::{Place, SheetKey, SlotFeature};
use crate::sheets::Change;

/// Something changed on a job, as kept.
#[derive(Clone, Debug)]
pub struct ChangeMade {
    pub id: i64,
    pub said: NewChange,
    /// The number of the job's newest reading then: those up to it are stale.
    pub after_reading: i64,
    /// The thing that the part which brought it is.
    pub item: Option<i64>,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// Something changed on a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewChange {
    pub change: Change,
    /// Where; none for all places.
    pub place: Option<Place>,
    /// The part that brought it.
    pub part: Option<i64>,
    /// The work sent out that brought it.
    pub sending: Option<i64>,
    /// What was changed to what.
    pub words: String,
}

/// "Re-checked, same": readings of a sheet stand after a change.
#[derive(Clone, Debug)]
pub struct ChangeChecked {
    pub id: i64,
    pub change: i64,
    pub sheet: SheetKey,
    pub place: Option<Place>,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// Where a family differs from the map of changes.
#[derive(Clone, Debug)]
pub struct FamilyChange {
    pub id: i64,
    pub said: NewFamilyChange,
    pub stamp: Stamp,
}

/// Where a family differs from the map of changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFamilyChange {
    pub change: Change,
    pub slot: SlotFeature,
    pub stale: bool,
    pub reason: String,
}

/// A place of a row that names one or speaks for all.
fn any_place(table: &'static str, row: i64, text: Option<&str>) -> Result<Option<Place>> {
    text.map(str::parse).transpose().map_err(|_| Error::corrupt(table, "place", row, "no place"))
}

/// Those of a build, or of every build that has not left the shop, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<(i64, ChangeMade)>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.build, c.change, c.place, c.part, c.sending, c.words, c.after_reading, t.item,
                  c.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM change_made c JOIN build b ON b.id = c.build JOIN act a ON a.id = c.made LEFT JOIN person p ON p.id = a.person
                LEFT JOIN part t ON t.id = c.part
           WHERE (?1 IS NULL AND b.closed IS NULL) OR c.build = ?1 ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let made = ChangeMade {
                id: row.id,
                said: NewChange {
                    change: word("change_made", "change", row.id, &row.change, Change::from_key)?,
                    place: any_place("change_made", row.id, row.place.as_deref())?,
                    part: row.part,
                    sending: row.sending,
                    words: row.words,
                },
                after_reading: row.after_reading,
                item: row.item,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            };
            Ok((row.build, made))
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewChange, after_reading: i64) -> Result<i64> {
    let (act, change, place) = (w.act, new.change.key(), new.place.map(|place| place.to_string()));
    let done = sqlx::query!(
        "INSERT INTO change_made (build, change, place, part, sending, words, after_reading, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        build,
        change,
        place,
        new.part,
        new.sending,
        new.words,
        after_reading,
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
        "UPDATE change_made SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}

/// What was looked at again on a build, or on every build that has not left the shop; what was withdrawn as well.
pub async fn checked(db: &mut Connection, build: Option<i64>) -> Result<Vec<(i64, ChangeChecked)>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.build, c.change, c.sheet, c.place, c.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM change_checked c JOIN build b ON b.id = c.build JOIN act a ON a.id = c.made LEFT JOIN person p ON p.id = a.person
           WHERE (?1 IS NULL AND b.closed IS NULL) OR c.build = ?1 ORDER BY c.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let checked = ChangeChecked {
                id: row.id,
                change: row.change,
                sheet: word("change_checked", "sheet", row.id, &row.sheet, SheetKey::from_key)?,
                place: any_place("change_checked", row.id, row.place.as_deref())?,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            };
            Ok((row.build, checked))
        })
        .collect()
}

pub async fn check(w: &mut Writing, build: i64, change: i64, sheet: SheetKey, place: Option<Place>) -> Result<i64> {
    let (act, sheet, place) = (w.act, sheet.key(), place.map(|place| place.to_string()));
    let done = sqlx::query!(
        "INSERT INTO change_checked (build, change, sheet, place, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        build,
        change,
        sheet,
        place,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws what was said to be looked at again; whether there was one that stood.
pub async fn check_no_more(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE change_checked SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}

/// Where a family differs from the map, as it stands, in order of writing.
pub async fn of_family(db: &mut Connection, family: i64) -> Result<Vec<FamilyChange>> {
    let rows = sqlx::query!(
        r#"SELECT c.id AS "id!: i64", c.change, c.slot, c.stale AS "stale: bool", c.reason, a.at, p.name AS "by?: String"
           FROM family_change c JOIN act a ON a.id = c.made LEFT JOIN person p ON p.id = a.person
           WHERE c.family = ? AND c.withdrawn IS NULL ORDER BY c.id"#,
        family
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(FamilyChange {
                id: row.id,
                said: NewFamilyChange {
                    change: word("family_change", "change", row.id, &row.change, Change::from_key)?,
                    slot: SlotFeature::parse(&row.slot),
                    stale: row.stale,
                    reason: row.reason,
                },
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

pub async fn differ(w: &mut Writing, family: i64, new: &NewFamilyChange) -> Result<i64> {
    let (act, change, slot) = (w.act, new.change.key(), new.slot.text());
    let done = sqlx::query!(
        "INSERT INTO family_change (family, change, slot, stale, reason, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        family,
        change,
        slot,
        new.stale,
        new.reason,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws where a family differs; whether there was one that stood.
pub async fn differ_no_more(w: &mut Writing, family: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE family_change SET withdrawn = ?, act = ? WHERE id = ? AND family = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        family
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
