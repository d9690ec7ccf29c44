//! What can go ahead today, and what each other step waits for.

use std::cmp::Ordering;

use jiff::civil::Date;

use super::calendar::{Ahead, days_between};
use super::due::how_far_off;
use super::graph::{Graph, GraphFault};

/// How far a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    Ahead,
    Begun,
    /// Signed, or done elsewhere.
    Done,
    /// Left out: what follows it waits for what it would have waited for.
    NotOnJob,
}

/// Something a step needs that is not a step: a part, an answer, a deposit, a block that is away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need<'a> {
    pub what: &'a str,
    /// Here, given or paid.
    pub met: bool,
    /// When it is said to come.
    pub due: Option<Date>,
}

/// A step of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Step<'a> {
    pub state: State,
    /// The steps it follows, by their places.
    pub after: Vec<usize>,
    /// Hours at the bench that are expected of it, zero or more.
    pub hours: f64,
    /// Parts first, then what else is waited for.
    pub needs: Vec<Need<'a>>,
}

/// What a step waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason<'a> {
    /// A step that is not done, by its place.
    Step(usize),
    Need(Need<'a>),
}

/// How it stands with a step that is not done.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand<'a> {
    /// Its place in the job.
    pub step: usize,
    pub begun: bool,
    /// Steps first, then needs in their order; none where it can go ahead.
    pub reasons: Vec<Reason<'a>>,
    /// Bench hours from its beginning to the end of the job, one step behind the other along the longest way.
    pub hours_to_the_end: f64,
    /// Days left over before the promised day, were it begun now; below zero it is late already. None without a promise.
    pub spare_days: Option<i64>,
}

impl<'a> Stand<'a> {
    pub fn is_ready(&self) -> bool {
        self.reasons.is_empty()
    }

    /// The one thing it waits for, where it is only one.
    pub fn only_reason(&self) -> Option<Reason<'a>> {
        match self.reasons[..] {
            [reason] => Some(reason),
            _ => None,
        }
    }
}

impl Need<'_> {
    /// "crank: six weeks"; without a day only what it is.
    pub fn said(&self, today: Date) -> String {
        match self.due {
            Some(due) => format!("{}: {}", self.what, how_far_off(today, due)),
            None => self.what.to_owned(),
        }
    }
}

/// How it stands with each step that is not done, in their order; days are reckoned from the first of `ahead`.
pub fn stand<'a>(steps: &[Step<'a>], promised: Option<Date>, ahead: &Ahead) -> Result<Vec<Stand<'a>>, GraphFault> {
    let graph = Graph::new(steps.iter().map(|step| step.after.clone()).collect())?;
    let to_do = |step: &Step<'_>| matches!(step.state, State::Ahead | State::Begun);
    let hours: Vec<f64> = steps.iter().map(|step| if to_do(step) { step.hours } else { 0.0 }).collect();
    let to_the_end = graph.to_the_end(&hours);
    let open = open_before(&graph, steps);
    let stands = steps.iter().enumerate().filter(|(_, step)| to_do(step)).map(|(index, step)| {
        let needs = step.needs.iter().filter(|need| !need.met).map(|&need| Reason::Need(need));
        Stand {
            step: index,
            begun: step.state == State::Begun,
            reasons: open[index].iter().map(|&before| Reason::Step(before)).chain(needs).collect(),
            hours_to_the_end: to_the_end[index],
            spare_days: promised.map(|promised| spare_days(promised, to_the_end[index], ahead)),
        }
    });
    Ok(stands.collect())
}

/// The most urgent first: the least spare days, without a promise last; of those the longest way to the end.
pub fn most_urgent_first(a: &Stand<'_>, b: &Stand<'_>) -> Ordering {
    let days = |stand: &Stand<'_>| stand.spare_days.unwrap_or(i64::MAX);
    days(a).cmp(&days(b)).then(b.hours_to_the_end.total_cmp(&a.hours_to_the_end))
}

