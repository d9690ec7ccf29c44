//! Viscosity of oil: over temperature, from kinematic to dynamic, and what an SAE J300 grade promises.
//!
//! All of it at low shear. A multigrade's thickener gives way in a bearing: J300's figure at high shear and 150 °C says by
//! how much at least it holds.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// To kelvin. With 273 in its place the constants of D341 differ, the viscosities between the points hardly.
const KELVIN: f64 = 273.15;
const MM2_PER_M2: f64 = 1e6;

/// Where ASTM D341 holds, in mm²/s: its further terms for thinner oils are left out.
const THINNEST_MM2_S: f64 = 2.0;
const THICKEST_MM2_S: f64 = 2e7;
/// Temperatures the charts of D341 cover (from memory), in °C.
const COLDEST_C: f64 = -70.0;
const HOTTEST_C: f64 = 370.0;
/// Two measurements closer than this fix no line.
const CLOSEST_K: f64 = 1.0;

/// Why a viscosity cannot be worked out.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum OilFault {
    #[error("{0} °C is outside what the equation covers")]
    Temperature(f64),
    #[error("a viscosity is outside what the equation covers: above 2 and at most 20 million mm²/s")]
    Viscosity,
    #[error("the measurements are less than 1 K apart: they fix no curve")]
    TooClose,
    #[error("oil gets thinner when warmer: the measurements say otherwise")]
    NotThinner,
    #[error("the three measurements do not bend as oil does: one of them is off")]
    NotBent,
}

/// One measurement of kinematic viscosity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kinematic {
    pub temperature_c: f64,
    pub viscosity_m2_s: f64,
}

/// Viscosity over temperature by ASTM D341: log₁₀ log₁₀(ν + 0.7) = A − B·log₁₀ T, ν in mm²/s and T in K.
///
/// Valid for ν above 2 mm²/s from −70 to 370 °C (from memory), for oils without much thickener; best between its two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walther {
    pub a: f64,
    pub b: f64,
}

impl Walther {
    /// The line through two measurements, in either order; usually those at 40 and 100 °C.
    pub fn through(one: Kinematic, other: Kinematic) -> Result<Self, OilFault> {
        let (x, y) = (log_kelvin(one.temperature_c)?, log_log(one.viscosity_m2_s)?);
        let (other_x, other_y) = (log_kelvin(other.temperature_c)?, log_log(other.viscosity_m2_s)?);
        if (one.temperature_c - other.temperature_c).abs() < CLOSEST_K {
            return Err(OilFault::TooClose);
        }
        let b = (y - other_y) / (other_x - x);
        if b <= 0.0 {
            return Err(OilFault::NotThinner);
        }
        Ok(Self { a: y + b * x, b })
    }

    /// Kinematic viscosity in m²/s.
    pub fn viscosity_m2_s(&self, temperature_c: f64) -> Result<f64, OilFault> {
        let log_log = self.a - self.b * log_kelvin(temperature_c)?;
        let mm2_s = 10_f64.powf(10_f64.powf(log_log)) - 0.7;
        if within(mm2_s) { Ok(mm2_s / MM2_PER_M2) } else { Err(OilFault::Viscosity) }
    }
}

fn within(mm2_s: f64) -> bool {
    mm2_s > THINNEST_MM2_S && mm2_s <= THICKEST_MM2_S
}

fn check_temperature(celsius: f64) -> Result<(), OilFault> {
    if (COLDEST_C..=HOTTEST_C).contains(&celsius) { Ok(()) } else { Err(OilFault::Temperature(celsius)) }
}

fn log_kelvin(celsius: f64) -> Result<f64, OilFault> {
    check_temperature(celsius)?;
    Ok((celsius + KELVIN).log10())
}

fn log_log(viscosity_m2_s: f64) -> Result<f64, OilFault> {
    let mm2_s = viscosity_m2_s * MM2_PER_M2;
    if within(mm2_s) { Ok((mm2_s + 0.7).log10().log10()) } else { Err(OilFault::Viscosity) }
}

/// Viscosity over temperature by Vogel's equation, ν = a·exp(b/(t − c)), t and c in °C; through three measurements it
/// follows an oil somewhat closer between them than D341 does through two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vogel {
    /// What the oil would tend to when very hot.
    pub a_m2_s: f64,
    pub b_k: f64,
    /// Where it would be solid; well below the coldest measurement.
    pub c_c: f64,
}

