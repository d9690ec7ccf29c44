//! Piston rings: end gap in its own bore against the maker's figure, which heat may raise and never lowers; clearance beside
//! and behind each ring; what the bore's taper does to the gap.

use super::as_read::{AsRead, judge_all};
use super::taken::expansion;
use super::{Basis, Book, Finding, Sheet, Slot, Words};
use crate::engine::{
    FindingFeature, FindingKey, ItemKind, Measure, Place, Ring, Setup, SheetKey, SlotFeature, TargetFeature,
};
use crate::mechanics::ring;
use crate::mechanics::thermal::Warmed;
use crate::metrology::{GaugeKind, Material, Measured, NotFinite, Source, propagate};

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Rings,
    edition: EDITION,
    title: "Piston rings",
    purpose: "End gap of every ring in its own bore, how far to open it, and its clearance beside and behind it in the groove.",
    caution: "The piston maker's gap for that piston and use comes first: too small a gap breaks lands. Each ring square in its own \
              bore, plate on where the block is honed so, and again after a further hone. Rings and lands cut; a spread ring can fly.",
    reads: &[SheetKey::CylinderBores],
    finds: &[
        FindingFeature::RingGap(Ring::Top),
        FindingFeature::RingGap(Ring::Second),
        FindingFeature::RingGap(Ring::Rail),
        FindingFeature::RingSide(Ring::Top),
        FindingFeature::RingSide(Ring::Second),
        FindingFeature::RingSide(Ring::Rail),
        FindingFeature::RingBack(Ring::Top),
        FindingFeature::RingBack(Ring::Second),
        FindingFeature::RingBack(Ring::Rail),
        FindingFeature::RingGapOverTaper,
    ],
    main: FindingFeature::RingGap(Ring::Top),
    compared: &[FindingFeature::RingGap(Ring::Top), FindingFeature::RingGap(Ring::Second)],
    options: None,
    slots,
    work_out,
};

const GAPS: &str = "end gap";
const GROOVES: &str = "groove";
/// Bench order: each ring's name at its gap, beside it and behind it.
const RINGS: [(Ring, [&str; 3]); 3] = [
    (Ring::Top, ["top ring gap", "top ring, side", "top ring, back"]),
    (Ring::Second, ["second ring gap", "second ring, side", "second ring, back"]),
    (Ring::Rail, ["oil rail gap", "oil ring, side", "oil ring, back"]),
];

fn slots(setup: &Setup) -> Vec<Slot> {
    use GaugeKind::{DepthMicrometer, Feeler};
    use SlotFeature as F;
    let mut slots = Vec::new();
    for place in setup.architecture.cylinders_in_order() {
        let slot = |feature, label, group, gauge, most| {
            Slot::of(setup, place, (feature, label, group, gauge, ItemKind::Piston)).between(0.0, most)
        };
        slots.extend(RINGS.map(|(ring, [gap, ..])| slot(F::RingGap(ring), gap, GAPS, Feeler, 0.005)));
        for (ring, [_, side, back]) in RINGS {
            slots.push(slot(F::RingSide(ring), side, GROOVES, Feeler, 0.001));
            slots.push(slot(F::RingBack(ring), back, GROOVES, DepthMicrometer, 0.003));
        }
    }
    slots
}

const fn as_read(slot: SlotFeature, finding: FindingFeature, name: &'static str) -> AsRead {
    AsRead { slot, stated: None, finding, name }
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings = Vec::new();
    for place in book.setup.architecture.cylinders_in_order() {
        findings.extend(RINGS.into_iter().filter_map(|(ring, [name, ..])| gap(book, place, ring, name)));
        findings.extend(over_taper(book, place));
        for (ring, [_, side, back]) in RINGS {
            let side = as_read(SlotFeature::RingSide(ring), FindingFeature::RingSide(ring), side);
            let back = as_read(SlotFeature::RingBack(ring), FindingFeature::RingBack(ring), back);
            findings.extend([side, back].into_iter().filter_map(|read| read.if_read(book, place)));
        }
    }
    judge_all(&mut findings, book);
    findings
}

/// The gap as read, and by how much to open it for what is needed, which is told before it is read too.
fn gap(book: &Book, place: Place, ring: Ring, name: &'static str) -> Option<Finding> {
    let read = as_read(SlotFeature::RingGap(ring), FindingFeature::RingGap(ring), name);
    let mut finding = if ring == Ring::Top { read.at(book, place) } else { read.if_asked(book, place)? };
    let gap_m = finding.value.as_ref().map(Measured::value);
    // How much warmer it becomes is asked of the top ring only.
    let closure = if ring == Ring::Top { heat(book, place, &mut finding) } else { None };
    let words = book.words();
    let number = |m: f64| words.number(Measure::SMALL, m);
    if let (Some(gap_m), Some(closure)) = (gap_m, &closure) {
        let left = ring::hot_gap_m(gap_m, closure.value());
        let of = format!("{} − {}", number(gap_m), number(closure.value()));
        finding.working.push(format!("left when hot: {of} = {}", words.small(left)));
        if left <= 0.0 {
            finding.remarks.push("its ends butt when so hot".to_owned());
        }
    }
    let needed = needed(&mut finding, closure.as_ref(), words);
    match (gap_m, needed) {
        (Some(gap_m), Some(needed)) => {
            let open = ring::to_open_m(needed, gap_m);
            finding.working.push(format!("{} − {} = {}", number(needed), number(gap_m), words.small(open)));
            finding.remarks.push(to_do(open, words));
        }
        (Some(_), None)
            if ring != Ring::Rail && finding.target.is_none() && book.limit(&finding.key.feature, place).is_none() =>
        {
            let nothing = "nothing to compare it with: the piston maker’s figure for this use is not set";
            finding.remarks.push(nothing.to_owned());
        }
        _ => {}
    }
    Some(finding)
}

