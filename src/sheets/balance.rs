//! Weights and balance: what goes up and down and what turns with each throw, the bobweight that stands for it, and what the
//! balanced crank is left with.

use super::as_read::{AsRead, judge_all};
use super::figure::{Figure, Lack, Lacks, found};
use super::shape::spread;
use super::slot::SlotRow;
use super::{Basis, Book, Finding, Sheet, Slot};
use crate::engine::{
    FindingFeature, FindingKey, ItemKind, Layout, Measure, Place, Plane, Setup, SheetKey, SlotFeature, TargetFeature,
    Weighed,
};
use crate::mechanics::balance::{self, CylinderMasses};
use crate::metrology::GaugeKind;
use std::convert::Infallible;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Balance,
    edition: EDITION,
    title: "Weights and balance",
    purpose: "Pistons, pins, rings, locks, rod ends and shells by the scale; the bobweight of each throw; what the balancer leaves. A pressed pin has locks of 0.",
    caution: "Stand clear of the plane of a spinning crank: a bobweight that lets go flies. Shield down, bobweights torqued, \
              nobody beside the machine.",
    reads: &[],
    finds: &[
        FindingFeature::Reciprocating,
        FindingFeature::Rotating,
        FindingFeature::Bobweight,
        FindingFeature::WeightSpread(Weighed::Piston),
        FindingFeature::WeightSpread(Weighed::Pin),
        FindingFeature::WeightSpread(Weighed::Rings),
        FindingFeature::WeightSpread(Weighed::Locks),
        FindingFeature::WeightSpread(Weighed::SmallEnd),
        FindingFeature::WeightSpread(Weighed::BigEnd),
        FindingFeature::WeightSpread(Weighed::RodShells),
        FindingFeature::PermissibleResidual,
        FindingFeature::Residual(Plane::Front),
        FindingFeature::Residual(Plane::Rear),
    ],
    main: FindingFeature::Bobweight,
    compared: &[
        FindingFeature::Bobweight,
        FindingFeature::Residual(Plane::Front),
        FindingFeature::Residual(Plane::Rear),
    ],
    options: None,
    slots,
    work_out,
};

const PISTONS: &str = "pistons";
const RODS: &str = "rods";
const LEFT: &str = "left after balancing";
const PLANES: [(Plane, &str); 2] = [(Plane::Front, "front plane"), (Plane::Rear, "rear plane")];
/// In kg·m: what a balancer shows of a crank at all.
const RESIDUAL_CAN_BE: (f64, f64) = (0.0, 0.01);

/// A grade’s number is in mm/s.
const MM_PER_M: f64 = 1000.0;

/// What goes up and down, in the order of the working, and what turns with the throw.
const RECIPROCATING: [Weighed; 5] = [Weighed::Piston, Weighed::Pin, Weighed::Rings, Weighed::Locks, Weighed::SmallEnd];
const ROTATING: [Weighed; 2] = [Weighed::BigEnd, Weighed::RodShells];

fn name(weighed: Weighed) -> &'static str {
    match weighed {
        Weighed::Piston => "piston",
        Weighed::Pin => "pin",
        Weighed::Rings => "rings",
        Weighed::Locks => "locks",
        Weighed::SmallEnd => "small end",
        Weighed::BigEnd => "big end",
        Weighed::RodShells => "shells",
    }
}

