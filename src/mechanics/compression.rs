//! Compression: the volumes above the piston, the ratio they make, and what to cut for another ratio.
//!
//! Everything is of one cylinder, cold and rigid. A deck clearance is positive where the piston stays below the deck at TDC
//! and negative where it stands proud. A ratio leaves out the crevice above the top ring unless it is put in; what is kept
//! beside a ratio must say so, for it moves the ratio by several hundredths.

use std::f64::consts::{FRAC_PI_4, PI};

use super::motion::SliderCrank;

/// Metres, square metres, cubic metres: above zero, and nothing of one cylinder is smaller or larger.
const SIZES: std::ops::RangeInclusive<f64> = 1e-12..=1e4;
/// The same for what may lie on either side of zero.
const SIGNED: std::ops::RangeInclusive<f64> = -1e4..=1e4;

/// Why volumes, a ratio or a cut cannot be as given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CompressionFault {
    #[error("the {what} is not a size an engine can have: it must be above zero")]
    Size { what: &'static str },
    #[error("the {what} cannot be below zero, or larger than any engine's")]
    BelowZero { what: &'static str },
    #[error("the deck clearance is larger than any engine's")]
    Deck,
    #[error("the piston's land is larger than the bore it runs in")]
    LandLargerThanBore,
    #[error("the dome is larger than all the room it stands in: chamber, gasket, deck, dish and crevice together")]
    DomeFillsAll,
    #[error(
        "the piston stands so far out of the bore that it fills more than chamber, gasket, dish and crevice together"
    )]
    PistonFillsAll,
    #[error("a compression ratio must be above 1 to 1")]
    RatioNotAboveOne,
    #[error("the volume to take out is not of a size an engine has")]
    Removal,
    #[error("milling the head cannot take away more than the chamber holds")]
    MillsMoreThanChamber,
    #[error("the intake must close within half a turn of bottom dead centre")]
    ClosesNowhereNearBdc,
}

/// Area in m² of a round hole, as bore or gasket hole: (π/4)·d² (geometry). The diameter is not below zero.
pub fn circle_area_m2(diameter_m: f64) -> f64 {
    FRAC_PI_4 * diameter_m * diameter_m
}

/// Volume in m³ that a gasket encloses: the area of its hole times its crushed thickness (geometry).
///
/// The hole of the gasket, not of the cylinder: from its bore by [`circle_area_m2`], or measured where it is not round.
pub fn gasket_volume_m3(hole_area_m2: f64, crushed_thickness_m: f64) -> f64 {
    hole_area_m2 * crushed_thickness_m
}

/// Volume in m³ between deck and flat of the piston: (π/4)·B²·h, negative where the piston stands proud (geometry).
pub fn deck_volume_m3(bore_m: f64, deck_clearance_m: f64) -> f64 {
    circle_area_m2(bore_m) * deck_clearance_m
}

/// Volume in m³ beside the piston down to the top ring: (π/4)·(B² − D²)·h, D and h of the top land (geometry).
///
/// Cold and with the ring at the bottom of the measured height; the ring's own gap and groove are left out.
pub fn crevice_volume_m3(bore_m: f64, land_m: f64, land_height_m: f64) -> Result<f64, CompressionFault> {
    let bore_m = sized(bore_m, "bore")?;
    let land_m = sized(land_m, "top land's diameter")?;
    let land_height_m = not_below_zero(land_height_m, "top land's height")?;
    if land_m > bore_m {
        return Err(CompressionFault::LandLargerThanBore);
    }
    Ok(FRAC_PI_4 * (bore_m - land_m) * (bore_m + land_m) * land_height_m)
}

/// Volume in m³ of the crown below the flat, from what was poured in with the flat a known depth below the deck and the gap
/// round the piston sealed: V − (π/4)·B²·h (geometry). Above zero it is the dish; below zero, the dome with its sign turned.
pub fn crown_volume_m3(bore_m: f64, depth_m: f64, poured_m3: f64) -> f64 {
    poured_m3 - deck_volume_m3(bore_m, depth_m)
}

