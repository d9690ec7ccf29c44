//! Slips among good readings: how many are caught when they are typed, and how often a good set is asked about.

use crate::deviates::Deviates;
use crate::sets::{Kind, Set, enter};
use witnessmark::metrology::GaugeKind;
use witnessmark::sheets::{Odd, Slip, misread};

const SETS: usize = 1000;
const SLIPS_OF_A_KIND: usize = 400;

#[test]
fn good_sets_are_asked_about_at_most_once_in_a_hundred() {
    let mut chance = Deviates(11);
    let mut asked = Vec::new();
    let mut readings = 0;
    for n in 0..SETS {
        let set = Set::draw(Kind::ALL[n % Kind::ALL.len()], &mut chance);
        let mut book = set.book();
        let mut questions = Vec::new();
        for (slot, &size) in set.slots.iter().zip(&set.sizes) {
            let typed = set.read(slot, &set.text(size)).expect("a good reading");
            if let Some(odd) = misread(&book, slot, &typed, &set.how(slot)) {
                questions.push(format!("{:?} {}: {}", set.kind, slot.key, odd.question(book.words(), slot.small)));
            }
            enter(&mut book, slot, &typed);
            readings += 1;
        }
        asked.extend(questions.into_iter().next());
    }
    println!("{} of {SETS} good sets of {readings} readings are asked about\n{asked:#?}", asked.len());
    assert!(asked.len() * 100 <= SETS, "{} of {SETS}: {asked:#?}", asked.len());
}

/// What a slip makes of a text; none where it cannot be made there, or leaves it the same.
fn slipped(slip: Slip, set: &Set, at: usize, chance: &mut Deviates) -> Option<String> {
    let (slot, size) = (&set.slots[at], set.sizes[at]);
    let text = set.text(size);
    let by = chance.one_of(&[1.0, -1.0]);
    let made = match slip {
        Slip::ThimbleTurn if !matches!(slot.gauge, GaugeKind::OutsideMicrometer | GaugeKind::BallMicrometer) => {
            return None;
        }
        Slip::ThimbleTurn => {
            let turn = if set.setup.unit == witnessmark::engine::WorkingUnit::Inch { 0.025 * 0.0254 } else { 0.000_5 };
            set.text(size + by * turn)
        }
        Slip::SwappedDigits => {
            let mut letters: Vec<char> = text.chars().collect();
            let digits: Vec<usize> = (0..letters.len()).filter(|&i| letters[i].is_ascii_digit()).collect();
            let pairs: Vec<&[usize]> = digits.windows(2).filter(|pair| letters[pair[0]] != letters[pair[1]]).collect();
            if pairs.is_empty() {
                return None;
            }
            let pair = chance.one_of(&pairs);
            let (one, other) = (pair[0], pair[1]);
            letters.swap(one, other);
            letters.into_iter().collect()
        }
        Slip::DecimalPoint | Slip::OtherUnit if set.set_to.is_some() => return None,
        Slip::DecimalPoint => set.text(size * if by > 0.0 { 10.0 } else { 0.1 }),
        Slip::OtherUnit => set.text(size * if by > 0.0 { 25.4 } else { 1.0 / 25.4 }),
        Slip::WrongSign if set.set_to.is_none() => return None,
        Slip::WrongSign => text.replace(['+', '-'], if text.starts_with('+') { "-" } else { "+" }),
    };
    (made != text).then_some(made)
}

/// What came of a slip when it was typed.
enum Caught {
    Refused,
    Asked(Odd),
    Missed(String),
}

/// A set typed in bench order with one slip in it, anywhere that something stands to compare it with.
fn type_with(slip: Slip, chance: &mut Deviates) -> Caught {
    loop {
        let set = Set::draw(chance.one_of(&Kind::ALL), chance);
        let first = usize::from(set.slots[0].target.is_none());
        let at = first + chance.below(set.slots.len() - first);
        let Some(text) = slipped(slip, &set, at, chance) else { continue };
        let mut book = set.book();
        for (slot, &size) in set.slots.iter().zip(&set.sizes).take(at) {
            enter(&mut book, slot, &set.read(slot, &set.text(size)).expect("a good reading"));
        }
        let slot = &set.slots[at];
        let Ok(typed) = set.read(slot, &text) else { return Caught::Refused };
        let odd = misread(&book, slot, &typed, &set.how(slot));
        let missed =
            || Caught::Missed(format!("{:?} {} {at}: {text} for {}", set.kind, slot.key, set.text(set.sizes[at])));
        return odd.map_or_else(missed, Caught::Asked);
    }
}

#[test]
fn slips_are_caught_nineteen_times_in_twenty() {
    let mut chance = Deviates(5);
    let mut missed = Vec::new();
    for slip in Slip::ALL {
        let (mut refused, mut asked, mut named) = (0, 0, 0);
        for _ in 0..SLIPS_OF_A_KIND {
            match type_with(slip, &mut chance) {
                Caught::Refused => refused += 1,
                Caught::Asked(odd) => {
                    asked += 1;
                    named += usize::from(odd.slip.is_some_and(|(likely, _)| likely == slip));
                }
                Caught::Missed(what) => missed.push(format!("{}: {what}", slip.key())),
            }
        }
        println!("{}: {refused} refused, {asked} asked about, {named} of them by name", slip.key());
    }
    let slips = Slip::ALL.len() * SLIPS_OF_A_KIND;
    println!("{} of {slips} slips missed\n{missed:#?}", missed.len());
    assert!(missed.len() * 20 <= slips, "{} of {slips} missed: {missed:#?}", missed.len());
}
