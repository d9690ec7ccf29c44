//! Parts of a job: what they are, whose, where they lie, which step needs them.

use super::words::word;
use super::{Connection, Result, Stamp, Writing, public_id};
use crate::engine::kept_words;

kept_words! {
    /// Whose a part is until it leaves with the engine.
    pub enum Whose {
        Shop = "shop", "the shop's";
        Customer = "customer", "the customer's own";
    }
}

kept_words! {
    /// Where a part comes from.
    pub enum Origin {
        Bought = "bought", "bought";
        Found = "found", "came with the engine";
        Made = "made", "made here";
    }
}

kept_words! {
    /// In which state a part came.
    pub enum AsItCame {
        New = "new", "new";
        Used = "used", "used";
        AsFound = "as_found", "as found";
    }
}

/// A part as kept.
#[derive(Clone, Debug)]
pub struct Part {
    pub id: i64,
    pub public_id: String,
    pub build: i64,
    /// The thing of the record that it is.
    pub item: Option<i64>,
    pub said: NewPart,
    pub stamp: Stamp,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// What is said of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPart {
    pub description: String,
    pub maker: String,
    pub part_number: String,
    pub quantity: i64,
    /// Serials or lot.
    pub serial: String,
    pub supplier: Option<i64>,
    pub whose: Whose,
    pub origin: Origin,
    pub as_it_came: AsItCame,
    pub shelf: String,
    /// The step that needs it.
    pub step: Option<i64>,
    /// Of one, in minor units.
    pub cost: Option<i64>,
    pub price: Option<i64>,
    /// Deposit asked for the old part in exchange, for one; in minor units.
    pub core: Option<i64>,
    /// The part it takes the place of.
    pub replaces: Option<i64>,
    pub note: String,
}

/// The parts of a build, or of every build that has not left the shop, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Part>> {
    of_builds(db, build, false).await
}

/// Those of every build there ever was.
pub async fn ever(db: &mut Connection) -> Result<Vec<Part>> {
    of_builds(db, None, true).await
}

/// `left`: those of builds that have left the shop as well, where no build is named.
async fn of_builds(db: &mut Connection, build: Option<i64>, left: bool) -> Result<Vec<Part>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.public_id, t.build, t.item, t.description, t.maker, t.part_number, t.quantity, t.serial,
                  t.supplier, t.whose, t.origin, t.state_as_it_came, t.shelf, t.step, t.cost, t.price, t.core, t.replaces, t.note,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", t.act, a.at, p.name AS "by?: String"
           FROM build b CROSS JOIN part t ON t.build = b.id JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE (?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1 ORDER BY t.id"#,
        build,
        left
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Part {
                id: row.id,
                public_id: row.public_id,
                build: row.build,
                item: row.item,
                said: NewPart {
                    description: row.description,
                    maker: row.maker,
                    part_number: row.part_number,
                    quantity: row.quantity,
                    serial: row.serial,
                    supplier: row.supplier,
                    whose: word("part", "whose", row.id, &row.whose, Whose::from_key)?,
                    origin: word("part", "origin", row.id, &row.origin, Origin::from_key)?,
                    as_it_came: word("part", "state_as_it_came", row.id, &row.state_as_it_came, AsItCame::from_key)?,
                    shelf: row.shelf,
                    step: row.step,
                    cost: row.cost,
                    price: row.price,
                    core: row.core,
                    replaces: row.replaces,
                    note: row.note,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
                act: row.act,
            })
        })
        .collect()
}

/// The build of a part, by the part's public id.
pub async fn build_of(db: &mut Connection, public_id: &str) -> Result<Option<i64>> {
    let row = sqlx::query!("SELECT build FROM part WHERE public_id = ?", public_id).fetch_optional(db).await?;
    Ok(row.map(|row| row.build))
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewPart) -> Result<i64> {
    let (id, act) = (public_id(), w.act);
    let (whose, origin, as_it_came) = (new.whose.key(), new.origin.key(), new.as_it_came.key());
    let done = sqlx::query!(
        "INSERT INTO part (public_id, build, description, maker, part_number, quantity, serial, supplier, whose, origin,
                           state_as_it_came, shelf, step, cost, price, core, replaces, note, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        build,
        new.description,
        new.maker,
        new.part_number,
        new.quantity,
        new.serial,
        new.supplier,
        whose,
        origin,
        as_it_came,
        new.shelf,
        new.step,
        new.cost,
        new.price,
        new.core,
        new.replaces,
        new.note,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewPart) -> Result<()> {
    let act = w.act;
    let (whose, origin, as_it_came) = (new.whose.key(), new.origin.key(), new.as_it_came.key());
    sqlx::query!(
        "UPDATE part SET description = ?, maker = ?, part_number = ?, quantity = ?, serial = ?, supplier = ?, whose = ?,
                         origin = ?, state_as_it_came = ?, shelf = ?, step = ?, cost = ?, price = ?, core = ?, replaces = ?, note = ?,
                         act = ?
         WHERE id = ?",
        new.description,
        new.maker,
        new.part_number,
        new.quantity,
        new.serial,
        new.supplier,
        whose,
        origin,
        as_it_came,
        new.shelf,
        new.step,
        new.cost,
        new.price,
        new.core,
        new.replaces,
        new.note,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Says which thing of the record a part is.
pub async fn set_item(w: &mut Writing, id: i64, item: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE part SET item = ?, act = ? WHERE id = ?", item, act, id).execute(&mut **w).await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE part SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
