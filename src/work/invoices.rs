//! Invoices: drawn up from lines that stand on none, issued with the next number, frozen, undone by a credit.

use super::Shop;
use super::account::Account;
use super::charges::{CoverRow, InvoiceRow, LineRow, cover_rows};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::invoice_paper::{Letter, bill};
use super::job::JobHead;
use super::move_part::day;
use super::shop_settings::{self, zone};
use super::when::{When, civil};
use crate::charges::csv::to_csv;
use crate::charges::invoice::{Draft, Invoice, InvoiceFault, invoiced_on};
use crate::charges::number::Number;
use crate::charges::odd::Odd;
use crate::handover;
use crate::record::files::{self, NewFile};
use crate::record::invoices::{self, KeptInvoice, NewInvoice};
use crate::record::{Connection, Writing, acts, builds, people, settings};
use jiff::Timestamp;
use jiff::civil::Date;

/// An invoice to be drawn up, as typed.
#[derive(Clone, Debug, Default)]
pub struct InvoiceForm {
    pub day: String,
    /// Ids of the lines and discounts ticked.
    pub lines: Vec<i64>,
    pub discounts: Vec<i64>,
    /// "Invoice it all the same": not agreed, or dates out of order.
    pub sure: bool,
}

/// The page on which an invoice is drawn up.
#[derive(Clone, Debug)]
pub struct DrawUpView {
    pub head: JobHead,
    /// Those on no invoice.
    pub lines: Vec<LineRow>,
    /// Id and words.
    pub discounts: Vec<(i64, String)>,
    pub issued: Vec<InvoiceRow>,
    /// The number the next one gets, if nothing is issued before.
    pub next: String,
    pub waiting: usize,
    pub today: String,
}

/// A row of an invoice, to look at.
#[derive(Clone, Debug)]
pub struct PaperRow {
    pub text: String,
    /// Why it is not charged; may be empty.
    pub beneath: String,
    pub how_many: String,
    pub each: String,
    pub tax: String,
    pub amount: String,
}

/// An issued invoice, to look at.
#[derive(Clone, Debug)]
pub struct InvoiceView {
    pub head: JobHead,
    pub number: String,
    pub day: String,
    pub to: Vec<String>,
    pub rows: Vec<PaperRow>,
    /// Words and amount.
    pub sums: Vec<(String, String)>,
    pub notes: Vec<String>,
    pub undoes: Option<String>,
    pub undone_by: Option<String>,
    pub sha256: String,
    pub issued: String,
    pub today: String,
}

impl Account {
    fn kept(&self, number: &str) -> Done<&KeptInvoice> {
        self.invoices.iter().find(|kept| kept.invoice.number.to_string() == number).ok_or(Refused::NotFound)
    }

    fn undone_by(&self, number: Number) -> Option<Number> {
        let undoes = |kept: &&KeptInvoice| kept.invoice.undoes.as_ref().is_some_and(|undoes| undoes.number == number);
        self.invoices.iter().find(undoes).map(|kept| kept.invoice.number)
    }
}

/// What stands around the figures: the shop, and whose bill it is.
async fn letter(db: &mut Connection, job: i64, now: Timestamp) -> Done<Letter> {
    let build = builds::by_id(db, job).await?.ok_or(Refused::NotFound)?;
    let customer = match build.customer {
        Some(id) => people::by_id(db, id).await?,
        None => None,
    };
    let to = customer.map_or_else(Vec::new, |person| {
        let lines = std::iter::once(person.name).chain(person.address.lines().map(str::to_owned));
        lines.filter(|line| !line.trim().is_empty()).collect()
    });
    Ok(Letter { shop: shop_settings::read(&settings::all(db).await?), to, job, heading: build.title, now })
}

/// Keeps an invoice or a credit with its paper.
async fn issue(w: &mut Writing, shop: &Shop, job: i64, new: Issue<'_>, now: Timestamp) -> Done<()> {
    let letter = letter(w, job, now).await?;
    let bytes = handover::invoice::invoice(&bill(&letter, &new.invoice)?)
        .map_err(|why| crate::record::Error::File(std::io::Error::other(why.to_string())))?;
    let sha256 = shop.record.files.store(&bytes)?;
    let file = NewFile {
        sha256,
        media_type: "application/pdf".to_owned(),
        bytes: i64::try_from(bytes.len()).unwrap_or(i64::MAX),
        width: None,
        height: None,
        preview_sha256: None,
        thumb_sha256: None,
    };
    let file = files::insert(w, &file).await?;
    let kept = NewInvoice {
        invoice: new.invoice,
        undoes: new.undoes,
        file,
        lines: new.lines.to_vec(),
        discounts: new.discounts.to_vec(),
    };
    Ok(invoices::insert(w, job, &kept).await?)
}

