//! The end of a day: hours proposed from what somebody did, adjusted, and kept all at once.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::money::OF_MONEY;
use super::move_part::day;
use super::shop_settings::zone;
use super::when::{When, civil};
use crate::charges::hours::Quarters;
use crate::charges::time::{Act, Habits, propose};
use crate::record::acts::{self, DoneOnJob};
use crate::record::people::{self, Person};
use crate::record::steps::{self, Step};
use crate::record::worked::{self, Charged, NewWorked};
use crate::record::{Connection, builds, settings};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Each job has an act of its own, as of time that is typed.
const WHAT: &str = "keep time";

/// Hours proposed on a step of a job.
#[derive(Clone, Debug)]
pub struct ProposedRow {
    pub job: i64,
    pub title: String,
    /// Key and title; none for the job as a whole.
    pub step: Option<(String, String)>,
    /// As typed into the form: "1.5".
    pub hours: String,
    /// Minutes that what was done spans.
    pub minutes: u32,
}

/// The end of a day of one person.
#[derive(Clone, Debug)]
pub struct DayView {
    /// Public id and name; none where nobody is chosen.
    pub person: Option<(String, String)>,
    pub day: Date,
    pub day_words: String,
    pub rows: Vec<ProposedRow>,
    /// What is kept already: "job 12, Line hone the mains: 2.5 h".
    pub kept: Vec<String>,
    pub people: Vec<(String, String)>,
}

/// One row as it is kept.
#[derive(Clone, Debug, Default)]
pub struct DayEntry {
    /// The field its hours were typed in, for what is wrong with them.
    pub field: String,
    pub job: i64,
    /// A step's key; empty for the job as a whole.
    pub step: String,
    /// Empty: nothing is kept.
    pub hours: String,
    /// A key; empty for charged.
    pub charged: String,
}

/// The step of an act: the one it names, or the only one that takes the sheet it read.
fn step_of<'a>(steps: &'a [Step], done: &DoneOnJob) -> Option<&'a Step> {
    let of_job = || steps.iter().filter(|step| step.build == done.build);
    if let Some(id) = done.step {
        return of_job().find(|step| step.id == id);
    }
    let sheet = done.sheet.as_deref()?;
    let mut taking = of_job().filter(|step| step.sheets.iter().any(|key| key.key() == sheet));
    let first = taking.next();
    if taking.next().is_some() { None } else { first }
}

async fn chosen(db: &mut Connection, person: Option<&str>) -> Done<Option<Person>> {
    let Some(id) = person.filter(|id| !id.is_empty()) else { return Ok(None) };
    Ok(people::by_public_id(db, id).await?.filter(|person| person.works_here))
}