/// The gap to have, told in the working: the maker's figure, or more where heat, with what it may be off by, asks for more.
/// None without a maker's figure.
fn needed(finding: &mut Finding, closure: Option<&Measured>, words: Words) -> Option<f64> {
    let makers = finding.target?;
    let (closes, may_be_off) = closure.map_or((0.0, 0.0), |closure| (closure.value(), closure.expanded(2.0)));
    let needed = match ring::needed_gap_m(makers, closes, may_be_off) {
        Ok(needed) => needed,
        Err(fault) => {
            finding.remarks.push(fault.to_string());
            return None;
        }
    };
    let (makers_gap, heat) = (words.small(makers), words.small(closes + may_be_off));
    finding.working.push(match closure {
        None => format!("needed: the maker’s {makers_gap}"),
        Some(_) if needed > makers => format!("needed: {heat}, as heat may close so much; the maker’s is {makers_gap}"),
        Some(_) => format!("needed: the maker’s {makers_gap}; heat closes {heat} at most"),
    });
    Some(needed)
}

/// What a machinist does about a gap that is to be opened by so much.
fn to_do(open_m: f64, words: Words) -> String {
    let by = words.small(open_m.abs());
    if by == words.small(0.0) {
        "as needed".to_owned()
    } else if open_m > 0.0 {
        format!("open by {by}")
    } else {
        format!("more than needed by {by}")
    }
}

/// The ring's temperature is an estimate, within 50 K (k = 2). Common practice, no source.
const RING_U_K: f64 = 25.0;

/// How far heat closes the top ring's gap, told in the working; none where nobody said how warm its parts become, or what
/// that wants is not known, which is remarked.
fn heat(book: &Book, place: Place, finding: &mut Finding) -> Option<Measured> {
    let rise = |of| book.setup.target(of, Place::Engine);
    let rises = (rise(TargetFeature::RingWarmer), rise(TargetFeature::BoreWarmer));
    rises.0.or(rises.1)?;
    let mut not_counted = |why: &str| {
        finding.remarks.push(format!("heat is not counted: {why}"));
        None
    };
    let (Some(ring_k), Some(bore_k)) = rises else {
        return not_counted("it wants how much warmer both ring and cylinder wall become");
    };
    let Some(block) = book.setup.materials.block else { return not_counted("the block’s material is not set") };
    let key = FindingKey::new(FindingFeature::BoreSize, place);
    let size = book.finding(SheetKey::CylinderBores, &key);
    let read = size.and_then(|size| size.value.clone());
    let called = if read.is_some() { "bore" } else { "target bore" };
    let target = || Measured::exact(size?.target?).ok();
    let Some(bore) = read.or_else(target).filter(|bore| bore.value() > 0.0) else {
        return not_counted("the bore is neither read nor set");
    };
    let Ok(closure) = closure(&book.setup, &bore, ring_k, block, bore_k) else {
        return not_counted("such temperatures make no figure");
    };
    let words = book.words();
    let alpha = |material| format!("{:.1}", book.setup.expansion(material).per_kelvin * 1e6);
    let kelvin = |rise| words.said(Measure::WARMER, rise);
    let does = if closure.value() < 0.0 { "opens" } else { "closes" };
    finding.working.push(format!(
        "heat {does} it by π × {called} {} × ({} × {} − {} × {}) / 10⁶ = {} ± {}, with the ring taken as grey iron, the bore \
         to grow as {}",
        words.size(bore.value()),
        alpha(Material::GreyIron),
        kelvin(ring_k),
        alpha(block),
        kelvin(bore_k),
        words.small(closure.value().abs()),
        words.number(Measure::SMALL, closure.expanded(2.0)),
        block.word()
    ));
    if !matches!(block, Material::GreyIron | Material::DuctileIron) {
        finding.remarks.push(
            "worst while the ring is hot and the bore still cold; an iron sleeve grows less than its block, and closes the \
             gap by more"
                .to_owned(),
        );
    }
    Some(closure)
}

fn closure(setup: &Setup, bore: &Measured, ring_k: f64, block: Material, bore_k: f64) -> Result<Measured, NotFinite> {
    let hot_ring = Measured::exact(ring_k)?.with_part(Source::Temperature("hot ring".into()), RING_U_K)?;
    let (of_ring, of_bore) = (expansion(setup, Material::GreyIron)?, expansion(setup, block)?);
    propagate(&[bore, &of_ring, &hot_ring, &of_bore], |x| {
        let ring = Warmed { alpha_per_k: x[1], rise_k: x[2] };
        ring::closure_m(x[0], ring, Warmed { alpha_per_k: x[3], rise_k: bore_k })
    })
}

/// By how much any ring's gap changes from one end of the bore to the other.
fn over_taper(book: &Book, place: Place) -> Option<Finding> {
    let taper = book.finding(SheetKey::CylinderBores, &FindingKey::new(FindingFeature::BoreTaper, place))?;
    let of = taper.value.as_ref()?;
    let change = propagate(&[of], |x| ring::gap_change_m(x[0])).ok()?;
    let words = book.words();
    Some(Finding {
        working: vec![format!("π × taper {} = {}", words.small_of_means(of.value()), words.small(change.value()))],
        within_noise: taper.within_noise,
        remarks: if taper.within_noise {
            vec!["the taper is within what the gauge can tell".to_owned()]
        } else {
            Vec::new()
        },
        value: Some(change),
        readings: taper.readings.clone(),
        ..Finding::new(FindingFeature::RingGapOverTaper, place, Basis::Readings)
    })
}
