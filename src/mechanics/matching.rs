//! Selective assembly: which part goes where, from a table of what each pairing gives, and which parts make a set.
//!
//! A table has a row for each place and a column for each part, at least as many columns as rows; each row gets a column of
//! its own. All answers are exact; where several are equally good, one of them. The least sum can worsen the worst place:
//! choose by what the engine feels. Whether a swap is real depends on how well the parts were measured.

/// Figures at and beyond this size are refused, so that sums stay exact enough to compare.
const TOO_LARGE: f64 = 1e12;

/// Why a table or a list cannot be matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MatchFault {
    #[error("nothing to match: enter at least one place and one part")]
    Empty,
    #[error("place {row} has not a figure for each part")]
    Ragged { row: usize },
    #[error("there are fewer parts than places")]
    TooFewParts,
    #[error("each throw needs one rod and one piston: enter as many of each")]
    Uneven,
    #[error("the figure of place {row} with part {column} is missing or beyond reason")]
    Figure { row: usize, column: usize },
    #[error("part {index} has no usable figure")]
    Part { index: usize },
}

/// A column for each row, and what the choice was judged by.
#[derive(Clone, Debug, PartialEq)]
pub struct Assignment {
    /// For each row its column, both counted from 0.
    pub columns: Vec<usize>,
    /// The sum, the largest, or the largest less the smallest of the chosen figures, in their unit.
    pub value: f64,
}

/// The assignment with the least sum of its figures.
///
/// Shortest augmenting paths with row and column prices (the Hungarian method as Jonker and Volgenant have it, Computing
/// 38, 1987; from memory). Some n²·m steps for n rows and m columns.
pub fn least_sum(table: &[Vec<f64>]) -> Result<Assignment, MatchFault> {
    let width = checked(table)?;
    let mut priced =
        Priced { table, row_price: vec![0.0; table.len()], column_price: vec![0.0; width], row_of: vec![None; width] };
    for row in 0..table.len() {
        priced.add(row);
    }
    let mut columns = vec![0; table.len()];
    for (column, row) in priced.row_of.iter().enumerate() {
        if let &Some(row) = row {
            columns[row] = column;
        }
    }
    Ok(judged(table, columns, |chosen| chosen.iter().sum()))
}

/// The assignment whose largest figure is least: the best that the worst place can be.
///
/// Search for the lowest threshold that still leaves each row a column of its own (bottleneck assignment).
pub fn least_worst(table: &[Vec<f64>]) -> Result<Assignment, MatchFault> {
    let width = checked(table)?;
    let figures = ranked(table);
    let columns_up_to = |most: f64| {
        let mut pairs = Pairs::none(table.len(), width);
        pairs.complete(|row, column| table[row][column] <= most).then_some(pairs.column_of)
    };
    let enough = figures.partition_point(|&most| columns_up_to(most).is_none());
    let columns = figures.get(enough).and_then(|&most| columns_up_to(most)).ok_or(MatchFault::TooFewParts)?;
    Ok(judged(table, whole(&columns), |chosen| chosen.iter().copied().fold(f64::NEG_INFINITY, f64::max)))
}

/// The assignment whose figures lie closest together: the least of largest less smallest.
///
/// A window over the ranked figures, widened at the top until each row has a column of its own and narrowed at the bottom
/// while it has.
pub fn least_spread(table: &[Vec<f64>]) -> Result<Assignment, MatchFault> {
    let width = checked(table)?;
    let figures = ranked(table);
    let mut pairs = Pairs::none(table.len(), width);
    let mut best: Option<(f64, Vec<usize>)> = None;
    let mut top = 0;
    'windows: for &least in &figures {
        while !pairs.complete(|row, column| (least..=figures[top]).contains(&table[row][column])) {
            top += 1;
            if top == figures.len() {
                break 'windows;
            }
        }
        if best.as_ref().is_none_or(|&(narrowest, _)| figures[top] - least < narrowest) {
            best = Some((figures[top] - least, whole(&pairs.column_of)));
        }
    }
    let (_, columns) = best.ok_or(MatchFault::TooFewParts)?;
    Ok(judged(table, columns, spread))
}

/// The `count` parts whose figures (weights, say) lie closest together, as indices from the smallest figure to the largest.
#[derive(Clone, Debug, PartialEq)]
pub struct ClosestSet {
    pub parts: Vec<usize>,
    /// Largest less smallest: also the most that any part of the set must lose when all are brought down to the lightest.
    pub spread: f64,
}

/// Chooses `count` parts so that their figures lie closest together; of equally close sets the one with the smallest figures.
///
/// Exact: parts between two chosen ones in rank may as well be chosen, so the set is a run of the ranked parts. The same
/// choice makes the most that is ground off any part least, when all are brought down to the lightest. For rods match each
/// end for itself or the whole, whichever is to be ground.
pub fn closest_set(figures: &[f64], count: usize) -> Result<ClosestSet, MatchFault> {
    if count == 0 {
        return Err(MatchFault::Empty);
    }
    if count > figures.len() {
        return Err(MatchFault::TooFewParts);
    }
    if let Some(index) = figures.iter().position(|&figure| !usable(figure)) {
        return Err(MatchFault::Part { index });
    }
    let mut ranked: Vec<usize> = (0..figures.len()).collect();
    ranked.sort_by(|&a, &b| figures[a].total_cmp(&figures[b]));
    let width = |run: &[usize]| figures[run[count - 1]] - figures[run[0]];
    let run = ranked.windows(count).min_by(|a, b| width(a).total_cmp(&width(b))).ok_or(MatchFault::TooFewParts)?;
    Ok(ClosestSet { parts: run.to_vec(), spread: width(run) })
}

