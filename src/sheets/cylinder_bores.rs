//! Cylinder bores: size, out-of-round, taper, and with the piston's skirt the clearance thrust way.

use super::shape::{Section, out_of_round, spread, taper};
use super::{Basis, Book, Depth, Finding, Options, Sheet, Slot, Standing, Taken, Words, choose_pistons};
use crate::engine::{
    FindingFeature, FindingKey, Height, ItemKind, ItemRef, Place, Setup, SheetKey, SlotFeature, SlotKey, TargetFeature,
    Way,
};
use crate::mechanics::bore;
use crate::metrology::{self, GaugeKind, Measured, Source, propagate};

const EDITION: u32 = 3;
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
    main: FindingFeature::PistonClearance,
    compared: &[FindingFeature::BoreSize, FindingFeature::PistonClearance],
    options: Some(Options {
        title: "Choose pistons",
        purpose: "Which piston in which bore comes closest to the clearance aimed at, or is most alike.",
        asks: None,
        work_out: choose_pistons::work_out,
    }),
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
        possible: (0.01, 1.0),
        material: setup.materials.block,
        set_at_each_place: None,
    };
    let mut slots =
        vec![slot(SlotFeature::BoreStated, Place::AllCylinders, Depth::Stated, "one figure for all", "stated")];
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
    let apart = Finding::new(FindingFeature::BoreSpread, Place::AllCylinders, Basis::Readings);
    findings.extend(spread(apart, &FindingFeature::BoreSize, &findings, book));
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

    fn section(&self, (height, at): (Height, &'static str)) -> Section<'_> {
        Section { at, across: [self.at(height, Way::Thrust), self.at(height, Way::Pin)] }
    }

    /// Ids of the takes read one way, or either.
    fn ids(&self, way: Option<Way>) -> Vec<String> {
        let these = self.all.iter().filter(|(_, w, ..)| way.is_none_or(|way| way == *w));
        these.flat_map(|(.., taken)| taken.readings.iter().cloned()).collect()
    }
}

fn one_bore(book: &Book, place: Place) -> Vec<Finding> {
    let readings = Readings::of(book, place);
    let size = size(book, place, &readings);
    let clearance = piston_clearance(book, place, &readings, &size);
    let begin = |feature| {
        let ids = readings.ids(None);
        Finding { readings: ids, ..Finding::new(feature, place, Basis::Readings) }
    };
    let sections = HEIGHTS.map(|height| readings.section(height));
    let [top, _, bottom] = &sections;
    let round = out_of_round(begin(FindingFeature::BoreOutOfRound), &sections, book.words());
    let taper = taper(begin(FindingFeature::BoreTaper), top, bottom, ["thrust way", "pin way"], book.words());
    std::iter::once(size).chain(round).chain(taper).chain([clearance]).collect()
}

/// The mean of what was read, with least and greatest beside it: it is judged by the worse of them.
fn size(book: &Book, place: Place, readings: &Readings) -> Finding {
    let words = book.words();
    let target = book.setup.target(TargetFeature::Bore, place);
    let values: Vec<&Measured> = readings.all.iter().map(|(_, _, value, _)| value).collect();
    let finding = if let Ok(mean) = metrology::mean(&values) {
        let mut finding = Finding::new(FindingFeature::BoreSize, place, Basis::Readings);
        finding.set_ends(&values);
        let (least, greatest) = finding.range.unwrap_or((mean.value(), mean.value()));
        finding.working.push(format!(
            "mean of {}, {} to {}: {}",
            Words::counted(values.len(), "reading"),
            words.size_number(least),
            words.size_number(greatest),
            words.size(mean.value())
        ));
        finding.value = Some(mean);
        finding.readings = readings.ids(None);
        finding
    } else if let Some(taken) = book.stated(&SlotFeature::BoreStated, place) {
        Finding::stated(FindingFeature::BoreSize, place, taken, words)
    } else {
        let missing = format!("bore of {}", book.setup.architecture.label(place));
        let basis = if target.is_some() { Basis::Target { missing } } else { Basis::Missing { missing } };
        Finding::new(FindingFeature::BoreSize, place, basis)
    };
    Finding { target, ..finding }
}

/// Whether a value was brought to 20 °C from the temperature it was read at.
fn brought_to_20(value: &Measured) -> bool {
    value.parts().keys().any(|source| matches!(source, Source::Temperature(_)))
}

fn least(values: &[&Measured]) -> f64 {
    values.iter().map(|v| v.value()).fold(f64::INFINITY, f64::min)
}

/// Which of the two was checked good without a figure, so that no clearance can follow.
fn checked_good(bore: &Finding, skirt: &Finding) -> Option<&'static str> {
    match (bore.standing(), skirt.standing()) {
        (Standing::Checked, Standing::Checked) => Some("bores and skirts were checked good"),
        (Standing::Checked, _) => Some("bores were checked good"),
        (_, Standing::Checked) => Some("skirts were checked good"),
        _ => None,
    }
}

