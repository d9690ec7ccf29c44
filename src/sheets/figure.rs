//! Figures that others are worked out from: read or stated, or a target standing in until they are; and what is missing, or cannot
//! be, where there is none.

use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, FindingKey, Measure, Place, SheetKey, SlotFeature, TargetFeature};
use crate::metrology::{Measured, propagate};
use std::fmt::Display;

/// A figure, what it is called, and what it rests on.
#[derive(Clone)]
pub(super) struct Figure {
    /// "stroke of throw 1".
    pub name: String,
    pub measure: Measure,
    pub value: Measured,
    /// What it may be where something was stated as a range.
    pub range: Option<(f64, f64)>,
    stated: bool,
    /// What is not read yet, for which targets stand in.
    missing: Vec<String>,
    pub readings: Vec<String>,
}

/// Why there is no figure.
pub(super) enum Lack {
    Missing(String),
    /// It cannot be told from what was only checked good, or from what contradicts itself.
    NoFigure(String),
}

impl Lack {
    pub fn basis(self) -> Basis {
        match self {
            Self::Missing(missing) => Basis::Missing { missing },
            Self::NoFigure(because) => Basis::NoFigure { because },
        }
    }
}

/// What several figures were sought for in vain.
#[derive(Default)]
pub(super) struct Lacks(Vec<Lack>);

impl Lacks {
    /// The figure; where there is none, why is noted.
    pub fn seek(&mut self, sought: Result<Figure, Lack>) -> Option<Figure> {
        sought.map_err(|lack| self.0.push(lack)).ok()
    }

    /// All of them as one. Where no figure can follow, nothing is missing.
    pub fn all(self) -> Lack {
        let (mut missing, mut because) = (Vec::new(), Vec::new());
        for lack in self.0 {
            match lack {
                Lack::Missing(what) => missing.push(what),
                Lack::NoFigure(why) => because.push(why),
            }
        }
        if because.is_empty() { Lack::Missing(missing.join(", ")) } else { Lack::NoFigure(because.join("; ")) }
    }
}

impl Figure {
    /// A figure that is given with the job and is not read on the engine.
    pub fn given(book: &Book, feature: TargetFeature, place: Place, name: &str) -> Result<Self, Lack> {
        let name = named(book, name, place);
        book.setup
            .target(feature, place)
            .and_then(|si| Self::exact(&name, feature.measure(), si))
            .ok_or(Lack::Missing(name))
    }

    /// A figure by definition or convention.
    pub fn exact(name: &str, measure: Measure, si: f64) -> Option<Self> {
        let value = Measured::exact(si).ok()?;
        let name = name.to_owned();
        Some(Self { name, measure, value, range: None, stated: false, missing: Vec::new(), readings: Vec::new() })
    }

    /// A figure that another sheet finds, or its target until then.
    pub fn found(
        book: &Book,
        (home, feature): (SheetKey, FindingFeature),
        place: Place,
        target: TargetFeature,
        name: &str,
    ) -> Result<Self, Lack> {
        let finding = book.finding(home, &FindingKey::new(feature, place));
        Self::of(book, finding, target, place, name)
    }

    /// The figure of a finding, or its target until then. What was checked good without a figure gives none.
    pub fn of(
        book: &Book,
        finding: Option<&Finding>,
        target: TargetFeature,
        place: Place,
        name: &str,
    ) -> Result<Self, Lack> {
        match finding.map(|finding| Self::from_finding(book, finding, place, name)) {
            Some(Ok(figure)) => Ok(figure),
            Some(Err(Lack::NoFigure(because))) => Err(Lack::NoFigure(because)),
            _ => Self::standing_in(book, target, place, name),
        }
    }

    /// The figure of a finding. What was checked good without a figure gives none.
    pub fn from_finding(book: &Book, finding: &Finding, place: Place, name: &str) -> Result<Self, Lack> {
        let name = named(book, name, place);
        let Some(value) = finding.value.clone() else {
            return Err(match &finding.basis {
                Basis::Checked { .. } => Lack::NoFigure(format!("{name} was checked good")),
                Basis::NoFigure { because } => Lack::NoFigure(because.clone()),
                Basis::Missing { missing } | Basis::Target { missing } => Lack::Missing(missing.clone()),
                Basis::Readings | Basis::Stated => Lack::Missing(name),
            });
        };
        let stated = finding.basis == Basis::Stated;
        let missing = match &finding.basis {
            Basis::Target { missing } => vec![missing.clone()],
            _ => Vec::new(),
        };
        let readings = finding.readings.clone();
        Ok(Self {
            name,
            measure: finding.measure,
            value,
            range: finding.range.filter(|_| stated),
            stated,
            missing,
            readings,
        })
    }

