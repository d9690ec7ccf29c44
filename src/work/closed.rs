//! The jobs that have left the shop: the newest first, found again by a few words.

use super::Shop;
use super::doing::Done;
use super::when::When;
use crate::record::{builds, engines, items, people, settings};
use jiff::Timestamp;

/// One engine that has left the shop.
#[derive(Clone, Debug)]
pub struct ClosedRow {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    /// "vee 8, 5 mains".
    pub engine: String,
    /// Of the items fitted in it that have one.
    pub serials: Vec<String>,
    /// "23 November 2025 by Ada".
    pub left: String,
}

impl ClosedRow {
    /// Whether every one of the words, in small letters, stands somewhere in its line.
    fn has(&self, words: &[String]) -> bool {
        let said = [&self.job.to_string(), &self.title, self.customer.as_ref().unwrap_or(&String::new()), &self.engine]
            .into_iter()
            .chain(&self.serials)
            .map(|text| text.to_lowercase())
            .collect::<Vec<_>>();
        words.iter().all(|word| said.iter().any(|text| text.contains(word)))
    }
}

/// The jobs that have left the shop.
#[derive(Clone, Debug)]
pub struct ClosedView {
    /// Those that were asked for, the one that left last first.
    pub rows: Vec<ClosedRow>,
    /// How many have left in all.
    pub all: usize,
}

impl Shop {
    /// The jobs that have left the shop and in whose line every word of `text` stands: name, what it is, a serial.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn closed(&self, text: &str, now: Timestamp) -> Done<ClosedView> {
        let mut look = self.record.look().await?;
        let left = builds::left(&mut look).await?;
        let engines = engines::all(&mut look).await?;
        let people = people::all(&mut look).await?;
        let serials = items::serials(&mut look).await?;
        let when = When::new(&super::shop_settings::zone(&settings::all(&mut look).await?), now);
        let row = |job: builds::Left| ClosedRow {
            job: job.build,
            customer: job.customer.and_then(|id| people.iter().find(|p| p.id == id)).map(|p| p.name.clone()),
            engine: engines
                .iter()
                .find(|engine| engine.id == job.engine)
                .map_or_else(String::new, |engine| engine.architecture.summary()),
            serials: serials.iter().filter(|(engine, _)| *engine == job.engine).map(|(_, s)| s.clone()).collect(),
            left: when.stamp(&job.left),
            title: job.title,
        };
        let all = left.len();
        let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        Ok(ClosedView { rows: left.into_iter().map(row).filter(|row| row.has(&words)).collect(), all })
    }
}
