//! Quoted against worked hours of a family, step by step over its jobs in order of time.

use super::Shop;
use super::doing::{Done, Refused};
use crate::charges::hours::Quarters;
use crate::charges::past_hours::{Past, reckon};
use crate::drawing::Drawing;
use crate::drawing::step_hours::{JobHours, StepHours, step_hours};
use crate::record::builds::{self, Build};
use crate::record::families::{self, Family};
use crate::record::quotes::{self, QuoteLine};
use crate::record::steps::{self, Step};
use crate::record::worked::{self, Worked};
use crate::record::{Connection, engines};
use std::collections::BTreeSet;

/// A job with the hours of a step.
#[derive(Clone, Debug)]
pub struct PastRow {
    pub job: i64,
    pub title: String,
    pub quoted: Option<String>,
    pub worked: String,
    /// It took more than was quoted.
    pub beyond: bool,
}

/// A step over the jobs on which it is done.
#[derive(Clone, Debug)]
pub struct PastStep {
    /// A step's key; empty for the job as a whole.
    pub key: String,
    pub title: String,
    /// What half of the jobs took, and what the next quote may reckon with.
    pub said: String,
    /// None of a single job.
    pub drawing: Option<Drawing>,
    pub rows: Vec<PastRow>,
}

/// The page of a family's hours.
#[derive(Clone, Debug)]
pub struct FamilyHoursView {
    pub id: String,
    pub name: String,
    pub jobs: usize,
    pub steps: Vec<PastStep>,
}

/// The jobs of a family with all that was quoted and worked, oldest first.
struct Jobs {
    builds: Vec<Build>,
    steps: Vec<Step>,
    lines: Vec<QuoteLine>,
    worked: Vec<Worked>,
}

impl Jobs {
    /// Those of its engines, and of the engine it was kept from.
    async fn load(db: &mut Connection, family: &Family) -> Done<Self> {
        let engines = engines::all(db).await?.into_iter().filter(|engine| engine.family == Some(family.id));
        let mut engines: BTreeSet<i64> = engines.map(|engine| engine.id).collect();
        let mut builds = builds::all(db).await?;
        engines.extend(builds.iter().filter(|build| Some(build.id) == family.kept_from).map(|build| build.engine));
        builds.retain(|build| engines.contains(&build.engine));
        builds.reverse();
        let is_of = |build: i64| builds.iter().any(|one| one.id == build);
        let steps = steps::ever(db).await?.into_iter().filter(|step| is_of(step.build)).collect();
        let lines = quotes::lines(db, None).await?;
        let lines = lines.into_iter().filter(|line| !line.withdrawn && is_of(line.build)).collect();
        let worked = worked::of(db, None).await?;
        let worked = worked.into_iter().filter(|one| !one.withdrawn && is_of(one.build)).collect();
        Ok(Self { builds, steps, lines, worked })
    }

    /// Keys and titles of their steps: as the newest job has them, then those that only earlier ones have.
    fn step_names(&self) -> Vec<(&str, &str)> {
        let mut names: Vec<(&str, &str)> = Vec::new();
        for build in self.builds.iter().rev() {
            for step in self.steps.iter().filter(|step| step.build == build.id) {
                if names.iter().all(|(key, _)| *key != step.key) {
                    names.push((&step.key, &step.title));
                }
            }
        }
        names
    }

    /// A step of a job that is done, or the whole of one that is; none where nobody noted time.
    fn past(&self, build: &Build, key: Option<&str>) -> Option<Past> {
        let mut steps = self.steps.iter().filter(|step| step.build == build.id);
        let step = match key {
            Some(key) => Some(steps.find(|step| step.key == key && step.state.is_done())?.id),
            None if steps.clone().next().is_some() && steps.all(|step| step.state.is_done()) => None,
            None => return None,
        };
        let is_of = |of: i64, at: Option<i64>| of == build.id && (key.is_none() || at == step);
        let worked = self.worked.iter().filter(|one| is_of(one.build, one.said.step)).map(|one| one.said.hours.0).sum();
        let lines = self.lines.iter().filter(|line| is_of(line.build, line.said.step));
        let quoted: u32 = lines.filter_map(|line| line.said.hours).map(|hours| hours.0).sum();
        (worked > 0).then_some(Past { quoted: (quoted > 0).then_some(Quarters(quoted)), worked: Quarters(worked) })
    }

    fn step(&self, key: Option<&str>, title: &str) -> Option<PastStep> {
        let of = self.builds.iter().filter_map(|build| Some((build, self.past(build, key)?)));
        let of: Vec<(&Build, Past)> = of.collect();
        let past: Vec<Past> = of.iter().map(|(_, past)| *past).collect();
        let reckoning = reckon(&past)?;
        let hours = |quarters: Quarters| f64::from(quarters.0) / 4.0;
        let drawn = |(build, past): &(&Build, Past)| JobHours {
            job: build.id.to_string(),
            quoted: past.quoted.map(hours),
            worked: hours(past.worked),
        };
        let said = reckoning.words();
        let drawing = || StepHours {
            label: title.to_owned(),
            jobs: of.iter().map(drawn).collect(),
            half: hours(reckoning.half),
            said: said.clone(),
        };
        let drawing = (of.len() > 1).then(|| step_hours(&drawing()));
        let row = |(build, past): &(&Build, Past)| PastRow {
            job: build.id,
            title: build.title.clone(),
            quoted: past.quoted.map(Quarters::show),
            worked: past.worked.show(),
            beyond: past.quoted.is_some_and(|quoted| past.worked > quoted),
        };
        let (key, title) = (key.unwrap_or_default().to_owned(), title.to_owned());
        Some(PastStep { key, title, said, drawing, rows: of.iter().map(row).collect() })
    }
}

impl Shop {
    /// Quoted against worked hours of a family: the job as a whole, then step by step.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no family of this id.
    pub async fn family_hours(&self, public_id: &str) -> Done<FamilyHoursView> {
        let mut db = self.record.look().await?;
        let family = families::by_public_id(&mut db, public_id).await?.ok_or(Refused::NotFound)?;
        let jobs = Jobs::load(&mut db, &family).await?;
        let whole = jobs.step(None, "The job as a whole");
        let steps = jobs.step_names().into_iter().filter_map(|(key, title)| jobs.step(Some(key), title));
        Ok(FamilyHoursView {
            id: public_id.to_owned(),
            name: family.name,
            jobs: jobs.builds.len(),
            steps: whole.into_iter().chain(steps).collect(),
        })
    }
}