impl Vogel {
    /// The curve through three measurements, in any order.
    ///
    /// With k = ln(ν₁/ν₂)/ln(ν₂/ν₃)·(t₃ − t₂)/(t₂ − t₁), c = (k·t₁ − t₃)/(k − 1): oil bends so that k is above 1.
    pub fn through(mut measured: [Kinematic; 3]) -> Result<Self, OilFault> {
        for one in measured {
            check_temperature(one.temperature_c)?;
            if !within(one.viscosity_m2_s * MM2_PER_M2) {
                return Err(OilFault::Viscosity);
            }
        }
        measured.sort_by(|one, other| one.temperature_c.total_cmp(&other.temperature_c));
        let [t1, t2, t3] = measured.map(|one| one.temperature_c);
        let [v1, v2, v3] = measured.map(|one| one.viscosity_m2_s);
        if t2 - t1 < CLOSEST_K || t3 - t2 < CLOSEST_K {
            return Err(OilFault::TooClose);
        }
        if v1 <= v2 || v2 <= v3 {
            return Err(OilFault::NotThinner);
        }
        let k = (v1 / v2).ln() / (v2 / v3).ln() * (t3 - t2) / (t2 - t1);
        if k <= 1.0 {
            return Err(OilFault::NotBent);
        }
        let c = (k * t1 - t3) / (k - 1.0);
        let b = (v1 / v2).ln() * (t1 - c) * (t2 - c) / (t2 - t1);
        let a = v1 * (-b / (t1 - c)).exp();
        // Colder than can be, or steeper than any oil: measurements that only just bend, or bend at once.
        if c < -KELVIN || c >= t1 || a < f64::MIN_POSITIVE {
            return Err(OilFault::NotBent);
        }
        Ok(Self { a_m2_s: a, b_k: b, c_c: c })
    }

    /// Kinematic viscosity in m²/s, between −70 and 370 °C and above the temperature c.
    pub fn viscosity_m2_s(&self, temperature_c: f64) -> Result<f64, OilFault> {
        check_temperature(temperature_c)?;
        if temperature_c <= self.c_c {
            return Err(OilFault::Temperature(temperature_c));
        }
        let viscosity_m2_s = self.a_m2_s * (self.b_k / (temperature_c - self.c_c)).exp();
        if within(viscosity_m2_s * MM2_PER_M2) { Ok(viscosity_m2_s) } else { Err(OilFault::Viscosity) }
    }
}

/// Density in kg/m³ from that at 15 °C: ρ = ρ₁₅·(1 − 0.00065·(t − 15)).
///
/// Common practice for mineral engine oil, no source; good to about one per cent from −40 to 200 °C.
pub fn density_kg_m3(at_15_kg_m3: f64, temperature_c: f64) -> f64 {
    at_15_kg_m3 * (1.0 - 0.00065 * (temperature_c - 15.0))
}

/// Dynamic viscosity in Pa·s: µ = ν·ρ (definition).
pub fn dynamic_pa_s(viscosity_m2_s: f64, density_kg_m3: f64) -> f64 {
    viscosity_m2_s * density_kg_m3
}

/// The cold half of a grade: SAE 0W to 25W.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Winter {
    W0,
    W5,
    W10,
    W15,
    W20,
    W25,
}

/// The hot half of a grade: SAE 8 to 60.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Summer {
    S8,
    S12,
    S16,
    S20,
    S30,
    S40,
    S50,
    S60,
}

/// The thickest an oil may be when cranking, at the temperature of its grade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cranking {
    pub max_pa_s: f64,
    pub temperature_c: f64,
}

/// Kinematic viscosity at 100 °C within a grade: from the first up to, and without, the second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At100 {
    pub min_m2_s: f64,
    pub below_m2_s: f64,
}

impl At100 {
    /// The middle of the grade in m²/s, where nothing is known but the grade. Common practice, no source.
    pub fn middle_m2_s(&self) -> f64 {
        f64::midpoint(self.min_m2_s, self.below_m2_s)
    }
}

