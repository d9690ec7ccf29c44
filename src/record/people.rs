//! People: the shop's hands and its customers. The only table with personal data.

use super::{Connection, Result, Writing, public_id};

/// Someone as kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    pub id: i64,
    pub public_id: String,
    pub name: String,
    pub phone: String,
    pub email: String,
    pub address: String,
    pub works_here: bool,
}

/// Someone to be kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewPerson {
    pub name: String,
    pub phone: String,
    pub email: String,
    pub address: String,
    pub works_here: bool,
}

/// Everyone who has not been withdrawn, by name.
pub async fn all(db: &mut Connection) -> Result<Vec<Person>> {
    Ok(sqlx::query_as!(
        Person,
        r#"SELECT id AS "id!: i64", public_id, name, phone, email, address, works_here AS "works_here: bool"
           FROM person WHERE withdrawn IS NULL ORDER BY name"#
    )
    .fetch_all(db)
    .await?)
}

/// Everyone who did something on a build, by name; those withdrawn since too.
pub async fn who_did(db: &mut Connection, build: i64) -> Result<Vec<Person>> {
    Ok(sqlx::query_as!(
        Person,
        r#"SELECT DISTINCT p.id AS "id!: i64", p.public_id, p.name, p.phone, p.email, p.address,
                  p.works_here AS "works_here: bool"
           FROM person p JOIN act a ON a.person = p.id WHERE a.build = ? ORDER BY p.name"#,
        build
    )
    .fetch_all(db)
    .await?)
}

pub async fn by_id(db: &mut Connection, id: i64) -> Result<Option<Person>> {
    Ok(sqlx::query_as!(
        Person,
        r#"SELECT id AS "id!: i64", public_id, name, phone, email, address, works_here AS "works_here: bool"
           FROM person WHERE id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?)
}

pub async fn by_public_id(db: &mut Connection, public_id: &str) -> Result<Option<Person>> {
    Ok(sqlx::query_as!(
        Person,
        r#"SELECT id AS "id!: i64", public_id, name, phone, email, address, works_here AS "works_here: bool"
           FROM person WHERE public_id = ? AND withdrawn IS NULL"#,
        public_id
    )
    .fetch_optional(db)
    .await?)
}

pub async fn insert(w: &mut Writing, new: &NewPerson) -> Result<i64> {
    let (id, act) = (public_id(), w.act);
    let done = sqlx::query!(
        "INSERT INTO person (public_id, name, phone, email, address, works_here, made, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        new.name,
        new.phone,
        new.email,
        new.address,
        new.works_here,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewPerson) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "UPDATE person SET name = ?, phone = ?, email = ?, address = ?, works_here = ?, act = ? WHERE id = ?",
        new.name,
        new.phone,
        new.email,
        new.address,
        new.works_here,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE person SET withdrawn = ?, act = ? WHERE id = ?", act, act, id).execute(&mut **w).await?;
    Ok(())
}
