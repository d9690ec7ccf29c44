//! A plain bearing's clearance by any of four routes, and whether the routes agree: what mains and rods have in common.

use super::as_read::judge_all;
use super::disagreement::{Compared, explain};
use super::figure::Figure;
use super::film::{FilmFindings, Runs};
use super::journal::{Journal, JournalReads};
use super::shape::spread;
use super::slot::{ON_THE_JOURNAL, SlotRow};
use super::warm_bearing::{Bearing, curve, hot};
use super::{Basis, Book, Finding, Slot, choose_shims, crush, home_of, seating};
use crate::engine::{
    Architecture, Bearings, FindingFeature, FindingKey, ItemKind, ItemRef, Place, Setup, Shell, SlotFeature, Spot,
    TargetFeature,
};
use crate::mechanics::bearing;
use crate::metrology::{self, Band, GaugeKind, Judgement, Measured, Verdict, propagate};

const DIRECT: &str = "gauge zeroed on the journal";
const SHELL_BORE: &str = "shells in, cap down";
const HOUSING: &str = "housing and shells";
const STRIP: &str = "plastic strip";

/// Mains or rods: what their readings, findings and targets are called.
pub(super) struct Line {
    pub bearings: Bearings,
    pub stated: SlotFeature,
    pub direct: fn(Spot) -> SlotFeature,
    pub shell_bore: fn(Spot) -> SlotFeature,
    pub housing: fn(Spot) -> SlotFeature,
    pub wall: fn(Shell) -> SlotFeature,
    pub strip: SlotFeature,
    pub journal: JournalReads,
    /// The journal that a bearing runs on.
    pub runs_on: fn(&Architecture, Place) -> Place,
    pub clearance: fn(Spot) -> FindingFeature,
    pub ratio: FindingFeature,
    pub routes: FindingFeature,
    pub spread: FindingFeature,
    pub target: TargetFeature,
    pub hot: FindingFeature,
    pub film: FilmFindings,
    pub housing_target: TargetFeature,
    pub wall_target: TargetFeature,
    /// What is laid on each half, where walls are read bare.
    pub coating: TargetFeature,
    /// The housing that shells of another family are made for.
    pub made_for: TargetFeature,
    /// What its housing is part of, and its shells.
    pub housing_of: ItemKind,
    pub shells_of: ItemKind,
    /// Whether the housing is read here, as that of mains: a rod's big end has its home with the rods. Journals have theirs with
    /// the crankshaft.
    pub reads_housing: bool,
}

impl Line {
    /// All places, and each in bench order.
    fn whole(&self) -> Place {
        self.target.whole()
    }

    /// Bench order within one bearing.
    fn rows(&self) -> Vec<SlotRow> {
        use GaugeKind::{BallMicrometer, BoreGauge, PlasticStrip};
        let (housing, shells) = (self.housing_of, self.shells_of);
        let mut rows = vec![
            ((self.direct)(Spot::Vertical), "clearance, vertical", DIRECT, BoreGauge, housing),
            ((self.direct)(Spot::Parting), "clearance, near the parting line", DIRECT, BoreGauge, housing),
        ];
        rows.extend([
            ((self.shell_bore)(Spot::Vertical), "bore, vertical", SHELL_BORE, BoreGauge, housing),
            ((self.shell_bore)(Spot::Parting), "bore, near the parting line", SHELL_BORE, BoreGauge, housing),
        ]);
        if self.reads_housing {
            rows.extend([
                ((self.housing)(Spot::Vertical), "housing, vertical", HOUSING, BoreGauge, housing),
                ((self.housing)(Spot::Parting), "housing, near the parting line", HOUSING, BoreGauge, housing),
            ]);
        }
        rows.extend([
            ((self.wall)(Shell::Upper), "upper shell, crown", HOUSING, BallMicrometer, shells),
            ((self.wall)(Shell::Lower), "lower shell, crown", HOUSING, BallMicrometer, shells),
            (self.strip.clone(), "strip", STRIP, PlasticStrip, housing),
        ]);
        rows.extend(crush::rows(self.bearings, housing, shells));
        rows.extend(seating::rows(self.bearings, housing, shells));
        rows.extend(choose_shims::rows(self.bearings, housing));
        rows
    }

