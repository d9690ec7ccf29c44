//! Clearance of a plain bearing by the routes a builder has.
//!
//! Formulas are definitions; the routes agree within their uncertainty or one of shell, cap, torque or dirt is at fault.

/// Diametral clearance in m from the bore with shells fitted and the cap pulled down, less the journal.
pub fn clearance_from_shell_bore_m(shell_bore_m: f64, journal_m: f64) -> f64 {
    shell_bore_m - journal_m
}

/// Diametral clearance in m from the housing without shells: D − t₁ − t₂ − d, walls taken at the crown.
///
/// Leaves out crush: fitted shells expand a soft housing by some thousandths of a millimetre, so the clearance in place is
/// larger than this by up to about 0.01 mm in aluminium (common practice, no source).
pub fn clearance_from_housing_m(housing_m: f64, upper_wall_m: f64, lower_wall_m: f64, journal_m: f64) -> f64 {
    housing_m - upper_wall_m - lower_wall_m - journal_m
}

/// Relative clearance ψ = C/d, a pure number (0.001 is one thou per inch). The journal is above zero.
pub fn relative_clearance(clearance_m: f64, journal_m: f64) -> f64 {
    clearance_m / journal_m
}
