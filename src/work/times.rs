//! Time worked on a job: typed, or by a clock that somebody starts and stops.

use super::Shop;
use super::account::Account;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::{JobHead, JobLook};
use super::move_part::day;
use super::shop_settings::zone;
use super::when::{When, civil};
use crate::charges::hours::Quarters;
use crate::charges::quote::hours_by_step;
use crate::record::work_clocks::{self, Clock};
use crate::record::worked::{self, Charged, NewWorked, Worked};
use crate::record::{Connection, Writing, builds, settings, steps};
use jiff::Timestamp;

/// Time worked, as typed.
#[derive(Clone, Debug, Default)]
pub struct TimeForm {
    /// Public id of whoever worked; empty for the name at the tablet.
    pub person: String,
    /// A step's key; empty for the job as a whole.
    pub step: String,
    pub day: String,
    pub hours: String,
    /// Of an hour; empty for the shop's own.
    pub rate: String,
    /// A key; empty for charged.
    pub charged: String,
    pub words: String,
}

/// Time worked, to look at.
#[derive(Clone, Debug)]
pub struct TimeRow {
    pub id: i64,
    pub name: String,
    pub day: String,
    pub hours: String,
    pub step: Option<String>,
    pub charged: Charged,
    pub words: String,
    /// Stands on the list of charges.
    pub listed: bool,
}

/// Hours of a step, quoted and worked.
#[derive(Clone, Debug)]
pub struct StepHoursRow {
    pub step: String,
    pub quoted: String,
    pub worked: String,
    /// Of those worked.
    pub not_charged: String,
    pub beyond: bool,
}

/// A clock that runs.
#[derive(Clone, Debug)]
pub struct ClockView {
    pub id: i64,
    pub job: i64,
    /// Key and title.
    pub step: Option<(String, String)>,
    pub name: String,
    /// "today 14:05".
    pub since: String,
    /// Whether it is that of the name at this tablet.
    pub own: bool,
}

/// The page of a job's time.
#[derive(Clone, Debug)]
pub struct TimeView {
    pub head: JobHead,
    /// Newest first.
    pub rows: Vec<TimeRow>,
    pub by_step: Vec<StepHoursRow>,
    pub clocks: Vec<ClockView>,
    /// Key and title; the empty key is the job as a whole.
    pub steps: Vec<(String, String)>,
    /// Public id and name.
    pub people: Vec<(String, String)>,
    pub currency: &'static str,
    /// "80.00 EUR"; none until the shop says one.
    pub usual_rate: Option<String>,
    pub today: String,
}

/// Time at a step's page.
#[derive(Clone, Debug)]
pub struct StepTime {
    /// "3.5 h"; none while there is none.
    pub worked: Option<String>,
    /// Those that run on this step.
    pub clocks: Vec<ClockView>,
}

impl JobLook {
    fn clock_view(&self, clock: &Clock, who: Option<&str>) -> ClockView {
        let step = self.steps.iter().find(|step| Some(step.id) == clock.step);
        let own = self.people.iter().any(|person| person.id == clock.person && Some(&*person.public_id) == who);
        ClockView {
            id: clock.id,
            job: clock.build,
            step: step.map(|step| (step.key.clone(), step.title.clone())),
            name: clock.name.clone(),
            since: self.when.at(clock.started.at),
            own,
        }
    }

    /// Public id and name of those who work here.
    pub(super) fn hands_to_choose(&self) -> Vec<(String, String)> {
        let hands = self.people.iter().filter(|person| person.works_here);
        hands.map(|person| (person.public_id.clone(), person.name.clone())).collect()
    }

    /// Key and title of every step, after a word for none.
    pub(super) fn steps_to_choose(&self, none: &str) -> Vec<(String, String)> {
        let steps = self.steps.iter().map(|step| (step.key.clone(), step.title.clone()));
        std::iter::once((String::new(), none.to_owned())).chain(steps).collect()
    }

    fn time_row(&self, account: &Account, worked: &Worked) -> TimeRow {
        TimeRow {
            id: worked.id,
            name: worked.name.clone(),
            day: civil(worked.said.day),
            hours: worked.said.hours.show(),
            step: account.step_title(worked.said.step),
            charged: worked.said.charged,
            words: worked.said.words.clone(),
            listed: account.lines.iter().any(|line| line.of.worked.contains(&worked.id)),
        }
    }

