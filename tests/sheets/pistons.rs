//! Pistons and pins by hand: the pin in the piston, compression heights, crown volumes; the skirts stand as they did.

use witnessmark::engine::{LimitKind::Absolute, SheetKey, TargetFeature};
use witnessmark::metrology::{Material, Verdict};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, ReadAt, Standing};

use crate::bench::{Bench, MICROMETRE, THOU, close, is_missing, value, verdict};

fn found(bench: &Bench) -> Vec<String> {
    bench.book().findings(SheetKey::Pistons).iter().map(|finding| finding.key.to_string()).collect()
}

#[test]
fn skirts_come_first_and_nobody_is_asked_for_more() {
    let skirts = ["0", "1", "2", "3"].map(|index| format!("skirt-diameter@cylinder.0.{index}"));
    assert_eq!(found(&Bench::inch()), skirts);
    let pins = Bench::inch().read("pin@cylinder.0.0", "0.9275");
    assert_eq!(found(&pins), skirts, "a pin alone fits nothing");
    let more =
        Bench::inch().reads(&[("piston-volume@cylinder.0.1", "-5"), ("compression-height@cylinder.0.3", "1.75")]);
    assert_eq!(found(&more)[..4], skirts);
    assert_eq!(found(&more)[4..], ["compression-height@cylinder.0.3", "piston-volume@cylinder.0.1"]);
}

/// 22.008 − 22.000 = 8 µm, and −2 µm: a bore gauge and a micrometer told to a µm, u = √(1.3² + 1.5² + 1.3² + 1.3² + 2/12) =
/// 2.736 µm, so 2 µm cannot be told from nothing.
#[test]
fn a_pin_in_its_piston() {
    let bench = Bench::millimetre().limit("pin-in-piston", Absolute, Unit::Micrometre, 5.0, 13.0).reads(&[
        ("pin-bore@cylinder.0.0", "22.008"),
        ("pin@cylinder.0.0", "22.000"),
        ("pin-bore@cylinder.0.1", "21.998"),
        ("pin@cylinder.0.1", "22.000"),
        ("pin-bore@cylinder.0.2", "22.008"),
    ]);
    let runs = bench.finding("pin-in-piston@cylinder.0.0");
    close(value(&runs), 8.0 * MICROMETRE, 1e-12);
    close(bench.u("pin-in-piston@cylinder.0.0"), 2.736_177e-6, 1e-11);
    assert_eq!((verdict(&runs), &runs.working[0][..]), (Verdict::Good, "pin bore 22.0080 − pin 22.0000 = 8.0\u{a0}µm"));
    let tight = bench.finding("pin-in-piston@cylinder.0.1");
    close(value(&tight), -2.0 * MICROMETRE, 1e-12);
    assert_eq!(verdict(&tight), Verdict::Out);
    assert!(tight.remarks[0].starts_with("whether it runs or is held cannot be told"), "{:?}", tight.remarks);
    is_missing(&bench.finding("pin-in-piston@cylinder.0.2"), "pin of cylinder 3");
}

/// Read at 30 °C the bore of a 2618 piston comes back to 20 °C by 22 mm × 10 K × (22.3 − 11.5)/10⁶ = 2.376 µm; the pin, of
/// steel as the gauge, stays as it was read.
#[test]
fn a_warm_pin_is_not_taken_for_piston_alloy() {
    let warm = |take: &mut witnessmark::sheets::Take| take.temperature = Some(ReadAt { part: 30.0, gauge: None });
    let mut bench = Bench::millimetre();
    bench.setup.materials.pistons = Some(Material::PistonAlloy2618);
    let bench = bench.read_with("pin-bore@cylinder.0.0", "22.010", warm).read_with("pin@cylinder.0.0", "22.000", warm);
    close(bench.value("pin-in-piston@cylinder.0.0"), (10.0 - 2.376) * MICROMETRE, 2e-9);
}

