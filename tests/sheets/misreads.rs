//! Slips among good readings: how many are caught when they are typed, and how often a good set is asked about.

use crate::bench::{Bench, THOU, close};
use crate::deviates::Deviates;
use crate::sets::{Kind, Set, enter};
use crate::sets_anew;
use std::collections::BTreeSet;
use witnessmark::engine::{LimitKind, SheetKey, TargetFeature};
use witnessmark::metrology::GaugeKind;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Book, EarlierRound, FamilyHistory, Odd, Slip, misread, set_doubts, told_in_full};

const SETS: usize = 1000;
const SLIPS_OF_A_KIND: usize = 400;

/// The long form draws ten times as many.
#[expect(clippy::disallowed_methods, reason = "the tests' own switch for their long form")]
fn times() -> usize {
    if std::env::var_os("WITNESSMARK_LONG").is_some() { 10 } else { 1 }
}

/// How sets are drawn: which kind, from which chance.
struct Drawn {
    kinds: usize,
    draw: fn(usize, &mut Deviates) -> Set,
    /// Of the good sets and of the slips.
    seeds: (u64, u64),
}

/// The sets that the thresholds were chosen with.
const FIRST: Drawn =
    Drawn { kinds: Kind::ALL.len(), draw: |kind, chance| Set::draw(Kind::ALL[kind], chance), seeds: (11, 5) };
/// Those drawn anew.
const ANEW: Drawn = Drawn { kinds: sets_anew::KINDS, draw: sets_anew::draw, seeds: (1_009, 2_003) };

/// Good sets read in bench order: at most one in a hundred is asked about.
fn good_sets(drawn: &Drawn) {
    let mut chance = Deviates(drawn.seeds.0);
    let mut asked = Vec::new();
    let (mut readings, sets) = (0, SETS * times());
    for n in 0..sets {
        let set = (drawn.draw)(n % drawn.kinds, &mut chance);
        let mut book = set.book();
        let mut questions = Vec::new();
        for (slot, &size) in set.slots.iter().zip(&set.sizes) {
            let typed = set.read(slot, &set.text(size)).expect("a good reading");
            if let Some(odd) = misread(&book, slot, &typed, &set.how(slot)) {
                questions.push(format!("{} {}: {}", set.name, slot.key, odd.question(book.words(), slot.measure())));
            }
            enter(&mut book, slot, &typed);
            readings += 1;
        }
        questions.extend(set.doubts(&book).into_iter().map(|doubt| format!("{}: {}", set.name, doubt.question)));
        asked.extend(questions.into_iter().next());
    }
    println!("{} of {sets} good sets of {readings} readings are asked about\n{asked:#?}", asked.len());
    assert!(asked.len() * 100 <= sets, "{} of {sets}: {asked:#?}", asked.len());
}

#[test]
fn good_sets_are_asked_about_at_most_once_in_a_hundred() {
    good_sets(&FIRST);
}

