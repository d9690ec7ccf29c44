//! Main bearings: the clearance by any of four routes, the journal's shape, and whether routes agree.

use super::{Basis, Book, Depth, Finding, Sheet, Slot};
use crate::engine::{
    FindingFeature, FindingKey, ItemKind, ItemRef, Place, Plane, Quarter, Setup, SheetKey, Shell, SlotFeature, SlotKey,
    Spot, TargetFeature,
};
use crate::mechanics::{bearing, bore};
use crate::metrology::{self, Band, GaugeKind, Judgement, Measured, Verdict, propagate, range_within_noise};
use crate::quantity::Dimension;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::MainBearings,
    edition: EDITION,
    title: "Main bearings",
    purpose: "Clearance at every main, by the bore gauge on the journal, shells in, housing and shells, or plastic strip.",
    caution: "Caps on their own places, fasteners and lubricant as they will run. Measure shells at the crown, no dirt behind them.",
    reads: &[],
    finds: &[
        FindingFeature::MainClearance(Spot::Vertical),
        FindingFeature::MainClearance(Spot::Parting),
        FindingFeature::MainClearanceRatio,
        FindingFeature::MainJournalOutOfRound,
        FindingFeature::MainJournalTaper,
        FindingFeature::MainRoutes,
        FindingFeature::MainClearanceSpread,
    ],
    slots,
    work_out,
};

const DIRECT: &str = "gauge zeroed on the journal";
const SHELL_BORE: &str = "shells in, cap down";
const HOUSING: &str = "housing and shells";
const STRIP: &str = "plastic strip";
const JOURNAL: &str = "journal";

/// Bench order within one main: feature, label, route, gauge, item, spoken of in the small unit.
type Row = (SlotFeature, &'static str, &'static str, GaugeKind, ItemKind, bool);
const ROWS: [Row; 13] = {
    use GaugeKind::{BallMicrometer, BoreGauge, OutsideMicrometer, PlasticStrip};
    use ItemKind::{Block, Crank, MainShells};
    use SlotFeature as F;
    [
        (F::MainClearanceDirect(Spot::Vertical), "clearance, vertical", DIRECT, BoreGauge, Block, true),
        (F::MainClearanceDirect(Spot::Parting), "clearance, near the parting line", DIRECT, BoreGauge, Block, true),
        (F::MainJournal(Plane::Front, Quarter::Zero), "front, 0°", JOURNAL, OutsideMicrometer, Crank, false),
        (F::MainJournal(Plane::Front, Quarter::Ninety), "front, 90°", JOURNAL, OutsideMicrometer, Crank, false),
        (F::MainJournal(Plane::Rear, Quarter::Zero), "rear, 0°", JOURNAL, OutsideMicrometer, Crank, false),
        (F::MainJournal(Plane::Rear, Quarter::Ninety), "rear, 90°", JOURNAL, OutsideMicrometer, Crank, false),
        (F::MainShellBore(Spot::Vertical), "bore, vertical", SHELL_BORE, BoreGauge, Block, false),
        (F::MainShellBore(Spot::Parting), "bore, near the parting line", SHELL_BORE, BoreGauge, Block, false),
        (F::MainHousing(Spot::Vertical), "housing, vertical", HOUSING, BoreGauge, Block, false),
        (F::MainHousing(Spot::Parting), "housing, near the parting line", HOUSING, BoreGauge, Block, false),
        (F::MainShellWall(Shell::Upper), "upper shell, crown", HOUSING, BallMicrometer, MainShells, false),
        (F::MainShellWall(Shell::Lower), "lower shell, crown", HOUSING, BallMicrometer, MainShells, false),
        (F::MainPlasticStrip, "strip", STRIP, PlasticStrip, Block, true),
    ]
};