    /// The figure read in a slot, or stated for it, or its target until then. What was checked good without a figure gives none.
    pub fn read(
        book: &Book,
        slot: SlotFeature,
        stated: Option<&SlotFeature>,
        place: Place,
        name: &str,
    ) -> Result<Self, Lack> {
        let full = named(book, name, place);
        let measure = slot.measure();
        let target = TargetFeature::of_slot(&slot);
        let read = book.taken(slot, place);
        let Some(taken) = read.or_else(|| book.stated(stated?, place)) else {
            return target.map_or(Err(Lack::Missing(full)), |target| Self::standing_in(book, target, place, name));
        };
        let Some(value) = taken.figure() else { return Err(Lack::NoFigure(format!("{full} was checked good"))) };
        Ok(Self {
            name: full,
            measure,
            value,
            range: taken.range(),
            stated: read.is_none(),
            missing: Vec::new(),
            readings: taken.readings.clone(),
        })
    }

    /// The target that stands in for what is not read yet.
    fn standing_in(book: &Book, target: TargetFeature, place: Place, name: &str) -> Result<Self, Lack> {
        let given = Self::given(book, target, place, name)?;
        Ok(Self { missing: vec![given.name.clone()], ..given })
    }

    /// What follows from other figures, with all they rest on.
    ///
    /// # Errors
    /// Where the figures contradict each other: names them.
    pub fn worked<E: Display>(
        name: &str,
        measure: Measure,
        book: &Book,
        of: &[&Self],
        formula: impl Fn(&[f64]) -> Result<f64, E>,
    ) -> Result<Self, Lack> {
        let values: Vec<&Measured> = of.iter().map(|figure| &figure.value).collect();
        let cannot_be = |fault: String| Lack::NoFigure(format!("{} cannot all be right: {fault}", listed(book, of)));
        formula(&values.iter().map(|value| value.value()).collect::<Vec<_>>())
            .map_err(|fault| cannot_be(fault.to_string()))?;
        let or_nan = |x: &[f64]| formula(x).unwrap_or(f64::NAN);
        let value = propagate(&values, or_nan)
            .map_err(|_| cannot_be("within what they are uncertain by, nothing can be told".to_owned()))?;
        let mut missing: Vec<String> = Vec::new();
        for what in of.iter().flat_map(|figure| &figure.missing) {
            if !missing.contains(what) {
                missing.push(what.clone());
            }
        }
        let mut readings: Vec<String> = of.iter().flat_map(|figure| figure.readings.iter().cloned()).collect();
        readings.sort();
        readings.dedup();
        Ok(Self {
            name: name.to_owned(),
            measure,
            value,
            range: range(of, or_nan),
            stated: of.iter().any(|figure| figure.stated),
            missing,
            readings,
        })
    }

    /// The value in SI.
    pub fn si(&self) -> f64 {
        self.value.value()
    }

    /// Whether a target stands in for something that is not read yet.
    pub fn is_target(&self) -> bool {
        !self.missing.is_empty()
    }

    /// It as a finding, nothing judged yet.
    pub fn finding(&self, feature: FindingFeature, place: Place) -> Finding {
        let basis = if self.is_target() {
            Basis::Target { missing: self.missing.join(", ") }
        } else if self.stated || self.readings.is_empty() {
            Basis::Stated
        } else {
            Basis::Readings
        };
        let mut finding = Finding::new(feature, place, basis);
        finding.value = Some(self.value.clone());
        finding.set_range(self.range);
        finding.readings.clone_from(&self.readings);
        finding
    }
}

/// The finding, or one that says why it has no figure.
pub(super) fn found(worked: Result<Finding, Lack>, feature: FindingFeature, place: Place) -> Finding {
    worked.unwrap_or_else(|lack| Finding::new(feature, place, lack.basis()))
}

fn named(book: &Book, name: &str, place: Place) -> String {
    match place {
        Place::Engine => name.to_owned(),
        place => format!("{name} of {}", book.setup.architecture.label(place)),
    }
}

/// "stroke of throw 1 3.4800 in and rod length of cylinder 1 1.5000 in".
fn listed(book: &Book, figures: &[&Figure]) -> String {
    let said = |figure: &&Figure| format!("{} {}", figure.name, book.words().said(figure.measure, figure.si()));
    let said: Vec<String> = figures.iter().map(said).collect();
    match said.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
        None => String::new(),
    }
}

/// The least and the greatest that follows from the ends of what was stated as a range; none where nothing was, or where an end
/// cannot be.
fn range(of: &[&Figure], formula: impl Fn(&[f64]) -> f64) -> Option<(f64, f64)> {
    of.iter().find(|figure| figure.range.is_some())?;
    let mut corners: Vec<Vec<f64>> = vec![Vec::new()];
    for figure in of {
        let ends = figure.range.map_or_else(|| vec![figure.si()], |(low, high)| vec![low, high]);
        let with = |corner: &Vec<f64>| ends.iter().map(|&end| [&corner[..], &[end]].concat()).collect::<Vec<_>>();
        corners = corners.iter().flat_map(with).collect();
    }
    let values: Vec<f64> = corners.iter().map(|corner| formula(corner)).collect();
    let ends = (
        values.iter().copied().fold(f64::INFINITY, f64::min),
        values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
    );
    values.iter().all(|value| value.is_finite()).then_some(ends)
}
