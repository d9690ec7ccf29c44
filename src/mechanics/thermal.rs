//! Growth by heat, and what becomes of a bearing's clearance away from 20 °C.
//!
//! First order, with mean coefficients of expansion over the range in question: those for 20–100 °C serve from about −20 to
//! 150 °C. Each part is at one temperature throughout. Temperatures are rises above 20 °C, where sizes are defined (ISO 1).

use thiserror::Error;

/// How a part's metal expands, and how far it is warmed above 20 °C (below zero: cooled).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmed {
    pub alpha_per_k: f64,
    pub rise_k: f64,
}

impl Warmed {
    /// Expansion as a part of the length: α·ΔT.
    pub fn strain(&self) -> f64 {
        self.alpha_per_k * self.rise_k
    }
}

/// Growth of a length in m: L·α·ΔT (physics; first order).
pub fn growth_m(length_m: f64, of: Warmed) -> f64 {
    length_m * of.strain()
}

/// Sizes of a bearing at 20 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    pub housing_m: f64,
    /// Mean of the two half shells, at the crown.
    pub wall_m: f64,
    pub journal_m: f64,
}

/// The metals of a bearing and their warmth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    /// The half of the housing in the block or the rod.
    pub block: Warmed,
    /// The half in the cap; the same as the block's where one material has both.
    pub cap: Warmed,
    pub shell: Warmed,
    pub journal: Warmed,
}

/// Why a clearance cannot be worked out hot.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum ThermalFault {
    #[error("the {0} has no size: a bore, a wall and a journal are above zero and below 10 m")]
    Size(&'static str),
    #[error("two such walls fill the housing: look at wall and bore")]
    WallsFillHousing,
    #[error("no metal expands as the {0} would: a coefficient is between 0 and 100 millionths per kelvin")]
    Alpha(&'static str),
    #[error("the {0} would be colder than can be, or molten: a rise is between −293.15 and 1500 K")]
    Rise(&'static str),
}

const LARGEST_M: f64 = 10.0;
const LARGEST_ALPHA_PER_K: f64 = 100e-6;
/// From 20 °C to absolute zero.
const LOWEST_RISE_K: f64 = -293.15;
const HIGHEST_RISE_K: f64 = 1500.0;

/// Change of the diametral clearance by heat in m, above zero where it opens, measured across the joint (vertically).
///
/// `ΔC = D_h·(α_b·ΔT_b + α_c·ΔT_c)/2 − 2·t·α_s·ΔT_s − d·α_j·ΔT_j`: every part grows freely, and the shells follow the
/// housing while crush remains. With block and cap of one material it is the plain `α_h·D_h·ΔT_h` (physics).
///
/// With a cap of another metal each half ring is taken to grow by its own material, the parting line staying put: the mean
/// of the two. No source; the truth lies between all of the one and all of the other, and nearer the block where its
/// register or the bolts stretch the cap. Along the joint the bore is no longer round, which this does not show.
pub fn clearance_change_m(sizes: Sizes, warmth: Warmth) -> Result<f64, ThermalFault> {
    check(sizes, warmth)?;
    let half = sizes.housing_m / 2.0;
    let housing = growth_m(half, warmth.block) + growth_m(half, warmth.cap);
    Ok(housing - growth_m(2.0 * sizes.wall_m, warmth.shell) - growth_m(sizes.journal_m, warmth.journal))
}

/// Diametral clearance in m when warm, from that at 20 °C: `clearance_change_m` added. Below zero the bearing binds.
pub fn hot_clearance_m(cold_clearance_m: f64, sizes: Sizes, warmth: Warmth) -> Result<f64, ThermalFault> {
    Ok(cold_clearance_m + clearance_change_m(sizes, warmth)?)
}

/// Diametral clearance in m to build in at 20 °C for a wanted warm one: the inverse of `hot_clearance_m`.
///
/// Nominal sizes do: where the real ones differ from them, the growth differs by some thousandths of that difference.
pub fn cold_clearance_m(hot_clearance_m: f64, sizes: Sizes, warmth: Warmth) -> Result<f64, ThermalFault> {
    Ok(hot_clearance_m - clearance_change_m(sizes, warmth)?)
}

fn check(sizes: Sizes, warmth: Warmth) -> Result<(), ThermalFault> {
    for (name, size) in [("housing", sizes.housing_m), ("wall", sizes.wall_m), ("journal", sizes.journal_m)] {
        if size <= 0.0 || size > LARGEST_M {
            return Err(ThermalFault::Size(name));
        }
    }
    if 2.0 * sizes.wall_m >= sizes.housing_m {
        return Err(ThermalFault::WallsFillHousing);
    }
    for (name, part) in
        [("block", warmth.block), ("cap", warmth.cap), ("shell", warmth.shell), ("journal", warmth.journal)]
    {
        if !(0.0..=LARGEST_ALPHA_PER_K).contains(&part.alpha_per_k) {
            return Err(ThermalFault::Alpha(name));
        }
        if !(LOWEST_RISE_K..=HIGHEST_RISE_K).contains(&part.rise_k) {
            return Err(ThermalFault::Rise(name));
        }
    }
    Ok(())
}