fn slots(setup: &Setup) -> Vec<Slot> {
    let stated = |place, label| {
        let row = (SlotFeature::MainClearanceStated, label, "stated", GaugeKind::Other, ItemKind::Block, true);
        slot(setup, place, row, Depth::Stated)
    };
    let mut slots = vec![stated(Place::AllMains, "all mains")];
    for place in setup.architecture.main_places() {
        slots.push(stated(place, "one figure"));
        slots.extend(ROWS.map(|row| slot(setup, place, row, Depth::Each)));
    }
    slots
}

fn slot(setup: &Setup, place: Place, (feature, label, group, gauge, kind, small): Row, depth: Depth) -> Slot {
    let key = SlotKey::new(feature, place);
    let wall = matches!(key.feature, SlotFeature::MainShellWall(_));
    let item = match kind {
        ItemKind::MainShells => ItemRef { kind, place },
        single => ItemRef::single(single),
    };
    Slot {
        target: setup.target_of(&key),
        label,
        group,
        depth,
        gauge,
        item,
        small,
        possible: match (small, wall) {
            (true, _) => (0.0, 0.001),
            (false, true) => (0.0005, 0.02),
            (false, false) => (0.01, 0.5),
        },
        material: (kind == ItemKind::Block && !small).then_some(setup.block_material).flatten(),
        set_at_each_place: group == DIRECT,
        key,
    }
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        book.setup.architecture.main_places().flat_map(|place| one_main(book, place)).collect();
    findings.extend(spread(book, &findings));
    findings
}

fn one_main(book: &Book, place: Place) -> Vec<Finding> {
    let journal = journal(book, place);
    let vertical = routes(book, place, Spot::Vertical, journal.as_ref());
    let parting = routes(book, place, Spot::Parting, journal.as_ref());
    let journal_m =
        journal.as_ref().map(|j| j.largest.value()).or_else(|| book.setup.target(TargetFeature::MainJournal, place));

    let mut clearance = match vertical.first() {
        Some(route) => from_route(book, place, Spot::Vertical, route),
        None => not_by_route(book, place),
    };
    clearance
        .remarks
        .extend(vertical.iter().skip(1).map(|r| format!("by {}: {}", r.name, book.words().small(r.value.value()))));
    let ratio = ratio(book, place, &clearance, journal.as_ref());
    let mut findings = vec![clearance];
    findings.extend(parting.first().map(|route| from_route(book, place, Spot::Parting, route)));
    findings.extend(ratio);
    findings.extend(journal.as_ref().and_then(|j| j.out_of_round(book, place)));
    findings.extend(journal.as_ref().and_then(|j| j.taper(book, place)));
    for finding in &mut findings {
        let limit = book.limit(&finding.key.feature, place);
        finding.judge_by(limit, journal_m, book.rule);
    }
    findings.extend(agreement(book, place, &vertical));
    findings
}

fn begin(feature: FindingFeature, place: Place, basis: Basis) -> Finding {
    Finding::new(FindingKey::new(feature, place), Dimension::Length, true, basis)
}

/// A journal's readings.
struct Journal {
    largest: Measured,
    read: Vec<(Plane, Quarter, Measured)>,
    ids: Vec<String>,
}

fn journal(book: &Book, place: Place) -> Option<Journal> {
    let mut read = Vec::new();
    let mut ids = Vec::new();
    for plane in [Plane::Front, Plane::Rear] {
        for quarter in [Quarter::Zero, Quarter::Ninety] {
            if let Some((value, taken)) = book.figure(SlotFeature::MainJournal(plane, quarter), place) {
                ids.extend(taken.readings.iter().cloned());
                read.push((plane, quarter, value));
            }
        }
    }
    let largest = read.iter().map(|(.., v)| v).max_by(|a, b| a.value().total_cmp(&b.value()))?.clone();
    Some(Journal { largest, read, ids })
}

impl Journal {
    fn at(&self, plane: Plane, quarter: Quarter) -> Option<&Measured> {
        self.read.iter().find(|(p, q, _)| (*p, *q) == (plane, quarter)).map(|(.., value)| value)
    }

