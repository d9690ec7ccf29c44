//! How the shop charges: currency, labour, mark-ups, prices, rounding, numbering of invoices, rates of tax.

use super::Shop;
use super::account::table;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::money::{self, Purse, percent};
use crate::charges::currency::Currency;
use crate::charges::line::Kind;
use crate::charges::money::Money;
use crate::charges::number::Numbering;
use crate::charges::percent::{Percent, TaxRate};
use crate::charges::rounding::{Prices, Rounding, TaxRounding};
use crate::charges::tax::{Tax, TaxKey};
use crate::record::tax_rates::{self, KeptRate};
use crate::record::{Connection, by_name, invoices, name_of, settings};

/// How the shop charges, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MoneyForm {
    /// Three letters.
    pub currency: String,
    /// Of an hour; empty for none.
    pub labour_rate: String,
    pub mark_up_parts: String,
    pub mark_up_sent_out: String,
    /// Names of the words in the room of charges.
    pub prices: String,
    pub rounding: String,
    pub tax_rounding: String,
    pub numbering: String,
    /// Days; empty where nothing is said.
    pub pay_within: String,
    /// What a week costs; empty for none.
    pub storage_week: String,
    pub storage_free_days: String,
    /// Empty for none.
    pub disposal: String,
    /// "It is so, although it looks odd."
    pub sure: bool,
}

/// A rate of tax, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TaxForm {
    /// What the books call it.
    pub name: String,
    pub title: String,
    pub rate: String,
    pub reason: String,
    /// Keys of kinds of line.
    pub usual_for: Vec<String>,
    pub sure: bool,
}

/// A rate of tax, to look at.
#[derive(Clone, Debug)]
pub struct TaxView {
    pub id: i64,
    pub form: TaxForm,
    /// "19 %".
    pub rate: String,
    /// "labour, parts".
    pub usual_for: String,
    /// What a form saw.
    pub act: i64,
}

/// How the shop charges, to look at.
#[derive(Clone, Debug)]
pub struct MoneyView {
    pub form: MoneyForm,
    pub taxes: Vec<TaxView>,
    /// Key and title of every kind of line.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// Codes of currencies, each twice: as key and as word.
    pub currencies: Vec<(&'static str, String)>,
    /// What an invoice says about it.
    pub on_paper: String,
    /// The act that last changed it: what a form saw.
    pub act: i64,
}

impl MoneyForm {
    fn of(purse: &Purse) -> Self {
        let Purse { currency, terms, numbering, mark_up_parts, mark_up_sent_out, .. } = *purse;
        let typed = |amount: Option<Money>| amount.map(|amount| currency.plain(amount)).unwrap_or_default();
        Self {
            currency: currency.code().to_owned(),
            labour_rate: typed(purse.labour_rate),
            mark_up_parts: mark_up_parts.figures(),
            mark_up_sent_out: mark_up_sent_out.figures(),
            prices: name_of(terms.prices),
            rounding: name_of(terms.rounding),
            tax_rounding: name_of(terms.tax_rounding),
            numbering: name_of(numbering),
            pay_within: purse.pay_within.map(|days| days.to_string()).unwrap_or_default(),
            storage_week: typed(purse.storage_week),
            storage_free_days: purse.storage_free_days.to_string(),
            disposal: typed(purse.disposal),
            sure: false,
        }
    }

