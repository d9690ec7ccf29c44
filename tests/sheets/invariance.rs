//! What must not change a finding: which cylinder or main it is, the unit a size is typed in, the order of entry, the numbers
//! the shop gives its cylinders. And that nothing typed makes a figure that is none.

use proptest::prelude::*;
use witnessmark::engine::{Architecture, FindingFeature, FindingKey, Layout, Place, SheetKey, SlotFeature, SlotKey};
use witnessmark::metrology::Band;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Finding, Slot, TakeValue, sheet};

use crate::bench::{Bench, TENTH, close};

/// Size of every reading of an engine of four cylinders and five mains, as tenths from what it would be when perfect.
#[derive(Clone, Debug)]
struct Scatter(Vec<Option<i32>>);

fn any_scatter() -> impl Strategy<Value = Scatter> {
    let slots = each_slot(&Bench::inch()).len();
    proptest::collection::vec(proptest::option::weighted(0.8, -12_i32..12), slots).prop_map(Scatter)
}

/// Tenths of an inch that a reading would be on a perfect engine; where nothing is said of a size, one that can be.
fn perfect(slot: &Slot) -> i32 {
    match slot.key.feature.clone() {
        _ if slot.measure().small => 25,
        feature if feature_is(&feature, "MainShellWall") => 953,
        feature if feature_is(&feature, "MainShellBore") => 27_505,
        feature if feature_is(&feature, "MainHousing") => 29_411,
        feature if feature_is(&feature, "MainJournal") => 27_480,
        feature if feature_is(&feature, "Skirt") => 43_725,
        feature if feature_is(&feature, "Pin") => 9_275,
        feature if feature_is(&feature, "SmallEnd") => 9_281,
        _ if slot.possible.1 < 0.1 => {
            let middle = f64::midpoint(slot.possible.0, slot.possible.1);
            (0..1_000_000).find(|tenths| f64::from(*tenths) * TENTH >= middle).expect("a size in its middle")
        }
        _ => 43_770,
    }
}

fn feature_is(feature: &SlotFeature, name: &str) -> bool {
    format!("{feature:?}").starts_with(name)
}

/// Every length that is read at a place of its own.
fn each_slot(bench: &Bench) -> Vec<Slot> {
    let slots = SheetKey::ALL.into_iter().flat_map(|key| (sheet(key).slots)(&bench.setup));
    slots.filter(|slot| slot.measure().is_length() && slot.key.place != slot.key.place.whole()).collect()
}

/// The bench with every reading that the scatter has, typed as `typed` says, at the place `moved` says.
fn taken(scatter: &Scatter, typed: impl Fn(i32) -> String, moved: impl Fn(Place) -> Place) -> Bench {
    let bench = Bench::inch();
    let slots = each_slot(&bench);
    slots.iter().zip(&scatter.0).fold(bench, |bench, (slot, off)| match off {
        Some(off) => {
            let at = SlotKey::new(slot.key.feature.clone(), moved(slot.key.place));
            bench.read(&at.to_string(), &typed(perfect(slot) + off))
        }
        None => bench,
    })
}

fn inches(tenths: i32) -> String {
    format!("{}.{:04} in", tenths / 10_000, tenths % 10_000)
}

/// One tenth is exactly 0.00254 mm.
fn millimetres(tenths: i32) -> String {
    let hundredths_of_micrometre = tenths * 254;
    format!("{}.{:05} mm", hundredths_of_micrometre / 100_000, hundredths_of_micrometre % 100_000)
}

fn findings(bench: &Bench) -> Vec<Finding> {
    let book = bench.book();
    SheetKey::ALL.into_iter().flat_map(|key| book.findings(key).to_vec()).collect()
}

/// Cylinders, throws and mains each rotated by one, and one pair exchanged.
fn permuted(place: Place) -> Place {
    let swapped = |index: u8| {
        if index == 0 {
            2
        } else if index == 2 {
            0
        } else {
            index
        }
    };
    match place {
        Place::Cylinder { bank, index } => Place::Cylinder { bank, index: swapped((index + 1) % 4) },
        // Each rod has a throw of its own.
        Place::Throw { index } => Place::Throw { index: swapped((index + 1) % 4) },
        Place::Main { index } => Place::Main { index: swapped((index + 1) % 5) },
        whole => whole,
    }
}

/// Findings that take the largest or farthest of several: of equals, either may be taken, each as sure as it is itself.
fn chooses(feature: &FindingFeature) -> bool {
    feature.is_spread() || feature.compares_routes()
}

/// Findings that compare a place with the one before it.
fn goes_by_order(feature: &FindingFeature) -> bool {
    use FindingFeature as F;
    matches!(feature, F::EndPlayChange | F::TurningAdded | F::MainLineStep(_))
}

fn alike(one: &Finding, other: &Finding) -> bool {
    let u_matters = !chooses(&one.key.feature);
    match (&one.value, &other.value) {
        (None, None) => true,
        (Some(a), Some(b)) => {
            let as_sure = (a.u() - b.u()).abs() < 1e-12 && one.within_noise == other.within_noise;
            (a.value() - b.value()).abs() < 1e-15 && (as_sure || !u_matters)
        }
        _ => false,
    }
}