    fn out_of_round(&self, book: &Book, place: Place) -> Option<Finding> {
        let worst = [Plane::Front, Plane::Rear]
            .into_iter()
            .filter_map(|plane| {
                let pair = (self.at(plane, Quarter::Zero)?, self.at(plane, Quarter::Ninety)?);
                Some((plane, pair, bore::out_of_round_m(pair.0.value(), pair.1.value())))
            })
            .max_by(|a, b| a.2.total_cmp(&b.2))?;
        let (plane, (zero, ninety), value) = worst;
        let end = if plane == Plane::Front { "front" } else { "rear" };
        let words = book.words();
        let working = format!(
            "largest at the {end}: |{} − {}| = {}",
            words.size_number(zero.value()),
            words.size_number(ninety.value()),
            words.small(value)
        );
        self.difference(FindingFeature::MainJournalOutOfRound, place, zero, ninety, working)
    }

    fn taper(&self, book: &Book, place: Place) -> Option<Finding> {
        let both = |plane| {
            let quarters = [Quarter::Zero, Quarter::Ninety];
            let read: Vec<&Measured> = quarters.into_iter().filter_map(|q| self.at(plane, q)).collect();
            metrology::mean(&read).ok().map(|mean| (mean, read.len()))
        };
        let ((front, front_count), (rear, rear_count)) = (both(Plane::Front)?, both(Plane::Rear)?);
        if front_count != rear_count {
            return None;
        }
        let words = book.words();
        let working = format!(
            "front {} − rear {} = {}",
            words.size_number(front.value()),
            words.size_number(rear.value()),
            words.small(bore::taper_m(front.value(), rear.value()))
        );
        self.difference(FindingFeature::MainJournalTaper, place, &front, &rear, working)
    }

    /// The size of a difference, with the uncertainty of the difference before its sign was dropped.
    fn difference(
        &self,
        feature: FindingFeature,
        place: Place,
        a: &Measured,
        b: &Measured,
        working: String,
    ) -> Option<Finding> {
        let mut finding = begin(feature, place, Basis::Readings);
        let signed = metrology::difference(a, b).ok()?;
        let size = signed.value().abs();
        finding.within_noise = range_within_noise(size, 2, signed.u() / 2.0_f64.sqrt());
        if finding.within_noise {
            finding.remarks.push("within what the gauge can tell: no more than noise".to_owned());
        }
        finding.value = Measured::new(size, signed.parts().clone()).ok();
        finding.working.push(working);
        finding.readings.clone_from(&self.ids);
        Some(finding)
    }
}

/// A clearance by one route.
struct Route {
    name: &'static str,
    value: Measured,
    working: String,
    ids: Vec<String>,
}

/// The routes taken, the surest first.
fn routes(book: &Book, place: Place, spot: Spot, journal: Option<&Journal>) -> Vec<Route> {
    let words = book.words();
    let mut routes = Vec::new();
    if let Some((value, taken)) = book.figure(SlotFeature::MainClearanceDirect(spot), place) {
        let working = format!("read {} with the {DIRECT}", words.small(value.value()));
        routes.push(Route { name: DIRECT, value, working, ids: taken.readings.clone() });
    }
    if let (Some((shells, taken)), Some(journal)) = (book.figure(SlotFeature::MainShellBore(spot), place), journal) {
        let both = propagate(&[&shells, &journal.largest], |x| bearing::clearance_from_shell_bore_m(x[0], x[1]));
        if let Ok(value) = both {
            let working = format!(
                "shells in {} − journal {} = {}",
                words.size_number(shells.value()),
                words.size_number(journal.largest.value()),
                words.small(value.value())
            );
            let ids = taken.readings.iter().chain(&journal.ids).cloned().collect();
            routes.push(Route { name: SHELL_BORE, value, working, ids });
        }
    }
    // Shell walls thin towards the parting line, so housing and crown walls give the vertical clearance only.
    if spot == Spot::Vertical {
        routes.extend(journal.and_then(|journal| from_housing(book, place, journal)));
        if let Some((value, taken)) = book.figure(SlotFeature::MainPlasticStrip, place) {
            let working = format!("strip reads {}", words.small(value.value()));
            routes.push(Route { name: STRIP, value, working, ids: taken.readings.clone() });
        }
    }
    routes
}

