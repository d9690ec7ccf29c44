//! The main-bearings sheet as a linear map, in a general library of matrices: values y = J x, uncertainty from J Σ Jᵀ (JCGM
//! 100:2008, 5.2.2 and its matrix form in JCGM 102:2011, 6.2.1.3), with what each gauge setting is off by in Σ.

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector};
use witnessmark::engine::{Architecture, FindingKey, Layout, Materials, Setup, SheetKey, SlotKey, WorkingUnit};
use witnessmark::metrology::{GaugeSet, Rule};
use witnessmark::quantity::{Entry, Unit};
use witnessmark::sheets::{Book, Take, TakeValue, home_of, sheet};

use crate::assert_close;

/// Slot, what was typed, the setting it was read at, and what that setting may be off by in µm.
const READ: [(&str, &str, &str, f64); 12] = [
    ("main-clearance-vertical@main.0", "2.4", "bore gauge zeroed on journal 1", 1.5),
    ("main-shell-bore-vertical@main.0", "2.7508", "bore gauge, shells in", 1.5),
    ("main-journal-front-0@main.0", "2.7481", "micrometer", 1.3),
    ("main-journal-front-90@main.0", "2.7477", "micrometer", 1.3),
    ("main-journal-rear-0@main.0", "2.7478", "micrometer", 1.3),
    ("main-journal-rear-90@main.0", "2.7476", "micrometer", 1.3),
    ("main-housing-vertical@main.1", "2.9416", "bore gauge, housing", 1.5),
    ("main-shell-wall-upper@main.1", "0.0953", "ball micrometer", 1.3),
    ("main-shell-wall-lower@main.1", "0.0952", "ball micrometer", 1.3),
    ("main-journal-front-0@main.1", "2.7480", "micrometer", 1.3),
    ("main-shell-bore-vertical@main.2", "2.7506", "bore gauge, shells in", 1.5),
    ("main-journal-front-0@main.2", "2.7479", "micrometer", 1.3),
];

/// Each finding as a row of J over the readings above; the ratio is linear about its figures and stands apart.
const MAP: [(&str, [f64; 12]); 7] = [
    ("main-clearance-vertical@main.0", [1., 0., 0., 0., 0., 0., 0., 0., 0., 0., 0., 0.]),
    ("main-clearance-vertical@main.1", [0., 0., 0., 0., 0., 0., 1., -1., -1., -1., 0., 0.]),
    ("main-clearance-vertical@main.2", [0., 0., 0., 0., 0., 0., 0., 0., 0., 0., 1., -1.]),
    // Directly, less shells in and the largest journal reading.
    ("main-routes@main.0", [1., -1., 1., 0., 0., 0., 0., 0., 0., 0., 0., 0.]),
    ("main-journal-out-of-round@main.0", [0., 0., 1., -1., 0., 0., 0., 0., 0., 0., 0., 0.]),
    ("main-journal-taper@main.0", [0., 0., 0.5, 0.5, -0.5, -0.5, 0., 0., 0., 0., 0., 0.]),
    // Main 2 has the most room, main 1 the least.
    ("main-clearance-spread@mains", [-1., 0., 0., 0., 0., 0., 1., -1., -1., -1., 0., 0.]),
];

fn setup() -> Setup {
    let architecture = Architecture::new(Layout::Inline, 2, 3, vec![], vec![]).expect("an engine");
    Setup {
        architecture,
        unit: WorkingUnit::Inch,
        materials: Materials::default(),
        expansions: BTreeMap::new(),
        targets: BTreeMap::new(),
    }
}

