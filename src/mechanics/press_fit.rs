//! Press and shrink fits: what an interference presses, holds and closes, and at what temperature it is lost.
//!
//! Two long rings, elastic, of one temperature each, pressed alike all round (Lamé's equations for thick cylinders, as in
//! Budynas & Nisbett, Shigley's Mechanical Engineering Design, press and shrink fits). A boss in a casting is no ring: its
//! outside is taken at the nearest free surface, which is a judgement.

use std::f64::consts::PI;

use thiserror::Error;

use super::thermal::Warmed;

/// How stiff a metal is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    /// Young's modulus in Pa.
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

/// Two rings with one in the other. Diameters at the joint are one: the interference is small beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Diameter where they touch, in m.
    pub at_m: f64,
    /// Inside diameter of the inner part, in m; zero where it is solid.
    pub inside_m: f64,
    /// Outside diameter of what holds it, in m.
    pub outside_m: f64,
    pub inner: Elastic,
    pub outer: Elastic,
}

/// What an interference does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed {
    /// Between the parts, in Pa.
    pub pressure_pa: f64,
    /// Round in the outer part where they touch, in Pa: tension, the largest in it.
    pub outer_hoop_pa: f64,
    /// Round in the inner part where they touch, in Pa: below zero, compression. Zero in a part that is loose.
    pub inner_hoop_pa: f64,
    /// By how much the bore of the inner part closes, in m; zero where it is solid.
    pub bore_closes_m: f64,
}

/// Why a fit cannot be worked out.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum FitFault {
    #[error("the diameter of the joint is above zero and below 10 m")]
    At,
    #[error("the inner part’s bore is zero, or smaller than its outside")]
    Inside,
    #[error("what holds it has to be larger outside than the joint, and below 10 m")]
    Outside,
    #[error(
        "no metal is so stiff or so soft: Young’s modulus is between 1 and 1000 GPa, Poisson’s ratio between 0 and 0.5"
    )]
    Metal,
    #[error("an interference of more than a hundredth of the diameter is none: look at both sizes")]
    Interference,
    #[error("a length held is above zero and below 10 m")]
    Length,
    #[error("a coefficient of friction is above zero and at most 1")]
    Friction,
    #[error("a bond’s strength is not below zero, and below 1 GPa")]
    Bond,
    #[error("a coefficient of expansion is between 0 and 100 millionths per kelvin")]
    Expansion,
}

const LARGEST_M: f64 = 10.0;
/// Of the diameter; no metal bears it elastically.
const LARGEST_INTERFERENCE: f64 = 0.01;
/// Walls thinner than this part of the joint's diameter give no figure that a page could show.
const THINNEST_WALL: f64 = 1e-6;

impl Joint {
    fn check(&self) -> Result<(), FitFault> {
        let Self { at_m, inside_m, outside_m, inner, outer } = *self;
        if !(1e-6..LARGEST_M).contains(&at_m) {
            return Err(FitFault::At);
        }
        if !(0.0..=at_m * (1.0 - THINNEST_WALL)).contains(&inside_m) {
            return Err(FitFault::Inside);
        }
        if !(at_m * (1.0 + THINNEST_WALL)..LARGEST_M).contains(&outside_m) {
            return Err(FitFault::Outside);
        }
        let is_metal = |metal: Elastic| (1e9..=1e12).contains(&metal.modulus_pa) && (0.0..0.5).contains(&metal.poisson);
        if is_metal(inner) && is_metal(outer) { Ok(()) } else { Err(FitFault::Metal) }
    }

    /// (R² + r²)/(R² − r²) of the inner part and (r² + R²)/(r² − R²) of the outer.
    fn ratios(&self) -> (f64, f64) {
        let [at, inside, outside] = [self.at_m, self.inside_m, self.outside_m].map(|diameter| diameter * diameter);
        ((at + inside) / (at - inside), (outside + at) / (outside - at))
    }

