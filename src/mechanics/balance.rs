//! Balance: what reciprocates and what turns, the bobweight that stands for it, and what a rotor may be left with.
//!
//! A reciprocating mass m on a throw r shakes, to the first order, with m·r·ω²·cosθ along its bore. That is a force of half
//! the size turning with the crank and one of half the size turning against it. A counterweight reaches only the first: so
//! half of the reciprocating mass is the factor that leaves the least, whatever the angle of a vee on one pin. What is left
//! is the part turning against the crank; in a 90° vee the two cylinders' cancel, and nothing is left.

/// Kilograms: no part of an engine, and no rotor balanced as one, is heavier.
const HEAVIEST_KG: f64 = 1e6;
/// Metres: no throw or rotor is larger.
const LONGEST_M: f64 = 1e3;
/// Radians per second, about a million revolutions per minute.
const FASTEST_RAD_S: f64 = 1e5;
/// Radians: an angle on an engine, with turns to spare.
const WIDEST_RAD: f64 = 1e6;

/// Why masses, lengths or speeds cannot be as given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BalanceFault {
    #[error("the {what} cannot be below zero, or beyond any engine's")]
    BelowZero { what: &'static str },
    #[error("the {what} must be above zero, and of a size that exists")]
    NotAboveZero { what: &'static str },
    #[error("a throw carries at least one rod")]
    NoRod,
    #[error("a crank has at least one throw")]
    NoThrow,
    #[error("the balance factor is the share of the reciprocating mass: enter it between 0 and 1")]
    Factor,
    #[error("the {what} must be an angle or a place on an engine")]
    Place { what: &'static str },
}

/// What one cylinder hangs on its throw, in kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CylinderMasses {
    pub piston_kg: f64,
    pub pin_kg: f64,
    /// All rings of the piston.
    pub rings_kg: f64,
    /// All locks of the pin.
    pub locks_kg: f64,
    pub small_end_kg: f64,
    pub big_end_kg: f64,
    /// Both shells of the rod.
    pub shells_kg: f64,
}

impl CylinderMasses {
    /// What goes up and down, in kg: piston, pin, rings, locks and small end. Common practice, no source.
    pub fn reciprocating_kg(&self) -> f64 {
        self.piston_kg + self.pin_kg + self.rings_kg + self.locks_kg + self.small_end_kg
    }

    /// What turns with the throw, in kg: big end and shells. Common practice, no source.
    pub fn rotating_kg(&self) -> f64 {
        self.big_end_kg + self.shells_kg
    }
}

/// Bobweight of a throw in kg: Σ rotating + f·Σ reciprocating + oil, over the rods on the throw.
///
/// Common practice, no source; so is the oil, 3 to 5 g for the throw. The factor f: see [`least_primary_factor`].
pub fn bobweight_kg(rods: &[CylinderMasses], factor: f64, oil_kg: f64) -> Result<f64, BalanceFault> {
    if rods.is_empty() {
        return Err(BalanceFault::NoRod);
    }
    share(factor)?;
    let mut sum_kg = up_to(oil_kg, HEAVIEST_KG, "oil")?;
    for rod in rods {
        for (mass_kg, what) in [
            (rod.piston_kg, "piston"),
            (rod.pin_kg, "pin"),
            (rod.rings_kg, "rings"),
            (rod.locks_kg, "locks"),
            (rod.small_end_kg, "small end"),
            (rod.big_end_kg, "big end"),
            (rod.shells_kg, "shells"),
        ] {
            up_to(mass_kg, HEAVIEST_KG, what)?;
        }
        sum_kg += rod.rotating_kg() + factor * rod.reciprocating_kg();
    }
    Ok(sum_kg)
}

/// Mass in kg that balances a mass on the throw from another radius: m·r/b, opposite the throw (moments; textbook formula).
///
/// Textbooks ask `B·b = r·(m_rot + c·m_rec)`: put the [`bobweight_kg`] for m.
pub fn counterweight_kg(mass_kg: f64, throw_m: f64, radius_m: f64) -> Result<f64, BalanceFault> {
    up_to(mass_kg, HEAVIEST_KG, "mass")?;
    up_to(throw_m, LONGEST_M, "throw")?;
    above_zero(radius_m, LONGEST_M, "counterweight's radius")?;
    Ok(mass_kg * throw_m / radius_m)
}

/// A reciprocating mass and the way its bore leans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reciprocating {
    pub mass_kg: f64,
    /// Angle of the bore from where crank angles are counted, positive the way the engine turns.
    pub bore_rad: f64,
}

