//! What the customer paid and what is open.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::money::{Money, TooLarge};
use super::odd::Odd;

/// What a payment is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paid {
    /// Before the work; whether it comes back if the customer cancels is agreed beforehand.
    Deposit { refundable: bool },
    /// While the work goes on.
    Progress,
    /// On an invoice.
    OnInvoice,
    /// From the shop to the customer.
    GivenBack,
}

/// A payment, always above zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Payment {
    pub paid: Paid,
    pub amount: Money,
    pub on: Date,
}

/// Why a payment cannot be.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum PaymentFault {
    #[error("a payment is above zero: what is given back is entered as such")]
    NotAboveZero,
}

impl Payment {
    pub fn new(paid: Paid, amount: Money, on: Date) -> Result<Self, PaymentFault> {
        if amount > Money::ZERO { Ok(Self { paid, amount, on }) } else { Err(PaymentFault::NotAboveZero) }
    }

    /// What to ask before the payment is kept, with the balance as it is without it. `first` is what it pays for: the
    /// invoice, or the request for a deposit.
    pub fn odd(&self, before: Balance, first: Option<(&'static str, Date)>, today: Date) -> Vec<Odd> {
        let Self { amount, on, .. } = *self;
        let Balance { open, over, .. } = before;
        let above = match self.paid {
            Paid::OnInvoice if amount > open => Some(Odd::PaidAbove { paid: amount, open }),
            Paid::GivenBack if amount > over => Some(Odd::GivenBackAbove { given: amount, over }),
            _ => None,
        };
        let before_first = first.and_then(|(first, first_on)| Odd::if_out_of_order(first, first_on, "the payment", on));
        let ahead = Odd::if_out_of_order("the payment", on, "today", today);
        [above, before_first, ahead].into_iter().flatten().collect()
    }
}

/// What is charged against what came in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Balance {
    pub charged: Money,
    /// Less what was given back.
    pub received: Money,
    /// Still to come from the customer.
    pub open: Money,
    /// Received beyond what is charged: held for him, or to be given back.
    pub over: Money,
}

impl Balance {
    /// The balance of all that is charged, credits below zero, against all payments.
    pub fn of(charged: impl IntoIterator<Item = Money>, payments: &[Payment]) -> Result<Self, TooLarge> {
        let (charged, received) = (Money::sum(charged)?, received(payments)?);
        let open = charged.less(received)?;
        Ok(Self { charged, received, open: open.above_zero(), over: (-open).above_zero() })
    }
}

/// All that came in, less what was given back.
pub fn received(payments: &[Payment]) -> Result<Money, TooLarge> {
    Money::sum(payments.iter().map(|payment| match payment.paid {
        Paid::GivenBack => -payment.amount,
        _ => payment.amount,
    }))
}

/// A deposit asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DepositAsked {
    pub amount: Money,
    pub on: Date,
}

impl DepositAsked {
    /// What of it has not come in yet.
    pub fn missing(&self, payments: &[Payment]) -> Result<Money, TooLarge> {
        let deposits = payments.iter().filter(|payment| matches!(payment.paid, Paid::Deposit { .. }));
        Ok(self.amount.less(Money::sum(deposits.map(|deposit| deposit.amount))?)?.above_zero())
    }
}
