//! Changes to what was agreed with a customer: what was proposed, and what he answered.

use super::words::{day, figure, name_of, named, word};
use super::{Connection, Result, Stamp, Writing};
use crate::charges::money::Money;
use crate::charges::quote::How;
use crate::engine::kept_words;
use jiff::civil::Date;

/// A change as kept.
#[derive(Clone, Debug)]
pub struct AgreedChange {
    pub id: i64,
    pub build: i64,
    pub said: NewAgreedChange,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// A change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewAgreedChange {
    pub text: String,
    pub why: String,
    /// Below zero where work is left out.
    pub price: Money,
    /// Below zero for sooner.
    pub days: i32,
}

kept_words! {
    /// What happened to a change.
    pub enum Happened {
        Sent = "sent", "sent";
        Agreed = "agreed", "agreed";
        Declined = "declined", "declined";
    }
}

/// That it was sent, or what was answered.
#[derive(Clone, Debug)]
pub struct ChangeAnswer {
    pub change: i64,
    pub said: NewChangeAnswer,
    pub stamp: Stamp,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewChangeAnswer {
    pub kind: Happened,
    pub day: Date,
    pub how: Option<How>,
    /// The message as it was sent, or his words.
    pub words: String,
}

/// Those of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<AgreedChange>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.text, t.why, t.price, t.days, t.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM agreed_change t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(AgreedChange {
                id: row.id,
                build: row.build,
                said: NewAgreedChange {
                    text: row.text,
                    why: row.why,
                    price: figure("agreed_change", "price", row.id, row.price)?,
                    days: figure("agreed_change", "days", row.id, row.days)?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewAgreedChange) -> Result<()> {
    let (act, price) = (w.act, new.price.minor());
    sqlx::query!(
        "INSERT INTO agreed_change (build, text, why, price, days, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        new.text,
        new.why,
        price,
        new.days,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE agreed_change SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// What happened to the changes of a build, or of every build, in order.
pub async fn answers(db: &mut Connection, build: Option<i64>) -> Result<Vec<ChangeAnswer>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.change, t.kind, t.day, t.how, t.words, a.at, p.name AS "by?: String"
           FROM agreed_change_answer t JOIN agreed_change c ON c.id = t.change JOIN act a ON a.id = t.made
           LEFT JOIN person p ON p.id = a.person WHERE ?1 IS NULL OR c.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let how = row.how.as_deref();
            Ok(ChangeAnswer {
                change: row.change,
                said: NewChangeAnswer {
                    kind: word("agreed_change_answer", "kind", row.id, &row.kind, Happened::from_key)?,
                    day: day("agreed_change_answer", "day", row.id, &row.day)?,
                    how: how.map(|how| named("agreed_change_answer", "how", row.id, how)).transpose()?,
                    words: row.words,
                },
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

pub async fn insert_answer(w: &mut Writing, change: i64, new: &NewChangeAnswer) -> Result<()> {
    let (act, kind, day, how) = (w.act, new.kind.key(), new.day.to_string(), new.how.map(name_of));
    sqlx::query!(
        "INSERT INTO agreed_change_answer (change, kind, day, how, words, made) VALUES (?, ?, ?, ?, ?, ?)",
        change,
        kind,
        day,
        how,
        new.words,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