fn slots(setup: &Setup) -> Vec<Slot> {
    let row = |feature, weighed: Weighed, all: bool| -> SlotRow {
        let label = match (weighed, all) {
            (Weighed::Piston, true) => "piston, one figure for all",
            (Weighed::Pin, true) => "pin, one figure for all",
            (Weighed::Rings, true) => "rings of a piston, one figure for all",
            (Weighed::Locks, true) => "locks of a pin, one figure for all",
            (Weighed::SmallEnd, true) => "rod small end, one figure for all",
            (Weighed::BigEnd, true) => "rod big end with cap and bolts, one figure for all",
            (Weighed::RodShells, true) => "shells of a rod, one figure for all",
            (Weighed::BigEnd, false) => "big end with cap and bolts",
            (Weighed::RodShells, false) => "both shells",
            (Weighed::Rings, false) => "all its rings",
            (Weighed::Locks, false) => "both locks",
            (other, false) => name(other),
        };
        match weighed {
            Weighed::Piston | Weighed::Pin | Weighed::Rings | Weighed::Locks => {
                (feature, label, PISTONS, GaugeKind::Scale, ItemKind::Piston)
            }
            Weighed::SmallEnd | Weighed::BigEnd | Weighed::RodShells => {
                (feature, label, RODS, GaugeKind::Scale, ItemKind::Rod)
            }
        }
    };
    let mut slots: Vec<Slot> =
        Weighed::ALL.map(|w| Slot::of(setup, Place::AllCylinders, row(SlotFeature::WeightStated(w), w, true))).into();
    for place in setup.architecture.cylinders_in_order() {
        slots.extend(Weighed::ALL.map(|w| Slot::of(setup, place, row(SlotFeature::Weight(w), w, false))));
    }
    slots.extend(PLANES.map(|(plane, label)| {
        let row: SlotRow = (SlotFeature::Residual(plane), label, LEFT, GaugeKind::Other, ItemKind::Crank);
        Slot::of(setup, Place::Engine, row).between(RESIDUAL_CAN_BE.0, RESIDUAL_CAN_BE.1)
    }));
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    let engine = &book.setup.architecture;
    let mut findings: Vec<Finding> = engine
        .cylinders_in_order()
        .into_iter()
        .flat_map(|place| {
            let (up, round) = (FindingFeature::Reciprocating, FindingFeature::Rotating);
            [
                found(together(book, place, up.clone(), &RECIPROCATING, reciprocating_kg), up, place),
                found(together(book, place, round.clone(), &ROTATING, rotating_kg), round, place),
            ]
        })
        .collect();
    let with_offer = |throw| {
        let mut finding = found(bobweight(book, throw, &findings), FindingFeature::Bobweight, throw);
        finding.remarks.extend(offered(book).into_iter().filter(|_| finding.value.is_none()));
        finding
    };
    let bobweights: Vec<Finding> = engine.throw_places().map(with_offer).collect();
    findings.extend(bobweights);
    findings.extend(Weighed::ALL.into_iter().filter_map(|weighed| weight_spread(book, weighed)));
    let permissible = permissible(book);
    findings.extend(PLANES.iter().filter_map(|(plane, at)| residual(book, *plane, at, permissible.as_ref())));
    findings.extend(permissible);
    judge_all(&mut findings, book);
    findings
}

/// What was weighed of a cylinder, or stated for all.
fn weighed(book: &Book, weighed: Weighed, place: Place) -> Result<Figure, Lack> {
    let stated = SlotFeature::WeightStated(weighed);
    Figure::read(book, SlotFeature::Weight(weighed), Some(&stated), place, name(weighed))
}

fn grams(book: &Book, figure: &Figure) -> String {
    book.words().number(Measure::MASS, figure.si())
}

/// The sum of parts of one cylinder that move together.
fn together(
    book: &Book,
    place: Place,
    feature: FindingFeature,
    parts: &[Weighed],
    sum: fn(&[f64]) -> f64,
) -> Result<Finding, Lack> {
    let mut lacks = Lacks::default();
    let masses: Vec<Figure> = parts.iter().filter_map(|&part| lacks.seek(weighed(book, part, place))).collect();
    if masses.len() < parts.len() {
        return Err(lacks.all());
    }
    let of: Vec<&Figure> = masses.iter().collect();
    let whole = Figure::worked(feature.title(), Measure::MASS, book, &of, |x| Ok::<_, Infallible>(sum(x)))?;
    let of = parts.iter().zip(&masses).map(|(&part, mass)| format!("{} {}", name(part), grams(book, mass)));
    let of = of.collect::<Vec<_>>().join(" + ");
    let working = vec![format!("{of} = {}", book.words().said(Measure::MASS, whole.si()))];
    Ok(Finding { working, ..whole.finding(feature, place) })
}

