//! What the family's earlier engines lead one to expect of this one.

use super::Shop;
use super::doing::Done;
use super::job::JobLook;
use crate::engine::Setup;
use crate::record::family_readings;
use crate::sheets::FamilyHistory;
use jiff::Timestamp;
use std::collections::BTreeMap;

impl Shop {
    /// A job with what its family read before: as readings are compared with it.
    pub(super) async fn look_with_family(&self, job: i64, now: Timestamp) -> Done<JobLook> {
        let mut look = self.look_at_job(job, now).await?;
        let engine = &look.job.engine;
        let Some(family) = engine.family else { return Ok(look) };
        let (read, targets) = family_readings::of(&mut *self.record.look().await?, family, engine.id).await?;
        let setup = look.job.setup();
        let of_build = |build: i64| {
            let targets = targets.get(&build).cloned().unwrap_or_default();
            (build, Setup { targets, ..setup.clone() })
        };
        let setups: BTreeMap<i64, Setup> = read.iter().map(|reading| of_build(reading.build)).collect();
        let told = read.iter().filter_map(|r| Some((r.engine, setups.get(&r.build)?, &r.slot, r.si)));
        look.job.family = FamilyHistory::by_feature(&setup, told);
        Ok(look)
    }
}
