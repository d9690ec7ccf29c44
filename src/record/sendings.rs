//! Work sent out: to whom, what was asked, when it is due and when it came back.

use super::rounds::Condition;
use super::words::any_day;
use super::{Connection, Error, Result, Stamp, Writing, public_id};
use crate::engine::{FindingKey, SheetKey};
use jiff::civil::Date;

/// Work sent out, as kept.
#[derive(Clone, Debug)]
pub struct Sending {
    pub id: i64,
    pub public_id: String,
    pub build: i64,
    pub said: NewSending,
    pub stamp: Stamp,
    pub withdrawn: bool,
    /// The newest act that changed it: what a form saw.
    pub act: i64,
}

/// What is said of work sent out.
#[derive(Clone, Debug, PartialEq)]
pub struct NewSending {
    pub supplier: Option<i64>,
    /// "line honing".
    pub what: String,
    pub step: Option<i64>,
    /// The sheet whose findings it is checked by.
    pub sheet: Option<SheetKey>,
    /// Plate, fasteners, lubricant, torque it is to be done with.
    pub condition: Condition,
    pub words: String,
    pub sent: Option<Date>,
    pub due: Option<Date>,
    pub back: Option<Date>,
    pub before_round: Option<i64>,
    pub after_round: Option<i64>,
    /// In minor units.
    pub cost: Option<i64>,
    pub price: Option<i64>,
}

/// One size asked, with its tolerance.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    pub id: i64,
    pub sending: i64,
    pub finding: FindingKey,
    pub least: Option<f64>,
    pub most: Option<f64>,
    pub typed: String,
}

/// Those of a build, or of every build that has not left the shop, in order of writing; those withdrawn as well.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Sending>> {
    of_builds(db, build, false).await
}

/// Those of every build there ever was.
pub async fn ever(db: &mut Connection) -> Result<Vec<Sending>> {
    of_builds(db, None, true).await
}

/// `left`: those of builds that have left the shop as well, where no build is named.
async fn of_builds(db: &mut Connection, build: Option<i64>, left: bool) -> Result<Vec<Sending>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.public_id, s.build, s.supplier, s.what, s.step, s.sheet, s.condition, s.words, s.sent, s.due,
                  s.back, s.before_round, s.after_round, s.cost, s.price, s.withdrawn IS NOT NULL AS "withdrawn!: bool", s.act,
                  a.at, p.name AS "by?: String"
           FROM build b CROSS JOIN sending s ON s.build = b.id JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE (?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1 ORDER BY s.id"#,
        build,
        left
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let corrupt = |why| Error::corrupt("sending", "condition", row.id, why);
            Ok(Sending {
                id: row.id,
                public_id: row.public_id,
                build: row.build,
                said: NewSending {
                    supplier: row.supplier,
                    what: row.what,
                    step: row.step,
                    sheet: row.sheet.as_deref().and_then(SheetKey::from_key),
                    condition: serde_json::from_str(&row.condition).map_err(corrupt)?,
                    words: row.words,
                    sent: any_day("sending", "sent", row.id, row.sent.as_deref())?,
                    due: any_day("sending", "due", row.id, row.due.as_deref())?,
                    back: any_day("sending", "back", row.id, row.back.as_deref())?,
                    before_round: row.before_round,
                    after_round: row.after_round,
                    cost: row.cost,
                    price: row.price,
                },
                stamp: Stamp::of(row.by, &row.at)?,
                withdrawn: row.withdrawn,
                act: row.act,
            })
        })
        .collect()
}

/// A sending's texts as its columns take them.
struct Texts {
    sheet: Option<&'static str>,
    condition: String,
    sent: Option<String>,
    due: Option<String>,
    back: Option<String>,
}

impl Texts {
    fn of(new: &NewSending) -> Result<Self> {
        let text = |day: Option<Date>| day.map(|day| day.to_string());
        let written = |why| Error::corrupt("sending", "condition", "a new row", why);
        Ok(Self {
            sheet: new.sheet.map(SheetKey::key),
            condition: serde_json::to_string(&new.condition).map_err(written)?,
            sent: text(new.sent),
            due: text(new.due),
            back: text(new.back),
        })
    }
}

pub async fn insert(w: &mut Writing, build: i64, new: &NewSending) -> Result<i64> {
    let (id, act, texts) = (public_id(), w.act, Texts::of(new)?);
    let done = sqlx::query!(
        "INSERT INTO sending (public_id, build, supplier, what, step, sheet, condition, words, sent, due, back, before_round,
                              after_round, cost, price, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        build,
        new.supplier,
        new.what,
        new.step,
        texts.sheet,
        texts.condition,
        new.words,
        texts.sent,
        texts.due,
        texts.back,
        new.before_round,
        new.after_round,
        new.cost,
        new.price,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewSending) -> Result<()> {
    let (act, texts) = (w.act, Texts::of(new)?);
    sqlx::query!(
        "UPDATE sending SET supplier = ?, what = ?, step = ?, sheet = ?, condition = ?, words = ?, sent = ?, due = ?, back = ?,
                            before_round = ?, after_round = ?, cost = ?, price = ?, act = ?
         WHERE id = ?",
        new.supplier,
        new.what,
        new.step,
        texts.sheet,
        texts.condition,
        new.words,
        texts.sent,
        texts.due,
        texts.back,
        new.before_round,
        new.after_round,
        new.cost,
        new.price,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn withdraw(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE sending SET withdrawn = ?, act = ? WHERE id = ? AND withdrawn IS NULL", act, act, id)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// What was asked of the work a build sent out, as it stands.
pub async fn asked(db: &mut Connection, build: i64) -> Result<Vec<Asked>> {
    let rows = sqlx::query!(
        r#"SELECT q.id AS "id!: i64", q.sending, q.finding, q.least, q.most, q.typed
           FROM sending_asked q JOIN sending s ON s.id = q.sending WHERE s.build = ? AND q.withdrawn IS NULL ORDER BY q.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    Ok(rows
        .into_iter()
        .map(|row| Asked {
            id: row.id,
            sending: row.sending,
            finding: FindingKey::parse(&row.finding),
            least: row.least,
            most: row.most,
            typed: row.typed,
        })
        .collect())
}

pub async fn ask(w: &mut Writing, new: &Asked) -> Result<i64> {
    let (act, finding) = (w.act, new.finding.to_string());
    let done = sqlx::query!(
        "INSERT INTO sending_asked (sending, finding, least, most, typed, made, act) VALUES (?, ?, ?, ?, ?, ?, ?)",
        new.sending,
        finding,
        new.least,
        new.most,
        new.typed,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}

/// Withdraws what was asked; whether there was one that stood.
pub async fn ask_no_more(w: &mut Writing, sending: i64, id: i64) -> Result<bool> {
    let act = w.act;
    let done = sqlx::query!(
        "UPDATE sending_asked SET withdrawn = ?, act = ? WHERE id = ? AND sending = ? AND withdrawn IS NULL",
        act,
        act,
        id,
        sending
    )
    .execute(&mut **w)
    .await?;
    Ok(done.rows_affected() > 0)
}