/// The steps not done that each step waits for; one that is not on the job hands on its own.
fn open_before(graph: &Graph, steps: &[Step<'_>]) -> Vec<Vec<usize>> {
    let mut open: Vec<Vec<usize>> = vec![Vec::new(); steps.len()];
    for &step in graph.order() {
        let mut before = Vec::new();
        for &one in graph.after(step) {
            match steps[one].state {
                State::Ahead | State::Begun => before.push(one),
                State::NotOnJob => before.extend_from_slice(&open[one]),
                State::Done => {}
            }
        }
        before.sort_unstable();
        before.dedup();
        open[step] = before;
    }
    open
}

/// What would not be done as far as is reckoned ahead is late by all of that.
fn spare_days(promised: Date, hours: f64, ahead: &Ahead) -> i64 {
    days_between(ahead.date(ahead.day_of(hours).unwrap_or(usize::MAX)), promised)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::calendar::Calendar;
    use jiff::civil::date;

    const TODAY: Date = date(2026, 3, 2);

    fn ahead() -> Ahead {
        let week = Calendar::new([8.0, 8.0, 8.0, 8.0, 8.0, 0.0, 0.0], []).expect("a calendar");
        Ahead::new(&week, TODAY)
    }

    fn step(state: State, after: &[usize], needs: &[Need<'static>]) -> Step<'static> {
        Step { state, after: after.to_vec(), hours: 4.0, needs: needs.to_vec() }
    }

    const CRANK: Need<'static> = Need { what: "crank", met: false, due: Some(date(2026, 4, 13)) };
    const SHELLS: Need<'static> = Need { what: "main shells", met: true, due: None };
    const ANSWER: Need<'static> = Need { what: "customer’s answer", met: false, due: None };

    #[test]
    fn each_step_says_what_it_waits_for() {
        let steps = [
            step(State::Done, &[], &[CRANK]),
            step(State::Ahead, &[0], &[SHELLS]),
            step(State::Begun, &[0], &[SHELLS, CRANK]),
            step(State::Ahead, &[1, 2], &[CRANK, ANSWER]),
        ];
        let stands = stand(&steps, Some(date(2026, 3, 6)), &ahead()).expect("no circle");
        assert_eq!(stands.iter().map(|stand| stand.step).collect::<Vec<_>>(), [1, 2, 3], "done steps stand nowhere");
        assert!(stands[0].is_ready() && !stands[0].begun);
        assert!(!stands[1].is_ready() && stands[1].begun);
        assert_eq!(stands[1].only_reason(), Some(Reason::Need(CRANK)));
        assert_eq!(
            stands[2].reasons,
            [Reason::Step(1), Reason::Step(2), Reason::Need(CRANK), Reason::Need(ANSWER)],
            "steps, then needs"
        );
        assert_eq!(stands[2].only_reason(), None);
        assert_eq!(CRANK.said(TODAY), "crank: six weeks");
        assert_eq!(ANSWER.said(TODAY), "customer’s answer");
    }

    #[test]
    fn a_step_left_out_hands_on_what_it_would_wait_for() {
        let steps =
            [step(State::Ahead, &[], &[]), step(State::NotOnJob, &[0], &[CRANK]), step(State::Ahead, &[0, 1], &[])];
        let stands = stand(&steps, None, &ahead()).expect("no circle");
        assert_eq!(stands[1].reasons, [Reason::Step(0)]);
        assert_eq!((stands[0].hours_to_the_end, stands[0].spare_days), (8.0, None), "what is left out takes no time");
    }

    #[test]
    fn the_most_urgent_comes_first() {
        // Two steps of four hours are done today; promised on Friday that leaves four days.
        let steps = [step(State::Ahead, &[], &[]), step(State::Ahead, &[0], &[])];
        let friday = stand(&steps, Some(date(2026, 3, 6)), &ahead()).expect("no circle");
        let late = stand(&steps, Some(date(2026, 3, 1)), &ahead()).expect("no circle");
        let whenever = stand(&steps, None, &ahead()).expect("no circle");
        assert_eq!((friday[0].spare_days, late[0].spare_days), (Some(4), Some(-1)));
        let mut all = [whenever[0].clone(), friday[1].clone(), friday[0].clone(), late[0].clone()];
        all.sort_by(most_urgent_first);
        assert_eq!(all, [late[0].clone(), friday[0].clone(), friday[1].clone(), whenever[0].clone()]);
    }

    #[test]
    fn a_circle_is_refused() {
        let steps = [step(State::Ahead, &[1], &[]), step(State::Ahead, &[0], &[])];
        assert_eq!(stand(&steps, None, &ahead()), Err(GraphFault::Cycle { steps: vec![0, 1] }));
    }
}
