//! One way it may go: whoever is free takes the task whose turn comes first among those that can begin.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use super::calendar::Ahead;
use super::network::{Network, Took};

/// The end of a task.
#[derive(Clone, Copy, Debug)]
struct End {
    at: f64,
    task: usize,
}

impl Ord for End {
    fn cmp(&self, other: &Self) -> Ordering {
        self.at.total_cmp(&other.at).then(self.task.cmp(&other.task))
    }
}

impl PartialOrd for End {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for End {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for End {}

/// How far a task came in this trial.
#[derive(Clone, Copy, Debug, Default)]
struct Reached {
    /// Tasks it follows that are not done yet.
    open: usize,
    /// When it could begin.
    ready: f64,
    /// When it was done, in working hours.
    end: f64,
    /// The day of that; before, the last day on which something that it follows was done.
    day: usize,
    /// The task whose end let it begin when it did: the last it follows, or the one that kept the hands.
    held_by: Option<usize>,
}

/// One trial after another over the same network.
#[derive(Debug)]
pub(super) struct Trial<'a> {
    network: &'a Network<'a>,
    ahead: &'a Ahead,
    hands: usize,
    reached: Vec<Reached>,
    ends: BinaryHeap<Reverse<End>>,
    ready: BinaryHeap<Reverse<usize>>,
}

impl<'a> Trial<'a> {
    pub(super) fn new(network: &'a Network<'a>, ahead: &'a Ahead, hands: usize) -> Self {
        let count = network.tasks.len();
        let reached = vec![Reached::default(); count];
        Self { network, ahead, hands, reached, ends: BinaryHeap::new(), ready: BinaryHeap::new() }
    }

    /// Plays it with what each task takes; none where it goes on beyond what is reckoned ahead.
    pub(super) fn run(&mut self, took: &[Took]) -> Option<()> {
        let network = self.network;
        for (reached, task) in self.reached.iter_mut().zip(&network.tasks) {
            *reached = Reached { open: task.before, ..Reached::default() };
        }
        for task in (0..network.tasks.len()).filter(|&task| network.tasks[task].before == 0) {
            self.can_begin(task, 0.0, took)?;
        }
        let (mut now, mut free, mut freed_by) = (0.0, self.hands, None);
        loop {
            while let Some(&Reverse(end)) = self.ends.peek().filter(|next| next.0.at <= now) {
                self.ends.pop();
                if matches!(took[end.task], Took::Hours(_)) {
                    free += 1;
                    freed_by = Some(end.task);
                }
                self.done(end, took)?;
            }
            while free > 0
                && let Some(Reverse(task)) = self.ready.pop()
            {
                free -= 1;
                self.begin(task, now, freed_by, took);
            }
            let Some(Reverse(next)) = self.ends.peek() else { return Some(()) };
            now = next.at;
        }
    }

    /// What a task follows is done.
    fn can_begin(&mut self, task: usize, now: f64, took: &[Took]) -> Option<()> {
        let reached = &mut self.reached[task];
        reached.ready = now;
        match took[task] {
            Took::Hours(_) => self.ready.push(Reverse(task)),
            Took::Nothing => self.ends.push(Reverse(End { at: now, task })),
            Took::Days(days) => {
                reached.day += days;
                let at = self.ahead.closing(reached.day)?.max(now);
                self.ends.push(Reverse(End { at, task }));
            }
        }
        Some(())
    }

    /// Somebody begins a task at the bench.
    fn begin(&mut self, task: usize, now: f64, freed_by: Option<usize>, took: &[Took]) {
        let reached = &mut self.reached[task];
        if reached.ready < now {
            reached.held_by = freed_by;
        }
        if let Took::Hours(hours) = took[task] {
            self.ends.push(Reverse(End { at: now + hours, task }));
        }
    }

    /// A task is done: what follows it may begin.
    fn done(&mut self, End { at, task }: End, took: &[Took]) -> Option<()> {
        let laid = &self.network.tasks[task];
        let reached = &mut self.reached[task];
        reached.end = at;
        if laid.day_matters && matches!(took[task], Took::Hours(_)) {
            reached.day = reached.day.max(self.ahead.day_of(at)?);
        }
        let day = reached.day;
        for &next in &laid.followers {
            let follower = &mut self.reached[next];
            follower.open -= 1;
            follower.day = follower.day.max(day);
            if follower.open == 0 {
                follower.held_by = Some(task);
                self.can_begin(next, at, took)?;
            }
        }
        Some(())
    }

    /// The task of each job that was done last, as an index into the network; none for a job without tasks.
    pub(super) fn last(&self, jobs: usize) -> Vec<Option<usize>> {
        let mut last: Vec<Option<usize>> = vec![None; jobs];
        for (task, laid) in self.network.tasks.iter().enumerate() {
            let ends = |task: usize| (self.reached[task].end, self.reached[task].day);
            let latest = &mut last[laid.job];
            if latest.is_none_or(|before| ends(task) > ends(before)) {
                *latest = Some(task);
            }
        }
        last
    }

    /// When a task was done, in working hours, and on which day.
    pub(super) fn end(&self, task: usize) -> (f64, usize) {
        (self.reached[task].end, self.reached[task].day)
    }

    /// A task and all that held it up, one behind the other, back to the beginning.
    pub(super) fn chain(&self, last: Option<usize>) -> impl Iterator<Item = usize> {
        std::iter::successors(last, |&task| self.reached[task].held_by)
    }
}
