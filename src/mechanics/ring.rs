//! End gap and groove clearances of piston rings.
//!
//! The piston maker's gap for that piston and use comes first; what is worked out here may raise it, never lower it. There is
//! no gap for a ring without knowing the piston: one with the ring high on the crown may need more than half as much again.

use std::f64::consts::PI;

use thiserror::Error;

use super::thermal::Warmed;

/// End gap in m as a part of the bore: g = k·B, both above zero.
///
/// Common practice, no source: k is 0.004 to 0.007 by use; the piston maker's own factor where there is one.
pub fn gap_by_factor_m(factor: f64, bore_m: f64) -> f64 {
    factor * bore_m
}

/// How much the end gap closes by heat, in m: `π·B·(α_ring·ΔT_ring − α_bore·ΔT_bore)`, rises above 20 °C.
///
/// Geometry: the ring follows the bore, one temperature each. Below zero where the bore outgrows the ring and the gap opens.
/// The ring's temperature is an estimate: ±50 K is ±0.19 mm on a 104.8 mm bore. An aluminium bore that is still cold with a
/// ring already hot closes the gap by far more than at a steady load, so ask for the worst moment.
pub fn closure_m(bore_m: f64, ring: Warmed, bore: Warmed) -> f64 {
    PI * bore_m * (ring.strain() - bore.strain())
}

/// Why a needed gap cannot be named.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum GapFault {
    #[error("the piston maker's gap comes first: it is above zero")]
    MakersGap,
    #[error("a margin over the hot gap is not below zero: the ring's ends would butt")]
    Margin,
}

/// The end gap to have, cold, in m: the larger of the maker's and of what heat closes with the margin that must remain.
///
/// Common practice, no source. A closure below zero (the gap opens) leaves the maker's figure as it is.
pub fn needed_gap_m(makers_gap_m: f64, closure_m: f64, margin_m: f64) -> Result<f64, GapFault> {
    if makers_gap_m <= 0.0 {
        return Err(GapFault::MakersGap);
    }
    if margin_m < 0.0 {
        return Err(GapFault::Margin);
    }
    Ok(makers_gap_m.max(closure_m + margin_m))
}

/// By how much to open the gap in m: what is needed less what is there. Below zero the gap is wider than needed by that.
pub fn to_open_m(needed_gap_m: f64, gap_m: f64) -> f64 {
    needed_gap_m - gap_m
}

/// What is left of a gap when warm, in m: the cold gap less its closure. At zero and below the ends butt.
pub fn hot_gap_m(gap_m: f64, closure_m: f64) -> f64 {
    gap_m - closure_m
}

/// Change of the end gap in m where the bore is larger or smaller: Δg = π·ΔB, for taper, a further honing pass or wear.
///
/// Geometry: the gap is smallest where the bore is, and a thou of bore is 3.1 thou of gap.
pub fn gap_change_m(bore_change_m: f64) -> f64 {
    PI * bore_change_m
}

/// How a ring and its groove contradict each other.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum GrooveFault {
    #[error("the {0} is above zero")]
    NoSize(&'static str),
    #[error("the ring is as wide as its groove or wider: it does not enter or is held")]
    TooWide,
    #[error("the root of the groove is not below the bore: look at both diameters")]
    RootNotBelowBore,
    #[error("the ring is as deep as its groove in the bore or deeper: it bottoms before it is in the bore")]
    Bottoms,
}

/// Side clearance of a ring in m: width of the groove less width of the ring, both along the bore.
pub fn side_clearance_m(groove_width_m: f64, ring_width_m: f64) -> Result<f64, GrooveFault> {
    above_zero(groove_width_m, "groove's width")?;
    above_zero(ring_width_m, "ring's width")?;
    if ring_width_m >= groove_width_m {
        return Err(GrooveFault::TooWide);
    }
    Ok(groove_width_m - ring_width_m)
}

/// Back clearance of a ring in the bore, in m: `(B − D_root)/2 − t`, the room behind it with the piston in mid-bore.
///
/// Geometry. Reckoned from the bore it is larger than the ring's depth below the land by half the land's own clearance. What
/// is enough goes by type of ring: a gas-ported one wants little, a steel oil expander what its maker says.
pub fn back_clearance_m(bore_m: f64, groove_root_m: f64, radial_wall_m: f64) -> Result<f64, GrooveFault> {
    above_zero(bore_m, "bore")?;
    above_zero(groove_root_m, "groove's root diameter")?;
    above_zero(radial_wall_m, "ring's radial wall")?;
    if groove_root_m >= bore_m {
        return Err(GrooveFault::RootNotBelowBore);
    }
    let room_m = (bore_m - groove_root_m) / 2.0;
    if radial_wall_m >= room_m {
        return Err(GrooveFault::Bottoms);
    }
    Ok(room_m - radial_wall_m)
}

/// How far the ring lies below its land when pushed home, in m: depth of the groove from the land, less the radial wall.
///
/// Below zero it stands proud of the land, which may be right where land and bore are far apart.
pub fn below_land_m(groove_depth_m: f64, radial_wall_m: f64) -> f64 {
    groove_depth_m - radial_wall_m
}

fn above_zero(size_m: f64, name: &'static str) -> Result<(), GrooveFault> {
    if size_m > 0.0 { Ok(()) } else { Err(GrooveFault::NoSize(name)) }
}
