//! A job's plan: what decides how long it takes, the date to tell, what moves it, and what it waits for.

use super::Shop;
use super::arrivals::Suppliers;
use super::bench_calendar::hours_text;
use super::doing::Done;
use super::floor::StepLink;
use super::in_shop::{InShop, JobInShop};
use super::job::JobHead;
use super::plan_picture::picture;
use super::plan_tasks::{PlanTasks, TaskOf, is_open};
use super::promises::PromiseView;
use super::step_plan::HoursForm;
use super::waits::{WaitView, kinds_of_wait};
use super::when::civil;
use crate::charges::hours::Quarters;
use crate::drawing::Drawing;
use crate::plan::{self, CriticalPath, Forecast, ForecastFault, Promise, Simulation, Takes};
use crate::record::{promises, waits};
use jiff::Timestamp;
use jiff::civil::Date;
use std::num::NonZeroU32;

/// So many tasks are drawn for one page: trials enough for a job, and a page at once for many.
const TASKS_DRAWN: usize = 400_000;
const TRIALS: std::ops::RangeInclusive<usize> = 1000..=10_000;
/// Of these a fifth tells what moves the date.
const OF_MOVERS: u32 = 5;

/// What else the page is asked.
#[derive(Clone, Copy, Debug, Default)]
pub struct PlanAsked {
    /// What moves the date most.
    pub moves: bool,
    /// What taking this job before all others does.
    pub first: Option<i64>,
}

/// The date to tell.
#[derive(Clone, Debug)]
pub struct ToldView {
    /// "Tell him mid-June, not before the 3rd."
    pub sentence: String,
    /// The days by which it is done in half, in 8 of 10 and in 19 of 20 cases.
    pub even: String,
    pub given: String,
    pub safe: String,
    /// The 8 of 10 day as a form takes it.
    pub given_day: String,
    pub trials: u32,
    /// "the day promised holds in 62 of 100".
    pub promise_holds: Option<String>,
}

/// A step in the plan.
#[derive(Clone, Debug)]
pub struct PlanStep {
    pub step: StepLink,
    /// "3 to 10 h, likely 6 h".
    pub hours: String,
    pub guessed: bool,
    /// "three engines took 9 to 14 h", where that is what it rests on.
    pub earlier: Option<String>,
    /// Hours worked on it already: "4.5 h".
    pub worked: Option<String>,
    /// "12 Jun to 14 Jun 2026".
    pub when: String,
    /// "12 days"; none: it decides.
    pub float: Option<String>,
    /// Titles of the steps not done that it follows, then what else it needs.
    pub waits: Vec<String>,
}

/// Something the job waits for.
#[derive(Clone, Debug)]
pub struct PlanNeed {
    /// "crank: six weeks".
    pub what: String,
    pub step: StepLink,
    /// "half by 3 June 2026, 8 of 10 by 17 June 2026".
    pub comes: String,
    /// What says so.
    pub by: String,
    pub undated: bool,
    /// Of late ones the day it was due.
    pub late: bool,
}

/// What would move the date.
#[derive(Clone, Debug)]
pub struct MoverView {
    /// "crank".
    pub what: String,
    /// "9 days sooner".
    pub sooner: String,
    /// "it decides in 64 of 100".
    pub decides: String,
    pub is_step: bool,
}

/// What taking one job first does to another.
#[derive(Clone, Debug)]
pub struct MovedView {
    pub job: i64,
    pub title: String,
    pub now: String,
    pub then: String,
    /// "7 days later", "3 days sooner".
    pub by: String,
}

/// A job's plan.
#[derive(Clone, Debug)]
pub struct PlanView {
    pub head: JobHead,
    pub told: Option<ToldView>,
    /// Why no date can be told; empty where it can.
    pub no_date: String,
    pub steps: Vec<PlanStep>,
    pub needs: Vec<PlanNeed>,
    pub picture: Option<Drawing>,
    /// Steps of which nobody said the hours.
    pub guessed_steps: usize,
    /// Nobody said the shop's hours and hands.
    pub guessed_time: bool,
    /// "1 pair of hands, 40 hours a week".
    pub bench: String,
    /// The newest first.
    pub promised: Vec<PromiseView>,
    pub waits: Vec<WaitView>,
    pub kinds_of_wait: Vec<(&'static str, &'static str)>,
    /// Steps that may wait: key and title; the empty key is the whole job.
    pub open_steps: Vec<(String, String)>,
    /// Asked for: what moves the date most.
    pub movers: Option<Vec<MoverView>>,
    /// Other jobs that could go first: number and title.
    pub others: Vec<(String, String)>,
    /// Asked for: the job put first, and what that does.
    pub first: Option<(i64, Vec<MovedView>)>,
}

/// "1 day", "12 days".
fn days_words(days: i64) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

/// "12 days", "less than a day".
fn float_words(days: f64) -> String {
    if days < 1.0 { "less than a day".to_owned() } else { days_words(whole(days)) }
}