#[test]
fn heights_are_read_or_stated_and_lie_apart() {
    let bench = Bench::inch().reads(&[
        ("compression-height-stated@cylinders", "1.745 to 1.755"),
        ("compression-height-stated@cylinder.0.1", "1.748"),
        ("compression-height@cylinder.0.2", "1.7505"),
        ("compression-height@cylinder.0.3", "1.7490"),
    ]);
    let height = |index| bench.finding(&format!("compression-height@cylinder.0.{index}"));
    assert_eq!((height(0).basis, height(1).basis, height(2).basis), (Basis::Stated, Basis::Stated, Basis::Readings));
    close(value(&height(0)), Unit::Inch.to_si(1.750), 1e-12);
    assert!(height(0).range.is_some());
    close(value(&height(1)), Unit::Inch.to_si(1.748), 1e-12);
    let apart = bench.finding("compression-height-spread@cylinders");
    close(value(&apart), 1.5 * THOU, 1e-12);
    assert_eq!(apart.working, ["cylinder 3 1.75050 − cylinder 4 1.74900 = 1.50\u{a0}thou"]);
}

/// Only a target asks for what nobody read; it carries no verdict.
#[test]
fn a_target_asks_for_heights_and_volumes() {
    let bench = Bench::inch()
        .target(TargetFeature::CompressionHeight, "cylinders", Unit::Inch, 1.75)
        .target(TargetFeature::PistonVolume, "cylinder.0.2", Unit::CubicCentimetre, -4.0)
        .limit("compression-height", Absolute, Unit::Inch, 1.74, 1.76);
    let height = bench.finding("compression-height@cylinder.0.0");
    is_missing(&height, "compression height of cylinder 1");
    assert!(matches!(height.basis, Basis::Target { .. }));
    close(height.target.expect("a target"), Unit::Inch.to_si(1.75), 1e-12);
    is_missing(&bench.finding("piston-volume@cylinder.0.2"), "crown volume of cylinder 3");
    assert!(bench.find("piston-volume@cylinder.0.0").is_none());
}

/// A dish counts above zero and a dome below; both are bounded by 500 cm³.
#[test]
fn dish_and_dome() {
    let bench = Bench::inch()
        .limit("piston-volume", Absolute, Unit::CubicCentimetre, -6.0, -4.0)
        .reads(&[("piston-volume@cylinder.0.0", "5.0"), ("piston-volume@cylinder.0.1", "-5.0 cc")])
        .checked("piston-volume-stated@cylinder.0.2", "by the maker's sheet");
    let dish = bench.finding("piston-volume@cylinder.0.0");
    close(value(&dish), 5e-6, 1e-15);
    assert_eq!((verdict(&dish), &dish.remarks[0][..]), (Verdict::Out, "a dish of 5.0\u{a0}cm³"));
    let dome = bench.finding("piston-volume@cylinder.0.1");
    close(value(&dome), -5e-6, 1e-15);
    assert_eq!((verdict(&dome), &dome.remarks[0][..]), (Verdict::Good, "a dome of 5.0\u{a0}cm³"));
    // A burette told to a tenth: √(0.1² + 0.1²/12) cm³.
    close(bench.u("piston-volume@cylinder.0.1"), 1.040_833e-7, 1e-12);
    assert_eq!(bench.finding("piston-volume@cylinder.0.2").standing(), Standing::Checked);
    let slot = bench.slot("piston-volume@cylinder.0.0");
    let how = slot.how(bench.setup.unit, Unit::Thou, None);
    assert!(slot.read("-600", &how, bench.setup.unit).is_err() && slot.read("600", &how, bench.setup.unit).is_err());
}

/// A pin of 22 mm stands 1 mm out of a crown 10 mm above its centre.
#[test]
fn a_pin_that_stands_out_of_the_crown_is_named() {
    let read = |height| {
        Bench::millimetre()
            .reads(&[("pin@cylinder.0.0", "22.000"), ("compression-height@cylinder.0.0", height)])
            .finding("compression-height@cylinder.0.0")
    };
    assert_eq!(
        read("10.000").remarks,
        ["cannot be: a pin of 22.000\u{a0}mm stands out of a crown 10.000\u{a0}mm above its centre; look at both"]
    );
    assert!(read("30.000").remarks.is_empty());
}