    pub fn slots(&self, setup: &Setup) -> Vec<Slot> {
        let stated = |place, label| {
            self.slot(setup, place, (self.stated.clone(), label, "stated", GaugeKind::Other, self.housing_of))
        };
        let mut slots = vec![stated(self.whole(), "one figure for all")];
        for place in setup.architecture.places_of(self.whole()) {
            slots.push(stated(place, "one figure"));
            slots.extend(self.rows().into_iter().map(|row| self.slot(setup, place, row)));
        }
        slots
    }

    fn slot(&self, setup: &Setup, place: Place, row: SlotRow) -> Slot {
        let direct = row.2 == DIRECT;
        let kind = row.4;
        let slot = Slot::of(setup, place, row);
        let wall = [Shell::Upper, Shell::Lower].map(self.wall).contains(&slot.key.feature);
        let sized = match (slot.measure().small, wall) {
            (true, _) if matches!(slot.key.feature, SlotFeature::ShellProud(..)) => slot.between(-0.001, 0.001),
            (true, _) => slot,
            (false, true) => slot.between(0.0005, 0.02),
            (false, false) if choose_shims::is_of(&slot.key.feature) => slot.between(0.0, 0.02),
            (false, false) if seating::is_of(&slot.key.feature) => slot.between(0.0005, 0.2),
            (false, false) => slot.between(0.01, 0.5),
        };
        let item = if kind == ItemKind::Rod { ItemRef { kind, place } } else { sized.item };
        Slot { set_at_each_place: direct.then_some(ON_THE_JOURNAL), item, ..sized }
    }

    pub fn work_out(&self, book: &Book) -> Vec<Finding> {
        let places = book.setup.architecture.places_of(self.whole());
        let mut findings: Vec<Finding> = places.iter().flat_map(|&place| self.one(book, place)).collect();
        let compared: Vec<Compared> = places.iter().filter_map(|&place| self.compared(book, place)).collect();
        let walls: Vec<f64> = places.iter().filter_map(|&place| self.wall_difference(book, place)).collect();
        explain(&mut findings, &compared, &walls, &|si| book.words().small(si));
        let apart = Finding::new(self.spread.clone(), self.whole(), Basis::Readings);
        let vertical = (self.clearance)(Spot::Vertical);
        let mut apart: Vec<Finding> = spread(apart, &vertical, &findings, book).into_iter().collect();
        judge_all(&mut apart, book);
        findings.extend(apart);
        findings
    }

    /// The two routes that share no reading but the journal, one less the other.
    fn compared(&self, book: &Book, place: Place) -> Option<Compared> {
        let journal = self.journal(book, place);
        let routes = self.taken_by(book, place, Spot::Vertical, journal.as_ref());
        let by = |name: &str| routes.iter().find(|route| route.name == name);
        let difference = metrology::difference(&by(HOUSING)?.value, &by(SHELL_BORE)?.value).ok()?;
        Some(Compared { key: FindingKey::new(self.routes.clone(), place), difference })
    }

    /// The shells read less those counted on.
    fn wall_difference(&self, book: &Book, place: Place) -> Option<f64> {
        let walls: Vec<f64> = self.walls_read(book, place);
        Some(metrology::mean_of(&walls)? - book.setup.target(self.wall_target, place)?)
    }

    fn walls_read(&self, book: &Book, place: Place) -> Vec<f64> {
        let read = |half| book.figure((self.wall)(half), place).map(|(value, _)| value.value());
        [Shell::Upper, Shell::Lower].into_iter().filter_map(read).collect()
    }