    fn hours_of_steps(&self, account: &Account) -> Done<Vec<StepHoursRow>> {
        let reckoned = account.reckoned()?;
        let title = |key: &Option<String>| {
            let step = self.steps.iter().find(|step| Some(&step.key) == key.as_ref());
            step.map_or_else(|| "Of no step".to_owned(), |step| step.title.clone())
        };
        let rows = hours_by_step(&reckoned.agreement.lines, &reckoned.done).into_iter();
        let row = rows.map(|row| StepHoursRow {
            step: title(&row.step),
            quoted: row.quoted.show(),
            worked: row.worked.show(),
            not_charged: row.not_charged.show(),
            beyond: row.quoted > Quarters(0) && row.worked > row.quoted,
        });
        Ok(row.collect())
    }
}

/// The step of a job by its key; none for the job as a whole.
pub(super) fn step_of(steps: &[steps::Step], key: &str) -> Result<Option<i64>, FieldFault> {
    if key.is_empty() {
        return Ok(None);
    }
    let step = steps.iter().find(|step| step.key == key).map(|step| Some(step.id));
    step.ok_or_else(|| FieldFault::new("step", "choose the step from the list"))
}

/// The time since a clock was started, to the nearest quarter hour.
fn nearest_quarters(from: Timestamp, until: Timestamp) -> Quarters {
    let minutes = until.duration_since(from).as_mins().max(0);
    Quarters(u32::try_from((minutes + 7) / 15).unwrap_or(u32::MAX))
}

impl TimeForm {
    fn understood(&self, look: &JobLook, account: &Account, doing: &Doing) -> Done<NewWorked> {
        let mut faults = Vec::new();
        let id = if self.person.is_empty() { doing.person.as_deref() } else { Some(&*self.person) };
        let person = look.people.iter().find(|person| person.works_here && Some(&*person.public_id) == id);
        if person.is_none() {
            faults.push(FieldFault::new("person", "choose who worked"));
        }
        let step = step_of(&look.steps, &self.step).map_err(|why| faults.push(why)).ok().flatten();
        let on = day("day", &self.day).map_err(|why| faults.push(why)).ok().map(|on| on.unwrap_or(look.when.today()));
        if on.is_some_and(|on| on > look.when.today()) {
            faults.push(FieldFault::new("day", "this day has not come yet: enter the day it was worked on"));
        }
        let hours = Quarters::read(&self.hours).map_err(|why| FieldFault::new("hours", why));
        let hours = hours.map_err(|why| faults.push(why)).ok();
        if hours == Some(Quarters(0)) {
            faults.push(FieldFault::new("hours", "enter hours such as 1.5, 1:30 or 45 min"));
        }
        if hours.is_some_and(|hours| hours > Quarters(24 * 4)) {
            faults.push(FieldFault::new("hours", "a day has 24 hours: enter each day by itself"));
        }
        let rate = account.purse.money("rate", &self.rate).map_err(|why| faults.push(why)).ok().flatten();
        faults.extend(FieldFault::too_long("words", &self.words, 500));
        match (person, on, hours) {
            (Some(person), Some(day), Some(hours)) if faults.is_empty() => Ok(NewWorked {
                step,
                person: person.id,
                day,
                hours,
                rate,
                charged: Charged::from_key(&self.charged).unwrap_or(Charged::Charged),
                words: self.words.trim().to_owned(),
            }),
            _ => Err(Refused::Faults(faults)),
        }
    }
}

