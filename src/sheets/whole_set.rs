//! What only a whole set shows: all shifted alike, as by a gauge's zero, or all the same to the last digit. Asked once.
//!
//! A set is what is read of one size by one route in one round. Its shift is the mean of its differences; what a gauge can
//! tell of it is three standard uncertainties of that mean, which keeps the error of the gauge's setting whole.

use super::expect::{Reads, THOU, alike, nominal};
use super::{Book, Depth, Slot, acceptance, sheet};
use crate::engine::{FindingFeature, SheetKey, SlotKey};
use crate::metrology::{self, Measured, default_setting_u};
use std::collections::BTreeSet;

/// Something to ask about a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetDoubt {
    /// What is asked of which set, as it is kept when it is answered: `target:main-journal-front-0@main.0`.
    pub key: String,
    /// The route: "journal".
    pub about: &'static str,
    pub question: String,
    /// The slots of the set.
    pub slots: Vec<SlotKey>,
}

/// An earlier round of the sheet in the same condition, with no metal taken off between.
pub struct EarlierRound {
    /// "round 2, trial".
    pub name: String,
    pub book: Book,
}

/// How many standard uncertainties of a shift are no more than what the gauge can tell.
const TOLD: f64 = 3.0;
/// Finished to one setting, a set lies within this of its target, in m: half a thou. Common practice, no source.
const FINISHED_WITHIN: f64 = 0.5 * THOU;
/// From so many diameters on, all the same to the last digit is less likely read than written down.
const MANY: usize = 5;
/// A coarser gauge reads many parts the same, in m: 0.0005 in.
const COARSE: f64 = 12.7e-6;

/// Whether a figure was typed whole, and finely enough that several alike are worth a question; deviations may well all
/// be the same.
pub fn told_in_full(typed: &str, resolution: f64) -> bool {
    let deviation = typed.trim_start().starts_with(['+', '-', '−', '–']) || typed.trim() == "0";
    !deviation && resolution < COARSE
}

/// What is to be asked of the complete sets of a sheet. `told_in_full` names the slots typed so; `earlier` is the round
/// to compare with.
pub fn set_doubts(
    book: &Book,
    key: SheetKey,
    told_in_full: &BTreeSet<SlotKey>,
    earlier: Option<&EarlierRound>,
) -> Vec<SetDoubt> {
    let slots: Vec<Slot> = (sheet(key).slots)(&book.setup).into_iter().filter(|s| s.depth == Depth::Each).collect();
    let complete = sets(&slots).into_iter().filter_map(|slots| Set::complete(book, slots));
    let mut doubts: Vec<SetDoubt> = complete
        .flat_map(|set| {
            [
                set.off_target(book),
                earlier.and_then(|round| set.off_earlier(book, round)),
                set.all_same(book, told_in_full),
            ]
        })
        .flatten()
        .collect();
    doubts.extend(routes_apart(book, key));
    doubts
}

/// The slots of a sheet by route and by the size they read.
fn sets(slots: &[Slot]) -> Vec<Vec<&Slot>> {
    let mut sets: Vec<Vec<&Slot>> = Vec::new();
    for slot in slots {
        let belongs = |set: &&mut Vec<&Slot>| {
            set[0].group == slot.group && Reads::of(&set[0].key.feature) == Reads::of(&slot.key.feature)
        };
        match sets.iter_mut().find(belongs) {
            Some(set) => set.push(slot),
            None => sets.push(vec![slot]),
        }
    }
    sets
}

struct Set<'a> {
    slots: Vec<&'a Slot>,
    figures: Vec<Measured>,
}

impl<'a> Set<'a> {
    /// A set of which every slot is read, of three or more: fewer show no spread.
    fn complete(book: &Book, slots: Vec<&'a Slot>) -> Option<Self> {
        let figures: Option<Vec<Measured>> = slots.iter().map(|slot| figure(book, slot)).collect();
        figures.filter(|figures| figures.len() >= 3).map(|figures| Self { slots, figures })
    }

    fn doubt(&self, what: &str, question: String) -> SetDoubt {
        SetDoubt {
            key: format!("{what}:{}", self.slots[0].key),
            about: self.slots[0].group,
            question,
            slots: self.slots.iter().map(|slot| slot.key.clone()).collect(),
        }
    }

