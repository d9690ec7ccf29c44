//! Shells of another engine family, before they are fitted: the housing they are made for, their width and their tang held
//! against the seat they are to lie in.

use super::figure::{Figure, Lack};
use super::slot::SlotRow;
use super::{Book, Finding};
use crate::engine::{Bearings, FindingFeature, ItemKind, Measure, Place, Seating, SlotFeature, TargetFeature};
use crate::mechanics::bearing::crush_lost_m;
use crate::metrology::GaugeKind;
use std::convert::Infallible;

const GROUP: &str = "shells held against their seats";

/// What is read of the shell and of its seat, each pair in bench order.
pub(super) fn rows(bearings: Bearings, housing: ItemKind, shells: ItemKind) -> [SlotRow; 6] {
    let of_shell = |what, label| (SlotFeature::OfShell(bearings, what), label, GROUP, GaugeKind::Other, shells);
    let of_seat = |what, label| (SlotFeature::OfSeat(bearings, what), label, GROUP, GaugeKind::Other, housing);
    [
        of_shell(Seating::Width, "shell, width"),
        of_seat(Seating::Width, "seat, width"),
        of_shell(Seating::TangWidth, "tang, width"),
        of_seat(Seating::TangWidth, "notch, width"),
        of_shell(Seating::TangPlace, "tang, from the shell’s edge"),
        of_seat(Seating::TangPlace, "notch, from the seat’s edge"),
    ]
}

/// Whether a reading is one of these.
pub(super) fn is_of(slot: &SlotFeature) -> bool {
    matches!(slot, SlotFeature::OfShell(..) | SlotFeature::OfSeat(..))
}

/// What differs between shell and seat, as far as both are known.
pub(super) fn found(
    book: &Book,
    bearings: Bearings,
    place: Place,
    made_for: TargetFeature,
    housing: Result<Figure, Lack>,
) -> Vec<Finding> {
    let of_housing = Figure::given(book, made_for, place, made_for.title()).ok().map(|made_for| {
        let feature = FindingFeature::ShellHousing(bearings);
        match housing.and_then(|housing| less(book, feature.clone(), place, &housing, &made_for)) {
            Ok(mut finding) => {
                finding.remarks.extend(finding.value.as_ref().and_then(|apart| crushed(book, apart.value())));
                finding
            }
            Err(lack) => Finding::new(feature, place, lack.basis()),
        }
    });
    let seats = Seating::ALL.into_iter().filter_map(|what| seats(book, bearings, place, what));
    of_housing.into_iter().chain(seats).collect()
}

/// The seat less the shell; none until one of them is read.
fn seats(book: &Book, bearings: Bearings, place: Place, what: Seating) -> Option<Finding> {
    let read = |slot, name| Figure::read(book, slot, None, place, name);
    let (of_seat, of_shell) = match what {
        Seating::Width => ("width of the seat", "width of the shell"),
        Seating::TangWidth => ("width of the notch", "width of the tang"),
        Seating::TangPlace => ("place of the notch", "place of the tang"),
    };
    let seat = read(SlotFeature::OfSeat(bearings, what), of_seat);
    let shell = read(SlotFeature::OfShell(bearings, what), of_shell);
    if seat.is_err() && shell.is_err() {
        return None;
    }
    let feature = FindingFeature::Seats(bearings, what);
    let both = seat.and_then(|seat| less(book, feature.clone(), place, &seat, &shell?));
    Some(match both {
        Ok(mut finding) => {
            let below_zero = finding.value.as_ref().is_some_and(|apart| apart.value() < -apart.expanded(2.0));
            let told = finding.value.as_ref().is_some_and(|apart| apart.value().abs() > apart.expanded(2.0));
            let said = match what {
                Seating::Width if below_zero => {
                    "the shell stands out of its seat: look whether it clears the journal’s fillets"
                }
                Seating::TangWidth if below_zero => "the tang does not enter its notch: the shell would lie on it",
                Seating::TangPlace if told => "tang and notch are not opposite: the shell stands over to one side",
                _ => return Some(finding),
            };
            finding.remarks.push(said.to_owned());
            finding
        }
        Err(lack) => Finding::new(feature, place, lack.basis()),
    })
}

fn less(book: &Book, feature: FindingFeature, place: Place, one: &Figure, other: &Figure) -> Result<Finding, Lack> {
    let apart = Figure::worked("", Measure::SMALL, book, &[one, other], |x| Ok::<_, Infallible>(x[0] - x[1]))?;
    let words = book.words();
    let mut finding = apart.finding(feature, place);
    finding.working.push(format!(
        "{} − {} = {}",
        words.size_number(one.si()),
        words.size_number(other.si()),
        words.small(apart.si())
    ));
    Ok(finding)
}

/// What of their crush another housing takes or gives.
fn crushed(book: &Book, larger_m: f64) -> Option<String> {
    let by = book.words().small(crush_lost_m(larger_m).abs());
    match larger_m {
        larger if larger > 0.0 => Some(format!("the pair has {by} less crush here than in what it is made for")),
        smaller if smaller < 0.0 => Some(format!("the pair has {by} more crush here than in what it is made for")),
        _ => None,
    }
}
