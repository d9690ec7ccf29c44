//! All that is kept about the money of a job, as the room of charges takes it: what was agreed, done, invoiced and paid.

use super::accounts::Accounts;
use super::doing::{Done, FieldFault, Refused};
use super::money::Purse;
use crate::charges::glance::Account as Figures;
use crate::charges::invoice::Invoice;
use crate::charges::line::{Kind, Line, LineId};
use crate::charges::money::Money;
use crate::charges::payment::{Balance, DepositAsked, Payment};
use crate::charges::quote::{Agreement, Answer, Change, ChangeId, How, QuoteLine, QuoteLineId, Said};
use crate::charges::tax::{Tax, TaxKey, TaxTable};
use crate::record::Connection;
use crate::record::agreed_changes::{self, AgreedChange, ChangeAnswer};
use crate::record::charge_lines::{ChargeLine, NewLine};
use crate::record::cores::CoreFate;
use crate::record::discounts::KeptDiscount;
use crate::record::endings::{Ending, KeptGone, KeptThing};
use crate::record::invoices::KeptInvoice;
use crate::record::part_moves::PartMove;
use crate::record::parts::Part;
use crate::record::payments::{KeptDeposit, KeptPayment};
use crate::record::quotes::{self, Happened, QuoteAnswer, QuoteTerms};
use crate::record::sendings::Sending;
use crate::record::settlements::{KeptSettlement, KeptSpan};
use crate::record::steps::Step;
use crate::record::tax_rates::KeptRate;
use crate::record::worked::Worked;
use jiff::civil::Date;

/// The money of a job. What was withdrawn is not in it.
pub(super) struct Account {
    pub purse: Purse,
    /// Those withdrawn as well: what was charged at them names them.
    pub rates: Vec<KeptRate>,
    pub steps: Vec<Step>,
    pub parts: Vec<Part>,
    pub moves: Vec<PartMove>,
    pub sendings: Vec<Sending>,
    pub worked: Vec<Worked>,
    pub quote_lines: Vec<quotes::QuoteLine>,
    pub quote_terms: QuoteTerms,
    /// In order; the newest holds.
    pub quote_answers: Vec<QuoteAnswer>,
    pub changes: Vec<AgreedChange>,
    pub change_answers: Vec<ChangeAnswer>,
    pub lines: Vec<ChargeLine>,
    pub discounts: Vec<KeptDiscount>,
    pub deposits: Vec<KeptDeposit>,
    pub payments: Vec<KeptPayment>,
    pub invoices: Vec<KeptInvoice>,
    /// What became of old parts that core deposits were asked for.
    pub cores: Vec<CoreFate>,
    /// How it ended or where it rests; those taken back as well.
    pub endings: Vec<Ending>,
    pub things: Vec<KeptThing>,
    pub gone: Vec<KeptGone>,
    pub stored: Vec<KeptSpan>,
    pub settlement: Option<KeptSettlement>,
}

/// An account in the words of the room of charges.
pub(super) struct Reckoned {
    pub agreement: Agreement,
    /// Those on the list, and those that wait to come on it.
    pub done: Vec<Line>,
    pub issued: Vec<Invoice>,
    pub deposit: Option<DepositAsked>,
    pub payments: Vec<Payment>,
}

impl Reckoned {
    /// All that was invoiced against all that came in.
    pub fn balance(&self) -> Done<Balance> {
        Balance::of(self.issued.iter().map(|invoice| invoice.sum.gross), &self.payments).map_err(too_large)
    }
}

impl Account {
    pub async fn load(db: &mut Connection, job: i64) -> Done<Self> {
        Ok(Accounts::load(db, Some(job)).await?.of(job))
    }

    pub fn step_key(&self, id: Option<i64>) -> Option<String> {
        self.step(id).map(|step| step.key.clone())
    }

    pub fn step_title(&self, id: Option<i64>) -> Option<String> {
        self.step(id).map(|step| step.title.clone())
    }

    fn step(&self, id: Option<i64>) -> Option<&Step> {
        self.steps.iter().find(|step| Some(step.id) == id)
    }

    /// Every rate that a line may name; those withdrawn are offered for nothing.
    pub fn taxes(&self) -> Done<TaxTable> {
        table(&self.rates)
    }

    /// The rate offered for a kind of line: the usual one, or the first.
    pub fn usual_tax(&self, kind: Kind) -> Done<TaxKey> {
        let standing = || self.rates.iter().filter(|rate| !rate.withdrawn).map(|rate| &rate.tax);
        let usual = standing().find(|tax| tax.usual_for.contains(&kind)).or_else(|| standing().next());
        usual.map(|tax| tax.key.clone()).ok_or_else(|| {
            Refused::fault(
                "tax",
                "the shop has no rate of tax yet: enter one under its settings for money, even if it is 0",
            )
        })
    }

    /// What happened last to the quote.
    pub fn quote_answer(&self) -> Answer {
        let Some(last) = self.quote_answers.last() else { return Answer::NotAsked };
        let said = &last.said;
        match said.kind {
            Happened::Sent => Answer::Awaited { since: said.day },
            Happened::Agreed => Answer::Agreed(said_by(said.day, said.how, &said.words)),
            Happened::Declined => Answer::Declined(said_by(said.day, said.how, &said.words)),
            Happened::TakenBack => Answer::NotAsked,
        }
    }

