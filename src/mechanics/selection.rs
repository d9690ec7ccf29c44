//! Choosing half shells: by nominal undersize from one trial clearance, or from a shelf of measured ones.
//!
//! One family of shells only: walls, crush and lug of another make them no alternative, whatever their figures.

use std::collections::HashMap;

use thiserror::Error;

use super::bearing::{Halves, clearance_from_housing_m, clearance_with_other_halves_m};

/// Why half shells cannot be chosen.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum SelectionFault {
    #[error("there is no half shell to choose from")]
    NoShells,
    #[error("two halves cannot be less than nothing apart: give the largest step allowed, or zero")]
    Apart,
    #[error("there is no bearing to choose for")]
    NoBearings,
    #[error("{0} bearings at once are too many: choose for at most {MOST_BEARINGS}")]
    TooManyBearings(usize),
    #[error("{0} half shells at once are too many: choose from at most {MOST_SHELLS}")]
    TooManyShells(usize),
    #[error("a {0} is above zero and below 10 m")]
    Size(&'static str),
    #[error("the shelf does not hold an upper and a lower for every bearing, within the step allowed")]
    NotEnough,
    #[error("no choice was found in the time allowed: take out shells that are no use, or allow a larger step")]
    GaveUp,
}

pub const MOST_BEARINGS: usize = 16;
pub const MOST_SHELLS: usize = 64;

const LARGEST_M: f64 = 10.0;
/// Undersizes typed in inches and in millimetres differ by less.
const SAME_STEP_M: f64 = 1e-9;

fn within_step(one_m: f64, other_m: f64, most_apart_m: f64) -> bool {
    (one_m - other_m).abs() <= most_apart_m + SAME_STEP_M
}

/// Two nominal halves and what they would give. Which of the two goes on top makes no difference to the clearance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NominalPair {
    pub halves: Halves,
    pub clearance_m: f64,
}

/// Every pair of the nominal halves to be had with its clearance, that nearest to the target first; of two as near, the
/// wider. For a shop without a ball anvil micrometer: one trial with known halves tells the rest.
///
/// `most_apart_m` is the most the undersizes of the two halves of a bearing may differ: many families allow one step
/// (common practice, no source). Sign of undersizes and formula as in `clearance_with_other_halves_m`.
pub fn nominal_pairs(
    clearance_m: f64,
    fitted: Halves,
    undersizes_m: &[f64],
    most_apart_m: f64,
    target_m: f64,
) -> Result<Vec<NominalPair>, SelectionFault> {
    if undersizes_m.is_empty() {
        return Err(SelectionFault::NoShells);
    }
    if most_apart_m < 0.0 {
        return Err(SelectionFault::Apart);
    }
    let mut sizes = undersizes_m.to_vec();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup_by(|one, other| within_step(*one, *other, 0.0));
    let mut pairs = Vec::new();
    for (i, upper_undersize_m) in sizes.iter().copied().enumerate() {
        for lower_undersize_m in sizes[i..].iter().copied() {
            if within_step(upper_undersize_m, lower_undersize_m, most_apart_m) {
                let halves = Halves { upper_undersize_m, lower_undersize_m };
                pairs.push(NominalPair {
                    halves,
                    clearance_m: clearance_with_other_halves_m(clearance_m, fitted, halves),
                });
            }
        }
    }
    let off = |pair: &NominalPair| ((pair.clearance_m - target_m).abs() / SAME_STEP_M).round();
    pairs.sort_by(|one, other| off(one).total_cmp(&off(other)).then(other.clearance_m.total_cmp(&one.clearance_m)));
    Ok(pairs)
}

/// Where a half shell may go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fits {
    Upper,
    Lower,
    Either,
}

/// A measured half shell on the shelf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfShell {
    /// At the crown.
    pub wall_m: f64,
    /// As on the box; sign as in `Halves`.
    pub undersize_m: f64,
    pub fits: Fits,
}