impl Winter {
    /// As the can has it, with the limit: mPa·s and °C.
    const TABLE: [(Self, &'static str, f64, f64); 6] = [
        (Self::W0, "0W", 6200.0, -35.0),
        (Self::W5, "5W", 6600.0, -30.0),
        (Self::W10, "10W", 7000.0, -25.0),
        (Self::W15, "15W", 7000.0, -20.0),
        (Self::W20, "20W", 9500.0, -15.0),
        (Self::W25, "25W", 13000.0, -10.0),
    ];

    /// SAE J300 (Jan 2015), cranking viscosity.
    pub fn cranking(self) -> Cranking {
        let (_, _, max_mpa_s, temperature_c) = Self::TABLE[self as usize];
        Cranking { max_pa_s: max_mpa_s / 1000.0, temperature_c }
    }
}

impl Summer {
    /// As the can has it, with the range at 100 °C in mm²/s and the least at high shear and 150 °C in mPa·s.
    const TABLE: [(Self, &'static str, f64, f64, f64); 8] = [
        (Self::S8, "8", 4.0, 6.1, 1.7),
        (Self::S12, "12", 5.0, 7.1, 2.0),
        (Self::S16, "16", 6.1, 8.2, 2.3),
        (Self::S20, "20", 6.9, 9.3, 2.6),
        (Self::S30, "30", 9.3, 12.5, 2.9),
        (Self::S40, "40", 12.5, 16.3, 3.7),
        (Self::S50, "50", 16.3, 21.9, 3.7),
        (Self::S60, "60", 21.9, 26.1, 3.7),
    ];

    /// The grades that an oil of this viscosity at 100 °C can be of, in m²/s: those below 20 overlap.
    pub fn of(at_100_m2_s: f64) -> impl Iterator<Item = Self> {
        let within = move |at_100: At100| (at_100.min_m2_s..at_100.below_m2_s).contains(&at_100_m2_s);
        Self::TABLE.iter().map(|row| row.0).filter(move |grade| within(grade.at_100()))
    }

    /// SAE J300 (Jan 2015), low shear at 100 °C.
    pub fn at_100(self) -> At100 {
        let (_, _, min, below, _) = Self::TABLE[self as usize];
        At100 { min_m2_s: min / MM2_PER_M2, below_m2_s: below / MM2_PER_M2 }
    }
}

/// A viscosity grade of SAE J300, as on the can: "SAE 30", "10W" or "10W-40".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    Mono(Summer),
    Cold(Winter),
    Multi(Winter, Summer),
}

impl Grade {
    pub fn winter(self) -> Option<Winter> {
        match self {
            Self::Mono(_) => None,
            Self::Cold(winter) | Self::Multi(winter, _) => Some(winter),
        }
    }

    pub fn summer(self) -> Option<Summer> {
        match self {
            Self::Cold(_) => None,
            Self::Mono(summer) | Self::Multi(_, summer) => Some(summer),
        }
    }

    /// The least dynamic viscosity at high shear (10⁶ 1/s) and 150 °C, in Pa·s, by SAE J300 (Jan 2015).
    ///
    /// A 40 with 0W, 5W or 10W may be thinner than other 40s. None for a grade with a cold half only.
    pub fn min_high_shear_pa_s(self) -> Option<f64> {
        let light_40 = matches!(self, Self::Multi(Winter::W0 | Winter::W5 | Winter::W10, Summer::S40));
        let least = |summer| if light_40 { 3.5 } else { Summer::TABLE[summer as usize].4 };
        self.summer().map(|summer| least(summer) / 1000.0)
    }
}

/// A text is no grade of SAE J300.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("“{0}” is no SAE engine oil grade: write one as 10W-40, SAE 30 or 10W")]
pub struct NoGrade(pub String);

impl FromStr for Grade {
    type Err = NoGrade;

    /// Reads "10W-40", "10w40", "SAE 30", "20W"; spaces and a dash for the hyphen do not matter.
    fn from_str(text: &str) -> Result<Self, NoGrade> {
        let plain = text.replace(char::is_whitespace, "").to_uppercase();
        let plain = plain.strip_prefix("SAE").unwrap_or(&plain);
        let grade = match plain.split_once('W') {
            None => summer(plain).map(Self::Mono),
            Some((_, "")) => winter(plain).map(Self::Cold),
            Some((cold, hot)) => {
                let hot = hot.strip_prefix(['-', '–']).unwrap_or(hot);
                winter(&format!("{cold}W")).zip(summer(hot)).map(|(winter, summer)| Self::Multi(winter, summer))
            }
        };
        grade.ok_or_else(|| NoGrade(text.trim().to_owned()))
    }
}

fn winter(name: &str) -> Option<Winter> {
    Winter::TABLE.iter().find(|row| row.1 == name).map(|row| row.0)
}

fn summer(name: &str) -> Option<Summer> {
    Summer::TABLE.iter().find(|row| row.1 == name).map(|row| row.0)
}

impl fmt::Display for Summer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "SAE {}", Self::TABLE[*self as usize].1)
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let winter = |winter: &Winter| Winter::TABLE[*winter as usize].1;
        let summer = |summer: &Summer| Summer::TABLE[*summer as usize].1;
        match self {
            Self::Mono(hot) => hot.fmt(f),
            Self::Cold(cold) => write!(f, "SAE {}", winter(cold)),
            Self::Multi(cold, hot) => write!(f, "{}-{}", winter(cold), summer(hot)),
        }
    }
}