fn from_housing(book: &Book, place: Place, journal: &Journal) -> Option<Route> {
    let words = book.words();
    let (housing, taken) = book.figure(SlotFeature::MainHousing(Spot::Vertical), place)?;
    let upper = book.figure(SlotFeature::MainShellWall(Shell::Upper), place);
    let lower = book.figure(SlotFeature::MainShellWall(Shell::Lower), place);
    // One shell measured speaks for both.
    let (one, other) = (upper.as_ref().or(lower.as_ref())?, lower.as_ref().or(upper.as_ref())?);
    let inputs = [&housing, &one.0, &other.0, &journal.largest];
    let value = propagate(&inputs, |x| bearing::clearance_from_housing_m(x[0], x[1], x[2], x[3])).ok()?;
    let working = format!(
        "housing {} − shells {} − {} − journal {} = {}",
        words.size_number(housing.value()),
        words.size_number(one.0.value()),
        words.size_number(other.0.value()),
        words.size_number(journal.largest.value()),
        words.small(value.value())
    );
    let shells = [upper.as_ref(), lower.as_ref()].into_iter().flatten().flat_map(|(_, t)| t.readings.iter());
    let ids = taken.readings.iter().chain(shells).chain(&journal.ids).cloned().collect();
    Some(Route { name: HOUSING, value, working, ids })
}

fn from_route(book: &Book, place: Place, spot: Spot, route: &Route) -> Finding {
    let mut finding = begin(FindingFeature::MainClearance(spot), place, Basis::Readings);
    finding.value = Some(route.value.clone());
    finding.working.push(route.working.clone());
    finding.readings.clone_from(&route.ids);
    if spot == Spot::Vertical {
        finding.target = book.setup.target(TargetFeature::MainClearance, place);
    }
    finding
}

/// No route taken: what is stated for the main or for all, or what is missing.
fn not_by_route(book: &Book, place: Place) -> Finding {
    let feature = FindingFeature::MainClearance(Spot::Vertical);
    let target = book.setup.target(TargetFeature::MainClearance, place);
    let mut finding = match book.stated(&SlotFeature::MainClearanceStated, place) {
        Some(taken) => {
            let basis = taken.checked().map_or(Basis::Stated, |how| Basis::Checked { how: how.to_owned() });
            let mut finding = begin(feature, place, basis);
            finding.value = taken.figure();
            finding.range = taken.range();
            finding.readings.clone_from(&taken.readings);
            finding.working.push(stated_words(book, &finding));
            finding
        }
        None => {
            let missing = format!("clearance of {}", book.setup.architecture.label(place));
            begin(feature, place, Basis::Missing { missing })
        }
    };
    finding.target = target;
    finding
}

fn stated_words(book: &Book, finding: &Finding) -> String {
    let words = book.words();
    match (&finding.basis, finding.range, &finding.value) {
        (Basis::Checked { how }, ..) => format!("checked good: {how}"),
        (_, Some((low, high)), _) => format!("stated {} to {}", words.small(low), words.small(high)),
        (_, None, Some(value)) => format!("stated {}", words.small(value.value())),
        (_, None, None) => String::new(),
    }
}

