//! Cylinder bores: size, out-of-round, taper, and with the piston's skirt the clearance thrust way.

use super::{Basis, Book, Depth, Finding, Sheet, Slot, Taken};
use crate::engine::{
    FindingFeature, FindingKey, Height, ItemKind, ItemRef, Place, Setup, SheetKey, SlotFeature, SlotKey, TargetFeature,
    Way,
};
use crate::mechanics::bore;
use crate::metrology::{self, GaugeKind, Measured, propagate, range_within_noise};
use crate::quantity::Dimension;

const EDITION: u32 = 1;
pub const HEIGHTS: [(Height, &str); 3] = [(Height::Top, "top"), (Height::Middle, "middle"), (Height::Bottom, "bottom")];
const LABELS: [(Height, Way, &str); 6] = [
    (Height::Top, Way::Thrust, "top, thrust way"),
    (Height::Top, Way::Pin, "top, pin way"),
    (Height::Middle, Way::Thrust, "middle, thrust way"),
    (Height::Middle, Way::Pin, "middle, pin way"),
    (Height::Bottom, Way::Thrust, "bottom, thrust way"),
    (Height::Bottom, Way::Pin, "bottom, pin way"),
];

pub const SHEET: Sheet = Sheet {
    key: SheetKey::CylinderBores,
    edition: EDITION,
    title: "Cylinder bores",
    purpose: "Top, middle and bottom of ring travel, across the crank (thrust way) and along it (pin way).",
    caution: "Plate on and fasteners pulled down where the block is honed so. Two-point gauges do not see three lobes.",
    reads: &[SheetKey::Pistons],
    finds: &[
        FindingFeature::BoreSize,
        FindingFeature::BoreOutOfRound,
        FindingFeature::BoreTaper,
        FindingFeature::BoreSpread,
        FindingFeature::PistonClearance,
    ],
    slots,
    work_out,
};

fn slots(setup: &Setup) -> Vec<Slot> {
    let slot = |feature: SlotFeature, place: Place, depth, label, group| Slot {
        target: setup.target(TargetFeature::Bore, place),
        key: SlotKey::new(feature, place),
        label,
        group,
        depth,
        gauge: GaugeKind::BoreGauge,
        item: ItemRef::single(ItemKind::Block),
        small: false,
        possible: (0.01, 1.0),
        material: setup.block_material,
        set_at_each_place: false,
    };
    let mut slots = vec![slot(SlotFeature::BoreStated, Place::AllCylinders, Depth::Stated, "all bores", "stated")];
    for place in setup.architecture.cylinders_in_order() {
        slots.push(slot(SlotFeature::BoreStated, place, Depth::Stated, "one figure", "stated"));
        slots.extend(
            LABELS.map(|(height, way, label)| {
                slot(SlotFeature::Bore(height, way), place, Depth::Each, label, "bore gauge")
            }),
        );
    }
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        book.setup.architecture.cylinders_in_order().into_iter().flat_map(|place| one_bore(book, place)).collect();
    findings.extend(spread(book, &findings));
    for finding in &mut findings {
        let limit = book.limit(&finding.key.feature, finding.key.place);
        finding.judge_by(limit, None, book.rule);
    }
    findings
}

/// The readings of one cylinder, by height and way.
struct Readings<'a> {
    all: Vec<(Height, Way, Measured, &'a Taken)>,
}

impl<'a> Readings<'a> {
    fn of(book: &'a Book, place: Place) -> Self {
        let read = |(height, way, _)| {
            let (value, taken) = book.figure(SlotFeature::Bore(height, way), place)?;
            Some((height, way, value, taken))
        };
        Self { all: LABELS.into_iter().filter_map(read).collect() }
    }

    fn at(&self, height: Height, way: Way) -> Option<&Measured> {
        self.all.iter().find(|(h, w, ..)| (*h, *w) == (height, way)).map(|(_, _, value, _)| value)
    }

    fn values(&self) -> Vec<&Measured> {
        self.all.iter().map(|(_, _, value, _)| value).collect()
    }

    fn way(&self, way: Way) -> Vec<&Measured> {
        self.all.iter().filter(|(_, w, ..)| *w == way).map(|(_, _, value, _)| value).collect()
    }

    fn ids(&self) -> Vec<String> {
        self.all.iter().flat_map(|(.., taken)| taken.readings.iter().cloned()).collect()
    }
}

fn begin(feature: FindingFeature, place: Place, small: bool, basis: Basis) -> Finding {
    Finding::new(FindingKey::new(feature, place), Dimension::Length, small, basis)
}