    /// Off its target by more than a finished set lies, all alike. Worn parts are off it anyway, and what the limits
    /// allow is where it may be.
    fn off_target(&self, book: &Book) -> Option<SetDoubt> {
        let reads = Reads::of(&self.slots[0].key.feature)?;
        if reads.as_they_came(book) || !reads.is_made_to_target() {
            return None;
        }
        let allowed = |(slot, figure): (&&Slot, &Measured)| {
            let band = acceptance(book, slot)?;
            Some((band.min()?..=band.max()?).contains(&figure.value()))
        };
        if self.slots.iter().zip(&self.figures).all(|both| allowed(both) == Some(true)) {
            return None;
        }
        let off = |(slot, figure): (&&Slot, &Measured)| {
            let target = Measured::exact(slot.target.or_else(|| nominal(&book.setup, &slot.key))?).ok()?;
            metrology::difference(figure, &target).ok()
        };
        // A bore with shells in is told from the journal, not to be of its size.
        let told: Option<Vec<Measured>> = self.slots.iter().zip(&self.figures).map(off).collect();
        let shift = shift(&told.filter(|_| self.slots[0].target.is_some())?, FINISHED_WITHIN)?;
        let (n, by) = (self.figures.len(), book.words().small(shift.abs()));
        let side = if shift > 0.0 { "above" } else { "below" };
        Some(self.doubt("target", format!("All {n} read about {by} {side} the target: was the gauge's zero right?")))
    }

    /// Off an earlier round by more than the gauge can tell, all alike.
    fn off_earlier(&self, book: &Book, earlier: &EarlierRound) -> Option<SetDoubt> {
        let off = |(slot, now): (&&Slot, &Measured)| metrology::difference(now, &figure(&earlier.book, slot)?).ok();
        let differences: Option<Vec<Measured>> = self.slots.iter().zip(&self.figures).map(off).collect();
        // One setting held over both rounds may have moved by as much as a new one is off.
        let moved = 2.0_f64.sqrt() * default_setting_u(self.slots[0].gauge);
        let shift = shift(&differences?, TOLD * moved)?;
        let (n, by) = (self.figures.len(), book.words().small(shift.abs()));
        let side = if shift > 0.0 { "more" } else { "less" };
        let question =
            format!("All {n} read about {by} {side} than in {}, alike: was the gauge's zero right?", earlier.name);
        Some(self.doubt("round", question))
    }

    /// All the same to the last digit, as parts that are measured hardly are.
    fn all_same(&self, book: &Book, told_in_full: &BTreeSet<SlotKey>) -> Option<SetDoubt> {
        let first = self.figures.first()?.value();
        let same = self.figures.iter().all(|figure| (figure.value() - first).abs() < 1e-9);
        let sizes = self.slots.iter().all(|slot| !slot.measure().small && told_in_full.contains(&slot.key));
        let question = || {
            let (n, size) = (self.figures.len(), book.words().size(first));
            format!("All {n} read {size}, the same to the last digit: was each of them measured?")
        };
        (same && sizes && self.figures.len() >= MANY).then(|| self.doubt("same", question()))
    }
}

fn figure(book: &Book, slot: &Slot) -> Option<Measured> {
    book.figure(slot.key.feature.clone(), slot.key.place).map(|(figure, _)| figure)
}

/// By how much all differ alike, in m: to one side, by more than they scatter, and beyond `least` by more than the gauge
/// can tell.
fn shift(differences: &[Measured], least: f64) -> Option<f64> {
    let mean = metrology::mean(&differences.iter().collect::<Vec<_>>()).ok()?;
    let values: Vec<f64> = differences.iter().map(Measured::value).collect();
    let by = mean.value();
    (alike(&values, by) && by.abs() > least + TOLD * mean.u()).then_some(by)
}

/// The routes of the mains, where two were taken at three mains or more: all apart alike.
fn routes_apart(book: &Book, key: SheetKey) -> Option<SetDoubt> {
    let compared: Vec<_> =
        book.findings(key).iter().filter(|finding| finding.key.feature == FindingFeature::MainRoutes).collect();
    let differences: Vec<Measured> = compared.iter().filter_map(|finding| finding.value.clone()).collect();
    let shift = shift(&differences, 0.0).filter(|_| differences.len() >= 3)?;
    let by = book.words().small(shift.abs());
    let question = format!(
        "The routes of {} mains lie about {by} apart, alike: was the zero of both gauges right?",
        differences.len()
    );
    Some(SetDoubt { key: "routes:mains".to_owned(), about: "routes", question, slots: Vec::new() })
}
