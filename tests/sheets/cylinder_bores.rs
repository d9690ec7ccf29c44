//! Cylinder bores by hand: size, out-of-round, taper, spread and the clearance of the piston.

use witnessmark::metrology::GaugeSet;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, MICROMETRE, TENTH, THOU, close, is_missing, value};

/// One bore gauge reading told to a tenth, without its setting: √(1.3² + 2.54²/12) µm.
const OWN: f64 = 1.492_526e-6;
/// A bore gauge's setting.
const SETTING: f64 = 1.5e-6;

fn bore(bench: Bench, place: &str, typed: [&str; 6]) -> Bench {
    let slots = ["top-thrust", "top-pin", "middle-thrust", "middle-pin", "bottom-thrust", "bottom-pin"];
    slots.into_iter().zip(typed).fold(bench, |bench, (slot, typed)| bench.read(&format!("bore-{slot}@{place}"), typed))
}

/// A worn bore of 101.6 mm, three heights, the two directions of a fuller survey that are square to each other. The
/// expected figures were worked independently in numpy; none is published.
#[test]
fn a_worn_bore() {
    let columns =
        |thrust: [&'static str; 3], pin: [&'static str; 3]| [thrust[0], pin[0], thrust[1], pin[1], thrust[2], pin[2]];
    let (large, small) = (["101.618", "101.613", "101.609"], ["101.606", "101.605", "101.603"]);
    let bench = Bench::millimetre().read("skirt@cylinder.0.0", "101.530");
    let worn = bore(bench.clone(), "cylinder.0.0", columns(large, small));
    close(worn.value("bore-out-of-round@cylinder.0.0"), 12.0 * MICROMETRE, 1e-12);
    close(worn.value("bore-taper@cylinder.0.0"), 6.0 * MICROMETRE, 1e-12);
    close(worn.value("bore-size@cylinder.0.0"), 101.609e-3, 1e-12);
    assert_eq!(worn.finding("bore-size@cylinder.0.0").range, Some((101.603e-3, 101.618e-3)));
    close(worn.value("piston-clearance@cylinder.0.0"), 79.0 * MICROMETRE, 1e-12);
    let turned = bore(bench, "cylinder.0.0", columns(small, large));
    close(turned.value("piston-clearance@cylinder.0.0"), 73.0 * MICROMETRE, 1e-12);
    close(turned.value("bore-out-of-round@cylinder.0.0"), 12.0 * MICROMETRE, 1e-12);
}

/// Readings 4.3775 4.3773 / 4.3774 4.3773 / 4.3771 4.3770, skirt 4.3725: mean 4.377 266 7; out-of-round 2 tenths at the
/// top; taper 4.3774 − 4.377 05 = 3.5 tenths; clearance 4.3771 − 4.3725 = 4.6 thou.
#[test]
fn a_fresh_bore_in_inches() {
    let fresh = bore(
        Bench::inch().read("skirt@cylinder.0.2", "4.3725"),
        "cylinder.0.2",
        ["4.3775", "4.3773", "4.3774", "4.3773", "4.3771", "4.3770"],
    );
    let size = fresh.finding("bore-size@cylinder.0.2");
    close(value(&size), Unit::Inch.to_si(26.2636 / 6.0), 1e-12);
    assert_eq!(size.working, ["mean of 6 readings, 4.3770 to 4.3775: 4.3773\u{a0}in"]);
    let round = fresh.finding("bore-out-of-round@cylinder.0.2");
    close(value(&round), 2.0 * TENTH, 1e-12);
    assert_eq!(round.working, ["largest at the top: |4.3775 − 4.3773| = 0.2\u{a0}thou"]);
    let taper = fresh.finding("bore-taper@cylinder.0.2");
    close(value(&taper), 3.5 * TENTH, 1e-12);
    assert_eq!(taper.working, ["top 4.37740 − bottom 4.37705 = 0.35\u{a0}thou"]);
    assert_eq!(taper.remarks, ["larger at the top"]);
    let clearance = fresh.finding("piston-clearance@cylinder.0.2");
    close(value(&clearance), 4.6 * THOU, 1e-12);
    assert_eq!(clearance.working, ["smallest thrust way 4.3771 − skirt 4.3725 = 4.6\u{a0}thou"]);
    assert_eq!(clearance.readings.len(), 4, "three thrust way and the skirt: {:?}", clearance.readings);
}

