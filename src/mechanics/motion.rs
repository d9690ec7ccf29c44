//! The piston's motion: where it stands at a crank angle, how fast it goes, and what that asks of the rod bolts.
//!
//! Crank angles are counted the way the engine turns, from where the throw stands parallel to the bore, toward the head.
//! The offset e is the distance of the piston pin's line of travel from the crank's centre, positive toward the side the
//! throw moves to after its top. A pin set over in the piston and a bore set over on the block both count; what is kept
//! beside an offset must say its sign. Rigid parts, constant crank speed.

use std::f64::consts::{FRAC_PI_2, PI};

/// Metres: no throw or rod of an engine is smaller or larger.
const LENGTHS_M: std::ops::RangeInclusive<f64> = 1e-4..=100.0;
/// Kilograms: no piston, rod end or cap is heavier.
const HEAVIEST_KG: f64 = 1e4;
/// Radians per second, about a million revolutions per minute: no crank turns faster.
const FASTEST_RAD_S: f64 = 1e5;

/// Why a crank, rod and bore cannot be as given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MotionFault {
    #[error("the {what} is not a length an engine can have: it must be above zero")]
    Length { what: &'static str },
    #[error("the offset is not a length an engine can have")]
    Offset,
    #[error(
        "the rod is too short to go round: centre to centre it must be longer than the throw and the offset together"
    )]
    RodTooShort,
    #[error("this rod cannot make so long a stroke: it would need a throw longer than the rod less the offset")]
    StrokeTooLong,
    #[error("the {what} cannot be below zero, or heavier than any engine's")]
    Mass { what: &'static str },
    #[error("the cap is heavier than the whole big end it belongs to")]
    CapHeavierThanBigEnd,
    #[error("the engine speed is below zero, or beyond any crank")]
    Speed,
    #[error("a rod cap is held by at least one bolt")]
    NoBolts,
}

/// A crank throw, a rod and the offset of the pin's path, that can turn through.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(clippy::struct_field_names, reason = "names end in the unit")]
pub struct SliderCrank {
    throw_m: f64,
    rod_m: f64,
    offset_m: f64,
}

impl SliderCrank {
    /// From the throw r, the rod's length between centres l and the offset e. They turn through when l > r + |e| (geometry).
    pub fn new(throw_m: f64, rod_m: f64, offset_m: f64) -> Result<Self, MotionFault> {
        length(throw_m, "throw")?;
        length(rod_m, "rod")?;
        if !offset_m.is_finite() {
            return Err(MotionFault::Offset);
        }
        if rod_m <= throw_m + offset_m.abs() {
            return Err(MotionFault::RodTooShort);
        }
        Ok(Self { throw_m, rod_m, offset_m })
    }

    /// From the stroke S in place of the throw: r = (S/2)·√(1 − e²/(l² − S²/4)), half the stroke where there is no offset.
    ///
    /// [`Self::stroke_m`] solved for r (geometry).
    pub fn from_stroke(stroke_m: f64, rod_m: f64, offset_m: f64) -> Result<Self, MotionFault> {
        length(stroke_m, "stroke")?;
        length(rod_m, "rod")?;
        if !offset_m.is_finite() {
            return Err(MotionFault::Offset);
        }
        let (half, e) = (stroke_m / 2.0, offset_m.abs());
        if rod_m <= e {
            return Err(MotionFault::RodTooShort);
        }
        // S²/4 = l(l − |e|) where the throw is all that the rod allows, l − |e|.
        if half * half >= rod_m * (rod_m - e) {
            return Err(MotionFault::StrokeTooLong);
        }
        let share = e / (rod_m - half) * (e / (rod_m + half));
        Self::new(half * (1.0 - share).sqrt(), rod_m, offset_m)
    }

    /// The throw in m, as given or as it follows from the stroke.
    pub fn throw_m(&self) -> f64 {
        self.throw_m
    }

    /// Crank angle in rad at which the piston stands highest: asin(e/(l+r)), throw and rod in line (geometry).
    pub fn tdc_rad(&self) -> f64 {
        (self.offset_m / (self.rod_m + self.throw_m)).asin()
    }

    /// Crank angle in rad at which the piston stands lowest: π + asin(e/(l−r)), the throw folded back on the rod (geometry).
    pub fn bdc_rad(&self) -> f64 {
        PI + (self.offset_m / (self.rod_m - self.throw_m)).asin()
    }

    /// Height in m of the piston pin above the crank's centre at its highest: √((l+r)²−e²), r + l without offset (geometry).
    pub fn pin_height_at_tdc_m(&self) -> f64 {
        leg(self.rod_m + self.throw_m, self.offset_m)
    }

    /// Stroke in m: √((l+r)²−e²) − √((l−r)²−e²), a little over twice the throw where there is an offset (geometry).
    pub fn stroke_m(&self) -> f64 {
        let lowest_m = leg(self.rod_m - self.throw_m, self.offset_m);
        4.0 * self.rod_m * self.throw_m / (self.pin_height_at_tdc_m() + lowest_m)
    }