/// A bearing to find halves for: its housing without shells, its journal, and the diametral clearance wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    pub housing_m: f64,
    pub journal_m: f64,
    pub target_m: f64,
}

/// The halves for one bearing, by their places on the shelf, and the clearance they give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    pub upper: usize,
    pub lower: usize,
    pub clearance_m: f64,
}

/// Halves for every bearing, in the order the bearings were given.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub bearings: Vec<Fitted>,
    /// The largest deviation from a target, without sign.
    pub worst_m: f64,
    /// All deviations together, without sign.
    pub sum_m: f64,
    /// Whether no better one exists; otherwise it is the best found in the time allowed.
    pub proven: bool,
}

/// The best choice and the next best.
#[derive(Clone, Debug, PartialEq)]
pub struct Selection {
    pub best: Choice,
    /// The best among those that give at least one bearing other walls; maybe as good. None where there is no other.
    pub runner_up: Option<Choice>,
}

/// An upper and a lower for every bearing so that the largest deviation of the clearances `H − J − t_u − t_l` from their
/// targets is smallest, and among those so that their sum is.
///
/// `most_apart_m` as for `nominal_pairs`. Exact (branch and bound) unless the choice says it is not proven. Crush is left
/// out as in `clearance_from_housing_m`: take it off the targets where it is known. What another box would bring is the same
/// with its halves on the shelf, by their nominal walls.
pub fn select_shells(bearings: &[Wanted], shelf: &[HalfShell], most_apart_m: f64) -> Result<Selection, SelectionFault> {
    check(bearings, shelf, most_apart_m)?;
    let lists: Vec<Vec<Pair>> = bearings.iter().map(|wanted| pairs_for(wanted, shelf, most_apart_m)).collect();
    let twins = twins_before(shelf);
    let outcome = choose(&lists, &twins);
    let Some(mut best) = outcome.choice else {
        return Err(if outcome.exhausted { SelectionFault::NotEnough } else { SelectionFault::GaveUp });
    };
    // Any other choice differs from the best in some bearing: the best without its pair there, for each in turn.
    let mut others = Vec::new();
    let mut all_exhausted = outcome.exhausted;
    for (place, taken) in best.iter().enumerate() {
        let mut without = lists.clone();
        without[place].retain(|pair| walls(pair, shelf) != walls(taken, shelf));
        let outcome = choose(&without, &twins);
        all_exhausted &= outcome.exhausted;
        others.extend(outcome.choice);
    }
    let mut runner_up = others.into_iter().min_by(|one, other| compare(one, other));
    // Only where the search for the best was cut short.
    if let Some(other) = &mut runner_up
        && compare(other, &best).is_lt()
    {
        std::mem::swap(&mut best, other);
    }
    let finished = |pairs: &[Pair], proven| finish(pairs, bearings, shelf, proven);
    Ok(Selection {
        best: finished(&best, outcome.exhausted),
        runner_up: runner_up.map(|pairs| finished(&pairs, all_exhausted)),
    })
}

fn check(bearings: &[Wanted], shelf: &[HalfShell], most_apart_m: f64) -> Result<(), SelectionFault> {
    if bearings.is_empty() {
        return Err(SelectionFault::NoBearings);
    }
    if bearings.len() > MOST_BEARINGS {
        return Err(SelectionFault::TooManyBearings(bearings.len()));
    }
    if shelf.is_empty() {
        return Err(SelectionFault::NoShells);
    }
    if shelf.len() > MOST_SHELLS {
        return Err(SelectionFault::TooManyShells(shelf.len()));
    }
    if most_apart_m < 0.0 {
        return Err(SelectionFault::Apart);
    }
    let sizes = bearings.iter().flat_map(|wanted| {
        [("housing", wanted.housing_m), ("journal", wanted.journal_m), ("clearance to aim at", wanted.target_m)]
    });
    for (name, size_m) in sizes.chain(shelf.iter().map(|half| ("shell wall", half.wall_m))) {
        if size_m <= 0.0 || size_m >= LARGEST_M {
            return Err(SelectionFault::Size(name));
        }
    }
    Ok(())
}

