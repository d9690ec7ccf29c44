//! What a change made stale: readings taken before it, until they are taken in a new round or looked at again and found
//! the same.

use super::job_record::JobRecord;
use crate::engine::{Architecture, Place, SheetKey, SlotKey};
use crate::record::changes::ChangeMade;
use crate::record::readings::Reading;
use crate::sheets::Finding;
use std::collections::{BTreeMap, BTreeSet};

/// Why one reading is stale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct StaleBy {
    pub change: i64,
    /// "other rod bolts: bolts pull the big end to another shape".
    pub why: String,
}

/// The stale readings of the rounds that count.
#[derive(Default)]
pub(super) struct Stale {
    by_reading: BTreeMap<String, StaleReading>,
}

struct StaleReading {
    sheet: SheetKey,
    slot: SlotKey,
    by: Vec<StaleBy>,
}

impl Stale {
    pub fn of(job: &JobRecord) -> Self {
        let mut stale = Self::default();
        if job.changes.is_empty() {
            return stale;
        }
        for round in job.rounds.iter().filter(|round| round.counts) {
            for reading in job.standing_in(round) {
                let by: Vec<StaleBy> = job
                    .changes
                    .iter()
                    .filter(|change| was_read_before(change, reading) && !is_checked(job, change, round.id, reading))
                    .filter_map(|change| Some(StaleBy { change: change.id, why: why(job, change, reading)? }))
                    .collect();
                if !by.is_empty() {
                    let slot = reading.slot.clone();
                    stale.by_reading.insert(reading.id(), StaleReading { sheet: reading.sheet, slot, by });
                }
            }
        }
        stale
    }

    /// Why a reading is stale; empty where it is not.
    pub fn of_reading(&self, id: &str) -> &[StaleBy] {
        self.by_reading.get(id).map_or(&[], |stale| &stale.by)
    }

    /// Why a finding is stale, each reason once: by the readings it rests on.
    pub fn of_finding(&self, finding: &Finding) -> Vec<String> {
        let mut why: Vec<String> = Vec::new();
        for by in finding.readings.iter().flat_map(|id| self.of_reading(id)) {
            if !why.contains(&by.why) {
                why.push(by.why.clone());
            }
        }
        why
    }

    pub fn is_stale(&self, finding: &Finding) -> bool {
        finding.readings.iter().any(|id| self.by_reading.contains_key(id))
    }

    /// What a change makes stale still: by sheet, how many readings at which places.
    pub fn by_change(&self, change: i64) -> BTreeMap<SheetKey, (usize, BTreeSet<Place>)> {
        let mut sheets: BTreeMap<SheetKey, (usize, BTreeSet<Place>)> = BTreeMap::new();
        for stale in self.by_reading.values().filter(|stale| stale.by.iter().any(|by| by.change == change)) {
            let (readings, places) = sheets.entry(stale.sheet).or_default();
            *readings += 1;
            places.insert(stale.slot.place);
        }
        sheets
    }
}

/// Whether a reading was taken before a change. One that came with a thing was, if it was read before; what its own thing
/// changed by being fitted is no change to it.
fn was_read_before(change: &ChangeMade, reading: &Reading) -> bool {
    match reading.brought {
        Some(_) => reading.stamp.at < change.stamp.at && change.item != Some(reading.item),
        None => reading.number <= change.after_reading,
    }
}

/// Why a change makes a reading stale; none where it does not. The family's word goes before the map.
fn why(job: &JobRecord, change: &ChangeMade, reading: &Reading) -> Option<String> {
    let said = &change.said;
    if said.place.is_some_and(|place| !reaches(&job.engine.architecture, place, reading.slot.place)) {
        return None;
    }
    let own = job.family_changes.iter().rev();
    let own = own.into_iter().find(|own| own.said.change == said.change && own.said.slot == reading.slot.feature);
    let reason = match own {
        Some(own) if !own.said.stale => return None,
        Some(own) => own.said.reason.clone(),
        None => said.change.makes_stale(&reading.slot.feature)?.to_owned(),
    };
    Some(format!("{}: {reason}", said.change.word()))
}

/// Whether a change at one place reaches what is read at another: the same, what speaks for several, or the pin a rod runs
/// on and the deck a cylinder ends in.
fn reaches(engine: &Architecture, changed: Place, read: Place) -> bool {
    let same = changed == read || read == Place::Engine || read == changed.whole() || changed == read.whole();
    let near = |cylinder: Place, other: Place| {
        matches!(cylinder, Place::Cylinder { .. }) && (engine.throw_of(cylinder) == other || cylinder.deck() == other)
    };
    same || changed == Place::Engine || near(changed, read) || near(read, changed)
}

/// Whether a reading was looked at again after a change: said of it, or of the round in which an earlier one stands.
fn is_checked(job: &JobRecord, change: &ChangeMade, round: i64, reading: &Reading) -> bool {
    let place = reading.slot.place;
    let said = job.checked.iter().any(|checked| {
        checked.change == change.id && checked.sheet == reading.sheet && checked.place.is_none_or(|at| at == place)
    });
    let again = reading.round != round
        && job.rechecks.iter().any(|recheck| {
            recheck.round == round && recheck.place.is_none_or(|at| at == place) && recheck.stamp.at > change.stamp.at
        });
    said || again
}