/// The primary force that cylinders on one throw leave, counterweighted for a share of their reciprocating mass.
///
/// Vector sum of m·r·ω²·cos(θ−φ) along each bore φ, less f·Σm·r·ω² along the throw; the tip of the force runs round an
/// ellipse as the crank turns. Textbook formula. The second order, and rotating parts (taken as balanced), are left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrimaryResidual {
    /// The part turning with the crank, along the throw: (½ − f)·Σm·r·ω².
    with_crank_n: f64,
    /// The part turning against it, along and across the line crank angles are counted from at θ = 0: ½·Σm·r·ω² at 2φ.
    against_n: [f64; 2],
}

impl PrimaryResidual {
    /// The force at a crank angle in N: along the line crank angles are counted from, and across it the way the engine turns.
    pub fn at_n(&self, angle_rad: f64) -> [f64; 2] {
        let (sin, cos) = angle_rad.sin_cos();
        let [along, across] = self.against_n;
        [self.with_crank_n * cos + along * cos + across * sin, self.with_crank_n * sin + across * cos - along * sin]
    }

    /// The largest force in a turn, N.
    pub fn greatest_n(&self) -> f64 {
        self.with_crank_n.abs() + self.against_n[0].hypot(self.against_n[1])
    }
}

/// The primary force that cylinders on one throw leave in N, at a balance factor. One cylinder: along its bore
/// (1−f)·m·r·ω²·cosθ, across it f·m·r·ω²·sinθ, the latter from the counterweight.
pub fn primary_residual(
    cylinders: &[Reciprocating],
    throw_m: f64,
    speed_rad_s: f64,
    factor: f64,
) -> Result<PrimaryResidual, BalanceFault> {
    if cylinders.is_empty() {
        return Err(BalanceFault::NoRod);
    }
    up_to(throw_m, LONGEST_M, "throw")?;
    up_to(speed_rad_s, FASTEST_RAD_S, "speed")?;
    share(factor)?;
    let pull = throw_m * speed_rad_s * speed_rad_s;
    let mut residual = PrimaryResidual { with_crank_n: 0.0, against_n: [0.0; 2] };
    for cylinder in cylinders {
        let force_n = up_to(cylinder.mass_kg, HEAVIEST_KG, "reciprocating mass")? * pull;
        let (sin, cos) = (2.0 * angle(cylinder.bore_rad, "bore's lean")?).sin_cos();
        residual.with_crank_n += (0.5 - factor) * force_n;
        residual.against_n[0] += 0.5 * force_n * cos;
        residual.against_n[1] += 0.5 * force_n * sin;
    }
    Ok(residual)
}

/// A throw of a crank with the reciprocating mass of all rods on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Throw {
    /// Where the throw stands round the crank.
    pub angle_rad: f64,
    /// Where it stands along the crank, from wherever.
    pub position_m: f64,
    pub reciprocating_kg: f64,
}

/// The balance factor that leaves the least primary force and couple: 0 where the parts that turn with the crank cancel from
/// throw to throw, else ½.
///
/// Vector sum (see above): Σ m and Σ m·z round the crank, throws of one radius, stiff crank and block, nominal masses (a
/// thousandth of the whole counts as nothing). A single, a vee on one pin of any angle, three and five in line, a
/// cross-plane vee of eight: ½, for 90° vees exactly nothing is left. Four and six in line, flat fours and sixes, a
/// single-plane vee of eight: 0. A flat twin keeps the small couple of its two pins and gets ½, where practice has 0: its
/// maker's figure goes first, as everywhere. Counterweights that spare the main bearings are another matter.
pub fn least_primary_factor(throws: &[Throw]) -> Result<f64, BalanceFault> {
    const NOTHING: f64 = 1e-3;
    if throws.is_empty() {
        return Err(BalanceFault::NoThrow);
    }
    let (mut force, mut couple, mut mass_kg, mut moment) = ([0.0; 2], [0.0; 2], 0.0, 0.0);
    let from_m = throws[0].position_m;
    for throw in throws {
        let here_kg = up_to(throw.reciprocating_kg, HEAVIEST_KG, "reciprocating mass")?;
        let (sin, cos) = angle(throw.angle_rad, "throw's angle")?.sin_cos();
        let arm_m = throw.position_m - from_m;
        if !(-LONGEST_M..=LONGEST_M).contains(&arm_m) {
            return Err(BalanceFault::Place { what: "throw's place along the crank" });
        }
        force = [force[0] + here_kg * cos, force[1] + here_kg * sin];
        couple = [couple[0] + here_kg * arm_m * cos, couple[1] + here_kg * arm_m * sin];
        mass_kg += here_kg;
        moment += here_kg * arm_m.abs();
    }
    let cancels = |sum: [f64; 2], whole: f64| sum[0].hypot(sum[1]) <= NOTHING * whole;
    Ok(if cancels(force, mass_kg) && cancels(couple, moment) { 0.0 } else { 0.5 })
}

