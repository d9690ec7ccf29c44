//! Main bearings: the clearance by any of four routes, the journal's shape, and whether routes agree.

use super::shape::{Section, out_of_round, spread, taper};
use super::{Basis, Book, Depth, Finding, Sheet, Slot};
use crate::engine::{
    FindingFeature, ItemKind, ItemRef, Place, Plane, Quarter, Setup, SheetKey, Shell, SlotFeature, SlotKey, Spot,
    TargetFeature,
};
use crate::mechanics::bearing;
use crate::metrology::{self, Band, GaugeKind, Judgement, Measured, Verdict, propagate};

const EDITION: u32 = 2;

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
    let mut slots = vec![stated(Place::AllMains, "one figure for all")];
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
        material: match kind {
            _ if small => None,
            ItemKind::Block => setup.materials.block,
            ItemKind::Crank => setup.materials.crank,
            _ => None,
        },
        set_at_each_place: group == DIRECT,
        key,
    }
}

fn work_out(book: &Book) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        book.setup.architecture.main_places().flat_map(|place| one_main(book, place)).collect();
    let apart = Finding::new(FindingFeature::MainClearanceSpread, Place::AllMains, Basis::Readings);
    if let Some(mut apart) = spread(apart, &FindingFeature::MainClearance(Spot::Vertical), &findings, book) {
        apart.judge_by(book.limit(&apart.key.feature, Place::AllMains), None, book.rule);
        findings.push(apart);
    }
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
    findings.extend(journal.iter().flat_map(|journal| journal.shape(book, place)));
    for finding in &mut findings {
        let limit = book.limit(&finding.key.feature, place);
        finding.judge_by(limit, journal_m, book.rule);
    }
    findings.extend(agreement(book, place, &vertical));
    findings
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

    fn section(&self, at: &'static str, plane: Plane) -> Section<'_> {
        Section { at, across: [self.at(plane, Quarter::Zero), self.at(plane, Quarter::Ninety)] }
    }

    fn shape(&self, book: &Book, place: Place) -> Vec<Finding> {
        let begin = |feature| Finding { readings: self.ids.clone(), ..Finding::new(feature, place, Basis::Readings) };
        let ends = [self.section("front", Plane::Front), self.section("rear", Plane::Rear)];
        let [front, rear] = &ends;
        let round = out_of_round(begin(FindingFeature::MainJournalOutOfRound), &ends, book.words());
        let taper = taper(begin(FindingFeature::MainJournalTaper), front, rear, ["0°", "90°"], book.words());
        round.into_iter().chain(taper).collect()
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
    let mut finding = Finding::new(FindingFeature::MainClearance(spot), place, Basis::Readings);
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
    let finding = if let Some(taken) = book.stated(&SlotFeature::MainClearanceStated, place) {
        Finding::stated(feature, place, taken, book.words())
    } else {
        let missing = format!("clearance of {}", book.setup.architecture.label(place));
        Finding::new(feature, place, Basis::Missing { missing })
    };
    Finding { target, ..finding }
}

fn ratio(book: &Book, place: Place, clearance: &Finding, journal: Option<&Journal>) -> Option<Finding> {
    let words = book.words();
    let value = clearance.value.as_ref()?;
    let target = book.setup.target(TargetFeature::MainJournal, place).and_then(|target| Measured::exact(target).ok());
    let diameter = journal.map(|j| &j.largest).or(target.as_ref())?;
    let ratio = propagate(&[value, diameter], |x| bearing::relative_clearance(x[0], x[1])).ok()?;
    let mut finding = Finding::new(FindingFeature::MainClearanceRatio, place, clearance.basis.clone());
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
    let mut finding = Finding::new(FindingFeature::MainRoutes, place, Basis::Readings);
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
