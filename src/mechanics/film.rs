//! The oil film of a plain journal bearing: eccentricity, smallest film, friction, flow.
//!
//! For comparing, not for promising: what 10 µm more clearance, a thinner oil or a narrower bearing does. Steady load, one
//! viscosity throughout, shaft and bore aligned, rigid and round, oil enough, no grooves in the loaded part. An engine's
//! bearing is loaded in turns, and the film squeezed out and drawn in carries it through peaks that would wear it out here.
//!
//! Letters as in Raimondi and Boyd (1958): r radius, c radial clearance, l length, N in rev/s, P = W/(2·r·l), ε eccentricity
//! ratio, S = (r/c)²·µN/P.

use std::f64::consts::{PI, TAU};

use thiserror::Error;

/// A bearing and its oil. The clearance is the diametral one, as measured: twice the c of the books.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    pub diameter_m: f64,
    pub length_m: f64,
    pub clearance_m: f64,
    pub speed_rad_s: f64,
    pub viscosity_pa_s: f64,
}

/// The film under a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// How far off centre the journal runs, as a part of the radial clearance.
    pub eccentricity: f64,
    pub min_film_m: f64,
    /// Between the load's direction and the line of centres.
    pub attitude_rad: f64,
    /// Friction force at the journal over load. The emptied part of the film is counted as full, as Raimondi and Boyd do.
    pub friction: f64,
    /// Heat made by friction, in W.
    pub power_w: f64,
    /// Oil the journal draws through the largest film, in m³/s.
    pub flow_m3_s: f64,
    /// What of it leaves at the two ends and must be fed anew, in m³/s, without what pressure feeds through besides.
    pub side_flow_m3_s: f64,
}

/// Why a film cannot be worked out.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum FilmFault {
    #[error("the {0} is above zero and below a thousand million: look at the figure and its unit")]
    Size(&'static str),
    #[error("a clearance above a tenth of the journal holds no film: look at both")]
    Clearance,
    #[error("an eccentricity ratio is above 0 and below 1")]
    Eccentricity,
    #[error("the bearing's length is {0:.2} of its diameter: the table covers an eighth to one and a half")]
    Length(f64),
    #[error("so small a load leaves the journal all but central: there is nothing to compare")]
    TooLight,
    #[error("so large a load leaves less than a hundredth of the clearance as film: it would touch")]
    TooHeavy,
}

const SMALLEST: f64 = 1e-9;
const LARGEST: f64 = 1e9;
const WIDEST_CLEARANCE: f64 = 0.1;
/// Where the short bearing's eccentricity is looked for.
const SHORT_RANGE: [f64; 2] = [1e-4, 0.99];

impl Bearing {
    fn check(&self) -> Result<(), FilmFault> {
        size(self.diameter_m, "journal's diameter")?;
        size(self.length_m, "bearing's length")?;
        size(self.clearance_m, "clearance")?;
        size(self.speed_rad_s, "speed")?;
        size(self.viscosity_pa_s, "viscosity")?;
        if self.clearance_m > WIDEST_CLEARANCE * self.diameter_m { Err(FilmFault::Clearance) } else { Ok(()) }
    }

    fn length_over_diameter(&self) -> f64 {
        self.length_m / self.diameter_m
    }

    /// S·W: the load in N at a Sommerfeld number of 1.
    fn unit_load_n(&self) -> f64 {
        let r_over_c = self.diameter_m / self.clearance_m;
        r_over_c * r_over_c * self.viscosity_pa_s * self.speed_rad_s / TAU * self.length_m * self.diameter_m
    }

    /// The flow that flow variables are multiples of: r·c·N·l.
    fn unit_flow_m3_s(&self) -> f64 {
        self.diameter_m / 2.0 * (self.clearance_m / 2.0) * self.speed_rad_s / TAU * self.length_m
    }
}

fn size(value: f64, name: &'static str) -> Result<(), FilmFault> {
    if (SMALLEST..=LARGEST).contains(&value) { Ok(()) } else { Err(FilmFault::Size(name)) }
}

fn plausible_load_n(load_n: f64) -> Result<f64, FilmFault> {
    size(load_n, "load")?;
    Ok(load_n)
}

/// Sommerfeld number S = (r/c)²·µN/P, a pure number (definition). Equal S and l/d, equal eccentricity.
pub fn sommerfeld(bearing: &Bearing, load_n: f64) -> Result<f64, FilmFault> {
    bearing.check()?;
    size(load_n, "load")?;
    Ok(bearing.unit_load_n() / load_n)
}

/// Torque in N·m that turns an unloaded journal in a full film, by Petroff: T = 4π²·µN·r³·l/c.
///
/// The least there can be; a load adds to it.
pub fn petroff_torque_nm(bearing: &Bearing) -> Result<f64, FilmFault> {
    bearing.check()?;
    let r = bearing.diameter_m / 2.0;
    let rate = bearing.speed_rad_s * r / (bearing.clearance_m / 2.0);
    Ok(bearing.viscosity_pa_s * rate * TAU * r * bearing.length_m * r)
}