/// What makes up the room above the piston at TDC, in m³.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ClearanceParts {
    /// The chamber in the head, by burette, valves and plug in place.
    pub chamber_m3: f64,
    pub gasket_m3: f64,
    /// Negative where the piston stands proud; all others are not below zero.
    pub deck_m3: f64,
    pub dish_m3: f64,
    pub dome_m3: f64,
    /// Zero leaves the crevice out.
    pub crevice_m3: f64,
}

/// Clearance volume in m³: `V_ch + V_gasket + V_deck + V_dish − V_dome + V_crevice` (geometry).
pub fn clearance_volume_m3(parts: ClearanceParts) -> Result<f64, CompressionFault> {
    let chamber = not_below_zero(parts.chamber_m3, "chamber")?;
    let gasket = not_below_zero(parts.gasket_m3, "gasket volume")?;
    let dish = not_below_zero(parts.dish_m3, "dish")?;
    let dome = not_below_zero(parts.dome_m3, "dome")?;
    let crevice = not_below_zero(parts.crevice_m3, "crevice")?;
    if !SIGNED.contains(&parts.deck_m3) {
        return Err(CompressionFault::Deck);
    }
    let without_dome = chamber + gasket + parts.deck_m3 + dish + crevice;
    if without_dome < *SIZES.start() {
        return Err(CompressionFault::PistonFillsAll);
    }
    if without_dome - dome < *SIZES.start() {
        return Err(CompressionFault::DomeFillsAll);
    }
    Ok(without_dome - dome)
}

/// Compression ratio `(V_s + V_c)/V_c`, a pure number, from the swept volume (as [`super::crank::displacement_m3`] of one
/// cylinder) and the clearance volume. Definition.
pub fn compression_ratio(swept_m3: f64, clearance_m3: f64) -> Result<f64, CompressionFault> {
    let swept_m3 = sized(swept_m3, "swept volume")?;
    let clearance_m3 = sized(clearance_m3, "clearance volume")?;
    Ok((swept_m3 + clearance_m3) / clearance_m3)
}

/// The clearance volume in m³ that makes a ratio: `V_s/(CR − 1)`, the definition solved for it.
pub fn clearance_for_ratio_m3(swept_m3: f64, ratio: f64) -> Result<f64, CompressionFault> {
    let swept_m3 = sized(swept_m3, "swept volume")?;
    if !(ratio > 1.0 && ratio.is_finite()) {
        return Err(CompressionFault::RatioNotAboveOne);
    }
    Ok(swept_m3 / (ratio - 1.0))
}

/// Volume in m³ to take out of the room above the piston for a ratio: `V_c − V_s/(CR − 1)`; below zero, to be added.
pub fn volume_to_remove_m3(swept_m3: f64, clearance_m3: f64, ratio: f64) -> Result<f64, CompressionFault> {
    let clearance_m3 = sized(clearance_m3, "clearance volume")?;
    Ok(clearance_m3 - clearance_for_ratio_m3(swept_m3, ratio)?)
}

/// What to cut off the deck, in m, to take out a volume: ΔV/((π/4)·B²) (geometry). Below zero, the deck is that much too low.
///
/// The cut brings the deck down to the piston: it takes from the deck volume alone, over the cylinder's bore whatever the
/// gasket's, and squish shrinks by as much.
pub fn deck_cut_m(bore_m: f64, remove_m3: f64) -> Result<f64, CompressionFault> {
    let bore_m = sized(bore_m, "bore")?;
    Ok(removal(remove_m3)? / circle_area_m2(bore_m))
}

