//! Old parts in exchange: each deposit asked for one, until the old part comes and exactly that deposit is given back, or it is
//! said to be scrapped and brings none.

use super::Shop;
use super::account::{Account, too_large};
use super::doing::{Doing, Done, Refused};
use super::pay::today;
use super::when::{When, civil};
use crate::charges::glance::days_between;
use crate::charges::line::Kind;
use crate::charges::quote::Under;
use crate::record::charge_lines::{self, ChargeLine, LineOf, NewLine};
use crate::record::cores::{self, CoreFate, Fate, NewFate};
use crate::record::parts::Part;

/// A core deposit.
#[derive(Clone, Debug)]
pub struct CoreRow {
    /// The line that asks for it.
    pub line: i64,
    pub text: String,
    pub amount: String,
    /// "open for 12 days", "given back 3 March 2026", "scrapped 3 March 2026".
    pub words: String,
    pub is_open: bool,
    /// Whether the line that gave it back, or that it was scrapped, may still be taken back.
    pub may_undo: bool,
    /// How many days it has been open.
    pub days: i32,
}

impl Account {
    /// Lines that ask for a core deposit.
    fn deposits_for_cores(&self) -> impl Iterator<Item = &ChargeLine> {
        self.lines.iter().filter(|kept| kept.said.kind == Kind::CoreDeposit)
    }

    /// What became of the old part of a deposit.
    pub fn core_fate(&self, deposit: i64) -> Option<&CoreFate> {
        self.cores.iter().find(|core| core.said.deposit == deposit)
    }

    /// The deposit that a line gives back.
    pub fn gives_back(&self, credit: i64) -> Option<&CoreFate> {
        self.cores.iter().find(|core| core.said.credit == Some(credit))
    }

    /// Every core deposit of the job.
    pub fn core_rows(&self, when: &When) -> Done<Vec<CoreRow>> {
        self.deposits_for_cores().map(|kept| self.core_row(kept, when)).collect()
    }

    /// Those of one part.
    pub fn cores_of_part(&self, part: &Part, when: &When) -> Done<Vec<CoreRow>> {
        let of_part = self.deposits_for_cores().filter(|kept| kept.of.part == Some(part.id));
        of_part.map(|kept| self.core_row(kept, when)).collect()
    }

    fn core_row(&self, kept: &ChargeLine, when: &When) -> Done<CoreRow> {
        let line = self.line(kept.id, &kept.said);
        let days = days_between(when.date(kept.stamp.at), when.today());
        let fate = self.core_fate(kept.id);
        let words = match fate.map(|core| &core.said) {
            Some(said) => format!("{} {}", said.what.word(), civil(said.day)),
            None if days <= 0 => "open since today".to_owned(),
            None if days == 1 => "open for 1 day".to_owned(),
            None => format!("open for {days} days"),
        };
        Ok(CoreRow {
            line: kept.id,
            amount: self.purse.show(line.amount(self.purse.terms.rounding).map_err(too_large)?),
            text: line.text,
            words,
            is_open: fate.is_none(),
            may_undo: fate.is_some_and(|core| core.said.what == Fate::Scrapped),
            days,
        })
    }

    /// A deposit of which nothing became yet.
    fn open_core(&self, line: i64) -> Done<&ChargeLine> {
        let kept = self.deposits_for_cores().find(|kept| kept.id == line).ok_or(Refused::NotFound)?;
        match self.core_fate(line).map(|core| &core.said) {
            None => Ok(kept),
            Some(NewFate { what: Fate::GivenBack, day, .. }) => {
                let words = format!("this core was given back on {}: its deposit comes back once", civil(*day));
                Err(Refused::fault("cores", words))
            }
            Some(NewFate { day, .. }) => {
                let words = format!(
                    "this core was scrapped on {} and brings no deposit back: say first that it was not",
                    civil(*day)
                );
                Err(Refused::fault("cores", words))
            }
        }
    }
}

impl Shop {
    /// An old part came: a line gives back exactly the deposit that was asked for it, once.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where no such deposit stands; [`Refused::Faults`] where it was given back or scrapped.
    pub async fn give_core_back(&self, doing: &Doing, job: i64, line: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "give core back", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let kept = account.open_core(line)?;
        let day = today(&mut w, doing).await?;
        let of = LineOf { part: kept.of.part, ..LineOf::default() };
        let new = NewLine { kind: Kind::CoreReturned, under: Under::Nothing, ..kept.said.clone() };
        let credit = charge_lines::insert(&mut w, job, &of, &new).await?;
        let fate = NewFate { deposit: line, what: Fate::GivenBack, credit: Some(credit), day };
        cores::insert(&mut w, &fate).await?;
        Ok(w.commit().await?)
    }

    /// An old part never comes: it was scrapped, and its deposit stays.
    ///
    /// # Errors
    /// As [`Shop::give_core_back`].
    pub async fn scrap_core(&self, doing: &Doing, job: i64, line: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "scrap core", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        account.open_core(line)?;
        let day = today(&mut w, doing).await?;
        let fate = NewFate { deposit: line, what: Fate::Scrapped, credit: None, day };
        cores::insert(&mut w, &fate).await?;
        Ok(w.commit().await?)
    }

    /// An old part was not scrapped: its deposit is open again.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it was not said to be.
    pub async fn unscrap_core(&self, doing: &Doing, job: i64, line: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "unscrap core", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        let scrapped = account.core_fate(line).is_some_and(|core| core.said.what == Fate::Scrapped);
        if !scrapped || !cores::withdraw(&mut w, line).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
