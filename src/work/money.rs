//! The shop's money: its currency, amounts as they are typed and kept, and how it charges.

use super::doing::FieldFault;
use crate::charges::currency::Currency;
use crate::charges::money::Money;
use crate::charges::number::Numbering;
use crate::charges::percent::Percent;
use crate::charges::rounding::Terms;
use crate::record::by_name;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The keys of the settings.
pub(super) const CURRENCY: &str = "currency";
pub(super) const LABOUR_RATE: &str = "labour-rate";
pub(super) const MARK_UP_PARTS: &str = "mark-up-parts";
pub(super) const MARK_UP_SENT_OUT: &str = "mark-up-sent-out";
pub(super) const PRICES: &str = "prices";
pub(super) const ROUNDING: &str = "rounding";
pub(super) const TAX_ROUNDING: &str = "tax-rounding";
pub(super) const NUMBERING: &str = "invoice-numbering";
pub(super) const PAY_WITHIN: &str = "pay-within-days";
pub(super) const STORAGE_WEEK: &str = "storage-week";
pub(super) const STORAGE_FREE_DAYS: &str = "storage-free-days";
pub(super) const DISPOSAL: &str = "disposal";

/// The currency that amounts are kept in, until the shop says another.
const USUAL: &str = "USD";

/// Acts about time and money: they change no card, and are no sign that somebody was at the engine.
pub(super) const OF_MONEY: &[&str] = &[
    "keep time",
    "withdraw time",
    "start clock",
    "stop clock",
    "keep quote line",
    "withdraw quote line",
    "keep quote terms",
    "answer quote",
    "propose change",
    "answer change",
    "withdraw agreed change",
    "list charges",
    "add charge",
    "change charge",
    "withdraw charge",
    "give discount",
    "withdraw discount",
    "issue invoice",
    "credit invoice",
    "ask deposit",
    "withdraw deposit",
    "keep payment",
    "withdraw payment",
    "charge storage",
    "charge disposal",
    "charge parts on order",
    "keep refund",
    "note gone",
    "withdraw gone",
    "settle job",
    "give core back",
    "scrap core",
    "unscrap core",
    "withdraw settlement",
];

/// What the shop reckons in, and how.
#[derive(Clone, Copy, Debug)]
pub(super) struct Purse {
    pub currency: Currency,
    pub terms: Terms,
    pub numbering: Numbering,
    /// Of an hour; none until the shop says one.
    pub labour_rate: Option<Money>,
    pub mark_up_parts: Percent,
    pub mark_up_sent_out: Percent,
    /// Within how many days an invoice is to be paid; none where nothing is said.
    pub pay_within: Option<u16>,
    /// What a week of storage costs; none until the shop says it.
    pub storage_week: Option<Money>,
    /// How many days of a stay are without charge.
    pub storage_free_days: u16,
    /// What it costs to have an engine scrapped; none until the shop says it.
    pub disposal: Option<Money>,
}

impl Purse {
    pub fn of(kept: &BTreeMap<String, String>) -> Self {
        let code = kept.get(CURRENCY).map_or(USUAL, String::as_str);
        let usual = || Currency::from_code(USUAL);
        let percent = |key| kept.get(key).and_then(|ppm| Percent::from_ppm(ppm.parse().ok()?).ok()).unwrap_or_default();
        let money = |key| kept.get(key).and_then(|minor| Money::from_minor(minor.parse().ok()?).ok());
        let days = |key| kept.get(key).and_then(|days| days.parse().ok());
        Self {
            currency: Currency::from_code(code).or_else(|_| usual()).expect("the usual currency is known"),
            terms: Terms {
                prices: chosen(kept, PRICES),
                rounding: chosen(kept, ROUNDING),
                tax_rounding: chosen(kept, TAX_ROUNDING),
            },
            numbering: chosen(kept, NUMBERING),
            labour_rate: money(LABOUR_RATE),
            mark_up_parts: percent(MARK_UP_PARTS),
            mark_up_sent_out: percent(MARK_UP_SENT_OUT),
            pay_within: days(PAY_WITHIN),
            storage_week: money(STORAGE_WEEK),
            storage_free_days: days(STORAGE_FREE_DAYS).unwrap_or_default(),
            disposal: money(DISPOSAL),
        }
    }

    /// An amount as typed, in minor units; none where nothing was.
    pub fn amount(&self, field: &str, typed: &str) -> Result<Option<i64>, FieldFault> {
        Ok(self.money(field, typed)?.map(Money::minor))
    }

    /// An amount as typed; none where nothing was.
    pub fn money(&self, field: &str, typed: &str) -> Result<Option<Money>, FieldFault> {
        if typed.trim().is_empty() {
            return Ok(None);
        }
        self.currency.read(typed).map(Some).map_err(|why| FieldFault::new(field, why))
    }

    /// An amount as a form shows it.
    pub fn typed(&self, minor: Option<i64>) -> String {
        let amount = minor.and_then(|minor| Money::from_minor(minor).ok());
        amount.map_or_else(String::new, |amount| self.currency.plain(amount))
    }

    /// "1 250.00 EUR".
    pub fn show(&self, amount: Money) -> String {
        self.currency.show_named(amount)
    }
}

/// What a setting chose by name, or the usual.
fn chosen<T: for<'a> Deserialize<'a> + Default>(kept: &BTreeMap<String, String>, key: &str) -> T {
    kept.get(key).and_then(|name| by_name(name).ok()).unwrap_or_default()
}

/// A percentage as typed; none where nothing was.
pub(super) fn percent(field: &str, typed: &str) -> Result<Option<Percent>, FieldFault> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    Percent::read(typed).map(Some).map_err(|why| FieldFault::new(field, why))
}