fn same_ends(one: Option<Band>, other: Option<Band>) -> bool {
    let ends = |band: Option<Band>| band.map(|b| (b.min().unwrap_or(0.0), b.max().unwrap_or(0.0)));
    match (ends(one), ends(other)) {
        (Some((a, b)), Some((c, d))) => (a - c).abs() < 1e-12 && (b - d).abs() < 1e-12,
        (one, other) => one == other,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn permuting_places_permutes_findings(scatter in any_scatter()) {
        let in_any_order = |moved: fn(Place) -> Place| {
            let mut found = findings(&taken(&scatter, inches, moved));
            found.retain(|finding| !goes_by_order(&finding.key.feature));
            found
        };
        let (here, there) = (in_any_order(|place| place), in_any_order(permuted));
        prop_assert_eq!(here.len(), there.len());
        for finding in &here {
            let key = FindingKey::new(finding.key.feature.clone(), permuted(finding.key.place));
            let moved = there.iter().find(|found| found.key == key);
            let moved = moved.ok_or_else(|| TestCaseError::fail(format!("no {key}")))?;
            prop_assert!(alike(finding, moved), "{finding:?} {moved:?}");
            prop_assert_eq!(finding.standing(), moved.standing());
            prop_assert!(chooses(&key.feature) || same_ends(finding.band, moved.band));
            prop_assert_eq!(finding.readings.len(), moved.readings.len());
        }
    }

    /// The same sizes typed in inches and in millimetres, told to the same step, give the same findings.
    #[test]
    fn inches_and_millimetres_give_the_same_findings(scatter in any_scatter()) {
        let told_to_a_tenth = |typed: fn(i32) -> String| {
            let mut bench = taken(&scatter, typed, |at| at);
            bench.takes.iter_mut().for_each(|(_, take)| take.resolution = TENTH);
            findings(&bench)
        };
        let (inch, metric) = (told_to_a_tenth(inches), told_to_a_tenth(millimetres));
        prop_assert_eq!(inch.len(), metric.len());
        for (one, other) in inch.iter().zip(&metric) {
            prop_assert_eq!(&one.key, &other.key);
            prop_assert_eq!(one.standing(), other.standing());
            prop_assert!(alike(one, other), "{one:?} {other:?}");
        }
    }

    /// Only within a slot does it matter which take came first.
    #[test]
    fn the_order_of_entry_does_not_matter(scatter in any_scatter()) {
        let one = taken(&scatter, inches, |at| at);
        let mut other = one.clone();
        other.takes.reverse();
        prop_assert_eq!(findings(&one), findings(&other));
    }

    /// Whatever is entered, every figure is finite and every missing one says what is missing.
    #[test]
    fn every_figure_is_finite(scatter in any_scatter(), tiny in 0.0_f64..1e-300) {
        let mut bench = taken(&scatter, inches, |at| at);
        for (_, take) in &mut bench.takes {
            if let TakeValue::Figure(value) = &mut take.value {
                *value += tiny;
            }
            take.resolution = tiny;
        }
        for finding in findings(&bench) {
            let shown = serde_json::to_string(&finding).expect("JSON");
            prop_assert!(!shown.contains("NaN") && !shown.contains("inf"), "{shown}");
            prop_assert!(finding.value.is_none_or(|value| value.value().is_finite() && value.u().is_finite()));
        }
    }
}

/// The shop numbers its cylinders from the back: labels and order follow, keys and figures do not.
#[test]
fn numbering_changes_words_and_order_only() {
    let mut bench = Bench::inch().read("bore-top-thrust@cylinder.0.0", "4.3775").read("skirt@cylinder.0.0", "4.3725");
    let front = bench.finding("piston-clearance@cylinder.0.0");
    bench.setup.architecture = Architecture::new(Layout::Inline, 4, 5, vec![4, 3, 2, 1], vec![]).expect("an engine");
    let mut renumbered = bench.finding("piston-clearance@cylinder.0.0");
    assert_eq!(renumbered.budget.replace("cylinder 4", "cylinder 1"), front.budget);
    renumbered.budget.clone_from(&front.budget);
    assert_eq!(renumbered, front);
    let book = bench.book();
    let last = book.findings(SheetKey::Pistons).last().expect("four");
    assert_eq!(last.key.to_string(), "skirt-diameter@cylinder.0.0");
    assert!(format!("{:?}", book.findings(SheetKey::Pistons)[0].basis).contains("cylinder 1"));
}

/// A metric job speaks of the same figures in its own units.
#[test]
fn the_working_unit_changes_words_only() {
    let inch = Bench::inch().read("main-clearance-vertical@main.0", "2.5 thou");
    let metric = Bench::millimetre().read("main-clearance-vertical@main.0", "2.5 thou");
    let (one, other) =
        (inch.finding("main-clearance-vertical@main.0"), metric.finding("main-clearance-vertical@main.0"));
    assert_eq!(one.value, other.value);
    assert_eq!(other.working, ["read 64\u{a0}µm with the gauge zeroed on the journal"]);
    close(Unit::Thou.to_si(2.5), 63.5e-6, 1e-15);
}