struct Issue<'a> {
    invoice: Invoice,
    undoes: Option<i64>,
    lines: &'a [i64],
    discounts: &'a [i64],
}

/// The next number for a date, and what is odd about that date.
async fn number_for(w: &mut Writing, account: &Account, on: Date, today: Date) -> Done<(Number, Vec<String>)> {
    let last = invoices::last(w).await?;
    let year = u16::try_from(on.year()).unwrap_or_default();
    let number = Number::next(last.map(|(number, _)| number), account.purse.numbering, year)
        .map_err(|why| Refused::fault("day", why))?;
    let before = last.and_then(|(number, day)| {
        let odd = Odd::if_out_of_order("the last invoice", day, "this one", on);
        odd.map(|_| format!("invoice {number} is of {}, and this one of {}: are both right?", civil(day), civil(on)))
    });
    let ahead = (on > today).then(|| format!("{} has not come yet: is the date right?", civil(on)));
    Ok((number, before.into_iter().chain(ahead).collect()))
}

/// What is wrong with an invoice, said at its lines.
fn at_lines(why: InvoiceFault) -> Refused {
    Refused::fault("lines", why)
}

impl Shop {
    /// The page on which an invoice of a job is drawn up.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn draw_up(&self, job: i64, now: Timestamp) -> Done<DrawUpView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let account = Account::load(&mut db, job).await?;
        let reckoned = account.reckoned()?;
        let (covers, _) = cover_rows(&account, &reckoned)?;
        let open = reckoned
            .done
            .iter()
            .zip(covers)
            .filter(|(line, _)| line.id.0 > 0 && invoiced_on(line.id, &reckoned.issued).is_none());
        let lines: Done<Vec<LineRow>> = open.map(|(line, cover)| account.line_row(line, cover, None)).collect();
        let today = look.when.today();
        let last = invoices::last(&mut db).await?.map(|(number, _)| number);
        let next = Number::next(last, account.purse.numbering, u16::try_from(today.year()).unwrap_or_default());
        let discounts = account.discounts.iter().filter(|kept| !account.is_taken_off(kept.id));
        Ok(DrawUpView {
            head: look.head(),
            lines: lines?,
            discounts: discounts.map(|kept| (kept.id, kept.said.text.clone())).collect(),
            issued: account.invoice_rows(),
            next: next.map(|number| number.to_string()).unwrap_or_default(),
            waiting: account.waiting()?.len(),
            today: today.to_string(),
        })
    }

    /// Issues an invoice: numbered, frozen with its paper. Its number.
    ///
    /// # Errors
    /// [`Refused::Faults`] for lines that cannot be invoiced, and for what is asked about: what was not agreed, dates out of
    /// order.
    pub async fn issue_invoice(&self, doing: &Doing, job: i64, form: &InvoiceForm) -> Done<String> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "issue invoice", Some(job)).await? else {
            return self.issued_before(&doing.key).await;
        };
        let account = Account::load(&mut w, job).await?;
        let today = When::new(&zone(&settings::all(&mut w).await?), doing.at).today();
        let on = day("day", &form.day).map_err(|why| Refused::Faults(vec![why]))?.unwrap_or(today);
        let reckoned = account.reckoned()?;
        let mut lines = Vec::new();
        for id in &form.lines {
            let line = reckoned.done.iter().find(|line| line.id.0 == *id && *id > 0).cloned();
            lines.push(
                line.ok_or_else(|| Refused::fault("lines", "a line was taken off the list meanwhile: look again"))?,
            );
        }
        let discounts = account.discounts.iter().filter(|kept| form.discounts.contains(&kept.id));
        if let Some(kept) = discounts.clone().find(|kept| account.is_taken_off(kept.id)) {
            let words = format!("“{}” was taken off on an invoice already: give another discount", kept.said.text);
            return Err(Refused::fault("lines", words));
        }
        let discounts: Vec<_> = discounts.map(|kept| (kept.id, kept.said.clone())).collect();
        let said: Vec<_> = discounts.iter().map(|(_, said)| said.clone()).collect();
        let (number, mut asked) = number_for(&mut w, &account, on, today).await?;
        let taxes = account.taxes()?;
        let draft = Draft {
            number,
            on,
            currency: account.purse.currency,
            terms: account.purse.terms,
            taxes: &taxes,
            lines: &lines,
            discounts: &said,
            held: reckoned.balance()?.over,
            pay_within: account.purse.pay_within,
        };
        let invoice = Invoice::draw_up(draft, &reckoned.issued).map_err(at_lines)?;
        let (covers, _) = cover_rows(&account, &reckoned)?;
        let not_agreed = reckoned
            .done
            .iter()
            .zip(covers)
            .filter(|(line, cover)| cover.not_agreed && form.lines.contains(&line.id.0));
        asked.extend(not_agreed.map(|(_, CoverRow { text, words, .. })| format!("“{text}” is not agreed: {words}.")));
        if !asked.is_empty() && !form.sure {
            return Err(Refused::Faults(asked.into_iter().map(|words| FieldFault::new("sure", words)).collect()));
        }
        let number = invoice.number.to_string();
        let discounts: Vec<i64> = discounts.into_iter().map(|(id, _)| id).collect();
        let new = Issue { invoice, undoes: None, lines: &form.lines, discounts: &discounts };
        issue(&mut w, self, job, new, doing.at).await?;
        w.commit().await?;
        Ok(number)
    }

    /// Issues the credit that undoes an invoice. Its number.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it cannot be credited, or without a reason.
    pub async fn credit_invoice(&self, doing: &Doing, job: i64, number: &str, reason: &str) -> Done<String> {
        self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "credit invoice", Some(job)).await? else {
            return self.issued_before(&doing.key).await;
        };
        let account = Account::load(&mut w, job).await?;
        let kept = account.kept(number)?;
        let today = When::new(&zone(&settings::all(&mut w).await?), doing.at).today();
        let (next, _) = number_for(&mut w, &account, today, today).await?;
        let credit = kept.invoice.credit(next, today, reason, &account.issued());
        let invoice = credit.map_err(|why| Refused::fault("reason", why))?;
        let number = invoice.number.to_string();
        issue(&mut w, self, job, Issue { invoice, undoes: Some(kept.id), lines: &[], discounts: &[] }, doing.at)
            .await?;
        w.commit().await?;
        Ok(number)
    }

    /// The number that an earlier post of the same form issued.
    async fn issued_before(&self, key: &str) -> Done<String> {
        let mut look = self.record.look().await?;
        let act = acts::by_key(&mut look, key).await?.ok_or(Refused::NotFound)?;
        invoices::issued_by(&mut look, act).await?.ok_or(Refused::NotFound)
    }

    /// An issued invoice of a job.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has none of this number.
    pub async fn invoice(&self, job: i64, number: &str, now: Timestamp) -> Done<InvoiceView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let account = Account::load(&mut db, job).await?;
        let kept = account.kept(number)?;
        let bill = bill(&letter(&mut db, job, kept.stamp.at).await?, &kept.invoice)?;
        let row = |row: &Vec<handover::contents::Cell>| {
            let text = |at: usize| row.get(at).map(|cell| cell.text.clone()).unwrap_or_default();
            let beneath = row.first().and_then(|cell| cell.beneath.clone()).unwrap_or_default();
            PaperRow { text: text(0), beneath, how_many: text(1), each: text(2), tax: text(3), amount: text(4) }
        };
        Ok(InvoiceView {
            head: look.head(),
            number: bill.number.clone(),
            day: bill.date.clone(),
            to: bill.to.clone(),
            rows: bill.rows.rows.iter().map(row).collect(),
            sums: bill.sums.clone(),
            notes: bill.notes.clone(),
            undoes: kept.invoice.undoes.as_ref().map(|undoes| undoes.number.to_string()),
            undone_by: account.undone_by(kept.invoice.number).map(|number| number.to_string()),
            sha256: kept.sha256.clone(),
            issued: look.when.stamp(&kept.stamp),
            today: look.when.today().to_string(),
        })
    }

    /// An issued invoice's paper, byte for byte.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none of this number.
    pub async fn invoice_pdf(&self, job: i64, number: &str) -> Done<Vec<u8>> {
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        self.record.files.read(&account.kept(number)?.sha256)?.ok_or(Refused::NotFound)
    }

    /// An issued invoice for the books, as comma-separated values.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none of this number.
    pub async fn invoice_csv(&self, job: i64, number: &str) -> Done<String> {
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        Ok(to_csv(std::slice::from_ref(&account.kept(number)?.invoice)))
    }

    /// Every invoice and credit of the shop for the books, as comma-separated values.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn invoices_csv(&self) -> Done<String> {
        let kept = invoices::of(&mut *self.record.look().await?, None).await?;
        let all: Vec<Invoice> = kept.into_iter().map(|kept| kept.invoice).collect();
        Ok(to_csv(&all))
    }
}
