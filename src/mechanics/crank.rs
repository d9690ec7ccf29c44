//! What follows from bore and stroke.

use std::f64::consts::PI;

/// Swept volume of an engine in m³: n·(π/4)·B²·S, with bore and stroke in m.
///
/// Definition of displacement (geometry). Valid for positive lengths; a centred crank, so that the stroke is twice the throw.
pub fn displacement_m3(bore_m: f64, stroke_m: f64, cylinders: u8) -> f64 {
    f64::from(cylinders) * PI / 4.0 * bore_m * bore_m * stroke_m
}
