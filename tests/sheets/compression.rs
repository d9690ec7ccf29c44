//! Deck and compression by hand: where the piston stands, the room above it, the ratio, what to cut; what is missing and what
//! cannot be.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use witnessmark::engine::{Architecture, Layout, LimitKind, TargetFeature};
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Finding, Standing};

use crate::bench::{Bench, MICROMETRE, THOU, close, is_missing, value, verdict};

const RATIO: &str = "compression-ratio@cylinder.0.0";
const CC: f64 = 1e-6;

/// What a job gives beside the readings: gasket bore 103.9 mm, land 100.9 × 6.0 mm.
fn job() -> Bench {
    Bench::millimetre()
        .target(TargetFeature::GasketBore, "banks", Unit::Millimetre, 103.9)
        .target(TargetFeature::LandDiameter, "cylinders", Unit::Millimetre, 100.9)
        .target(TargetFeature::LandHeight, "cylinders", Unit::Millimetre, 6.0)
        .target(TargetFeature::CompressionRatio, "cylinders", Unit::One, 10.0)
        .target(TargetFeature::InletCloses, "engine", Unit::Degree, 60.0)
}

/// Bore 101.600, stroke 88.392, rod 152.400, chamber 64.0 cm³, gasket 1.000, deck 0.254, dish 5.0 cm³.
fn measured() -> Bench {
    job().read("gasket-thickness@bank.0", "1.000 mm").reads(&cylinder_one("64.0"))
}

