//! Motion and load: mean piston speed, rod ratio, and what pulls at the rod bolts at the highest speed.

use super::as_read::judge_all;
use super::figure::{Figure, Lack, Lacks, found};
use super::piston_deck::{offset, rod, stroke};
use super::{Book, Finding, Sheet, Slot};
use crate::engine::{FindingFeature, FindingKey, Measure, Place, Setup, SheetKey, TargetFeature};
use crate::mechanics::motion::{self, MotionFault, RodMasses, SliderCrank};
use std::convert::Infallible;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Motion,
    edition: EDITION,
    title: "Motion and load",
    purpose: "Nothing to read: piston speed, rod ratio and rod bolt load from stroke, rods, weights and the highest speed.",
    caution: "A load worked out for the highest speed given: an engine driven beyond it by a missed gear bears more, as the \
              square of the speed.",
    reads: &[SheetKey::Crankshaft, SheetKey::Rods, SheetKey::Balance],
    finds: &[FindingFeature::MeanPistonSpeed, FindingFeature::RodRatio, FindingFeature::BoltLoad],
    main: FindingFeature::BoltLoad,
    compared: &[FindingFeature::BoltLoad],
    options: None,
    slots,
    work_out,
};

/// Of one rod's cap.
const BOLTS: u8 = 2;
/// Standard gravity in m/s².
const GRAVITY: f64 = 9.806_65;

fn slots(_setup: &Setup) -> Vec<Slot> {
    Vec::new()
}

fn work_out(book: &Book) -> Vec<Finding> {
    let cylinders = book.setup.architecture.cylinders_in_order();
    let by_si = |a: &Figure, b: &Figure| a.si().total_cmp(&b.si());
    let longest = cylinders.iter().filter_map(|&place| stroke(book, place).ok()).max_by(by_si);
    let shortest = cylinders.iter().filter_map(|&place| rod(book, place).ok()).min_by(by_si);
    let mut findings = Vec::new();
    if let Some(stroke) = &longest {
        findings.extend(mean_piston_speed(book, stroke, shortest.as_ref()));
        let ratio = shortest.map(|rod| rod_ratio(book, stroke, &rod));
        findings.extend(ratio.map(|ratio| found(ratio, FindingFeature::RodRatio, Place::Engine)));
    }
    findings.extend(cylinders.into_iter().map(|place| found(bolt_load(book, place), FindingFeature::BoltLoad, place)));
    judge_all(&mut findings, book);
    findings
}

fn highest_speed(book: &Book) -> Result<Figure, Lack> {
    Figure::given(book, TargetFeature::HighestSpeed, Place::Engine, "highest speed")
}

/// By the longest stroke; none where no highest speed is given.
fn mean_piston_speed(book: &Book, stroke: &Figure, rod: Option<&Figure>) -> Option<Finding> {
    let speed = highest_speed(book).ok()?;
    let mean = Figure::worked("mean piston speed", Measure::SPEED, book, &[stroke, &speed], |x| {
        Ok::<_, Infallible>(motion::mean_piston_speed_m_s(x[0], x[1]))
    });
    let mean = mean.ok()?;
    let words = book.words();
    let mut finding = mean.finding(FindingFeature::MeanPistonSpeed, Place::Engine);
    finding.working.push(format!(
        "2 × stroke {} × {} = {}",
        words.size(stroke.si()),
        words.said(Measure::ROTATION, speed.si()),
        words.said(Measure::SPEED, mean.si())
    ));
    let goes_round = |rod: &Figure| Some((rod.si(), crank(&[stroke.si(), rod.si(), offset(book).ok()?.si()]).ok()?));
    if let Some((rod, crank)) = rod.and_then(goes_round) {
        let at = crank.greatest_acceleration_rad();
        finding.working.push(format!(
            "greatest acceleration with the rod {}: {} at {} after the throw’s top",
            words.size(rod),
            gravities(crank.acceleration_m_s2(at, speed.si())),
            words.said(Measure::ANGLE, at)
        ));
    }
    Some(finding)
}

/// From stroke, rod and offset.
fn crank(x: &[f64]) -> Result<SliderCrank, MotionFault> {
    SliderCrank::from_stroke(x[0], x[1], x[2])
}

