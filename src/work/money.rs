//! The shop's money: its currency, amounts as they are typed and kept.

use super::doing::FieldFault;
use crate::charges::currency::Currency;
use crate::charges::money::Money;
use std::collections::BTreeMap;

/// The key of the setting.
pub(super) const CURRENCY: &str = "currency";

/// The currency that amounts are kept in, until the shop says another.
const USUAL: &str = "USD";

/// What the shop reckons in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Purse {
    pub currency: Currency,
}

impl Purse {
    pub fn of(kept: &BTreeMap<String, String>) -> Self {
        let code = kept.get(CURRENCY).map_or(USUAL, String::as_str);
        let usual = || Currency::from_code(USUAL);
        Self { currency: Currency::from_code(code).or_else(|_| usual()).expect("the usual currency is known") }
    }

    /// An amount as typed, in minor units; none where nothing was.
    pub fn amount(&self, field: &str, typed: &str) -> Result<Option<i64>, FieldFault> {
        if typed.trim().is_empty() {
            return Ok(None);
        }
        let amount = self.currency.read(typed).map_err(|why| FieldFault::new(field, why))?;
        Ok(Some(amount.minor()))
    }

    /// An amount as a form shows it.
    pub fn typed(&self, minor: Option<i64>) -> String {
        let amount = minor.and_then(|minor| Money::from_minor(minor).ok());
        amount.map_or_else(String::new, |amount| self.currency.plain(amount))
    }
}
