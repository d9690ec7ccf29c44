//! The oil film of a bearing at the load and with the oil that somebody sets, to compare clearances, widths and oils by.

use super::figure::{Figure, Lack, Lacks};
use super::{Book, Finding, Words};
use crate::engine::{FindingFeature, Measure, Place, TargetFeature};
use crate::mechanics::film::{Bearing, Film, FilmFault, finite_bearing, short_bearing};
use crate::mechanics::oil::{Kinematic, Summer, Walther, density_kg_m3, dynamic_pa_s};
use crate::metrology::propagate;
use crate::quantity::Unit;

const COMPARISON: &str = "for comparing clearances, widths and oils, no promise: an engine’s load comes in turns, and heat, \
                          bending and grooves are left out";

/// What a line of bearings calls its film, and the targets that it stands on.
pub(super) struct FilmFindings {
    pub smallest: FindingFeature,
    pub power: FindingFeature,
    pub load: TargetFeature,
    pub length: TargetFeature,
}

/// How one bearing runs.
pub(super) struct Runs<'a> {
    /// Vertical, at 20 °C.
    pub clearance: &'a Finding,
    /// The same in the heat, where that is told.
    pub hot: Option<&'a Finding>,
    pub journal_m: Option<f64>,
}

/// A bearing of which everything is known but what its clearance is good to.
struct Known {
    clearance: Figure,
    is_hot: bool,
    bearing: Bearing,
    load_n: f64,
    oil_c: f64,
    /// Of the oil at 100 °C, in m²/s.
    at_100: f64,
}

impl FilmFindings {
    /// The smallest film and the power lost; none where no load is set.
    pub fn found(&self, book: &Book, place: Place, runs: &Runs) -> Vec<Finding> {
        let Some(load_n) = book.setup.target(self.load, place) else { return Vec::new() };
        let begin = |feature: &FindingFeature, basis| Finding::new(feature.clone(), place, basis);
        let worked = self.known(book, place, runs, load_n).and_then(|known| self.worked(book, place, &known));
        worked.unwrap_or_else(|lack| {
            let basis = lack.basis();
            vec![begin(&self.smallest, basis.clone()), begin(&self.power, basis)]
        })
    }

    fn known(&self, book: &Book, place: Place, runs: &Runs, load_n: f64) -> Result<Known, Lack> {
        let mut lacks = Lacks::default();
        let hot = runs.hot.filter(|hot| hot.value.is_some());
        let given = |feature, place| Figure::given(book, feature, place, feature.title());
        let of_engine = |feature| given(feature, Place::Engine);
        let clearance = lacks.seek(Figure::from_finding(book, hot.unwrap_or(runs.clearance), place, "clearance"));
        let journal = Figure::exact("journal", Measure::SIZE, runs.journal_m.unwrap_or(f64::NAN));
        let journal =
            lacks.seek(journal.ok_or_else(|| {
                Lack::Missing(format!("size of the journal of {}", book.setup.architecture.label(place)))
            }));
        let length = lacks.seek(given(self.length, place));
        let speed = lacks.seek(of_engine(TargetFeature::LoadSpeed));
        let oil =
            [TargetFeature::OilAt40, TargetFeature::OilAt100, TargetFeature::OilDensity, TargetFeature::OilTemperature]
                .map(|feature| lacks.seek(of_engine(feature)));
        let (
            Some(clearance),
            Some(journal),
            Some(length),
            Some(speed),
            [Some(at_40), Some(at_100), Some(density), Some(oil)],
        ) = (clearance, journal, length, speed, oil)
        else {
            return Err(lacks.all());
        };
        let at = |temperature_c, mm2_s: &Figure| Kinematic { temperature_c, viscosity_m2_s: mm2_s.si() * 1e-6 };
        let oil_c = Unit::Celsius.from_si(oil.si());
        let viscosity =
            Walther::through(at(40.0, &at_40), at(100.0, &at_100)).and_then(|line| line.viscosity_m2_s(oil_c));
        let viscosity = viscosity.map_err(|fault| Lack::NoFigure(format!("the oil: {fault}")))?;
        let bearing = Bearing {
            diameter_m: journal.si(),
            length_m: length.si(),
            clearance_m: clearance.si(),
            speed_rad_s: speed.si(),
            viscosity_pa_s: dynamic_pa_s(viscosity, density_kg_m3(density.si(), oil_c)),
        };
        Ok(Known { clearance, is_hot: hot.is_some(), bearing, load_n, oil_c, at_100: at_100.si() * 1e-6 })
    }

