//! Search over everything kept in words: which entries of the two indexes hold what is looked for, and of which job each is.
//!
//! The indexes are kept by triggers (migrations/0013_search.sql); an entry's rowid says its job, its kind and its row.
//! What asks a virtual table is no checked query: the checking macros of sqlx crash on one.

use super::{Connection, Error, Result};
use std::collections::BTreeMap;

/// Which way of looking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Index {
    /// By words and their beginnings.
    Words,
    /// Telephone, serial and part numbers without spaces and dashes.
    RunTogether,
}

/// What an entry is of, by the number it has in a rowid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoundKind {
    Job = 1,
    Person,
    Item,
    Facts,
    Part,
    Sending,
    Move,
    Wait,
    Ending,
    Note,
    File,
    Supplier,
    Family,
}

impl FoundKind {
    const ALL: [Self; 13] = [
        Self::Job,
        Self::Person,
        Self::Item,
        Self::Facts,
        Self::Part,
        Self::Sending,
        Self::Move,
        Self::Wait,
        Self::Ending,
        Self::Note,
        Self::File,
        Self::Supplier,
        Self::Family,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Self::Job => "the job",
            Self::Person => "customer",
            Self::Item => "serial",
            Self::Facts => "known of it",
            Self::Part => "part",
            Self::Sending => "sent out",
            Self::Move => "a part’s way",
            Self::Wait => "waiting",
            Self::Ending => "ending",
            Self::Note => "note",
            Self::File => "file",
            Self::Supplier => "supplier",
            Self::Family => "family",
        }
    }
}

/// Where an entry stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// The job it is of; none for people, things, suppliers and families.
    pub build: Option<i64>,
    pub kind: FoundKind,
    pub row: i64,
}

const JOB_FROM: u32 = 40;
const KIND_FROM: u32 = 32;

impl Entry {
    fn at(rowid: i64) -> Result<Self> {
        let number = (rowid >> KIND_FROM) & 0xff;
        let kind = FoundKind::ALL.into_iter().find(|kind| *kind as i64 == number);
        let kind = kind.ok_or_else(|| Error::corrupt("found", "rowid", rowid, "unknown kind"))?;
        let build = Some(rowid >> JOB_FROM).filter(|build| *build != 0);
        Ok(Self { build, kind, row: rowid & 0xffff_ffff })
    }

    fn rowid(self) -> i64 {
        (self.build.unwrap_or(0) << JOB_FROM) | ((self.kind as i64) << KIND_FROM) | self.row
    }
}

/// Stand around what was looked for in the texts of entries.
pub const MARKS: (char, char) = ('\u{2}', '\u{3}');

/// Every job with an entry that matches, once for each kind of entry.
pub async fn in_jobs(db: &mut Connection, index: Index, query: &str) -> Result<Vec<(i64, FoundKind)>> {
    let sql = match index {
        Index::Words => "SELECT DISTINCT rowid >> 32 FROM found WHERE found MATCH ? AND rowid >= 1 << 40",
        Index::RunTogether => "SELECT DISTINCT rowid >> 32 FROM found_run WHERE found_run MATCH ? AND rowid >= 1 << 40",
    };
    let spots: Vec<i64> = sqlx::query_scalar(sql).bind(query).fetch_all(db).await?;
    let read = |spot: i64| {
        let entry = Entry::at(spot << KIND_FROM)?;
        Ok((entry.build.unwrap_or(0), entry.kind))
    };
    spots.into_iter().map(read).collect()
}

/// The entries of no single job that match: people, things, suppliers, families.
pub async fn of_no_job(db: &mut Connection, index: Index, query: &str) -> Result<Vec<Entry>> {
    let sql = match index {
        Index::Words => "SELECT rowid FROM found WHERE found MATCH ? AND rowid < 1 << 40",
        Index::RunTogether => "SELECT rowid FROM found_run WHERE found_run MATCH ? AND rowid < 1 << 40",
    };
    let rowids: Vec<i64> = sqlx::query_scalar(sql).bind(query).fetch_all(db).await?;
    rowids.into_iter().map(Entry::at).collect()
}

