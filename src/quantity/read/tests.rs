//! What is read, and what is refused with which words.

use super::*;

const SET: f64 = 4.3775 * 0.0254;

fn inches() -> HowRead {
    HowRead {
        step: Unit::Tenth,
        from: Some(Unit::Inch.of(4.3775)),
        standard: Some(Unit::Inch.of(4.25)),
        ..HowRead::plain(Unit::Inch)
    }
}

fn millimetres() -> HowRead {
    HowRead { step: Unit::Micrometre, standard: Some(Unit::Millimetre.of(100.0)), ..HowRead::plain(Unit::Millimetre) }
}

fn clearance() -> HowRead {
    HowRead { bare_from: Some((0.1, Unit::Thou)), ..HowRead::plain(Unit::Inch) }
}

/// The figure and its resolution, both in `unit`, to what a gauge could never tell.
#[track_caller]
fn reads(text: &str, how: &HowRead, unit: Unit, figure: f64, step: f64) {
    let typed = read(text, how).unwrap_or_else(|fault| panic!("{fault}"));
    let Entry::Figure(quantity) = typed.entry else { panic!("{text} read as a range") };
    let (shown, shown_step) = (unit.from_si(quantity.si), typed.resolution_si / unit.interval_to_si(1.0));
    assert!((shown - figure).abs() < 1e-9, "{text}: {shown}, not {figure}");
    assert!((shown_step - step).abs() < 1e-9, "{text}: step {shown_step}, not {step}");
    assert_eq!(typed.text, text.trim());
}

#[track_caller]
fn reads_range(text: &str, how: &HowRead, unit: Unit, low: f64, high: f64) {
    let typed = read(text, how).unwrap_or_else(|fault| panic!("{fault}"));
    let Entry::Range(a, b) = typed.entry else { panic!("{text} read as one figure") };
    assert!((unit.from_si(a.si) - low).abs() < 1e-9, "{text}: from {}", unit.from_si(a.si));
    assert!((unit.from_si(b.si) - high).abs() < 1e-9, "{text}: to {}", unit.from_si(b.si));
}

#[track_caller]
fn refuses(text: &str, how: &HowRead, message: &str) {
    match read(text, how) {
        Ok(typed) => panic!("{text} was read as {typed:?}"),
        Err(fault) => assert_eq!(fault.to_string(), message),
    }
}

#[test]
fn plain_figures() {
    reads("4.3775", &inches(), Unit::Inch, 4.3775, 0.0001);
    reads("  4.3775 ", &inches(), Unit::Inch, 4.3775, 0.0001);
    reads("4,3775", &inches(), Unit::Inch, 4.3775, 0.0001);
    reads(".0025", &inches(), Unit::Inch, 0.0025, 0.0001);
    reads("4.", &inches(), Unit::Inch, 4.0, 1.0);
    reads("2.5 thou", &inches(), Unit::Thou, 2.5, 0.1);
    reads("2.5 MIL", &inches(), Unit::Thou, 2.5, 0.1);
    reads("108.02 mm", &inches(), Unit::Millimetre, 108.02, 0.01);
    reads("108.02", &millimetres(), Unit::Millimetre, 108.02, 0.01);
    for text in ["64 µm", "64 μm", "64um", "64 micron", "64 microns"] {
        reads(text, &inches(), Unit::Micrometre, 64.0, 1.0);
    }
}

#[test]
fn fractions() {
    for text in ["2 3/8", "2-3/8 in", "2‑3/8\"", "2⅜ in"] {
        reads(text, &inches(), Unit::Inch, 2.375, 0.125);
    }
    reads("2.75\"", &inches(), Unit::Inch, 2.75, 0.01);
    reads("3/8", &millimetres(), Unit::Inch, 0.375, 0.125);
    reads("2½ thou", &inches(), Unit::Thou, 2.5, 0.5);
    reads("½ thou", &inches(), Unit::Thou, 0.5, 0.5);
}

