//! How a piston's pin fits a bore: the piston's own, or the small end of its rod. The pin's home is with the pistons.

use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, Place, SlotFeature, TargetFeature};
use crate::metrology::{self, Measured};

/// No pin is held by more than this part of its diameter: steel has yielded long before. Common practice, no source.
const TIGHTEST: f64 = 0.01;
/// Nor does one run in a bore larger by this part, worn out or without its bush. Common practice, no source.
const LOOSEST: f64 = 0.1;

/// A bore for the pin.
pub(super) struct PinFit {
    pub bore: SlotFeature,
    /// "small end".
    pub name: &'static str,
    pub finding: FindingFeature,
    /// What is said of a pin that is held there.
    pub held: &'static str,
}

/// Pin or bore: as read, or the target that stands in for it.
struct Part {
    value: Measured,
    ids: Vec<String>,
    is_read: bool,
}

impl Part {
    fn of(book: &Book, slot: &SlotFeature, place: Place) -> Option<Self> {
        if let Some((value, taken)) = book.figure(slot.clone(), place) {
            return Some(Self { value, ids: taken.readings.clone(), is_read: true });
        }
        let target = TargetFeature::of_slot(slot).and_then(|feature| book.setup.target(feature, place))?;
        Some(Self { value: Measured::exact(target).ok()?, ids: Vec::new(), is_read: false })
    }
}

impl PinFit {
    /// Bore less pin, below zero where the pin is held; none where neither was read, or the pin alone.
    pub fn at(&self, book: &Book, place: Place) -> Option<Finding> {
        let label = book.setup.architecture.label(place);
        let begin = |basis| Finding::new(self.finding.clone(), place, basis);
        let (bore, pin) = match (Part::of(book, &self.bore, place), Part::of(book, &SlotFeature::Pin, place)) {
            (Some(bore), Some(pin)) if bore.is_read || pin.is_read => (bore, pin),
            (Some(bore), None) if bore.is_read => {
                return Some(begin(Basis::Missing { missing: format!("pin of {label}") }));
            }
            _ => return None,
        };
        let words = book.words();
        let (bore_m, pin_m) = (bore.value.value(), pin.value.value());
        let numbers = (words.mean_number(bore_m), words.mean_number(pin_m));
        let readings = bore.ids.iter().chain(&pin.ids).cloned().collect();
        if !(pin_m * (1.0 - TIGHTEST)..=pin_m * (1.0 + LOOSEST)).contains(&bore_m) {
            let because =
                format!("{} {} and pin {} do not belong together: look at both", self.name, numbers.0, numbers.1);
            return Some(Finding { readings, ..begin(Basis::NoFigure { because }) });
        }
        let stands_in = |what: &str| Basis::Target { missing: format!("{what} of {label}; its target stands in") };
        let value = metrology::difference(&bore.value, &pin.value).ok()?;
        Some(Finding {
            // Pins are told to half a tenth.
            working: vec![format!(
                "{} {} − pin {} = {}",
                self.name,
                numbers.0,
                numbers.1,
                words.small_of_means(value.value())
            )],
            remarks: self.remark(book, &value).into_iter().collect(),
            value: Some(value),
            readings,
            ..begin(match (bore.is_read, pin.is_read) {
                (true, true) => Basis::Readings,
                (true, false) => stands_in("pin"),
                (false, _) => stands_in(self.name),
            })
        })
    }

    fn remark(&self, book: &Book, fit: &Measured) -> Option<String> {
        let told = fit.expanded(2.0);
        if fit.value().abs() < told {
            return Some(format!("whether it runs or is held cannot be told: ± {}", book.words().small(told)));
        }
        (fit.value() < 0.0).then(|| self.held.to_owned())
    }
}