/// Two halves of the shelf for one bearing.
#[derive(Clone, Copy, Debug)]
struct Pair {
    upper: usize,
    lower: usize,
    /// Their places on the shelf as bits.
    bits: u64,
    /// Deviation of the clearance from the bearing's target, without sign.
    off_m: f64,
}

/// Deviations are told apart to this: far below any gauge, far above what rounding leaves of a sum of sizes.
const GRAIN_M: f64 = 1e-12;

/// Every two halves that may go together, the nearest to the target first. Of two that fit either way, one way.
fn pairs_for(wanted: &Wanted, shelf: &[HalfShell], most_apart_m: f64) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for one in 0..shelf.len() {
        for other in one + 1..shelf.len() {
            let (upper, lower) = match (shelf[one].fits, shelf[other].fits) {
                (Fits::Upper, Fits::Upper) | (Fits::Lower, Fits::Lower) => continue,
                (Fits::Lower, _) | (_, Fits::Upper) => (other, one),
                _ => (one, other),
            };
            if within_step(shelf[one].undersize_m, shelf[other].undersize_m, most_apart_m) {
                let off_m = (clearance(wanted, shelf, upper, lower) - wanted.target_m).abs();
                let off_m = (off_m / GRAIN_M).round() * GRAIN_M;
                pairs.push(Pair { upper, lower, bits: 1 << one | 1 << other, off_m });
            }
        }
    }
    pairs.sort_by(|one, other| one.off_m.total_cmp(&other.off_m));
    pairs
}

fn clearance(wanted: &Wanted, shelf: &[HalfShell], upper: usize, lower: usize) -> f64 {
    clearance_from_housing_m(wanted.housing_m, shelf[upper].wall_m, shelf[lower].wall_m, wanted.journal_m)
}

/// The two walls, in whichever order, as bits: pairs alike in them are the same choice to a builder.
fn walls(pair: &Pair, shelf: &[HalfShell]) -> [u64; 2] {
    let mut walls = [pair.upper, pair.lower].map(|half| shelf[half].wall_m.to_bits());
    walls.sort_unstable();
    walls
}

/// For each half shell the last one before it on the shelf that is the same in everything. Taking it only after its twin
/// leaves out choices that differ in nothing.
fn twins_before(shelf: &[HalfShell]) -> Vec<Option<usize>> {
    (0..shelf.len()).map(|place| shelf[..place].iter().rposition(|half| *half == shelf[place])).collect()
}

/// By the largest deviation, then by their sum.
fn compare(one: &[Pair], other: &[Pair]) -> std::cmp::Ordering {
    worst(one).total_cmp(&worst(other)).then(sum(one).total_cmp(&sum(other)))
}

fn worst(pairs: &[Pair]) -> f64 {
    pairs.iter().map(|pair| pair.off_m).fold(0.0, f64::max)
}

fn sum(pairs: &[Pair]) -> f64 {
    pairs.iter().map(|pair| pair.off_m).sum()
}

fn finish(pairs: &[Pair], bearings: &[Wanted], shelf: &[HalfShell], proven: bool) -> Choice {
    let fitted = pairs.iter().zip(bearings).map(|(&Pair { upper, lower, .. }, wanted)| Fitted {
        upper,
        lower,
        clearance_m: clearance(wanted, shelf, upper, lower),
    });
    Choice { bearings: fitted.collect(), worst_m: worst(pairs), sum_m: sum(pairs), proven }
}

/// What a search came to.
struct Outcome {
    /// One pair per bearing, in their order.
    choice: Option<Vec<Pair>>,
    /// Whether everything that could be better was looked at.
    exhausted: bool,
}

