//! Keeping lines of charges and discounts: all that waits at once, one by hand, one changed, one taken off.

use super::Shop;
use super::account::Account;
use super::charge_choices::LineChoices;
use super::charges::{LineForm, LineRow, cover_rows};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobHead;
use super::times::step_of;
use crate::charges::discount::{Discount, Much, On};
use crate::charges::invoice::{InvoiceFault, invoiced_on, may_change};
use crate::charges::line::{HowMany, Kind, LineId, Price, Priced};
use crate::charges::percent::{Percent, PercentFault};
use crate::charges::quote::{ChangeId, QuoteLineId, Under};
use crate::charges::tax::TaxKey;
use crate::record::charge_lines::{self, ChargeLine, LineOf, NewLine};
use crate::record::cores::{self, Fate};
use crate::record::{by_name, discounts};
use jiff::Timestamp;

/// The page of one line of charges.
#[derive(Clone, Debug)]
pub struct LineView {
    pub head: JobHead,
    pub row: LineRow,
    pub form: LineForm,
    pub choices: LineChoices,
    /// What a form saw.
    pub act: i64,
}

/// A discount, as typed: a percentage or an amount.
#[derive(Clone, Debug, Default)]
pub struct DiscountForm {
    pub text: String,
    /// A key; empty for everything.
    pub on: String,
    pub percent: String,
    pub amount: String,
}

impl LineForm {
    fn understood(&self, account: &Account, itself: Option<&ChargeLine>) -> Done<NewLine> {
        let mut faults = Vec::new();
        let kind = itself.map(|line| line.said.kind).or(Kind::from_key(&self.kind));
        if kind.is_none() {
            faults.push(FieldFault::new("kind", "choose what is charged"));
        }
        if kind == Some(Kind::CoreReturned) && itself.is_none() {
            let words = "a core is given back at its deposit, so that it is exactly that, and once: use “Core given back” there";
            faults.push(FieldFault::new("kind", words));
        }
        let step = step_of(&account.steps, &self.step).map_err(|why| faults.push(why)).ok().flatten();
        let how_many = HowMany::read(&self.how_many).map_err(|why| faults.push(FieldFault::new("how_many", why))).ok();
        let each = account.purse.money("each", &self.each).map_err(|why| faults.push(why)).ok().flatten();
        let mark_up = super::money::percent("mark_up", &self.mark_up).map_err(|why| faults.push(why)).ok().flatten();
        for (field, text, most) in [("text", &self.text, 300), ("unit", &self.unit, 20)] {
            faults.extend(FieldFault::too_long(field, text, most));
        }
        if each.is_none() && self.priced != "customers-own" && !faults.iter().any(|fault| fault.field == "each") {
            faults.push(FieldFault::new("each", "enter the price of one, 0 for nothing"));
        }
        let tax = match (&*self.tax, kind) {
            ("", Some(kind)) => account.usual_tax(kind)?,
            (key, _) => TaxKey(key.to_owned()),
        };
        let kept = itself.is_some_and(|line| line.said.tax == tax);
        if !kept && !account.rates.iter().any(|rate| rate.tax.key == tax && !rate.withdrawn) {
            faults.push(FieldFault::new("tax", "choose one of the shop's rates"));
        }
        let under = under(account, &self.under).map_err(|why| faults.push(why)).unwrap_or(Under::Nothing);
        let price = Price { each: each.unwrap_or_default(), mark_up: mark_up.unwrap_or(Percent::ZERO) };
        let priced = match &*self.priced {
            "warranty" => Priced::Warranty(price),
            "own-error" => Priced::OwnError(price),
            "customers-own" => Priced::CustomersOwn,
            _ => Priced::Charged(price),
        };
        let unit = if kind == Some(Kind::Labour) { "h" } else { "pc" };
        let (Some(kind), Some(how_many)) = (kind, how_many) else { return Err(Refused::Faults(faults)) };
        let new = NewLine {
            kind,
            text: self.text.trim().to_owned(),
            step,
            how_many,
            unit: Some(self.unit.trim()).filter(|unit| !unit.is_empty()).unwrap_or(unit).to_owned(),
            priced,
            tax,
            under,
        };
        if let Err(why) =
            account.line(0, &new).check().and_then(|()| account.line(0, &new).worth(account.purse.terms.rounding))
        {
            use crate::charges::line::LineFault as F;
            let field = match why {
                F::NoText => "text",
                F::HowMany | F::NoQuarters(_) => "how_many",
                F::MarkUp(_) => "mark_up",
                F::NoPart(_) => "priced",
                _ => "each",
            };
            faults.push(FieldFault::new(field, why));
        }
        if faults.is_empty() { Ok(new) } else { Err(Refused::Faults(faults)) }
    }
}

fn under(account: &Account, typed: &str) -> Result<Under, FieldFault> {
    let number = |of: &str| typed.strip_prefix(of).and_then(|id| id.parse::<i64>().ok());
    let quoted = number("quote-").filter(|id| account.quote_lines.iter().any(|line| line.id == *id));
    let changed = number("change-").filter(|id| account.changes.iter().any(|change| change.id == *id));
    match (quoted, changed) {
        (Some(id), _) => Ok(Under::Quote(QuoteLineId(id))),
        (_, Some(id)) => Ok(Under::Change(ChangeId(id))),
        _ if typed.is_empty() => Ok(Under::Nothing),
        _ => Err(FieldFault::new("under", "choose what it belongs to from the list")),
    }
}