/// "64 of 100".
fn of_hundred(share: f64) -> String {
    format!("{:.0} of 100", share * 100.0)
}

#[expect(clippy::cast_possible_truncation, reason = "days of a plan, far below 2^52")]
fn whole(days: f64) -> i64 {
    days.floor() as i64
}

pub(super) fn day_after(today: Date, days: i64) -> Date {
    today.saturating_add(jiff::SignedDuration::from_hours(24 * days))
}

/// The floor as it is played through: the jobs in turn, and which of them is asked for.
struct Played<'a> {
    shop: &'a InShop,
    numbers: Vec<i64>,
    jobs: Vec<plan::Job>,
    at: usize,
}

impl<'a> Played<'a> {
    fn simulation(&self, job: i64, part: u32) -> Simulation<'a> {
        let tasks = self.jobs.iter().map(|job| job.tasks.len()).sum::<usize>().max(1);
        let trials = (TASKS_DRAWN / tasks).clamp(*TRIALS.start(), *TRIALS.end());
        let trials = u32::try_from(trials).unwrap_or(u32::MAX) / part;
        Simulation {
            calendar: &self.shop.time.calendar,
            today: self.shop.today,
            hands: self.shop.time.hands,
            seed: job.unsigned_abs(),
            trials: NonZeroU32::new(trials).unwrap_or(NonZeroU32::MIN),
        }
    }

    fn forecast(&self, simulation: &Simulation<'_>) -> Result<Forecast, ForecastFault> {
        // Those behind take no hands from it, but for what they have begun.
        let mut forecasts = simulation.forecast(&self.jobs[..=self.at])?;
        forecasts.pop().ok_or(ForecastFault::NoSuchJob)
    }

    fn moved(&self, simulation: &Simulation<'_>, first: i64) -> Option<Vec<MovedView>> {
        let place = self.numbers.iter().position(|number| *number == first)?;
        let moved = simulation.put_first(&self.jobs, place).ok()?;
        let one = |(number, moved): (&i64, plan::Moved)| {
            let days = plan::days_between(moved.now, moved.then);
            let build = &self.shop.job(*number)?.build;
            (days != 0).then(|| MovedView {
                job: *number,
                title: build.title.clone(),
                now: civil(moved.now),
                then: civil(moved.then),
                by: format!("{} {}", days_words(days.abs()), if days > 0 { "later" } else { "sooner" }),
            })
        };
        Some(self.numbers.iter().zip(moved).filter_map(one).collect())
    }
}

fn told(forecast: &Forecast, promised: Option<Date>, today: Date, trials: u32) -> ToldView {
    let promise = Promise::of(forecast);
    let holds = promised.map(|day| of_hundred(forecast.chance_by(day)));
    ToldView {
        sentence: format!("Tell him {}.", promise.words(today)),
        even: civil(promise.even),
        given: civil(promise.given),
        safe: civil(promise.safe),
        given_day: promise.given.to_string(),
        trials,
        promise_holds: holds.map(|share| format!("the day promised holds in {share}")),
    }
}

fn plan_steps(shop: &InShop, job: &JobInShop, tasks: &PlanTasks<'_>, path: &CriticalPath) -> Vec<PlanStep> {
    let of = |(task, times): (&TaskOf<'_>, &plan::Times)| {
        let TaskOf::Step(step) = task else { return None };
        let expected = shop.expected(job, step);
        let HoursForm { least, likely, most } = HoursForm::of(&expected);
        let on = |days: f64, format: &str| day_after(shop.today, whole(days)).strftime(format).to_string();
        let open = |id: &&i64| job.steps.iter().any(|other| other.id == **id && is_open(other));
        let title = |id: &i64| job.steps.iter().find(|other| other.id == *id).map(|s| s.title.clone());
        let before = step.after.iter().filter(open).filter_map(title);
        is_open(step).then(|| PlanStep {
            step: StepLink::to(step),
            hours: format!("{least} to {most} h, likely {likely} h"),
            guessed: expected.guessed(),
            earlier: expected.earlier(),
            worked: Some(job.worked(step)).filter(|worked| worked.0 > 0).map(Quarters::show),
            when: format!("{} to {}", on(times.earliest_start, "%-d %b"), on(times.earliest_finish, "%-d %b %Y")),
            float: (times.total_float > 0.0).then(|| float_words(times.total_float)),
            waits: before.chain(job.needs.in_words(step, shop.today)).collect(),
        })
    };
    tasks.of.iter().zip(&path.times).filter_map(of).collect()
}

