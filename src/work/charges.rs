//! What a job is charged: the list with what each line is covered by, what waits to come on it, discounts, payments, balance.

use super::Shop;
use super::account::{Account, Reckoned, too_large};
use super::charge_choices::LineChoices;
use super::cores::CoreRow;
use super::doing::Done;
use super::job::JobHead;
use super::when::civil;
use crate::charges::discount::{Much, On};
use crate::charges::invoice::{invoiced_on, standing};
use crate::charges::line::{Line, Priced, Why};
use crate::charges::money::Money;
use crate::charges::payment::Paid;
use crate::charges::percent::Percent;
use crate::charges::quote::{Cover, Covered, Under, covered};
use crate::charges::total::total;
use crate::record::charge_lines::ChargeLine;
use crate::record::payments::PAID;
use jiff::Timestamp;

/// What a done line is covered by.
#[derive(Clone, Debug)]
pub struct CoverRow {
    pub text: String,
    pub amount: String,
    /// What covers it, or why nothing does.
    pub words: String,
    pub not_agreed: bool,
}

/// A line of charges, as typed.
#[derive(Clone, Debug, Default)]
pub struct LineForm {
    /// A key; only of a new line.
    pub kind: String,
    pub text: String,
    /// A step's key; empty for the job as a whole.
    pub step: String,
    pub how_many: String,
    pub unit: String,
    /// A key: charged, warranty, own-error, customers-own.
    pub priced: String,
    pub each: String,
    pub mark_up: String,
    /// A key; empty for the usual one.
    pub tax: String,
    /// "quote-3", "change-4"; empty for nothing.
    pub under: String,
}

/// A line of charges, to look at.
#[derive(Clone, Debug)]
pub struct LineRow {
    pub id: i64,
    pub kind: &'static str,
    pub text: String,
    pub step: Option<String>,
    /// "8 pc".
    pub how_many: String,
    /// At which one is charged, the mark-up in it.
    pub each: String,
    /// What one costs, and the mark-up; none where there is none.
    pub made_of: Option<String>,
    pub amount: String,
    pub not_charged: Option<&'static str>,
    pub tax: String,
    pub cover: CoverRow,
    /// The number of the invoice it stands on.
    pub invoiced: Option<String>,
}

/// Something done or bought that is not on the list.
#[derive(Clone, Debug)]
pub struct UnlistedRow {
    pub kind: &'static str,
    pub text: String,
    pub step: Option<String>,
    pub how_many: String,
    pub amount: String,
    pub not_charged: Option<&'static str>,
    pub unpriced: bool,
}

/// A row of something that can be withdrawn: id, what it is, how much, and when.
#[derive(Clone, Debug)]
pub struct MoneyRow {
    pub id: i64,
    pub what: String,
    pub amount: String,
    pub when: String,
    /// It stands on an invoice.
    pub fixed: bool,
}

/// An invoice in a list.
#[derive(Clone, Debug)]
pub struct InvoiceRow {
    pub number: String,
    pub day: String,
    pub gross: String,
    /// The day until which it is to be paid.
    pub due: Option<String>,
    /// The number of what it undoes.
    pub undoes: Option<String>,
    pub standing: bool,
}

/// The page of a job's charges.
#[derive(Clone, Debug)]
pub struct ChargesView {
    pub head: JobHead,
    pub lines: Vec<LineRow>,
    pub waiting: Vec<UnlistedRow>,
    pub discounts: Vec<MoneyRow>,
    /// Deposits for old parts in exchange, with what became of each.
    pub cores: Vec<CoreRow>,
    /// Of what is on the list and not invoiced: words and amount; the last is the sum.
    pub totals: Vec<(String, String)>,
    /// What the discounts and sums cannot be, in words.
    pub no_total: Option<String>,
    pub not_agreed: Option<String>,
    pub deposits: Vec<MoneyRow>,
    pub payments: Vec<MoneyRow>,
    pub invoices: Vec<InvoiceRow>,
    pub invoiced: String,
    pub received: String,
    pub open: String,
    pub over: Option<String>,
    /// Whether the shop has a rate of tax.
    pub has_tax: bool,
    pub choices: LineChoices,
    pub paid: Vec<(&'static str, &'static str)>,
    pub today: String,
}

/// What a payment is, in words.
pub(super) fn paid_words(paid: Paid) -> &'static str {
    match paid {
        Paid::Deposit { refundable: true } => "deposit, comes back if he cancels",
        Paid::Deposit { refundable: false } => "deposit, kept if he cancels",
        Paid::Progress => "while the work goes on",
        Paid::OnInvoice => "on an invoice",
        Paid::GivenBack => "given back to him",
    }
}

