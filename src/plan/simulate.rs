//! The date by simulation: every task drawn many thousand times, and worked by the hands there are.
//!
//! The critical path knows no hands: with one pair of them two steps that could go side by side go one behind the other.

use std::num::{NonZeroU32, NonZeroUsize};

use jiff::civil::Date;
use thiserror::Error;

use super::calendar::{Ahead, Calendar, days_between};
use super::network::{Job, Network, NetworkFault};
use super::trial::Trial;

/// Common practice, no source: the customer is given the date that holds in four of five cases, not the mean.
const GIVEN: f64 = 0.8;
/// What decides less than one trial in a hundred is not asked for what it moves.
const HARDLY_EVER: f64 = 0.01;

/// So many trials are drawn together.
const AT_ONCE: usize = 64;

/// Why no date can be said.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ForecastFault {
    #[error(transparent)]
    Network(#[from] NetworkFault),
    #[error("this would not be done in twenty years at the hours the shop keeps")]
    Beyond,
    #[error("there is no such job")]
    NoSuchJob,
}

/// The floor on which jobs are played through.
#[derive(Clone, Copy, Debug)]
pub struct Simulation<'a> {
    pub calendar: &'a Calendar,
    /// The first day of work: from its opening on. When the day is over, tomorrow.
    pub today: Date,
    /// People at the bench, each on one task at a time; as many as can be counted where hands are no limit.
    pub hands: NonZeroUsize,
    pub seed: u64,
    pub trials: NonZeroU32,
}

impl Simulation<'_> {
    /// When each job is done. Jobs stand in the order in which they go first at the bench; what is begun is not broken off.
    pub fn forecast(&self, jobs: &[Job]) -> Result<Vec<Forecast>, ForecastFault> {
        let network = Network::new(jobs, self.calendar.hours_a_day(), self.seed)?;
        self.play(&network, jobs)
    }

    /// What brings the date that is given (80 %) of one job forward most: a task that takes its least, or comes on the day
    /// it is said to, all else drawn as before. Only what gains a day or more, the most first.
    ///
    /// All is played anew for each task that decides a trial in a hundred: a fifth of the trials of a forecast will do.
    pub fn movers(&self, jobs: &[Job], job: usize) -> Result<Vec<Mover>, ForecastFault> {
        let network = Network::new(jobs, self.calendar.hours_a_day(), self.seed)?;
        let forecasts = self.play(&network, jobs)?;
        let forecast = forecasts.get(job).ok_or(ForecastFault::NoSuchJob)?;
        let mut movers = Vec::new();
        for (index, laid) in network.tasks.iter().enumerate() {
            let often = |share: &&f64| **share >= HARDLY_EVER;
            let Some(&decides) = forecast.decides.get(laid.place).filter(often).filter(|_| laid.job == job) else {
                continue;
            };
            let best = laid.takes.at_best();
            if best == *laid.takes {
                continue;
            }
            let mut changed = network.clone();
            changed.tasks[index].takes = &best;
            let then = self.play(&changed, jobs)?[job].quantile(GIVEN);
            movers.push(Mover { task: laid.place, days: days_between(then, forecast.quantile(GIVEN)), decides });
        }
        movers.retain(|mover| mover.days > 0);
        movers.sort_by(|a, b| b.days.cmp(&a.days).then(b.decides.total_cmp(&a.decides)));
        Ok(movers)
    }

    /// What taking the job at `first` before all others does to the date that is given (80 %) of each; jobs as they stand.
    pub fn put_first(&self, jobs: &[Job], first: usize) -> Result<Vec<Moved>, ForecastFault> {
        if first >= jobs.len() {
            return Err(ForecastFault::NoSuchJob);
        }
        let mut order: Vec<usize> = (0..jobs.len()).collect();
        order[..=first].rotate_right(1);
        let turned: Vec<Job> = order.iter().map(|&job| jobs[job].clone()).collect();
        let (as_it_stands, then) = (self.forecast(jobs)?, self.forecast(&turned)?);
        let moved = as_it_stands.iter().enumerate().map(|(job, forecast)| {
            let place = if job == first { 0 } else { job + usize::from(job < first) };
            Moved { now: forecast.quantile(GIVEN), then: then[place].quantile(GIVEN) }
        });
        Ok(moved.collect())
    }

    fn play(&self, network: &Network<'_>, jobs: &[Job]) -> Result<Vec<Forecast>, ForecastFault> {
        let ahead = Ahead::new(self.calendar, self.today);
        let tasks = network.tasks.len();
        let mut trial = Trial::new(network, &ahead, self.hands.get());
        let mut tallies: Vec<Tally> = jobs.iter().map(Tally::of).collect();
        for first in (0..self.trials.get()).step_by(AT_ONCE) {
            let trials = AT_ONCE.min((self.trials.get() - first) as usize);
            let took = network.draw(first, trials);
            for index in 0..trials {
                trial.run(&took[index * tasks..][..tasks]).ok_or(ForecastFault::Beyond)?;
                for (job, (last, tally)) in trial.last(jobs.len()).into_iter().zip(&mut tallies).enumerate() {
                    tally.add(&trial, network, last, job);
                }
            }
        }
        Ok(tallies.into_iter().map(|tally| tally.forecast(&ahead)).collect())
    }
}

