//! The money of many jobs loaded at once: as many questions to the record for a full shop as for one job.

use super::account::Account;
use super::doing::Done;
use super::money::Purse;
use crate::record::agreed_changes::{self, AgreedChange, ChangeAnswer};
use crate::record::charge_lines::{self, ChargeLine};
use crate::record::cores::{self, CoreFate};
use crate::record::discounts::{self, KeptDiscount};
use crate::record::endings::{self, Ending, KeptGone, KeptThing};
use crate::record::invoices::{self, KeptInvoice};
use crate::record::part_moves::{self, PartMove};
use crate::record::parts::{self, Part};
use crate::record::payments::{self, KeptDeposit, KeptPayment};
use crate::record::quotes::{self, QuoteAnswer, QuoteLine, QuoteTerms};
use crate::record::sendings::{self, Sending};
use crate::record::settlements::{self, KeptSettlement, KeptSpan};
use crate::record::steps::{self, Step};
use crate::record::tax_rates::{self, KeptRate};
use crate::record::worked::{self, Worked};
use crate::record::{Connection, settings};
use std::collections::BTreeMap;

type ByJob<T> = BTreeMap<i64, Vec<T>>;

/// The money of jobs; each is taken out of it once.
pub(super) struct Accounts {
    pub purse: Purse,
    rates: Vec<KeptRate>,
    steps: ByJob<Step>,
    parts: ByJob<Part>,
    moves: ByJob<PartMove>,
    sendings: ByJob<Sending>,
    worked: ByJob<Worked>,
    quote_lines: ByJob<QuoteLine>,
    quote_terms: BTreeMap<i64, QuoteTerms>,
    quote_answers: ByJob<QuoteAnswer>,
    changes: ByJob<AgreedChange>,
    change_answers: ByJob<ChangeAnswer>,
    lines: ByJob<ChargeLine>,
    discounts: ByJob<KeptDiscount>,
    deposits: ByJob<KeptDeposit>,
    payments: ByJob<KeptPayment>,
    invoices: ByJob<KeptInvoice>,
    cores: ByJob<CoreFate>,
    endings: ByJob<Ending>,
    things: ByJob<KeptThing>,
    gone: ByJob<KeptGone>,
    stored: ByJob<KeptSpan>,
    settlements: ByJob<KeptSettlement>,
}

impl Accounts {
    /// Of one job, or of every job there ever was.
    pub async fn load(db: &mut Connection, job: Option<i64>) -> Done<Self> {
        let (steps, parts, sendings) = match job {
            Some(_) => (steps::of(db, job).await?, parts::of(db, job).await?, sendings::of(db, job).await?),
            None => (steps::ever(db).await?, parts::ever(db).await?, sendings::ever(db).await?),
        };
        let changes = agreed_changes::of(db, job).await?;
        let job_of_part: BTreeMap<i64, i64> = parts.iter().map(|part| (part.id, part.build)).collect();
        let job_of_change: BTreeMap<i64, i64> = changes.iter().map(|change| (change.id, change.build)).collect();
        let moves = if job.is_some() { part_moves::of(db, job).await? } else { part_moves::ever(db).await? };
        let answers = agreed_changes::answers(db, job).await?;
        Ok(Self {
            purse: Purse::of(&settings::all(db).await?),
            rates: tax_rates::all(db).await?,
            steps: by_job(steps, |step| step.build),
            parts: by_job(standing(parts, |part| part.withdrawn), |part| part.build),
            moves: by_job(moves, |one| job_of_part.get(&one.said.part).copied().unwrap_or_default()),
            sendings: by_job(standing(sendings, |sending| sending.withdrawn), |sending| sending.build),
            worked: by_job(standing(worked::of(db, job).await?, |worked| worked.withdrawn), |worked| worked.build),
            quote_lines: by_job(standing(quotes::lines(db, job).await?, |line| line.withdrawn), |line| line.build),
            quote_terms: quotes::terms(db, job).await?.into_iter().collect(),
            quote_answers: by_job(quotes::answers(db, job).await?, |answer| answer.build),
            changes: by_job(standing(changes, |change| change.withdrawn), |change| change.build),
            change_answers: by_job(answers, |answer| job_of_change.get(&answer.change).copied().unwrap_or_default()),
            lines: by_job(standing(charge_lines::of(db, job).await?, |line| line.withdrawn), |line| line.build),
            discounts: by_job(standing(discounts::of(db, job).await?, |kept| kept.withdrawn), |kept| kept.build),
            deposits: by_job(standing(payments::deposits(db, job).await?, |kept| kept.withdrawn), |kept| kept.build),
            payments: by_job(standing(payments::of(db, job).await?, |kept| kept.withdrawn), |kept| kept.build),
            invoices: by_job(invoices::of(db, job).await?, |invoice| invoice.build),
            cores: by_job(standing(cores::of(db, job).await?, |core| core.withdrawn), |core| core.build),
            endings: by_job(endings::of(db, job).await?, |ending| ending.build),
            things: by_job(endings::things(db, job).await?, |thing| thing.build),
            gone: by_job(standing(endings::gone(db, job).await?, |gone| gone.withdrawn), |gone| gone.build),
            stored: by_job(settlements::spans(db, job).await?, |span| span.build),
            settlements: by_job(standing(settlements::of(db, job).await?, |one| one.withdrawn), |one| one.build),
        })
    }

    /// That of a job. What was withdrawn is not in it.
    pub fn of(&mut self, job: i64) -> Account {
        Account {
            purse: self.purse,
            rates: self.rates.clone(),
            steps: self.steps.remove(&job).unwrap_or_default(),
            parts: self.parts.remove(&job).unwrap_or_default(),
            moves: self.moves.remove(&job).unwrap_or_default(),
            sendings: self.sendings.remove(&job).unwrap_or_default(),
            worked: self.worked.remove(&job).unwrap_or_default(),
            quote_lines: self.quote_lines.remove(&job).unwrap_or_default(),
            quote_terms: self.quote_terms.remove(&job).unwrap_or_default(),
            quote_answers: self.quote_answers.remove(&job).unwrap_or_default(),
            changes: self.changes.remove(&job).unwrap_or_default(),
            change_answers: self.change_answers.remove(&job).unwrap_or_default(),
            lines: self.lines.remove(&job).unwrap_or_default(),
            discounts: self.discounts.remove(&job).unwrap_or_default(),
            deposits: self.deposits.remove(&job).unwrap_or_default(),
            payments: self.payments.remove(&job).unwrap_or_default(),
            invoices: self.invoices.remove(&job).unwrap_or_default(),
            cores: self.cores.remove(&job).unwrap_or_default(),
            endings: self.endings.remove(&job).unwrap_or_default(),
            things: self.things.remove(&job).unwrap_or_default(),
            gone: self.gone.remove(&job).unwrap_or_default(),
            stored: self.stored.remove(&job).unwrap_or_default(),
            settlement: self.settlements.remove(&job).and_then(|mut all| all.pop()),
        }
    }
}

fn by_job<T>(all: Vec<T>, job: impl Fn(&T) -> i64) -> ByJob<T> {
    let mut by_job = ByJob::new();
    for one in all {
        by_job.entry(job(&one)).or_default().push(one);
    }
    by_job
}

/// Those that were not withdrawn.
fn standing<T>(all: Vec<T>, withdrawn: impl Fn(&T) -> bool) -> Vec<T> {
    all.into_iter().filter(|one| !withdrawn(one)).collect()
}
