//! What a job is charged, as it goes out in its document: time worked, quote, changes agreed, lines, payments, invoices. Money
//! is in minor units, percentages in parts per million, hours in quarters.

use super::job_parts::Stamped;
use crate::record::agreed_changes::{self, AgreedChange, ChangeAnswer};
use crate::record::charge_lines::{self, ChargeLine};
use crate::record::discounts;
use crate::record::invoices::{self, KeptInvoice};
use crate::record::payments::{self, paid_key};
use crate::record::quotes::{self, QuoteAnswer};
use crate::record::work_clocks::{self, Ran};
use crate::record::worked::{self, Worked};
use crate::record::{Connection, Result, name_of, tax_rates};
use jiff::civil::Date;
use serde::Serialize;
use serde_json::Value;

/// All of it, of one job; what was withdrawn as well.
#[derive(Serialize)]
pub(super) struct ChargesOut {
    time_worked: Vec<WorkedOut>,
    clocks: Vec<ClockOut>,
    quote: QuoteOut,
    agreed_changes: Vec<AgreedChangeOut>,
    charges: Vec<LineOut>,
    /// The rates that its lines name.
    tax_rates: Vec<TaxOut>,
    discounts: Vec<DiscountOut>,
    deposits_asked: Vec<MoneyOut>,
    payments: Vec<MoneyOut>,
    /// Credits as well, each complete as it was frozen.
    invoices: Vec<InvoiceOut>,
}

impl ChargesOut {
    pub async fn of(db: &mut Connection, job: i64, step_key: impl Fn(i64) -> Option<String>) -> Result<Self> {
        let of = Some(job);
        let at = |step: Option<i64>| step.and_then(&step_key);
        let lines = charge_lines::of(db, of).await?;
        let changes = agreed_changes::of(db, of).await?;
        let answers = agreed_changes::answers(db, of).await?;
        let rates = tax_rates::all(db).await?;
        let named = rates.iter().filter(|rate| lines.iter().any(|line| line.said.tax == rate.tax.key));
        Ok(Self {
            time_worked: worked::of(db, of).await?.iter().map(|one| WorkedOut::of(one, at(one.said.step))).collect(),
            clocks: work_clocks::of_build(db, job).await?.iter().map(|one| ClockOut::of(one, at(one.step))).collect(),
            quote: QuoteOut::of(db, job, &at).await?,
            agreed_changes: changes.iter().map(|change| AgreedChangeOut::of(change, &answers)).collect(),
            charges: lines.iter().map(|line| LineOut::of(line, at(line.said.step))).collect(),
            tax_rates: named
                .map(|rate| TaxOut {
                    key: rate.tax.key.0.clone(),
                    title: rate.tax.title.clone(),
                    rate: rate.tax.rate.percent().ppm(),
                    reason: rate.tax.reason.clone(),
                })
                .collect(),
            discounts: discounts::of(db, of)
                .await?
                .iter()
                .map(|kept| DiscountOut {
                    said: serde_json::to_value(&kept.said).unwrap_or_default(),
                    given: Stamped::from(&kept.stamp),
                    withdrawn: kept.withdrawn,
                })
                .collect(),
            deposits_asked: payments::deposits(db, of)
                .await?
                .iter()
                .map(|kept| MoneyOut {
                    kind: "deposit",
                    amount: kept.said.amount.minor(),
                    day: kept.said.on,
                    words: kept.words.clone(),
                    kept: Stamped::from(&kept.stamp),
                    withdrawn: kept.withdrawn,
                })
                .collect(),
            payments: payments::of(db, of)
                .await?
                .iter()
                .map(|kept| MoneyOut {
                    kind: paid_key(kept.said.paid),
                    amount: kept.said.amount.minor(),
                    day: kept.said.on,
                    words: kept.words.clone(),
                    kept: Stamped::from(&kept.stamp),
                    withdrawn: kept.withdrawn,
                })
                .collect(),
            invoices: invoices::of(db, of).await?.iter().map(InvoiceOut::from).collect(),
        })
    }
}

#[derive(Serialize)]
struct WorkedOut {
    who: String,
    step: Option<String>,
    day: Date,
    quarters: u32,
    rate: Option<i64>,
    charged: &'static str,
    words: String,
    kept: Stamped,
    withdrawn: bool,
}

