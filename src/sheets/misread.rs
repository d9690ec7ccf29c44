//! Misreads: whether what was typed is odd for its slot and, if so, which slip explains it. Asked about, never changed.
//!
//! A figure outside the far interval of its [`Expectation`] is odd whatever the reason. One between near and far is odd only
//! where a slip explains it: undone, it comes to lie where nothing is in doubt, and at most half as far off.

use super::{Book, Expectation, Slot, Words, expectation};
use crate::engine::Measure;
use crate::quantity::{Entry, HowRead, Typed, Unit};
use std::fmt::Write;

/// A slip that people make when they read a gauge or type.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// The sleeve of a micrometer read one turn too far or too short: 0.025 in, or 0.5 mm.
    ThimbleTurn,
    /// Two digits beside each other exchanged.
    SwappedDigits,
    /// The decimal point one place off.
    DecimalPoint,
    /// Millimetres for inches, or inches for millimetres.
    OtherUnit,
    /// A deviation to the wrong side.
    WrongSign,
}

impl Slip {
    pub const ALL: [Self; 5] =
        [Self::ThimbleTurn, Self::SwappedDigits, Self::DecimalPoint, Self::OtherUnit, Self::WrongSign];

    /// The key it is written with in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::ThimbleTurn => "thimble_turn",
            Self::SwappedDigits => "swapped_digits",
            Self::DecimalPoint => "decimal_point",
            Self::OtherUnit => "other_unit",
            Self::WrongSign => "wrong_sign",
        }
    }
}

/// An entry off from what is expected: asked about, never refused, never changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Odd {
    pub entry: Entry,
    pub expected: Expectation,
    /// The slip that explains it best and what would have been read without it; none where no slip does.
    pub slip: Option<(Slip, Entry)>,
    /// The unit it was typed in.
    typed_in: Unit,
}

/// Whether an entry as typed is odd for its slot, given what stands in the book.
pub fn misread(book: &Book, slot: &Slot, typed: &Typed, how: &HowRead) -> Option<Odd> {
    let expected = expectation(book, slot)?;
    // Where it was told coarsely it may lie anywhere within half a step.
    let half = typed.resolution_si / 2.0;
    let inside = |entry: Entry, (low, high): (f64, f64)| {
        let (least, greatest) = ends(entry);
        (low - half..=high + half).contains(&least) && (low - half..=high + half).contains(&greatest)
    };
    if inside(typed.entry, expected.near) {
        return None;
    }
    let is_far = !inside(typed.entry, expected.far);
    let off = |entry: Entry| {
        let (least, greatest) = ends(entry);
        (least - expected.middle()).abs().max((greatest - expected.middle()).abs())
    };
    let explains = |(_, undone): &(Slip, Entry)| {
        inside(*undone, if is_far { expected.far } else { expected.near }) && off(*undone) <= off(typed.entry) / 2.0
    };
    let slip = undone(book, slot, typed, how)
        .into_iter()
        .filter(explains)
        .min_by(|one, other| off(one.1).total_cmp(&off(other.1)));
    (is_far || slip.is_some()).then_some(Odd { entry: typed.entry, expected, slip, typed_in: typed.unit })
}

fn ends(entry: Entry) -> (f64, f64) {
    match entry {
        Entry::Figure(q) => (q.si, q.si),
        Entry::Range(low, high) => (low.si, high.si),
    }
}

/// What would have been read without each slip there can have been.
fn undone(book: &Book, slot: &Slot, typed: &Typed, how: &HowRead) -> Vec<(Slip, Entry)> {
    let mut undone = Vec::new();
    let mut read_again = |slip, text: &str| {
        undone.extend(slot.read(text, how, book.setup.unit).ok().map(|typed| (slip, typed.entry)));
    };
    for text in swapped(&typed.text) {
        read_again(Slip::SwappedDigits, &text);
    }
    if let Some(text) = turned_sign(&typed.text) {
        read_again(Slip::WrongSign, &text);
    }
    if slot.gauge.has_thimble() {
        let turn = thimble_turn(typed.unit);
        undone.extend([turn, -turn].map(|by| (Slip::ThimbleTurn, each(typed.entry, |x| x + by))));
    }
    undone.extend([10.0, 0.1].map(|by| (Slip::DecimalPoint, each(typed.entry, |x| x * by))));
    undone.extend([25.4, 1.0 / 25.4].map(|by| (Slip::OtherUnit, each(typed.entry, |x| x * by))));
    undone
}