impl Shop {
    /// The end of a day: what is proposed for a person, and what is kept already.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn end_of_day(&self, person: Option<&str>, on: &str, now: Timestamp) -> Done<DayView> {
        let mut db = self.record.look().await?;
        let when = When::new(&zone(&settings::all(&mut db).await?), now);
        let on = day("day", on).ok().flatten().unwrap_or(when.today());
        let hand = chosen(&mut db, person).await?;
        let all = people::all(&mut db).await?;
        let builds = builds::all(&mut db).await?;
        let mut every_step = Vec::new();
        let mut rows = Vec::new();
        let mut kept = Vec::new();
        if let (Some(hand), Some((from, until))) = (&hand, when.bounds(on)) {
            let done = acts::done_between(&mut db, from, until).await?;
            let own: Vec<DoneOnJob> = done
                .into_iter()
                .filter(|done| done.person == hand.id && !OF_MONEY.contains(&done.what.as_str()))
                .collect();
            let mut jobs: Vec<i64> = own.iter().map(|done| done.build).collect();
            let worked = worked::of(&mut db, None).await?;
            let today: Vec<_> = worked
                .iter()
                .filter(|one| !one.withdrawn && one.said.person == hand.id && one.said.day == on)
                .collect();
            jobs.extend(today.iter().map(|one| one.build));
            jobs.sort_unstable();
            jobs.dedup();
            for job in jobs {
                every_step.extend(steps::of(&mut db, Some(job)).await?);
            }
            let title = |id: Option<i64>| every_step.iter().find(|step| Some(step.id) == id).map(|step| &*step.title);
            kept = today
                .iter()
                .map(|one| {
                    let what = title(one.said.step).unwrap_or("the job as a whole");
                    format!("job {}, {what}: {}", one.build, one.said.hours.show())
                })
                .collect();
            let listed: Vec<Act> = own
                .iter()
                .map(|done| Act {
                    person: hand.public_id.clone(),
                    minute: when.minute_of(done.at),
                    job: done.build.to_string(),
                    step: step_of(&every_step, done).map(|step| step.key.clone()),
                })
                .collect();
            let proposed = propose(&listed, Habits::default()).map_err(|why| Refused::fault("day", why))?;
            for one in proposed.into_iter().filter(|_| kept.is_empty()) {
                let Some(build) = builds.iter().find(|build| build.id.to_string() == one.job) else { continue };
                let of_job = |step: &&Step| step.build == build.id && Some(&step.key) == one.step.as_ref();
                rows.push(ProposedRow {
                    job: build.id,
                    title: build.title.clone(),
                    step: every_step.iter().find(of_job).map(|step| (step.key.clone(), step.title.clone())),
                    hours: one.hours.figures(),
                    minutes: one.minutes,
                });
            }
        }
        let hands = all.into_iter().filter(|person| person.works_here);
        Ok(DayView {
            person: hand.map(|hand| (hand.public_id, hand.name)),
            day: on,
            day_words: civil(on),
            rows,
            kept,
            people: hands.map(|person| (person.public_id, person.name)).collect(),
        })
    }

    /// Keeps a day's hours of a person, all at once.
    ///
    /// # Errors
    /// [`Refused::Faults`] for every field that cannot be read.
    pub async fn keep_day(&self, doing: &Doing, person: &str, on: &str, entries: &[DayEntry]) -> Done<()> {
        let mut faults = Vec::new();
        let mut db = self.record.look().await?;
        let when = When::new(&zone(&settings::all(&mut db).await?), doing.at);
        let hand = chosen(&mut db, Some(person)).await?;
        if hand.is_none() {
            faults.push(FieldFault::new("person", "choose who worked"));
        }
        let on = day("day", on).map_err(|why| faults.push(why)).ok().flatten().unwrap_or(when.today());
        if on > when.today() {
            faults.push(FieldFault::new("day", "this day has not come yet: enter the day it was worked on"));
        }
        let mut read: BTreeMap<i64, Vec<(&DayEntry, Quarters)>> = BTreeMap::new();
        for entry in entries.iter().filter(|entry| !entry.hours.trim().is_empty()) {
            match Quarters::read(&entry.hours) {
                Ok(Quarters(0)) => {}
                Ok(hours) => read.entry(entry.job).or_default().push((entry, hours)),
                Err(why) => faults.push(FieldFault::new(&*entry.field, why)),
            }
        }
        let total: u32 = read.values().flatten().map(|(_, hours)| hours.0).sum();
        if total > 24 * 4 {
            faults.push(FieldFault::new("day", "these are more than the 24 hours of a day: look at them again"));
        }
        if total == 0 && faults.is_empty() {
            faults.push(FieldFault::new("day", "enter the hours of at least one job"));
        }
        let Some(hand) = hand.filter(|_| faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let first = read.keys().next().copied();
        for job in read.keys() {
            builds::by_id(&mut db, *job).await?.ok_or(Refused::NotFound)?;
        }
        drop(db);
        let Some(mut w) = self.begin(doing, WHAT, first).await? else { return Ok(()) };
        for (job, entries) in read {
            if Some(job) != first {
                self.go_on(&mut w, doing, WHAT, job).await?;
            }
            let of_job = steps::of(&mut w, Some(job)).await?;
            for (entry, hours) in entries {
                let step = super::times::step_of(&of_job, &entry.step).map_err(|why| Refused::Faults(vec![why]))?;
                let new = NewWorked {
                    step,
                    person: hand.id,
                    day: on,
                    hours,
                    rate: None,
                    charged: Charged::from_key(&entry.charged).unwrap_or(Charged::Charged),
                    words: String::new(),
                };
                worked::insert(&mut w, job, &new).await?;
            }
        }
        Ok(w.commit().await?)
    }
}
