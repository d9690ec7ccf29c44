//! How jobs ended or where they rest, and what went where.

use super::words::{any_day, day, word};
use super::{Connection, Result, Stamp, Writing};
use crate::engine::kept_words;
use jiff::Timestamp;
use jiff::civil::Date;

kept_words! {
    /// How a job ended, or where it rests.
    pub enum EndingKind {
        HandedOver = "handed_over", "handed over";
        /// It rests in the shop; storage may run.
        Parked = "parked", "parked";
        ShortBlock = "short_block", "left as a short block";
        Cancelled = "cancelled", "cancelled";
        SoldOn = "sold_on", "sold on";
        Scrapped = "scrapped", "scrapped";
    }
}

kept_words! {
    /// Where a thing goes when a job ends.
    pub enum Whither {
        Customer = "customer", "back to the customer";
        Buyer = "buyer", "to the buyer";
        Shelf = "shelf", "to the shop’s shelf";
        Supplier = "supplier", "back to the supplier";
        Job = "job", "to another job";
        Scrap = "scrap", "to scrap";
    }
}

/// How a job ended, as kept.
#[derive(Clone, Debug)]
pub struct Ending {
    pub id: i64,
    pub build: i64,
    pub said: NewEnding,
    pub stamp: Stamp,
    pub withdrawn: bool,
    /// When it was taken back, or another one took its place.
    pub until: Option<Timestamp>,
}

/// How a job ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewEnding {
    pub kind: EndingKind,
    pub day: Date,
    pub words: String,
    /// The day from which storage runs.
    pub storage_from: Option<Date>,
}

/// What goes where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndingThing {
    pub what: String,
    /// The thing of the record, where it is one.
    pub item: Option<i64>,
    /// The part of the job, where it is one.
    pub part: Option<i64>,
    pub whither: Whither,
    /// To which job.
    pub to_build: Option<i64>,
    pub words: String,
}

/// What goes where by an ending, as kept.
#[derive(Clone, Debug)]
pub struct KeptThing {
    pub id: i64,
    pub build: i64,
    pub ending: i64,
    pub said: EndingThing,
}

/// That a thing has gone where its ending says, as kept.
#[derive(Clone, Debug)]
pub struct KeptGone {
    pub id: i64,
    pub build: i64,
    pub said: ThingGone,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// That a thing has gone where its ending says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingGone {
    pub thing: i64,
    pub day: Date,
    /// Who took it.
    pub words: String,
    /// Of a part that stays with the shop or its supplier: that it left the job.
    pub left_by: Option<i64>,
}

/// Those of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Ending>> {
    let rows = sqlx::query!(
        r#"SELECT e.id AS "id!: i64", e.build, e.kind, e.day, e.words, e.storage_from, e.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String", u.at AS "until?: String"
           FROM build b CROSS JOIN ending e ON e.build = b.id JOIN act a ON a.id = e.made LEFT JOIN person p ON p.id = a.person LEFT JOIN act u ON u.id = e.withdrawn
           WHERE ?1 IS NULL OR b.id = ?1 ORDER BY e.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Ending {
                id: row.id,
                build: row.build,
                said: NewEnding {
                    kind: word("ending", "kind", row.id, &row.kind, EndingKind::from_key)?,
                    day: day("ending", "day", row.id, &row.day)?,
                    words: row.words,
                    storage_from: any_day("ending", "storage_from", row.id, row.storage_from.as_deref())?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
                until: Stamp::of_any(None, row.until.as_deref())?.map(|stamp| stamp.at),
            })
        })
        .collect()
}

/// What goes where by the endings of a build, or of every build.
pub async fn things(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptThing>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", e.build, t.ending, t.what, t.item, t.part, t.whither, t.to_build, t.words
           FROM ending_thing t JOIN ending e ON e.id = t.ending WHERE ?1 IS NULL OR e.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let thing = EndingThing {
                what: row.what,
                item: row.item,
                part: row.part,
                whither: word("ending_thing", "whither", row.id, &row.whither, Whither::from_key)?,
                to_build: row.to_build,
                words: row.words,
            };
            Ok(KeptThing { id: row.id, build: row.build, ending: row.ending, said: thing })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewEnding, things: &[EndingThing]) -> Result<i64> {
    let (act, kind, day) = (w.act, new.kind.key(), new.day.to_string());
    let storage_from = new.storage_from.map(|day| day.to_string());
    let done = sqlx::query!(
        "INSERT INTO ending (build, kind, day, words, storage_from, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        kind,
        day,
        new.words,
        storage_from,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    let ending = done.last_insert_rowid();
    for thing in things {
        let whither = thing.whither.key();
        sqlx::query!(
            "INSERT INTO ending_thing (ending, what, item, part, whither, to_build, words, made) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            ending,
            thing.what,
            thing.item,
            thing.part,
            whither,
            thing.to_build,
            thing.words,
            act
        )
        .execute(&mut **w)
        .await?;
    }
    Ok(ending)
}

/// What has gone of the things of a build's endings, or of every build's; what was withdrawn as well.
pub async fn gone(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptGone>> {
    let rows = sqlx::query!(
        r#"SELECT g.id AS "id!: i64", e.build, g.thing, g.day, g.words, g.move AS left_by,
                  g.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM thing_gone g JOIN ending_thing t ON t.id = g.thing JOIN ending e ON e.id = t.ending
           JOIN act a ON a.id = g.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR e.build = ?1 ORDER BY g.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(KeptGone {
                id: row.id,
                build: row.build,
                said: ThingGone {
                    thing: row.thing,
                    day: day("thing_gone", "day", row.id, &row.day)?,
                    words: row.words,
                    left_by: row.left_by,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

/// Says that a thing has gone.
pub async fn insert_gone(w: &mut Writing, new: &ThingGone) -> Result<()> {
    let (act, day) = (w.act, new.day.to_string());
    sqlx::query!(
        "INSERT INTO thing_gone (thing, day, words, move, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        new.thing,
        day,
        new.words,
        new.left_by,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Says that a thing has not gone after all.
pub async fn withdraw_gone(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE thing_gone SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// Withdraws an ending: the job goes on. Whether there was one that stood.
pub async fn withdraw(w: &mut Writing, build: i64) -> Result<bool> {
    let act = w.act;
    let done =
        sqlx::query!("UPDATE ending SET withdrawn = ?, act = ? WHERE build = ? AND withdrawn IS NULL", act, act, build)
            .execute(&mut **w)
            .await?;
    Ok(done.rows_affected() > 0)
}