/// The setting of the gauge is in the size, and in no difference of readings of one setting.
#[test]
fn a_shared_setting_stays_in_the_size_and_cancels_in_the_shape() {
    let read = ["4.3775", "4.3770", "4.3774", "4.3773", "4.3772", "4.3773"];
    let two = bore(bore(Bench::inch(), "cylinder.0.0", read), "cylinder.0.1", read.map(|_| "4.3790"));
    close(two.u("bore-size@cylinder.0.0"), (OWN * OWN / 6.0 + SETTING * SETTING).sqrt(), 1e-11);
    close(two.u("bore-out-of-round@cylinder.0.0"), OWN * 2.0_f64.sqrt(), 1e-11);
    close(two.u("bore-taper@cylinder.0.0"), OWN, 1e-11);
    close(two.u("bore-spread@cylinders"), OWN / 3.0_f64.sqrt(), 1e-11);
    // With the skirt's micrometer: √(1.3² + 0.733² + 1.3²) µm beside one bore reading with its setting.
    let fitted = two.read("skirt@cylinder.0.0", "4.3725");
    let skirt = (OWN * OWN + 1.3e-6 * 1.3e-6_f64).sqrt();
    close(fitted.u("piston-clearance@cylinder.0.0"), (OWN * OWN + SETTING * SETTING + skirt * skirt).sqrt(), 1e-10);
}

#[test]
fn a_difference_within_noise_is_said_and_one_beyond_is_not() {
    let with = |pin| bore(Bench::inch(), "cylinder.0.0", ["4.3775", pin, "4.3775", pin, "4.3775", pin]);
    let near = with("4.3774").finding("bore-out-of-round@cylinder.0.0");
    assert!(near.within_noise, "one tenth");
    assert_eq!(near.remarks, ["within what the gauge can tell: no more than noise"]);
    assert!(!with("4.3773").finding("bore-out-of-round@cylinder.0.0").within_noise, "two tenths");
}

/// Thrust way and pin way read at two settings of the gauge: what the settings may be off by counts as noise.
#[test]
fn two_settings_are_noisier_than_one() {
    let read = |setting: &'static str| {
        Bench::inch()
            .read_with("bore-top-thrust@cylinder.0.0", "4.3775", |take| take.setting = Some(set("morning")))
            .read_with("bore-top-pin@cylinder.0.0", "4.3773", |take| take.setting = Some(set(setting)))
            .finding("bore-out-of-round@cylinder.0.0")
    };
    assert!(!read("morning").within_noise);
    assert!(read("evening").within_noise);
}

#[test]
fn taper_compares_only_what_was_read_the_same_way() {
    let across =
        Bench::inch().reads(&[("bore-top-thrust@cylinder.0.0", "4.3780"), ("bore-bottom-pin@cylinder.0.0", "4.3770")]);
    assert!(across.find("bore-taper@cylinder.0.0").is_none(), "out-of-round would be taken for taper");
    let one_way = across.reads(&[("bore-top-pin@cylinder.0.0", "4.3772")]).finding("bore-taper@cylinder.0.0");
    close(value(&one_way), 2.0 * TENTH, 1e-12);
    assert_eq!(one_way.remarks, ["pin way only", "larger at the top"]);
}

#[test]
fn equal_readings_have_a_shape_of_nothing_with_its_uncertainty() {
    let even = bore(Bench::inch(), "cylinder.0.0", ["4.3775"; 6]);
    for shape in ["bore-out-of-round@cylinder.0.0", "bore-taper@cylinder.0.0"] {
        let finding = even.finding(shape);
        close(value(&finding), 0.0, 1e-15);
        assert!(finding.within_noise && finding.value.expect("a value").u() > 0.0, "{shape}");
    }
    let same = bore(even, "cylinder.0.1", ["4.3775"; 6]).finding("bore-spread@cylinders");
    close(value(&same), 0.0, 1e-15);
    assert!(same.within_noise);
}

