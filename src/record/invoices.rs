//! Invoices and credits as they were issued, frozen.

use super::words::day;
use super::{Connection, Error, Result, Stamp, Writing};
use crate::charges::invoice::Invoice;
use crate::charges::number::Number;
use jiff::civil::Date;

/// An invoice or a credit as issued.
#[derive(Clone, Debug)]
pub struct KeptInvoice {
    pub id: i64,
    pub build: i64,
    pub invoice: Invoice,
    /// All that stands on it, as it was frozen; JSON.
    pub document: String,
    /// The PDF's digest.
    pub sha256: String,
    /// Ids of the discounts it takes off.
    pub discounts: Vec<i64>,
    pub stamp: Stamp,
}

/// What is kept of one that is issued.
#[derive(Clone, Debug)]
pub struct NewInvoice {
    pub invoice: Invoice,
    /// Of a credit: the id of what it undoes.
    pub undoes: Option<i64>,
    /// The PDF's internal file id.
    pub file: i64,
    /// Ids of the lines and discounts; none of a credit.
    pub lines: Vec<i64>,
    pub discounts: Vec<i64>,
}

/// Those of a build, or of every build, in the order they were issued.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptInvoice>> {
    let off = sqlx::query!(r#"SELECT invoice, discount FROM invoice_discount ORDER BY id"#).fetch_all(&mut *db).await?;
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.number, t.document, f.sha256, a.at, p.name AS "by?: String"
           FROM invoice t JOIN file f ON f.id = t.file JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let read = serde_json::from_str(&row.document);
            Ok(KeptInvoice {
                id: row.id,
                build: row.build,
                invoice: read.map_err(|why| Error::corrupt("invoice", "document", &row.number, why))?,
                document: row.document,
                sha256: row.sha256,
                discounts: off.iter().filter(|off| off.invoice == row.id).map(|off| off.discount).collect(),
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

/// The number issued last, and its date.
pub async fn last(db: &mut Connection) -> Result<Option<(Number, Date)>> {
    let row = sqlx::query!(r#"SELECT id AS "id!: i64", number, day FROM invoice ORDER BY id DESC LIMIT 1"#);
    let Some(row) = row.fetch_optional(db).await? else { return Ok(None) };
    let number = row.number.parse().map_err(|why| Error::corrupt("invoice", "number", &row.number, why))?;
    Ok(Some((number, day("invoice", "day", row.id, &row.day)?)))
}

/// The number of the invoice that an act issued.
pub async fn issued_by(db: &mut Connection, act: i64) -> Result<Option<String>> {
    let row = sqlx::query!("SELECT number FROM invoice WHERE made = ?", act).fetch_optional(db).await?;
    Ok(row.map(|row| row.number))
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewInvoice) -> Result<()> {
    let (act, number, day) = (w.act, new.invoice.number.to_string(), new.invoice.on.to_string());
    let document = serde_json::to_string(&new.invoice);
    let document = document.map_err(|why| Error::corrupt("invoice", "document", &number, why))?;
    let done = sqlx::query!(
        "INSERT INTO invoice (build, number, day, undoes, document, file, made) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        number,
        day,
        new.undoes,
        document,
        new.file,
        act
    )
    .execute(&mut **w)
    .await?;
    let invoice = done.last_insert_rowid();
    for line in &new.lines {
        sqlx::query!("INSERT INTO invoice_line (invoice, line, made) VALUES (?, ?, ?)", invoice, line, act)
            .execute(&mut **w)
            .await?;
    }
    for discount in &new.discounts {
        sqlx::query!("INSERT INTO invoice_discount (invoice, discount, made) VALUES (?, ?, ?)", invoice, discount, act)
            .execute(&mut **w)
            .await?;
    }
    Ok(())
}
