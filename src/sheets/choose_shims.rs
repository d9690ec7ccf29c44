//! Which leaves to leave in the shim packs of poured bearings, for the clearance aimed at.

use super::bearing::Line;
use super::choose_shells::target;
use super::options::Choice;
use super::slot::SlotRow;
use super::{Book, Words};
use crate::engine::{Bearings, Flank, ItemKind, Measure, Place, SlotFeature};
use crate::mechanics::shim::{Leaves, Pack, shim_packs};
use crate::metrology::{GaugeKind, mean_of};
use crate::quantity::{Entry, HowRead, read};

const GROUP: &str = "shim packs";
const FLANKS: [Flank; 2] = [Flank::Left, Flank::Right];
/// Packs further apart than this set the cap askew, in m: half a thou. Common practice, no source.
const ASKEW_M: f64 = 12.7e-6;

pub(super) fn rows(bearings: Bearings, housing: ItemKind) -> [SlotRow; 2] {
    let row =
        |flank, label| (SlotFeature::ShimPack(bearings, flank), label, GROUP, GaugeKind::OutsideMicrometer, housing);
    [row(Flank::Left, "pack, left side"), row(Flank::Right, "pack, right side")]
}

/// Whether a reading is one of these.
pub(super) fn is_of(slot: &SlotFeature) -> bool {
    matches!(slot, SlotFeature::ShimPack(..))
}

/// What leaves there are, where they are what was typed: "leaves 0.002 × 6, 0.005 × 2".
pub(super) fn leaves(typed: &str) -> Option<&str> {
    let typed = typed.trim_start();
    let (word, rest) = typed.split_at_checked("leaves".len())?;
    word.eq_ignore_ascii_case("leaves").then(|| rest.trim_start_matches([':', ' ']))
}

/// For every bearing with packs and a clearance, the packs next to its target; the nearer first.
pub(super) fn work_out(line: &Line, book: &Book, typed: &str) -> Result<Vec<Choice>, String> {
    let words = book.words();
    let leaves = parsed(&book.setup.unit.how_read(Measure::SIZE), typed)?;
    let mut rows = Vec::new();
    for place in book.setup.architecture.places_of(line.target.whole()) {
        let packs = packs(line, book, place);
        let (Some(pack_m), Some(clearance)) = (mean_of(&packs), line.vertical(book, place)) else { continue };
        let wanted = target(line, book, place)?;
        let found = shim_packs(clearance, pack_m, &leaves, wanted).map_err(|fault| fault.to_string())?;
        let same = found.below == found.above;
        let mut near: Vec<Pack> = found.below.into_iter().chain(found.above.filter(|_| !same)).collect();
        near.sort_by(|a, b| (a.clearance_m - wanted).abs().total_cmp(&(b.clearance_m - wanted).abs()));
        let near: Vec<String> = near.iter().map(|pack| said(words, &leaves, pack)).collect();
        let near = if near.is_empty() { "no pack of these leaves leaves any".to_owned() } else { near.join("; or ") };
        let askew = match packs[..] {
            [left, right] if (left - right).abs() > ASKEW_M => {
                format!("; its packs are {} apart: make them alike first", words.small((left - right).abs()))
            }
            _ => String::new(),
        };
        let (now, aimed) = (words.small(clearance), words.small(wanted));
        rows.push((place, format!("{now} now on {}, {aimed} aimed at: {near}{askew}", words.size(pack_m))));
    }
    if rows.is_empty() {
        return Err("read the packs of a bearing on either side, and its clearance by any route".to_owned());
    }
    let said = "The same pack on either side, or the cap stands askew and binds. Only the clearance across the joint changes: after more than a few hundredths of a millimetre the bearing is scraped round again.";
    Ok(vec![Choice { title: "Shim packs".to_owned(), rows, said: said.to_owned() }])
}

/// The packs of a bearing that were read.
fn packs(line: &Line, book: &Book, place: Place) -> Vec<f64> {
    let read = |flank| book.figure(SlotFeature::ShimPack(line.bearings, flank), place).map(|(pack, _)| pack.value());
    FLANKS.into_iter().filter_map(read).collect()
}

/// "1 of 0.0050 and 3 of 0.0020 (0.0110 in) in each pack give 2.1 thou".
fn said(words: Words, leaves: &[Leaves], pack: &Pack) -> String {
    let stay = leaves.iter().zip(&pack.counts).filter(|(_, count)| **count > 0);
    let stay: Vec<String> =
        stay.map(|(leaf, count)| format!("{count} of {}", words.size_number(leaf.thickness_m))).collect();
    let stay = if stay.is_empty() { "no leaf".to_owned() } else { stay.join(" and ") };
    format!("{stay} ({}) in each pack give {}", words.size(pack.thickness_m), words.small(pack.clearance_m))
}

/// Leaves as typed: apart by commas, semicolons or lines, each a thickness and how many there are.
fn parsed(how: &HowRead, typed: &str) -> Result<Vec<Leaves>, String> {
    let parts = typed.split(['\n', ';', ',']).map(str::trim).filter(|part| !part.is_empty());
    let one = |part: &str| {
        let example = || format!("“{part}”: enter a thickness and how many, such as 0.002 × 6");
        let (thickness, count) = part.rsplit_once(['×', 'x', '*']).ok_or_else(example)?;
        let count: u8 = count.trim().parse().map_err(|_| example())?;
        match read(thickness.trim(), how).map(|typed| typed.entry) {
            Ok(Entry::Figure(thickness)) => Ok(Leaves { thickness_m: thickness.si, count }),
            Ok(Entry::Range(..)) => Err(example()),
            Err(fault) => Err(fault.to_string()),
        }
    };
    let leaves: Vec<Leaves> = parts.map(one).collect::<Result<_, _>>()?;
    if leaves.is_empty() {
        return Err("say which leaves there are for each side, such as “leaves 0.002 × 6, 0.005 × 2”".to_owned());
    }
    Ok(leaves)
}