/// What each line done is covered by, in the order of what is done, and all of it together.
pub(super) fn cover_rows(account: &Account, reckoned: &Reckoned) -> Done<(Vec<CoverRow>, Covered)> {
    let rounding = account.purse.terms.rounding;
    let covered = covered(&reckoned.agreement, &reckoned.done, rounding).map_err(too_large)?;
    let mut rows = Vec::new();
    for (line, (_, cover)) in reckoned.done.iter().zip(&covered.lines) {
        let (words, not_agreed) = match cover {
            Cover::Agreed => ("agreed".to_owned(), false),
            Cover::WithoutCalling(part) => {
                (format!("{} of it by what may be spent without calling", account.purse.show(*part)), false)
            }
            Cover::Nothing(part, why) => (format!("{}: {}", account.purse.show(*part), why.words()), true),
        };
        let amount = account.purse.currency.show(line.amount(rounding).map_err(too_large)?);
        rows.push(CoverRow { text: line.text.clone(), amount, words, not_agreed });
    }
    Ok((rows, covered))
}

impl Account {
    pub(super) fn under_key(under: Under) -> String {
        match under {
            Under::Quote(id) => format!("quote-{}", id.0),
            Under::Change(id) => format!("change-{}", id.0),
            Under::Nothing => String::new(),
        }
    }

    pub(super) fn line_form(&self, kept: &ChargeLine) -> LineForm {
        let said = &kept.said;
        let (priced, price) = match said.priced {
            Priced::Charged(price) => ("charged", Some(price)),
            Priced::Warranty(price) => ("warranty", Some(price)),
            Priced::OwnError(price) => ("own-error", Some(price)),
            Priced::CustomersOwn => ("customers-own", None),
        };
        LineForm {
            kind: said.kind.key().to_owned(),
            text: said.text.clone(),
            step: self.step_key(said.step).unwrap_or_default(),
            how_many: said.how_many.figures(),
            unit: said.unit.clone(),
            priced: priced.to_owned(),
            each: price.map(|price| self.purse.currency.plain(price.each)).unwrap_or_default(),
            mark_up: price.map(|price| price.mark_up.figures()).unwrap_or_default(),
            tax: said.tax.0.clone(),
            under: Self::under_key(said.under),
        }
    }

    pub(super) fn line_row(&self, line: &Line, cover: CoverRow, invoiced: Option<String>) -> Done<LineRow> {
        let rounding = self.purse.terms.rounding;
        let show = |money| self.purse.currency.show(money);
        let price = match line.priced {
            Priced::Charged(price) | Priced::Warranty(price) | Priced::OwnError(price) => Some(price),
            Priced::CustomersOwn => None,
        };
        let marked_up = price.filter(|price| price.mark_up > Percent::ZERO);
        let rate = self.rates.iter().find(|rate| rate.tax.key == line.tax);
        Ok(LineRow {
            id: line.id.0,
            kind: line.kind.title(),
            text: line.text.clone(),
            step: self.steps.iter().find(|step| Some(&step.key) == line.step.as_ref()).map(|step| step.title.clone()),
            how_many: format!("{}\u{a0}{}", line.how_many.figures(), line.unit),
            each: show(line.price_each(rounding).map_err(too_large)?),
            made_of: marked_up.map(|price| format!("{} and {}", show(price.each), price.mark_up.show())),
            amount: show(line.amount(rounding).map_err(too_large)?),
            not_charged: line.not_charged().map(Why::words),
            tax: rate.map(|rate| rate.tax.rate.percent().show()).unwrap_or_default(),
            cover,
            invoiced,
        })
    }

    fn waiting_rows(&self) -> Done<Vec<UnlistedRow>> {
        let rounding = self.purse.terms.rounding;
        let row = |one: super::unlisted::Waiting| {
            let line = self.line(0, &one.said);
            Ok(UnlistedRow {
                kind: line.kind.title(),
                step: self.step_title(one.said.step).filter(|title| *title != line.text),
                how_many: format!("{}\u{a0}{}", line.how_many.figures(), line.unit),
                amount: self.purse.currency.show(line.amount(rounding).map_err(too_large)?),
                not_charged: line.not_charged().map(Why::words),
                unpriced: one.unpriced,
                text: line.text,
            })
        };
        self.waiting()?.into_iter().map(row).collect()
    }

    fn discount_rows(&self) -> Vec<MoneyRow> {
        let on = |on: On| match on {
            On::Labour => "labour",
            On::Parts => "parts",
            On::Everything => "everything",
        };
        self.discounts
            .iter()
            .map(|kept| MoneyRow {
                id: kept.id,
                what: format!("{}, on {}", kept.said.text, on(kept.said.on)),
                amount: match kept.said.much {
                    Much::Percent(percent) => percent.show(),
                    Much::Amount(amount) => self.purse.show(amount),
                },
                when: String::new(),
                fixed: self.is_taken_off(kept.id),
            })
            .collect()
    }

