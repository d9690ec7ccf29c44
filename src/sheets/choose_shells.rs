//! Which half shells to fit: from the shelf by their measured walls, or without a ball micrometer by nominal steps from one
//! trial clearance.

use super::bearing::Line;
use super::options::Choice;
use super::{Book, Words, choose_shims};
use crate::engine::{Measure, Place, Shell, Spot};
use crate::mechanics::bearing::Halves;
use crate::mechanics::selection::{self, Fits, HalfShell, Wanted, nominal_pairs, select_shells};
use crate::metrology::{Measured, mean_of};
use crate::quantity::{Entry, Unit, read};

/// Nominal halves tried from one trial clearance: a thou extra clearance, standard, a thou undersize; on a pair. Common
/// practice, no source: which are made is the maker's list.
const NOMINAL_THOU: [f64; 3] = [-1.0, 0.0, 1.0];
/// Mixed by one step at most. Common practice, no source.
const ONE_STEP_THOU: f64 = 1.0;
/// The boxes next to what is on the shelf: a thou undersize on a pair, or a thou of extra clearance. Common practice, no source.
const NEXT_BOX_THOU: [f64; 2] = [1.0, -1.0];
/// What another box must bring at the bearing that is worst off, in m: a tenth of a thou, which is what walls are read to.
const WORTH_A_BOX_M: f64 = 2.54e-6;

pub(super) const ASKS: &str = "Walls of the half shells on the shelf, one to a line, with a name before a colon where they have one; of a poured bearing “leaves” and what leaves there are for each side, such as “leaves 0.002 × 6, 0.005 × 2”; empty: by nominal steps";

pub(super) fn work_out(line: &Line, book: &Book, typed: &str) -> Result<Vec<Choice>, String> {
    if let Some(leaves) = choose_shims::leaves(typed) {
        return choose_shims::work_out(line, book, leaves);
    }
    if typed.trim().is_empty() { by_nominal_steps(line, book) } else { from_the_shelf(line, book, typed) }
}

pub(super) fn target(line: &Line, book: &Book, place: Place) -> Result<f64, String> {
    book.setup
        .target(line.target, place)
        .ok_or_else(|| format!("say in the job’s details what clearance is aimed at: {}", line.target.title()))
}

/// For every bearing with a clearance, the pair of nominal halves that comes closest to its target.
fn by_nominal_steps(line: &Line, book: &Book) -> Result<Vec<Choice>, String> {
    let words = book.words();
    let thou = |value: f64| Unit::Thou.to_si(value);
    let mut rows = Vec::new();
    for place in book.setup.architecture.places_of(line.target.whole()) {
        let Some(clearance) = line.vertical(book, place) else { continue };
        let wanted = target(line, book, place)?;
        let fitted = Halves { upper_undersize_m: 0.0, lower_undersize_m: 0.0 };
        let pairs = nominal_pairs(clearance, fitted, &NOMINAL_THOU.map(thou), thou(ONE_STEP_THOU), wanted)
            .map_err(|fault| fault.to_string())?;
        let Some(best) = pairs.first() else { continue };
        rows.push((
            place,
            format!(
                "{} now, {} aimed at: {} gives {}",
                words.small(clearance),
                words.small(wanted),
                pair(words, best.halves),
                words.small(best.clearance_m)
            ),
        ));
    }
    if rows.is_empty() {
        return Err("take a trial clearance first, by any route".to_owned());
    }
    let said = "From nominal sizes, taking what is fitted as standard with standard; which halves are made, and which may be mixed, is the shell maker’s to say.";
    Ok(vec![Choice { title: "By nominal halves".to_owned(), rows, said: said.to_owned() }])
}

/// "a half 1.0 thou undersize with a standard one".
fn pair(words: Words, halves: Halves) -> String {
    let half = |undersize: f64| match undersize {
        0.0 => "standard".to_owned(),
        under if under > 0.0 => format!("{} undersize", words.small(under)),
        extra => format!("{} extra clearance", words.small(-extra)),
    };
    let (one, other) = (half(halves.upper_undersize_m), half(halves.lower_undersize_m));
    if one == other { format!("both {one}") } else { format!("one {one}, one {other}") }
}

/// What a shell on the shelf is called, and its wall.
struct OnShelf {
    name: String,
    wall_m: f64,
}

