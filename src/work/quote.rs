//! The quote of a job: lines by step, exclusions, what may be spent without calling, what the customer answered, and what was
//! done without being agreed.

use super::Shop;
use super::account::{Account, too_large};
use super::charges::{CoverRow, cover_rows};
use super::doing::Done;
use super::job::{JobHead, JobLook};
use super::when::civil;
use crate::charges::hours::Quarters;
use crate::charges::quote::{Answer, How};
use crate::record::agreed_changes::AgreedChange;
use crate::record::families;
use crate::record::quotes::QuoteLine;
use jiff::Timestamp;

/// A line of a quote, as typed.
#[derive(Clone, Debug, Default)]
pub struct QuoteLineForm {
    /// A step's key; empty for the job as a whole.
    pub step: String,
    pub text: String,
    /// Of labour; empty where it is none.
    pub hours: String,
    /// Empty: the hours at the shop's rate.
    pub amount: String,
}

/// A line of a quote, to look at.
#[derive(Clone, Debug)]
pub struct QuoteLineView {
    pub id: i64,
    pub step: Option<String>,
    pub text: String,
    pub hours: Option<String>,
    pub amount: String,
    pub form: QuoteLineForm,
    /// What a form saw.
    pub act: i64,
}

/// How far a question to the customer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    NotYet,
    Awaited,
    Agreed,
    Declined,
}

/// Where a question to the customer stands.
#[derive(Clone, Debug)]
pub struct AnswerView {
    pub asked: Asked,
    /// "agreed 3 March 2026, by phone".
    pub words: String,
    /// The customer's own words.
    pub said: String,
}

/// A change to what was agreed.
#[derive(Clone, Debug)]
pub struct ChangeRow {
    pub id: i64,
    pub text: String,
    pub why: String,
    pub price: String,
    /// "2 days later"; none where nothing is.
    pub days: Option<String>,
    pub answer: AnswerView,
    /// The text to send.
    pub message: String,
}

/// The page of a quote.
#[derive(Clone, Debug)]
pub struct QuoteView {
    pub head: JobHead,
    pub lines: Vec<QuoteLineView>,
    pub total: String,
    pub agreed: String,
    pub exclusions: String,
    pub without_calling: String,
    /// The amount as typed.
    pub without_calling_typed: String,
    /// What a week of storage costs, where the quote says so: as shown and as typed.
    pub storage_week: Option<String>,
    pub storage_week_typed: String,
    /// What the form beside the lines saw.
    pub terms_act: i64,
    pub answer: AnswerView,
    /// What happened before, oldest first: words and the customer's own.
    pub past: Vec<(String, String)>,
    pub changes: Vec<ChangeRow>,
    /// What is done and not agreed.
    pub not_agreed: Vec<CoverRow>,
    /// Of what may be spent without calling.
    pub used: String,
    pub left: String,
    pub steps: Vec<(String, String)>,
    /// Public id of the engine's family, whose earlier jobs say what to reckon with.
    pub family: Option<String>,
    pub currency: &'static str,
    /// Of an hour; none until the shop says one.
    pub labour_rate: Option<String>,
    pub today: String,
}

/// Ways a customer answers: key and words.
pub const HOWS: [(&str, &str); 4] =
    [("phone", "by phone"), ("in-person", "in person"), ("message", "by message"), ("signed", "signed")];

impl AnswerView {
    pub(super) fn of(answer: &Answer) -> Self {
        let said = |asked: Asked, word: &str, on, how: How, words: &str| Self {
            asked,
            words: format!("{word} {}, {}", civil(on), how.words()),
            said: words.to_owned(),
        };
        match answer {
            Answer::NotAsked => Self { asked: Asked::NotYet, words: "not sent yet".to_owned(), said: String::new() },
            Answer::Awaited { since } => Self {
                asked: Asked::Awaited,
                words: format!("sent {}, no answer yet", civil(*since)),
                said: String::new(),
            },
            Answer::Agreed(by) => said(Asked::Agreed, "agreed", by.on, by.how, &by.words),
            Answer::Declined(by) => said(Asked::Declined, "declined", by.on, by.how, &by.words),
        }
    }
}