impl WorkedOut {
    fn of(one: &Worked, step: Option<String>) -> Self {
        let said = &one.said;
        Self {
            who: one.name.clone(),
            step,
            day: said.day,
            quarters: said.hours.0,
            rate: said.rate.map(i64::from),
            charged: said.charged.key(),
            words: said.words.clone(),
            kept: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct ClockOut {
    who: String,
    step: Option<String>,
    started: Stamped,
    stopped: Option<Stamped>,
}

impl ClockOut {
    fn of(one: &Ran, step: Option<String>) -> Self {
        Self {
            who: one.name.clone(),
            step,
            started: Stamped::from(&one.started),
            stopped: one.stopped.as_ref().map(Stamped::from),
        }
    }
}

#[derive(Serialize)]
struct QuoteOut {
    lines: Vec<QuoteLineOut>,
    exclusions: String,
    without_calling: i64,
    storage_week: Option<i64>,
    /// What happened to it, in order.
    answers: Vec<AnswerOut>,
}

impl QuoteOut {
    async fn of(db: &mut Connection, job: i64, at: &impl Fn(Option<i64>) -> Option<String>) -> Result<Self> {
        let terms = quotes::terms(db, Some(job)).await?.pop().map(|(_, terms)| terms).unwrap_or_default();
        let lines = quotes::lines(db, Some(job)).await?;
        Ok(Self {
            lines: lines
                .iter()
                .map(|line| QuoteLineOut {
                    id: line.id,
                    step: at(line.said.step),
                    text: line.said.text.clone(),
                    quarters: line.said.hours.map(|hours| hours.0),
                    amount: line.said.amount.minor(),
                    written: Stamped::from(&line.stamp),
                    withdrawn: line.withdrawn,
                })
                .collect(),
            exclusions: terms.exclusions,
            without_calling: terms.without_calling.minor(),
            storage_week: terms.storage_week.map(i64::from),
            answers: quotes::answers(db, Some(job)).await?.iter().map(AnswerOut::from).collect(),
        })
    }
}

#[derive(Serialize)]
struct QuoteLineOut {
    id: i64,
    step: Option<String>,
    text: String,
    quarters: Option<u32>,
    amount: i64,
    written: Stamped,
    withdrawn: bool,
}

#[derive(Serialize)]
struct AnswerOut {
    kind: &'static str,
    day: Date,
    how: Option<String>,
    words: String,
    /// The quote as it stood then; none of a change.
    quote: Option<Value>,
    kept: Stamped,
}

impl From<&QuoteAnswer> for AnswerOut {
    fn from(answer: &QuoteAnswer) -> Self {
        let said = &answer.said;
        Self {
            kind: said.kind.key(),
            day: said.day,
            how: said.how.map(name_of),
            words: said.words.clone(),
            quote: serde_json::from_str(&said.quote).ok(),
            kept: Stamped::from(&answer.stamp),
        }
    }
}

impl From<&ChangeAnswer> for AnswerOut {
    fn from(answer: &ChangeAnswer) -> Self {
        let said = &answer.said;
        Self {
            kind: said.kind.key(),
            day: said.day,
            how: said.how.map(name_of),
            words: said.words.clone(),
            quote: None,
            kept: Stamped::from(&answer.stamp),
        }
    }
}

#[derive(Serialize)]
struct AgreedChangeOut {
    id: i64,
    text: String,
    why: String,
    price: i64,
    days: i32,
    answers: Vec<AnswerOut>,
    written: Stamped,
    withdrawn: bool,
}

impl AgreedChangeOut {
    fn of(change: &AgreedChange, answers: &[ChangeAnswer]) -> Self {
        let said = &change.said;
        Self {
            id: change.id,
            text: said.text.clone(),
            why: said.why.clone(),
            price: said.price.minor(),
            days: said.days,
            answers: answers.iter().filter(|answer| answer.change == change.id).map(AnswerOut::from).collect(),
            written: Stamped::from(&change.stamp),
            withdrawn: change.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct LineOut {
    id: i64,
    kind: &'static str,
    text: String,
    step: Option<String>,
    how_many_thousandths: i64,
    unit: String,
    priced: &'static str,
    each: i64,
    mark_up: u32,
    tax: String,
    quote_line: Option<i64>,
    agreed_change: Option<i64>,
    written: Stamped,
    withdrawn: bool,
}

impl LineOut {
    fn of(line: &ChargeLine, step: Option<String>) -> Self {
        let said = &line.said;
        let (priced, each, mark_up) = charge_lines::price_columns(said.priced);
        let (quote_line, agreed_change) = charge_lines::under_columns(said.under);
        Self {
            id: line.id,
            kind: said.kind.key(),
            text: said.text.clone(),
            step,
            how_many_thousandths: said.how_many.thousandths(),
            unit: said.unit.clone(),
            priced,
            each: each.minor(),
            mark_up: mark_up.ppm(),
            tax: said.tax.0.clone(),
            quote_line,
            agreed_change,
            written: Stamped::from(&line.stamp),
            withdrawn: line.withdrawn,
        }
    }
}

#[derive(Serialize)]
struct TaxOut {
    key: String,
    title: String,
    rate: u32,
    reason: Option<String>,
}

#[derive(Serialize)]
struct DiscountOut {
    #[serde(flatten)]
    said: Value,
    given: Stamped,
    withdrawn: bool,
}

#[derive(Serialize)]
struct MoneyOut {
    kind: &'static str,
    amount: i64,
    day: Date,
    words: String,
    kept: Stamped,
    withdrawn: bool,
}

#[derive(Serialize)]
struct InvoiceOut {
    number: String,
    document: Option<Value>,
    /// Of its paper.
    sha256: String,
    issued: Stamped,
}

impl From<&KeptInvoice> for InvoiceOut {
    fn from(kept: &KeptInvoice) -> Self {
        Self {
            number: kept.invoice.number.to_string(),
            document: serde_json::from_str(&kept.document).ok(),
            sha256: kept.sha256.clone(),
            issued: Stamped::from(&kept.stamp),
        }
    }
}
