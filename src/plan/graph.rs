//! Steps and what each follows: an order in which all can be done, or the cycle that forbids one.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use thiserror::Error;

/// Why steps cannot be put in order.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum GraphFault {
    /// Each of these waits for the one before it, and the first for the last; the one entered first stands first.
    #[error("{} steps wait for each other in a circle: none of them could ever begin", steps.len())]
    Cycle { steps: Vec<usize> },
    #[error("a step waits for one that is not on the list")]
    Unknown { step: usize, after: usize },
}

/// Steps by their index, without a cycle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Graph {
    after: Vec<Vec<usize>>,
    followers: Vec<Vec<usize>>,
    order: Vec<usize>,
}

impl Graph {
    /// Of the steps that each step follows. One named twice counts once.
    pub fn new(mut after: Vec<Vec<usize>>) -> Result<Self, GraphFault> {
        let mut followers = vec![Vec::new(); after.len()];
        for (step, before) in after.iter_mut().enumerate() {
            before.sort_unstable();
            before.dedup();
            for &one in before.iter() {
                followers.get_mut(one).ok_or(GraphFault::Unknown { step, after: one })?.push(step);
            }
        }
        let order = ordered(&after, &followers);
        if order.len() < after.len() {
            return Err(GraphFault::Cycle { steps: cycle(&after, &order) });
        }
        Ok(Self { after, followers, order })
    }

    pub fn len(&self) -> usize {
        self.after.len()
    }

    pub fn is_empty(&self) -> bool {
        self.after.is_empty()
    }

    /// The steps that a step follows directly.
    pub fn after(&self, step: usize) -> &[usize] {
        &self.after[step]
    }

    /// The steps that follow a step directly.
    pub fn followers(&self, step: usize) -> &[usize] {
        &self.followers[step]
    }

    /// All steps, each behind those that it follows; of those that could come next, the one entered first.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// The longest way from the beginning of each step to the end of the last, for what each takes.
    pub fn to_the_end(&self, takes: &[f64]) -> Vec<f64> {
        let mut left = vec![0.0; self.len()];
        for &step in self.order.iter().rev() {
            let behind = self.followers[step].iter().map(|&next| left[next]).fold(0.0, f64::max);
            left[step] = takes[step] + behind;
        }
        left
    }
}

/// As many steps as can be put in order (Kahn, Communications of the ACM 5, 1962; from memory).
fn ordered(after: &[Vec<usize>], followers: &[Vec<usize>]) -> Vec<usize> {
    let mut open: Vec<usize> = after.iter().map(Vec::len).collect();
    let mut next: BinaryHeap<_> = (0..after.len()).filter(|&step| open[step] == 0).map(Reverse).collect();
    let mut order = Vec::with_capacity(after.len());
    while let Some(Reverse(step)) = next.pop() {
        order.push(step);
        for &follower in &followers[step] {
            open[follower] -= 1;
            if open[follower] == 0 {
                next.push(Reverse(follower));
            }
        }
    }
    order
}

/// A cycle among the steps that could not be put in order: each of them follows another such, so going back finds it.
fn cycle(after: &[Vec<usize>], order: &[usize]) -> Vec<usize> {
    let mut in_order = vec![false; after.len()];
    for &step in order {
        in_order[step] = true;
    }
    let mut way: Vec<usize> = Vec::new();
    let mut at = in_order.iter().position(|&placed| !placed);
    while let Some(step) = at {
        if let Some(begin) = way.iter().position(|&seen| seen == step) {
            way.drain(..begin);
            break;
        }
        way.push(step);
        at = after[step].iter().copied().find(|&before| !in_order[before]);
    }
    way.reverse();
    let first = way.iter().enumerate().min_by_key(|&(_, step)| step).map_or(0, |(index, _)| index);
    way.rotate_left(first);
    way
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cycle_is_named_in_the_order_of_waiting() {
        // 1 follows 3, 3 follows 2, 2 follows 1; 0 is before them and 4 behind.
        let after = vec![vec![], vec![0, 3], vec![1], vec![2], vec![3]];
        assert_eq!(Graph::new(after), Err(GraphFault::Cycle { steps: vec![1, 2, 3] }));
        assert_eq!(Graph::new(vec![vec![0]]), Err(GraphFault::Cycle { steps: vec![0] }));
        let said = Graph::new(vec![vec![1], vec![0]]).expect_err("a circle").to_string();
        assert_eq!(said, "2 steps wait for each other in a circle: none of them could ever begin");
    }

    #[test]
    fn a_step_that_is_not_there_is_refused() {
        assert_eq!(Graph::new(vec![vec![], vec![2]]), Err(GraphFault::Unknown { step: 1, after: 2 }));
    }

    #[test]
    fn of_several_that_could_come_next_the_one_entered_first_does() {
        let graph = Graph::new(vec![vec![2, 2], vec![], vec![], vec![1]]).expect("an order");
        assert_eq!(graph.order(), [1, 2, 0, 3]);
        assert_eq!((graph.after(0), graph.followers(2)), (&[2][..], &[0][..]));
    }
}