    fn worked(&self, book: &Book, place: Place, known: &Known) -> Result<Vec<Finding>, Lack> {
        let cannot = |fault: FilmFault| Lack::NoFigure(fault.to_string());
        let by_finite = finite_bearing(&known.bearing, known.load_n);
        let short = short_bearing(&known.bearing, known.load_n);
        // A very narrow bearing is a short one, which the table does not reach.
        let is_narrow = matches!(by_finite, Err(FilmFault::Length(part)) if part < 0.5);
        let film = if is_narrow { short } else { by_finite }.map_err(cannot)?;
        let solve = if is_narrow { short_bearing } else { finite_bearing };
        let at = |clearance_m: f64, part: fn(&Film) -> f64| {
            let film = solve(&Bearing { clearance_m, ..known.bearing }, known.load_n);
            film.map_or(f64::NAN, |film| part(&film))
        };
        // The figure, and what it may be where the clearance was stated as a range.
        let through = |part: fn(&Film) -> f64| {
            let breaks =
                |_| Lack::NoFigure("within what the clearance is uncertain by, the film would break".to_owned());
            let value = propagate(&[&known.clearance.value], |x| at(x[0], part)).map_err(breaks)?;
            let ends = known.clearance.range.map(|(low, high)| (at(low, part), at(high, part)));
            let ends = ends.filter(|(one, other)| one.is_finite() && other.is_finite());
            Ok::<_, Lack>((value, ends.map(|(one, other)| (one.min(other), one.max(other)))))
        };
        let words = book.words();
        let said = |measure, si| words.said(measure, si);
        let cold = if known.is_hot { "hot" } else { "cold" };
        let runs = format!(
            "{cold} clearance {}, {} at {}, oil of {:.2} mPa·s at {}{}",
            words.small_of_means(known.bearing.clearance_m),
            said(Measure::FORCE, known.load_n),
            said(Measure::ROTATION, known.bearing.speed_rad_s),
            known.bearing.viscosity_pa_s * 1e3,
            said(Measure::TEMPERATURE, Unit::Celsius.to_si(known.oil_c)),
            grade(known.at_100)
        );
        let finding = |feature: &FindingFeature, (value, range), show: &dyn Fn(&Film) -> String| {
            let mut finding = known.clearance.finding(feature.clone(), place);
            finding.value = Some(value);
            finding.set_range(range);
            let how = if is_narrow { "as a short bearing" } else { "by its length" };
            finding.working.push(format!("{runs}: {} {how}", show(&film)));
            if let (false, Ok(short)) = (is_narrow, &short) {
                finding.working.push(format!("as a short bearing, without regard to its length: {}", show(short)));
            }
            finding.remarks.push(COMPARISON.to_owned());
            finding
        };
        let thin = |film: &Film| film_words(words, film.min_film_m);
        let lost = |film: &Film| said(Measure::POWER, film.power_w);
        let mut smallest = finding(&self.smallest, through(|film| film.min_film_m)?, &thin);
        if !known.is_hot {
            smallest
                .remarks
                .push("at the cold clearance: say in the details how much warmer housing and journal run".to_owned());
        }
        smallest.remarks.push(
            "common practice, no source: two to three times what both surfaces are rough (Rq, together)".to_owned(),
        );
        Ok(vec![smallest, finding(&self.power, through(|film| film.power_w)?, &lost)])
    }
}

/// A film is some µm in either trade: "3.94 µm (0.155 thou)".
fn film_words(words: Words, metres: f64) -> String {
    let of = |unit: Unit, decimals| unit.show(metres, decimals);
    match words.unit.small() {
        Unit::Micrometre => of(Unit::Micrometre, 2),
        _ => format!("{} ({})", of(Unit::Thou, 3), of(Unit::Micrometre, 1)),
    }
}

/// ", an SAE 30 by what it is at 100 °C"; grades overlap where they are thin.
fn grade(at_100_m2_s: f64) -> String {
    let grades: Vec<String> = Summer::of(at_100_m2_s).map(|grade| grade.to_string()).collect();
    if grades.is_empty() { String::new() } else { format!(" ({} by what it is at 100 °C)", grades.join(" or ")) }
}