    /// How far in m the piston stands below its highest point: √((l+r)²−e²) − [r·cosθ + √(l² − (r·sinθ − e)²)] (geometry).
    pub fn depth_m(&self, angle_rad: f64) -> f64 {
        let At { along, rod_height, .. } = self.at(angle_rad);
        // At the top itself rounding may leave a grain below zero.
        (self.pin_height_at_tdc_m() - (along + rod_height)).max(0.0)
    }

    /// Piston speed in m/s at a crank angle, positive going down: ω·dx/dθ, x the depth (geometry).
    pub fn velocity_m_s(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        speed_rad_s * self.slope(angle_rad)
    }

    /// Acceleration of the piston in m/s² at a crank angle, positive downward: ω²·d²x/dθ², constant speed (geometry).
    ///
    /// The whole expression, not its first two harmonics: those miss the two minima that most engines have near BDC.
    /// Without offset rω²(1 + r/l) at TDC and −rω²(1 − r/l) at BDC.
    pub fn acceleration_m_s2(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        speed_rad_s * speed_rad_s * self.curvature(angle_rad)
    }

    /// Crank angle in rad, from −π/2 to 3π/2, where the piston goes down fastest: d²x/dθ² = 0 (geometry).
    pub fn fastest_down_rad(&self) -> f64 {
        highest(&turns(|angle| self.curvature(angle), Turn::Peak), |angle| self.slope(angle))
    }

    /// Crank angle in rad, from −π/2 to 3π/2, where the piston goes up fastest: d²x/dθ² = 0 (geometry).
    pub fn fastest_up_rad(&self) -> f64 {
        highest(&turns(|angle| self.curvature(angle), Turn::Dip), |angle| -self.slope(angle))
    }

    /// Crank angle in rad, from −π/2 to 3π/2, of the greatest acceleration, at or near TDC: d³x/dθ³ = 0 (geometry).
    pub fn greatest_acceleration_rad(&self) -> f64 {
        highest(&turns(|angle| self.jerk(angle), Turn::Peak), |angle| self.curvature(angle))
    }

    /// Crank angles in rad, rising from −π/2 to 3π/2, at which the acceleration has a minimum: d³x/dθ³ = 0 (geometry).
    ///
    /// With the rods engines have there are two, one to each side of BDC, equal where there is no offset; a rod of
    /// (3 + √21)/2 = 3.79 throws and more leaves one, at BDC (without offset).
    pub fn acceleration_minima_rad(&self) -> Vec<f64> {
        turns(|angle| self.jerk(angle), Turn::Dip)
    }

    /// What parts the big end's joint as the throw passes TDC on the exhaust stroke, where no gas holds the piston back.
    ///
    /// F = (reciprocating mass)·a(TDC) + (big end above the joint)·r·ω², the rod taken as two masses; textbook formula. Take
    /// the highest speed the engine can be driven to. Bending of the cap (prying) comes on top, and the rod's lean at TDC,
    /// below half a percent up to an offset of a tenth of rod and throw, is left out.
    pub fn rod_bolt_load(&self, masses: RodMasses, bolts: u8, speed_rad_s: f64) -> Result<RodBoltLoad, MotionFault> {
        let RodMasses { reciprocating_kg, big_end_kg, cap_kg } = masses;
        for (mass_kg, what) in [(reciprocating_kg, "reciprocating mass"), (big_end_kg, "big end"), (cap_kg, "cap")] {
            if !(0.0..=HEAVIEST_KG).contains(&mass_kg) {
                return Err(MotionFault::Mass { what });
            }
        }
        if cap_kg > big_end_kg {
            return Err(MotionFault::CapHeavierThanBigEnd);
        }
        if !(0.0..=FASTEST_RAD_S).contains(&speed_rad_s) {
            return Err(MotionFault::Speed);
        }
        if bolts == 0 {
            return Err(MotionFault::NoBolts);
        }
        let piston_n = reciprocating_kg * self.acceleration_m_s2(self.tdc_rad(), speed_rad_s);
        let big_end_n = (big_end_kg - cap_kg) * self.throw_m * speed_rad_s * speed_rad_s;
        let rod_n = piston_n + big_end_n;
        Ok(RodBoltLoad { rod_n, bolt_n: rod_n / f64::from(bolts) })
    }

    fn at(&self, angle_rad: f64) -> At {
        let (sin, cos) = angle_rad.sin_cos();
        let aside = self.throw_m * sin - self.offset_m;
        At {
            along: self.throw_m * cos,
            across: self.throw_m * sin,
            aside,
            rod_height: leg(self.rod_m, aside),
            rod: self.rod_m,
        }
    }

    /// dx/dθ = r·sinθ + d·d′/u, with d = r·sinθ − e, u = √(l²−d²).
    fn slope(&self, angle_rad: f64) -> f64 {
        let At { along, across, aside, rod_height, .. } = self.at(angle_rad);
        across + aside * along / rod_height
    }

    /// d²x/dθ² = r·cosθ + l²d′²/u³ + d·d″/u, with d′ = r·cosθ and d″ = −r·sinθ.
    fn curvature(&self, angle_rad: f64) -> f64 {
        let At { along, across, aside, rod_height, rod } = self.at(angle_rad);
        along + rod * rod * along * along / rod_height.powi(3) - aside * across / rod_height
    }

