//! Where a piston stands at top dead centre: read, stated, or worked out from the parts that put it there.

use super::figure::{Figure, Lack};
use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, Measure, Place, SheetKey, Side, SlotFeature, TargetFeature};
use crate::mechanics::compression;
use crate::mechanics::motion::SliderCrank;
use crate::metrology::{self, Measured};
use std::convert::Infallible;

const BY_PARTS: &str = "by deck height, stroke, rod and compression height";

pub(super) fn stroke(book: &Book, cylinder: Place) -> Result<Figure, Lack> {
    let throw = book.setup.architecture.throw_of(cylinder);
    let home = (SheetKey::Crankshaft, FindingFeature::Stroke);
    Figure::found(book, home, throw, TargetFeature::Stroke, "stroke")
}

pub(super) fn rod(book: &Book, cylinder: Place) -> Result<Figure, Lack> {
    let home = (SheetKey::Rods, FindingFeature::RodLength);
    Figure::found(book, home, cylinder, TargetFeature::RodLength, "rod length")
}

/// The offset of the pin's line from the crank's centre; none given is none there.
pub(super) fn offset(book: &Book) -> Result<Figure, Lack> {
    let si = book.setup.target(TargetFeature::PinOffset, Place::Engine).unwrap_or(0.0);
    let name = "pin offset";
    Figure::exact(name, TargetFeature::PinOffset.measure(), si).ok_or_else(|| Lack::Missing(name.to_owned()))
}

/// Of readings at opposite sides of the piston their mean; on the pin's axis the piston does not rock, so what was read there
/// goes first.
pub(super) fn clearance(book: &Book, place: Place) -> Finding {
    let finding = along(book, place, [(Side::Front, "front"), (Side::Rear, "rear")], None)
        .or_else(|| {
            let rocks = "with the piston’s rock in it: read the side across too, or on the pin’s axis";
            along(book, place, [(Side::Thrust, "thrust side"), (Side::Across, "side across")], Some(rocks))
        })
        .or_else(|| {
            let taken = book.stated(&SlotFeature::DeckStated, place)?;
            Some(Finding::stated(FindingFeature::DeckClearance, place, taken, book.words()))
        });
    let finding = match (finding, by_parts(book, place)) {
        (Some(finding), Ok((parts, _))) if finding.value.is_some() && !parts.is_target() => {
            let said = format!("{BY_PARTS}: {}", book.words().small(parts.si()));
            Finding { remarks: finding.remarks.into_iter().chain([said]).collect(), ..finding }
        }
        (Some(finding), _) => finding,
        (None, Ok((parts, working))) => worked_out(book, place, &parts, working),
        (None, Err(Lack::NoFigure(because))) => begin(place, Basis::NoFigure { because }),
        (None, Err(Lack::Missing(_))) => {
            let missing = not_read(book, place);
            let stands_in = book.setup.target(TargetFeature::DeckClearance, place).is_some();
            begin(place, if stands_in { Basis::Target { missing } } else { Basis::Missing { missing } })
        }
    };
    Finding { target: book.setup.target(TargetFeature::DeckClearance, place), ..finding }
}

fn begin(place: Place, basis: Basis) -> Finding {
    Finding::new(FindingFeature::DeckClearance, place, basis)
}

fn not_read(book: &Book, place: Place) -> String {
    format!("deck clearance of {}", book.setup.architecture.label(place))
}

