//! Builds: one episode in an engine's life, which the shop calls a job.

use super::{Connection, Error, Result, Stamp, Writing, public_id};
use crate::engine::WorkingUnit;
use crate::metrology::Rule;

/// What kind of episode a build is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuildKind {
    New,
    Refresh,
    Repair,
}

impl BuildKind {
    pub const ALL: [Self; 3] = [Self::New, Self::Refresh, Self::Repair];

    /// The key kept in the record, which is also the word.
    pub fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Refresh => "refresh",
            Self::Repair => "repair",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// A build as kept. Its id is the job's number.
#[derive(Clone, Debug)]
pub struct Build {
    pub id: i64,
    pub public_id: String,
    pub engine: i64,
    pub customer: Option<i64>,
    pub kind: BuildKind,
    pub title: String,
    pub wants: String,
    pub unit: WorkingUnit,
    pub rule: Rule,
    pub opened: Stamp,
    pub closed: bool,
    /// The newest act that changed this row: what a form saw.
    pub act: i64,
}

/// What a build is.
#[derive(Clone, Debug)]
pub struct NewBuild {
    pub customer: Option<i64>,
    pub kind: BuildKind,
    pub title: String,
    pub wants: String,
    pub unit: WorkingUnit,
    pub rule: Rule,
}

struct Row {
    id: i64,
    public_id: String,
    engine: i64,
    customer: Option<i64>,
    kind: String,
    title: String,
    wants: String,
    unit: String,
    rule: String,
    at: String,
    by: Option<String>,
    closed: Option<i64>,
    act: i64,
}

impl TryFrom<Row> for Build {
    type Error = Error;
    fn try_from(row: Row) -> Result<Self> {
        let corrupt = |column| Error::corrupt("build", column, row.id, "unknown word");
        Ok(Self {
            kind: BuildKind::from_word(&row.kind).ok_or_else(|| corrupt("kind"))?,
            unit: WorkingUnit::from_key(&row.unit).ok_or_else(|| corrupt("unit"))?,
            rule: Rule::from_key(&row.rule).ok_or_else(|| corrupt("rule"))?,
            opened: Stamp::of(row.by, &row.at)?,
            id: row.id,
            public_id: row.public_id,
            engine: row.engine,
            customer: row.customer,
            title: row.title,
            wants: row.wants,
            closed: row.closed.is_some(),
            act: row.act,
        })
    }
}

/// The number the next job will have.
pub async fn next_number(db: &mut Connection) -> Result<i64> {
    let row = sqlx::query!(r#"SELECT max(id) AS "id: i64" FROM build"#).fetch_one(db).await?;
    Ok(row.id.unwrap_or(0) + 1)
}

pub async fn by_id(db: &mut Connection, id: i64) -> Result<Option<Build>> {
    sqlx::query_as!(
        Row,
        r#"SELECT b.id AS "id!: i64", b.public_id, b.engine, b.customer, b.kind, b.title, b.wants, b.unit, b.rule,
                  a.at, p.name AS "by?: String", b.closed, b.act
           FROM build b JOIN act a ON a.id = b.made LEFT JOIN person p ON p.id = a.person WHERE b.id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?
    .map(Build::try_from)
    .transpose()
}

/// Every build, newest first.
pub async fn all(db: &mut Connection) -> Result<Vec<Build>> {
    sqlx::query_as!(
        Row,
        r#"SELECT b.id AS "id!: i64", b.public_id, b.engine, b.customer, b.kind, b.title, b.wants, b.unit, b.rule,
                  a.at, p.name AS "by?: String", b.closed, b.act
           FROM build b JOIN act a ON a.id = b.made LEFT JOIN person p ON p.id = a.person ORDER BY b.id DESC"#
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Build::try_from)
    .collect()
}

/// Those that have not left the shop, or one of them.
pub async fn in_shop(db: &mut Connection, build: Option<i64>) -> Result<Vec<Build>> {
    sqlx::query_as!(
        Row,
        r#"SELECT b.id AS "id!: i64", b.public_id, b.engine, b.customer, b.kind, b.title, b.wants, b.unit, b.rule,
                  a.at, p.name AS "by?: String", b.closed, b.act
           FROM build b JOIN act a ON a.id = b.made LEFT JOIN person p ON p.id = a.person
           WHERE b.closed IS NULL AND (?1 IS NULL OR b.id = ?1)"#,
        build
    )
    .fetch_all(db)
    .await?
    .into_iter()
    .map(Build::try_from)
    .collect()
}

/// A build that has left the shop.
#[derive(Clone, Debug)]
pub struct Left {
    pub build: i64,
    pub engine: i64,
    pub customer: Option<i64>,
    pub title: String,
    pub left: Stamp,
}

/// Those that have left the shop, the one that left last first.
pub async fn left(db: &mut Connection) -> Result<Vec<Left>> {
    let rows = sqlx::query!(
        r#"SELECT b.id AS "id!: i64", b.engine, b.customer, b.title, a.at, p.name AS "by?: String"
           FROM build b JOIN act a ON a.id = b.closed LEFT JOIN person p ON p.id = a.person ORDER BY b.closed DESC"#
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let left = Stamp::of(row.by, &row.at)?;
            Ok(Left { build: row.id, engine: row.engine, customer: row.customer, title: row.title, left })
        })
        .collect()
}

pub async fn insert(w: &mut Writing, number: i64, engine: i64, new: &NewBuild) -> Result<()> {
    let (id, act) = (public_id(), w.act);
    let (kind, unit, rule) = (new.kind.word(), new.unit.key(), new.rule.key());
    sqlx::query!(
        "INSERT INTO build (id, public_id, engine, customer, kind, title, wants, unit, rule, made, act)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        number,
        id,
        engine,
        new.customer,
        kind,
        new.title,
        new.wants,
        unit,
        rule,
        act,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

pub async fn update(w: &mut Writing, id: i64, new: &NewBuild) -> Result<()> {
    let act = w.act;
    let (kind, unit, rule) = (new.kind.word(), new.unit.key(), new.rule.key());
    sqlx::query!(
        "UPDATE build SET customer = ?, kind = ?, title = ?, wants = ?, unit = ?, rule = ?, act = ? WHERE id = ?",
        new.customer,
        kind,
        new.title,
        new.wants,
        unit,
        rule,
        act,
        id
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}

/// Marks that the engine is in the shop after all.
pub async fn reopen(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE build SET closed = NULL, act = ? WHERE id = ?", act, id).execute(&mut **w).await?;
    Ok(())
}

/// Marks that the engine has left the shop.
pub async fn close(w: &mut Writing, id: i64) -> Result<()> {
    let act = w.act;
    sqlx::query!("UPDATE build SET closed = ?, act = ? WHERE id = ?", act, act, id).execute(&mut **w).await?;
    Ok(())
}