/// Load in N a short bearing carries at an eccentricity ratio, by Ocvirk (1952):
/// W = µUl³/(4c²)·ε/(1 − ε²)²·√(16ε² + π²(1 − ε²)), U the journal's surface speed.
///
/// Good up to a quarter of the diameter in length. Beyond, it promises too much: at half the diameter, 1.15 times the load
/// at ε = 0.4 and 2.4 times at 0.9 (against the finite-difference solution).
pub fn short_bearing_load_n(bearing: &Bearing, eccentricity: f64) -> Result<f64, FilmFault> {
    bearing.check()?;
    if eccentricity <= 0.0 || eccentricity >= 1.0 {
        return Err(FilmFault::Eccentricity);
    }
    plausible_load_n(bearing.unit_load_n() / short_sommerfeld(eccentricity, bearing.length_over_diameter()))
}

/// Film of a short bearing under a load, by Ocvirk; its bounds as for `short_bearing_load_n`. At the attitude φ,
/// tan φ = π·√(1 − ε²)/(4ε).
pub fn short_bearing(bearing: &Bearing, load_n: f64) -> Result<Film, FilmFault> {
    let s = sommerfeld(bearing, load_n)?;
    let l_over_d = bearing.length_over_diameter();
    let [least, most] = SHORT_RANGE;
    if s > short_sommerfeld(least, l_over_d) {
        return Err(FilmFault::TooLight);
    }
    if s < short_sommerfeld(most, l_over_d) {
        return Err(FilmFault::TooHeavy);
    }
    let eccentricity = where_it_falls_to(s, SHORT_RANGE, |eccentricity| short_sommerfeld(eccentricity, l_over_d));
    let attitude_rad = (PI * (1.0 - eccentricity * eccentricity).sqrt()).atan2(4.0 * eccentricity);
    let flows = [PI * (1.0 + eccentricity), TAU * eccentricity];
    Ok(film(bearing, load_n, eccentricity, attitude_rad, flows))
}

fn short_sommerfeld(eccentricity: f64, l_over_d: f64) -> f64 {
    let e2 = eccentricity * eccentricity;
    (1.0 - e2).powi(2) / (PI * l_over_d * l_over_d * eccentricity * (16.0 * e2 + PI * PI * (1.0 - e2)).sqrt())
}

/// Load in N a bearing carries at an eccentricity ratio from 0.05 to 0.99; source and bounds as for `finite_bearing`.
pub fn finite_bearing_load_n(bearing: &Bearing, eccentricity: f64) -> Result<f64, FilmFault> {
    bearing.check()?;
    let section = Section::at(bearing.length_over_diameter())?;
    if eccentricity <= 0.0 || eccentricity >= 1.0 {
        return Err(FilmFault::Eccentricity);
    }
    let x = stretched(eccentricity);
    if x < section.x[0] {
        return Err(FilmFault::TooLight);
    }
    if x > section.x[ROWS - 1] {
        return Err(FilmFault::TooHeavy);
    }
    plausible_load_n(bearing.unit_load_n() / section.between(&section.ln_sommerfeld, x).exp())
}

/// Film of a bearing of any length from an eighth to one and a half of its diameter, under a load.
///
/// By table (see `SOMMERFELD`): in length, the polynomial in l/(l + d/2) through all six columns of ln S, φ and flows; in
/// eccentricity, the cubic in ln(ε/(1 − ε)) through the four nearest rows; ε by bisection. Between rows and columns this is
/// off the finite-difference solution by at most 0.5 % in S, 0.3 % in the smallest film, 0.1° and 0.7 % in the flows. From
/// there (geometry) h = c·(1 − ε) and (r/c)·f = 2π²S/√(1 − ε²) + (ε/2)·sin φ.
pub fn finite_bearing(bearing: &Bearing, load_n: f64) -> Result<Film, FilmFault> {
    let ln_s = sommerfeld(bearing, load_n)?.ln();
    let section = Section::at(bearing.length_over_diameter())?;
    if ln_s > section.ln_sommerfeld[0] {
        return Err(FilmFault::TooLight);
    }
    if ln_s < section.ln_sommerfeld[ROWS - 1] {
        return Err(FilmFault::TooHeavy);
    }
    let range = [section.x[0], section.x[ROWS - 1]];
    let x = where_it_falls_to(ln_s, range, |x| section.between(&section.ln_sommerfeld, x));
    let attitude_rad = section.between(&section.attitude_deg, x).to_radians();
    let flows = [section.between(&section.flow, x), section.between(&section.side_flow, x)];
    Ok(film(bearing, load_n, 1.0 / (1.0 + (-x).exp()), attitude_rad, flows))
}

