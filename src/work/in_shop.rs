//! Every engine in the shop with its steps, what they need, how long they are expected to take and what was promised: all
//! from one look, with as many queries for two hundred engines as for one, and anew only for those touched since.

use super::Shop;
use super::bench_time::{BenchTime, Expected, expected};
use super::doing::Done;
use super::needs::Needs;
use super::promises::promise_of;
use super::took::Took;
use super::when::When;
use crate::charges::hours::Quarters;
use crate::plan;
use crate::record::builds::Build;
use crate::record::endings::EndingKind;
use crate::record::step_hours::Hours;
use crate::record::steps::Step;
use crate::record::{Connection, acts, builds, endings, engines, promises, settings, step_hours, steps, worked};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex};

/// Where acts have touched more jobs than this since the last look, all are loaded at once.
const ONE_BY_ONE: usize = 20;

/// What was loaded as of the newest act of all: never out of date, as an act names the job it touches.
#[derive(Clone, Default)]
pub(super) struct LastLook(Arc<Mutex<Option<AsOf>>>);

/// The newest act, and what was loaded as of it.
type AsOf = (i64, Arc<InShop>);

impl Shop {
    /// Every engine in the shop as it is now.
    pub(super) async fn in_shop(&self, db: &mut Connection, now: Timestamp) -> Done<Arc<InShop>> {
        let act = acts::newest(db).await?;
        let today = When::new(&super::shop_settings::zone(&settings::all(db).await?), now).today();
        let held = || self.last_look.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let known = held().clone().filter(|(as_of, _)| *as_of <= act);
        let jobs = match &known {
            Some((as_of, known)) if *as_of == act && known.today == today => return Ok(Arc::clone(known)),
            Some((as_of, known)) => touched(db, known.jobs.clone(), *as_of).await?,
            None => load(db, None).await?,
        };
        let took = Took::load(db, known.as_ref().map(|(_, known)| &known.took)).await?;
        let loaded = Arc::new(InShop { jobs, time: BenchTime::load(db).await?, today, took });
        *held() = Some((act, Arc::clone(&loaded)));
        Ok(loaded)
    }
}

/// By their numbers.
type Jobs = BTreeMap<i64, Arc<JobInShop>>;

/// Jobs with those loaded anew that acts have touched since one.
async fn touched(db: &mut Connection, mut jobs: Jobs, since: i64) -> Done<Jobs> {
    let touched = acts::touched_since(db, since).await?;
    if touched.len() > ONE_BY_ONE {
        return load(db, None).await;
    }
    for job in touched {
        jobs.remove(&job);
        jobs.extend(load(db, Some(job)).await?);
    }
    Ok(jobs)
}

/// Every job in the shop, or one of them.
async fn load(db: &mut Connection, job: Option<i64>) -> Done<Jobs> {
    let parked: BTreeSet<i64> = endings::of(db, job)
        .await?
        .iter()
        .filter(|ending| !ending.withdrawn && ending.said.kind == EndingKind::Parked)
        .map(|ending| ending.build)
        .collect();
    let mut of_build: BTreeMap<i64, Vec<Step>> = BTreeMap::new();
    for step in steps::of(db, job).await? {
        of_build.entry(step.build).or_default().push(step);
    }
    let mut needs = Needs::by_job(db, job).await?;
    let hours = step_hours::of(db, job).await?;
    let promises = promises::of(db, job).await?;
    let worked = worked::of_steps(db, job).await?;
    let families = engines::families(db, job).await?;
    let mut jobs = Jobs::new();
    for build in builds::in_shop(db, job).await? {
        let steps = of_build.remove(&build.id).unwrap_or_default();
        let hours = steps.iter().filter_map(|step| Some((step.id, *hours.get(&step.id)?))).collect();
        let worked = steps.iter().filter_map(|step| Some((step.id, *worked.get(&step.id)?))).collect();
        let needs = needs.remove(&build.id).unwrap_or_default();
        let promised = promise_of(&promises, build.id).map(|promise| promise.day);
        let (parked, family) = (parked.contains(&build.id), families.get(&build.id).copied());
        jobs.insert(build.id, Arc::new(JobInShop { build, steps, needs, promised, hours, worked, family, parked }));
    }
    Ok(jobs)
}

/// The engines in the shop; those parked are not planned.
pub(super) struct InShop {
    jobs: Jobs,
    pub time: BenchTime,
    pub today: Date,
    took: Arc<Took>,
}

/// One engine in the shop.
pub(super) struct JobInShop {
    pub build: Build,
    /// In the order shown.
    pub steps: Vec<Step>,
    pub needs: Needs,
    /// The day told to its customer.
    pub promised: Option<Date>,
    hours: BTreeMap<i64, Hours>,
    worked: BTreeMap<i64, Quarters>,
    family: Option<i64>,
    parked: bool,
}

impl JobInShop {
    /// Time worked on a step.
    pub fn worked(&self, step: &Step) -> Quarters {
        self.worked.get(&step.id).copied().unwrap_or_default()
    }

    fn hours_worked(&self, step: &Step) -> f64 {
        f64::from(self.worked(step).0) / 4.0
    }
}

impl InShop {
    /// How long a step of a job is expected to take in all.
    pub fn expected(&self, job: &JobInShop, step: &Step) -> Expected<'_> {
        expected(step, &job.hours, self.took.find(job.family, &step.key))
    }

    /// What is left of a step.
    pub fn left(&self, job: &JobInShop, step: &Step) -> plan::Hours {
        self.expected(job, step).left(job.hours_worked(step))
    }

    /// The hours that are left of a step on average.
    pub fn hours_left(&self, job: &JobInShop, step: &Step) -> f64 {
        match job.hours_worked(step) {
            0.0 => self.expected(job, step).hours.mean(),
            _ => self.left(job, step).mean(),
        }
    }

    /// A job by its number; none where it has left the shop.
    pub fn job(&self, number: i64) -> Option<&JobInShop> {
        self.jobs.get(&number).map(Arc::as_ref)
    }

    /// Those planned, the newest first.
    pub fn newest_first(&self) -> impl Iterator<Item = &JobInShop> {
        self.jobs.values().rev().map(Arc::as_ref).filter(|job| !job.parked)
    }

    /// Those planned in the order in which they go first at the bench: by the day promised, then by their numbers.
    pub fn in_turn(&self) -> Vec<&JobInShop> {
        let mut turn: Vec<&JobInShop> = self.newest_first().collect();
        turn.sort_by_key(|job| (job.promised.unwrap_or(Date::MAX), job.build.id));
        turn
    }
}
