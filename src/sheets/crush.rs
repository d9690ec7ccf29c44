//! Crush: by how much a pair of shells is longer round than its housing, and how hard that holds them.

use super::slot::SlotRow;
use super::warm_bearing::Bearing;
use super::{Basis, Book, Finding};
use crate::engine::{Bearings, FindingFeature, ItemKind, Place, Shell, SlotFeature};
use crate::mechanics::bearing::crush;
use crate::metrology::{GaugeKind, Material, Measured, propagate};

const GROUP: &str = "crush";
const HALVES: [(Shell, &str); 2] = [(Shell::Upper, "upper"), (Shell::Lower, "lower")];

/// Young's modulus of what carries the lining, steel, in Pa (common practice, no source).
const BACKING_PA: f64 = 207e9;
/// What a mild steel backing bears before it yields, in Pa (common practice, no source).
const BACKING_YIELDS_PA: f64 = 250e6;

pub(super) fn rows(bearings: Bearings, housing: ItemKind, shells: ItemKind) -> [SlotRow; 3] {
    let proud = |half, label| (SlotFeature::ShellProud(bearings, half), label, GROUP, GaugeKind::Indicator, shells);
    [
        proud(Shell::Upper, "upper shell, above the joint, its other end flush"),
        proud(Shell::Lower, "lower shell, above the joint, its other end flush"),
        (SlotFeature::CrushGap(bearings), "gap at the joint, that side loosened", GROUP, GaugeKind::Feeler, housing),
    ]
}

/// The crush of both halves and what it comes to in the housing; none where it was not read.
pub(super) fn found(book: &Book, bearings: Bearings, place: Place, bearing: &Bearing) -> Vec<Finding> {
    let Some(total) = total(book, bearings, place) else { return Vec::new() };
    let interference = total.value.as_ref().map(|excess| {
        let begin = |basis| Finding {
            readings: total.readings.clone(),
            ..Finding::new(FindingFeature::CrushInterference(bearings), place, basis)
        };
        interference(book, excess, bearing, &begin)
    });
    std::iter::once(total).chain(interference).collect()
}

/// The halves' excess together, or else the gap that it leaves.
fn total(book: &Book, bearings: Bearings, place: Place) -> Option<Finding> {
    let words = book.words();
    let read: Vec<(&str, Measured, &[String])> = HALVES
        .into_iter()
        .filter_map(|(half, name)| {
            let (proud, taken) = book.figure(SlotFeature::ShellProud(bearings, half), place)?;
            Some((name, proud, taken.readings.as_slice()))
        })
        .collect();
    let gap = book.figure(SlotFeature::CrushGap(bearings), place);
    let mut finding = Finding::new(FindingFeature::Crush(bearings), place, Basis::Readings);
    match (&read[..], gap) {
        ([(name, proud, ids)], gap) => {
            finding.value = propagate(&[proud], |x| 2.0 * x[0]).ok();
            finding.working.push(format!(
                "2 × {name} {} = {}",
                words.small(proud.value()),
                words.small(2.0 * proud.value())
            ));
            finding.remarks.push("one half speaks for both".to_owned());
            finding.readings = ids.to_vec();
            beside(&mut finding, gap.map(|(gap, _)| words.small(gap.value())));
        }
        ([(_, upper, ids), (_, lower, more), ..], gap) => {
            finding.value = propagate(&[upper, lower], |x| x[0] + x[1]).ok();
            let sum = upper.value() + lower.value();
            let [one, other] = [upper, lower].map(|half| words.small(half.value()));
            finding.working.push(format!("upper {one} + lower {other} = {}", words.small(sum)));
            finding.readings = ids.iter().chain(*more).cloned().collect();
            beside(&mut finding, gap.map(|(gap, _)| words.small(gap.value())));
        }
        ([], Some((gap, taken))) => {
            finding.working.push(format!("gap at the joint, that side loosened: {}", words.small(gap.value())));
            finding.readings.clone_from(&taken.readings);
            finding.value = Some(gap);
        }
        ([], None) => return None,
    }
    Some(finding)
}

fn beside(finding: &mut Finding, gap: Option<String>) {
    finding.remarks.extend(gap.map(|gap| format!("by the gap at the joint: {gap}")));
}

fn interference(book: &Book, excess: &Measured, bearing: &Bearing, begin: &dyn Fn(Basis) -> Finding) -> Finding {
    let (Some(housing_m), Some(wall_m)) = (bearing.housing_m, bearing.wall_m) else {
        let of = [("housing", bearing.housing_m), ("shells", bearing.wall_m)];
        let missing: Vec<String> =
            of.iter().filter(|(_, size)| size.is_none()).map(|(of, _)| format!("size of the {of}")).collect();
        return begin(Basis::Missing { missing: missing.join(", ") });
    };
    let found = match crush(excess.value(), housing_m, wall_m, BACKING_PA) {
        Ok(found) => found,
        Err(fault) => return begin(Basis::NoFigure { because: fault.to_string() }),
    };
    let words = book.words();
    let mut finding = begin(Basis::Readings);
    finding.value = propagate(&[excess], |x| {
        crush(x[0], housing_m, wall_m, BACKING_PA).map_or(f64::NAN, |found| found.interference_m)
    })
    .ok();
    finding.working.push(format!("{} / π = {}", words.small(excess.value()), words.small(found.interference_m)));
    let (hoop, contact) = (words.stress(found.hoop_stress_pa), words.stress(found.contact_pressure_pa));
    finding.working.push(format!(
        "on a housing of {} with shells of {}, steel backed, at most {hoop} round in the shells and {contact} on the housing",
        words.size(housing_m),
        words.size(wall_m)
    ));
    if found.hoop_stress_pa >= BACKING_YIELDS_PA {
        finding.remarks.push(format!(
            "more than a mild steel backing bears ({}, common practice, no source): it would not spring back",
            words.stress(BACKING_YIELDS_PA)
        ));
    }
    let soft = match bearing.housing {
        Some(Material::CastAluminium | Material::WroughtAluminium | Material::Magnesium) => ", as this one does",
        _ => "",
    };
    finding.remarks.push(format!(
        "a housing that gives{soft} takes part of it: it widens by less than {}, and the clearance by housing and shells with it",
        words.small(found.interference_m)
    ));
    finding
}
