//! Clearance of a plain bearing by the routes a builder has, its worst case, what other half shells would give, and crush.
//!
//! Formulas are definitions; the routes agree within their uncertainty or one of shell, cap, torque or dirt is at fault.

use std::f64::consts::PI;

use thiserror::Error;

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

/// The smallest and largest of a size, in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    pub min_m: f64,
    pub max_m: f64,
}

/// The limits named are upside down: the smallest size is above the largest.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("the smallest {0} is larger than the largest")]
pub struct UpsideDown(pub &'static str);

/// Worst case of the diametral clearance: smallest housing with thickest shells and largest journal, and the other way.
///
/// Geometry: every part may be at its limit at once. The smallest is below zero where such a bearing would bind.
pub fn worst_case_clearance(
    housing: Limits,
    upper_wall: Limits,
    lower_wall: Limits,
    journal: Limits,
) -> Result<Limits, UpsideDown> {
    for (name, limits) in
        [("housing", housing), ("upper wall", upper_wall), ("lower wall", lower_wall), ("journal", journal)]
    {
        if limits.min_m > limits.max_m {
            return Err(UpsideDown(name));
        }
    }
    Ok(Limits {
        min_m: clearance_from_housing_m(housing.min_m, upper_wall.max_m, lower_wall.max_m, journal.max_m),
        max_m: clearance_from_housing_m(housing.max_m, upper_wall.min_m, lower_wall.min_m, journal.min_m),
    })
}

/// The undersizes of the two half shells of a bearing, in m, as the box gives them: by how much the journal is smaller
/// that a pair of such halves is made for.
///
/// Zero is standard. Above zero is undersize ("1 under" is 0.001 in): thicker walls, less clearance. Below zero is extra
/// clearance (one thou is −0.001 in): thinner walls, more clearance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halves {
    pub upper_undersize_m: f64,
    pub lower_undersize_m: f64,
}

/// Diametral clearance in m after changing from the halves fitted to others: a pair's undersize is taken off the clearance,
/// each half giving half of it: `C' = C − (Δu_upper + Δu_lower)/2`.
///
/// Geometry on nominal walls: from standard, one half of 1 under takes 0.0005 in off, one of 1 extra gives 0.0005 in.
/// Walls scatter by some thousandths of a millimetre within a box, so measure what is fitted.
pub fn clearance_with_other_halves_m(clearance_m: f64, fitted: Halves, other: Halves) -> f64 {
    let upper = other.upper_undersize_m - fitted.upper_undersize_m;
    let lower = other.lower_undersize_m - fitted.lower_undersize_m;
    clearance_m - f64::midpoint(upper, lower)
}

/// What the crush of a pair of shells does in a rigid housing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crush {
    /// Diametral interference of the pair as a ring, in m.
    pub interference_m: f64,
    /// Hoop stress in the shells, compressive, in Pa. At the yield of the backing and above, the shells do not spring back.
    pub hoop_stress_pa: f64,
    /// Pressure between shell and housing, in Pa.
    pub contact_pressure_pa: f64,
}

/// Why a crush cannot be worked out.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum CrushFault {
    #[error("a housing bore is above zero")]
    Bore,
    #[error("a shell wall is above zero and at most a tenth of the housing bore")]
    Wall,
    #[error("no metal is so stiff or so soft: Young's modulus is between 1 and 1000 GPa")]
    Modulus,
    #[error("shells that stand below the joint have no crush: they are loose in the housing")]
    Loose,
    #[error("an excess of more than a hundredth of the circumference is not crush: look at the figure")]
    Excess,
}

/// Thin ring: wall over bore.
const THICKEST_WALL: f64 = 0.1;
/// Strain; far beyond what any backing bears elastically.
const LARGEST_STRAIN: f64 = 0.01;

/// Crush of a pair of half shells: from the excess of its length around over the housing's, s, the sum at both joints.
///
/// δ = s/π, σ = E·s/(π·D), p = 2·σ·t/D: a thin ring pressed into a rigid housing (mechanics of materials). Valid
/// for walls up to a tenth of the bore, elastic shells and a housing stiff beside them; a housing that gives (aluminium,
/// a thin rod eye) takes part of δ as growth of its bore, and σ and p are then upper bounds.
pub fn crush(excess_length_m: f64, housing_m: f64, wall_m: f64, modulus_pa: f64) -> Result<Crush, CrushFault> {
    if housing_m <= 0.0 {
        return Err(CrushFault::Bore);
    }
    let relative_wall = wall_m / housing_m;
    if wall_m <= 0.0 || relative_wall > THICKEST_WALL {
        return Err(CrushFault::Wall);
    }
    if !(1e9..=1e12).contains(&modulus_pa) {
        return Err(CrushFault::Modulus);
    }
    if excess_length_m < 0.0 {
        return Err(CrushFault::Loose);
    }
    let strain = excess_length_m / PI / housing_m;
    if strain > LARGEST_STRAIN {
        return Err(CrushFault::Excess);
    }
    let hoop_stress_pa = modulus_pa * strain;
    Ok(Crush {
        interference_m: excess_length_m / PI,
        hoop_stress_pa,
        contact_pressure_pa: 2.0 * hoop_stress_pa * relative_wall,
    })
}

/// What a pair of shells has less of crush, in m, in a housing larger by so much than the one they are made for: π times it
/// (geometry). Below zero where the housing is smaller.
pub fn crush_lost_m(larger_m: f64) -> f64 {
    PI * larger_m
}