/// "26415 m/s², 2694 times gravity".
fn gravities(m_s2: f64) -> String {
    format!("{m_s2:.0}\u{a0}m/s², {:.0} times gravity", m_s2 / GRAVITY)
}

/// Of the shortest rod and the longest stroke.
fn rod_ratio(book: &Book, stroke: &Figure, rod: &Figure) -> Result<Finding, Lack> {
    let of = [stroke, rod, &offset(book)?];
    let ratio =
        Figure::worked("rod ratio", Measure::NUMBER, book, &of, |x| crank(x).map(|_| motion::rod_ratio(x[1], x[0])))?;
    let words = book.words();
    let (rod, stroke) = (words.size_number(rod.si()), words.size_number(stroke.si()));
    let working = vec![format!("rod {rod} / stroke {stroke} = {}", words.said(Measure::NUMBER, ratio.si()))];
    Ok(Finding { working, ..ratio.finding(FindingFeature::RodRatio, Place::Engine) })
}

/// What parts the cap's joint at the top of the exhaust stroke. The cap's own mass is not weighed apart: the whole big end is
/// counted, which errs to the safe side.
fn bolt_load(book: &Book, place: Place) -> Result<Finding, Lack> {
    let mut lacks = Lacks::default();
    let mut weighed = |feature: FindingFeature| {
        let found = book.finding(SheetKey::Balance, &FindingKey::new(feature, place))?;
        lacks.seek(Figure::from_finding(book, found, place, found.key.feature.title()))
    };
    let masses = (weighed(FindingFeature::Reciprocating), weighed(FindingFeature::Rotating));
    let parts = (lacks.seek(stroke(book, place)), lacks.seek(rod(book, place)), lacks.seek(offset(book)));
    let speed = lacks.seek(highest_speed(book));
    if let (Some(stroke), Some(rod), Some(offset)) = &parts {
        // A crank that cannot go round is said before what is missing.
        Figure::worked("throw", Measure::SIZE, book, &[stroke, rod, offset], |x| {
            crank(x).map(|crank| crank.throw_m())
        })?;
    }
    let ((Some(reciprocating), Some(rotating)), (Some(stroke), Some(rod), Some(offset)), Some(speed)) =
        (masses, parts, speed)
    else {
        return Err(lacks.all());
    };
    let of = [&stroke, &rod, &offset, &reciprocating, &rotating, &speed];
    let worked = |name, measure, formula: fn(&[f64]) -> Result<f64, MotionFault>| {
        Figure::worked(name, measure, book, &of, formula)
    };
    let load = worked("bolt load", Measure::FORCE, |x| {
        let masses = RodMasses { reciprocating_kg: x[3], big_end_kg: x[4], cap_kg: 0.0 };
        crank(x)?.rod_bolt_load(masses, BOLTS, x[5]).map(|load| load.rod_n)
    })?;
    let turns_back = worked("acceleration", Measure::NUMBER, |x| {
        crank(x).map(|crank| crank.acceleration_m_s2(crank.tdc_rad(), x[5]))
    })?;
    let runs_round = worked("acceleration", Measure::NUMBER, |x| crank(x).map(|crank| crank.throw_m() * x[5] * x[5]))?;
    let words = book.words();
    let mut finding = load.finding(FindingFeature::BoltLoad, place);
    finding.working = vec![
        format!(
            "at {} the piston turns back at {}, the crank pin runs round at {}",
            words.said(Measure::ROTATION, speed.si()),
            gravities(turns_back.si()),
            gravities(runs_round.si())
        ),
        format!(
            "on reciprocating {} and rotating {}: {}",
            words.said(Measure::MASS, reciprocating.si()),
            words.said(Measure::MASS, rotating.si()),
            words.said(Measure::FORCE, load.si())
        ),
    ];
    finding.remarks = vec![
        format!(
            "{} on each of two bolts, at the top of the exhaust stroke",
            words.said(Measure::FORCE, load.si() / f64::from(BOLTS))
        ),
        "the whole big end is counted, cap and all: somewhat more than the bolts bear; prying comes on top".to_owned(),
    ];
    Ok(finding)
}