/// In the order of [`RECIPROCATING`].
fn reciprocating_kg(x: &[f64]) -> f64 {
    let masses = CylinderMasses { piston_kg: x[0], pin_kg: x[1], rings_kg: x[2], locks_kg: x[3], ..Default::default() };
    CylinderMasses { small_end_kg: x[4], ..masses }.reciprocating_kg()
}

/// In the order of [`ROTATING`].
fn rotating_kg(x: &[f64]) -> f64 {
    CylinderMasses { big_end_kg: x[0], shells_kg: x[1], ..Default::default() }.rotating_kg()
}

/// What rotates with the rods of a throw, the part of what goes up and down that the factor says, and the oil.
fn bobweight(book: &Book, throw: Place, of_cylinders: &[Finding]) -> Result<Finding, Lack> {
    let cylinders = book.setup.architecture.cylinders_on(throw);
    let mut lacks = Lacks::default();
    let mut of_rods = |feature: &FindingFeature| -> Vec<Figure> {
        let of = cylinders.iter().filter_map(|&place| {
            let found = of_cylinders.iter().find(|finding| finding.key == FindingKey::new(feature.clone(), place))?;
            lacks.seek(Figure::from_finding(book, found, place, feature.title()))
        });
        of.collect()
    };
    let rotating = of_rods(&FindingFeature::Rotating);
    let reciprocating = of_rods(&FindingFeature::Reciprocating);
    let mut given = |feature, name| lacks.seek(Figure::given(book, feature, Place::Engine, name));
    let factor = given(TargetFeature::BalanceFactor, "balance factor");
    let oil = given(TargetFeature::OilMass, "oil counted in a bobweight");
    let complete = rotating.len() == cylinders.len() && reciprocating.len() == cylinders.len();
    let (Some(factor), Some(oil), true) = (factor, oil, complete) else { return Err(lacks.all()) };
    let of: Vec<&Figure> = rotating.iter().chain(&reciprocating).chain([&factor, &oil]).collect();
    let rods = cylinders.len();
    let whole = Figure::worked("bobweight", Measure::MASS, book, &of, |x| {
        let of_rod = |rod: usize| CylinderMasses { big_end_kg: x[rod], piston_kg: x[rods + rod], ..Default::default() };
        let all: Vec<CylinderMasses> = (0..rods).map(of_rod).collect();
        balance::bobweight_kg(&all, x[2 * rods], x[2 * rods + 1])
    })?;
    let sum = |figures: &[Figure]| {
        let told = figures.iter().map(|figure| grams(book, figure)).collect::<Vec<_>>().join(" + ");
        if figures.len() > 1 { format!("({told})") } else { told }
    };
    let words = book.words();
    let factor = words.number(Measure::NUMBER, factor.si());
    let mut finding = whole.finding(FindingFeature::Bobweight, throw);
    finding.working.push(format!(
        "rotating {} + {factor} × reciprocating {} + oil {} = {}",
        sum(&rotating),
        sum(&reciprocating),
        grams(book, &oil),
        words.said(Measure::MASS, whole.si())
    ));
    finding.remarks.push("factor and oil as given with the job: oil on a running throw is a convention".to_owned());
    Ok(finding)
}

/// What is commonly put in where nothing is given; never put in unasked.
fn offered(book: &Book) -> Vec<String> {
    let engine = &book.setup.architecture;
    let not_given = |feature| book.setup.target(feature, Place::Engine).is_none();
    let usual = match (engine.layout(), engine.cylinders()) {
        (Layout::Vee, _) => "0.5, for a vee of 90°; others by the maker’s figure",
        (Layout::Inline, n) if n == 2 || !n.is_multiple_of(2) => "0.5, for a crank whose throws do not cancel",
        (Layout::Inline | Layout::Opposed, _) => "0, no bobweight of what goes up and down, where the throws cancel",
    };
    let factor =
        not_given(TargetFeature::BalanceFactor).then(|| format!("balance factor: common practice, no source: {usual}"));
    let oil =
        not_given(TargetFeature::OilMass).then(|| "oil: common practice, no source: 3 to 5 g for a throw".to_owned());
    factor.into_iter().chain(oil).collect()
}