fn one_bore(book: &Book, place: Place) -> Vec<Finding> {
    let readings = Readings::of(book, place);
    let size = size(book, place, &readings);
    let clearance = piston_clearance(book, place, &readings, &size);
    let shape = [out_of_round(book, place, &readings), taper(book, place, &readings)];
    std::iter::once(size).chain(shape.into_iter().flatten()).chain([clearance]).collect()
}

/// The mean of what was read, with least and greatest beside it: it is judged by the worse of them.
fn size(book: &Book, place: Place, readings: &Readings) -> Finding {
    let words = book.words();
    let target = book.setup.target(TargetFeature::Bore, place);
    let values = readings.values();
    let mut finding = if let Ok(mean) = metrology::mean(&values) {
        let mut finding = begin(FindingFeature::BoreSize, place, false, Basis::Readings);
        let list: Vec<f64> = values.iter().map(|v| v.value()).collect();
        let least = list.iter().copied().fold(f64::INFINITY, f64::min);
        let greatest = list.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        finding.working.push(format!(
            "mean of {} readings, {} to {}: {}",
            list.len(),
            words.size_number(least),
            words.size_number(greatest),
            words.size(mean.value())
        ));
        finding.range = Some((least, greatest));
        finding.value = Some(mean);
        finding.readings = readings.ids();
        finding
    } else if let Some(taken) = book.stated(&SlotFeature::BoreStated, place) {
        let basis = taken.checked().map_or(Basis::Stated, |how| Basis::Checked { how: how.to_owned() });
        let mut finding = begin(FindingFeature::BoreSize, place, false, basis);
        finding.range = taken.range();
        finding.value = taken.figure();
        finding.readings.clone_from(&taken.readings);
        finding.working.extend(finding.value.as_ref().map(|v| format!("stated {}", words.size(v.value()))));
        finding
    } else {
        let missing = format!("bore of {}", book.setup.architecture.label(place));
        let basis = if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } };
        begin(FindingFeature::BoreSize, place, false, basis)
    };
    finding.target = target;
    finding
}

fn out_of_round(book: &Book, place: Place, readings: &Readings) -> Option<Finding> {
    let words = book.words();
    let (height, thrust, pin, value) = HEIGHTS
        .into_iter()
        .filter_map(|(height, word)| {
            let (thrust, pin) = (readings.at(height, Way::Thrust)?, readings.at(height, Way::Pin)?);
            let value = propagate(&[thrust, pin], |x| bore::out_of_round_m(x[0], x[1])).ok()?;
            Some((word, thrust, pin, value))
        })
        .max_by(|a, b| a.3.value().total_cmp(&b.3.value()))?;
    let mut finding = begin(FindingFeature::BoreOutOfRound, place, true, Basis::Readings);
    finding.working.push(format!(
        "largest at the {height}: |{} − {}| = {}",
        words.size_number(thrust.value()),
        words.size_number(pin.value()),
        words.small(value.value())
    ));
    // At equal diameters the difference has no slope, so its uncertainty is that of thrust way less pin way.
    let signed = metrology::difference(thrust, pin).ok()?;
    note_noise(&mut finding, value.value(), 2, own_u(thrust).hypot(own_u(pin)) / 2.0_f64.sqrt());
    finding.value = Measured::new(value.value(), signed.parts().clone()).ok();
    finding.readings = readings.ids();
    Some(finding)
}

fn taper(book: &Book, place: Place, readings: &Readings) -> Option<Finding> {
    let words = book.words();
    let both = |height| {
        let ways: Vec<&Measured> = [Way::Thrust, Way::Pin].into_iter().filter_map(|w| readings.at(height, w)).collect();
        metrology::mean(&ways).ok().map(|mean| (mean, ways.len()))
    };
    let ((top, top_count), (bottom, bottom_count)) = (both(Height::Top)?, both(Height::Bottom)?);
    if top_count != bottom_count {
        return None;
    }
    let signed = propagate(&[&top, &bottom], |x| bore::taper_m(x[0], x[1])).ok()?;
    let mut finding = begin(FindingFeature::BoreTaper, place, true, Basis::Readings);
    finding.working.push(format!(
        "top {} − bottom {} = {}",
        words.size_number(top.value()),
        words.size_number(bottom.value()),
        words.small(signed.value())
    ));
    let size = signed.value().abs();
    note_noise(&mut finding, size, 2, own_u(&top).hypot(own_u(&bottom)) / 2.0_f64.sqrt());
    if !finding.within_noise {
        let larger = if signed.value() > 0.0 { "top" } else { "bottom" };
        finding.remarks.push(format!("larger at the {larger}"));
    }
    finding.value = Measured::new(size, signed.parts().clone()).ok();
    finding.readings = readings.ids();
    Some(finding)
}

