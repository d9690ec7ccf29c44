//! Quotes: their lines, what stands beside them, and what the customer answered.

use super::words::{any_figure, day, figure, name_of, named, quarters, word};
use super::{Connection, Result, Stamp, Writing};
use crate::charges::hours::Quarters;
use crate::charges::money::Money;
use crate::charges::quote::How;
use crate::engine::kept_words;
use jiff::civil::Date;

/// A line of a quote, as kept.
#[derive(Clone, Debug)]
pub struct QuoteLine {
    pub id: i64,
    pub build: i64,
    pub said: NewQuoteLine,
    pub stamp: Stamp,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// A line of a quote.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewQuoteLine {
    pub step: Option<i64>,
    pub text: String,
    /// Of labour.
    pub hours: Option<Quarters>,
    pub amount: Money,
}

/// What stands beside the lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct QuoteTerms {
    /// One a line.
    pub exclusions: String,
    pub without_calling: Money,
    /// What a week of storage costs; none for the shop's own.
    pub storage_week: Option<Money>,
    /// The newest act that changed it, 0 for none: what a form saw.
    pub act: i64,
}

kept_words! {
    /// What happened to a quote.
    pub enum Happened {
        Sent = "sent", "sent";
        Agreed = "agreed", "agreed";
        Declined = "declined", "declined";
        TakenBack = "taken-back", "taken back, to be drawn up anew";
    }
}

/// That it was sent, what was answered, or that it was taken back.
#[derive(Clone, Debug)]
pub struct QuoteAnswer {
    pub build: i64,
    pub said: NewQuoteAnswer,
    pub stamp: Stamp,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewQuoteAnswer {
    pub kind: Happened,
    pub day: Date,
    pub how: Option<How>,
    pub words: String,
    /// The quote as it stood then; JSON.
    pub quote: String,
}

/// The lines of a build, or of every build, in order of writing; those withdrawn as well.
pub async fn lines(db: &mut Connection, build: Option<i64>) -> Result<Vec<QuoteLine>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.step, t.text, t.quarters, t.amount,
                  t.withdrawn IS NOT NULL AS "withdrawn!: bool", t.act, a.at, p.name AS "by?: String"
           FROM quote_line t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(QuoteLine {
                id: row.id,
                build: row.build,
                said: NewQuoteLine {
                    step: row.step,
                    text: row.text,
                    hours: row.quarters.map(|kept| quarters("quote_line", row.id, kept)).transpose()?,
                    amount: figure("quote_line", "amount", row.id, row.amount)?,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
                act: row.act,
            })
        })
        .collect()
}

pub async fn insert_line(w: &mut Writing, build: i64, new: &NewQuoteLine) -> Result<()> {
    let (act, quarters, amount) = (w.act, new.hours.map(|hours| hours.0), new.amount.minor());
    sqlx::query!(
        "INSERT INTO quote_line (build, step, text, quarters, amount, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        new.step,
        new.text,
        quarters,
        amount,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn update_line(w: &mut Writing, id: i64, new: &NewQuoteLine) -> Result<()> {
    let (act, quarters, amount) = (w.act, new.hours.map(|hours| hours.0), new.amount.minor());
    sqlx::query!(
        "UPDATE quote_line SET step = ?, text = ?, quarters = ?, amount = ?, act = ? WHERE id = ?",
        new.step,
        new.text,
        quarters,
        amount,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw_line(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE quote_line SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// What stands beside the lines, with its build; of those that have anything.
pub async fn terms(db: &mut Connection, build: Option<i64>) -> Result<Vec<(i64, QuoteTerms)>> {
    let rows = sqlx::query!(
        r#"SELECT build AS "build!: i64", exclusions, without_calling, storage_week, act FROM quote_terms
           WHERE ?1 IS NULL OR build = ?1"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let without_calling = figure("quote_terms", "without_calling", row.build, row.without_calling)?;
            let storage_week = any_figure("quote_terms", "storage_week", row.build, row.storage_week)?;
            Ok((row.build, QuoteTerms { exclusions: row.exclusions, without_calling, storage_week, act: row.act }))
        })
        .collect()
}

/// Keeps what stands beside the lines; the act is the one that writes it.
pub async fn put_terms(w: &mut Writing, build: i64, new: &QuoteTerms) -> Result<()> {
    let (act, without_calling, storage_week) = (w.act, new.without_calling.minor(), new.storage_week.map(Money::minor));
    sqlx::query!(
        "INSERT INTO quote_terms (build, exclusions, without_calling, storage_week, made, act) VALUES (?, ?, ?, ?, ?, ?)
         ON CONFLICT (build) DO UPDATE
         SET exclusions = excluded.exclusions, without_calling = excluded.without_calling,
             storage_week = excluded.storage_week, act = excluded.act",
        build,
        new.exclusions,
        without_calling,
        storage_week,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// What happened to the quotes of a build, or of every build, in order.
pub async fn answers(db: &mut Connection, build: Option<i64>) -> Result<Vec<QuoteAnswer>> {
    let rows = sqlx::query!(
        r#"SELECT t.id AS "id!: i64", t.build, t.kind, t.day, t.how, t.words, t.quote, a.at, p.name AS "by?: String"
           FROM quote_answer t JOIN act a ON a.id = t.made LEFT JOIN person p ON p.id = a.person
           WHERE ?1 IS NULL OR t.build = ?1 ORDER BY t.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(QuoteAnswer {
                build: row.build,
                said: NewQuoteAnswer {
                    kind: word("quote_answer", "kind", row.id, &row.kind, Happened::from_key)?,
                    day: day("quote_answer", "day", row.id, &row.day)?,
                    how: row.how.as_deref().map(|how| named("quote_answer", "how", row.id, how)).transpose()?,
                    words: row.words,
                    quote: row.quote,
                },
                stamp: Stamp::of(row.by, &row.at)?,
            })
        })
        .collect()
}

pub async fn insert_answer(w: &mut Writing, build: i64, new: &NewQuoteAnswer) -> Result<()> {
    let (act, kind, day, how) = (w.act, new.kind.key(), new.day.to_string(), new.how.map(name_of));
    sqlx::query!(
        "INSERT INTO quote_answer (build, kind, day, how, words, quote, made) VALUES (?, ?, ?, ?, ?, ?, ?)",
        build,
        kind,
        day,
        how,
        new.words,
        new.quote,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