impl Shop {
    /// The page of a job's time, for whoever is at the tablet.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn time(&self, job: i64, who: Option<&str>, now: Timestamp) -> Done<TimeView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let account = Account::load(&mut db, job).await?;
        let clocks = work_clocks::running(&mut db).await?;
        Ok(TimeView {
            head: look.head(),
            rows: account.worked.iter().rev().map(|worked| look.time_row(&account, worked)).collect(),
            by_step: look.hours_of_steps(&account)?,
            clocks: clocks.iter().filter(|clock| clock.build == job).map(|clock| look.clock_view(clock, who)).collect(),
            steps: look.steps_to_choose("the job as a whole"),
            people: look.hands_to_choose(),
            currency: account.purse.currency.code(),
            usual_rate: account.purse.labour_rate.map(|rate| account.purse.show(rate)),
            today: look.when.today().to_string(),
        })
    }

    /// Keeps time worked on a job.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn keep_time(&self, doing: &Doing, job: i64, form: &TimeForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let account = Account::load(&mut *self.record.look().await?, job).await?;
        let new = form.understood(&look, &account, doing)?;
        let Some(mut w) = self.begin(doing, "keep time", Some(job)).await? else { return Ok(()) };
        worked::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws time that was not worked; what stands on the list of charges is taken off it first.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it is charged, [`Refused::NotFound`] where there is none.
    pub async fn withdraw_time(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw time", Some(job)).await? else { return Ok(()) };
        let account = Account::load(&mut w, job).await?;
        if let Some(line) = account.lines.iter().find(|line| line.of.worked.contains(&id)) {
            let words = format!("it stands on the list of charges as “{}”: take that line off first", line.said.text);
            return Err(Refused::fault("rows", words));
        }
        if !worked::withdraw(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// Starts the clock of the name at the tablet; one of theirs that runs is stopped, and its time kept.
    ///
    /// # Errors
    /// [`Refused::Faults`] where no name is tapped or the step is none of the job's.
    pub async fn start_clock(&self, doing: &Doing, job: i64, step: &str) -> Done<()> {
        let person = self.somebody(doing, "clock").await?;
        let Some(mut w) = self.begin(doing, "start clock", Some(job)).await? else { return Ok(()) };
        builds::by_id(&mut w, job).await?.ok_or(Refused::NotFound)?;
        let step = step_of(&steps::of(&mut w, Some(job)).await?, step).map_err(|why| Refused::Faults(vec![why]))?;
        // One clock at a time runs for a person: on another job its time is kept by an act of that job.
        if let Some(clock) = work_clocks::running(&mut w).await?.iter().find(|clock| clock.person == person) {
            if clock.build != job {
                self.go_on(&mut w, doing, "stop clock", clock.build).await?;
            }
            stop(&mut w, clock, doing).await?;
            if clock.build != job {
                self.go_on(&mut w, doing, "start clock", job).await?;
            }
        }
        work_clocks::start(&mut w, job, step, person).await?;
        Ok(w.commit().await?)
    }

    /// Stops a clock and keeps its time, to the nearest quarter hour; the job it ran on.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it does not run.
    pub async fn stop_clock(&self, doing: &Doing, id: i64) -> Done<()> {
        let running = work_clocks::running(&mut *self.record.look().await?).await?;
        let job = running.iter().find(|clock| clock.id == id).map(|clock| clock.build);
        let Some(mut w) = self.begin(doing, "stop clock", job).await? else { return Ok(()) };
        let running = work_clocks::running(&mut w).await?;
        let clock = running.iter().find(|clock| clock.id == id).ok_or(Refused::NotFound)?;
        stop(&mut w, clock, doing).await?;
        Ok(w.commit().await?)
    }
}

/// Stops a clock and keeps its time.
async fn stop(w: &mut Writing, clock: &Clock, doing: &Doing) -> Done<()> {
    work_clocks::stop(w, clock.id).await?;
    let hours = nearest_quarters(clock.started.at, doing.at);
    if hours == Quarters(0) {
        return Ok(());
    }
    let when = When::new(&zone(&settings::all(w).await?), doing.at);
    let new = NewWorked {
        step: clock.step,
        person: clock.person,
        day: when.date(clock.started.at),
        hours,
        rate: None,
        charged: Charged::Charged,
        words: String::new(),
    };
    worked::insert(w, clock.build, &new).await?;
    Ok(())
}

/// Time at a step, with the clocks that run on it.
pub(super) async fn step_time(db: &mut Connection, look: &JobLook, step: i64) -> Done<StepTime> {
    let worked = worked::of(db, Some(look.job.build.id)).await?;
    let here = worked.iter().filter(|worked| !worked.withdrawn && worked.said.step == Some(step));
    let quarters: u32 = here.map(|worked| worked.said.hours.0).sum();
    let clocks = work_clocks::running(db).await?;
    Ok(StepTime {
        worked: (quarters > 0).then(|| Quarters(quarters).show()),
        clocks: clocks
            .iter()
            .filter(|clock| clock.step == Some(step))
            .map(|clock| look.clock_view(clock, None))
            .collect(),
    })
}
