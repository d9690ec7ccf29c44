//! Drawing up a quote, and keeping what the customer answered to it.

use super::Shop;
use super::account::Account;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::move_part::day;
use super::quote::QuoteLineForm;
use super::shop_settings::zone;
use super::times::step_of;
use super::when::{When, civil};
use crate::charges::hours::Quarters;
use crate::charges::odd::Odd;
use crate::charges::quote::{Answer, How};
use crate::record::quotes::{self, Happened, NewQuoteAnswer, NewQuoteLine, QuoteTerms};
use crate::record::{by_name, settings};
use jiff::civil::Date;

/// What the customer answered, as typed.
#[derive(Clone, Debug, Default)]
pub struct AnswerForm {
    /// A key of what happened: sent, agreed, declined, taken-back.
    pub kind: String,
    pub day: String,
    /// A key; empty where he did not answer.
    pub how: String,
    pub words: String,
    /// "It is so, although it looks odd."
    pub sure: bool,
}

/// What stands beside the lines of a quote, as typed.
#[derive(Clone, Debug, Default)]
pub struct TermsForm {
    /// One a line.
    pub exclusions: String,
    pub without_calling: String,
    /// What a week of storage costs; empty for the shop's own.
    pub storage_week: String,
}

/// An answer that was understood.
pub(super) struct Answered {
    pub day: Date,
    pub how: Option<How>,
    pub words: String,
}

impl AnswerForm {
    /// What happened on which day; `is_answer` where the customer must have said how, `sent` the day he was asked.
    pub(super) fn understood(&self, today: Date, is_answer: bool, sent: Option<Date>) -> Done<Answered> {
        let mut faults = Vec::new();
        let on = day("day", &self.day).map_err(|why| faults.push(why)).ok().map(|on| on.unwrap_or(today));
        if on.is_some_and(|on| on > today) {
            faults.push(FieldFault::new("day", "this day has not come yet: enter the day it happened"));
        }
        let how = by_name::<How>(&self.how).ok();
        if is_answer && how.is_none() {
            faults.push(FieldFault::new("how", "say how he answered: by phone, in person, by message or signed"));
        }
        if is_answer && self.words.trim().is_empty() {
            faults.push(FieldFault::new("words", "enter what he said, in his own words"));
        }
        faults.extend(FieldFault::too_long("words", &self.words, 2000));
        let odd = sent.zip(on).and_then(|(sent, on)| Odd::if_out_of_order("sent", sent, "answered", on));
        if let Some(Odd::OutOfOrder { first_on, later_on, .. }) = odd.filter(|_| is_answer && !self.sure) {
            let words = format!(
                "he is said to have answered on {}, before he was asked on {}: are both right?",
                civil(later_on),
                civil(first_on)
            );
            faults.push(FieldFault::new("sure", words));
        }
        match on {
            Some(day) if faults.is_empty() => {
                Ok(Answered { day, how: how.filter(|_| is_answer), words: self.words.trim().to_owned() })
            }
            _ => Err(Refused::Faults(faults)),
        }
    }
}

/// A quote that was agreed to, or waits for an answer, stays as it was sent.
fn may_draw_up(account: &Account) -> Done<()> {
    let words = match account.quote_answer() {
        Answer::Agreed(_) => "the customer agreed to this quote: write what is different as a change below",
        Answer::Awaited { .. } => "the quote was sent: take it back first, then draw it up anew",
        Answer::NotAsked | Answer::Declined(_) => return Ok(()),
    };
    Err(Refused::fault("quote", words))
}

impl QuoteLineForm {
    fn understood(&self, account: &Account) -> Done<NewQuoteLine> {
        let mut faults = Vec::new();
        let step = step_of(&account.steps, &self.step).map_err(|why| faults.push(why)).ok().flatten();
        if self.text.trim().is_empty() && step.is_none() {
            faults.push(FieldFault::new("text", "say what is offered: bore and hone to 4.030"));
        }
        faults.extend(FieldFault::too_long("text", &self.text, 300));
        let hours = match self.hours.trim() {
            "" => None,
            typed => Quarters::read(typed).map_err(|why| faults.push(FieldFault::new("hours", why))).ok(),
        };
        let hours = hours.filter(|hours| *hours > Quarters(0));
        let typed = account.purse.money("amount", &self.amount).map_err(|why| faults.push(why)).ok().flatten();
        let by_hours = || {
            let rate = account.purse.labour_rate?;
            hours?.at(rate, account.purse.terms.rounding).ok()
        };
        let amount = typed.or_else(by_hours);
        if amount.is_none() && !faults.iter().any(|fault| fault.field == "amount" || fault.field == "hours") {
            faults.push(FieldFault::new("amount", "enter what it comes to, or its hours where the shop has a rate"));
        }
        match amount {
            Some(amount) if faults.is_empty() => {
                let text = match self.text.trim() {
                    "" => account.step_title(step).unwrap_or_default(),
                    text => text.to_owned(),
                };
                Ok(NewQuoteLine { step, text, hours, amount })
            }
            _ => Err(Refused::Faults(faults)),
        }
    }
}

