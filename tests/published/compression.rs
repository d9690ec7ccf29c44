//! Compression ratio, its inverse, squish and deck.

use std::f64::consts::FRAC_PI_4;

use witnessmark::mechanics::compression::{
    ClearanceParts, CompressionFault, circle_area_m2, clearance_for_ratio_m3, clearance_volume_m3, compression_ratio,
    crevice_volume_m3, crown_volume_m3, deck_clearance_m, deck_cut_m, deck_reading, deck_volume_m3, effective_ratio,
    gasket_volume_m3, head_mill_m, squish_m, volume_to_remove_m3,
};
use witnessmark::mechanics::crank::displacement_m3;
use witnessmark::mechanics::motion::SliderCrank;

use crate::assert_close;

const BORE_M: f64 = 101.6e-3;
const CM3: f64 = 1e-6;

fn swept_m3() -> f64 {
    displacement_m3(BORE_M, 88.392e-3, 1)
}

fn parts() -> ClearanceParts {
    ClearanceParts {
        chamber_m3: 64.0 * CM3,
        gasket_m3: gasket_volume_m3(circle_area_m2(103.9e-3), 1e-3),
        deck_m3: deck_volume_m3(BORE_M, 0.254e-3),
        dish_m3: 5.0 * CM3,
        dome_m3: 0.0,
        crevice_m3: crevice_volume_m3(BORE_M, 100.9e-3, 6e-3).unwrap(),
    }
}

/// Independent computation (numpy).
#[test]
fn a_ratio_from_its_volumes() {
    assert_close(swept_m3() / CM3, 716.6222, 5e-5);
    assert_close(parts().gasket_m3 / CM3, 8.4785381, 5e-8);
    assert_close(parts().deck_m3 / CM3, 2.0592592, 5e-8);
    assert_close(parts().crevice_m3 / CM3, 0.66798114, 5e-9);
    let clearance = clearance_volume_m3(parts()).unwrap();
    assert_close(clearance / CM3, 80.205778, 5e-7);
    assert_close(compression_ratio(swept_m3(), clearance).unwrap(), 9.9347951, 5e-8);
    let without_crevice = clearance_volume_m3(ClearanceParts { crevice_m3: 0.0, ..parts() }).unwrap();
    assert_close(compression_ratio(swept_m3(), without_crevice).unwrap(), 10.009832, 5e-7);
    assert_close(squish_m(0.254e-3, 1e-3) * 1e3, 1.254, 1e-9);
}

/// Independent computation (root finding in scipy and closed form).
#[test]
fn what_to_cut_for_ten_to_one() {
    let clearance = clearance_volume_m3(parts()).unwrap();
    assert_close(clearance_for_ratio_m3(swept_m3(), 10.0).unwrap() / CM3, 79.624689, 5e-7);
    let remove = volume_to_remove_m3(swept_m3(), clearance, 10.0).unwrap();
    assert_close(remove / CM3, 0.58108957, 5e-7);
    assert_close(deck_cut_m(BORE_M, remove).unwrap() * 1e3, 0.071674683, 1e-7);
    let open = 0.75 * circle_area_m2(BORE_M);
    assert_close(head_mill_m(64.0 * CM3, open, remove).unwrap() * 1e3, 0.095566244, 1e-7);
}

/// Independent computation (numpy; the position law by sympy).
#[test]
fn effective_ratio_at_intake_closing() {
    let crank = SliderCrank::from_stroke(88.392e-3, 152.4e-3, 0.0).unwrap();
    let closing = 60_f64.to_radians();
    assert_close(crank.depth_m(crank.bdc_rad() + closing) * 1e3, 71.178593, 5e-7);
    assert_close(effective_ratio(BORE_M, &crank, 80.205778 * CM3, closing).unwrap(), 8.1948383, 2e-7);
    let at_bdc = effective_ratio(BORE_M, &crank, 80.205778 * CM3, 0.0).unwrap();
    assert_close(at_bdc, compression_ratio(swept_m3(), 80.205778 * CM3).unwrap(), 1e-9);
}

/// Geometry: a dome is a crown below zero; a piston 10 mm down in a 100 mm bore leaves 78.54 cm³ above its flat.
#[test]
fn a_crown_by_burette() {
    assert_close(crown_volume_m3(0.1, 0.01, 70.0 * CM3) / CM3, 70.0 - 100.0 * FRAC_PI_4, 1e-9);
    assert_close(crown_volume_m3(0.1, 0.01, 80.0 * CM3) / CM3, 80.0 - 100.0 * FRAC_PI_4, 1e-9);
}

/// First cylinder of the set in "Weight matching and selective assembly" (independent computation): 0.285 mm.
#[test]
fn deck_from_its_lengths() {
    assert_close(deck_clearance_m(234.96e-3, 44.19e-3, 152.385e-3, 38.1e-3) * 1e3, 0.285, 1e-9);
    let reading = deck_reading(0.30e-3, 0.24e-3);
    assert_close(reading.mean_m * 1e3, 0.27, 1e-12);
    assert_close(reading.rock_m * 1e3, 0.06, 1e-12);
}

#[test]
fn what_cannot_be_is_refused() {
    use CompressionFault::{
        BelowZero, ClosesNowhereNearBdc, Deck, DomeFillsAll, LandLargerThanBore, MillsMoreThanChamber, PistonFillsAll,
        RatioNotAboveOne, Removal, Size,
    };
    assert_eq!(crevice_volume_m3(0.1, 0.1001, 0.006), Err(LandLargerThanBore));
    assert_eq!(crevice_volume_m3(0.1, 0.09, -0.006), Err(BelowZero { what: "top land's height" }));
    assert_eq!(clearance_volume_m3(ClearanceParts { dome_m3: 90.0 * CM3, ..parts() }), Err(DomeFillsAll));
    let proud = deck_volume_m3(BORE_M, -10e-3);
    assert_eq!(clearance_volume_m3(ClearanceParts { deck_m3: proud, ..parts() }), Err(PistonFillsAll));
    assert_eq!(clearance_volume_m3(ClearanceParts { deck_m3: f64::NAN, ..parts() }), Err(Deck));
    assert_eq!(clearance_volume_m3(ClearanceParts { chamber_m3: -1.0, ..parts() }), Err(BelowZero { what: "chamber" }));
    for ratio in [1.0, 0.9, -3.0, f64::NAN, f64::INFINITY] {
        assert_eq!(volume_to_remove_m3(swept_m3(), 80.0 * CM3, ratio), Err(RatioNotAboveOne));
    }
    assert_eq!(compression_ratio(swept_m3(), 0.0), Err(Size { what: "clearance volume" }));
    assert_eq!(compression_ratio(0.0, 80.0 * CM3), Err(Size { what: "swept volume" }));
    assert_eq!(head_mill_m(64.0 * CM3, 0.006, 65.0 * CM3), Err(MillsMoreThanChamber));
    assert_eq!(deck_cut_m(0.1, f64::INFINITY), Err(Removal));
    let crank = SliderCrank::from_stroke(88.392e-3, 152.4e-3, 0.0).unwrap();
    assert_eq!(effective_ratio(BORE_M, &crank, 80.0 * CM3, 3.2), Err(ClosesNowhereNearBdc));
}