/// The heaviest less the lightest of what was weighed by itself.
fn weight_spread(book: &Book, weighed: Weighed) -> Option<Finding> {
    let feature = FindingFeature::WeightSpread(weighed);
    let read = |place| {
        let (value, taken) = book.figure(SlotFeature::Weight(weighed), place)?;
        let finding = Finding::new(feature.clone(), place, Basis::Readings);
        Some(Finding { value: Some(value), readings: taken.readings.clone(), ..finding })
    };
    let each: Vec<Finding> = book.setup.architecture.cylinders_in_order().into_iter().filter_map(read).collect();
    let apart = Finding::new(feature.clone(), Place::AllCylinders, Basis::Readings);
    spread(apart, &feature, &each, book)
}

/// What each plane may be left with, half of the whole; none where neither grade nor mass is given.
fn permissible(book: &Book) -> Option<Finding> {
    let given = |target| book.setup.target(target, Place::Engine).is_some();
    let asked = given(TargetFeature::BalanceGrade) || given(TargetFeature::CrankMass);
    asked.then(|| found(permissible_by_grade(book), FindingFeature::PermissibleResidual, Place::Engine))
}

fn permissible_by_grade(book: &Book) -> Result<Finding, Lack> {
    let mut lacks = Lacks::default();
    let mut given = |target, name| lacks.seek(Figure::given(book, target, Place::Engine, name));
    let sought = (
        given(TargetFeature::BalanceGrade, "balance grade"),
        given(TargetFeature::CrankMass, "crank mass"),
        given(TargetFeature::HighestSpeed, "highest speed"),
    );
    let (Some(grade), Some(mass), Some(speed)) = sought else { return Err(lacks.all()) };
    let each = Figure::worked("permissible", Measure::UNBALANCE, book, &[&grade, &mass, &speed], |x| {
        let whole = balance::permissible_unbalance_kg_m(x[0] / MM_PER_M, x[1], x[2])?;
        balance::permissible_by_plane_kg_m(whole, 1.0, 1.0).map(|[front, _]| front)
    })?;
    let words = book.words();
    let mut finding = each.finding(FindingFeature::PermissibleResidual, Place::Engine);
    finding.working.push(format!(
        "½ × {} mm/s × {} / {} = {}",
        words.number(Measure::NUMBER, grade.si()),
        words.said(Measure::MASS, mass.si()),
        words.said(Measure::ROTATION, speed.si()),
        words.said(Measure::UNBALANCE, each.si())
    ));
    finding.remarks.push("ISO 21940-11; halved, as for planes equally far from the centre of mass".to_owned());
    Ok(finding)
}

/// What the balancer shows at a plane, beside what is permissible there.
fn residual(book: &Book, plane: Plane, at: &'static str, permissible: Option<&Finding>) -> Option<Finding> {
    let read =
        AsRead { slot: SlotFeature::Residual(plane), stated: None, finding: FindingFeature::Residual(plane), name: at };
    let mut finding = read.if_read(book, Place::Engine)?;
    let words = book.words();
    let left = finding.value.as_ref()?.value();
    if let Some(speed) = book.setup.target(TargetFeature::HighestSpeed, Place::Engine) {
        let pull = balance::unbalance_force_n(left, speed);
        let said = (words.said(Measure::ROTATION, speed), words.said(Measure::FORCE, pull));
        finding.working.push(format!("at {} it pulls with {}", said.0, said.1));
    }
    if let Some(most) = permissible.and_then(|finding| finding.value.as_ref()) {
        let is = if left <= most.value() { "within" } else { "above" };
        finding.remarks.push(format!("{is} the {} permissible", words.said(Measure::UNBALANCE, most.value())));
    }
    Some(finding)
}