fn each(entry: Entry, f: impl Fn(f64) -> f64) -> Entry {
    let moved = |mut q: crate::quantity::Quantity| {
        q.si = f(q.si);
        q
    };
    match entry {
        Entry::Figure(q) => Entry::Figure(moved(q)),
        Entry::Range(low, high) => Entry::Range(moved(low), moved(high)),
    }
}

/// One turn of a micrometer's thimble, in m.
fn thimble_turn(typed_in: Unit) -> f64 {
    if typed_in.is_metric_length() { Unit::Millimetre.to_si(0.5) } else { Unit::Inch.to_si(0.025) }
}

/// The text with each pair of digits beside each other exchanged, with or without the decimal mark between them.
fn swapped(text: &str) -> Vec<String> {
    let digits: Vec<usize> = text.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(at, _)| at).collect();
    let beside = |pair: &&[usize]| {
        let between = &text[pair[0] + 1..pair[1]];
        matches!(between, "" | "." | ",") && text.as_bytes()[pair[0]] != text.as_bytes()[pair[1]]
    };
    let swap = |pair: &[usize]| {
        let (one, other) = (&text[pair[0]..=pair[0]], &text[pair[1]..=pair[1]]);
        [&text[..pair[0]], other, &text[pair[0] + 1..pair[1]], one, &text[pair[1] + 1..]].concat()
    };
    digits.windows(2).filter(beside).map(swap).collect()
}

/// A deviation to the other side; none of what is no deviation.
fn turned_sign(text: &str) -> Option<String> {
    let rest = text.trim_start();
    let sign = rest.chars().next()?;
    let turned = match sign {
        '+' => '-',
        '-' | '−' | '–' => '+',
        _ => return None,
    };
    Some(format!("{turned}{}", &rest[sign.len_utf8()..]))
}

impl Odd {
    /// The question, in the words of the job: what was read, which slip is likely, what would be expected.
    pub fn question(&self, words: Words, measure: Measure) -> String {
        let figure = |entry: Entry| match ends(entry) {
            (low, high) if low < high => format!("{} to {}", words.said(measure, low), words.said(measure, high)),
            (low, _) => words.said(measure, low),
        };
        let (read, from) = (figure(self.entry), self.expected.from);
        let mut question = match self.slip {
            Some((Slip::ThimbleTurn, undone)) => format!(
                "{read} is one thimble turn ({}) from {}, which would go with {from}",
                if self.typed_in.is_metric_length() { "0.5\u{a0}mm" } else { "0.025\u{a0}in" },
                figure(undone),
            ),
            Some((Slip::SwappedDigits, undone)) => {
                format!("{read} is {} with two digits exchanged, which would go with {from}", figure(undone))
            }
            Some((Slip::DecimalPoint, undone)) => {
                format!("{read} has its decimal point one place from {}, which would go with {from}", figure(undone))
            }
            Some((Slip::OtherUnit, undone)) => {
                format!("{read} looks like {}: millimetres and inches taken for each other", figure(undone))
            }
            Some((Slip::WrongSign, undone)) => {
                format!("{read} would be {} with the other sign, which would go with {from}", figure(undone))
            }
            None => format!("{read} is off from {from}"),
        };
        let (low, high) = self.expected.near;
        let _ = write!(
            question,
            ". Expected from {from}: {} to {}. Keep it as read, or read again?",
            words.said(measure, low),
            words.said(measure, high)
        );
        question
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_beside_each_other_are_exchanged_over_the_point_too() {
        assert_eq!(swapped("4.37"), ["3.47", "4.73"]);
        assert_eq!(swapped("2.2 thou"), Vec::<String>::new());
        assert_eq!(swapped("2.5–2.8"), ["5.2–2.8", "2.5–8.2"]);
        assert_eq!(swapped("µ 12"), ["µ 21"]);
    }

    #[test]
    fn only_a_deviation_has_a_sign_to_turn() {
        assert_eq!(turned_sign("+2 tenths").as_deref(), Some("-2 tenths"));
        assert_eq!(turned_sign("−2").as_deref(), Some("+2"));
        assert_eq!(turned_sign("2.5"), None);
    }
}
