//! `export`: a job's whole record as one JSON document.

use super::{Stopped, open_shop, say};
use clap::Args;
use std::path::PathBuf;
use witnessmark::exchange;

/// Write a job's whole record as one JSON document to standard output.
///
/// Example: witnessmark export 12 > job-12.json
#[derive(Args)]
pub struct Export {
    /// The job's number.
    job: i64,
    /// Folder of the record.
    #[arg(long, default_value = "witnessmark-data", value_name = "DIR")]
    data: PathBuf,
}

pub async fn write(args: Export) -> Result<(), Stopped> {
    let shop = open_shop(&args.data).await?;
    let document = exchange::job(&mut *shop.record().look().await?, args.job).await?;
    let document = document.ok_or_else(|| Stopped::Failed(format!("there is no job {}", args.job)))?;
    shop.close().await;
    say(&format!("{}\n", serde_json::to_string_pretty(&document)?))
}
