//! How a job was settled, as it goes out in its document: days that storage was charged for, old parts in exchange,
//! settlements with their figures as they stood. Money is in minor units; lines are named by their ids.

use super::job_parts::Stamped;
use crate::record::cores::{self, CoreFate};
use crate::record::settlements::{self, KeptSettlement, KeptSpan};
use crate::record::{Connection, Result};
use jiff::civil::Date;
use serde::Serialize;

/// All of it, of one job; what was withdrawn as well.
#[derive(Serialize)]
pub(super) struct SettlingOut {
    storage: Vec<SpanOut>,
    cores: Vec<CoreOut>,
    settlements: Vec<SettlementOut>,
}

impl SettlingOut {
    pub async fn of(db: &mut Connection, job: i64) -> Result<Self> {
        let of = Some(job);
        Ok(Self {
            storage: settlements::spans(db, of).await?.iter().map(SpanOut::from).collect(),
            cores: cores::of(db, of).await?.iter().map(CoreOut::from).collect(),
            settlements: settlements::of(db, of).await?.iter().map(SettlementOut::from).collect(),
        })
    }
}

#[derive(Serialize)]
struct SpanOut {
    line: i64,
    from: Date,
    until: Date,
}

impl From<&KeptSpan> for SpanOut {
    fn from(kept: &KeptSpan) -> Self {
        Self { line: kept.line, from: kept.said.from, until: kept.said.until }
    }
}

#[derive(Serialize)]
struct CoreOut {
    /// The line that asks for the deposit.
    deposit: i64,
    what: &'static str,
    /// The line that gives it back.
    credit: Option<i64>,
    day: Date,
    said: Stamped,
    withdrawn: bool,
}

impl From<&CoreFate> for CoreOut {
    fn from(kept: &CoreFate) -> Self {
        let said = &kept.said;
        Self {
            deposit: said.deposit,
            what: said.what.key(),
            credit: said.credit,
            day: said.day,
            said: Stamped::from(&kept.stamp),
            withdrawn: kept.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct SettlementOut {
    day: Date,
    words: String,
    owed: i64,
    received: i64,
    forfeited: i64,
    held: i64,
    refund: i64,
    to_pay: i64,
    said: Stamped,
    withdrawn: bool,
}

impl From<&KeptSettlement> for SettlementOut {
    fn from(kept: &KeptSettlement) -> Self {
        let said = &kept.said;
        Self {
            day: said.day,
            words: said.words.clone(),
            owed: said.owed.minor(),
            received: said.received.minor(),
            forfeited: said.forfeited.minor(),
            held: said.held.minor(),
            refund: said.refund.minor(),
            to_pay: said.to_pay.minor(),
            said: Stamped::from(&kept.stamp),
            withdrawn: kept.withdrawn,
        }
    }
}