    /// What happened last to a change.
    pub fn change_answer(&self, change: i64) -> Answer {
        use agreed_changes::Happened as H;
        let Some(last) = self.change_answers.iter().rev().find(|answer| answer.change == change) else {
            return Answer::NotAsked;
        };
        let said = &last.said;
        match said.kind {
            H::Sent => Answer::Awaited { since: said.day },
            H::Agreed => Answer::Agreed(said_by(said.day, said.how, &said.words)),
            H::Declined => Answer::Declined(said_by(said.day, said.how, &said.words)),
        }
    }

    pub fn change(&self, kept: &AgreedChange) -> Change {
        Change {
            id: ChangeId(kept.id),
            text: kept.said.text.clone(),
            why: kept.said.why.clone(),
            price: kept.said.price,
            days: kept.said.days,
            answer: self.change_answer(kept.id),
        }
    }

    pub fn agreement(&self) -> Agreement {
        let line = |kept: &quotes::QuoteLine| QuoteLine {
            id: QuoteLineId(kept.id),
            step: self.step_key(kept.said.step),
            text: kept.said.text.clone(),
            hours: kept.said.hours,
            amount: kept.said.amount,
        };
        Agreement {
            lines: self.quote_lines.iter().map(line).collect(),
            exclusions: self.quote_terms.exclusions.lines().map(str::to_owned).collect(),
            answer: self.quote_answer(),
            without_calling: self.quote_terms.without_calling,
            changes: self.changes.iter().map(|change| self.change(change)).collect(),
        }
    }

    /// A line as the room of charges takes it.
    pub fn line(&self, id: i64, said: &NewLine) -> Line {
        Line {
            id: LineId(id),
            kind: said.kind,
            text: said.text.clone(),
            step: self.step_key(said.step),
            how_many: said.how_many,
            unit: said.unit.clone(),
            priced: said.priced,
            tax: said.tax.clone(),
            under: said.under,
        }
    }

    pub fn issued(&self) -> Vec<Invoice> {
        self.invoices.iter().map(|kept| kept.invoice.clone()).collect()
    }

    /// Whether a discount stands on an invoice that was not credited.
    pub fn is_taken_off(&self, discount: i64) -> bool {
        let undone = |invoice: &KeptInvoice| {
            let undoes = |other: &KeptInvoice| other.invoice.undoes.as_ref().map(|undoes| undoes.number);
            self.invoices.iter().any(|other| undoes(other) == Some(invoice.invoice.number))
        };
        self.invoices.iter().any(|invoice| invoice.discounts.contains(&discount) && !undone(invoice))
    }

    pub fn reckoned(&self) -> Done<Reckoned> {
        let on_list = self.lines.iter().map(|kept| self.line(kept.id, &kept.said));
        // What is not on the list yet has no number of its own there.
        let waiting = self.waiting()?.into_iter().zip(1_i64..).map(|(one, at)| self.line(-at, &one.said));
        Ok(Reckoned {
            agreement: self.agreement(),
            done: on_list.chain(waiting).collect(),
            issued: self.issued(),
            deposit: self.deposit()?,
            payments: self.payments.iter().map(|kept| kept.said).collect(),
        })
    }

    /// All deposits asked for, since the first.
    fn deposit(&self) -> Done<Option<DepositAsked>> {
        let Some(on) = self.deposits.iter().map(|kept| kept.said.on).min() else { return Ok(None) };
        let amount = Money::sum(self.deposits.iter().map(|kept| kept.said.amount)).map_err(too_large)?;
        Ok(Some(DepositAsked { amount, on }))
    }

    /// The day of the newest invoice that stands.
    pub fn last_invoice_on(&self) -> Option<Date> {
        self.invoices.iter().rev().find(|kept| kept.invoice.undoes.is_none()).map(|kept| kept.invoice.on)
    }
}

impl Reckoned {
    pub fn figures(&self, purse: &Purse) -> Figures<'_> {
        Figures {
            agreement: &self.agreement,
            done: &self.done,
            invoices: &self.issued,
            deposit: self.deposit,
            payments: &self.payments,
            rounding: purse.terms.rounding,
        }
    }
}

fn said_by(on: Date, how: Option<How>, words: &str) -> Said {
    Said { on, how: how.unwrap_or(How::InPerson), words: words.to_owned() }
}

/// The rates as the room of charges takes them.
pub(super) fn table(rates: &[KeptRate]) -> Done<TaxTable> {
    let tax = |rate: &KeptRate| Tax {
        usual_for: if rate.withdrawn { Vec::new() } else { rate.tax.usual_for.clone() },
        ..rate.tax.clone()
    };
    TaxTable::new(rates.iter().map(tax).collect()).map_err(|why| Refused::fault("tax", why))
}

/// What stands in the way of a sum, said of the page as a whole.
pub(super) fn too_large(why: impl ToString) -> Refused {
    Refused::Faults(vec![FieldFault::new("lines", why)])
}