/// A balance quality grade: the speed the centre of mass may have, and rotors it is for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grade {
    pub name: &'static str,
    /// e·Ω in m/s; the grade's number is the same in mm/s.
    pub speed_m_s: f64,
    pub rotors: &'static str,
}

/// Grades an engine builder meets, coarse to fine: ISO 21940-11, table of grades, rotors in words of our own.
pub const GRADES: [Grade; 5] = [
    Grade { name: "G 100", speed_m_s: 0.1, rotors: "a road vehicle's piston engine as a whole" },
    Grade {
        name: "G 40",
        speed_m_s: 0.04,
        rotors: "cranks whose layout balances them, engine on soft mounts; road wheels",
    },
    Grade { name: "G 16", speed_m_s: 0.016, rotors: "cranks whose layout balances them, engine bolted down hard" },
    Grade { name: "G 6.3", speed_m_s: 0.006_3, rotors: "flywheels, turbochargers, most machines" },
    Grade { name: "G 2.5", speed_m_s: 0.002_5, rotors: "compressors, turbines" },
];

/// Permissible residual specific unbalance in m: `e_per = G/Ω`. ISO 21940-11; G in m/s ([`Grade::speed_m_s`]), Ω the highest
/// service speed. How far the centre of mass may lie off the axis; a rigid rotor.
pub fn permissible_eccentricity_m(grade_m_s: f64, speed_rad_s: f64) -> Result<f64, BalanceFault> {
    above_zero(grade_m_s, FASTEST_RAD_S, "grade")?;
    above_zero(speed_rad_s, FASTEST_RAD_S, "service speed")?;
    Ok(grade_m_s / speed_rad_s)
}

/// Permissible residual unbalance in kg·m of the whole rotor: `U_per = e_per·m`. ISO 21940-11; a rigid rotor.
///
/// A crank that needs bobweights is weighed, and judged, with them. 1 kg·m is 10⁶ g·mm.
pub fn permissible_unbalance_kg_m(grade_m_s: f64, mass_kg: f64, speed_rad_s: f64) -> Result<f64, BalanceFault> {
    above_zero(mass_kg, HEAVIEST_KG, "rotor's mass")?;
    Ok(permissible_eccentricity_m(grade_m_s, speed_rad_s)? * mass_kg)
}

/// The permissible unbalance shared between two planes, kg·m for A and for B: `U·l_B/(l_A + l_B)` to A, each at least 0.3 and
/// at most 0.7 of the whole.
///
/// ISO 21940-11, a rotor whose centre of mass lies between the planes, `l_A` and `l_B` its distances from them.
pub fn permissible_by_plane_kg_m(
    unbalance_kg_m: f64,
    to_plane_a_m: f64,
    to_plane_b_m: f64,
) -> Result<[f64; 2], BalanceFault> {
    up_to(unbalance_kg_m, HEAVIEST_KG * LONGEST_M, "unbalance")?;
    up_to(to_plane_a_m, LONGEST_M, "distance of plane A from the centre of mass")?;
    up_to(to_plane_b_m, LONGEST_M, "distance of plane B from the centre of mass")?;
    let apart_m = above_zero(to_plane_a_m + to_plane_b_m, 2.0 * LONGEST_M, "distance between the planes")?;
    let share_a = (to_plane_b_m / apart_m).clamp(0.3, 0.7);
    Ok([unbalance_kg_m * share_a, unbalance_kg_m * (1.0 - share_a)])
}

/// Force in N of an unbalance at a speed: U·Ω² (definition).
pub fn unbalance_force_n(unbalance_kg_m: f64, speed_rad_s: f64) -> f64 {
    unbalance_kg_m * speed_rad_s * speed_rad_s
}

fn up_to(value: f64, most: f64, what: &'static str) -> Result<f64, BalanceFault> {
    if (0.0..=most).contains(&value) { Ok(value) } else { Err(BalanceFault::BelowZero { what }) }
}

/// Above zero by enough to divide by: a million-millionth of the most.
fn above_zero(value: f64, most: f64, what: &'static str) -> Result<f64, BalanceFault> {
    if (most * 1e-12..=most).contains(&value) { Ok(value) } else { Err(BalanceFault::NotAboveZero { what }) }
}

fn share(factor: f64) -> Result<(), BalanceFault> {
    if (0.0..=1.0).contains(&factor) { Ok(()) } else { Err(BalanceFault::Factor) }
}

fn angle(angle_rad: f64, what: &'static str) -> Result<f64, BalanceFault> {
    if angle_rad.abs() <= WIDEST_RAD { Ok(angle_rad) } else { Err(BalanceFault::Place { what }) }
}
