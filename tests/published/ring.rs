//! Ring gaps and grooves.

use witnessmark::mechanics::ring::{
    GapFault, GrooveFault, back_clearance_m, below_land_m, closure_m, gap_by_factor_m, gap_change_m, hot_gap_m,
    needed_gap_m, side_clearance_m, to_open_m,
};
use witnessmark::mechanics::thermal::Warmed;

use crate::{assert_close, assert_near};

const BORE: f64 = 104.775e-3;
const THOU: f64 = 25.4e-6;

fn closed_mm(ring: f64, ring_k: f64, bore: f64, bore_k: f64) -> f64 {
    let warmed = |alpha_per_k, rise_k| Warmed { alpha_per_k, rise_k };
    closure_m(BORE, warmed(ring, ring_k), warmed(bore, bore_k)) * 1000.0
}

/// Independent computation: iron in iron, steel in iron, steel in plated aluminium that is hot.
#[test]
fn closure_by_heat() {
    assert_near(closed_mm(11.4e-6, 200.0, 11.4e-6, 80.0), 0.45029139, 1e-7);
    assert_near(closed_mm(11.7e-6, 200.0, 11.4e-6, 80.0), 0.47004101, 1e-7);
    assert_near(closed_mm(11.7e-6, 200.0, 21.5e-6, 100.0), 0.06254047, 1e-6);
}

/// The same plated aluminium bore while it is only 30 K warm and the ring 150 K: about 0.37 mm (independent computation).
#[test]
fn a_cold_bore_closes_more() {
    assert_close(closed_mm(11.7e-6, 150.0, 21.5e-6, 30.0), 0.37, 0.01);
}

/// 50 K more in the ring is 0.19 mm of gap on a 104.8 mm bore (independent computation).
#[test]
fn fifty_kelvin() {
    let change = closed_mm(11.7e-6, 250.0, 11.4e-6, 80.0) - closed_mm(11.7e-6, 200.0, 11.4e-6, 80.0);
    assert_close(change, 0.19, 0.005);
}

/// Factors from common practice, no source; computed independently in inches.
#[test]
fn gap_by_factor() {
    for (factor, gap_in) in [
        (0.004, 0.0165),
        (0.0045, 0.0185625),
        (0.005, 0.020625),
        (0.0055, 0.0226875),
        (0.006, 0.02475),
        (0.007, 0.028875),
    ] {
        assert_near(gap_by_factor_m(factor, 4.125 * 0.0254) / 0.0254, gap_in, 1e-9);
    }
}

/// A US Army manual has 0.003 in of gap for each 0.001 in of bore; geometry has 22 sevenths, all but.
#[test]
fn a_thou_of_bore() {
    assert_close(gap_change_m(THOU) / THOU, 3.0, 0.15);
    assert_close(gap_change_m(-7.0 * THOU) / THOU, -22.0, 0.01);
}

/// Common practice, no source: heat may raise the maker's gap, never lower it.
#[test]
fn the_makers_gap_comes_first() {
    let makers = 20.0 * THOU;
    assert_close(needed_gap_m(makers, 10.0 * THOU, 4.0 * THOU).unwrap(), makers, 0.0);
    assert_close(needed_gap_m(makers, -30.0 * THOU, 4.0 * THOU).unwrap(), makers, 0.0);
    let needed = needed_gap_m(makers, 18.0 * THOU, 4.0 * THOU).unwrap();
    assert_close(needed / THOU, 22.0, 1e-9);
    assert_close(to_open_m(needed, 18.0 * THOU) / THOU, 4.0, 1e-9);
    assert_close(to_open_m(needed, 23.0 * THOU) / THOU, -1.0, 1e-9);
    assert_close(hot_gap_m(needed, 18.0 * THOU) / THOU, 4.0, 1e-9);
    assert_eq!(needed_gap_m(0.0, 18.0 * THOU, 4.0 * THOU), Err(GapFault::MakersGap));
    assert_eq!(needed_gap_m(makers, 18.0 * THOU, -THOU), Err(GapFault::Margin));
}

/// Geometry: a 1.5 mm ring of 4.0 mm wall in a groove 1.54 wide and 96.5 mm at its root, 104.775 mm bore.
#[test]
fn grooves() {
    assert_close(side_clearance_m(1.54e-3, 1.5e-3).unwrap(), 0.04e-3, 1e-12);
    assert_close(back_clearance_m(BORE, 96.5e-3, 4.0e-3).unwrap(), 0.1375e-3, 1e-12);
    assert_close(below_land_m(4.05e-3, 4.0e-3), 0.05e-3, 1e-12);
    assert_close(below_land_m(3.95e-3, 4.0e-3), -0.05e-3, 1e-12);
}

#[test]
fn grooves_that_cannot_be() {
    assert_eq!(side_clearance_m(1.5e-3, 1.5e-3), Err(GrooveFault::TooWide));
    assert_eq!(side_clearance_m(0.0, 1.5e-3), Err(GrooveFault::NoSize("groove's width")));
    assert_eq!(back_clearance_m(BORE, 105e-3, 4e-3), Err(GrooveFault::RootNotBelowBore));
    assert_eq!(back_clearance_m(BORE, 97e-3, 4e-3), Err(GrooveFault::Bottoms));
    assert_eq!(back_clearance_m(BORE, 96.5e-3, 0.0), Err(GrooveFault::NoSize("ring's radial wall")));
}
