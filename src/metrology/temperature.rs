//! Sizes at 20 °C (ISO 1), and how materials expand.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// Reference temperature of sizes, °C (ISO 1:2022, clause 3).
const REFERENCE: f64 = 20.0;

/// What a part or a gauge is made of, as far as its expansion goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    GreyIron,
    DuctileIron,
    /// Cranks, rods, sleeves: chromium-molybdenum steels.
    AlloySteel,
    /// Backs of bearing shells, caps: plain steels of little carbon.
    CarbonSteel,
    /// Gauges, rings and length standards.
    GaugeSteel,
    /// Blocks and heads, 356 and A356.
    CastAluminium,
    /// Rods, 7075.
    WroughtAluminium,
    /// Forged pistons, 2618: little silicon, grows most.
    PistonAlloy2618,
    /// Forged pistons, 4032: much silicon, grows less.
    PistonAlloy4032,
    /// Cases, AZ91.
    Magnesium,
    /// Bushes, C93200.
    BearingBronze,
    /// Rods and valves, Ti-6Al-4V.
    Titanium,
}

/// Linear expansion of a material near room temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Expansion {
    /// Mean coefficient from 20 to 100 °C, per K.
    pub per_kelvin: f64,
    /// The span within which alloys sold under the name lie, per K.
    pub span: (f64, f64),
    pub source: Cow<'static, str>,
}

impl Material {
    /// Every material, in the order it is offered.
    pub const ALL: [Self; 12] = [
        Self::GreyIron,
        Self::DuctileIron,
        Self::CastAluminium,
        Self::WroughtAluminium,
        Self::PistonAlloy2618,
        Self::PistonAlloy4032,
        Self::AlloySteel,
        Self::CarbonSteel,
        Self::GaugeSteel,
        Self::Magnesium,
        Self::BearingBronze,
        Self::Titanium,
    ];

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        match self {
            Self::GreyIron => "grey_iron",
            Self::DuctileIron => "ductile_iron",
            Self::AlloySteel => "alloy_steel",
            Self::CarbonSteel => "carbon_steel",
            Self::GaugeSteel => "gauge_steel",
            Self::CastAluminium => "cast_aluminium",
            Self::WroughtAluminium => "wrought_aluminium",
            Self::PistonAlloy2618 => "piston_alloy_2618",
            Self::PistonAlloy4032 => "piston_alloy_4032",
            Self::Magnesium => "magnesium",
            Self::BearingBronze => "bearing_bronze",
            Self::Titanium => "titanium",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|material| material.key() == key)
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::GreyIron => "grey iron",
            Self::DuctileIron => "ductile iron",
            Self::AlloySteel => "alloy steel",
            Self::CarbonSteel => "carbon steel",
            Self::GaugeSteel => "gauge steel",
            Self::CastAluminium => "cast aluminium",
            Self::WroughtAluminium => "wrought aluminium",
            Self::PistonAlloy2618 => "piston alloy 2618",
            Self::PistonAlloy4032 => "piston alloy 4032",
            Self::Magnesium => "magnesium",
            Self::BearingBronze => "bearing bronze",
            Self::Titanium => "titanium",
        }
    }

    /// How it expands. Where no span is named beside the source, it is ± 5 % (common practice, no source).
    pub fn expansion(self) -> Expansion {
        const CALLISTER: &str = "Callister, Fundamentals of Materials Science and Engineering, 3rd ed., table B.6";
        const FROM_MEMORY: &str = "from memory, no source; the piston maker's figure comes first";
        let (micro, low, high, source) = match self {
            Self::GreyIron => (11.4, 9.9, 12.0, "Callister, table B.6; span: Gere, Mechanics of Materials"),
            Self::DuctileIron => (10.9, 10.6, 11.2, CALLISTER),
            Self::AlloySteel => (12.3, 11.7, 12.9, CALLISTER),
            Self::CarbonSteel => (11.7, 11.1, 12.3, CALLISTER),
            Self::GaugeSteel => (11.5, 10.5, 12.5, "common practice, no source; as in JCGM 100:2008, H.1"),
            Self::CastAluminium => (21.5, 21.4, 22.5, "data sheet of alloy A356.0 (20–100 and 20–200 °C)"),
            Self::WroughtAluminium => (23.4, 22.2, 24.6, CALLISTER),
            Self::PistonAlloy2618 => (22.3, 22.0, 22.5, FROM_MEMORY),
            Self::PistonAlloy4032 => (19.3, 19.0, 19.5, FROM_MEMORY),
            Self::Magnesium => (26.0, 25.0, 28.0, "Callister, table B.6; span: Gere, Mechanics of Materials"),
            Self::BearingBronze => (18.0, 17.0, 18.5, CALLISTER),
            Self::Titanium => (8.6, 8.2, 9.0, CALLISTER),
        };
        Expansion { per_kelvin: micro * 1e-6, span: (low * 1e-6, high * 1e-6), source: source.into() }
    }
}

/// A length indicated at other temperatures, at 20 °C: `length` (any unit) of a part of coefficient `alpha` at `celsius`, read
/// with a gauge of coefficient `gauge_alpha` at `gauge_celsius` whose scale is right at 20 °C. The gauge's own expansion
/// makes it read small, the part's makes it read large: `L·[1 + α_g(t_g − 20)] / [1 + α(t − 20)]` (ISO 1:2022 with linear
/// expansion, each body of one temperature). Valid near room temperature, where the mean coefficient from 20 °C is meant.
pub fn to_20(length: f64, alpha: f64, celsius: f64, gauge_alpha: f64, gauge_celsius: f64) -> f64 {
    length * (1.0 + gauge_alpha * (gauge_celsius - REFERENCE)) / (1.0 + alpha * (celsius - REFERENCE))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_coefficient_lies_in_its_span() {
        for material in Material::ALL {
            let Expansion { per_kelvin, span: (low, high), .. } = material.expansion();
            assert!(low <= per_kelvin && per_kelvin <= high, "{}", material.word());
        }
    }

    #[test]
    fn part_and_gauge_alike_need_no_correction() {
        assert!((to_20(0.1, 11.5e-6, 31.0, 11.5e-6, 31.0) - 0.1).abs() < 1e-15);
    }
}
