//! How stiff what an engine is made of is: what the pressure of a fit stands on.

use crate::mechanics::press_fit::Elastic;
use crate::metrology::Material;

/// Young's modulus and Poisson's ratio of a material near room temperature.
///
/// Source: Callister, Materials Science and Engineering, tables B.2 and B.3, from memory; piston alloys from memory without
/// a source. Grey iron goes by its grade, from 66 to 160 `GPa`: 100 is taken.
pub(super) fn elastic(material: Material) -> Elastic {
    let (gigapascal, poisson) = match material {
        Material::GreyIron => (100.0, 0.26),
        Material::DuctileIron => (169.0, 0.29),
        Material::AlloySteel | Material::CarbonSteel | Material::GaugeSteel => (207.0, 0.30),
        Material::CastAluminium => (72.4, 0.33),
        Material::WroughtAluminium => (71.0, 0.33),
        Material::PistonAlloy2618 => (74.0, 0.33),
        Material::PistonAlloy4032 => (79.0, 0.33),
        Material::Magnesium => (45.0, 0.35),
        Material::BearingBronze => (100.0, 0.34),
        Material::Titanium => (114.0, 0.34),
    };
    Elastic { modulus_pa: gigapascal * 1e9, poisson }
}