/// First the smallest largest deviation; then, with only pairs that keep to it, the smallest sum.
fn choose(lists: &[Vec<Pair>], twins: &[Option<usize>]) -> Outcome {
    let first = Search::new(lists, twins, f64::max).run();
    let Some(choice) = &first.choice else { return first };
    let limit = worst(choice);
    let keeping = |list: &Vec<Pair>| list.iter().copied().take_while(|pair| pair.off_m <= limit).collect::<Vec<Pair>>();
    let near: Vec<Vec<Pair>> = lists.iter().map(keeping).collect();
    let second = Search::new(&near, twins, |one, other| one + other).run();
    let exhausted = first.exhausted && second.exhausted;
    Outcome { choice: second.choice.or(first.choice), exhausted }
}

/// Steps after which the searches of a selection give up proving, all together: a second or two.
const MOST_STEPS: usize = 300_000;

/// Branch and bound for the smallest total, `add` saying how a bearing's deviation adds to those before.
struct Search<'a> {
    /// Bearings in the order they are served: the hardest to serve first.
    order: Vec<usize>,
    lists: &'a [Vec<Pair>],
    twins: &'a [Option<usize>],
    add: fn(f64, f64) -> f64,
    /// What the bearings from this place in the order on must at least add.
    floor: Vec<f64>,
    /// The smallest total at which these shells, as bits, were used up before.
    reached: HashMap<u64, f64>,
    taken: Vec<Pair>,
    best: Option<(f64, Vec<Pair>)>,
    steps_left: usize,
}

impl<'a> Search<'a> {
    fn new(lists: &'a [Vec<Pair>], twins: &'a [Option<usize>], add: fn(f64, f64) -> f64) -> Self {
        let least = |place: usize| lists[place].first().map_or(f64::INFINITY, |pair| pair.off_m);
        let mut order: Vec<usize> = (0..lists.len()).collect();
        order.sort_by(|one, other| {
            lists[*one].len().cmp(&lists[*other].len()).then(least(*other).total_cmp(&least(*one)))
        });
        let mut floor = vec![0.0; order.len() + 1];
        for (depth, place) in order.iter().enumerate().rev() {
            floor[depth] = add(floor[depth + 1], least(*place));
        }
        // One share for the best and one for each bearing's other choice.
        let steps_left = MOST_STEPS / (order.len() + 1);
        Self { order, lists, twins, add, floor, reached: HashMap::new(), taken: Vec::new(), best: None, steps_left }
    }

    fn run(mut self) -> Outcome {
        self.serve(0, 0, 0.0);
        let in_order = |taken: Vec<Pair>| {
            let mut placed: Vec<(usize, Pair)> = self.order.iter().copied().zip(taken).collect();
            placed.sort_by_key(|(place, _)| *place);
            placed.into_iter().map(|(_, pair)| pair).collect()
        };
        Outcome { choice: self.best.map(|(_, taken)| in_order(taken)), exhausted: self.steps_left > 0 }
    }

    fn serve(&mut self, depth: usize, used: u64, total: f64) {
        if depth == self.order.len() {
            self.best = Some((total, self.taken.clone()));
            return;
        }
        if self.steps_left == 0 || self.reached.get(&used).is_some_and(|before| *before <= total) {
            return;
        }
        self.steps_left -= 1;
        self.reached.insert(used, total);
        let lists = self.lists;
        for pair in &lists[self.order[depth]] {
            let with = (self.add)(total, pair.off_m);
            let at_least = (self.add)(with, self.floor[depth + 1]);
            if self.best.as_ref().is_some_and(|(best, _)| at_least >= *best) {
                return;
            }
            if self.free(pair, used) {
                self.taken.push(*pair);
                self.serve(depth + 1, used | pair.bits, with);
                self.taken.pop();
            }
        }
    }

    fn free(&self, pair: &Pair, used: u64) -> bool {
        let twin_used = |place: usize| self.twins[place].is_none_or(|twin| (used | pair.bits) >> twin & 1 == 1);
        used & pair.bits == 0 && twin_used(pair.upper) && twin_used(pair.lower)
    }
}
