//! Sizes at 20 °C: ISO 1:2022, clause 3, and linear expansion with the coefficients of Callister, Fundamentals of Materials
//! Science and Engineering, table B.6, and of an A356.0 data sheet. Results worked independently in numpy.

use witnessmark::metrology::{Material, to_20};

use crate::assert_close;

const GAUGE_STEEL: f64 = 11.5e-6;

/// 104.775 mm indicated in an aluminium block at 28 °C by a steel gauge at 28 °C: 104.76662 mm at 20 °C, 8.4 µm less.
#[test]
fn an_aluminium_bore_read_warm() {
    let at_20 = to_20(104.775, 21.5e-6, 28.0, GAUGE_STEEL, 28.0);
    assert_close(at_20, 104.766_62, 5e-6);
    assert_close((104.775 - at_20) * 1e3, 8.380_558_5, 1e-6);
}

/// The same in grey iron, which expands nearly as the gauge does.
#[test]
fn an_iron_bore_read_warm() {
    let at_20 = to_20(104.775, 11.4e-6, 28.0, GAUGE_STEEL, 28.0);
    assert_close(at_20, 104.775_08, 5e-6);
    assert_close((104.775 - at_20) * 1e3, -0.083_812_356, 1e-6);
}

/// At the reference temperature a size is as read, whatever it is made of.
#[test]
fn at_20_degrees() {
    assert_close(to_20(104.775, 26e-6, 20.0, GAUGE_STEEL, 20.0), 104.775, 0.0);
}

/// 20 to 100 °C, 10⁻⁶ per K, as read in the sources named at the top; ductile iron is given there as 10.6 to 11.2.
#[test]
fn coefficients_as_published() {
    for (material, published) in [
        (Material::GreyIron, 11.4),
        (Material::AlloySteel, 12.3),
        (Material::CarbonSteel, 11.7),
        (Material::CastAluminium, 21.5),
        (Material::WroughtAluminium, 23.4),
        (Material::Magnesium, 26.0),
        (Material::BearingBronze, 18.0),
        (Material::Titanium, 8.6),
    ] {
        assert_close(material.expansion().per_kelvin * 1e6, published, 1e-9);
    }
    let ductile = Material::DuctileIron.expansion();
    assert_close(ductile.span.0 * 1e6, 10.6, 1e-9);
    assert_close(ductile.span.1 * 1e6, 11.2, 1e-9);
}
