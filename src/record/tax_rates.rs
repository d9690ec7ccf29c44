//! The shop's rates of tax.

use super::words::{figure, percent};
use super::{Connection, Error, Result, Writing};
use crate::charges::line::Kind;
use crate::charges::tax::{Tax, TaxKey};

/// A rate as kept.
#[derive(Clone, Debug)]
pub struct KeptRate {
    pub id: i64,
    pub tax: Tax,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// Every rate in order of writing, those withdrawn as well: what was charged at them goes on naming them.
pub async fn all(db: &mut Connection) -> Result<Vec<KeptRate>> {
    let rows = sqlx::query!(
        r#"SELECT id AS "id!: i64", key, title, rate, reason, usual_for, withdrawn IS NOT NULL AS "withdrawn!: bool", act
           FROM tax_rate ORDER BY id"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let usual_for: Vec<Kind> = serde_json::from_str(&row.usual_for)
                .map_err(|why| Error::corrupt("tax_rate", "usual_for", row.id, why))?;
            let rate = percent("tax_rate", "rate", row.id, row.rate)?;
            Ok(KeptRate {
                id: row.id,
                tax: Tax {
                    key: TaxKey(row.key),
                    title: row.title,
                    rate: figure("tax_rate", "rate", row.id, rate)?,
                    reason: Some(row.reason).filter(|reason| !reason.is_empty()),
                    usual_for,
                },
                withdrawn: row.withdrawn,
                act: row.act,
            })
        })
        .collect()
}

fn usual_for(tax: &Tax) -> String {
    serde_json::to_string(&tax.usual_for).expect("a list of words is written")
}

pub async fn insert(w: &mut Writing, tax: &Tax) -> Result<()> {
    let (act, rate, reason, usual_for) = (w.act, tax.rate.percent().ppm(), tax.reason.as_deref(), usual_for(tax));
    let reason = reason.unwrap_or_default();
    sqlx::query!(
        "INSERT INTO tax_rate (key, title, rate, reason, usual_for, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        tax.key.0,
        tax.title,
        rate,
        reason,
        usual_for,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Changes a rate; its key stays.
pub async fn update(w: &mut Writing, id: i64, tax: &Tax) -> Result<()> {
    let (act, rate, reason, usual_for) = (w.act, tax.rate.percent().ppm(), tax.reason.as_deref(), usual_for(tax));
    let reason = reason.unwrap_or_default();
    sqlx::query!(
        "UPDATE tax_rate SET title = ?, rate = ?, reason = ?, usual_for = ?, act = ? WHERE id = ?",
        tax.title,
        rate,
        reason,
        usual_for,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE tax_rate SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}