fn from_the_shelf(line: &Line, book: &Book, typed: &str) -> Result<Vec<Choice>, String> {
    let shelf = shelf(book, typed)?;
    let halves: Vec<HalfShell> =
        shelf.iter().map(|shell| HalfShell { wall_m: shell.wall_m, undersize_m: 0.0, fits: Fits::Either }).collect();
    let mut places = Vec::new();
    let mut wanted = Vec::new();
    for place in book.setup.architecture.places_of(line.target.whole()) {
        let label = || book.setup.architecture.label(place);
        let (housing_m, journal_m) = line.room(book, place).ok_or_else(|| {
            format!("{}: read its housing and journal, or its clearance with shells whose walls were read", label())
        })?;
        places.push(place);
        wanted.push(Wanted { housing_m, journal_m, target_m: target(line, book, place)? });
    }
    // By their walls alone: how far nominal steps may be mixed is the shell maker's to say.
    let found = select_shells(&wanted, &halves, 0.0).map_err(|fault| fault.to_string())?;
    let words = book.words();
    let choice = |title: &str, choice: &selection::Choice| Choice {
        title: title.to_owned(),
        rows: places
            .iter()
            .zip(&choice.bearings)
            .map(|(&place, fitted)| {
                let (upper, lower) = (&shelf[fitted.upper], &shelf[fitted.lower]);
                let words_of = |shell: &OnShelf| format!("{} ({})", shell.name, words.size_number(shell.wall_m));
                (
                    place,
                    format!(
                        "{} above, {} below: {}",
                        words_of(upper),
                        words_of(lower),
                        words.small(fitted.clearance_m)
                    ),
                )
            })
            .collect(),
        said: format!(
            "{} at most off its target; {}",
            words.small(choice.worst_m),
            if choice.proven {
                "no choice from this shelf is better"
            } else {
                "the best found; not every choice was tried"
            }
        ),
    };
    let mut best = choice("Closest to the targets", &found.best);
    let runner_up = found.runner_up.as_ref().map(|next| choice("The next best", next));
    let boxes: Vec<Choice> = NEXT_BOX_THOU
        .into_iter()
        .filter_map(|thou| with_a_box(book, &places, &wanted, &halves, &found.best, thou))
        .collect();
    if boxes.is_empty() && halves.len() + 2 * wanted.len() <= selection::MOST_SHELLS {
        best.said.push_str("; a box of the next size under or over would bring it no closer");
    }
    Ok(std::iter::once(best).chain(runner_up).chain(boxes).collect())
}

/// What another box besides, a pair for every bearing of walls half a step thicker or thinner than the mean of the shelf,
/// would bring; none where it would bring nothing that is worth having.
fn with_a_box(
    book: &Book,
    places: &[Place],
    wanted: &[Wanted],
    shelf: &[HalfShell],
    best: &selection::Choice,
    thou: f64,
) -> Option<Choice> {
    let walls: Vec<f64> = shelf.iter().map(|half| half.wall_m).collect();
    let wall_m = mean_of(&walls)? + Unit::Thou.to_si(thou) / 2.0;
    let another = HalfShell { wall_m, undersize_m: 0.0, fits: Fits::Either };
    let both: Vec<HalfShell> = shelf.iter().copied().chain(vec![another; 2 * wanted.len()]).collect();
    let found = select_shells(wanted, &both, 0.0).ok()?.best;
    let closer = best.worst_m - found.worst_m;
    let words = book.words();
    let half = |at: usize| if at < shelf.len() { "from the shelf" } else { "from it" };
    let row = |((place, fitted), wanted): ((&Place, &selection::Fitted), &Wanted)| {
        let (upper, lower) = (half(fitted.upper), half(fitted.lower));
        let halves = if upper == lower { format!("both halves {upper}") } else { "one half from it".to_owned() };
        let off = (fitted.clearance_m - wanted.target_m).abs();
        (*place, format!("{halves}: {}, {} off its target", words.small(fitted.clearance_m), words.small(off)))
    };
    let size = if thou > 0.0 { "undersize" } else { "extra clearance" };
    (closer > WORTH_A_BOX_M).then(|| Choice {
        title: format!("With a box {} {size} besides", words.small(Unit::Thou.to_si(thou.abs()))),
        rows: places.iter().zip(&found.bearings).zip(wanted).map(row).collect(),
        said: format!(
            "{} at most off its target instead of {}, where its walls are {}: the mean of the shelf and half a step; \
             measured, they may be others, and how sizes may be mixed is the shell maker’s to say",
            words.small(found.worst_m),
            words.small(best.worst_m),
            words.size(wall_m)
        ),
    })
}

/// Half shells as typed: one to a line or apart by semicolons, each a wall, or a name, a colon and a wall.
fn shelf(book: &Book, typed: &str) -> Result<Vec<OnShelf>, String> {
    let how = book.setup.unit.how_read(Measure::SIZE);
    let parts = typed.split(['\n', ';']).map(str::trim).filter(|part| !part.is_empty());
    let one = |(nth, part): (usize, &str)| {
        let (name, wall) = match part.split_once(':') {
            Some((name, wall)) => (name.trim().to_owned(), wall.trim()),
            None => (format!("no. {}", nth + 1), part),
        };
        match read(wall, &how).map(|typed| typed.entry) {
            Ok(Entry::Figure(wall)) if (0.0005..0.02).contains(&wall.si) => Ok(OnShelf { name, wall_m: wall.si }),
            Ok(_) => Err(format!("“{part}”: enter one wall, such as 0.0957")),
            Err(fault) => Err(fault.to_string()),
        }
    };
    parts.enumerate().map(one).collect()
}

impl Line {
    /// The vertical clearance of a bearing as it is found.
    pub(super) fn vertical(&self, book: &Book, place: Place) -> Option<f64> {
        self.found(book, place)?.value.as_ref().map(Measured::value)
    }

    /// Housing, less the coating of two halves where one is laid on, and journal as read; or else what the clearance and the walls of the shells in it come to, on any journal.
    fn room(&self, book: &Book, place: Place) -> Option<(f64, f64)> {
        if let (Some((housing, _)), Some(journal)) =
            (book.figure((self.housing)(Spot::Vertical), place), self.journal(book, place))
        {
            let coating = book.setup.target(self.coating, place).unwrap_or(0.0);
            return Some((housing.value() - 2.0 * coating, journal.largest.value()));
        }
        let journal = self.journal_m(book, place)?;
        let wall = |half| book.figure((self.wall)(half), place).map(|(value, _)| value.value());
        Some((self.vertical(book, place)? + wall(Shell::Upper)? + wall(Shell::Lower)? + journal, journal))
    }
}