fn ratio(book: &Book, place: Place, clearance: &Finding, journal: Option<&Journal>) -> Option<Finding> {
    let words = book.words();
    let value = clearance.value.as_ref()?;
    let target = book.setup.target(TargetFeature::MainJournal, place).and_then(|target| Measured::exact(target).ok());
    let diameter = journal.map(|j| &j.largest).or(target.as_ref())?;
    let ratio = propagate(&[value, diameter], |x| bearing::relative_clearance(x[0], x[1])).ok()?;
    let key = FindingKey::new(FindingFeature::MainClearanceRatio, place);
    let mut finding = Finding::new(key, Dimension::Ratio, true, clearance.basis.clone());
    finding.working.push(format!(
        "{} / {} = {}",
        words.small(value.value()),
        words.size(diameter.value()),
        words.ratio(ratio.value())
    ));
    if journal.is_none() {
        finding.remarks.push("on the journal's target size".to_owned());
    }
    finding.value = Some(ratio);
    finding.readings.clone_from(&clearance.readings);
    Some(finding)
}

/// The surest route against the one that differs from it most, in terms of what both can tell.
fn agreement(book: &Book, place: Place, routes: &[Route]) -> Option<Finding> {
    let (first, others) = routes.split_first()?;
    let compare = |other: &Route| {
        let difference = metrology::difference(&first.value, &other.value).ok()?;
        let allowed = difference.expanded(2.0);
        Some((other.name, difference.value().abs() / allowed, difference))
    };
    let (name, in_terms_of_u, difference) = others.iter().filter_map(compare).max_by(|a, b| a.1.total_cmp(&b.1))?;
    let words = book.words();
    let allowed = difference.expanded(2.0);
    let agree = in_terms_of_u <= 1.0;
    let mut finding = begin(FindingFeature::MainRoutes, place, Basis::Readings);
    finding.working.push(format!(
        "{} less {name}: {}, and the two can tell ± {}",
        first.name,
        words.small(difference.value()),
        words.small(allowed)
    ));
    finding.remarks.push(if agree {
        "the routes agree within what they can tell".to_owned()
    } else {
        "the routes do not agree: look at shells, cap, torque, dirt and the gauge's zero".to_owned()
    });
    finding.band = Band::new(Some(-allowed), Some(allowed)).ok();
    finding.judgement = Some(Judgement {
        verdict: if agree { Verdict::Good } else { Verdict::Out },
        on_the_line: false,
        margin: allowed - difference.value().abs(),
    });
    finding.value = Some(difference);
    finding.readings = routes.iter().flat_map(|route| route.ids.iter().cloned()).collect();
    Some(finding)
}

/// Largest vertical clearance less smallest, once at least two are read.
fn spread(book: &Book, findings: &[Finding]) -> Option<Finding> {
    let read: Vec<(&Finding, &Measured)> = findings
        .iter()
        .filter(|f| f.key.feature == FindingFeature::MainClearance(Spot::Vertical) && f.basis == Basis::Readings)
        .filter_map(|f| Some((f, f.value.as_ref()?)))
        .collect();
    let least = read.iter().min_by(|a, b| a.1.value().total_cmp(&b.1.value()))?;
    let greatest = read.iter().max_by(|a, b| a.1.value().total_cmp(&b.1.value()))?;
    if read.len() < 2 {
        return None;
    }
    let words = book.words();
    let label = |f: &Finding| book.setup.architecture.label(f.key.place);
    let difference = metrology::difference(greatest.1, least.1).ok()?;
    let mut finding = begin(FindingFeature::MainClearanceSpread, Place::AllMains, Basis::Readings);
    finding.working.push(format!(
        "{} {} − {} {} = {}",
        label(greatest.0),
        words.small(greatest.1.value()),
        label(least.0),
        words.small(least.1.value()),
        words.small(difference.value())
    ));
    finding.value = Some(difference);
    finding.readings = read.iter().flat_map(|(f, _)| f.readings.iter().cloned()).collect();
    finding.judge_by(book.limit(&finding.key.feature, Place::AllMains), None, book.rule);
    Some(finding)
}
