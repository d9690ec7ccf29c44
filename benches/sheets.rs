//! What each sheet costs to work out on the largest engine: sixteen cylinders, every slot read, every target known, a
//! limit on each finding. The sheets it asks are worked out before, so that each figure is of that sheet alone.
//! And the choice of shells for five mains from thirty halves.
//!
//! `cargo bench --bench sheets` prints the figures; those of a reference run stand in DEVELOPERS.md.

use criterion::{Criterion, criterion_group, criterion_main};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::hint::black_box;
use witnessmark::engine::{
    Architecture, Layout, Limit, LimitKind, Materials, Measure, Setup, SheetKey, SlotFeature, TargetFeature, TargetKey,
    WorkingUnit,
};
use witnessmark::metrology::{Material, Rule};
use witnessmark::sheets::{Book, Slot, Take, TakeValue, sheet};

fn engine(layout: Layout, cylinders: u8, mains: u8) -> Setup {
    let architecture = Architecture::new(layout, cylinders, mains, vec![], vec![]).expect("an engine");
    let (steel, aluminium) = (Some(Material::AlloySteel), Some(Material::CastAluminium));
    let materials = Materials {
        block: aluminium,
        head: aluminium,
        crank: steel,
        pistons: aluminium,
        caps: steel,
        rods: steel,
        sleeves: Some(Material::DuctileIron),
        bushes: Some(Material::BearingBronze),
    };
    let unit = WorkingUnit::Millimetre;
    let targets =
        TargetFeature::all().map(|feature| (TargetKey { feature, place: feature.whole() }, aimed_at(feature)));
    Setup { architecture, unit, materials, expansions: BTreeMap::new(), targets: targets.collect() }
}

/// A figure in SI that the target can have.
fn aimed_at(feature: TargetFeature) -> f64 {
    use TargetFeature as T;
    match feature {
        T::Bore | T::GasketBore => 0.104,
        T::Skirt | T::LandDiameter => 0.1039,
        T::Stroke => 0.092,
        T::RodLength => 0.155,
        T::CompressionHeight => 0.0305,
        T::DeckHeight => 0.232,
        T::MainJournal => 0.0698,
        T::MainHousing => 0.0747,
        T::RodJournal => 0.0533,
        T::RodHousing => 0.0566,
        T::MainShellWall => 0.002_42,
        T::RodShellWall => 0.001_62,
        T::LandHeight => 0.006,
        T::HighestSpeed => 750.0,
        T::LowestStart => 253.15,
        T::CompressionRatio => 11.0,
        _ => match feature.measure() {
            Measure::SIZE => 0.023,
            Measure::SMALL | Measure::VOLUME => 60e-6,
            Measure::MASS => 0.004,
            Measure::WARMER => 70.0,
            Measure::TEMPERATURE => 373.15,
            _ => 0.5,
        },
    }
}

/// What is read in a slot, in SI; the nth a little off the others.
fn read(slot: &Slot, nth: usize) -> f64 {
    let off = (nth % 7) as f64 * 1e-6;
    let (low, high) = slot.possible;
    let feature = format!("{:?}", slot.key.feature);
    let about = match slot.target {
        Some(target) => target,
        None if feature.starts_with("MainShellBore") => 0.069_86,
        None if feature.starts_with("RodShellBore") => 0.053_36,
        None => match slot.measure() {
            Measure::SMALL | Measure::VOLUME => 60e-6,
            Measure::SIZE => 0.0698,
            Measure::MASS => 0.45,
            Measure::TURNING => 1.5,
            _ => f64::midpoint(low, high),
        },
    };
    (about + off).clamp(low, high)
}

/// Every slot read once, but for those that speak for a place as a whole.
fn book(setup: &Setup) -> Book {
    let features = SheetKey::ALL.into_iter().flat_map(|key| sheet(key).finds.to_vec());
    let limit = |feature| Limit {
        feature,
        place: None,
        kind: LimitKind::Absolute,
        min: Some(0.0),
        max: Some(1.0),
        condition: String::new(),
        source: "the measurement".into(),
    };
    let mut book = Book::new(setup.clone(), features.map(limit).collect(), Rule::Guarded);
    for key in SheetKey::ALL {
        let slots = (sheet(key).slots)(setup);
        let take = |(nth, slot): (usize, &Slot)| {
            let value = TakeValue::Figure(read(slot, nth));
            let id = format!("{key:?} {nth}");
            Take { id, value, resolution: 1e-6, gauge: None, setting: None, temperature: None, past_due: false }
        };
        let takes = slots.iter().enumerate().map(|(nth, slot)| {
            let stated = slot.key.feature.is_stated() || slot.key.feature == SlotFeature::MainPlasticStrip;
            (slot, if stated { vec![] } else { vec![take((nth, slot))] })
        });
        book.enter_round("final", takes.collect()).expect("finite figures");
    }
    book
}

fn costs(criterion: &mut Criterion) {
    let sixteen = book(&engine(Layout::Vee, 16, 9));
    let findings: usize = SheetKey::ALL.into_iter().map(|key| sixteen.findings(key).len()).sum();
    println!("sixteen cylinders have {findings} findings");
    for key in SheetKey::ALL {
        let name = format!("{} of sixteen", sheet(key).title);
        criterion.bench_function(&name, |b| b.iter(|| black_box((sheet(key).work_out)(&sixteen).len())));
    }

    let eight = book(&engine(Layout::Vee, 8, 5));
    let shelf = (0..30).fold(String::new(), |mut shelf, nth| {
        let _ = writeln!(shelf, "h{nth}: {:.4}", 2.420 + f64::from(nth * 7 % 30) * 0.000_5);
        shelf
    });
    let shells = sheet(SheetKey::MainBearings).options.as_ref().expect("shells to choose");
    println!("{:?}", (shells.work_out)(&eight, &shelf).map(|found| found[0].said.clone()));
    criterion.bench_function("five mains from thirty halves", |b| {
        b.iter(|| black_box((shells.work_out)(&eight, &shelf).expect("a choice").len()));
    });
}

criterion_group! {
    name = sheets;
    config = Criterion::default().sample_size(20);
    targets = costs
}
criterion_main!(sheets);
