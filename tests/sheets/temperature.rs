//! Warm readings are brought to 20 °C where the block's material is known, with what that leaves open; others are not touched.

use witnessmark::metrology::{Material, Source};
use witnessmark::sheets::ReadAt;

use crate::bench::{Bench, close};

const SIZE: &str = "bore-size@cylinder.0.0";

fn parts_at(part: f64) -> ReadAt {
    ReadAt { part, gauge: None }
}

fn warm(material: Option<Material>, celsius: Option<f64>) -> Bench {
    let mut bench = Bench::millimetre();
    bench.setup.materials.block = material;
    bench.read_with("bore-top-thrust@cylinder.0.0", "104.775", |take| take.temperature = celsius.map(parts_at))
}

/// 104.775 mm read at 28 °C with a steel gauge as warm: aluminium 104.766 62 mm, grey iron 104.775 08 mm (ISO 1:2022 with
/// the coefficients of Callister, table B.6, and of the A356.0 data sheet; worked independently in numpy).
#[test]
fn a_warm_block_is_brought_to_20_degrees() {
    close(warm(Some(Material::CastAluminium), Some(28.0)).value(SIZE), 104.766_62e-3, 5e-9);
    close(warm(Some(Material::GreyIron), Some(28.0)).value(SIZE), 104.775_08e-3, 5e-9);
}

#[test]
fn nothing_is_corrected_without_a_material_or_a_temperature() {
    close(warm(None, Some(28.0)).value(SIZE), 104.775e-3, 1e-15);
    close(warm(Some(Material::CastAluminium), None).value(SIZE), 104.775e-3, 1e-15);
}

/// In µm on 104.775 mm, 8 K above: expansion anywhere in 21.4 to 22.5·10⁻⁶ (u 0.2661), the gauge's in 10.5 to 12.5·10⁻⁶
/// (u 0.4839), temperature to 1 K either way on a difference of 10·10⁻⁶ (u 0.6049). By the derivatives of the formula.
#[test]
fn a_correction_leaves_something_open() {
    let bench = warm(Some(Material::CastAluminium), Some(28.0));
    let size = bench.finding(SIZE).value.expect("a value");
    let part = |source: Source| size.parts().get(&source).copied().unwrap_or_default().abs() * 1e6;
    close(part(Source::Material("cast_aluminium".into())), 0.2661, 0.001);
    close(part(Source::Material("gauge_steel".into())), 0.4839, 0.001);
    close(part(Source::Temperature("final/parts".into())), 0.6049, 0.001);
    let cold = warm(Some(Material::CastAluminium), None);
    assert!(bench.u(SIZE) > cold.u(SIZE));
}

/// At 20 °C a temperature corrects nothing, and leaves open only how well it is known.
#[test]
fn at_20_degrees() {
    close(warm(Some(Material::Magnesium), Some(20.0)).value(SIZE), 104.775e-3, 1e-15);
}

/// What temperature leaves open is shared by all bores, and so is no spread between them.
#[test]
fn a_temperature_shared_cancels_in_the_shape() {
    let mut bench = warm(Some(Material::CastAluminium), Some(28.0));
    bench = bench.read_with("bore-top-pin@cylinder.0.0", "104.765", |take| take.temperature = Some(parts_at(28.0)));
    let round = bench.finding("bore-out-of-round@cylinder.0.0").value.expect("a value");
    let shared = round.parts().iter().filter(|(source, _)| !matches!(source, Source::Reading(_)));
    assert!(shared.map(|(_, part)| part.abs()).sum::<f64>() < 1e-9, "{:?}", round.parts());
}

/// A clearance read directly, a journal and a skirt are not of the block: they stay as read.
#[test]
fn only_the_block_is_corrected() {
    let mut bench = Bench::millimetre();
    bench.setup.materials.block = Some(Material::CastAluminium);
    let warm = |bench: Bench, key, typed| bench.read_with(key, typed, |take| take.temperature = Some(parts_at(35.0)));
    let bench = warm(bench, "main-clearance-vertical@main.0", "64 µm");
    let bench = warm(bench, "skirt@cylinder.0.0", "111.060");
    let bench = warm(bench, "main-shell-bore-vertical@main.1", "60.114");
    let bench = warm(bench, "main-journal-front-0@main.1", "60.070");
    close(bench.value("main-clearance-vertical@main.0"), 64e-6, 1e-15);
    close(bench.value("skirt-diameter@cylinder.0.0"), 111.060e-3, 1e-15);
    // 60.114 mm · (1 + 11.5·15·10⁻⁶)/(1 + 21.5·15·10⁻⁶) = 60.104 986 mm.
    close(bench.value("main-clearance-vertical@main.1"), 34.986e-6, 2e-9);
}

/// An aluminium skirt grows too: a clearance of a corrected bore and a skirt as read says so.
#[test]
fn a_clearance_of_a_corrected_bore_asks_for_the_skirts_temperature() {
    let bench = warm(Some(Material::CastAluminium), Some(28.0)).read("skirt@cylinder.0.0", "104.700");
    let said = bench.finding(SIZE);
    assert_eq!(said.remarks, ["brought to 20 °C; as read 104.775\u{a0}mm"]);
    close(said.as_read.expect("as read"), 104.775e-3, 1e-15);
    let asked = bench.finding("piston-clearance@cylinder.0.0").remarks;
    assert_eq!(asked[0], "the bore at 20 °C, the skirt as read: was it at 20 °C too?");
    assert_eq!(asked[1], "brought to 20 °C; as read 75\u{a0}µm");
    let cold = warm(Some(Material::CastAluminium), None).read("skirt@cylinder.0.0", "104.700");
    assert!(cold.finding("piston-clearance@cylinder.0.0").remarks.is_empty());
}

/// A gauge brought from a warmer room reads small: 104.775 mm · (1 + 11.5·10⁻⁶·10) / (1 + 11.4·10⁻⁶·2) = 104.784 660 mm, and
/// its temperature leaves something open by itself.
#[test]
fn a_gauge_of_another_temperature() {
    let mut bench = Bench::millimetre();
    bench.setup.materials.block = Some(Material::GreyIron);
    let at = ReadAt { part: 22.0, gauge: Some(30.0) };
    let bench = bench.read_with("bore-top-thrust@cylinder.0.0", "104.775", |take| take.temperature = Some(at));
    close(bench.value(SIZE), 104.784_660e-3, 1e-9);
    let size = bench.finding(SIZE).value.expect("a value");
    let gauge = size.parts()[&Source::Temperature("final/gauge".into())];
    close(gauge.abs() * 1e6, 104.775e3 * 11.5e-6 * 0.577, 1e-3);
}

/// A skirt of a known alloy is brought to 20 °C too: 104.700 mm at 28 °C of 22.3·10⁻⁶ grows 9.05 µm by the difference to steel.
#[test]
fn a_piston_of_known_alloy_is_brought_to_20_degrees() {
    let mut bench = warm(Some(Material::CastAluminium), Some(28.0));
    bench.setup.materials.pistons = Some(Material::PistonAlloy2618);
    let bench = bench.read_with("skirt@cylinder.0.0", "104.700", |take| take.temperature = Some(parts_at(28.0)));
    let skirt = 104.700e-3 * (1.0 + 11.5e-6 * 8.0) / (1.0 + 22.3e-6 * 8.0);
    close(bench.value("skirt-diameter@cylinder.0.0"), skirt, 1e-12);
    let clearance = bench.finding("piston-clearance@cylinder.0.0");
    assert!(!clearance.remarks.iter().any(|remark| remark.contains("the skirt as read")), "{:?}", clearance.remarks);
}