    /// Pressure and stresses of a diametral interference in m; nothing at all of a fit that is loose (zero or below).
    ///
    /// `p = δ/2 / {R·[((r_o² + R²)/(r_o² − R²) + ν_o)/E_o + ((R² + r_i²)/(R² − r_i²) − ν_i)/E_i]}`; the hoop stress in the
    /// outer part is `p·(r_o² + R²)/(r_o² − R²)`, in the inner `−p·(R² + r_i²)/(R² − r_i²)`; its bore closes by
    /// `4·p·R²·r_i/[E_i·(R² − r_i²)]`.
    ///
    /// # Errors
    /// [`FitFault`] where the parts or the interference cannot be. That they stay elastic is for the caller to judge.
    pub fn pressed(&self, interference_m: f64) -> Result<Pressed, FitFault> {
        self.check()?;
        if !(-self.at_m..=self.at_m * LARGEST_INTERFERENCE).contains(&interference_m) {
            return Err(FitFault::Interference);
        }
        let (inner, outer) = self.ratios();
        let gives =
            (outer + self.outer.poisson) / self.outer.modulus_pa + (inner - self.inner.poisson) / self.inner.modulus_pa;
        let pressure_pa = interference_m.max(0.0) / (self.at_m * gives);
        let [at, inside] = [self.at_m, self.inside_m].map(|diameter| diameter / 2.0);
        let closes = 4.0 * at * at * inside / (self.inner.modulus_pa * (at * at - inside * inside));
        Ok(Pressed {
            pressure_pa,
            outer_hoop_pa: pressure_pa * outer,
            inner_hoop_pa: -pressure_pa * inner,
            bore_closes_m: pressure_pa * closes,
        })
    }
}

/// What holds a fit lengthways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grip {
    /// Length over which the parts touch, in m.
    pub length_m: f64,
    /// Coefficient of friction.
    pub friction: f64,
    /// Shear strength of a retaining compound, in Pa, taken down for metal, oil, gap and heat; zero without one.
    pub bond_pa: f64,
}

/// Force in N that pushes the joint apart lengthways: (μ·p + τ)·π·d·L.
///
/// Friction and bond add for strong compounds only (Dragoni & Mauri 2002, abstract); pressing in wipes a compound off,
/// shrinking keeps it. The torque that turns it is half of it times d.
///
/// # Errors
/// [`FitFault`] where length, friction or bond cannot be.
pub fn holds_n(at_m: f64, pressure_pa: f64, grip: Grip) -> Result<f64, FitFault> {
    if !(0.0..LARGEST_M).contains(&grip.length_m) || grip.length_m == 0.0 {
        return Err(FitFault::Length);
    }
    if !(0.0..=1.0).contains(&grip.friction) || grip.friction == 0.0 {
        return Err(FitFault::Friction);
    }
    if !(0.0..1e9).contains(&grip.bond_pa) {
        return Err(FitFault::Bond);
    }
    Ok((grip.friction * pressure_pa + grip.bond_pa) * PI * at_m * grip.length_m)
}

/// Torque in N·m that turns a joint which so many newtons push apart: F·d/2.
pub fn turns_nm(holds_n: f64, at_m: f64) -> f64 {
    holds_n * at_m / 2.0
}

/// Diametral interference in m with each part at its own temperature: `δ + d·(α_i·ΔT_i − α_o·ΔT_o)`, rises above 20 °C.
/// First order; below zero the fit is loose by so much.
pub fn warm_interference_m(cold_m: f64, at_m: f64, inner: Warmed, outer: Warmed) -> f64 {
    cold_m + at_m * (inner.strain() - outer.strain())
}

/// Rise above 20 °C, in K, at which a fit is lost with both parts alike warm: `δ/[d·(α_o − α_i)]`. Below zero where the inner
/// part expands more: then cold loosens it. None where both expand alike, or nearly: the fit is never lost.
///
/// # Errors
/// [`FitFault`] where the diameter or a coefficient cannot be.
pub fn lost_at_rise_k(cold_m: f64, at_m: f64, inner_per_k: f64, outer_per_k: f64) -> Result<Option<f64>, FitFault> {
    /// Apart by less, no alloy's coefficient is known.
    const ALIKE: f64 = 1e-8;
    if !(1e-6..LARGEST_M).contains(&at_m) {
        return Err(FitFault::At);
    }
    if [inner_per_k, outer_per_k].iter().any(|alpha| !(0.0..=1e-4).contains(alpha)) {
        return Err(FitFault::Expansion);
    }
    let apart = outer_per_k - inner_per_k;
    Ok((apart.abs() >= ALIKE).then(|| cold_m / (at_m * apart)))
}

/// By how much the outer part has to be warmer than the inner, in K, for it to drop in with so much room: (δ + room)/(α·d).
///
/// # Errors
/// [`FitFault`] where the diameter or the coefficient cannot be.
pub fn heat_to_fit_k(cold_m: f64, room_m: f64, at_m: f64, outer_per_k: f64) -> Result<f64, FitFault> {
    if !(1e-6..LARGEST_M).contains(&at_m) {
        return Err(FitFault::At);
    }
    if !(1e-8..=1e-4).contains(&outer_per_k) {
        return Err(FitFault::Expansion);
    }
    Ok((cold_m + room_m) / (outer_per_k * at_m))
}
