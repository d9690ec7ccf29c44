//! Changes to what was agreed: proposed, sent, agreed or declined.

use super::Shop;
use super::account::Account;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::keep_quote::AnswerForm;
use super::shop_settings::zone;
use super::when::When;
use crate::charges::quote::Answer;
use crate::record::agreed_changes::{self, Happened, NewAgreedChange, NewChangeAnswer};
use crate::record::settings;

/// A change, as typed.
#[derive(Clone, Debug, Default)]
pub struct AgreedChangeForm {
    pub text: String,
    pub why: String,
    /// An amount; `less` where it is left out instead.
    pub price: String,
    pub less: bool,
    /// Whole days later; below zero for sooner; empty for none.
    pub days: String,
}

/// More days than any change makes.
const MOST_DAYS: i32 = 1000;

impl AgreedChangeForm {
    fn understood(&self, account: &Account) -> Done<NewAgreedChange> {
        let mut faults = Vec::new();
        if self.text.trim().is_empty() {
            faults.push(FieldFault::new("text", "say what is proposed: sleeve cylinder 3"));
        }
        if self.why.trim().is_empty() {
            faults.push(FieldFault::new("why", "say what was found: cylinder 3 is cracked below the deck"));
        }
        for (field, text, most) in [("text", &self.text, 500), ("why", &self.why, 1000)] {
            faults.extend(FieldFault::too_long(field, text, most));
        }
        let price = account.purse.money("price", &self.price).map_err(|why| faults.push(why)).ok();
        if price == Some(None) {
            faults.push(FieldFault::new("price", "enter what it costs, 0 for nothing"));
        }
        let typed = self.days.trim().replace('−', "-");
        let days = if typed.is_empty() { Some(0) } else { typed.parse().ok() };
        let days = days.filter(|days: &i32| (-MOST_DAYS..=MOST_DAYS).contains(days));
        if days.is_none() {
            faults.push(FieldFault::new("days", "enter whole days, such as 3, or -2 for sooner"));
        }
        match (price.flatten(), days) {
            (Some(price), Some(days)) if faults.is_empty() => Ok(NewAgreedChange {
                text: self.text.trim().to_owned(),
                why: self.why.trim().to_owned(),
                price: if self.less { -price } else { price },
                days,
            }),
            _ => Err(Refused::Faults(faults)),
        }
    }
}

impl Shop {
    /// Writes down a change to what was agreed.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn propose_change(&self, doing: &Doing, job: i64, form: &AgreedChangeForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let new = form.understood(&account)?;
        let Some(mut w) = self.begin(doing, "propose change", Some(job)).await? else { return Ok(()) };
        agreed_changes::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Keeps that a change was sent, with the message as it was, or what the customer answered.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot follow what happened before, or is asked about.
    pub async fn answer_change(&self, doing: &Doing, job: i64, change: i64, form: &AnswerForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "answer change", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let kept = account.changes.iter().find(|kept| kept.id == change).ok_or(Refused::NotFound)?;
        let kind = Happened::from_key(&form.kind).ok_or_else(|| Refused::fault("kind", "choose what happened"))?;
        let before = account.change_answer(change);
        match (kind, &before) {
            (_, Answer::Agreed(_) | Answer::Declined(_)) => {
                let words = "his answer is kept already: write a new change for what is different now";
                return Err(Refused::fault("kind", words));
            }
            (Happened::Sent, Answer::Awaited { .. }) => {
                return Err(Refused::fault("kind", "it was sent already and waits for his answer"));
            }
            _ => {}
        }
        let sent = if let Answer::Awaited { since } = before { Some(since) } else { None };
        let today = When::new(&zone(&settings::all(&mut w).await?), doing.at).today();
        let answered = form.understood(today, kind != Happened::Sent, sent)?;
        let words = if kind == Happened::Sent { account.message(&look, kept) } else { answered.words };
        let new = NewChangeAnswer { kind, day: answered.day, how: answered.how, words };
        agreed_changes::insert_answer(&mut w, change, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a change that was not agreed to.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the customer agreed or a line of charges belongs to it.
    pub async fn withdraw_agreed_change(&self, doing: &Doing, job: i64, change: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw agreed change", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        if !account.changes.iter().any(|kept| kept.id == change) {
            return Err(Refused::NotFound);
        }
        if matches!(account.change_answer(change), Answer::Agreed(_)) {
            let words = "the customer agreed to it: write a change that takes it back, and ask him";
            return Err(Refused::fault("change", words));
        }
        agreed_changes::withdraw(&mut w, change).await?;
        Ok(w.commit().await?)
    }
}
