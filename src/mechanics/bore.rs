//! The shape of a bore or journal from two-point readings.
//!
//! Two-point readings are blind to odd lobing (three, five …); only a vee or a roundness trace sees it.

/// Two-point out-of-round in m: the difference of two diameters square to each other, without sign.
///
/// The trade's measure, a difference of diameters; ISO 1101 roundness is a radial zone and about half of it.
pub fn out_of_round_m(one_m: f64, other_m: f64) -> f64 {
    (one_m - other_m).abs()
}

/// Taper in m: size at one end less size at the other; positive where the first end is larger.
pub fn taper_m(first_end_m: f64, other_end_m: f64) -> f64 {
    first_end_m - other_end_m
}

/// Clearance of a piston in m: the smallest bore reading across the crank less the skirt at its gauge point.
///
/// Common practice, no source: skirts are oval and barrelled, so only this pair of places counts.
pub fn piston_clearance_m(thrust_way_m: &[f64], skirt_m: f64) -> f64 {
    thrust_way_m.iter().copied().fold(f64::INFINITY, f64::min) - skirt_m
}