fn cylinder_one(chamber: &str) -> [(&'static str, &str); 7] {
    [
        ("bore-top-thrust@cylinder.0.0", "101.600"),
        ("stroke@throw.0", "88.392"),
        ("rod-length@cylinder.0.0", "152.400"),
        ("piston-volume@cylinder.0.0", "5.0"),
        ("deck-clearance-front@cylinder.0.0", "0.254"),
        ("deck-clearance-rear@cylinder.0.0", "0.254"),
        ("chamber@cylinder.0.0", chamber),
    ]
}

#[track_caller]
fn because(finding: &Finding, says: &[&str]) {
    let Basis::NoFigure { because } = &finding.basis else { panic!("{finding:?}") };
    assert!(finding.value.is_none() && finding.standing() == Standing::NoFigure);
    for what in says {
        assert!(because.contains(what), "no “{what}” in {because}");
    }
}

/// C02-1 and C02-2: `V_s` 716.6222, `V_gasket` 8.4785381, `V_deck` 2.0592592, `V_crevice` 0.66798114, `V_c` 80.205778 cm³, CR
/// 9.9347951, squish 1.254 mm; without the crevice CR 10.009832. Worked independently; not published.
#[test]
fn the_room_above_the_piston_and_its_ratio() {
    let bench = measured();
    let room = bench.finding("clearance-volume@cylinder.0.0");
    close(value(&room), 80.205_778 * CC, 1e-12);
    assert_eq!(room.working, ["chamber 64.00 + gasket 8.48 + deck 2.06 + dish 5.00 + crevice 0.67 = 80.21\u{a0}cm³"]);
    let ratio = bench.finding(RATIO);
    close(value(&ratio), 9.934_795_1, 1e-6);
    assert_eq!((ratio.basis.clone(), ratio.target), (Basis::Readings, Some(10.0)));
    assert_eq!(ratio.working, ["(716.62 swept + 80.21 above the piston) / 80.21 = 9.935"]);
    assert_eq!(ratio.readings.len(), 7, "all but the rod: {:?}", ratio.readings);
    let squish = bench.finding("squish@cylinder.0.0");
    close(value(&squish), 1.254e-3, 1e-12);
    assert_eq!(squish.working, ["deck 254\u{a0}µm + gasket 1000\u{a0}µm = 1254\u{a0}µm"]);

    let mut without = measured();
    without.setup.targets.retain(|key, _| key.feature != TargetFeature::LandHeight);
    let ratio = without.finding(RATIO);
    close(value(&ratio), 10.009_832, 1e-6);
    assert!(ratio.remarks.iter().any(|remark| remark.starts_with("without the crevice")), "{:?}", ratio.remarks);
}

/// C02-3: for 10.0 the room is to be 79.624689, 0.58108957 cm³ less: 0.071674683 mm off the deck. Squish 1.254 − 0.072 = 1.182;
/// or a chamber of 64.0 − 0.58 = 63.42 cm³.
#[test]
fn what_to_take_off_the_deck() {
    let cut = measured().finding("deck-cut@cylinder.0.0");
    close(value(&cut), 0.071_674_683e-3, 1e-11);
    assert_eq!(cut.working, ["for 10.000: 80.21 − 79.62 = 0.58\u{a0}cm³ over the bore 101.600\u{a0}mm: 71.7\u{a0}µm"]);
    assert!(cut.remarks.contains(&"squish then 1182\u{a0}µm".to_owned()), "{:?}", cut.remarks);
    assert!(cut.remarks.iter().any(|remark| remark.starts_with("or a chamber of 63.42\u{a0}cm³")), "{:?}", cut.remarks);
    // 716.6222 / 8 = 89.577775: 9.371997 cm³ too little room, 1.155991 mm.
    let low = measured().target(TargetFeature::CompressionRatio, "cylinders", Unit::One, 9.0);
    let cut = low.finding("deck-cut@cylinder.0.0");
    close(value(&cut), -9.371_997e-6 / (FRAC_PI_4 * 0.1016 * 0.1016), 1e-9);
    assert!(cut.remarks[0].starts_with("too little room already"), "{:?}", cut.remarks);
    // 716.6222 / 8.934 = 80.2129 cm³: 7 mm³ are no more than a burette can tell.
    let there = measured().target(TargetFeature::CompressionRatio, "cylinders", Unit::One, 9.934);
    assert_eq!(there.finding("deck-cut@cylinder.0.0").remarks[0], "no more than the readings can tell");
    let unasked = Bench { setup: Bench::millimetre().setup, ..measured() };
    assert!(unasked.find("deck-cut@cylinder.0.0").is_none(), "no ratio is aimed at");
    assert!(unasked.find("effective-ratio@cylinder.0.0").is_none(), "nor is a closing given");
}

/// C02-5: the inlet closes 60° after bottom dead centre, piston 71.178593 mm down: 8.1948383.
#[test]
fn the_ratio_from_inlet_closing() {
    let effective = measured().finding("effective-ratio@cylinder.0.0");
    close(value(&effective), 8.194_838_3, 1e-6);
    assert_eq!(
        effective.working[0],
        "inlet closes 60.0° after bottom dead centre: piston 71.179\u{a0}mm below its top"
    );
    // With a pin offset bottom dead centre itself moves, and the piston stands elsewhere at the same angle after it: by
    // x(φ) = √((l+r)²−e²) − r·cosφ − √(l² − (r·sinφ − e)²) at φ = π + asin(e/(l−r)) + 60°.
    let (l, e, stroke) = (0.1524_f64, 0.0015_f64, 0.088_392_f64);
    let r = stroke / 2.0 * (1.0 - e * e / (l * l - stroke * stroke / 4.0)).sqrt();
    let angle = std::f64::consts::PI + (e / (l - r)).asin() + 60.0_f64.to_radians();
    let depth = ((l + r).powi(2) - e * e).sqrt() - r * angle.cos() - (l * l - (r * angle.sin() - e).powi(2)).sqrt();
    let offset = measured().target(TargetFeature::PinOffset, "engine", Unit::Millimetre, 1.5);
    let room = offset.value("clearance-volume@cylinder.0.0");
    let expected = 1.0 + FRAC_PI_4 * 0.1016 * 0.1016 * depth / room;
    close(offset.value("effective-ratio@cylinder.0.0"), expected, 1e-9);
    assert!((expected - 8.194_838_3).abs() > 1e-3, "the offset is seen");
}

/// By the derivatives of `(V_s + V_c)/V_c`. Burette 0.1 cm³ told to 0.1; indicator 2.5 µm, its zero at that bore 2.5; micrometer
/// 1.3 and 1.3; bore gauge 1.3 and 1.5; lengths told to 1 µm. The bore is in what is swept and in what is above.
#[test]
fn how_well_the_ratio_is_known() {
    let told = |own: f64, step: f64| (own * own + step * step / 12.0).sqrt();
    let (bore, hole, deck, land_height) = (0.1016, 0.1039, 0.254e-3, 0.006);
    let (area, hole_area) = (FRAC_PI_4 * bore * bore, FRAC_PI_4 * hole * hole);
    let (swept, room) = (area * 0.088_392, 80.205_778 * CC);
    let by_room = swept / (room * room);
    let of_burette = by_room * told(0.1, 0.1) * CC;
    let one_indicator = told(2.5, 1.0) * MICROMETRE;
    let of_deck = by_room * area * (one_indicator / 2.0_f64.sqrt()).hypot(2.5 * MICROMETRE);
    let of_gasket = by_room * hole_area * told(1.3, 1.0).hypot(1.3) * MICROMETRE;
    let of_stroke = area / room * one_indicator.hypot(2.5 * MICROMETRE);
    let by_bore = 2.0 * swept / bore / room - by_room * (2.0 * area * deck / bore + FRAC_PI_2 * bore * land_height);
    let of_bore = by_bore * told(1.3, 1.0).hypot(1.5) * MICROMETRE;
    let all = [of_burette, of_burette, of_deck, of_gasket, of_stroke, of_bore];
    close(measured().u(RATIO), all.iter().map(|u| u * u).sum::<f64>().sqrt(), 2e-7);
}

/// A limit on the ratio is judged once everything is read, not while a target stands in.
#[test]
fn a_target_that_stands_in_gives_a_figure_without_a_verdict() {
    let limited = |bench: Bench| bench.limit("compression-ratio", LimitKind::Absolute, Unit::One, 9.8, 10.0);
    assert_eq!(verdict(&limited(measured()).finding(RATIO)), Verdict::Good);
    let mut by_target = limited(measured()).target(TargetFeature::Chamber, "cylinders", Unit::CubicCentimetre, 64.0);
    by_target.takes.retain(|(key, _)| key.to_string() != "chamber@cylinder.0.0");
    let ratio = by_target.finding(RATIO);
    is_missing(&ratio, "chamber of cylinder 1");
    close(value(&ratio), 9.934_795_1, 1e-6);
    is_missing(&by_target.finding("chamber-volume@cylinder.0.0"), "chamber of cylinder 1");
    is_missing(&by_target.finding("deck-cut@cylinder.0.0"), "chamber of cylinder 1");
}

/// What was read gives what it can; the ratio names what is still wanted.
#[test]
fn partial_readings() {
    let bench = Bench::inch().read("deck-clearance-thrust@cylinder.0.1", "9.0");
    let deck = bench.finding("deck-clearance@cylinder.0.1");
    close(value(&deck), 9.0 * THOU, 1e-15);
    assert!(deck.remarks[0].starts_with("with the piston’s rock in it"), "{:?}", deck.remarks);
    assert!(bench.find("piston-rock@cylinder.0.1").is_none());
    is_missing(&bench.finding("squish@cylinder.0.1"), "gasket thickness of deck");
    let ratio = bench.finding("compression-ratio@cylinder.0.1");
    for what in ["bore of cylinder 2", "stroke of throw 2", "chamber of cylinder 2", "gasket bore of deck", "crown"] {
        is_missing(&ratio, what);
    }
    let Basis::Missing { missing } = &ratio.basis else { panic!("{ratio:?}") };
    assert!(!missing.contains("deck clearance"), "{missing}");
    is_missing(&bench.finding("deck-clearance@cylinder.0.0"), "deck clearance of cylinder 1");
    assert!(bench.find("clearance-volume@cylinder.0.1").is_none());
}

/// (12 + 9)/2 = 10.5 thou at the thrust side and across; |12 − 9| = 3 of rock. On the pin's axis (10.2 + 10.6)/2 = 10.4 goes
/// first.
#[test]
fn a_piston_that_rocks() {
    let rocking = Bench::inch()
        .reads(&[("deck-clearance-thrust@cylinder.0.0", "12.0"), ("deck-clearance-across@cylinder.0.0", "9.0")]);
    close(rocking.value("deck-clearance@cylinder.0.0"), 10.5 * THOU, 1e-15);
    let rock = rocking.finding("piston-rock@cylinder.0.0");
    close(value(&rock), 3.0 * THOU, 1e-15);
    assert_eq!(rock.remarks, ["the thrust side stands 3.0\u{a0}thou deeper"]);
    // Two readings of one zero: that goes, √2 of 2.5 µm told to a tenth stays.
    close(
        rocking.u("piston-rock@cylinder.0.0"),
        (2.0 * (2.5_f64.powi(2) + 2.54_f64.powi(2) / 12.0)).sqrt() * 1e-6,
        1e-11,
    );
    let on_axis =
        rocking.reads(&[("deck-clearance-front@cylinder.0.0", "10.2"), ("deck-clearance-rear@cylinder.0.0", "10.6")]);
    let deck = on_axis.finding("deck-clearance@cylinder.0.0");
    close(value(&deck), 10.4 * THOU, 1e-15);
    assert_eq!(deck.working, ["mean of front 10.2\u{a0}thou and rear 10.6\u{a0}thou: 10.40\u{a0}thou"]);
}

/// 9.0250 − (1.7400 + 6.0000) − 1.2500 = 35 thou by targets alone: a figure that counts as missing. A reading goes before it.
#[test]
fn a_deck_clearance_worked_out_from_the_parts() {
    let bench = Bench::inch()
        .target(TargetFeature::DeckHeight, "banks", Unit::Inch, 9.025)
        .target(TargetFeature::Stroke, "engine", Unit::Inch, 3.48)
        .target(TargetFeature::RodLength, "engine", Unit::Inch, 6.0)
        .target(TargetFeature::CompressionHeight, "cylinders", Unit::Inch, 1.25);
    let deck = bench.finding("deck-clearance@cylinder.0.3");
    is_missing(&deck, "deck clearance of cylinder 4");
    close(value(&deck), 35.0 * THOU, 1e-12);
    assert!(deck.remarks[0].starts_with("worked out by deck height"), "{:?}", deck.remarks);
    is_missing(
        &bench.clone().target(TargetFeature::GasketThickness, "banks", Unit::Inch, 0.04).finding("squish@cylinder.0.3"),
        "deck clearance",
    );
    let read = bench.clone().read("deck-clearance@cylinders", "33.0").finding("deck-clearance@cylinder.0.3");
    close(value(&read), 33.0 * THOU, 1e-15);
    assert_eq!(read.basis, Basis::Stated);
    // With the pin 60 thou off, throw and rod reach √(7.74² − 0.06²), from a throw a little under half the stroke.
    let r = 1.74 * (1.0_f64 - 0.06 * 0.06 / (36.0 - 1.74 * 1.74)).sqrt();
    let offset = bench.target(TargetFeature::PinOffset, "engine", Unit::Thou, 60.0);
    let top = ((6.0 + r).powi(2) - 0.06 * 0.06).sqrt();
    close(offset.value("deck-clearance@cylinder.0.3"), Unit::Inch.to_si(9.025 - top - 1.25), 1e-12);
    // Only a target of its own: no figure follows from the parts.
    let aimed = Bench::inch().target(TargetFeature::DeckClearance, "cylinders", Unit::Thou, 20.0);
    let deck = aimed.finding("deck-clearance@cylinder.0.0");
    assert_eq!((deck.value.is_none(), deck.target), (true, Some(20.0 * THOU)));
    is_missing(&deck, "deck clearance of cylinder 1");
}

/// Deck stated as 0.20 to 0.30 mm: squish 1.20 to 1.30, and the ratio between what either end makes of it.
#[test]
fn a_range_goes_through() {
    let mut bench = measured();
    bench.takes.retain(|(key, _)| !key.to_string().starts_with("deck-clearance"));
    let at = |bench: &Bench, typed: &str| bench.clone().read("deck-clearance@cylinders", typed);
    let ranged = at(&bench, "0.20 to 0.30 mm");
    let (low, high) = ranged.finding("squish@cylinder.0.0").range.expect("a range");
    close(low, 1.20e-3, 1e-12);
    close(high, 1.30e-3, 1e-12);
    let ratio = ranged.finding(RATIO);
    assert_eq!(ratio.basis, Basis::Stated);
    let (low, high) = ratio.range.expect("a range");
    close(low, at(&bench, "0.30 mm").value(RATIO), 1e-12);
    close(high, at(&bench, "0.20 mm").value(RATIO), 1e-12);
}

/// A piston 0.2 mm proud under a gasket of 0.15 mm: both are shown, and that they cannot both be right.
#[test]
fn a_piston_that_stands_proud() {
    let bench = Bench::millimetre()
        .read("deck-clearance-front@cylinder.0.0", "-0.200 mm")
        .read("gasket-thickness@bank.0", "0.150 mm");
    close(bench.value("deck-clearance@cylinder.0.0"), -0.2e-3, 1e-15);
    let squish = bench.finding("squish@cylinder.0.0");
    close(value(&squish), -0.05e-3, 1e-15);
    assert_eq!(squish.remarks, ["the piston meets the head: deck clearance and gasket cannot both be right"]);
}

/// What contradicts itself is named, and gives no figure.
#[test]
fn what_cannot_be_is_named() {
    let with = |feature, place, unit, value: f64| measured().target(feature, place, unit, value);
    let land = with(TargetFeature::LandDiameter, "cylinders", Unit::Millimetre, 102.0);
    because(
        &land.finding(RATIO),
        &["larger than the bore", "bore of cylinder 1 101.600", "top land of cylinder 1 102.000"],
    );
    let ratio = with(TargetFeature::CompressionRatio, "cylinders", Unit::One, 0.9);
    because(
        &ratio.finding("deck-cut@cylinder.0.0"),
        &["compression ratio must be above 1", "aimed at of cylinder 1 0.900"],
    );
    let mut short = measured();
    short.takes.retain(|(key, _)| key.to_string() != "rod-length@cylinder.0.0");
    let short = short.target(TargetFeature::RodLength, "engine", Unit::Millimetre, 40.0);
    let effective = short.finding("effective-ratio@cylinder.0.0");
    because(
        &effective,
        &["stroke of throw 1 88.392", "rod length of cylinder 1 40.000", "cannot make so long a stroke"],
    );
    close(short.value(RATIO), 9.934_795_1, 1e-6);
    let mut domed = measured();
    domed.takes.retain(|(key, _)| key.to_string() != "piston-volume@cylinder.0.0");
    let domed = domed.target(TargetFeature::PistonVolume, "cylinders", Unit::CubicCentimetre, -80.0);
    because(
        &domed.finding(RATIO),
        &["chamber of cylinder 1 64.0", "crown volume of cylinder 1 −80.0", "dome is larger"],
    );
    let gasket = with(TargetFeature::GasketBore, "banks", Unit::Millimetre, 100.0).finding(RATIO);
    let said = "the gasket’s bore 100.000\u{a0}mm is smaller than the cylinder’s 101.600\u{a0}mm: it hangs into it";
    assert!(gasket.value.is_some() && gasket.remarks.contains(&said.to_owned()), "{:?}", gasket.remarks);
}

/// A dome takes away: 64 + 8.4785381 + 2.0592592 − 5 + 0.66798114 = 70.205778 cm³.
#[test]
fn a_dome_is_taken_off() {
    let mut bench = measured();
    bench.takes.retain(|(key, _)| key.to_string() != "piston-volume@cylinder.0.0");
    let room = bench.read("piston-volume@cylinder.0.0", "-5.0").finding("clearance-volume@cylinder.0.0");
    close(value(&room), 70.205_778 * CC, 1e-12);
    assert!(room.working[0].contains("+ deck 2.06 − dome 5.00 + crevice"), "{:?}", room.working);
}

#[test]
fn what_was_checked_good_gives_no_ratio_and_leaves_nothing_missing() {
    let mut bench = measured();
    bench.takes.retain(|(key, _)| key.to_string() != "chamber@cylinder.0.0");
    let checked = bench.checked("chamber-stated@cylinders", "by the head shop's sheet");
    because(&checked.finding(RATIO), &["chamber of cylinder 1 was checked good"]);
    assert_eq!(checked.finding("chamber-volume@cylinder.0.0").standing(), Standing::Checked);
}

/// Two cylinders 1 cm³ apart: at 65 cm³ (716.6222 + 81.205778)/81.205778 = 9.824769, the spread 0.110026. The deck is cut as
/// a whole: 0.0717 and (81.205778 − 79.624689)/8.1073197 = 0.19502 mm, mean 0.13335.
#[test]
fn cylinders_beside_each_other() {
    let other = cylinder_one("65.0")
        .map(|(slot, typed)| (slot.replace("cylinder.0.0", "cylinder.0.1").replace("throw.0", "throw.1"), typed));
    let mut both = measured();
    both.setup.architecture = Architecture::new(Layout::Inline, 2, 3, vec![], vec![]).expect("an engine");
    let both = other.iter().fold(both, |bench, (slot, typed)| bench.read(slot, typed));
    let spread = both.finding("compression-spread@cylinders");
    close(value(&spread), 9.934_795_1 - 9.824_769, 2e-6);
    assert_eq!(spread.working, ["cylinder 1 9.935 − cylinder 2 9.825 = 0.110"]);
    let cut = both.finding("deck-cut@cylinder.0.1");
    assert!(
        cut.remarks.contains(&"over deck: 71.7\u{a0}µm to 195.0\u{a0}µm, mean 133.3\u{a0}µm".to_owned()),
        "{:?}",
        cut.remarks
    );
    assert!(measured().find("compression-spread@cylinders").is_none(), "one ratio of four is no spread");
}

/// Inches and millimetres in one job: 10.0 thou of deck, 63.9 cm³ typed as 3.9 in³ (63.909550 cm³), a gasket of 1.0 mm.
#[test]
fn units_mixed() {
    let mut bench = measured();
    bench.takes.retain(|(key, _)| !["deck-clearance", "chamber"].iter().any(|name| key.to_string().starts_with(name)));
    let mixed = bench.reads(&[("deck-clearance@cylinder.0.0", "10.0 thou"), ("chamber@cylinder.0.0", "3.9 in³")]);
    close(mixed.value("squish@cylinder.0.0"), 1.254e-3, 1e-12);
    close(mixed.value("clearance-volume@cylinder.0.0"), (80.205_778 - 64.0 + 63.909_550) * CC, 1e-11);
}

/// In a vee both rods of a pin share its stroke; of a flat engine with single pins each has its own; a single has one of all.
#[test]
fn a_cylinder_takes_the_stroke_of_its_own_pin() {
    let swept_by = |layout, cylinders, place: &str| {
        let mut bench = measured();
        bench.setup.architecture = Architecture::new(layout, cylinders, 2, vec![], vec![]).expect("an engine");
        bench.takes.clear();
        let bench = cylinder_one("64.0")
            .iter()
            .filter(|(slot, _)| !slot.starts_with("stroke"))
            .fold(bench, |bench, (slot, typed)| {
                bench.read(&slot.replace("cylinder.0.0", &format!("cylinder.{place}")), typed)
            });
        let bank = place.split('.').next().expect("a bank");
        bench
            .read(&format!("gasket-thickness@bank.{bank}"), "1.000 mm")
            .read("stroke@throw.0", "88.392")
            .target(TargetFeature::Stroke, "engine", Unit::Millimetre, 70.0)
            .finding(&format!("compression-ratio@cylinder.{place}"))
    };
    for found in
        [swept_by(Layout::Vee, 2, "1.0"), swept_by(Layout::Inline, 1, "0.0"), swept_by(Layout::Opposed, 2, "0.0")]
    {
        close(value(&found), 9.934_795_1, 1e-6);
    }
    let flat = swept_by(Layout::Opposed, 2, "1.0");
    is_missing(&flat, "stroke of throw 2");
    close(value(&flat), 1.0 + FRAC_PI_4 * 0.1016 * 0.1016 * 0.07 / (80.205_778 * CC), 1e-6);
}

/// A thousandth of what was meant is refused: a bare 1.0 in a metric job says micrometres.
#[test]
fn a_gasket_of_a_micrometre_is_refused() {
    let bench = Bench::millimetre();
    let slot = bench.slot("gasket-thickness@bank.0");
    let how = slot.how(bench.setup.unit, bench.setup.unit.small(), None);
    assert!(slot.read("1.0", &how, bench.setup.unit).is_err());
    assert!(slot.read("1.0 mm", &how, bench.setup.unit).is_ok());
}
