//! What is asked of a part made in the shop, read of it and said of who carries one: written down and withdrawn.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::limits::figure;
use super::made::{Made, given};
use super::parts::Stock;
use crate::engine::Measure;
use crate::quantity::{Dimension, Entry, HowRead, Quantity, read};
use crate::record::made_sizes::{self, MadeSize, NewMadeReading, NewMadeSize};
use crate::record::parts::Part;
use crate::record::{builds, carried};

/// What was read is asked about where it is off by more than this share of the size asked: our own judgement, no source.
const FAR: f64 = 0.1;

/// A dimension as typed.
#[derive(Clone, Debug, Default)]
pub struct MadeSizeForm {
    pub name: String,
    pub size: String,
    /// By how much it may be larger and smaller; empty where nothing says so.
    pub over: String,
    pub under: String,
}

/// What was read of a dimension, as typed.
#[derive(Clone, Debug, Default)]
pub struct MadeReadingForm {
    pub read: String,
    /// Public id; empty for none.
    pub gauge: String,
    /// It is so, although it is far from what is asked.
    pub sure: bool,
}

impl MadeSizeForm {
    fn understood(&self, look: &JobLook, part: &Part) -> Done<NewMadeSize> {
        let unit = look.job.build.unit;
        let mut faults = Vec::new();
        if self.name.trim().is_empty() {
            faults.push(FieldFault::new("name", "say what is measured: register diameter"));
        }
        faults.extend(FieldFault::too_long("name", &self.name, 80));
        let mut length = |field: &str, typed: &str, measure: Measure| {
            figure(field, typed, &unit.how_read(measure), false).map_err(|why| faults.push(why)).ok().flatten()
        };
        let size = length("size", &self.size, Measure::SIZE);
        let over = length("over", &self.over, Measure::SMALL);
        let under = length("under", &self.under, Measure::SMALL);
        match size {
            None if self.size.trim().is_empty() => {
                faults.push(FieldFault::new("size", "enter the size it is to be, as the drawing has it"));
            }
            Some(0.0) => faults.push(FieldFault::new("size", "enter a size above zero")),
            Some(size) => {
                let too_wide = |by: &Option<f64>| by.is_some_and(|by| by >= size);
                for (field, _) in [("over", over), ("under", under)].iter().filter(|(_, by)| too_wide(by)) {
                    faults.push(FieldFault::new(*field, "this is more than the size itself: enter the tolerance"));
                }
            }
            None => {}
        }
        let (Some(size), true) = (size, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let typed =
            |sign: &str, by: &str| if by.trim().is_empty() { String::new() } else { format!(" {sign}{}", by.trim()) };
        Ok(NewMadeSize {
            part: part.id,
            name: self.name.trim().to_owned(),
            size,
            least: under.map(|under| size - under),
            most: over.map(|over| size + over),
            typed: format!("{}{}{}", self.size.trim(), typed("+", &self.over), typed("−", &self.under)),
        })
    }
}

impl MadeReadingForm {
    /// Faults name their field with the dimension's number, as each stands on the page by itself.
    fn understood(&self, look: &JobLook, size: &MadeSize) -> Done<NewMadeReading> {
        let unit = look.job.build.unit;
        let mut faults = Vec::new();
        let mut refuse =
            |field: &str, words: String| faults.push(FieldFault::new(format!("{field}-{}", size.id), words));
        let gauge = look.job.gauges.iter().find(|gauge| gauge.public_id == self.gauge);
        if gauge.is_none() && !self.gauge.is_empty() {
            refuse("gauge", "choose the gauge from the list".to_owned());
        }
        let asked = Quantity { si: size.said.size, dimension: Dimension::Length };
        let how = HowRead {
            from: Some(asked),
            step: gauge.map_or(unit.small(), |gauge| gauge.step),
            ..unit.how_read(Measure::SIZE)
        };
        let read = match read(&self.read, &how) {
            Ok(typed) => match typed.entry {
                Entry::Figure(figure) if figure.si > 0.0 => Some((figure.si, typed)),
                Entry::Figure(_) => {
                    refuse("read", "enter a size above zero".to_owned());
                    None
                }
                Entry::Range(..) => {
                    refuse("read", "enter one figure".to_owned());
                    None
                }
            },
            Err(fault) => {
                refuse("read", fault.to_string());
                None
            }
        };
        if let Some((value, _)) =
            read.as_ref().filter(|(value, _)| (value - asked.si).abs() > FAR * asked.si && !self.sure)
        {
            let (value, asked) = (given(unit.size(), *value), given(unit.size(), asked.si));
            refuse("read", format!("{value} is far from the {asked} asked: tick “It is so” to keep it"));
        }
        match read.filter(|_| faults.is_empty()) {
            Some((value, typed)) => Ok(NewMadeReading {
                size_of: size.id,
                value,
                resolution: typed.resolution_si,
                typed: typed.text,
                gauge: gauge.map(|gauge| gauge.id),
            }),
            None => Err(Refused::Faults(faults)),
        }
    }
}

/// A job's parts and what was made of them, as a form finds them.
struct Found {
    look: JobLook,
    stock: Stock,
    made: Made,
}

impl Shop {
    async fn found(&self, doing: &Doing, job: i64) -> Done<Found> {
        let look = self.look_at_job(job, doing.at).await?;
        let mut db = self.record.look().await?;
        let (stock, made) = (Stock::load(&mut db, Some(job)).await?, Made::load(&mut db, job).await?);
        Ok(Found { look, stock, made })
    }