    /// What each setting is kept as, by its key.
    fn understood(&self) -> Result<Vec<(&'static str, String)>, Vec<FieldFault>> {
        let mut faults = Vec::new();
        let currency = Currency::from_code(&self.currency).map_err(|why| FieldFault::new("currency", why));
        let currency = currency.map_err(|why| faults.push(why)).ok();
        let mut amount = |field: &str, typed: &str| {
            let currency = currency.filter(|_| !typed.trim().is_empty())?;
            currency.read(typed).map_err(|why| faults.push(FieldFault::new(field, why))).ok()
        };
        let rate = amount("labour_rate", &self.labour_rate);
        let storage_week = amount("storage_week", &self.storage_week);
        let disposal = amount("disposal", &self.disposal);
        let mut any_days = |field: &str, typed: &str| days(field, typed).map_err(|why| faults.push(why)).ok().flatten();
        let free_days = any_days("storage_free_days", &self.storage_free_days);
        let pay_within = any_days("pay_within", &self.pay_within);
        let mut put_on = |field: &str, typed: &str| {
            percent(field, typed).map_err(|why| faults.push(why)).ok().flatten().unwrap_or(Percent::ZERO)
        };
        let parts = put_on("mark_up_parts", &self.mark_up_parts);
        let sent_out = put_on("mark_up_sent_out", &self.mark_up_sent_out);
        let mut known = |field: &str, known: bool, words: &str| {
            if !known {
                faults.push(FieldFault::new(field, words));
            }
        };
        let prices = by_name::<Prices>(&self.prices).is_ok();
        known("prices", prices, "choose whether prices are before tax or include it");
        let rounding = by_name::<Rounding>(&self.rounding).is_ok();
        known("rounding", rounding, "choose how half of the smallest coin is rounded");
        let tax_rounding = by_name::<TaxRounding>(&self.tax_rounding).is_ok();
        known("tax_rounding", tax_rounding, "choose whether tax is rounded on the total of each rate or on each line");
        let numbering = by_name::<Numbering>(&self.numbering).is_ok();
        known("numbering", numbering, "choose whether invoices are numbered anew each year");
        let Some(currency) = currency.filter(|_| faults.is_empty()) else { return Err(faults) };
        let minor = |amount: Option<Money>| amount.map(|amount| amount.minor().to_string()).unwrap_or_default();
        Ok(vec![
            (money::CURRENCY, currency.code().to_owned()),
            (money::LABOUR_RATE, minor(rate)),
            (money::MARK_UP_PARTS, parts.ppm().to_string()),
            (money::MARK_UP_SENT_OUT, sent_out.ppm().to_string()),
            (money::PRICES, self.prices.clone()),
            (money::ROUNDING, self.rounding.clone()),
            (money::TAX_ROUNDING, self.tax_rounding.clone()),
            (money::NUMBERING, self.numbering.clone()),
            (money::PAY_WITHIN, pay_within.map(|days| days.to_string()).unwrap_or_default()),
            (money::STORAGE_WEEK, minor(storage_week)),
            (money::STORAGE_FREE_DAYS, free_days.unwrap_or_default().to_string()),
            (money::DISPOSAL, minor(disposal)),
        ])
    }
}

/// A number of days as typed, a year at most; none where nothing was.
fn days(field: &str, typed: &str) -> Result<Option<u16>, FieldFault> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let days = typed.parse().ok().filter(|days| *days <= 366);
    days.map(Some).ok_or_else(|| FieldFault::new(field, format!("“{typed}” is no number of days: enter 0 to 366")))
}

impl TaxForm {
    fn of(tax: &Tax) -> Self {
        Self {
            name: tax.key.0.clone(),
            title: tax.title.clone(),
            rate: tax.rate.percent().figures(),
            reason: tax.reason.clone().unwrap_or_default(),
            usual_for: tax.usual_for.iter().map(|kind| kind.key().to_owned()).collect(),
            sure: false,
        }
    }

    fn understood(&self, purse: &Purse) -> Done<Tax> {
        let mut faults = Vec::new();
        let name = self.name.trim();
        if name.is_empty() || name.contains(char::is_whitespace) {
            faults.push(FieldFault::new("name", "enter what your books call it, in one word: standard"));
        }
        if self.title.trim().is_empty() {
            faults.push(FieldFault::new("title", "enter what the invoice calls it: sales tax"));
        }
        for (field, text, most) in [("name", &self.name, 40), ("title", &self.title, 80), ("reason", &self.reason, 300)]
        {
            faults.extend(FieldFault::too_long(field, text, most));
        }
        let rate = Percent::read(&self.rate).and_then(TaxRate::new);
        let rate = rate.map_err(|why| faults.push(FieldFault::new("rate", why))).ok();
        if let Some(odd) = rate.and_then(TaxRate::odd).filter(|_| !self.sure) {
            faults.push(FieldFault::new("sure", odd.words(purse.currency)));
        }
        let usual_for: Option<Vec<Kind>> = self.usual_for.iter().map(|key| Kind::from_key(key)).collect();
        if usual_for.is_none() {
            faults.push(FieldFault::new("usual_for", "choose from the kinds of line"));
        }
        match (rate, usual_for) {
            (Some(rate), Some(usual_for)) if faults.is_empty() => Ok(Tax {
                key: TaxKey(name.to_owned()),
                title: self.title.trim().to_owned(),
                rate,
                reason: Some(self.reason.trim().to_owned()).filter(|reason| !reason.is_empty()),
                usual_for,
            }),
            _ => Err(Refused::Faults(faults)),
        }
    }
}

fn tax_view(kept: &KeptRate) -> TaxView {
    let kinds: Vec<String> = kept.tax.usual_for.iter().map(|kind| kind.title().to_lowercase()).collect();
    TaxView {
        id: kept.id,
        form: TaxForm::of(&kept.tax),
        rate: kept.tax.rate.percent().show(),
        usual_for: kinds.join(", "),
        act: kept.act,
    }
}

/// The act that last changed how the shop charges, 0 for none.
async fn newest(db: &mut Connection) -> Done<i64> {
    let ours = [
        money::CURRENCY,
        money::LABOUR_RATE,
        money::MARK_UP_PARTS,
        money::MARK_UP_SENT_OUT,
        money::PRICES,
        money::ROUNDING,
        money::TAX_ROUNDING,
        money::NUMBERING,
        money::PAY_WITHIN,
        money::STORAGE_WEEK,
        money::STORAGE_FREE_DAYS,
        money::DISPOSAL,
    ];
    let acts = settings::acts(db).await?.into_iter().filter(|(key, _)| ours.contains(&key.as_str()));
    Ok(acts.map(|(_, act)| act).max().unwrap_or(0))
}