#[test]
fn words() {
    for text in ["half a thou", "a half thou", "half of a thou", "Half Thou"] {
        reads(text, &inches(), Unit::Thou, 0.5, 0.5);
    }
    for text in ["quarter thou", "a quarter of a thou"] {
        reads(text, &inches(), Unit::Thou, 0.25, 0.25);
    }
    for text in ["two and a half thou", "2 and a half thou", "two thou and a half"] {
        reads(text, &inches(), Unit::Thou, 2.5, 0.5);
    }
    reads("a thou and a half", &inches(), Unit::Thou, 1.5, 0.5);
    reads("three quarters of a thou", &inches(), Unit::Thou, 0.75, 0.25);
    reads("a thou", &inches(), Unit::Thou, 1.0, 1.0);
    reads("two tenths", &inches(), Unit::Tenth, 2.0, 1.0);
}

#[test]
fn deviations_from_the_set_size() {
    let from = |steps: f64| Unit::Inch.from_si(SET) + steps * 1e-4;
    reads("+2", &inches(), Unit::Inch, from(2.0), 1e-4);
    reads("+2 tenths", &inches(), Unit::Inch, from(2.0), 1e-4);
    reads("-1.5 thou", &inches(), Unit::Inch, from(-15.0), 1e-4);
    reads("−1½ thou", &inches(), Unit::Inch, from(-15.0), 5e-4);
    reads("0", &inches(), Unit::Inch, from(0.0), 1e-4);
    reads_range("-1 to +2", &inches(), Unit::Inch, from(-1.0), from(2.0));
    reads_range("−2–−1 tenths", &inches(), Unit::Inch, from(-2.0), from(-1.0));
}

#[test]
fn a_sign_without_a_set_size() {
    refuses(
        "+2 tenths",
        &HowRead::plain(Unit::Inch),
        "“+2 tenths” is a deviation and no set size is known here: enter a size such as 4.3775 or 111.19 mm",
    );
    let deck = HowRead { from: Some(Unit::Inch.of(0.0)), ..HowRead::plain(Unit::Inch) };
    reads("-.005", &deck, Unit::Inch, -0.005, 0.001);
    reads("-5 °C", &HowRead::plain(Unit::Celsius), Unit::Celsius, -5.0, 1.0);
}

#[test]
fn a_deviation_finer_than_the_gauge_asks_for_its_unit() {
    refuses(
        "+.0002",
        &inches(),
        "“+.0002” is finer than this gauge's step of one tenth: say the unit, +.0002 in or +.0002 tenth",
    );
    reads("+.0002 in", &inches(), Unit::Inch, 4.3777, 1e-4);
}

#[test]
fn sizes_named_by_their_grade() {
    reads("std", &inches(), Unit::Inch, 4.25, 0.001);
    reads("Standard", &inches(), Unit::Inch, 4.25, 0.001);
    reads("10 under", &inches(), Unit::Inch, 4.24, 0.001);
    reads("ten under", &inches(), Unit::Inch, 4.24, 0.001);
    reads(".010 under", &inches(), Unit::Inch, 4.24, 0.001);
    reads("30 over", &inches(), Unit::Inch, 4.28, 0.001);
    reads("30 thou o/s", &inches(), Unit::Inch, 4.28, 0.001);
    reads("0.25 under", &millimetres(), Unit::Millimetre, 99.75, 0.01);
    reads("25 under", &millimetres(), Unit::Millimetre, 99.75, 0.01);
    refuses(
        "std",
        &HowRead::plain(Unit::Inch),
        "“std” refers to a standard size and none is known here: enter a size such as 4.3775 or 111.19 mm",
    );
}

#[test]
fn clearances_bare() {
    reads(".0025", &clearance(), Unit::Thou, 2.5, 0.1);
    reads("2.5", &clearance(), Unit::Thou, 2.5, 0.1);
    reads_range("2.5–2.8", &clearance(), Unit::Thou, 2.5, 2.8);
    reads_range(".08-.12", &clearance(), Unit::Thou, 0.08, 0.12);
    let metric = HowRead { bare_from: Some((1.0, Unit::Micrometre)), ..HowRead::plain(Unit::Millimetre) };
    reads("0.064", &metric, Unit::Micrometre, 64.0, 1.0);
    reads("64", &metric, Unit::Micrometre, 64.0, 1.0);
}

