//! What a reading is expected to be: the interval the bench page compares with before it is saved, and what is odd.

use super::{Book, Depth, Slot};
use crate::engine::{FindingFeature, Place, SlotFeature, Spot, TargetFeature};
use crate::metrology::Band;
use std::fmt;

/// What the neighbours and the target lead one to expect, in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expectation {
    pub low: f64,
    pub high: f64,
    pub from: ExpectedFrom,
}

/// What an expectation rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExpectedFrom {
    Neighbours,
    Target,
}

impl fmt::Display for ExpectedFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Neighbours => "its neighbours",
            Self::Target => "the target",
        })
    }
}

/// A reading off from what is expected: asked about, never refused, never changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Odd {
    pub expected: Expectation,
}

/// Sizes on one engine lie within this of each other, in m: half a thimble turn of 0.025 in.
const SIZE_STEP: f64 = 0.000_317_5;
/// Clearances lie within this factor of each other.
const SMALL_FACTOR: f64 = 3.0;

/// Where the limits of the finding put this reading; none where no limit is set or the reading alone does not decide.
pub fn acceptance(book: &Book, slot: &Slot) -> Option<Band> {
    let place = slot.key.place;
    let journal = book.setup.target(TargetFeature::MainJournal, place);
    let band = |feature: FindingFeature| book.limit(&feature, place)?.band(journal);
    match &slot.key.feature {
        SlotFeature::BoreStated | SlotFeature::Bore(..) => band(FindingFeature::BoreSize),
        SlotFeature::Skirt | SlotFeature::SkirtStated => band(FindingFeature::SkirtDiameter),
        SlotFeature::MainClearanceStated | SlotFeature::MainPlasticStrip => {
            band(FindingFeature::MainClearance(Spot::Vertical))
        }
        SlotFeature::MainClearanceDirect(spot) => band(FindingFeature::MainClearance(*spot)),
        _ => None,
    }
}

/// What the other places of the same feature, or else the target, lead one to expect of a slot.
pub fn expectation(book: &Book, slot: &Slot) -> Option<Expectation> {
    let around = |least: f64, greatest: f64, from| {
        let (low, high) = if slot.small {
            (least / SMALL_FACTOR, greatest * SMALL_FACTOR)
        } else {
            (least - SIZE_STEP, greatest + SIZE_STEP)
        };
        Expectation { low, high, from }
    };
    let mut neighbours = neighbours(book, slot);
    neighbours.sort_by(f64::total_cmp);
    // With a target that differs from place to place (mains may), neighbours say nothing.
    let own_target = slot.target.is_some() && slot.target != whole_target(book, slot);
    match (slot.target, &neighbours[..]) {
        (_, [_, ..]) if !own_target => {
            // About the middle one; of an even number about both, as either may be the one that is off.
            let (lower, upper) = (neighbours[(neighbours.len() - 1) / 2], neighbours[neighbours.len() / 2]);
            Some(around(lower, upper, ExpectedFrom::Neighbours))
        }
        (Some(target), _) => Some(around(target, target, ExpectedFrom::Target)),
        _ => None,
    }
}

/// Whether a value is odd for a slot, given what stands in the book.
pub fn odd(book: &Book, slot: &Slot, value: f64) -> Option<Odd> {
    let expected = expectation(book, slot)?;
    (value < expected.low || value > expected.high).then_some(Odd { expected })
}

fn whole_target(book: &Book, slot: &Slot) -> Option<f64> {
    let feature = TargetFeature::of_slot(&slot.key.feature)?;
    book.setup.target(feature, feature.whole())
}

/// Figures of the same feature at other places, and of its sister features at this one.
fn neighbours(book: &Book, slot: &Slot) -> Vec<f64> {
    if slot.depth == Depth::Stated {
        return Vec::new();
    }
    let places: Vec<Place> = match slot.key.place.whole() {
        Place::AllMains => book.setup.architecture.main_places().collect(),
        _ => book.setup.architecture.cylinder_places().collect(),
    };
    let sisters = SlotFeature::all().map(|(_, feature)| feature).filter(|f| same_size(f, &slot.key.feature));
    sisters
        .flat_map(|feature| places.iter().map(move |&place| (feature.clone(), place)))
        .filter(|(feature, place)| (feature, *place) != (&slot.key.feature, slot.key.place))
        .filter_map(|(feature, place)| Some(book.figure(feature, place)?.0.value()))
        .collect()
}

/// Whether two features read the same size, so that one leads one to expect the other.
fn same_size(a: &SlotFeature, b: &SlotFeature) -> bool {
    std::mem::discriminant(a) == std::mem::discriminant(b)
}