#[test]
fn takes_are_averaged() {
    let once = Bench::inch().read("bore-top-thrust@cylinder.0.0", "4.3776");
    let twice = once.clone().read("bore-top-thrust@cylinder.0.0", "4.3772");
    close(twice.value("bore-size@cylinder.0.0"), Unit::Inch.to_si(4.3774), 1e-12);
    close(once.u("bore-size@cylinder.0.0"), OWN.hypot(SETTING), 1e-11);
    close(twice.u("bore-size@cylinder.0.0"), (OWN * OWN / 2.0 + SETTING * SETTING).sqrt(), 1e-11);
    assert_eq!(twice.finding("bore-size@cylinder.0.0").readings, ["r0", "r1"]);
}

#[test]
fn one_bore_has_no_spread() {
    assert!(bore(Bench::inch(), "cylinder.0.0", ["4.3775"; 6]).find("bore-spread@cylinders").is_none());
}

#[test]
fn half_taken_gives_what_can_be_told() {
    let half = Bench::inch().reads(&[
        ("bore-top-thrust@cylinder.0.0", "4.3775"),
        ("bore-top-pin@cylinder.0.0", "4.3770"),
        ("bore-middle-thrust@cylinder.0.0", "4.3772"),
        ("skirt@cylinder.0.0", "4.3725"),
    ]);
    close(half.value("bore-out-of-round@cylinder.0.0"), 5.0 * TENTH, 1e-12);
    assert!(half.find("bore-taper@cylinder.0.0").is_none());
    close(half.value("piston-clearance@cylinder.0.0"), 4.7 * THOU, 1e-12);
    is_missing(&half.finding("bore-size@cylinder.0.1"), "bore of cylinder 2");
}

/// Skirts are oval: a bore read pin way only has no clearance thrust way.
#[test]
fn pin_way_does_not_stand_in_for_thrust_way() {
    let pin = Bench::inch().read("bore-top-pin@cylinder.0.0", "4.3770").read("skirt@cylinder.0.0", "4.3725");
    is_missing(&pin.finding("piston-clearance@cylinder.0.0"), "bore thrust way of cylinder 1");
}

/// Bores read, skirts stated as a range 4.3723 to 4.3727 in: clearance 4.3771 less either end.
#[test]
fn a_clearance_is_no_surer_than_what_it_is_made_of() {
    let bench = bore(
        Bench::inch().read("skirt-stated@cylinders", "4.3723 to 4.3727"),
        "cylinder.0.0",
        ["4.3775", "4.3773", "4.3774", "4.3773", "4.3771", "4.3770"],
    );
    let clearance = bench.finding("piston-clearance@cylinder.0.0");
    assert_eq!(clearance.basis, Basis::Stated);
    let (low, high) = clearance.range.expect("a range");
    close(low, 4.4 * THOU, 1e-12);
    close(high, 4.8 * THOU, 1e-12);
    close(value(&clearance), 4.6 * THOU, 1e-12);
    assert_eq!(clearance.standing(), Standing::Figure);
}

/// The largest reading lies 0.2 thou above the limit and the mean below it.
#[test]
fn a_size_is_judged_by_its_worse_end() {
    use witnessmark::engine::LimitKind::Absolute;
    let bench = bore(
        Bench::inch().limit("bore-size", Absolute, Unit::Inch, 4.3765, 4.3773),
        "cylinder.0.0",
        ["4.3775", "4.3770", "4.3770", "4.3770", "4.3770", "4.3770"],
    );
    let size = bench.finding("bore-size@cylinder.0.0");
    close(value(&size), Unit::Inch.to_si(4.377_083_333), 1e-11);
    assert_eq!(size.standing(), Standing::Out);
    close(size.judgement.expect("judged").margin, -2.0 * TENTH, 1e-12);
    close(size.range_u, OWN.hypot(SETTING), 1e-11);
}

fn set(id: &str) -> GaugeSet {
    GaugeSet { id: id.into(), master: None }
}