/// What the trials of a job came to.
struct Tally {
    hours: Vec<f64>,
    days: Vec<usize>,
    decided: Vec<u32>,
}

impl Tally {
    fn of(job: &Job) -> Self {
        Self { hours: Vec::new(), days: Vec::new(), decided: vec![0; job.tasks.len()] }
    }

    /// One trial more, in which the job's `last` task ended it.
    fn add(&mut self, trial: &Trial<'_>, network: &Network<'_>, last: Option<usize>, job: usize) {
        let (hours, day) = last.map_or((0.0, 0), |task| trial.end(task));
        self.hours.push(hours);
        self.days.push(day);
        for laid in trial.chain(last).map(|task| &network.tasks[task]).filter(|laid| laid.job == job) {
            self.decided[laid.place] += 1;
        }
    }

    fn forecast(mut self, ahead: &Ahead) -> Forecast {
        self.hours.sort_unstable_by(f64::total_cmp);
        self.days.sort_unstable();
        let trials = self.days.len() as f64;
        Forecast {
            dates: self.days.into_iter().map(|day| ahead.date(day)).collect(),
            hours: self.hours,
            decides: self.decided.into_iter().map(|count| f64::from(count) / trials).collect(),
        }
    }
}

/// When a job is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    dates: Vec<Date>,
    hours: Vec<f64>,
    decides: Vec<f64>,
}

impl Forecast {
    /// The first date by which this share of trials is done.
    pub fn quantile(&self, share: f64) -> Date {
        self.dates[rank(share, self.dates.len())]
    }

    /// The chance that it is done by the end of a day.
    pub fn chance_by(&self, date: Date) -> f64 {
        self.dates.partition_point(|&done| done <= date) as f64 / self.dates.len() as f64
    }

    /// The working hours from now on within which this share of trials is done.
    pub fn quantile_hours(&self, share: f64) -> f64 {
        self.hours[rank(share, self.hours.len())]
    }

    /// Working hours to the end in each trial, rising.
    pub fn hours(&self) -> &[f64] {
        &self.hours
    }

    /// Of each task the share of trials in which it stood in the chain that decided the end (its criticality).
    pub fn decides(&self) -> &[f64] {
        &self.decides
    }
}

/// Where the smallest of `count` rising values stands that this share of them does not exceed.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of trials")]
fn rank(share: f64, count: usize) -> usize {
    ((share * count as f64).ceil() as usize).clamp(1, count) - 1
}

/// What a task would bring if all went well with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mover {
    /// Its place in the job.
    pub task: usize,
    /// Days by which the 80 % date comes forward.
    pub days: i64,
    /// The share of trials it decides as things stand.
    pub decides: f64,
}

/// A job's 80 % date now, and then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    pub now: Date,
    pub then: Date,
}

#[cfg(test)]
mod tests {
    use super::super::days::Days;
    use super::super::hours::Hours;
    use super::super::network::{Takes, Task};
    use super::*;
    use jiff::civil::date;

    /// Monday.
    const TODAY: Date = date(2026, 3, 2);

    fn bench(key: u64, after: &[usize], hours: f64) -> Task {
        Task { key, after: after.to_vec(), takes: Takes::Bench(Hours::fixed(hours).expect("hours")) }
    }

    fn wait(key: u64, after: &[usize], days: u16) -> Task {
        Task { key, after: after.to_vec(), takes: Takes::Wait(Days::fixed(days)) }
    }

    fn nothing(key: u64, after: &[usize]) -> Task {
        Task { key, after: after.to_vec(), takes: Takes::Nothing }
    }

    fn week() -> Calendar {
        Calendar::new([8.0, 8.0, 8.0, 8.0, 8.0, 0.0, 0.0], []).expect("a calendar")
    }