/// The first `most` entries of each of these jobs that match.
pub async fn first_in_jobs(
    db: &mut Connection,
    index: Index,
    query: &str,
    jobs: &[i64],
    most: i64,
) -> Result<Vec<Entry>> {
    let sql = match index {
        Index::Words => {
            "SELECT place FROM (SELECT rowid AS place, row_number() OVER (PARTITION BY rowid >> 40 ORDER BY rowid) AS nth
             FROM found WHERE found MATCH ? AND rowid >> 40 IN (SELECT value FROM json_each(?))) WHERE nth <= ?"
        }
        Index::RunTogether => {
            "SELECT place FROM (SELECT rowid AS place, row_number() OVER (PARTITION BY rowid >> 40 ORDER BY rowid) AS nth
             FROM found_run WHERE found_run MATCH ? AND rowid >> 40 IN (SELECT value FROM json_each(?))) WHERE nth <= ?"
        }
    };
    let rowids: Vec<i64> = sqlx::query_scalar(sql).bind(query).bind(listed(jobs)).bind(most).fetch_all(db).await?;
    rowids.into_iter().map(Entry::at).collect()
}

/// The texts of entries: what is around the words that match, marked, or all of it where none does.
pub async fn texts(db: &mut Connection, query: &str, entries: &[Entry]) -> Result<BTreeMap<Entry, String>> {
    let rowids = listed(&entries.iter().map(|entry| entry.rowid()).collect::<Vec<_>>());
    // Without the sign before it the index would be gone through anew for each.
    let marked = "SELECT rowid, snippet(found, 0, char(2), char(3), '…', 16) FROM found
                  WHERE found MATCH ? AND +rowid IN (SELECT value FROM json_each(?))";
    let whole = "SELECT rowid, text FROM found WHERE rowid IN (SELECT value FROM json_each(?))";
    let mut rows: Vec<(i64, String)> = sqlx::query_as(whole).bind(&rowids).fetch_all(&mut *db).await?;
    rows.extend(sqlx::query_as::<_, (i64, String)>(marked).bind(query).bind(&rowids).fetch_all(db).await?);
    rows.into_iter().map(|(rowid, text)| Ok((Entry::at(rowid)?, text))).collect()
}

/// Numbers as one value that a query takes.
fn listed(numbers: &[i64]) -> String {
    format!("[{}]", numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(","))
}

/// The jobs of a customer.
pub async fn jobs_of_customer(db: &mut Connection, person: i64) -> Result<Vec<i64>> {
    Ok(sqlx::query_scalar!("SELECT id FROM build WHERE customer = ? ORDER BY id DESC", person).fetch_all(db).await?)
}

/// The jobs that entries of no single job lead to: a customer's, and those of the engines a thing is or was fitted in.
pub async fn led_to(db: &mut Connection, index: Index, query: &str) -> Result<Vec<(Entry, i64)>> {
    let sql = match index {
        Index::Words => {
            "SELECT f.rowid, b.id FROM found f CROSS JOIN build b ON b.customer = f.rowid & 0xffffffff
             WHERE f.found MATCH ?1 AND f.rowid >= 2 << 32 AND f.rowid < 3 << 32
             UNION ALL
             SELECT f.rowid, b.id FROM found f CROSS JOIN fitting t ON t.item = f.rowid & 0xffffffff
             CROSS JOIN build b ON b.engine = t.engine
             WHERE f.found MATCH ?1 AND f.rowid >= 3 << 32 AND f.rowid < 4 << 32"
        }
        Index::RunTogether => {
            "SELECT f.rowid, b.id FROM found_run f CROSS JOIN build b ON b.customer = f.rowid & 0xffffffff
             WHERE f.found_run MATCH ?1 AND f.rowid >= 2 << 32 AND f.rowid < 3 << 32
             UNION ALL
             SELECT f.rowid, b.id FROM found_run f CROSS JOIN fitting t ON t.item = f.rowid & 0xffffffff
             CROSS JOIN build b ON b.engine = t.engine
             WHERE f.found_run MATCH ?1 AND f.rowid >= 3 << 32 AND f.rowid < 4 << 32"
        }
    };
    let rows: Vec<(i64, i64)> = sqlx::query_as(sql).bind(query).fetch_all(db).await?;
    rows.into_iter().map(|(rowid, build)| Ok((Entry::at(rowid)?, build))).collect()
}
