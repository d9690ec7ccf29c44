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

/// Room 9.000 − 1.750 = 7.250 in. As the parts lie the decks are 25 and 15 thou; the longer rod under the lower piston makes both
/// 20.
#[test]
fn rods_and_pistons_are_exchanged_for_even_decks() {
    let bench = Bench::inline(2, 3, witnessmark::engine::WorkingUnit::Inch)
        .target(TargetFeature::DeckHeight, "banks", Unit::Inch, 9.0)
        .target(TargetFeature::Stroke, "engine", Unit::Inch, 3.5)
        .reads(&[
            ("rod-length@cylinder.0.0", "5.7000"),
            ("rod-length@cylinder.0.1", "5.7050"),
            ("compression-height@cylinder.0.0", "1.5250"),
        ]);
    let missing = choose(&bench, SheetKey::Compression, "").unwrap_err();
    assert!(missing.contains("compression height of the piston of cylinder 2"), "{missing}");
    let found =
        choose(&bench.read("compression-height@cylinder.0.1", "1.5300"), SheetKey::Compression, "").expect("a choice");
    assert!(
        found[0].said.starts_with("largest less smallest 0.0\u{a0}thou, as the parts lie 10.0\u{a0}thou"),
        "{found:?}"
    );
    assert!(found[0].said.contains("no arrangement is more alike"));
    assert!(found[0].rows.iter().all(|(_, words)| words.ends_with("20.0\u{a0}thou to the deck")), "{found:?}");
}

/// 3.6 thou on packs of 12 thou where 2.0 is aimed at: 1.6 less, a pack of 10.4. Of leaves of 5, 2 and 3 thou a pack of 10 leaves 1.6,
/// one of 11 leaves 2.6; the first is nearer. Two leaves of 5 make it.
#[test]
fn leaves_bring_a_poured_bearing_next_to_its_target() {
    let bench = Bench::inch().target(TargetFeature::MainClearance, "mains", Unit::Thou, 2.0).reads(&[
        ("main-plastic-strip@main.0", "3.6"),
        ("main-shim-pack-left@main.0", "0.0120"),
        ("main-shim-pack-right@main.0", "0.0120"),
        ("main-plastic-strip@main.1", "3.0"),
        ("main-shim-pack-left@main.1", "0.0130"),
        ("main-shim-pack-right@main.1", "0.0110"),
    ]);
    let found = choose(&bench, SheetKey::MainBearings, "leaves 0.005 × 2, 2 thou x 1; 0.003 * 2").expect("packs");
    assert_eq!((found.len(), found[0].rows.len()), (1, 2));
    assert_eq!(
        found[0].rows[0].1,
        "3.6\u{a0}thou now on 0.0120\u{a0}in, 2.0\u{a0}thou aimed at: 2 of 0.0050 (0.0100\u{a0}in) in each pack give \
         1.6\u{a0}thou; or 1 of 0.0050 and 2 of 0.0030 (0.0110\u{a0}in) in each pack give 2.6\u{a0}thou"
    );
    // 3.0 − 1.0 thou is met by 11 of 12: one pack, and both sides are 2 thou apart.
    let second = &found[0].rows[1].1;
    assert!(
        second.contains("1 of 0.0050 and 2 of 0.0030 (0.0110\u{a0}in) in each pack give 2.0\u{a0}thou;"),
        "{second}"
    );
    assert!(second.ends_with("its packs are 2.0\u{a0}thou apart: make them alike first"), "{second}");
    for (typed, said) in [
        ("leaves", "such as “leaves"),
        ("leaves 0.002", "how many"),
        ("leaves 0.002 × many", "how many"),
        ("leaves thin × 2", "thin"),
        ("leaves 0.0 × 2", "thicker than nothing"),
    ] {
        let refused = choose(&bench, SheetKey::MainBearings, typed).unwrap_err();
        assert!(refused.contains(said), "{typed}: {refused}");
    }
    assert!(choose(&bench, SheetKey::RodBearings, "leaves 0.002 × 3").unwrap_err().contains("read the packs"));
}

/// Mains of 2.6870 on 2.4900 in, aimed at 2.0 thou: two walls of 0.0973 leave 2.4. A half of 0.0973 + 0.0005 with one of 0.0973 would
/// leave 197.0 − 97.8 − 97.3 = 1.9 thou. A box of extra clearance brings nothing.
#[test]
fn a_box_of_the_next_size_is_told_by_what_it_brings() {
    let bench = Bench::inline(1, 2, witnessmark::engine::WorkingUnit::Inch)
        .target(TargetFeature::MainClearance, "mains", Unit::Thou, 2.0)
        .target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.4900)
        .reads(&[
            ("main-housing-vertical@main.0", "2.6870"),
            ("main-journal-front-0@main.0", "2.4900"),
            ("main-housing-vertical@main.1", "2.6870"),
            ("main-journal-front-0@main.1", "2.4900"),
        ]);
    let found = choose(&bench, SheetKey::MainBearings, "0.0973; 0.0973; 0.0973; 0.0973").expect("a choice");
    assert!(found[0].said.starts_with("0.4\u{a0}thou at most"), "{found:?}");
    let boxes: Vec<&Choice> = found.iter().filter(|choice| choice.title.contains("box")).collect();
    assert_eq!(boxes.len(), 1, "{found:?}");
    assert_eq!(boxes[0].title, "With a box 1.0\u{a0}thou undersize besides");
    assert!(
        boxes[0].rows.iter().all(|(_, said)| said.starts_with("one half from it: 1.9\u{a0}thou, 0.1\u{a0}thou off"))
    );
    assert!(
        boxes[0].said.starts_with("0.1\u{a0}thou at most off its target instead of 0.4\u{a0}thou"),
        "{}",
        boxes[0].said
    );
    // Shells that meet the target want no other.
    let met = choose(&bench, SheetKey::MainBearings, "0.0975; 0.0975; 0.0975; 0.0975").expect("a choice");
    assert!(met.iter().all(|choice| !choice.title.contains("box")));
    assert!(met[0].said.ends_with("would bring it no closer"), "{}", met[0].said);
}