/// A line that may still be changed.
fn open_line(account: &Account, id: i64) -> Done<&ChargeLine> {
    let kept = account.lines.iter().find(|line| line.id == id).ok_or(Refused::NotFound)?;
    may_change(&account.line(id, &kept.said), &account.issued())
        .map_err(|why: InvoiceFault| Refused::fault("line", why))?;
    if account.core_fate(id).is_some_and(|core| core.said.what == Fate::GivenBack) {
        let words = format!("“{}” was given back: take the line off that gives it back first", kept.said.text);
        return Err(Refused::fault("line", words));
    }
    Ok(kept)
}

impl Shop {
    /// Puts all that was done or bought and waits on the list of charges.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn list_charges(&self, doing: &Doing, job: i64) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "list charges", Some(job)).await? else { return Ok(()) };
        for one in Account::load(&mut w, job).await?.waiting()? {
            charge_lines::insert(&mut w, job, &one.of, &one.said).await?;
        }
        Ok(w.commit().await?)
    }

    /// Adds a line by hand.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn add_charge(&self, doing: &Doing, job: i64, form: &LineForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let new = form.understood(&account, None)?;
        let Some(mut w) = self.begin(doing, "add charge", Some(job)).await? else { return Ok(()) };
        charge_lines::insert(&mut w, job, &LineOf::default(), &new).await?;
        Ok(w.commit().await?)
    }

    /// The page of a line.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has no such line.
    pub async fn charge(&self, job: i64, id: i64, now: Timestamp) -> Done<LineView> {
        let look = self.look_at_job(job, now).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let kept = account.lines.iter().find(|line| line.id == id).ok_or(Refused::NotFound)?;
        let reckoned = account.reckoned()?;
        let (covers, _) = cover_rows(&account, &reckoned)?;
        let at = reckoned.done.iter().position(|line| line.id == LineId(id)).ok_or(Refused::NotFound)?;
        let invoiced = invoiced_on(LineId(id), &reckoned.issued).map(|number| number.to_string());
        Ok(LineView {
            head: look.head(),
            row: account.line_row(&reckoned.done[at], covers[at].clone(), invoiced)?,
            form: account.line_form(kept),
            choices: account.line_choices(),
            act: kept.act,
        })
    }

    /// Changes a line; `saw` is the act that had last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or where it stands on an invoice; [`Refused::Conflict`] where it was changed
    /// since.
    pub async fn change_charge(&self, doing: &Doing, job: i64, id: i64, saw: i64, form: &LineForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "change charge", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let kept = open_line(&account, id)?;
        if account.gives_back(id).is_some() {
            let words =
                "it gives back exactly its deposit: take it off, change the deposit, and give the core back anew";
            return Err(Refused::fault("line", words));
        }
        let new = form.understood(&account, Some(kept))?;
        if kept.act != saw {
            return Err(Refused::Conflict { stands: format!("{} was changed meanwhile", kept.said.text) });
        }
        charge_lines::update(&mut w, id, &new).await?;
        Ok(w.commit().await?)
    }

    /// Takes a line off the list; what it charged waits again, and the core it gave back is open again.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it stands on an invoice.
    pub async fn withdraw_charge(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw charge", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        open_line(&account, id)?;
        charge_lines::withdraw(&mut w, id).await?;
        let deposit = account.gives_back(id).map(|core| core.said.deposit);
        if let Some(deposit) = deposit.or(account.core_fate(id).map(|_| id)) {
            cores::withdraw(&mut w, deposit).await?;
        }
        Ok(w.commit().await?)
    }

    /// Gives a discount.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn give_discount(&self, doing: &Doing, job: i64, form: &DiscountForm) -> Done<()> {
        self.look_at_job(job, doing.at).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let mut faults = Vec::new();
        if form.text.trim().is_empty() {
            faults.push(FieldFault::new("discount", "say what the customer reads: discount for a returning customer"));
        }
        faults.extend(FieldFault::too_long("discount", &form.text, 200));
        let percent = super::money::percent("percent", &form.percent).map_err(|why| faults.push(why)).ok().flatten();
        if let Some(percent) = percent.filter(|percent| *percent > Percent::HUNDRED) {
            faults.push(FieldFault::new("percent", PercentFault::Discount(percent)));
        }
        let amount = account.purse.money("off", &form.amount).map_err(|why| faults.push(why)).ok().flatten();
        let much = match (percent, amount) {
            (Some(percent), None) => Some(Much::Percent(percent)),
            (None, Some(amount)) => Some(Much::Amount(amount)),
            _ => None,
        };
        if much.is_none() && !faults.iter().any(|fault| fault.field == "percent" || fault.field == "off") {
            faults.push(FieldFault::new("percent", "enter a percentage or an amount, not both"));
        }
        match much {
            Some(much) if faults.is_empty() => {
                let on = by_name(&form.on).unwrap_or(On::Everything);
                let Some(mut w) = self.begin(doing, "give discount", Some(job)).await? else { return Ok(()) };
                discounts::insert(&mut w, job, &Discount { text: form.text.trim().to_owned(), on, much }).await?;
                Ok(w.commit().await?)
            }
            _ => Err(Refused::Faults(faults)),
        }
    }

    /// Gives a discount no more.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it stands on an invoice.
    pub async fn withdraw_discount(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw discount", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        if !account.discounts.iter().any(|kept| kept.id == id) {
            return Err(Refused::NotFound);
        }
        if account.is_taken_off(id) {
            return Err(Refused::fault("line", "it stands on an invoice, which stays as issued: credit that first"));
        }
        discounts::withdraw(&mut w, id).await?;
        Ok(w.commit().await?)
    }
}
