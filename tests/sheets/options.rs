//! Choices by hand: shells from a shelf, halves by nominal steps, pistons for bores.

use witnessmark::engine::{SheetKey, TargetFeature};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Choice, sheet};

use crate::bench::{Bench, at};

fn choose(bench: &Bench, key: SheetKey, typed: &str) -> Result<Vec<Choice>, String> {
    let options = sheet(key).options.as_ref().expect("something to choose");
    (options.work_out)(&bench.book(), typed)
}

/// Housings 2.6870 and 2.6873, journals 2.4900: with two walls of 0.0975 the first has 2.0 thou, with 0.0976 and 0.0977 the
/// second has 2.0 too.
#[test]
fn shells_come_from_the_shelf_by_their_walls() {
    let mut bench = Bench::inline(1, 2, witnessmark::engine::WorkingUnit::Inch);
    bench = bench.target(TargetFeature::MainClearance, "mains", Unit::Thou, 2.0);
    bench = bench.reads(&[
        ("main-housing-vertical@main.0", "2.6870"),
        ("main-journal-front-0@main.0", "2.4900"),
        ("main-housing-vertical@main.1", "2.6873"),
        ("main-journal-front-0@main.1", "2.4900"),
    ]);
    let found = choose(&bench, SheetKey::MainBearings, "a: 0.0977\nb: 0.0975\nc: 0.0976; d: 0.0975; e: 0.0979")
        .expect("a choice");
    let best = &found[0];
    assert_eq!(best.rows[0].0, at("main.0"));
    assert!(best.rows[0].1.contains("b (0.0975)") && best.rows[0].1.contains("d (0.0975)"), "{best:?}");
    assert!(best.rows[1].1.contains("a (0.0977)") && best.rows[1].1.contains("c (0.0976)"), "{best:?}");
    assert!(best.rows.iter().all(|(_, words)| words.ends_with("2.0\u{a0}thou")), "{best:?}");
    assert!(best.said.contains("no choice from this shelf is better"));
    assert_eq!(found[1].title, "The next best");
    let few = choose(&bench, SheetKey::MainBearings, "0.0975").unwrap_err();
    assert!(few.contains("does not hold"), "{few}");
    let wrong = choose(&bench, SheetKey::MainBearings, "a: thick").unwrap_err();
    assert!(wrong.contains("thick"), "{wrong}");
}

/// 2.6 thou where 2.1 is aimed at: one half a thou undersize takes half a thou.
#[test]
fn a_trial_clearance_tells_the_nominal_halves() {
    let bench = Bench::inch()
        .target(TargetFeature::RodClearance, "cylinders", Unit::Thou, 2.1)
        .reads(&[("rod-clearance-vertical@cylinder.0.0", "2.6"), ("rod-clearance-vertical@cylinder.0.1", "2.1")]);
    let found = choose(&bench, SheetKey::RodBearings, "").expect("a choice");
    let said = |place: &str| &found[0].rows.iter().find(|(found, _)| *found == at(place)).expect("a row").1;
    assert!(
        said("cylinder.0.0").contains("1.0\u{a0}thou undersize") && said("cylinder.0.0").ends_with("2.1\u{a0}thou")
    );
    assert!(said("cylinder.0.1").contains("both standard gives 2.1"), "{found:?}");
    assert!(choose(&Bench::inch(), SheetKey::RodBearings, "").is_err(), "nothing read");
}

/// Bores 4.0010 and 4.0000, skirts 3.9970 and 3.9980: as they are 4.0 and 2.0 thou, exchanged 3.0 and 3.0. The other
/// two are alike either way.
#[test]
fn pistons_go_where_they_are_most_alike() {
    let bench = Bench::inch().target(TargetFeature::PistonClearance, "cylinders", Unit::Thou, 3.0).reads(&[
        ("bore-middle-thrust@cylinder.0.0", "4.0010"),
        ("bore-middle-thrust@cylinder.0.1", "4.0000"),
        ("bore-middle-thrust@cylinder.0.2", "4.0000"),
        ("bore-middle-thrust@cylinder.0.3", "4.0000"),
        ("skirt@cylinder.0.0", "3.9970"),
        ("skirt@cylinder.0.1", "3.9980"),
        ("skirt@cylinder.0.2", "3.9970"),
        ("skirt@cylinder.0.3", "3.9970"),
    ]);
    let found = choose(&bench, SheetKey::CylinderBores, "").expect("choices");
    assert_eq!(found.len(), 2);
    for choice in &found {
        assert!(choice.rows[0].1.starts_with("the piston of cylinder 2: 3.0"), "{choice:?}");
    }
    assert!(found[1].said.contains("largest less smallest 0.0\u{a0}thou"), "{found:?}");
    let missing = choose(&Bench::inch(), SheetKey::CylinderBores, "").unwrap_err();
    assert!(missing.contains("cylinder 1"), "{missing}");
}