/// The part of a reading's uncertainty that is its own, not shared with the readings of the same setting.
fn own_u(value: &Measured) -> f64 {
    let own = value.parts().iter().filter(|(source, _)| matches!(source, metrology::Source::Reading(_)));
    own.map(|(_, part)| part * part).sum::<f64>().sqrt()
}

fn note_noise(finding: &mut Finding, range: f64, readings: usize, u: f64) {
    finding.within_noise = range_within_noise(range, readings, u);
    if finding.within_noise {
        finding.remarks.push("within what the gauge can tell: no more than noise".to_owned());
    }
}

fn piston_clearance(book: &Book, place: Place, readings: &Readings, size: &Finding) -> Finding {
    let words = book.words();
    let label = book.setup.architecture.label(place);
    let small = |basis| {
        let target = book.setup.target(TargetFeature::PistonClearance, place);
        Finding { target, ..begin(FindingFeature::PistonClearance, place, true, basis) }
    };
    let missing = |what: &str| Basis::Missing { missing: format!("{what} of {label}") };
    let key = FindingKey::new(FindingFeature::SkirtDiameter, place);
    let Some(skirt) = book.finding(SheetKey::Pistons, &key) else { return small(missing("piston skirt")) };
    let thrust = readings.way(Way::Thrust);
    let bores: Vec<&Measured> = if thrust.is_empty() { size.value.iter().collect() } else { thrust };
    let skirt_target = skirt.target.and_then(|target| Measured::exact(target).ok());
    let (skirt_value, stands_in) = match (&skirt.value, &skirt_target) {
        (Some(value), _) => (value, false),
        (None, Some(target)) => (target, true),
        (None, None) => return small(missing("piston skirt")),
    };
    if bores.is_empty() {
        return small(missing("bore"));
    }
    let inputs: Vec<&Measured> = bores.iter().copied().chain([skirt_value]).collect();
    let value = propagate(&inputs, |x| bore::piston_clearance_m(&x[..x.len() - 1], x[x.len() - 1]));
    let least = bores.iter().map(|v| v.value()).fold(f64::INFINITY, f64::min);
    let basis = match (stands_in, &size.basis) {
        (true, _) => Basis::Target { missing: format!("piston skirt of {label}; its target stands in") },
        (false, Basis::Readings) => Basis::Readings,
        (false, _) => Basis::Stated,
    };
    let mut finding = small(basis);
    finding.value = value.ok();
    let shown = finding.value.as_ref().map_or_else(String::new, |v| words.small(v.value()));
    finding.working.push(format!(
        "smallest thrust way {} − skirt {} = {shown}",
        words.size_number(least),
        words.size_number(skirt_value.value()),
    ));
    finding.range = (size.basis == Basis::Stated)
        .then_some(size.range)
        .flatten()
        .map(|(low, high)| (low - skirt_value.value(), high - skirt_value.value()));
    finding.readings = size.readings.iter().chain(&skirt.readings).cloned().collect();
    finding
}

/// Largest bore size less smallest, once at least two are read.
fn spread(book: &Book, findings: &[Finding]) -> Option<Finding> {
    let words = book.words();
    let sizes: Vec<&Finding> =
        findings.iter().filter(|f| f.key.feature == FindingFeature::BoreSize && f.basis == Basis::Readings).collect();
    let by_size = |a: &&&Finding, b: &&&Finding| {
        let of = |f: &Finding| f.value.as_ref().map_or(0.0, Measured::value);
        of(a).total_cmp(&of(b))
    };
    let (least, greatest) = (sizes.iter().min_by(by_size)?, sizes.iter().max_by(by_size)?);
    if least.key == greatest.key {
        return None;
    }
    let mut finding = begin(FindingFeature::BoreSpread, Place::AllCylinders, true, Basis::Readings);
    let difference = metrology::difference(greatest.value.as_ref()?, least.value.as_ref()?).ok()?;
    let label = |f: &Finding| book.setup.architecture.label(f.key.place);
    finding.working.push(format!(
        "{} {} − {} {} = {}",
        label(greatest),
        words.size_number(greatest.value.as_ref()?.value()),
        label(least),
        words.size_number(least.value.as_ref()?.value()),
        words.small(difference.value())
    ));
    let own = sizes.iter().filter_map(|f| f.value.as_ref()).map(own_u).fold(0.0, f64::max);
    note_noise(&mut finding, difference.value(), sizes.len(), own);
    finding.value = Some(difference);
    finding.readings = sizes.iter().flat_map(|f| f.readings.iter().cloned()).collect();
    Some(finding)
}
