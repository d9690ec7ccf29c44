//! Discounts on what is charged.

use super::words::{figure, name_of, named, percent};
use super::{Connection, Error, Result, Stamp, Writing};
use crate::charges::discount::{Discount, Much};

/// A discount as kept.
#[derive(Clone, Debug)]
pub struct KeptDiscount {
    pub id: i64,
    pub build: i64,
    pub said: Discount,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// Those of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptDiscount>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.text, t.given_on, t.percent, t.amount,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at, p.name AS "by?: String"
           FROM discount t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let much = match (row.percent, row.amount) {
                (Some(ppm), None) => Much::Percent(percent("discount", "percent", row.id, ppm)?),
                (None, Some(amount)) => Much::Amount(figure("discount", "amount", row.id, amount)?),
                _ => return Err(Error::corrupt("discount", "amount", row.id, "either a percentage or an amount")),
            };
            Ok(KeptDiscount {
                id: row.id,
                build: row.build,
                said: Discount { on: named("discount", "given_on", row.id, &row.given_on)?, text: row.text, much },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: &Discount) -> Result<()> {
    let (act, given_on) = (w.act, name_of(new.on));
    let (percent, amount) = match new.much {
        Much::Percent(percent) => (Some(percent.ppm()), None),
        Much::Amount(amount) => (None, Some(amount.minor())),
    };
    sqlx::query!(
        "INSERT INTO discount (build, text, given_on, percent, amount, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        new.text,
        given_on,
        percent,
        amount,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE discount SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
