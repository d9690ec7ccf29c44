//! Which rod with which piston on which throw evens the decks: every arrangement weighed, proven for up to eight throws. Half a
//! stroke, rod and compression height in line: a pin's offset shortens all alike, by thousandths of a millimetre.

use super::Book;
use super::options::Choice;
use crate::engine::{FindingFeature, Place, SheetKey, TargetFeature};
use crate::mechanics::deck_matching::least_deck_spread;

pub(super) fn work_out(book: &Book, _typed: &str) -> Result<Vec<Choice>, String> {
    let engine = &book.setup.architecture;
    let places = engine.cylinders_in_order();
    let target = |feature, place| book.setup.target(feature, place);
    let missing = |what: &str, place: Place| format!("{what} of {} is neither read nor aimed at", engine.label(place));
    let (mut room, mut rods, mut heights) = (Vec::new(), Vec::new(), Vec::new());
    for &place in &places {
        let (bank, throw) = (place.deck(), engine.throw_of(place));
        let deck = book
            .value(SheetKey::Block, FindingFeature::DeckHeight, bank)
            .or_else(|| target(TargetFeature::DeckHeight, bank));
        let stroke = book
            .value(SheetKey::Crankshaft, FindingFeature::Stroke, throw)
            .or_else(|| target(TargetFeature::Stroke, throw));
        let deck = deck.ok_or_else(|| missing("deck height", bank))?;
        let stroke = stroke.ok_or_else(|| missing("stroke", throw))?;
        room.push(deck - stroke / 2.0);
        // Parts of one nominal size have nothing to choose between.
        let rod = book.value(SheetKey::Rods, FindingFeature::RodLength, place);
        rods.push(rod.ok_or_else(|| format!("read the length of the rod of {}", engine.label(place)))?);
        let height = book.value(SheetKey::Pistons, FindingFeature::CompressionHeight, place);
        heights.push(
            height.ok_or_else(|| format!("read the compression height of the piston of {}", engine.label(place)))?,
        );
    }
    let found = least_deck_spread(&room, &rods, &heights).map_err(|fault| fault.to_string())?;
    let words = book.words();
    let own = |part: usize, row: usize| {
        if part == row { "its own".to_owned() } else { format!("that of {}", engine.label(places[part])) }
    };
    let rows = places
        .iter()
        .enumerate()
        .map(|(row, &place)| {
            let (rod, piston) = (found.rods[row], found.pistons[row]);
            let clearance = room[row] - rods[rod] - heights[piston];
            (
                place,
                format!("rod {}, piston {}: {} to the deck", own(rod, row), own(piston, row), words.small(clearance)),
            )
        })
        .collect();
    let spread = |of: &dyn Fn(usize) -> f64| {
        let decks = (0..places.len()).map(of);
        decks.clone().fold(f64::NEG_INFINITY, f64::max) - decks.fold(f64::INFINITY, f64::min)
    };
    let as_it_is = spread(&|row| room[row] - rods[row] - heights[row]);
    Ok(vec![Choice {
        title: "Most alike".to_owned(),
        rows,
        said: format!(
            "largest less smallest {}, as the parts lie {}; {}",
            words.small(found.spread_m),
            words.small(as_it_is),
            if found.proven {
                "no arrangement is more alike"
            } else {
                "the best found; not every arrangement was tried"
            }
        ),
    }])
}
