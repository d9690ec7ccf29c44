//! Every engine in the shop with its steps, what they need, how long they are expected to take and what was promised: all
//! from one look, with as many queries for two hundred engines as for one.

use super::Shop;
use super::bench_time::{BenchTime, Expected, expected};
use super::doing::Done;
use super::needs::Needs;
use super::promises::promise_of;
use super::when::When;
use crate::record::builds::Build;
use crate::record::endings::EndingKind;
use crate::record::promises::Promise;
use crate::record::step_hours::Hours;
use crate::record::steps::Step;
use crate::record::{Connection, acts, builds, endings, promises, settings, step_hours, steps};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

/// What was loaded as of the newest act of all, on one day: never out of date, and at once where nothing was done since.
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
        if let Some((_, known)) = held().as_ref().filter(|(as_of, known)| *as_of == act && known.today == today) {
            return Ok(Arc::clone(known));
        }
        let loaded = Arc::new(InShop::load(db, today).await?);
        *held() = Some((act, Arc::clone(&loaded)));
        Ok(loaded)
    }
}

/// What is planned: every engine in the shop that is not parked.
pub(super) struct InShop {
    pub builds: Vec<Build>,
    pub needs: Needs,
    pub time: BenchTime,
    pub today: Date,
    steps: BTreeMap<i64, Vec<Step>>,
    hours: BTreeMap<i64, Hours>,
    promises: Vec<Promise>,
}

impl InShop {
    async fn load(db: &mut Connection, today: Date) -> Done<Self> {
        let endings = endings::of(db, None).await?;
        let parked = |build: &Build| {
            endings.iter().any(|e| e.build == build.id && !e.withdrawn && e.said.kind == EndingKind::Parked)
        };
        let mut of_build: BTreeMap<i64, Vec<Step>> = BTreeMap::new();
        for step in steps::of(db, None).await? {
            of_build.entry(step.build).or_default().push(step);
        }
        Ok(Self {
            builds: builds::all(db).await?.into_iter().filter(|build| !build.closed && !parked(build)).collect(),
            needs: Needs::load(db, None).await?,
            time: BenchTime::load(db).await?,
            today,
            steps: of_build,
            hours: step_hours::of(db, None).await?,
            promises: promises::of(db, None).await?,
        })
    }

    /// The steps of a job in the order shown.
    pub fn steps_of(&self, job: i64) -> &[Step] {
        self.steps.get(&job).map_or(&[], Vec::as_slice)
    }

    /// The day told to a job's customer.
    pub fn promised(&self, job: i64) -> Option<Date> {
        promise_of(&self.promises, job).map(|promise| promise.day)
    }

    /// How long a step is expected to take.
    pub fn expected(&self, step: &Step) -> Expected {
        expected(step, &self.hours)
    }

    /// The jobs in the order in which they go first at the bench: by the day promised, then by their numbers.
    pub fn in_turn(&self) -> Vec<&Build> {
        let mut turn: Vec<&Build> = self.builds.iter().collect();
        turn.sort_by_key(|build| (self.promised(build.id).unwrap_or(Date::MAX), build.id));
        turn
    }
}