impl Account {
    fn quote_line_view(&self, line: &QuoteLine) -> QuoteLineView {
        let said = &line.said;
        QuoteLineView {
            id: line.id,
            step: self.step_title(said.step),
            text: said.text.clone(),
            hours: said.hours.map(Quarters::show),
            amount: self.purse.currency.show(said.amount),
            form: QuoteLineForm {
                step: self.step_key(said.step).unwrap_or_default(),
                text: said.text.clone(),
                hours: said.hours.map(Quarters::figures).unwrap_or_default(),
                amount: self.purse.currency.plain(said.amount),
            },
            act: line.act,
        }
    }

    /// The text to send about a change.
    pub fn message(&self, look: &JobLook, kept: &AgreedChange) -> String {
        let job = format!("Job {}, {}", look.job.build.id, look.job.build.title);
        self.change(kept).message(&job, self.purse.currency)
    }

    fn change_row(&self, look: &JobLook, kept: &AgreedChange) -> ChangeRow {
        let count = |days: u32| if days == 1 { "1 day".to_owned() } else { format!("{days} days") };
        let days = match kept.said.days {
            0 => None,
            later @ 1.. => Some(format!("{} later", count(later.unsigned_abs()))),
            sooner => Some(format!("{} sooner", count(sooner.unsigned_abs()))),
        };
        ChangeRow {
            id: kept.id,
            text: kept.said.text.clone(),
            why: kept.said.why.clone(),
            price: self.purse.show(kept.said.price),
            days,
            answer: AnswerView::of(&self.change_answer(kept.id)),
            message: self.message(look, kept),
        }
    }
}

impl Shop {
    /// The quote of a job.
    ///
    /// # Errors
    /// [`super::Refused::NotFound`] where there is no such job.
    pub async fn quote(&self, job: i64, now: Timestamp) -> Done<QuoteView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let account = Account::load(&mut db, job).await?;
        let family = match look.job.engine.family {
            Some(id) => families::by_id(&mut db, id).await?,
            None => None,
        };
        let reckoned = account.reckoned()?;
        let (rows, covered) = cover_rows(&account, &reckoned)?;
        let purse = &account.purse;
        let terms = &account.quote_terms;
        let past = account.quote_answers.iter().map(|answer| {
            let said = &answer.said;
            let how = said.how.map(|how| format!(", {}", how.words())).unwrap_or_default();
            (
                format!("{} {}{how}; {}", said.kind.word(), civil(said.day), look.when.stamp(&answer.stamp)),
                said.words.clone(),
            )
        });
        Ok(QuoteView {
            head: look.head(),
            lines: account.quote_lines.iter().map(|line| account.quote_line_view(line)).collect(),
            total: purse.show(reckoned.agreement.quoted().map_err(too_large)?),
            agreed: purse.show(reckoned.agreement.agreed().map_err(too_large)?),
            exclusions: terms.exclusions.clone(),
            without_calling: purse.show(terms.without_calling),
            without_calling_typed: purse.currency.plain(terms.without_calling),
            storage_week: terms.storage_week.map(|week| purse.show(week)),
            storage_week_typed: terms.storage_week.map(|week| purse.currency.plain(week)).unwrap_or_default(),
            terms_act: terms.act,
            answer: AnswerView::of(&reckoned.agreement.answer),
            past: past.collect(),
            changes: account.changes.iter().map(|change| account.change_row(&look, change)).collect(),
            not_agreed: rows.into_iter().filter(|row| row.not_agreed).collect(),
            used: purse.show(covered.used),
            left: purse.show(covered.left),
            steps: look.steps_to_choose("the job as a whole"),
            family: family.map(|family| family.public_id),
            currency: purse.currency.code(),
            labour_rate: purse.labour_rate.map(|rate| purse.show(rate)),
            today: look.when.today().to_string(),
        })
    }
}