fn film(bearing: &Bearing, load_n: f64, eccentricity: f64, attitude_rad: f64, flows: [f64; 2]) -> Film {
    let c_over_r = bearing.clearance_m / bearing.diameter_m;
    let s = bearing.unit_load_n() / load_n;
    let shear = 2.0 * PI * PI * s / (1.0 - eccentricity * eccentricity).sqrt();
    let friction = c_over_r * (shear + eccentricity / 2.0 * attitude_rad.sin());
    Film {
        eccentricity,
        min_film_m: bearing.clearance_m / 2.0 * (1.0 - eccentricity),
        attitude_rad,
        friction,
        power_w: friction * load_n * bearing.speed_rad_s * bearing.diameter_m / 2.0,
        flow_m3_s: flows[0] * bearing.unit_flow_m3_s(),
        side_flow_m3_s: flows[1] * bearing.unit_flow_m3_s(),
    }
}

/// Halvings enough to come down to the last digit.
const HALVINGS: u32 = 64;

/// Where a falling function comes down to a value it has within the range.
fn where_it_falls_to(value: f64, [mut low, mut high]: [f64; 2], function: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if function(middle) > value {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The table at one length over diameter.
struct Section {
    /// ln(ε/(1 − ε)) of the rows.
    x: [f64; ROWS],
    ln_sommerfeld: [f64; ROWS],
    attitude_deg: [f64; ROWS],
    flow: [f64; ROWS],
    side_flow: [f64; ROWS],
}

/// A length of just the first or last column, divided out.
const ROUNDING: f64 = 1e-9;
/// Rows that a value between them is taken from.
const NEAREST: usize = 4;

impl Section {
    fn at(l_over_d: f64) -> Result<Self, FilmFault> {
        let [least, most] =
            [LENGTH_OVER_DIAMETER[0] * (1.0 - ROUNDING), LENGTH_OVER_DIAMETER[COLUMNS - 1] * (1.0 + ROUNDING)];
        if !(least..=most).contains(&l_over_d) {
            return Err(FilmFault::Length(l_over_d));
        }
        let part = |l_over_d: f64| l_over_d / (0.5 + l_over_d);
        let nodes = LENGTH_OVER_DIAMETER.map(part);
        let at_length = |row: [f64; COLUMNS]| through(&nodes, &row, part(l_over_d));
        Ok(Self {
            x: ECCENTRICITY.map(stretched),
            ln_sommerfeld: SOMMERFELD.map(|row| at_length(row.map(f64::ln))),
            attitude_deg: ATTITUDE_DEG.map(at_length),
            flow: FLOW.map(at_length),
            side_flow: SIDE_FLOW.map(at_length),
        })
    }

    fn between(&self, values: &[f64; ROWS], x: f64) -> f64 {
        let above = self.x.partition_point(|node| *node < x);
        let first = above.saturating_sub(NEAREST / 2).min(ROWS - NEAREST);
        through(&self.x[first..first + NEAREST], &values[first..first + NEAREST], x)
    }
}

/// ln(ε/(1 − ε)): ln S is all but straight over it at both ends.
fn stretched(eccentricity: f64) -> f64 {
    (eccentricity / (1.0 - eccentricity)).ln()
}

/// Lagrange's polynomial through all of the points, at x.
fn through(nodes: &[f64], values: &[f64], x: f64) -> f64 {
    let term = |(i, value): (usize, &f64)| {
        let others = nodes.iter().enumerate().filter(|(j, _)| *j != i);
        value * others.map(|(_, other)| (x - other) / (nodes[i] - other)).product::<f64>()
    };
    values.iter().enumerate().map(term).sum()
}

const ROWS: usize = 13;
const COLUMNS: usize = 6;

const ECCENTRICITY: [f64; ROWS] = [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99];
const LENGTH_OVER_DIAMETER: [f64; COLUMNS] = [0.125, 0.25, 0.5, 0.75, 1.0, 1.5];

/// S by row (ε) and column (l/d), as the three tables below it: computed by a finite-difference solution of Reynolds'
/// equation, 721 × 161 points over the whole bearing, Reynolds' boundary condition (zero where it would fall below).
///
/// tests/published/reynolds.rs is the solver; tests/published/film.rs computes some rows anew and compares with those of
/// Raimondi and Boyd.
const SOMMERFELD: [[f64; COLUMNS]; ROWS] = [
    [129.73, 33.006, 8.7969, 4.2918, 2.7010, 1.5449],
    [63.754, 16.224, 4.3263, 2.1116, 1.3298, 0.76258],
    [29.723, 7.5785, 2.0319, 0.99749, 0.63181, 0.36656],
    [17.568, 4.4970, 1.2199, 0.60654, 0.38882, 0.23029],
    [11.029, 2.8413, 0.78546, 0.39867, 0.26041, 0.15891],
    [6.8867, 1.7913, 0.50932, 0.26634, 0.17863, 0.11340],
    [4.0839, 1.0780, 0.31930, 0.17407, 0.12095, 0.080715],
    [2.1737, 0.58746, 0.18507, 0.10691, 0.077809, 0.055218],
    [0.93291, 0.26330, 0.091720, 0.057599, 0.044561, 0.034089],
    [0.23482, 0.073658, 0.031242, 0.022370, 0.018821, 0.015817],
    [0.063122, 0.022963, 0.011937, 0.0094787, 0.0084486, 0.0075365],
    [0.012451, 0.0057781, 0.0037872, 0.0032969, 0.0030794, 0.0028785],
    [0.0040484, 0.0022676, 0.0016918, 0.0015389, 0.0014687, 0.0014025],
];

/// φ in degrees.
const ATTITUDE_DEG: [[f64; COLUMNS]; ROWS] = [
    [86.27, 86.01, 85.06, 83.69, 82.19, 79.40],
    [82.65, 82.47, 81.75, 80.67, 79.41, 77.03],
    [75.42, 75.38, 75.13, 74.59, 73.86, 72.30],
    [68.21, 68.29, 68.48, 68.48, 68.26, 67.54],
    [61.00, 61.20, 61.77, 62.28, 62.57, 62.65],
    [53.78, 54.06, 54.99, 55.95, 56.70, 57.53],
    [46.44, 46.82, 48.05, 49.40, 50.53, 51.99],
    [38.86, 39.32, 40.80, 42.44, 43.85, 45.75],
    [30.69, 31.25, 32.93, 34.71, 36.23, 38.29],
    [21.09, 21.79, 23.56, 25.18, 26.47, 28.19],
    [14.83, 15.63, 17.26, 18.51, 19.44, 20.63],
    [9.55, 10.37, 11.59, 12.36, 12.89, 13.54],
    [6.97, 7.70, 8.58, 9.08, 9.40, 9.80],
];

/// Q/(r·c·N·l) at the largest film.
const FLOW: [[f64; COLUMNS]; ROWS] = [
    [3.2979, 3.2955, 3.2865, 3.2738, 3.2593, 3.2312],
    [3.4541, 3.4493, 3.4310, 3.4042, 3.3736, 3.3134],
    [3.7666, 3.7568, 3.7185, 3.6603, 3.5919, 3.4558],
    [4.0792, 4.0643, 4.0044, 3.9100, 3.7966, 3.5692],
    [4.3917, 4.3716, 4.2887, 4.1533, 3.9876, 3.6548],
    [4.7042, 4.6789, 4.5715, 4.3903, 4.1650, 3.7138],
    [5.0167, 4.9861, 4.8528, 4.6209, 4.3287, 3.7481],
    [5.3292, 5.2932, 5.1327, 4.8448, 4.4787, 3.7598],
    [5.6416, 5.6003, 5.4111, 5.0616, 4.6149, 3.7511],
    [5.9541, 5.9073, 5.6880, 5.2709, 4.7374, 3.7249],
    [6.1104, 6.0609, 5.8259, 5.3727, 4.7936, 3.7062],
    [6.2041, 6.1530, 5.9090, 5.4335, 4.8266, 3.6944],
    [6.2354, 6.1837, 5.9390, 5.4556, 4.8395, 3.6926],
];

/// Qₛ/(r·c·N·l) at both ends together.
const SIDE_FLOW: [[f64; COLUMNS]; ROWS] = [
    [0.3129, 0.3092, 0.2955, 0.2760, 0.2539, 0.2104],
    [0.6258, 0.6184, 0.5909, 0.5512, 0.5061, 0.4173],
    [1.2516, 1.2368, 1.1809, 1.0993, 1.0055, 0.8214],
    [1.8774, 1.8552, 1.7706, 1.6448, 1.4988, 1.2127],
    [2.5032, 2.4736, 2.3601, 2.1883, 1.9865, 1.5924],
    [3.1291, 3.0923, 2.9502, 2.7305, 2.4694, 1.9613],
    [3.7549, 3.7112, 3.5413, 3.2722, 2.9481, 2.3204],
    [4.3809, 4.3307, 4.1345, 3.8146, 3.4236, 2.6708],
    [5.0069, 4.9513, 4.7318, 4.3594, 3.8968, 3.0135],
    [5.6334, 5.5748, 5.3369, 4.9093, 4.3694, 3.3499],
    [5.9474, 5.8895, 5.6451, 5.1877, 4.6062, 3.5163],
    [6.1368, 6.0811, 5.8327, 5.3561, 4.7486, 3.6157],
    [6.2008, 6.1463, 5.8939, 5.4112, 4.7951, 3.6483],
];
