//! Typing and showing are each other's inverse, and nothing typed breaks the reader.

use proptest::prelude::*;
use witnessmark::quantity::{Dimension, Entry, HowRead, Quantity, Unit, read};

fn any_unit() -> impl Strategy<Value = Unit> {
    proptest::sample::select(Unit::ALL.to_vec())
}

/// Signed values of lengths are deviations from zero, as where a deck height is typed.
fn signed(bare: Unit) -> HowRead {
    let from = (bare.dimension() == Dimension::Length).then(|| Quantity::new(0.0, Dimension::Length).unwrap());
    HowRead { from, ..HowRead::plain(bare) }
}

fn figure(text: &str, how: &HowRead) -> (f64, f64) {
    let typed = read(text, how).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    match typed.entry {
        Entry::Figure(quantity) => (quantity.si, typed.resolution_si),
        Entry::Range(..) => panic!("{text} read as a range"),
    }
}

fn power_of_ten(decimals: u8) -> f64 {
    10_f64.powi(i32::from(decimals))
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 4.0 * f64::EPSILON * a.abs().max(b.abs())
}

proptest! {
    /// Shown, typed as shown and shown again is the same text and the same value, with the resolution of its last digit.
    #[test]
    fn show_read_show(unit in any_unit(), digits in -2_000_000_i32..2_000_000, decimals in 0_u8..6) {
        let value = unit.to_si(f64::from(digits) / power_of_ten(decimals));
        let text = unit.show(value, decimals);
        let (again, resolution) = figure(&text, &signed(unit));
        prop_assert!((again - value).abs() <= 1e-13 * (value.abs() + unit.to_si(0.0)), "{text}: {again} is not {value}");
        prop_assert_eq!(unit.show(again, decimals), text);
        let step = unit.interval_to_si(1.0) / power_of_ten(decimals);
        prop_assert!((resolution - step).abs() <= 1e-9 * step);
    }

    /// A size in inches to the tenth, in thou and in exact millimetres is one size.
    #[test]
    fn inches_and_millimetres_meet(tenths in 1_u32..200_000) {
        let inches = format!("{}.{:04} in", tenths / 10_000, tenths % 10_000);
        let thou = format!("{}.{} thou", tenths / 10, tenths % 10);
        let millimetres = format!("{}.{:05}", u64::from(tenths) * 254 / 100_000, u64::from(tenths) * 254 % 100_000);
        let by_inch = figure(&inches, &HowRead::plain(Unit::Inch)).0;
        let by_millimetre = figure(&millimetres, &HowRead::plain(Unit::Millimetre)).0;
        prop_assert!(close(by_inch, by_millimetre), "{inches} {by_inch}, {millimetres} {by_millimetre}");
        prop_assert!(close(by_inch, figure(&thou, &HowRead::plain(Unit::Inch)).0));
    }

    #[test]
    fn comma_and_point_are_one_mark(whole in 0_u16..1000, part in 0_u16..1000) {
        let how = HowRead::plain(Unit::Millimetre);
        prop_assert_eq!(figure(&format!("{whole}.{part}"), &how), figure(&format!("{whole},{part}"), &how));
    }

    /// "+n" at a gauge stepping in tenths is n tenths from the set size, as "+n tenths" is.
    #[test]
    fn deviations_are_added(set in 1000_i32..60_000, n in -90_i32..90) {
        let set = Unit::Tenth.of(f64::from(set));
        let how = HowRead { step: Unit::Tenth, from: Some(set), ..HowRead::plain(Unit::Inch) };
        let (bare, resolution) = figure(&format!("{n:+}"), &how);
        prop_assert_eq!((bare, resolution), figure(&format!("{n:+} tenths"), &how));
        prop_assert!((bare - (set.si + f64::from(n) * 2.54e-6)).abs() < 1e-15);
    }

    /// A range is the same from either end, and its ends are those typed.
    #[test]
    fn ranges_are_sorted(a in 0_u16..1000, b in 0_u16..1000) {
        let how = HowRead::plain(Unit::Inch);
        let one = read(&format!("{a} to {b} thou, all five"), &how).unwrap();
        let other = read(&format!("{b}–{a} thou"), &how).unwrap();
        prop_assert_eq!(one.entry, other.entry);
        let Entry::Range(low, high) = one.entry else { panic!("one figure") };
        prop_assert_eq!(low, Unit::Thou.of(f64::from(a.min(b))));
        prop_assert_eq!(high, Unit::Thou.of(f64::from(a.max(b))));
    }

    /// Fractions are what they say: n/d in, mixed or not.
    #[test]
    fn fractions(whole in 0_u8..20, sixteenths in 1_u8..16) {
        let how = HowRead::plain(Unit::Inch);
        let expected = Unit::Inch.to_si(f64::from(whole) + f64::from(sixteenths) / 16.0);
        for text in [format!("{whole} {sixteenths}/16"), format!("{whole}-{sixteenths}/16 in")] {
            prop_assert!(close(figure(&text, &how).0, expected), "{text}");
        }
    }

    /// Whatever is typed, the reader answers; what it accepts is finite, has a step, and is kept as typed.
    #[test]
    fn nothing_breaks_the_reader(text in any_text(), bare in any_unit(), with_set in any::<bool>()) {
        let set = with_set.then(|| Quantity::new(0.1, bare.dimension()).unwrap());
        let how = HowRead { from: set, standard: set, ..HowRead::plain(bare) };
        match read(&text, &how) {
            Ok(typed) => {
                let (low, high) = match typed.entry {
                    Entry::Figure(one) => (one, one),
                    Entry::Range(low, high) => (low, high),
                };
                prop_assert!(low.si.is_finite() && high.si.is_finite() && low.si <= high.si);
                prop_assert!(low.dimension == how.dimension && high.dimension == how.dimension);
                prop_assert!(typed.resolution_si.is_finite() && typed.resolution_si >= 0.0);
                prop_assert_eq!(typed.text, text.trim());
            }
            Err(fault) => prop_assert!(!fault.to_string().is_empty()),
        }
    }

    #[test]
    fn to_si_and_back(unit in any_unit(), value in -1e6_f64..1e6) {
        let back = unit.from_si(unit.to_si(value));
        prop_assert!((back - value).abs() <= 1e-12 * (value.abs() + 500.0), "{back} is not {value}");
    }
}

/// Anything at all, and sentences that are nearly right.
fn any_text() -> impl Strategy<Value = String> {
    let fragment = proptest::sample::select(vec![
        "4.3775",
        "0",
        "10",
        "2",
        "3/8",
        ".",
        ",",
        "-",
        "−",
        "+",
        "–",
        " ",
        " ",
        "to",
        "and a half",
        "half",
        "a",
        "of",
        "std",
        "under",
        "over",
        "thou",
        "tenths",
        "in",
        "\"",
        "mm",
        "µm",
        "°",
        "C",
        "N·m",
        "ft-lb",
        "all",
        "½",
        "e9",
        "1e999",
        "NaN",
    ]);
    prop_oneof![
        ".{0,100}",
        proptest::collection::vec(fragment, 0..9).prop_map(|fragments| fragments.join(" ")),
        "[-+]?[0-9]{0,4}[.,]?[0-9]{0,5} ?(in|thou|mm|µm|tenths|under|)",
    ]
}

#[test]
fn the_other_unit_has_the_same_dimension() {
    for unit in Unit::ALL {
        assert_eq!(unit.other().dimension(), unit.dimension(), "{unit:?}");
        assert_eq!(unit.other().other().other(), unit.other(), "{unit:?}");
    }
}