    pub(super) fn invoice_rows(&self) -> Vec<InvoiceRow> {
        let issued = self.issued();
        let stands = |number| standing(&issued).any(|invoice| invoice.number == number);
        issued
            .iter()
            .map(|invoice| InvoiceRow {
                number: invoice.number.to_string(),
                day: civil(invoice.on),
                gross: invoice.currency.show_named(invoice.sum.gross),
                due: invoice.due.map(civil),
                undoes: invoice.undoes.as_ref().map(|undoes| undoes.number.to_string()),
                standing: stands(invoice.number),
            })
            .collect()
    }

    /// What is on the list and on no invoice.
    pub(super) fn open_lines(&self) -> Vec<Line> {
        let issued = self.issued();
        let lines = self.lines.iter().map(|kept| self.line(kept.id, &kept.said));
        lines.filter(|line| invoiced_on(line.id, &issued).is_none()).collect()
    }

    fn totals(&self) -> Result<Vec<(String, String)>, String> {
        let lines = self.open_lines();
        let discounts: Vec<_> =
            self.discounts.iter().filter(|kept| !self.is_taken_off(kept.id)).map(|kept| kept.said.clone()).collect();
        let taxes = self.taxes().map_err(|why| why.to_string())?;
        let total = total(&lines, &discounts, &taxes, self.purse.terms).map_err(|why| why.to_string())?;
        let show = |money| self.purse.currency.show(money);
        let mut rows = vec![("Before tax".to_owned(), show(total.sum.net))];
        rows.extend(total.by_rate.iter().map(|rate| {
            (format!("{} {} on {}", rate.title, rate.rate.percent().show(), show(rate.sum.net)), show(rate.sum.tax))
        }));
        rows.push(("In all".to_owned(), self.purse.show(total.sum.gross)));
        Ok(rows)
    }
}

impl Shop {
    /// What a job is charged.
    ///
    /// # Errors
    /// [`super::Refused::NotFound`] where there is no such job.
    pub async fn charges(&self, job: i64, now: Timestamp) -> Done<ChargesView> {
        let look = self.look_at_job(job, now).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let reckoned = account.reckoned()?;
        let (covers, covered) = cover_rows(&account, &reckoned)?;
        let mut lines = Vec::new();
        for (line, cover) in reckoned.done.iter().zip(covers).filter(|(line, _)| line.id.0 > 0) {
            let invoiced = invoiced_on(line.id, &reckoned.issued).map(|number| number.to_string());
            lines.push(account.line_row(line, cover, invoiced)?);
        }
        let balance = reckoned.balance()?;
        let purse = &account.purse;
        let (totals, no_total) = match account.totals() {
            Ok(totals) => (totals, None),
            Err(why) => (Vec::new(), Some(why)),
        };
        let stamped = |on, words: &str| {
            if words.is_empty() { civil(on) } else { format!("{}; {words}", civil(on)) }
        };
        let above_zero = |money| (money > Money::ZERO).then(|| purse.show(money));
        Ok(ChargesView {
            head: look.head(),
            lines,
            waiting: account.waiting_rows()?,
            discounts: account.discount_rows(),
            cores: account.core_rows(&look.when)?,
            totals,
            no_total,
            not_agreed: above_zero(covered.not_agreed),
            deposits: account
                .deposits
                .iter()
                .map(|kept| MoneyRow {
                    id: kept.id,
                    what: "Deposit asked".to_owned(),
                    amount: purse.show(kept.said.amount),
                    when: stamped(kept.said.on, &kept.words),
                    fixed: false,
                })
                .collect(),
            payments: account
                .payments
                .iter()
                .map(|kept| MoneyRow {
                    id: kept.id,
                    what: paid_words(kept.said.paid).to_owned(),
                    amount: purse.show(kept.said.amount),
                    when: stamped(kept.said.on, &kept.words),
                    fixed: false,
                })
                .collect(),
            invoices: account.invoice_rows(),
            invoiced: purse.show(balance.charged),
            received: purse.show(balance.received),
            open: purse.show(balance.open),
            over: above_zero(balance.over),
            has_tax: account.rates.iter().any(|rate| !rate.withdrawn),
            choices: account.line_choices(),
            paid: PAID.map(|(key, paid)| (key, paid_words(paid))).to_vec(),
            today: look.when.today().to_string(),
        })
    }
}