/// Largest less smallest.
pub(super) fn spread(figures: &[f64]) -> f64 {
    let least = figures.iter().copied().fold(f64::INFINITY, f64::min);
    figures.iter().copied().fold(f64::NEG_INFINITY, f64::max) - least
}

fn usable(figure: f64) -> bool {
    figure.abs() < TOO_LARGE
}

/// The table's width, when the table can be matched.
fn checked(table: &[Vec<f64>]) -> Result<usize, MatchFault> {
    let width = table.first().ok_or(MatchFault::Empty)?.len();
    if width == 0 {
        return Err(MatchFault::Empty);
    }
    for (row, figures) in table.iter().enumerate() {
        if figures.len() != width {
            return Err(MatchFault::Ragged { row });
        }
        if let Some(column) = figures.iter().position(|&figure| !usable(figure)) {
            return Err(MatchFault::Figure { row, column });
        }
    }
    if width < table.len() { Err(MatchFault::TooFewParts) } else { Ok(width) }
}

fn judged(table: &[Vec<f64>], columns: Vec<usize>, by: impl Fn(&[f64]) -> f64) -> Assignment {
    let chosen: Vec<f64> = table.iter().zip(&columns).map(|(row, &column)| row[column]).collect();
    Assignment { columns, value: by(&chosen) }
}

/// The table's figures, each once, from the smallest.
fn ranked(table: &[Vec<f64>]) -> Vec<f64> {
    let mut figures = table.concat();
    figures.sort_by(f64::total_cmp);
    figures.dedup();
    figures
}

fn whole(column_of: &[Option<usize>]) -> Vec<usize> {
    column_of.iter().map(|column| column.expect("each row has a column")).collect()
}

/// Rows assigned so far at the least sum, with prices that show it: no figure is less than its row's and column's prices
/// together, and those chosen are exactly that.
struct Priced<'a> {
    table: &'a [Vec<f64>],
    row_price: Vec<f64>,
    column_price: Vec<f64>,
    row_of: Vec<Option<usize>>,
}

impl Priced<'_> {
    /// Assigns one more row, moving others along the cheapest alternating path from it to a free column.
    fn add(&mut self, start: usize) {
        let width = self.row_of.len();
        let mut distance = vec![f64::INFINITY; width];
        let mut before: Vec<Option<usize>> = vec![None; width];
        let mut reached = vec![false; width];
        let (mut row, mut at, mut so_far) = (start, None, 0.0);
        let end = loop {
            for column in (0..width).filter(|&column| !reached[column]) {
                let through = so_far + self.table[row][column] - self.row_price[row] - self.column_price[column];
                if through < distance[column] {
                    distance[column] = through;
                    before[column] = at;
                }
            }
            let open = (0..width).filter(|&column| !reached[column]);
            let nearest = open.min_by(|&a, &b| distance[a].total_cmp(&distance[b]));
            let nearest = nearest.expect("columns are not fewer than rows");
            so_far = distance[nearest];
            reached[nearest] = true;
            match self.row_of[nearest] {
                None => break nearest,
                Some(next) => (row, at) = (next, Some(nearest)),
            }
        };
        self.row_price[start] += so_far;
        for column in (0..width).filter(|&column| reached[column]) {
            self.column_price[column] -= so_far - distance[column];
            if let Some(row) = self.row_of[column] {
                self.row_price[row] += so_far - distance[column];
            }
        }
        let mut column = end;
        while let Some(previous) = before[column] {
            self.row_of[column] = self.row_of[previous];
            column = previous;
        }
        self.row_of[column] = Some(start);
    }
}

/// Rows and columns paired so far.
struct Pairs {
    column_of: Vec<Option<usize>>,
    row_of: Vec<Option<usize>>,
}

impl Pairs {
    fn none(rows: usize, columns: usize) -> Self {
        Self { column_of: vec![None; rows], row_of: vec![None; columns] }
    }

    /// Parts the pairs no longer allowed, pairs as many rows as can be, and says whether that is all of them.
    ///
    /// Augmenting paths: one search per unpaired row.
    fn complete(&mut self, allowed: impl Fn(usize, usize) -> bool) -> bool {
        for row in 0..self.column_of.len() {
            if let Some(column) = self.column_of[row].filter(|&column| !allowed(row, column)) {
                (self.column_of[row], self.row_of[column]) = (None, None);
            }
        }
        let unpaired: Vec<usize> = (0..self.column_of.len()).filter(|&row| self.column_of[row].is_none()).collect();
        unpaired.into_iter().all(|row| self.pair(row, &allowed, &mut vec![false; self.row_of.len()]))
    }

    /// Finds `row` a column, moving rows already paired where that makes room.
    fn pair(&mut self, row: usize, allowed: &impl Fn(usize, usize) -> bool, tried: &mut [bool]) -> bool {
        for column in 0..tried.len() {
            if tried[column] || !allowed(row, column) {
                continue;
            }
            tried[column] = true;
            if self.row_of[column].is_none_or(|other| self.pair(other, allowed, tried)) {
                (self.column_of[row], self.row_of[column]) = (Some(column), Some(row));
                return true;
            }
        }
        false
    }
}