/// The smallest bore reading thrust way, or the bore as stated, less the skirt. Skirts are oval and barrelled: nothing
/// read pin way stands in for it.
fn piston_clearance(book: &Book, place: Place, readings: &Readings, size: &Finding) -> Finding {
    let label = book.setup.architecture.label(place);
    let begin = |basis| {
        let target = book.setup.target(TargetFeature::PistonClearance, place);
        Finding { target, ..Finding::new(FindingFeature::PistonClearance, place, basis) }
    };
    let missing = |what: &str| begin(Basis::Missing { missing: format!("{what} of {label}") });
    let thrust = readings.all.iter().filter(|(_, way, ..)| *way == Way::Thrust).map(|(_, _, value, _)| value);
    let (bores, bore_word, bore_ids): (Vec<&Measured>, _, _) = if size.basis == Basis::Readings {
        (thrust.collect(), "smallest thrust way", readings.ids(Some(Way::Thrust)))
    } else {
        (size.value.iter().collect(), "bore", size.readings.clone())
    };
    let key = FindingKey::new(FindingFeature::SkirtDiameter, place);
    let Some(skirt) = book.finding(SheetKey::Pistons, &key) else { return missing("piston skirt") };
    if let Some(because) = checked_good(size, skirt) {
        let readings = size.readings.iter().chain(&skirt.readings).cloned().collect();
        return Finding { readings, ..begin(Basis::NoFigure { because: because.to_owned() }) };
    }
    let skirt_target = skirt.target.and_then(|target| Measured::exact(target).ok());
    let Some(skirt_value) = skirt.value.as_ref().or(skirt_target.as_ref()) else { return missing("piston skirt") };
    if bores.is_empty() {
        return missing(if size.basis == Basis::Readings { "bore thrust way" } else { "figure for the bore" });
    }
    let mut finding = begin(match (&skirt.value, &skirt.basis, &size.basis) {
        (None, ..) => Basis::Target { missing: format!("piston skirt of {label}; its target stands in") },
        (_, Basis::Readings, Basis::Readings) => Basis::Readings,
        _ => Basis::Stated,
    });
    let inputs: Vec<&Measured> = bores.iter().copied().chain([skirt_value]).collect();
    finding.value = propagate(&inputs, |x| bore::piston_clearance_m(&x[..x.len() - 1], x[x.len() - 1])).ok();
    let (smallest, skirt_m) = (least(&bores), skirt_value.value());
    let words = book.words();
    finding.working.push(format!(
        "{bore_word} {} − skirt {} = {}",
        words.size_number(smallest),
        words.size_number(skirt_m),
        words.small(smallest - skirt_m),
    ));
    if bores.iter().any(|bore| brought_to_20(bore)) && !brought_to_20(skirt_value) {
        finding.remarks.push("the bore at 20 °C, the skirt as read: was it at 20 °C too?".to_owned());
    }
    let bore_range = size.range.filter(|_| size.basis == Basis::Stated);
    if bore_range.or(skirt.range).is_some() {
        let ((low, high), (slim, stout)) =
            (bore_range.unwrap_or((smallest, smallest)), skirt.range.unwrap_or((skirt_m, skirt_m)));
        finding.set_range(Some((low - stout, high - slim)));
    }
    finding.readings = bore_ids.into_iter().chain(skirt.readings.iter().cloned()).collect();
    finding
}
