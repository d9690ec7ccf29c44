//! What is kept: one file per kind of thing, its types and its SQL together; the only SQL in the house.
//!
//! Reading goes through [`Record::look`], one consistent snapshot; writing through [`Record::begin`], which first inserts
//! the act that every new or changed row then names. No arithmetic on measured values happens in SQL.

pub mod acceptances;
pub mod acts;
pub mod agreed_changes;
pub mod attachments;
pub mod awaited;
pub mod builds;
pub mod cards;
pub mod carried;
pub mod changes;
pub mod charge_lines;
pub mod closed_days;
pub mod cores;
pub mod decisions;
pub mod deliveries;
pub mod discounts;
pub mod endings;
pub mod engines;
pub mod expansions;
pub mod facts;
pub mod families;
pub mod family_readings;
pub mod files;
pub mod gauges;
pub mod inspections;
pub mod invoices;
pub mod items;
pub mod limits;
pub mod made_sizes;
pub mod notes;
pub mod part_moves;
pub mod parts;
pub mod payments;
pub mod people;
pub mod promises;
pub mod quotes;
pub mod readings;
pub mod rechecks;
pub mod rounds;
pub mod search;
pub mod second_checks;
pub mod second_readings;
pub mod sendings;
pub mod set_answers;
pub mod settings;
pub mod settlements;
pub mod sign_offs;
pub mod step_hours;
pub mod steps;
pub mod stop_marks;
pub mod studies;
pub mod suppliers;
pub mod tablets;
pub mod targets;
pub mod tax_rates;
pub mod tightenings;
pub mod waits;
mod words;
pub mod work_clocks;
pub mod worked;

pub use acts::{NewAct, Stamp};
pub use files::Files;
pub(crate) use words::{by_name, name_of};

use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{Sqlite, SqliteConnection, SqlitePool, Transaction};
use std::ops::{Deref, DerefMut};
use std::path::Path;
use std::time::Duration;

/// What can go wrong with the record.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    #[error("the record was changed meanwhile: {0}")]
    Conflict(String),
    #[error("{table}.{column} of {row} cannot be read: {why}")]
    Corrupt { table: &'static str, column: &'static str, row: String, why: String },
    #[error("the record's database: {0}")]
    Database(#[from] sqlx::Error),
    #[error("the record's tables: {0}")]
    Migration(#[from] sqlx::migrate::MigrateError),
    #[error("a file of the record: {0}")]
    File(#[from] std::io::Error),
}

impl Error {
    #[expect(clippy::needless_pass_by_value, reason = "callers hand over what they have just made")]
    pub(crate) fn corrupt(table: &'static str, column: &'static str, row: impl ToString, why: impl ToString) -> Self {
        Self::Corrupt { table, column, row: row.to_string(), why: why.to_string() }
    }

    /// Whether the disk has no room left for it.
    pub fn is_full(&self) -> bool {
        use std::io::ErrorKind::{FileTooLarge, QuotaExceeded, StorageFull};
        match self {
            Self::File(why) => matches!(why.kind(), StorageFull | QuotaExceeded | FileTooLarge),
            // SQLITE_FULL.
            Self::Database(sqlx::Error::Database(why)) => why.code().is_some_and(|code| code == "13"),
            _ => false,
        }
    }
}

pub type Result<T> = std::result::Result<T, Error>;

/// The database's file in the record's folder.
const DATABASE: &str = "record.db";

/// The shop's record: a database and a folder of files.
#[derive(Clone, Debug)]
pub struct Record {
    writer: SqlitePool,
    readers: SqlitePool,
    pub files: Files,
}

impl Record {
    /// Whether a record lies in a folder.
    pub fn is_in(folder: &Path) -> bool {
        folder.join(DATABASE).is_file()
    }

    /// Opens the record in a folder, or begins an empty one.
    ///
    /// # Errors
    /// Where the folder cannot be written, the file is no record, or its tables are of another edition.
    pub async fn open(folder: &Path) -> Result<Self> {
        std::fs::create_dir_all(folder)?;
        let options = SqliteConnectOptions::new()
            .filename(folder.join(DATABASE))
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .busy_timeout(Duration::from_secs(5))
            .row_buffer_size(1000);
        let writer = SqlitePoolOptions::new().max_connections(1).connect_with(options.clone()).await?;
        sqlx::migrate!().run(&writer).await?;
        let readers = SqlitePoolOptions::new().max_connections(4).connect_with(options.read_only(true)).await?;
        Ok(Self { writer, readers, files: Files::in_folder(folder)? })
    }

    /// One consistent look at the record.
    ///
    /// # Errors
    /// Where the database does not answer.
    pub async fn look(&self) -> Result<Look> {
        Ok(Look(self.readers.begin().await?))
    }

    /// Begins a transaction by its act. `None` where an act with this idempotency key stands already.
    ///
    /// # Errors
    /// Where the database does not answer.
    pub async fn begin(&self, new: &NewAct<'_>) -> Result<Option<Writing>> {
        let mut transaction = self.writer.begin_with("BEGIN IMMEDIATE").await?;
        match acts::insert(&mut transaction, new).await? {
            Some(act) => Ok(Some(Writing { transaction, act })),
            None => Ok(None),
        }
    }

    /// Closes both pools; the write-ahead log is folded into the database.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }
}

/// A read-only transaction.
pub struct Look(Transaction<'static, Sqlite>);

impl Deref for Look {
    type Target = SqliteConnection;
    fn deref(&self) -> &SqliteConnection {
        &self.0
    }
}

impl DerefMut for Look {
    fn deref_mut(&mut self) -> &mut SqliteConnection {
        &mut self.0
    }
}

/// A writing transaction with its act. Dropped without [`Writing::commit`], nothing was done.
pub struct Writing {
    transaction: Transaction<'static, Sqlite>,
    /// The act that new and changed rows name.
    pub act: i64,
}

impl Writing {
    /// Goes on with another act in the same transaction: new and changed rows name it from now on, and all is kept or
    /// nothing.
    ///
    /// # Errors
    /// [`Error::Conflict`] where an act with this idempotency key stands already.
    pub async fn go_on(&mut self, new: &NewAct<'_>) -> Result<()> {
        let act = acts::insert(&mut self.transaction, new).await?;
        self.act = act.ok_or_else(|| Error::Conflict(format!("{} was done already", new.what)))?;
        Ok(())
    }

    /// # Errors
    /// Where the database cannot keep it; nothing was done then.
    pub async fn commit(self) -> Result<()> {
        Ok(self.transaction.commit().await?)
    }
}

impl Deref for Writing {
    type Target = SqliteConnection;
    fn deref(&self) -> &SqliteConnection {
        &self.transaction
    }
}

impl DerefMut for Writing {
    fn deref_mut(&mut self) -> &mut SqliteConnection {
        &mut self.transaction
    }
}

/// A connection that can be read from: a [`Look`] or a [`Writing`].
pub type Connection = SqliteConnection;

/// 128 random bits in hex: the id by which a thing is known outside this record.
///
/// # Panics
/// Where the machine has no source of randomness, without which nothing here is safe.
pub fn public_id() -> String {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes).expect("the operating system gives random bytes");
    hex(&bytes)
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        use std::fmt::Write;
        let _ = write!(text, "{byte:02x}");
        text
    })
}
