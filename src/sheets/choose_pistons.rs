//! Which piston goes in which bore: every arrangement tried, before the last hone.

use super::Book;
use super::options::Choice;
use crate::engine::{FindingFeature, Place, SheetKey, TargetFeature};
use crate::mechanics::matching::{Assignment, least_spread, least_worst};

/// Closest to the clearance aimed at where one is, and closest to each other.
pub(super) fn work_out(book: &Book, _typed: &str) -> Result<Vec<Choice>, String> {
    let places = book.setup.architecture.cylinders_in_order();
    let label = |place: Place| book.setup.architecture.label(place);
    let mut clearances = Vec::new();
    for &bore_of in &places {
        let clearance = book.value(SheetKey::CylinderBores, FindingFeature::PistonClearance, bore_of);
        let own = book.value(SheetKey::Pistons, FindingFeature::SkirtDiameter, bore_of);
        let (Some(clearance), Some(own)) = (clearance, own) else {
            return Err(format!("read the bore and the piston of {} first", label(bore_of)));
        };
        let of = |piston: &Place| {
            Some(clearance + own - book.value(SheetKey::Pistons, FindingFeature::SkirtDiameter, *piston)?)
        };
        let row: Option<Vec<f64>> = places.iter().map(of).collect();
        clearances.push(row.ok_or("read every piston first")?);
    }
    let words = book.words();
    let choice = |title: &str, found: &Assignment, said: String| Choice {
        title: title.to_owned(),
        rows: places
            .iter()
            .enumerate()
            .map(|(row, &bore)| {
                let piston = found.columns[row];
                let from = if piston == row {
                    "its own piston".to_owned()
                } else {
                    format!("the piston of {}", label(places[piston]))
                };
                (bore, format!("{from}: {}", words.small(clearances[row][piston])))
            })
            .collect(),
        said,
    };
    let mut choices = Vec::new();
    if let Some(target) = book.setup.target(TargetFeature::PistonClearance, Place::AllCylinders) {
        let off: Vec<Vec<f64>> =
            clearances.iter().map(|row| row.iter().map(|clearance| (clearance - target).abs()).collect()).collect();
        let found = least_worst(&off).map_err(|fault| fault.to_string())?;
        let said =
            format!("{} at most off {}: no arrangement is closer", words.small(found.value), words.small(target));
        choices.push(choice("Closest to the clearance aimed at", &found, said));
    }
    let found = least_spread(&clearances).map_err(|fault| fault.to_string())?;
    let said = format!("largest less smallest {}: no arrangement is more alike", words.small(found.value));
    choices.push(choice("Most alike", &found, said));
    Ok(choices)
}