#[test]
fn so_are_good_sets_drawn_anew() {
    good_sets(&ANEW);
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
        Slip::DecimalPoint | Slip::OtherUnit if set.zeroed_at.is_some() => return None,
        Slip::DecimalPoint => set.text(size * if by > 0.0 { 10.0 } else { 0.1 }),
        Slip::OtherUnit => set.text(size * if by > 0.0 { 25.4 } else { 1.0 / 25.4 }),
        Slip::WrongSign if set.zeroed_at.is_none() => return None,
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
fn type_with(slip: Slip, drawn: &Drawn, chance: &mut Deviates) -> Caught {
    loop {
        let set = (drawn.draw)(chance.below(drawn.kinds), chance);
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
            || Caught::Missed(format!("{} {} {at}: {text} for {}", set.name, slot.key, set.text(set.sizes[at])));
        return odd.map_or_else(missed, Caught::Asked);
    }
}

/// Slips of every kind: at least nineteen of twenty are caught when they are typed.
fn slips(drawn: &Drawn) {
    let mut chance = Deviates(drawn.seeds.1);
    let mut missed = Vec::new();
    for slip in Slip::ALL {
        let (mut refused, mut asked, mut named) = (0, 0, 0);
        for _ in 0..SLIPS_OF_A_KIND * times() {
            match type_with(slip, drawn, &mut chance) {
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
    let slips = Slip::ALL.len() * SLIPS_OF_A_KIND * times();
    println!("{} of {slips} slips missed\n{missed:#?}", missed.len());
    assert!(missed.len() * 20 <= slips, "{} of {slips} missed: {missed:#?}", missed.len());
}

#[test]
fn slips_are_caught_nineteen_times_in_twenty() {
    slips(&FIRST);
}

#[test]
fn so_are_slips_in_sets_drawn_anew() {
    slips(&ANEW);
}

/// A set read with a gauge that was zeroed wrong by `zero` thou, in a round of its own.
fn off_by(set: &Set, zero: f64) -> Book {
    let mut book = set.book();
    for (slot, &size) in set.slots.iter().zip(&set.sizes) {
        enter(&mut book, slot, &set.read(slot, &set.text(size + zero * THOU)).expect("a reading"));
    }
    book
}

/// A gauge zeroed wrong by 1.5 to 5 thou on finished parts that have a target.
#[test]
fn a_wrong_zero_shows_against_the_targets() {
    let mut chance = Deviates(23);
    let kinds = [Kind::Journals, Kind::HonedBores, Kind::Skirts, Kind::Walls];
    let (mut drawn, mut caught) = (0, 0);
    while drawn < 200 {
        let set = Set::draw(chance.one_of(&kinds), &mut chance);
        if set.setup.targets.is_empty() {
            continue;
        }
        let zero = chance.one_of(&[1.0, -1.0]) * chance.between(1.5, 5.0);
        drawn += 1;
        caught += usize::from(set.doubts(&off_by(&set, zero)).iter().any(|doubt| doubt.key.starts_with("target:")));
    }
    println!("{caught} of {drawn} wrong zeros asked about");
    assert!(caught * 20 >= drawn * 19, "{caught} of {drawn}");
}

/// The same parts read twice: a zero that is off by 0.7 thou in one round shows against the other, none does not.
#[test]
fn a_wrong_zero_shows_against_an_earlier_round() {
    let mut chance = Deviates(29);
    for _ in 0..50 {
        let set = Set::draw(Kind::Journals, &mut chance);
        let earlier = EarlierRound { name: "round 1, trial".into(), book: off_by(&set, 0.0) };
        let asked = |zero: f64| {
            let doubts = set_doubts(&off_by(&set, zero), SheetKey::Crankshaft, &BTreeSet::new(), Some(&earlier));
            doubts.into_iter().find(|doubt| doubt.key.starts_with("round:"))
        };
        assert_eq!(asked(0.0), None);
        let question = asked(0.7).expect("off by 0.7 thou").question;
        assert!(question.contains("more than in round 1, trial"), "{question}");
    }
}

/// Diameters that are all the same to the last digit are questioned, deviations that are all the same are not.
#[test]
fn all_the_same_is_asked_of_diameters_only() {
    let asked = |typed: &str| {
        let bench = Bench::inch().target(TargetFeature::MainHousing, "mains", Unit::Inch, 2.6900);
        let keys = (0..5).flat_map(|n| ["vertical", "parting"].map(|spot| format!("main-housing-{spot}@main.{n}")));
        let (mut bench, keys): (Bench, Vec<String>) = (bench, keys.collect());
        for key in &keys {
            bench = bench.read(key, typed);
        }
        let told = bench.takes.iter().filter(|(_, take)| told_in_full(typed, take.resolution));
        let told: BTreeSet<_> = told.map(|(key, _)| key.clone()).collect();
        set_doubts(&bench.book(), SheetKey::MainBearings, &told, None)
    };
    let doubts = asked("2.6902");
    assert_eq!(doubts.len(), 1, "{doubts:?}");
    assert!(doubts[0].question.contains("All 10 read 2.6902"), "{}", doubts[0].question);
    assert_eq!(asked("+0.2"), []);
    assert_eq!(asked("2.690"), [], "to a thou many parts are the same");
}

/// Two routes that lie apart alike at every main have a zero between them.
#[test]
fn routes_that_lie_apart_alike_are_asked_about() {
    let with = |direct: [&str; 3]| {
        (0..3).fold(Bench::inch(), |bench, n| {
            bench
                .read(&format!("main-clearance-vertical@main.{n}"), direct[n])
                .read(&format!("main-plastic-strip@main.{n}"), "2.5")
        })
    };
    let asked = |direct| set_doubts(&with(direct).book(), SheetKey::MainBearings, &BTreeSet::new(), None);
    assert_eq!(asked(["2.6", "2.4", "2.5"]), []);
    let doubts = asked(["4.1", "4.0", "4.1"]);
    assert!(doubts.iter().any(|doubt| doubt.question.contains("3 mains lie about 1.6\u{a0}thou apart")), "{doubts:?}");
}

/// What the limits allow is where a set may lie.
#[test]
fn a_set_within_its_limits_is_not_asked_about() {
    let bench = (0..4).fold(Bench::inch().target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.0), |bench, n| {
        bench.read(&format!("skirt@cylinder.0.{n}"), ["4.0010", "4.0011", "4.0009", "4.0010"][n])
    });
    let asked = |bench: &Bench| set_doubts(&bench.book(), SheetKey::Pistons, &BTreeSet::new(), None);
    let doubts = asked(&bench);
    assert!(doubts.iter().any(|doubt| doubt.question.contains("All 4 read about 1.0\u{a0}thou above")), "{doubts:?}");
    assert_eq!(asked(&bench.limit("skirt-diameter", LimitKind::Absolute, Unit::Inch, 4.0, 4.0015)), []);
}

/// Two engines make a history; what one alone read does not.
#[test]
fn a_family_has_a_history_from_two_engines_on() {
    let bench = Bench::inch().target(TargetFeature::Skirt, "cylinders", Unit::Inch, 4.0);
    let key = witnessmark::engine::SlotKey::parse("skirt@cylinder.0.0");
    let read = |engine: i64, inches: f64| (engine, &bench.setup, &key, Unit::Inch.to_si(inches));
    assert!(FamilyHistory::by_feature(&bench.setup, [read(1, 3.9995), read(1, 3.9994)]).is_empty());
    let history = FamilyHistory::by_feature(&bench.setup, [read(1, 3.9995), read(2, 3.9993)]);
    close(history[&key.feature].mean, -0.6 * THOU, 1e-9);
    close(history[&key.feature].spread, 0.2 / 2_f64.sqrt() * THOU, 1e-9);
}
