//! The crankshaft by hand: rod journals, strokes, end play cap by cap, and what each piston adds to the torque.

use witnessmark::engine::TargetFeature;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::Standing;

use crate::bench::{Bench, TENTH, THOU, close, is_missing, verdict};

#[test]
fn a_journals_size_is_the_largest_read() {
    let bench = Bench::inch().reads(&[
        ("rod-journal-front-0@throw.0", "2.0999"),
        ("rod-journal-front-90@throw.0", "2.0997"),
        ("rod-journal-rear-0@throw.0", "2.0998"),
        ("rod-journal-rear-90@throw.0", "2.0996"),
    ]);
    close(bench.value("rod-journal-size@throw.0"), Unit::Inch.to_si(2.0999), 1e-12);
    close(bench.value("rod-journal-out-of-round@throw.0"), 2.0 * TENTH, 1e-12);
    // (2.0999 + 2.0997)/2 − (2.0998 + 2.0996)/2
    close(bench.value("rod-journal-taper@throw.0"), 1.0 * TENTH, 1e-12);
    is_missing(&bench.finding("rod-journal-size@throw.1"), "journal of throw 2");
    let aimed = bench.target(TargetFeature::RodJournal, "throws", Unit::Inch, 2.1);
    is_missing(&aimed.finding("rod-journal-size@throw.1"), "Target");
}

/// 3.4805 − 3.4795 in: 1.0 thou.
#[test]
fn strokes_are_told_apart() {
    let bench = Bench::inch().reads(&[
        ("stroke@throw.0", "3.4805"),
        ("stroke@throw.1", "3.4795"),
        ("stroke@throw.2", "3.4800"),
    ]);
    close(bench.value("stroke-spread@throws"), 1.0 * THOU, 1e-12);
    assert!(Bench::inch().read("stroke@throw.0", "3.4805").find("stroke-spread@throws").is_none());
}

/// 6.0, 6.0, 4.6 thou as caps go down: the third takes 1.4 thou, the second nothing.
#[test]
fn the_cap_that_takes_end_play_is_the_one_that_shows_it() {
    let bench = Bench::inch()
        .reads(&[
            ("end-play-at-cap@main.0", "6.0"),
            ("end-play-at-cap@main.1", "6.0"),
            ("end-play-at-cap@main.2", "4.6"),
        ])
        .limit("end-play", witnessmark::engine::LimitKind::Absolute, Unit::Thou, 4.0, 8.0);
    close(bench.value("end-play-change@main.2"), -1.4 * THOU, 1e-12);
    assert_eq!(bench.finding("end-play-change@main.1").remarks, ["no more than the gauge can tell"]);
    is_missing(&bench.finding("end-play@engine"), "end play");
    let read = bench.read("end-play@engine", "3.0");
    assert_eq!(verdict(&read.finding("end-play@engine")), Verdict::Out);
}

/// 15, then 38 and 55 lbf·in with one and two pistons in: they add 23 and 17. Bench order goes by the cylinders' numbers.
#[test]
fn each_piston_is_told_by_what_it_adds() {
    let bench = Bench::inch().reads(&[
        ("turning-crank@engine", "15"),
        ("turning-with-piston@cylinder.0.0", "38"),
        ("turning-with-piston@cylinder.0.1", "55"),
    ]);
    let pounds = |value: f64| Unit::PoundInch.to_si(value);
    close(bench.value("turning-added@cylinder.0.0"), pounds(23.0), 1e-9);
    close(bench.value("turning-added@cylinder.0.1"), pounds(17.0), 1e-9);
    assert_eq!(
        bench.finding("turning-added@cylinder.0.0").working,
        ["38\u{a0}lbf·in − 15\u{a0}lbf·in = 23\u{a0}lbf·in"]
    );
    assert!(bench.find("turning-added@cylinder.0.2").is_none());
}

/// 1.7 N·m typed in an inch job is 1.7 N·m.
#[test]
fn torque_is_read_in_either_unit() {
    let bench = Bench::inch().read("turning-crank@engine", "1.7 N·m");
    close(bench.value("turning-crank@engine"), 1.7, 1e-12);
    assert_eq!(bench.finding("turning-crank@engine").standing(), Standing::Figure);
}

/// The largest is within, the smallest is not.
#[test]
fn a_journal_is_judged_by_its_worst_diameter() {
    let bench = Bench::inch()
        .reads(&[("rod-journal-front-0@throw.0", "2.0999"), ("rod-journal-rear-90@throw.0", "2.0980")])
        .limit("rod-journal-size", witnessmark::engine::LimitKind::Absolute, Unit::Inch, 2.0990, 2.1000);
    assert_eq!(verdict(&bench.finding("rod-journal-size@throw.0")), Verdict::Out);
}

/// Largest of 2.4486, 2.4485, 2.4484, 2.4483 in; round 0.1 thou at either end; taper (2.4486 + 2.4485)/2 − (2.4484 + 2.4483)/2. A
/// journal judged by its smallest is out below 2.4484 in. Its clearance can be told without it, so none is missing.
#[test]
fn main_journals_are_sized_like_those_of_rods() {
    let bench = Bench::inch()
        .reads(&[
            ("main-journal-front-0@main.0", "2.4486"),
            ("main-journal-front-90@main.0", "2.4485"),
            ("main-journal-rear-0@main.0", "2.4484"),
            ("main-journal-rear-90@main.0", "2.4483"),
        ])
        .limit("main-journal-size", witnessmark::engine::LimitKind::Absolute, Unit::Inch, 2.4484, 2.4490);
    close(bench.value("main-journal-size@main.0"), Unit::Inch.to_si(2.4486), 1e-12);
    assert_eq!(verdict(&bench.finding("main-journal-size@main.0")), Verdict::Out);
    close(bench.value("main-journal-out-of-round@main.0"), 1.0 * TENTH, 1e-12);
    close(bench.value("main-journal-taper@main.0"), 2.0 * TENTH, 1e-12);
    assert!(bench.find("main-journal-size@main.1").is_none());
}
