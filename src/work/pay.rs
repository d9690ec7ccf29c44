//! Deposits asked for, and what the customer paid.

use super::Shop;
use super::account::Account;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::move_part::day;
use super::shop_settings::zone;
use super::when::{When, civil};
use crate::charges::odd::Odd;
use crate::charges::payment::{DepositAsked, Paid, Payment};
use crate::record::payments::{self, PAID};
use crate::record::{Writing, settings};
use jiff::civil::Date;

/// A deposit or a payment, as typed.
#[derive(Clone, Debug, Default)]
pub struct PaymentForm {
    /// A key of what it is; of a payment.
    pub kind: String,
    pub amount: String,
    pub day: String,
    pub words: String,
    /// "It is so, although it looks odd."
    pub sure: bool,
}

impl PaymentForm {
    /// The payment, if it can be; what is odd about it is asked about.
    pub(super) fn understood(&self, account: &Account, today: Date) -> Done<Payment> {
        let mut faults: Vec<FieldFault> = FieldFault::too_long("paid_words", &self.words, 500).into_iter().collect();
        let paid = PAID.iter().find(|(key, _)| *key == self.kind).map(|(_, paid)| *paid);
        if paid.is_none() {
            faults.push(FieldFault::new("paid", "choose what the payment is"));
        }
        let amount = account.purse.money("amount", &self.amount).map_err(|why| faults.push(why)).ok();
        if amount == Some(None) {
            faults.push(FieldFault::new("amount", "enter the amount paid"));
        }
        let on = day("paid_on", &self.day).map_err(|why| faults.push(why)).ok().map(|on| on.unwrap_or(today));
        let (Some(paid), Some(Some(amount)), Some(on)) = (paid, amount, on) else {
            return Err(Refused::Faults(faults));
        };
        let payment = Payment::new(paid, amount, on).map_err(|why| faults.push(FieldFault::new("amount", why))).ok();
        let received = account.reckoned()?.balance()?.received;
        if paid == Paid::GivenBack && amount > received {
            let received = account.purse.show(received.above_zero());
            let words = format!("{received} came in and was not given back: enter that or less");
            faults.push(FieldFault::new("amount", words));
        }
        let Some(payment) = payment.filter(|_| faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let odd = odd(account, payment, today)?;
        if odd.is_empty() || self.sure {
            Ok(payment)
        } else {
            Err(Refused::Faults(odd.into_iter().map(|words| FieldFault::new("sure", words)).collect()))
        }
    }
}

pub(super) async fn today(w: &mut Writing, doing: &Doing) -> Done<Date> {
    Ok(When::new(&zone(&settings::all(w).await?), doing.at).today())
}

impl Shop {
    /// Asks for a deposit.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn ask_deposit(&self, doing: &Doing, job: i64, form: &PaymentForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "ask deposit", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let today = today(&mut w, doing).await?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("deposit_words", &form.words, 500).into_iter().collect();
        let amount = account.purse.money("deposit", &form.amount).map_err(|why| faults.push(why)).ok().flatten();
        let amount = amount.filter(|amount| amount.minor() > 0);
        if amount.is_none() && faults.is_empty() {
            faults.push(FieldFault::new("deposit", "enter the amount asked for, above zero"));
        }
        let on = day("deposit_day", &form.day).map_err(|why| faults.push(why)).ok().map(|on| on.unwrap_or(today));
        match (amount, on) {
            (Some(amount), Some(on)) if faults.is_empty() => {
                payments::ask_deposit(&mut w, job, DepositAsked { amount, on }, form.words.trim()).await?;
                Ok(w.commit().await?)
            }
            _ => Err(Refused::Faults(faults)),
        }
    }

    /// Asks no more for a deposit.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none is asked for.
    pub async fn withdraw_deposit(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw deposit", Some(job)).await? else { return Ok(()) };
        if !payments::withdraw_deposit(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// Keeps a payment.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, more given back than came in, and for what is asked about: more than is open,
    /// dates out of order.
    pub async fn keep_payment(&self, doing: &Doing, job: i64, form: &PaymentForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "keep payment", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let today = today(&mut w, doing).await?;
        let payment = form.understood(&account, today)?;
        payments::insert(&mut w, job, payment, form.words.trim()).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a payment that never came.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none.
    pub async fn withdraw_payment(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw payment", Some(job)).await? else { return Ok(()) };
        if !payments::withdraw(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}

/// What to ask about a payment before it is kept.
fn odd(account: &Account, payment: Payment, today: Date) -> Done<Vec<String>> {
    let reckoned = account.reckoned()?;
    let first = match payment.paid {
        Paid::Deposit { .. } => reckoned.deposit.map(|asked| ("the deposit was asked for", asked.on)),
        Paid::OnInvoice => account.last_invoice_on().map(|on| ("the invoice is of", on)),
        Paid::Progress | Paid::GivenBack => None,
    };
    let odd = payment.odd(reckoned.balance()?, first, today);
    let words = |odd: &Odd| match odd {
        Odd::OutOfOrder { first, first_on, later, later_on } => {
            format!("{first} {}, {later} {}: are both right?", civil(*first_on), civil(*later_on))
        }
        other => other.words(account.purse.currency),
    };
    Ok(odd.iter().map(words).collect())
}