fn plan_needs(today: Date, tasks: &PlanTasks<'_>) -> Vec<PlanNeed> {
    let of = |task: &TaskOf<'_>| {
        let TaskOf::Need(needed, arrival, step) = task else { return None };
        let by = |share| {
            let days = i64::try_from(arrival.days.quantile(share)).unwrap_or_default();
            civil(day_after(today, days))
        };
        Some(PlanNeed {
            what: needed.said(today),
            step: StepLink::to(step),
            comes: format!("half by {}, 8 of 10 by {}", by(0.5), by(0.8)),
            by: arrival.by.clone(),
            undated: needed.due.is_none(),
            late: needed.due.is_some_and(|due| due < today),
        })
    };
    tasks.of.iter().filter_map(of).collect()
}

fn movers(played: &Played<'_>, tasks: &PlanTasks<'_>, simulation: &Simulation<'_>) -> Option<Vec<MoverView>> {
    let movers = simulation.movers(&played.jobs[..=played.at], played.at).ok()?;
    let view = |mover: plan::Mover| MoverView {
        what: match &tasks.of[mover.task] {
            TaskOf::Step(step) => step.title.clone(),
            TaskOf::Need(needed, ..) => needed.what.clone(),
        },
        sooner: format!("{} sooner", days_words(mover.days)),
        decides: format!("it decides in {}", of_hundred(mover.decides)),
        is_step: matches!(tasks.of[mover.task], TaskOf::Step(_)),
    };
    Some(movers.into_iter().map(view).collect())
}

impl Shop {
    /// A job's plan; the same record gives the same plan on the same day.
    ///
    /// # Errors
    /// [`super::Refused::NotFound`] where there is no such job.
    pub async fn plan(&self, job: i64, asked: PlanAsked, now: Timestamp) -> Done<PlanView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let shop = self.in_shop(&mut db, now).await?;
        let suppliers = Suppliers::load(&mut db).await?;
        let told_before = promises::of(&mut db, Some(job)).await?;
        let awaited = waits::of(&mut db, Some(job)).await?;
        drop(db);
        let turn = shop.in_turn();
        let own = shop.job(job);
        let tasks = own.map(|own| PlanTasks::of(&shop, own, &suppliers)).unwrap_or_default();
        let at = turn.iter().position(|other| other.build.id == job);
        let numbers: Vec<i64> = turn.iter().map(|other| other.build.id).collect();
        let jobs = turn.iter().map(|other| PlanTasks::of(&shop, other, &suppliers).job).collect();
        let played = Played { shop: &shop, numbers, jobs, at: at.unwrap_or_default() };
        let path = tasks.critical_path(shop.time.calendar.hours_a_day());
        let timed = own.zip(path.as_ref());
        let simulation = played.simulation(job, 1);
        let to_do = tasks.job.tasks.iter().any(|task| !matches!(task.takes, Takes::Nothing));
        let forecast = match (at, to_do) {
            (None, _) => Err("It has left the shop or is parked: nothing of it is planned.".to_owned()),
            (_, false) => Err("Every step is done.".to_owned()),
            _ => played.forecast(&simulation).map_err(|why| format!("No date can be told: {why}.")),
        };
        let open = || look.steps.iter().filter(|step| is_open(step));
        let whole = (String::new(), "the whole job".to_owned());
        let week: f64 = shop.time.week.iter().sum();
        let hands = shop.time.hands.get();
        let pairs = if hands == 1 { "1 pair of hands".to_owned() } else { format!("{hands} pairs of hands") };
        let told_on = forecast.as_ref().ok().map(|forecast| Promise::of(forecast).given);
        let others = turn.iter().filter(|other| other.build.id != job);
        Ok(PlanView {
            head: look.head(),
            told: forecast
                .as_ref()
                .ok()
                .map(|forecast| told(forecast, own.and_then(|own| own.promised), shop.today, simulation.trials.get())),
            steps: timed.map_or_else(Vec::new, |(own, path)| plan_steps(&shop, own, &tasks, path)),
            needs: plan_needs(shop.today, &tasks),
            picture: timed.filter(|_| to_do).map(|(own, path)| picture(shop.today, own, &tasks, path, told_on)),
            guessed_steps: own.map_or(0, |own| open().filter(|step| shop.expected(own, step).guessed()).count()),
            guessed_time: shop.time.guessed,
            bench: format!("{pairs}, {} hours a week", hours_text(week)),
            promised: told_before.iter().rev().map(|one| PromiseView::of(one, &look.when)).collect(),
            waits: look.waiting(&awaited, None),
            kinds_of_wait: kinds_of_wait(),
            open_steps: std::iter::once(whole)
                .chain(open().map(|step| (step.key.clone(), step.title.clone())))
                .collect(),
            movers: if asked.moves && told_on.is_some() {
                movers(&played, &tasks, &played.simulation(job, OF_MOVERS))
            } else {
                None
            },
            others: others
                .map(|other| (other.build.id.to_string(), format!("{} {}", other.build.id, other.build.title)))
                .collect(),
            first: asked.first.and_then(|first| Some((first, played.moved(&simulation, first)?))),
            no_date: forecast.err().unwrap_or_default(),
        })
    }
}