    fn floor(calendar: &Calendar, hands: usize) -> Simulation<'_> {
        let hands = NonZeroUsize::new(hands).expect("hands");
        Simulation { calendar, today: TODAY, hands, seed: 1, trials: NonZeroU32::MIN }
    }

    fn done(hands: usize, jobs: &[Job]) -> Vec<Date> {
        let forecasts = floor(&week(), hands).forecast(jobs).expect("a forecast");
        forecasts.iter().map(|forecast| forecast.quantile(1.0)).collect()
    }

    fn job(tasks: &[Task]) -> Job {
        Job { tasks: tasks.to_vec() }
    }

    #[test]
    fn one_pair_of_hands_does_one_thing_at_a_time() {
        let two = [job(&[bench(1, &[], 8.0), bench(2, &[], 8.0), bench(3, &[0, 1], 8.0)])];
        assert_eq!(done(2, &two), [date(2026, 3, 3)]);
        assert_eq!(done(1, &two), [date(2026, 3, 4)]);
    }

    #[test]
    fn the_task_with_the_longest_way_to_the_end_goes_first() {
        // 2 is quick, but behind it the block is away for ten days: done first all ends when it is back and assembled.
        let tasks = [bench(1, &[], 16.0), bench(2, &[], 8.0), wait(3, &[1], 10), bench(4, &[0, 2], 8.0)];
        // Back on Thursday 12 March, assembled on the 13th.
        assert_eq!(done(1, &[job(&tasks)]), [date(2026, 3, 13)]);
    }

    #[test]
    fn what_comes_is_worked_on_from_the_day_after() {
        assert_eq!(done(1, &[job(&[wait(1, &[], 1), bench(2, &[0], 8.0)])]), [date(2026, 3, 4)]);
        // Comes on Saturday: worked on from Monday. Alone it is there on Saturday.
        assert_eq!(done(1, &[job(&[wait(1, &[], 5), bench(2, &[0], 8.0)])]), [date(2026, 3, 9)]);
        assert_eq!(done(1, &[job(&[wait(1, &[], 5)])]), [date(2026, 3, 7)]);
        // Away from Saturday on, back a day later.
        assert_eq!(done(1, &[job(&[wait(1, &[], 5), nothing(2, &[0]), wait(3, &[1], 1)])]), [date(2026, 3, 8)]);
        // Sent out on the day its work ends, at closing time.
        assert_eq!(done(1, &[job(&[bench(1, &[], 8.0), wait(2, &[0], 2), bench(3, &[1], 1.0)])]), [date(2026, 3, 5)]);
    }

    #[test]
    fn the_chain_that_decides_goes_through_the_hands() {
        let calendar = week();
        let tasks = [bench(1, &[], 8.0), bench(2, &[], 7.0), nothing(3, &[0]), wait(4, &[], 0)];
        let forecast = floor(&calendar, 1).forecast(&[job(&tasks)]).expect("a forecast").remove(0);
        assert_eq!(forecast.decides(), [1.0, 1.0, 0.0, 0.0], "the second waited for nothing but the hands");
        assert_eq!(forecast.hours(), [15.0]);
        let forecast = floor(&calendar, 2).forecast(&[job(&tasks)]).expect("a forecast").remove(0);
        assert_eq!(forecast.decides(), [1.0, 0.0, 0.0, 0.0], "done on the same day as what is waited for");
    }

    #[test]
    fn another_engine_first_costs_this_one_its_hours() {
        let jobs = [job(&[bench(1, &[], 16.0)]), job(&[bench(2, &[], 8.0)]), job(&[bench(3, &[], 24.0)])];
        let moved = floor(&week(), 1).put_first(&jobs, 2).expect("dates");
        let dates = |moved: fn(&Moved) -> Date, all: &[Moved]| all.iter().map(moved).map(Date::day).collect::<Vec<_>>();
        assert_eq!(dates(|moved| moved.now, &moved), [3, 4, 9]);
        assert_eq!(dates(|moved| moved.then, &moved), [6, 9, 4]);
        assert_eq!(floor(&week(), 1).put_first(&jobs, 3), Err(ForecastFault::NoSuchJob));
    }

    #[test]
    fn what_moves_the_date_most_stands_first() {
        let calendar = week();
        let long = Hours::of_curve(&[(8.0, 0.0), (40.0, 1.0)]).expect("a curve");
        let short = Hours::of_curve(&[(8.0, 0.0), (24.0, 1.0)]).expect("a curve");
        let task = |key, hours: &Hours| Task { key, after: vec![], takes: Takes::Bench(hours.clone()) };
        let floor = Simulation { trials: NonZeroU32::new(1000).expect("trials"), ..floor(&calendar, 1) };
        let jobs = [job(&[task(1, &short), bench(2, &[], 8.0), task(3, &long)])];
        let movers = floor.movers(&jobs, 0).expect("movers");
        assert_eq!(movers.iter().map(|mover| mover.task).collect::<Vec<_>>(), [2, 0], "what is fixed moves nothing");
        assert!(movers[0].days > movers[1].days && movers[1].days > 0);
    }

    #[test]
    fn nothing_to_do_is_done_today() {
        assert_eq!(done(1, &[Job::default(), job(&[nothing(1, &[])])]), [TODAY, TODAY]);
    }

    #[test]
    fn what_cannot_be_played_through_is_refused() {
        let calendar = week();
        let floor = floor(&calendar, 1);
        let refused = |jobs: &[Job]| floor.forecast(jobs).expect_err("a fault").to_string();
        assert_eq!(refused(&[job(&[bench(7, &[], 1.0)]), job(&[bench(7, &[], 1.0)])]), "two tasks have the same key 7");
        assert!(refused(&[job(&[bench(1, &[0], 1.0)])]).contains("circle"));
        assert!(refused(&[job(&[bench(1, &[], 1e6)])]).contains("twenty years"));
    }
}