/// What was read on one line across the piston: at both sides, or at one.
fn along(book: &Book, place: Place, sides: [(Side, &str); 2], alone: Option<&str>) -> Option<Finding> {
    let words = book.words();
    let read: Vec<(&str, Measured, Vec<String>)> = sides
        .into_iter()
        .filter_map(|(side, at)| {
            let (value, taken) = book.figure(SlotFeature::Deck(side), place)?;
            Some((at, value, taken.readings.clone()))
        })
        .collect();
    let values: Vec<&Measured> = read.iter().map(|(_, value, _)| value).collect();
    let mean = metrology::mean(&values).ok()?;
    let mut finding = begin(place, Basis::Readings);
    finding.working.push(match &read[..] {
        [(one, a, _), (other, b, _)] => format!(
            "mean of {one} {} and {other} {}: {}",
            words.small(a.value()),
            words.small(b.value()),
            words.small_of_means(mean.value())
        ),
        _ => format!("{} {}", read[0].0, words.small(mean.value())),
    });
    finding.remarks.extend(alone.filter(|_| read.len() == 1).map(ToOwned::to_owned));
    finding.value = Some(mean);
    finding.readings = read.into_iter().flat_map(|(.., ids)| ids).collect();
    Some(finding)
}

/// What the parts give where nothing was read; where a target stands in for one of them, the clearance counts as missing.
fn worked_out(book: &Book, place: Place, parts: &Figure, working: String) -> Finding {
    let finding = parts.finding(FindingFeature::DeckClearance, place);
    let basis =
        if parts.is_target() { Basis::Target { missing: not_read(book, place) } } else { finding.basis.clone() };
    Finding { basis, remarks: vec![format!("worked out {BY_PARTS}, not read")], working: vec![working], ..finding }
}

/// Block deck height less what crank, rod and piston reach, with its working.
fn by_parts(book: &Book, place: Place) -> Result<(Figure, String), Lack> {
    let deck = place.deck();
    let height = Figure::found(
        book,
        (SheetKey::Block, FindingFeature::DeckHeight),
        deck,
        TargetFeature::DeckHeight,
        "deck height",
    )?;
    let piston = Figure::found(
        book,
        (SheetKey::Pistons, FindingFeature::CompressionHeight),
        place,
        TargetFeature::CompressionHeight,
        "compression height",
    )?;
    let (stroke, rod, offset) = (stroke(book, place)?, rod(book, place)?, offset(book)?);
    let top = Figure::worked("pin at its top", Measure::SIZE, book, &[&stroke, &rod, &offset], |x| {
        SliderCrank::from_stroke(x[0], x[1], x[2]).map(|crank| crank.pin_height_at_tdc_m())
    })?;
    let of = [&height, &top, &piston];
    let clearance = Figure::worked("deck clearance", Measure::SMALL, book, &of, |x| {
        Ok::<_, Infallible>(compression::deck_clearance_m(x[0], x[1], 0.0, x[2]))
    })?;
    let words = book.words();
    let working = format!(
        "deck height {} − pin at its top {} (stroke {}, rod {}) − compression height {} = {}",
        words.size_number(height.si()),
        words.size_number(top.si()),
        words.size_number(stroke.si()),
        words.size_number(rod.si()),
        words.size_number(piston.si()),
        words.small(clearance.si())
    );
    Ok((clearance, working))
}

/// How much deeper one side of the piston stands than the other, as it tips on its pin.
pub(super) fn rock(book: &Book, place: Place) -> Option<Finding> {
    let (thrust, one) = book.figure(SlotFeature::Deck(Side::Thrust), place)?;
    let (across, other) = book.figure(SlotFeature::Deck(Side::Across), place)?;
    let words = book.words();
    let rock = compression::deck_reading(thrust.value(), across.value()).rock_m;
    let mut finding = Finding::new(FindingFeature::PistonRock, place, Basis::Readings);
    finding.working.push(format!(
        "|thrust side {} − side across {}| = {}",
        words.small(thrust.value()),
        words.small(across.value()),
        words.small(rock.abs())
    ));
    finding.set_difference(&thrust, &across, 2);
    if !finding.within_noise {
        let deeper = if rock > 0.0 { "the thrust side" } else { "the side across" };
        finding.remarks.push(format!("{deeper} stands {} deeper", words.small(rock.abs())));
    }
    finding.readings = one.readings.iter().chain(&other.readings).cloned().collect();
    Some(finding)
}