/// The book of the sheet, and the figures typed, in m.
fn book() -> (Book, DVector<f64>) {
    let setup = setup();
    let of = |key| (sheet(key).slots)(&setup);
    let slots = [of(SheetKey::MainBearings), of(SheetKey::Crankshaft)].concat();
    let mut book = Book::new(setup, vec![], Rule::Simple);
    let figures = READ.map(|(key, typed, setting, _)| {
        let slot = slots.iter().find(|slot| slot.key == SlotKey::parse(key)).expect("a slot");
        let how = slot.how(WorkingUnit::Inch, Unit::Thou, None);
        let read = slot.read(typed, &how, WorkingUnit::Inch).expect("a figure");
        let Entry::Figure(figure) = read.entry else { panic!("{key}: a range") };
        let take = Take {
            id: key.into(),
            value: TakeValue::Figure(figure.si),
            resolution: read.resolution_si,
            gauge: None,
            setting: Some(GaugeSet { id: setting.into(), master: None }),
            temperature: None,
            past_due: false,
        };
        (slot, take, figure.si)
    });
    let takes = figures.iter().map(|(slot, take, _)| (*slot, vec![take.clone()])).collect();
    book.enter_round("final", takes).expect("finite");
    let figures = figures.map(|(.., figure)| figure);
    (book, DVector::from_row_slice(&figures))
}

/// Variance of each reading by itself (1.3 µm and the rounding to a tenth) on the diagonal; that of a setting wherever two
/// readings have it in common.
fn covariance() -> DMatrix<f64> {
    let rounding = 2.54e-6 / 12.0_f64.sqrt();
    DMatrix::from_fn(READ.len(), READ.len(), |i, j| {
        let ((.., one, u), (.., other, _)) = (READ[i], READ[j]);
        let own = if i == j { 1.3e-6 * 1.3e-6 + rounding * rounding } else { 0.0 };
        let shared = if one == other { (u * 1e-6) * (u * 1e-6) } else { 0.0 };
        own + shared
    })
}

#[test]
fn the_main_bearings_as_a_linear_map() {
    let (book, x) = book();
    let map = DMatrix::from_row_iterator(MAP.len(), READ.len(), MAP.iter().flat_map(|(_, row)| row.iter().copied()));
    let y = &map * &x;
    let covariance = &map * covariance() * map.transpose();
    for (row, (key, _)) in MAP.iter().enumerate() {
        let key = FindingKey::parse(key);
        let found = book.finding(home_of(&key.feature).expect("a home"), &key).expect("a finding");
        let value = found.value.as_ref().expect("a value");
        assert_close(value.value(), y[row], 1e-15);
        assert_close(value.u() / covariance[(row, row)].sqrt(), 1.0, 1e-8);
    }
}

/// C/d about its figures: ∂/∂C = 1/d, and the journal stands in C and in d: ∂/∂d = −1/d − C/d².
#[test]
fn the_ratio_by_its_derivatives() {
    let (book, x) = book();
    let (clearance, journal) = (x[6] - x[7] - x[8] - x[9], x[9]);
    let mut row = DVector::zeros(READ.len());
    row[6] = 1.0 / journal;
    row[7] = -1.0 / journal;
    row[8] = -1.0 / journal;
    row[9] = -1.0 / journal - clearance / (journal * journal);
    let variance = (row.transpose() * covariance() * &row)[(0, 0)];
    let key = FindingKey::parse("main-clearance-per-diameter@main.1");
    let found = book.finding(SheetKey::MainBearings, &key).expect("a finding");
    let value = found.value.as_ref().expect("a value");
    assert_close(value.value(), clearance / journal, 1e-15);
    assert_close(value.u() / variance.sqrt(), 1.0, 1e-6);
}

/// The comparison can fail: without the settings in common the uncertainties are others.
#[test]
fn settings_in_common_matter_here() {
    let map = DMatrix::from_row_slice(1, READ.len(), &MAP[5].1);
    let with = (&map * covariance() * map.transpose())[(0, 0)];
    let apart = DMatrix::from_diagonal(&covariance().diagonal());
    let without = (&map * apart * map.transpose())[(0, 0)];
    assert!((without / with).sqrt() > 1.2, "{without} {with}");
}
