//! Deposits asked for, and what was paid.

use super::words::{day, figure};
use super::{Connection, Error, Result, Stamp, Writing};
use crate::charges::payment::{DepositAsked, Paid, Payment};

/// A deposit asked for, as kept.
#[derive(Clone, Debug)]
pub struct KeptDeposit {
    pub id: i64,
    pub build: i64,
    pub said: DepositAsked,
    /// What was agreed about it.
    pub words: String,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// A payment as kept.
#[derive(Clone, Debug)]
pub struct KeptPayment {
    pub id: i64,
    pub build: i64,
    pub said: Payment,
    /// How it was paid.
    pub words: String,
    pub stamp: Stamp,
    pub withdrawn: bool,
}

/// What a payment is, by its key in the record.
pub const PAID: [(&str, Paid); 5] = [
    ("deposit-refundable", Paid::Deposit { refundable: true }),
    ("deposit-forfeitable", Paid::Deposit { refundable: false }),
    ("progress", Paid::Progress),
    ("on-invoice", Paid::OnInvoice),
    ("given-back", Paid::GivenBack),
];

/// The key of what a payment is.
pub fn paid_key(paid: Paid) -> &'static str {
    PAID.iter().find(|(_, known)| *known == paid).map_or("progress", |(key, _)| key)
}

/// Deposits asked of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn deposits(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptDeposit>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.amount, t.day, t.words, t.withdrawn IS NOT NULL AS "withdrawn!: bool", a.at,
                  p.name AS "by?: String"
           FROM deposit_asked t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(KeptDeposit {
                id: row.id,
                build: row.build,
                said: DepositAsked {
                    amount: figure("deposit_asked", "amount", row.id, row.amount)?,
                    on: day("deposit_asked", "day", row.id, &row.day)?,
                },
                words: row.words,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn ask_deposit(w: &mut Writing, build: i64, new: DepositAsked, words: &str) -> Result<()> {
    let (act, amount, day) = (w.act, new.amount.minor(), new.on.to_string());
    sqlx::query!(
        "INSERT INTO deposit_asked (build, amount, day, words, made, act) VALUES (?, ?, ?, ?, ?, ?)",
        build,
        amount,
        day,
        words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Asks no more for a deposit; whether one of the build stood.
pub async fn withdraw_deposit(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE deposit_asked SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}

/// Payments of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<KeptPayment>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.kind, t.amount, t.day, t.words, t.withdrawn IS NOT NULL AS "withdrawn!: bool",
                  a.at, p.name AS "by?: String"
           FROM payment t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let paid = PAID.iter().find(|(key, _)| *key == row.kind);
            let (_, paid) = paid.ok_or_else(|| Error::corrupt("payment", "kind", row.id, "unknown word"))?;
            Ok(KeptPayment {
                id: row.id,
                build: row.build,
                said: Payment {
                    paid: *paid,
                    amount: figure("payment", "amount", row.id, row.amount)?,
                    on: day("payment", "day", row.id, &row.day)?,
                },
                words: row.words,
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
            })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, build: i64, new: Payment, words: &str) -> Result<()> {
    let (act, kind, amount, day) = (w.act, paid_key(new.paid), new.amount.minor(), new.on.to_string());
    sqlx::query!(
        "INSERT INTO payment (build, kind, amount, day, words, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        kind,
        amount,
        day,
        words,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Withdraws a payment that never was; whether one of the build stood.
pub async fn withdraw(w: &mut Writing, build: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE payment SET withdrawn = ?, act = ? WHERE id = ? AND build = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        build
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