impl Shop {
    /// How the shop charges.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn money_settings(&self) -> Done<MoneyView> {
        let mut look = self.record.look().await?;
        let purse = Purse::of(&settings::all(&mut look).await?);
        Ok(MoneyView {
            form: MoneyForm::of(&purse),
            taxes: tax_rates::all(&mut look).await?.iter().filter(|rate| !rate.withdrawn).map(tax_view).collect(),
            kinds: Kind::ALL.map(|kind| (kind.key(), kind.title())).to_vec(),
            currencies: Currency::all().map(|currency| (currency.code(), currency.code().to_owned())).collect(),
            on_paper: purse.terms.words(purse.currency),
            act: newest(&mut look).await?,
        })
    }

    /// Changes how the shop charges; `saw` is the act that had last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be or is asked about, [`Refused::Conflict`] where it was changed since.
    pub async fn change_money_settings(&self, doing: &Doing, saw: i64, form: &MoneyForm) -> Done<()> {
        let pairs = form.understood().map_err(Refused::Faults)?;
        let Some(mut w) = self.begin(doing, "change settings for money", None).await? else { return Ok(()) };
        if newest(&mut w).await? != saw {
            return Err(Refused::Conflict { stands: "the settings for money were changed meanwhile".to_owned() });
        }
        let kept = settings::all(&mut w).await?;
        let purse = Purse::of(&kept);
        if purse.currency.code() != pairs[0].1 && kept.contains_key(money::CURRENCY) && !form.sure {
            let words = format!(
                "amounts kept so far were entered in {} and are not converted: is another currency right?",
                purse.currency.code()
            );
            return Err(Refused::fault("sure", words));
        }
        let numbering = name_of(purse.numbering);
        if numbering != form.numbering && invoices::last(&mut w).await?.is_some() {
            let words = "invoices are numbered the other way already: keep to that way, so that none is missing";
            return Err(Refused::fault("numbering", words));
        }
        let changed = |(key, value): &(&str, String)| kept.get(*key) != Some(value);
        for (key, value) in pairs.into_iter().filter(changed) {
            settings::put(&mut w, key, &value).await?;
        }
        Ok(w.commit().await?)
    }

    /// Keeps a rate of tax: a new one, or what is said of one; its name stays.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be or is asked about, [`Refused::Conflict`] where it was changed since.
    pub async fn keep_tax(&self, doing: &Doing, known: Option<(i64, i64)>, form: &TaxForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let tax = form.understood(&Purse::of(&settings::all(&mut look).await?))?;
        drop(look);
        let Some(mut w) = self.begin(doing, "keep rate of tax", None).await? else { return Ok(()) };
        let mut rates = tax_rates::all(&mut w).await?;
        match known {
            None if rates.iter().any(|rate| rate.tax.key == tax.key) => {
                return Err(Refused::fault(
                    "name",
                    format!("a rate is called “{}” already: choose another name", tax.key.0),
                ));
            }
            None => {
                rates.push(KeptRate { id: 0, tax: tax.clone(), withdrawn: false, act: 0 });
                check(&rates)?;
                tax_rates::insert(&mut w, &tax).await?;
            }
            Some((id, saw)) => {
                let rate = rates.iter_mut().find(|rate| rate.id == id && !rate.withdrawn).ok_or(Refused::NotFound)?;
                if rate.act != saw {
                    return Err(Refused::Conflict {
                        stands: format!("{}, {}", rate.tax.title, rate.tax.rate.percent().show()),
                    });
                }
                rate.tax = Tax { key: rate.tax.key.clone(), ..tax };
                let tax = rate.tax.clone();
                check(&rates)?;
                tax_rates::update(&mut w, id, &tax).await?;
            }
        }
        Ok(w.commit().await?)
    }

    /// Offers a rate of tax no more; what was charged at it stays as it is.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none.
    pub async fn withdraw_tax(&self, doing: &Doing, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw rate of tax", None).await? else { return Ok(()) };
        if !tax_rates::all(&mut w).await?.iter().any(|rate| rate.id == id && !rate.withdrawn) {
            return Err(Refused::NotFound);
        }
        tax_rates::withdraw(&mut w, id).await?;
        Ok(w.commit().await?)
    }
}

/// Whether rates make a table; what does not is said at the kinds of line.
fn check(rates: &[KeptRate]) -> Done<()> {
    let said = |refused| match refused {
        Refused::Faults(faults) => {
            Refused::Faults(faults.into_iter().map(|fault| FieldFault::new("usual_for", fault.message)).collect())
        }
        other => other,
    };
    table(rates).map(|_| ()).map_err(said)
}
