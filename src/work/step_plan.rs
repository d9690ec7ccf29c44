//! A step in the plan: how long it is expected to take, and which steps it follows.

use super::Shop;
use super::bench_calendar::{hours_text, hours_typed};
use super::bench_time::{Expected, expected};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::floor::StepLink;
use super::job::JobHead;
use crate::charges::hours::Quarters;
use crate::plan::{Graph, GraphFault, ThreePoint};
use crate::record::step_hours::{self, Hours};
use crate::record::steps::{self, Step};
use jiff::Timestamp;
use std::collections::BTreeMap;

/// Hours at the bench, as typed.
#[derive(Clone, Debug, Default)]
pub struct HoursForm {
    pub least: String,
    pub likely: String,
    pub most: String,
}

/// A step that another may follow.
#[derive(Clone, Debug)]
pub struct BeforeView {
    pub step: StepLink,
    pub follows: bool,
}

/// A step in the plan.
#[derive(Clone, Debug)]
pub struct StepPlanView {
    pub head: JobHead,
    pub step: StepLink,
    /// As the builder says, or as we guess.
    pub hours: HoursForm,
    pub guessed: bool,
    /// "three engines took 9 to 14 h", where that is what stands here.
    pub earlier: Option<String>,
    /// Hours worked on it already: "4.5 h".
    pub worked: Option<String>,
    /// Every other step, in the order shown.
    pub before: Vec<BeforeView>,
    /// The newest act that changed the step: what the form of its predecessors saw.
    pub act: i64,
}

impl HoursForm {
    pub(super) fn of(expected: &Expected<'_>) -> Self {
        let hours = expected.hours;
        Self { least: hours_text(hours.least()), likely: hours_text(hours.likely()), most: hours_text(hours.most()) }
    }

    fn understood(&self) -> Done<Hours> {
        let mut faults = Vec::new();
        let mut figure = |field: &str, typed: &str| {
            let hours = hours_typed(typed).filter(|hours| !typed.trim().is_empty() && *hours <= MOST_HOURS);
            if hours.is_none() {
                faults.push(FieldFault::new(field, "enter hours, such as 6 or 1.5"));
            }
            hours
        };
        let figures = (figure("least", &self.least), figure("likely", &self.likely), figure("most", &self.most));
        let (Some(least), Some(likely), Some(most)) = figures else { return Err(Refused::Faults(faults)) };
        if likely < least {
            faults.push(FieldFault::new("likely", format!("this is less than the least: enter {least} or more")));
        }
        if most < likely {
            faults.push(FieldFault::new("most", format!("this is less than is likely: enter {likely} or more")));
        }
        if faults.is_empty()
            && let Err(why) = ThreePoint::new(least, likely, most)
        {
            faults.push(FieldFault::new("most", why));
        }
        if faults.is_empty() { Ok(Hours { least, likely, most }) } else { Err(Refused::Faults(faults)) }
    }
}

/// Longer than this no step takes at the bench: a year of work.
const MOST_HOURS: f64 = 2000.0;

/// The steps' titles in the order of the circle they are in, if they were to follow each other so.
fn circle(all: &[Step], step: &Step, after: &[i64]) -> Option<String> {
    let places: BTreeMap<i64, usize> = all.iter().enumerate().map(|(place, step)| (step.id, place)).collect();
    let of = |one: &Step| {
        let ids = if one.id == step.id { after } else { &one.after };
        ids.iter().filter_map(|id| places.get(id).copied()).collect()
    };
    match Graph::new(all.iter().map(of).collect()) {
        Err(GraphFault::Cycle { steps }) => {
            let titles: Vec<&str> = steps.iter().chain(steps.first()).map(|&place| &*all[place].title).collect();
            Some(titles.join(" → "))
        }
        _ => None,
    }
}

impl Shop {
    /// A step in the plan.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job or step.
    pub async fn step_plan(&self, job: i64, key: &str, now: Timestamp) -> Done<StepPlanView> {
        let look = self.look_at_job(job, now).await?;
        let step = look.steps.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        let mut db = self.record.look().await?;
        let shop = self.in_shop(&mut db, now).await?;
        let said = step_hours::of(&mut db, Some(job)).await?;
        drop(db);
        let own = shop.job(job);
        let expected = own.map_or_else(|| expected(step, &said, None), |own| shop.expected(own, step));
        let others = look.steps.iter().filter(|other| other.id != step.id);
        Ok(StepPlanView {
            head: look.head(),
            step: StepLink::to(step),
            hours: HoursForm::of(&expected),
            guessed: expected.guessed(),
            earlier: expected.earlier(),
            worked: own.map(|own| own.worked(step)).filter(|worked| worked.0 > 0).map(Quarters::show),
            before: others
                .map(|other| BeforeView { step: StepLink::to(other), follows: step.after.contains(&other.id) })
                .collect(),
            act: step.act,
        })
    }

    /// Keeps how long a step is expected to take at the bench.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such step; [`Refused::Faults`] for hours that cannot be.
    pub async fn expect_hours(&self, doing: &Doing, job: i64, key: &str, form: &HoursForm) -> Done<()> {
        let step = self.step_id(job, Some(key)).await?.ok_or(Refused::NotFound)?;
        let hours = form.understood()?;
        let Some(mut w) = self.begin(doing, "expect hours", Some(job)).await? else { return Ok(()) };
        step_hours::set(&mut w, step, hours).await?;
        Ok(w.commit().await?)
    }

    /// Says which steps a step follows, by their keys; `saw` is the act that had last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] naming the steps of a circle, [`Refused::Conflict`] where it was changed since.
    pub async fn follow(&self, doing: &Doing, job: i64, key: &str, saw: Option<i64>, after: &[String]) -> Done<()> {
        self.step_id(job, Some(key)).await?;
        let Some(mut w) = self.begin(doing, "change what follows", Some(job)).await? else { return Ok(()) };
        let all = steps::of(&mut w, Some(job)).await?;
        let step = all.iter().find(|step| step.key == key).ok_or(Refused::NotFound)?;
        if saw.is_some_and(|saw| saw != step.act) {
            return Err(Refused::Conflict { stands: format!("{} was changed meanwhile", step.title) });
        }
        let id = |key: &String| all.iter().find(|other| other.key == *key && other.id != step.id).map(|other| other.id);
        let after: Option<Vec<i64>> = after.iter().map(id).collect();
        let after = after.ok_or_else(|| Refused::fault("after", "choose other steps of this job"))?;
        if let Some(circle) = circle(&all, step, &after) {
            let words = format!("these would wait for each other in a circle: {circle}; take one tick away");
            return Err(Refused::fault("after", words));
        }
        steps::set_after(&mut w, step, &after).await?;
        Ok(w.commit().await?)
    }
}