#[test]
fn ranges() {
    for text in ["2.5-2.8 thou", "2.5 to 2.8 thou", "2.5–2.8 thou", "2.5 thou – 2.8", "2.8 to 2.5 thou"] {
        reads_range(text, &inches(), Unit::Thou, 2.5, 2.8);
    }
    for text in ["2.5–2.8 thou, all five", "2.5-2.8 thou all", "2,5-2,8 thou, ALL"] {
        reads_range(text, &inches(), Unit::Thou, 2.5, 2.8);
    }
    reads("2.5 thou, all five mains", &inches(), Unit::Thou, 2.5, 0.1);
    reads_range("0.0025 to 0.0028", &inches(), Unit::Thou, 2.5, 2.8);
    reads_range("1/4-3/8 in", &inches(), Unit::Inch, 0.25, 0.375);
    reads_range("std to 10 under", &inches(), Unit::Inch, 4.24, 4.25);
    let typed = read("2.5 to 2.75 thou", &inches()).unwrap();
    assert!((Unit::Thou.from_si(typed.resolution_si) - 0.1).abs() < 1e-9, "the coarser end counts");
    assert_eq!(typed.unit, Unit::Thou);
    for text in ["+2 to 3", "10 to 20 under", "2 to std"] {
        assert!(matches!(read(text, &inches()), Err(Fault::EndsUnlike { .. })), "{text}");
    }
}

#[test]
fn other_dimensions() {
    let torque = HowRead::plain(Unit::PoundFoot);
    for text in ["80", "80 lbf ft", "80 ft-lb", "80 ft lbs", "80 lb·ft", "80 lbf·ft"] {
        reads(text, &torque, Unit::PoundFoot, 80.0, 1.0);
    }
    for text in ["108 N·m", "108 Nm", "108 n.m", "108 N m"] {
        reads(text, &torque, Unit::NewtonMetre, 108.0, 1.0);
    }
    let warmth = HowRead::plain(Unit::Celsius);
    for text in ["21", "21 °C", "21C", "21 deg C"] {
        reads(text, &warmth, Unit::Celsius, 21.0, 1.0);
    }
    reads("70 F", &warmth, Unit::Fahrenheit, 70.0, 1.0);
    reads("6500", &HowRead::plain(Unit::RevolutionPerMinute), Unit::RevolutionPerMinute, 6500.0, 1.0);
    assert!(matches!(read("6,500 rpm", &HowRead::plain(Unit::RevolutionPerMinute)), Err(Fault::CommaInSpeed { .. })));
}

#[test]
fn what_cannot_be_read_says_what_to_enter() {
    let how = HowRead::plain(Unit::Inch);
    refuses("", &how, "nothing entered: enter a size such as 4.3775 or 111.19 mm");
    refuses("4.37.75", &how, "“4.37.75” is no number: enter a size such as 4.3775 or 111.19 mm");
    refuses(
        "1,234.5",
        &how,
        "“1,234.5” has both a comma and a point: use one of them as the decimal mark, and enter a size such as 4.3775 or 111.19 mm",
    );
    refuses("80 Nm", &how, "“80 Nm” is a torque, and this is a length: enter a size such as 4.3775 or 111.19 mm");
    refuses(
        "4.3775 cubits",
        &how,
        "“4.3775 cubits”: “cubits” is not understood: enter a size such as 4.3775 or 111.19 mm",
    );
    for text in ["NaN", "inf", "-", "all", "thou", "½½", "1/0", "3/", "two and", ".", ",", "2 3/0", "4,37,75"] {
        assert!(read(text, &how).is_err(), "{text}");
    }
    for text in ["1e999", "1e5", "2E-3 in"] {
        assert!(matches!(read(text, &how), Err(Fault::Exponent { .. })), "{text}");
    }
    assert!(matches!(read(&"9".repeat(81), &how), Err(Fault::TooLong { .. })));
    assert!(matches!(read("2 tenths", &millimetres()), Err(Fault::TenthUnclear { .. })));
}
