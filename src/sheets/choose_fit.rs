//! A fit named by ISO 286, and how what was read lies in it.

use super::fit::FITS;
use super::options::Choice;
use super::{Book, Words};
use crate::engine::{Place, SlotFeature};
use crate::mechanics::iso_fits::Fit;

/// Apart by more than this from the nominal size, a reading is of another fit, in m.
const SAME_SIZE_M: f64 = 0.5e-3;

pub(super) fn work_out(book: &Book, typed: &str) -> Result<Vec<Choice>, String> {
    let fit = Fit::parse(typed).map_err(|fault| fault.to_string())?;
    let words = book.words();
    let (least, most) = fit.interference_m();
    let said = format!(
        "hole {} to {}, shaft {} to {}: {} to {} tight; below zero is room",
        end(&fit, fit.hole_m.0),
        end(&fit, fit.hole_m.1),
        end(&fit, fit.shaft_m.0),
        end(&fit, fit.shaft_m.1),
        words.small(least),
        words.small(most)
    );
    let places = book.setup.architecture.cylinders_in_order();
    let rows = places.into_iter().flat_map(|place| rows(book, &fit, place)).collect();
    Ok(vec![Choice { title: typed.trim().to_owned(), rows, said }])
}

/// A limit as a size: the tables are in millimetres.
fn end(fit: &Fit, from_nominal_m: f64) -> String {
    format!("{:.3}\u{a0}mm", fit.nominal_mm + from_nominal_m * 1e3)
}

fn rows(book: &Book, fit: &Fit, place: Place) -> Vec<(Place, String)> {
    let words = book.words();
    let nominal_m = fit.nominal_mm * 1e-3;
    let read = |slot, (low, high): (f64, f64), name: &str| {
        let (value, _) = book.figure(slot, place)?;
        let off = value.value() - nominal_m;
        (off.abs() < SAME_SIZE_M)
            .then(|| format!("{name} {}, {}", words.size(value.value()), within(words, off, low, high)))
    };
    let of = |pressed: &super::fit::Fit| {
        let bore = read(SlotFeature::FitBore(pressed.what), fit.hole_m, &format!("bore for the {}", pressed.name));
        let outside = read(SlotFeature::FitOutside(pressed.what), fit.shaft_m, pressed.name);
        let said: Vec<String> = bore.into_iter().chain(outside).collect();
        (!said.is_empty()).then(|| (place, said.join("; ")))
    };
    FITS.iter().filter_map(of).collect()
}

/// "within its limits", "0.4 thou too large".
fn within(words: Words, off: f64, low: f64, high: f64) -> String {
    if off < low {
        format!("{} too small", words.small(low - off))
    } else if off > high {
        format!("{} too large", words.small(off - high))
    } else {
        "within its limits".to_owned()
    }
}
