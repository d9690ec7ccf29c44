//! Every engine in the shop with its steps, what they need, how long they are expected to take and what was promised: all
//! from one look, with as many queries for two hundred engines as for one.

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
use crate::record::{Connection, builds, endings, promises, settings, step_hours, steps};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;

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
    pub async fn load(db: &mut Connection, now: Timestamp) -> Done<Self> {
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
            today: When::new(&super::shop_settings::zone(&settings::all(db).await?), now).today(),
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
}
