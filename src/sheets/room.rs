//! The room above a piston at top dead centre, and what makes it up.

use super::figure::{Figure, Lack, Lacks};
use super::{Book, Finding, piston_deck};
use crate::engine::{FindingFeature, Measure, Place, SheetKey, SlotFeature, TargetFeature};
use crate::mechanics::compression::{self, ClearanceParts};
use crate::mechanics::crank;
use std::convert::Infallible;

/// A volume as the working adds it up, in cm³ to a hundredth: sums are told more finely than what is poured.
pub(super) fn volume(book: &Book, m3: f64) -> String {
    let unit = book.setup.unit.of(Measure::VOLUME);
    unit.show_number(m3, unit.usual_decimals() + 1)
}

/// The same with its unit.
pub(super) fn volume_said(book: &Book, m3: f64) -> String {
    let unit = book.setup.unit.of(Measure::VOLUME);
    unit.show(m3, unit.usual_decimals() + 1)
}

/// The room above a piston at top dead centre and what it sweeps.
pub(super) struct Room {
    pub bore: Figure,
    pub stroke: Figure,
    pub chamber: Figure,
    pub clearance: Figure,
    pub swept: Figure,
    pub working: String,
    pub remarks: Vec<String>,
}

impl Room {
    pub fn above(book: &Book, place: Place, deck: &Finding, chamber: &Finding) -> Result<Self, Lack> {
        let mut lacks = Lacks::default();
        let sought = [
            lacks.seek(bore(book, place)),
            lacks.seek(piston_deck::stroke(book, place)),
            lacks.seek(Figure::of(book, Some(chamber), TargetFeature::Chamber, place, "chamber")),
            lacks.seek(gasket(book, place)),
            lacks.seek(Figure::given(book, TargetFeature::GasketBore, place.deck(), "gasket bore")),
            lacks.seek(self::deck(book, place, deck)),
            lacks.seek(crown(book, place)),
        ];
        let [Some(bore), Some(stroke), Some(chamber), Some(thickness), Some(hole), Some(deck), Some(crown)] = sought
        else {
            return Err(lacks.all());
        };
        let crevice = crevice(book, place, &bore)?;
        let mut remarks = Vec::new();
        if crevice.is_none() {
            remarks.push(
                "without the crevice above the top ring: its land’s diameter and height are not given".to_owned(),
            );
        }
        let words = book.words();
        if hole.si() < bore.si() {
            let (hole, bore) = (words.size(hole.si()), words.size(bore.si()));
            remarks.push(format!("the gasket’s bore {hole} is smaller than the cylinder’s {bore}: it hangs into it"));
        }
        let swept = Figure::worked("swept volume", Measure::VOLUME, book, &[&bore, &stroke], |x| {
            Ok::<_, Infallible>(crank::displacement_m3(x[0], x[1], 1))
        })?;
        let parts: Vec<&Figure> =
            [&chamber, &hole, &thickness, &bore, &deck, &crown].into_iter().chain(&crevice).collect();
        let clearance = Figure::worked("room above the piston", Measure::VOLUME, book, &parts, |x| {
            compression::clearance_volume_m3(parts_of(x))
        })?;
        let of = parts_of(&parts.iter().map(|part| part.si()).collect::<Vec<_>>());
        let terms = [
            ("chamber", of.chamber_m3),
            ("gasket", of.gasket_m3),
            ("deck", of.deck_m3),
            ("dish", of.dish_m3),
            ("dome", -of.dome_m3),
            ("crevice", of.crevice_m3),
        ];
        let told = terms.into_iter().filter(|(_, m3)| *m3 != 0.0).map(|(name, m3)| {
            let sign = if m3 < 0.0 { "− " } else { "+ " };
            format!("{sign}{name} {}", volume(book, m3.abs()))
        });
        let told = told.collect::<Vec<_>>().join(" ");
        let working = format!("{} = {}", told.trim_start_matches("+ "), volume_said(book, clearance.si()));
        Ok(Self { bore, stroke, chamber, clearance, swept, working, remarks })
    }
}

/// From chamber, gasket bore, gasket thickness, bore, deck clearance, crown and, where it is known, the crevice.
fn parts_of(x: &[f64]) -> ClearanceParts {
    ClearanceParts {
        chamber_m3: x[0],
        gasket_m3: compression::gasket_volume_m3(compression::circle_area_m2(x[1]), x[2]),
        deck_m3: compression::deck_volume_m3(x[3], x[4]),
        dish_m3: x[5].max(0.0),
        dome_m3: (-x[5]).max(0.0),
        crevice_m3: x.get(6).copied().unwrap_or(0.0),
    }
}

fn bore(book: &Book, place: Place) -> Result<Figure, Lack> {
    let home = (SheetKey::CylinderBores, FindingFeature::BoreSize);
    Figure::found(book, home, place, TargetFeature::Bore, "bore")
}

/// A dish above zero, a dome below.
fn crown(book: &Book, place: Place) -> Result<Figure, Lack> {
    let home = (SheetKey::Pistons, FindingFeature::PistonVolume);
    Figure::found(book, home, place, TargetFeature::PistonVolume, "piston crown volume")
}

pub(super) fn deck(book: &Book, place: Place, found: &Finding) -> Result<Figure, Lack> {
    Figure::of(book, Some(found), TargetFeature::DeckClearance, place, "deck clearance")
}

/// Of the gasket over a cylinder, its crushed thickness.
pub(super) fn gasket(book: &Book, cylinder: Place) -> Result<Figure, Lack> {
    let deck = cylinder.deck();
    Figure::read(book, SlotFeature::GasketThickness, None, deck, "gasket thickness")
}

/// The crevice above the top ring; none where the land is not given.
fn crevice(book: &Book, place: Place, bore: &Figure) -> Result<Option<Figure>, Lack> {
    let given = |feature, name| Figure::given(book, feature, place, name).ok();
    let land =
        given(TargetFeature::LandDiameter, "top land").zip(given(TargetFeature::LandHeight, "top land’s height"));
    land.map(|(diameter, height)| {
        Figure::worked("crevice", Measure::VOLUME, book, &[bore, &diameter, &height], |x| {
            compression::crevice_volume_m3(x[0], x[1], x[2])
        })
    })
    .transpose()
}