    /// d³x/dθ³ = −r·sinθ + 3l²d′d″/u³ + 3l²d·d′³/u⁵ + d·d‴/u, with d‴ = −r·cosθ.
    fn jerk(&self, angle_rad: f64) -> f64 {
        let At { along, across, aside, rod_height, rod } = self.at(angle_rad);
        let bending = aside * along * along / (rod_height * rod_height) - across;
        3.0 * rod * rod * along * bending / rod_height.powi(3) - across - aside * along / rod_height
    }
}

/// One crank angle's lengths in m: the throw along the bore (d′ = r·cosθ) and across it (r·sinθ), how far the big end stands
/// aside of the pin's line (d), the rod's reach along the bore (u) and its length (l).
struct At {
    along: f64,
    across: f64,
    aside: f64,
    rod_height: f64,
    rod: f64,
}

/// The masses that load one rod's cap joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RodMasses {
    /// Piston, pin, rings, locks and the rod's small end.
    pub reciprocating_kg: f64,
    /// The rod's big end with its cap and bolts, as weighed.
    pub big_end_kg: f64,
    /// What lies beyond the joint: cap, with nuts or bolts as they go with it.
    pub cap_kg: f64,
}

/// The force that parts a rod's cap joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RodBoltLoad {
    pub rod_n: f64,
    /// The same shared evenly among the bolts.
    pub bolt_n: f64,
}

/// Mean piston speed in m/s: 2·S·N per unit of time, with ω in place of the revolutions S·ω/π. Definition.
pub fn mean_piston_speed_m_s(stroke_m: f64, speed_rad_s: f64) -> f64 {
    stroke_m * speed_rad_s / PI
}

/// Rod ratio l/S, a pure number. Definition; the stroke is above zero.
pub fn rod_ratio(rod_m: f64, stroke_m: f64) -> f64 {
    rod_m / stroke_m
}

fn length(length_m: f64, what: &'static str) -> Result<(), MotionFault> {
    if LENGTHS_M.contains(&length_m) { Ok(()) } else { Err(MotionFault::Length { what }) }
}

/// The other leg of a right triangle: √(h²−a²), without losing what little is left where the legs are near the hypotenuse.
fn leg(hypotenuse_m: f64, one_m: f64) -> f64 {
    ((hypotenuse_m - one_m) * (hypotenuse_m + one_m)).sqrt()
}

/// Which way a curve turns.
#[derive(Clone, Copy, PartialEq)]
enum Turn {
    Peak,
    Dip,
}

/// The angles from −π/2 to 3π/2 at which a curve over the crank's turn has its peaks or its dips, from its derivative.
fn turns(derivative: impl Fn(f64) -> f64, wanted: Turn) -> Vec<f64> {
    let climbs = |angle: f64| derivative(angle) > 0.0;
    let angles = sweep();
    let mut climbing: Vec<bool> = angles.iter().map(|&angle| climbs(angle)).collect();
    // The last angle is the first again: judged once, so that rounding cannot hide a turn that falls on it.
    climbing.push(climbing[0]);
    let cells = angles.iter().zip(angles.iter().skip(1).chain([&(3.0 * FRAC_PI_2)]));
    cells
        .zip(climbing.windows(2))
        .filter(|(_, climbing)| climbing[0] != climbing[1] && climbing[0] == (wanted == Turn::Peak))
        .map(|((&from, &to), climbing)| halved(from, to, |angle| climbs(angle) == climbing[0]))
        .collect()
}

/// One turn of the crank from −π/2, in steps that grow finer toward ±π/2, where a rod that barely goes round turns sharply.
fn sweep() -> Vec<f64> {
    const STEPS: u16 = 360;
    let fractions = || (0..STEPS).map(|step| FRAC_PI_2 * (f64::from(step) / f64::from(STEPS)).powi(3));
    let away = fractions().map(|from_start| from_start - FRAC_PI_2);
    let toward = (1..=STEPS).rev().map(|step| FRAC_PI_2 * (1.0 - (f64::from(step) / f64::from(STEPS)).powi(3)));
    let first_half: Vec<f64> = away.chain(toward).collect();
    first_half.iter().copied().chain(first_half.iter().map(|angle| angle + PI)).collect()
}

/// Where between two angles `before` ceases to hold, to the last bit.
fn halved(mut from: f64, mut to: f64, before: impl Fn(f64) -> bool) -> f64 {
    loop {
        let middle = f64::midpoint(from, to);
        if middle <= from || middle >= to {
            return to;
        }
        if before(middle) {
            from = middle;
        } else {
            to = middle;
        }
    }
}

/// The angle at which `height` is greatest.
fn highest(angles: &[f64], height: impl Fn(f64) -> f64) -> f64 {
    angles
        .iter()
        .copied()
        .max_by(|&a, &b| height(a).total_cmp(&height(b)))
        .expect("a smooth curve over a turn has a peak")
}
