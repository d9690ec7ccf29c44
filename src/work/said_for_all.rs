//! One figure said for all places of a kind, but for those named with their own: "2.7 except 3: 2.5; 5: 2.6".

use crate::engine::{Architecture, Place, SlotKey};
use crate::sheets::Slot;

/// What is said of one place.
#[derive(Debug, PartialEq, Eq)]
struct Exception {
    place: Place,
    text: String,
}

/// Every slot that an entry speaks of, with what it says there: the slot itself first, then its exceptions.
///
/// # Errors
/// What to enter, where an exception names no place of this engine, one twice, or no figure.
pub(super) fn parts<'a>(
    engine: &Architecture,
    slots: &'a [Slot],
    slot: &'a Slot,
    text: &str,
) -> Result<Vec<(&'a Slot, String)>, String> {
    let Some((all, but)) = split(text).filter(|_| speaks_for_all(slot.key.place)) else {
        return Ok(vec![(slot, text.to_owned())]);
    };
    let mut parts = vec![(slot, all.to_owned())];
    for exception in exceptions(engine, slot.key.place, but)? {
        let key = SlotKey::new(slot.key.feature.clone(), exception.place);
        let own = slots.iter().find(|slot| slot.key == key);
        let own = own.ok_or_else(|| format!("{} has no figure of its own here", engine.label(exception.place)))?;
        parts.push((own, exception.text));
    }
    Ok(parts)
}

/// Whether a place speaks for others.
pub(super) fn speaks_for_all(place: Place) -> bool {
    place != Place::Engine && place == place.whole()
}

/// What is said for all and what comes after "except"; none where nothing is excepted.
fn split(text: &str) -> Option<(&str, &str)> {
    const WORD: &str = "except";
    let at = text.to_ascii_lowercase().find(WORD)?;
    Some((text[..at].trim().trim_end_matches([',', ';']), text[at + WORD.len()..].trim()))
}

fn exceptions(engine: &Architecture, whole: Place, text: &str) -> Result<Vec<Exception>, String> {
    let mut found: Vec<Exception> = Vec::new();
    for part in text.split([';', '\n']).map(str::trim).filter(|part| !part.is_empty()) {
        let (which, said) = part.split_once(':').unwrap_or((part, ""));
        let (which, said) = (which.trim(), said.trim());
        if which.is_empty() || said.is_empty() {
            return Err(format!("“{part}”: after “except” enter which one, a colon and its figure: 3: 2.5; 5: 2.6"));
        }
        for place in places(engine, whole, which)? {
            if found.iter().any(|other| other.place == place) {
                return Err(format!("{} is excepted twice: enter one figure for it", engine.label(place)));
            }
            found.push(Exception { place, text: said.to_owned() });
        }
    }
    if found.is_empty() {
        return Err("after “except” enter which one, a colon and its figure: 3: 2.5; 5: 2.6".to_owned());
    }
    Ok(found)
}

/// The places that "3", "main 3" or "3 and 5" name.
fn places(engine: &Architecture, whole: Place, which: &str) -> Result<Vec<Place>, String> {
    let all = engine.places_of(whole);
    let numbers = which.split(|sign: char| !sign.is_ascii_digit()).filter(|number| !number.is_empty());
    let named: Vec<Place> = numbers
        .map(|number| {
            let named = |place: &&Place| engine.number(**place).is_some_and(|known| known.to_string() == number);
            all.iter()
                .find(named)
                .copied()
                .ok_or_else(|| format!("“{which}”: there is no {number} {}", among(engine, &all)))
        })
        .collect::<Result<_, _>>()?;
    if named.is_empty() {
        return Err(format!("“{which}” names none {}: enter its number", among(engine, &all)));
    }
    Ok(named)
}

/// "among main 1 to main 5".
fn among(engine: &Architecture, all: &[Place]) -> String {
    let label = |place: Option<&Place>| place.map_or_else(String::new, |place| engine.label(*place));
    format!("among {} to {}", label(all.first()), label(all.last()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::Layout;

    fn eight() -> Architecture {
        Architecture::new(Layout::Vee, 8, 5, Vec::new(), Vec::new()).expect("a vee eight")
    }

    fn of(text: &str) -> Result<Vec<(String, String)>, String> {
        let engine = eight();
        let said = exceptions(&engine, Place::AllMains, text)?;
        Ok(said.into_iter().map(|one| (engine.label(one.place), one.text)).collect())
    }

    #[test]
    fn what_is_excepted_is_named_by_its_number() {
        let said = |pairs: &[(&str, &str)]| Ok(pairs.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect());
        assert_eq!(of("3: 2.5"), said(&[("main 3", "2.5")]));
        assert_eq!(of("main 3: 2,5; no. 5: 2.6 thou"), said(&[("main 3", "2,5"), ("main 5", "2.6 thou")]));
        assert_eq!(of("2 and 4: 2.6"), said(&[("main 2", "2.6"), ("main 4", "2.6")]));
    }

    #[test]
    fn what_is_no_exception_is_refused_with_what_to_enter() {
        for (text, enter) in [
            ("", "which one, a colon"),
            ("3", "which one, a colon"),
            ("3:", "which one, a colon"),
            ("6: 2.5", "no 6 among main 1 to main 5"),
            ("the rear: 2.5", "enter its number"),
            ("3: 2.5; 3: 2.6", "main 3 is excepted twice"),
        ] {
            let said = of(text).expect_err(text);
            assert!(said.contains(enter), "{text}: {said}");
        }
    }

    #[test]
    fn the_word_parts_what_is_said_for_all_from_what_is_not() {
        assert_eq!(split("2.7 except 3: 2.5"), Some(("2.7", "3: 2.5")));
        assert_eq!(split("2.5–2.8, Except 3: 2.5"), Some(("2.5–2.8", "3: 2.5")));
        assert_eq!(split("2.7"), None);
    }
}