    /// The vertical clearance as the sheet finds it.
    pub fn found<'a>(&self, book: &'a Book, place: Place) -> Option<&'a Finding> {
        let key = FindingKey::new((self.clearance)(Spot::Vertical), place);
        book.finding(home_of(&key.feature)?, &key)
    }

    /// The journal's largest diameter, or its target.
    pub fn journal_m(&self, book: &Book, place: Place) -> Option<f64> {
        self.journal(book, place).map(|journal| journal.largest.value()).or_else(|| self.journal_target(book, place))
    }

    pub fn journal(&self, book: &Book, place: Place) -> Option<Journal> {
        self.journal.at(book, (self.runs_on)(&book.setup.architecture, place))
    }

    fn journal_target(&self, book: &Book, place: Place) -> Option<f64> {
        book.setup.target(self.journal.target, (self.runs_on)(&book.setup.architecture, place))
    }

    fn one(&self, book: &Book, place: Place) -> Vec<Finding> {
        let journal = self.journal(book, place);
        let vertical = self.taken_by(book, place, Spot::Vertical, journal.as_ref());
        let parting = self.taken_by(book, place, Spot::Parting, journal.as_ref());
        let journal_m = self.journal_m(book, place);

        let mut clearance = match vertical.first() {
            Some(route) => self.by_route(book, place, Spot::Vertical, route),
            None => self.not_by_route(book, place),
        };
        clearance
            .remarks
            .extend(vertical.iter().skip(1).map(|r| format!("by {}: {}", r.name, book.words().small(r.value.value()))));
        let ratio = self.per_diameter(book, place, &clearance, journal.as_ref());
        let mut findings = vec![clearance];
        findings.extend(parting.first().map(|route| self.by_route(book, place, Spot::Parting, route)));
        findings.extend(ratio);
        let bearing = self.warm(book, place, &findings[0], journal_m);
        let hot = hot(book, &self.hot, place, &bearing);
        let crush = crush::found(book, self.bearings, place, &bearing);
        let runs = Runs { clearance: &findings[0], hot: hot.as_ref(), journal_m };
        let film = self.film.found(book, place, &runs);
        findings.extend(hot.into_iter().chain(film).chain(crush).chain(self.seats(book, place)));
        for finding in &mut findings {
            let limit = book.limit(&finding.key.feature, place);
            finding.judge_by(limit, journal_m, book.rule);
        }
        findings.extend(self.agreement(book, place, &vertical));
        findings
    }

    /// The routes taken, the surest first.
    fn taken_by(&self, book: &Book, place: Place, spot: Spot, journal: Option<&Journal>) -> Vec<Route> {
        let words = book.words();
        let mut routes = Vec::new();
        if let Some((value, taken)) = book.figure((self.direct)(spot), place) {
            let working = format!("read {} with the {DIRECT}", words.small(value.value()));
            routes.push(Route { name: DIRECT, value, working, ids: taken.readings.clone() });
        }
        if let (Some((shells, taken)), Some(journal)) = (book.figure((self.shell_bore)(spot), place), journal) {
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
            routes.extend(journal.and_then(|journal| self.by_housing(book, place, journal)));
            if let Some((value, taken)) = book.figure(self.strip.clone(), place) {
                let working = format!("strip reads {}", words.small(value.value()));
                routes.push(Route { name: STRIP, value, working, ids: taken.readings.clone() });
            }
        }
        routes
    }

    fn by_housing(&self, book: &Book, place: Place, journal: &Journal) -> Option<Route> {
        let words = book.words();
        let (housing, taken) = book.figure((self.housing)(Spot::Vertical), place)?;
        let upper = book.figure((self.wall)(Shell::Upper), place);
        let lower = book.figure((self.wall)(Shell::Lower), place);
        // One shell measured speaks for both.
        let (one, other) = (upper.as_ref().or(lower.as_ref())?, lower.as_ref().or(upper.as_ref())?);
        let inputs = [&housing, &one.0, &other.0, &journal.largest];
        let coating = book.setup.target(self.coating, place);
        let coated = |bare: f64| bare + coating.unwrap_or(0.0);
        let clearance = |x: &[f64]| bearing::clearance_from_housing_m(x[0], coated(x[1]), coated(x[2]), x[3]);
        let value = propagate(&inputs, clearance).ok()?;
        let coating = coating.map_or_else(String::new, |each| format!("coating 2 × {} − ", words.small(each)));
        let working = format!(
            "housing {} − shells {} − {} − {coating}journal {} = {}",
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

    fn by_route(&self, book: &Book, place: Place, spot: Spot, route: &Route) -> Finding {
        let mut finding = Finding::new((self.clearance)(spot), place, Basis::Readings);
        finding.value = Some(route.value.clone());
        finding.working.push(route.working.clone());
        finding.readings.clone_from(&route.ids);
        if spot == Spot::Vertical {
            finding.target = book.setup.target(self.target, place);
        }
        finding
    }

    /// The clearance over temperature.
    pub fn curve(&self, book: &Book, place: Place) -> Option<Vec<(f64, f64)>> {
        let clearance = self.found(book, place)?;
        curve(book, &self.warm(book, place, clearance, self.journal_m(book, place)))
    }

    /// What a bearing is made of, sizes by what was read or else by their targets: growth hardly depends on them.
    fn warm<'a>(&self, book: &Book, place: Place, clearance: &'a Finding, journal_m: Option<f64>) -> Bearing<'a> {
        let read = |slot| book.figure(slot, place).map(|(value, _)| value.value());
        let walls = self.walls_read(book, place);
        let materials = book.setup.materials;
        let (housing, cap, whose) = match self.housing_of {
            ItemKind::Rod => (materials.rods, materials.rods, "rods’"),
            _ => (materials.block, materials.caps.or(materials.block), "block’s"),
        };
        Bearing {
            clearance,
            housing_m: read((self.housing)(Spot::Vertical)).or_else(|| book.setup.target(self.housing_target, place)),
            wall_m: metrology::mean_of(&walls).or_else(|| book.setup.target(self.wall_target, place)),
            journal_m,
            housing,
            cap,
            journal: materials.crank,
            whose,
        }
    }

    /// What of the shells was held against their seats.
    fn seats(&self, book: &Book, place: Place) -> Vec<Finding> {
        let housing = Figure::read(book, (self.housing)(Spot::Vertical), None, place, "housing");
        seating::found(book, self.bearings, place, self.made_for, housing)
    }

    /// No route taken: what is stated for the main or for all, or what is missing.
    fn not_by_route(&self, book: &Book, place: Place) -> Finding {
        let feature = (self.clearance)(Spot::Vertical);
        let target = book.setup.target(self.target, place);
        let finding = if let Some(taken) = book.stated(&self.stated, place) {
            Finding::stated(feature, place, taken, book.words())
        } else {
            let missing = format!("clearance of {}", book.setup.architecture.label(place));
            Finding::new(feature, place, Basis::Missing { missing })
        };
        Finding { target, ..finding }
    }

    fn per_diameter(
        &self,
        book: &Book,
        place: Place,
        clearance: &Finding,
        journal: Option<&Journal>,
    ) -> Option<Finding> {
        let words = book.words();
        let value = clearance.value.as_ref()?;
        let target = self.journal_target(book, place).and_then(|target| Measured::exact(target).ok());
        let diameter = journal.map(|j| &j.largest).or(target.as_ref())?;
        let ratio = propagate(&[value, diameter], |x| bearing::relative_clearance(x[0], x[1])).ok()?;
        let mut finding = Finding::new(self.ratio.clone(), place, clearance.basis.clone());
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
    fn agreement(&self, book: &Book, place: Place, routes: &[Route]) -> Option<Finding> {
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
        let mut finding = Finding::new(self.routes.clone(), place, Basis::Readings);
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
}

/// A clearance by one route.
struct Route {
    name: &'static str,
    value: Measured,
    working: String,
    ids: Vec<String>,
}