/// What to mill off the head, in m, to take out a volume: ΔV/A (geometry). Below zero, the head is that much too thin.
///
/// A is the open area of the chamber at the head's face. The chamber's walls are taken as upright over the cut: where they
/// slope, mill less and measure again. The gasket and the deck keep their volumes, and flat parts their squish.
pub fn head_mill_m(chamber_m3: f64, open_area_m2: f64, remove_m3: f64) -> Result<f64, CompressionFault> {
    let chamber_m3 = sized(chamber_m3, "chamber")?;
    let open_area_m2 = sized(open_area_m2, "chamber's open area")?;
    let remove_m3 = removal(remove_m3)?;
    if remove_m3 > chamber_m3 {
        return Err(CompressionFault::MillsMoreThanChamber);
    }
    Ok(remove_m3 / open_area_m2)
}

/// Squish in m between the flats of piston and head at TDC: deck clearance and crushed gasket together, cold (geometry).
///
/// At zero or below, the piston meets the head.
pub fn squish_m(deck_clearance_m: f64, crushed_thickness_m: f64) -> f64 {
    deck_clearance_m + crushed_thickness_m
}

/// Effective (dynamic) ratio, a pure number: `(V(θ) + V_c)/V_c` with the volume above the piston when the intake closes.
///
/// Definition, by the piston's true position. Closing is the valve back on its seat with its lash, not the event at
/// 0.050 in of lift, counted in rad after bottom dead centre, where the piston truly stands lowest (before it: below zero).
/// A degree wheel set at TDC shows BDC at half a turn: with an offset that is off by [`SliderCrank::bdc_rad`] −
/// [`SliderCrank::tdc_rad`] − π, a fraction of a degree.
pub fn effective_ratio(
    bore_m: f64,
    crank: &SliderCrank,
    clearance_m3: f64,
    closing_after_bdc_rad: f64,
) -> Result<f64, CompressionFault> {
    let bore_m = sized(bore_m, "bore")?;
    let clearance_m3 = sized(clearance_m3, "clearance volume")?;
    if !(-PI..=PI).contains(&closing_after_bdc_rad) {
        return Err(CompressionFault::ClosesNowhereNearBdc);
    }
    let trapped_m3 = circle_area_m2(bore_m) * crank.depth_m(crank.bdc_rad() + closing_after_bdc_rad);
    Ok((trapped_m3 + clearance_m3) / clearance_m3)
}

/// Deck clearance in m: block deck height less throw, rod and the piston's compression height (geometry).
///
/// For a pin that runs on the crank's centre line; where it is offset, [`SliderCrank::pin_height_at_tdc_m`] stands for throw
/// and rod.
pub fn deck_clearance_m(block_deck_m: f64, throw_m: f64, rod_m: f64, compression_height_m: f64) -> f64 {
    block_deck_m - throw_m - rod_m - compression_height_m
}

/// A deck clearance from two readings at opposite sides of the piston, as far from the pin's axis one as the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeckReading {
    /// The clearance without the piston's rock: the mean of the two.
    pub mean_m: f64,
    /// How much deeper the first side stands than the second.
    pub rock_m: f64,
}

/// Deck clearance and rock from a reading each at the thrust side and the side across from it.
///
/// Geometry; readings on the pin's axis see no rock and serve as they are.
pub fn deck_reading(thrust_side_m: f64, other_side_m: f64) -> DeckReading {
    DeckReading { mean_m: f64::midpoint(thrust_side_m, other_side_m), rock_m: thrust_side_m - other_side_m }
}

fn sized(value: f64, what: &'static str) -> Result<f64, CompressionFault> {
    if SIZES.contains(&value) { Ok(value) } else { Err(CompressionFault::Size { what }) }
}

fn not_below_zero(value: f64, what: &'static str) -> Result<f64, CompressionFault> {
    if (0.0..=*SIZES.end()).contains(&value) { Ok(value) } else { Err(CompressionFault::BelowZero { what }) }
}

fn removal(remove_m3: f64) -> Result<f64, CompressionFault> {
    if SIGNED.contains(&remove_m3) { Ok(remove_m3) } else { Err(CompressionFault::Removal) }
}