    /// Keeps a dimension that a part made in the shop is to have.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn ask_made_size(&self, doing: &Doing, job: i64, part: &str, form: &MadeSizeForm) -> Done<()> {
        let found = self.found(doing, job).await?;
        let new = form.understood(&found.look, found.stock.find(part)?)?;
        let Some(mut w) = self.begin(doing, "ask size of part", Some(job)).await? else { return Ok(()) };
        made_sizes::insert(&mut w, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a dimension; what was read of it stays in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the part has no such dimension.
    pub async fn withdraw_made_size(&self, doing: &Doing, job: i64, part: &str, size: i64) -> Done<()> {
        let found = self.found(doing, job).await?;
        let size = found.made.size(found.stock.find(part)?, size)?;
        let Some(mut w) = self.begin(doing, "withdraw size of part", Some(job)).await? else { return Ok(()) };
        made_sizes::withdraw(&mut w, size.id).await?;
        Ok(w.commit().await?)
    }

    /// Keeps what was read of a dimension.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what is no size, and for one far from what is asked that nobody said is so.
    pub async fn read_made_size(
        &self,
        doing: &Doing,
        job: i64,
        part: &str,
        size: i64,
        form: &MadeReadingForm,
    ) -> Done<()> {
        let found = self.found(doing, job).await?;
        let new = form.understood(&found.look, found.made.size(found.stock.find(part)?, size)?)?;
        let Some(mut w) = self.begin(doing, "read size of part", Some(job)).await? else { return Ok(()) };
        made_sizes::insert_reading(&mut w, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws what was read of a dimension by mistake.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such reading.
    pub async fn withdraw_made_reading(
        &self,
        doing: &Doing,
        job: i64,
        part: &str,
        (size, reading): (i64, i64),
    ) -> Done<()> {
        let found = self.found(doing, job).await?;
        let size = found.made.size(found.stock.find(part)?, size)?;
        let Some(mut w) = self.begin(doing, "withdraw reading of part", Some(job)).await? else { return Ok(()) };
        if !made_sizes::withdraw_reading(&mut w, size.id, reading).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// Says that the engine of another job carries one of a part made in the shop.
    ///
    /// # Errors
    /// [`Refused::Faults`] where no other job is chosen, or it carries one already.
    pub async fn carry(&self, doing: &Doing, job: i64, part: &str, (by, words): (&str, &str)) -> Done<()> {
        let found = self.found(doing, job).await?;
        let part = found.stock.find(part)?;
        let chosen = match by.parse::<i64>() {
            Ok(number) if number != job => builds::by_id(&mut *self.record.look().await?, number).await?,
            _ => None,
        };
        let mut faults: Vec<FieldFault> = FieldFault::too_long("words", words, 200).into_iter().collect();
        let twice = |number: i64| found.made.carried_by(part.id).any(|one| one.build == number);
        match &chosen {
            None => faults.push(FieldFault::new("by", "choose the job whose engine carries one")),
            Some(build) if twice(build.id) => {
                faults.push(FieldFault::new("by", format!("job {} is said to carry one already", build.id)));
            }
            Some(_) => {}
        }
        let Some(by) = chosen.filter(|_| faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let Some(mut w) = self.begin(doing, "part is carried", Some(job)).await? else { return Ok(()) };
        carried::insert(&mut w, part.id, by.id, words.trim()).await?;
        Ok(w.commit().await?)
    }

    /// Says that an engine carries one no more.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it was not said to.
    pub async fn carry_no_more(&self, doing: &Doing, job: i64, part: &str, id: i64) -> Done<()> {
        let found = self.found(doing, job).await?;
        let part = found.stock.find(part)?;
        let Some(mut w) = self.begin(doing, "part is carried no more", Some(job)).await? else { return Ok(()) };
        if !carried::withdraw(&mut w, part.id, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
