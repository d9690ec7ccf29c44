//! The pictures of a sheet, drawn from its findings: the engine as the map, the places on one scale, a bore's shape.

use super::findings::{number, strip};
use crate::drawing::bore_shape::{BoreShape, bore_shape};
use crate::drawing::engine_plan::{EnginePlan, PlanLayout, PlanPlace, What, engine_plan, small_plan};
use crate::drawing::limit_strip::{StripRow, strips_in_column};
use crate::drawing::warm_curve::{WarmCurve, warm_curve};
use crate::drawing::{Drawing, Mark};
use crate::engine::{Architecture, Height, Layout, Measure, Place, SheetKey, SlotFeature, SlotKey, Way};
use crate::quantity::Unit;
use crate::sheets::{Book, Finding, Standing, Words, clearance_over_temperature, mark_of, sheet};

/// The engine from above with each place of a sheet marked.
pub(super) fn plan(
    architecture: &Architecture,
    key: SheetKey,
    findings: &[Finding],
    undecided: &dyn Fn(&Place) -> bool,
) -> Drawing {
    let whole = sheet(key).main.whole();
    let place = |drawn: Place| {
        // Throws and decks are touched where their cylinders stand.
        let place = match (whole, drawn) {
            (Place::AllThrows, _) => architecture.throw_of(drawn),
            (Place::AllBanks, _) => drawn.deck(),
            _ => drawn,
        };
        let own: Vec<&Finding> = findings.iter().filter(|finding| finding.key.place == place).collect();
        let mark = if undecided(&place) { Mark::Undecided } else { worst(&own) };
        (Some(mark), Some(place.to_string()))
    };
    let show = if whole == Place::AllMains { What::Mains } else { What::Cylinders };
    engine_plan(&drawn(architecture, show, &place))
}

/// Numbering, with or without the firing order, for the card.
pub(super) fn numbering(architecture: &Architecture, with_firing_order: bool) -> Drawing {
    let mut plan = drawn(architecture, What::Cylinders, &|_| (None, None));
    plan.firing_order = plan.firing_order.filter(|_| with_firing_order);
    small_plan(&plan)
}

type Shown<'a> = &'a dyn Fn(Place) -> (Option<Mark>, Option<String>);

fn drawn(architecture: &Architecture, show: What, shown: Shown) -> EnginePlan {
    let plan_place = |place: Place| {
        let (mark, key) = shown(place);
        PlanPlace { label: architecture.number(place).map_or_else(String::new, |n| n.to_string()), mark, key }
    };
    let bank = |bank: u8| {
        (0..architecture.cylinders_per_bank()).map(|index| plan_place(Place::Cylinder { bank, index })).collect()
    };
    let firing_order = architecture.firing_order_text();
    EnginePlan {
        layout: match architecture.layout() {
            Layout::Inline => PlanLayout::Inline,
            Layout::Vee => PlanLayout::Vee,
            Layout::Opposed => PlanLayout::Opposed,
        },
        banks: (0..architecture.banks()).map(bank).collect(),
        mains: architecture.main_places().map(plan_place).collect(),
        show,
        stagger: if architecture.banks() > 1 { 0.2 } else { 0.0 },
        firing_order: (!firing_order.is_empty()).then_some(firing_order),
    }
}

/// The mark of a place: the most pressing of its findings.
pub(super) fn worst(findings: &[&Finding]) -> Mark {
    const PRESSING: [Standing; 6] =
        [Standing::Out, Standing::OnTheLine, Standing::Missing, Standing::Good, Standing::Checked, Standing::Figure];
    let standings: Vec<Standing> = findings.iter().map(|finding| finding.standing()).collect();
    PRESSING.into_iter().find(|standing| standings.contains(standing)).map_or(Mark::Missing, mark_of)
}

/// Every place of a sheet's main finding on one scale.
pub(super) fn column(book: &Book, key: SheetKey) -> Option<Drawing> {
    let feature = &sheet(key).main;
    let unit = book.setup.unit.of(feature.measure());
    let rows: Vec<StripRow> = book
        .findings(key)
        .iter()
        .filter(|finding| finding.key.feature == *feature && finding.value.is_some())
        .map(|finding| StripRow {
            label: book.setup.architecture.label(finding.key.place),
            strip: strip(finding).in_unit(|si| unit.from_si(si)),
            // Places are touched on the plan; here they stand close together to be compared.
            key: None,
        })
        .collect();
    let title = format!("{}, {}", feature.title(), unit.symbol());
    (!rows.is_empty()).then(|| strips_in_column(&rows, &title, &|shown| number(unit, unit.to_si(shown))))
}

/// The shape of a bore, enlarged; none for other places or before it is read both ways somewhere.
pub(super) fn bore(book: &Book, place: Place) -> Option<Drawing> {
    if !matches!(place, Place::Cylinder { .. }) {
        return None;
    }
    let along = |way| {
        [Height::Top, Height::Middle, Height::Bottom]
            .map(|height| SlotKey::new(SlotFeature::Bore(height, way), place))
            // What is covered until its second reading is not drawn either.
            .map(|slot| if book.wanted(&slot).is_some() { None } else { book.figure(slot.feature, place) })
            .map(|figure| figure.map(|(value, _)| value.value()))
    };
    let (thrust, pin) = (along(Way::Thrust), along(Way::Pin));
    let read_both_ways = thrust.iter().zip(&pin).any(|(a, b)| a.is_some() && b.is_some());
    let unit = book.setup.unit.size();
    let shape = BoreShape { label: book.setup.architecture.label(place), thrust, pin };
    read_both_ways.then(|| bore_shape(&shape, &|x| number(unit, x)))
}

/// A bearing's clearance over the temperature of its housing; none where it is not told hot.
pub(super) fn over_temperature(book: &Book, key: SheetKey, place: Place) -> Option<Drawing> {
    let points = clearance_over_temperature(key, book, place)?;
    let hot = sheet(key).finds.iter().find(|feature| feature.is_told_hot())?;
    let band = book.limit(hot, place).and_then(|limit| limit.band(None));
    let (unit, words) = (book.setup.unit.small(), Words { unit: book.setup.unit });
    let point = |(kelvin, clearance): (f64, f64)| {
        (words.said(Measure::TEMPERATURE, kelvin), Unit::Celsius.from_si(kelvin), unit.from_si(clearance))
    };
    let curve = WarmCurve {
        label: book.setup.architecture.label(place),
        points: points.into_iter().map(point).collect(),
        band: band
            .map_or((None, None), |band| (band.min().map(|x| unit.from_si(x)), band.max().map(|x| unit.from_si(x)))),
    };
    Some(warm_curve(&curve, &|shown| number(unit, unit.to_si(shown))))
}