impl Shop {
    /// Adds a line to a quote, or changes one: `known` is its id and the act that had last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, [`Refused::Conflict`] where the line was changed since.
    pub async fn keep_quote_line(
        &self,
        doing: &Doing,
        job: i64,
        known: Option<(i64, i64)>,
        form: &QuoteLineForm,
    ) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "keep quote line", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        may_draw_up(&account)?;
        let new = form.understood(&account)?;
        match known {
            None => quotes::insert_line(&mut w, job, &new).await?,
            Some((id, saw)) => {
                let line = account.quote_lines.iter().find(|line| line.id == id).ok_or(Refused::NotFound)?;
                if line.act != saw {
                    let stands = format!("{}: {}", line.said.text, account.purse.show(line.said.amount));
                    return Err(Refused::Conflict { stands });
                }
                quotes::update_line(&mut w, id, &new).await?;
            }
        }
        Ok(w.commit().await?)
    }

    /// Takes a line off a quote.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the quote was sent, [`Refused::NotFound`] where there is no such line.
    pub async fn withdraw_quote_line(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw quote line", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        may_draw_up(&account)?;
        if !account.quote_lines.iter().any(|line| line.id == id) {
            return Err(Refused::NotFound);
        }
        quotes::withdraw_line(&mut w, id).await?;
        Ok(w.commit().await?)
    }

    /// Keeps what stands beside the lines of a quote.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, [`Refused::Conflict`] where it was changed since.
    pub async fn keep_quote_terms(&self, doing: &Doing, job: i64, saw: i64, form: &TermsForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "keep quote terms", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        may_draw_up(&account)?;
        let mut faults: Vec<FieldFault> =
            FieldFault::too_long("exclusions", &form.exclusions, 4000).into_iter().collect();
        let mut amount =
            |field: &str, typed: &str| account.purse.money(field, typed).map_err(|why| faults.push(why)).ok().flatten();
        let without_calling = amount("without_calling", &form.without_calling);
        let storage_week = amount("storage_week", &form.storage_week);
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        if account.quote_terms.act != saw {
            return Err(Refused::Conflict { stands: account.quote_terms.exclusions.clone() });
        }
        let lines: Vec<&str> = form.exclusions.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
        let without_calling = without_calling.unwrap_or_default();
        let new = QuoteTerms { exclusions: lines.join("\n"), without_calling, storage_week, act: saw };
        quotes::put_terms(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Keeps that a quote was sent, answered or taken back, with the quote as it stands.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot follow what happened before, or is asked about.
    pub async fn answer_quote(&self, doing: &Doing, job: i64, form: &AnswerForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "answer quote", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let kind = Happened::from_key(&form.kind).ok_or_else(|| Refused::fault("kind", "choose what happened"))?;
        let before = account.quote_answer();
        let wrong = match (kind, &before) {
            (Happened::Sent, Answer::Agreed(_)) => Some("he agreed to it already: write what is different as a change"),
            (Happened::Sent, Answer::Awaited { .. }) => Some("it was sent already and waits for his answer"),
            (Happened::Agreed | Happened::Declined, Answer::Agreed(_) | Answer::Declined(_)) => {
                Some("his answer is kept already: take the quote back to ask him anew")
            }
            (Happened::TakenBack, Answer::NotAsked) => Some("it was not sent yet: change its lines"),
            _ if account.quote_lines.is_empty() => Some("the quote has no line yet: add what is offered first"),
            _ => None,
        };
        if let Some(words) = wrong {
            return Err(Refused::fault("kind", words));
        }
        let sent = if let Answer::Awaited { since } = before { Some(since) } else { None };
        let today = When::new(&zone(&settings::all(&mut w).await?), doing.at).today();
        let is_answer = matches!(kind, Happened::Agreed | Happened::Declined);
        let answered = form.understood(today, is_answer, sent)?;
        let quote = serde_json::json!(account.agreement()).to_string();
        let new = NewQuoteAnswer { kind, day: answered.day, how: answered.how, words: answered.words, quote };
        quotes::insert_answer(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }
}
