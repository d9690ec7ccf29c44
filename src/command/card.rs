//! `card`: a job's spec card as a PDF, as it would be issued now.

use super::{Stopped, now, open_shop};
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use witnessmark::work::{Audience, Refused};

#[derive(Clone, Copy, ValueEnum)]
enum Reader {
    Owner,
    Tuner,
    Shop,
}

/// Write a job's spec card as a PDF, as it would be issued now.
///
/// Example: witnessmark card 12 --out card.pdf
#[derive(Args)]
pub struct Card {
    /// The job's number.
    job: i64,
    /// File to write.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Whose card.
    #[arg(long = "for", value_enum, default_value = "owner", value_name = "READER")]
    reader: Reader,
    /// Folder of the record.
    #[arg(long, default_value = "witnessmark-data", value_name = "DIR")]
    data: PathBuf,
}

pub async fn write(args: Card) -> Result<(), Stopped> {
    let shop = open_shop(&args.data).await?;
    let audience = match args.reader {
        Reader::Owner => Audience::Owner,
        Reader::Tuner => Audience::Tuner,
        Reader::Shop => Audience::Shop,
    };
    let bytes = shop.preview_card(args.job, audience, now()).await.map_err(|why| match why {
        Refused::NotFound => Stopped::Failed(format!("there is no job {}", args.job)),
        other => Stopped::Failed(other.to_string()),
    })?;
    std::fs::write(&args.out, bytes)
        .map_err(|why| Stopped::Failed(format!("cannot write {}: {why}", args.out.display())))?;
    shop.close().await;
    Ok(())
}
