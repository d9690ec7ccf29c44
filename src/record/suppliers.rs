//! Suppliers and machine shops: whoever parts come from and work is sent to.

use super::{Connection, Result, Writing, public_id};

/// A supplier as kept.
#[derive(Clone, Debug)]
pub struct Supplier {
    pub id: i64,
    pub public_id: String,
    pub said: NewSupplier,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// What is said of a supplier.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewSupplier {
    pub name: String,
    pub phone: String,
    pub email: String,
    pub note: String,
    /// Days from order to arrival by their own word.
    pub usual_days: Option<i64>,
}

/// Every supplier by name; those withdrawn as well.
pub async fn all(db: &mut Connection) -> Result<Vec<Supplier>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id!: i64", public_id, name, phone, email, note, usual_days, withdrawn IS NOT NULL AS "withdrawn!: bool", act
           FROM supplier ORDER BY name COLLATE NOCASE, id"#
    )
    .fetch_all(db)
    .await?;
    Ok(rows
        .into_iter()
        .map(|row| Supplier {
            id: row.id,
            public_id: row.public_id,
            said: NewSupplier {
                name: row.name,
                phone: row.phone,
                email: row.email,
                note: row.note,
                usual_days: row.usual_days,
            },
            withdrawn: row.withdrawn,
            act: row.act,
        })
        .collect())
}

pub async fn insert(w: &mut Writing, new: &NewSupplier) -> Result<i64> {
    let (id, act) = (public_id(), w.act);
    let done = sqlx::query!(
        "INSERT INTO supplier (public_id, name, phone, email, note, usual_days, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        new.name,
        new.phone,
        new.email,
        new.note,
        new.usual_days,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewSupplier) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE supplier SET name = ?, phone = ?, email = ?, note = ?, usual_days = ?, act = ? WHERE id = ?",
        new.name,
        new.phone,
        new.email,
        new.note,
        new.usual_days,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE supplier SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
