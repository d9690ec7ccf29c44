//! The readings of a whole build with its limits, and the findings of its sheets, each worked out once.

use super::{Background, Finding, Sheet, Slot, Take, Taken, Words, sheet};
use crate::engine::{FindingFeature, FindingKey, Limit, Place, Setup, SheetKey, SlotFeature, SlotKey};
use crate::metrology::{Measured, NotFinite, Rule};
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// Everything a sheet may ask.
pub struct Book {
    pub setup: Setup,
    pub rule: Rule,
    /// What readings are compared with beside each other.
    pub background: Background,
    limits: Vec<Limit>,
    taken: BTreeMap<SlotKey, Taken>,
    worked: BTreeMap<SheetKey, OnceCell<Vec<Finding>>>,
}

impl Book {
    /// An empty book. Later limits go before earlier ones on the same finding and place.
    pub fn new(setup: Setup, limits: Vec<Limit>, rule: Rule) -> Self {
        let worked = SheetKey::ALL.into_iter().map(|key| (key, OnceCell::new())).collect();
        Self { setup, rule, background: Background::default(), limits, taken: BTreeMap::new(), worked }
    }

    /// Enters the takes of one slot, of the round that counts; `round` names it for the settings shared within it.
    ///
    /// # Errors
    /// Where a value is not finite.
    pub fn enter(&mut self, slot: &Slot, round: &str, takes: &[Take]) -> Result<(), NotFinite> {
        if let Some(taken) = Taken::join(slot, round, takes)? {
            self.taken.insert(slot.key.clone(), taken);
        }
        Ok(())
    }

    pub fn taken(&self, feature: SlotFeature, place: Place) -> Option<&Taken> {
        self.taken.get(&SlotKey::new(feature, place))
    }

    /// The figure read in a slot.
    pub fn figure(&self, feature: SlotFeature, place: Place) -> Option<(Measured, &Taken)> {
        let taken = self.taken(feature, place)?;
        Some((taken.figure()?, taken))
    }

    /// What is stated for a place, or for all its places at once.
    pub fn stated(&self, feature: &SlotFeature, place: Place) -> Option<&Taken> {
        self.taken(feature.clone(), place).or_else(|| self.taken(feature.clone(), place.whole()))
    }

    /// The findings of a sheet.
    pub fn findings(&self, key: SheetKey) -> &[Finding] {
        let of: &Sheet = sheet(key);
        self.worked.get(&key).map_or(&[], |cell| cell.get_or_init(|| (of.work_out)(self)))
    }

    /// A finding of another sheet.
    pub fn finding(&self, home: SheetKey, key: &FindingKey) -> Option<&Finding> {
        self.findings(home).iter().find(|finding| finding.key == *key)
    }

    /// The limit on a finding: the newest for its own place, else the newest for all its places.
    pub fn limit(&self, feature: &FindingFeature, place: Place) -> Option<&Limit> {
        let newest = |holds: &dyn Fn(Option<Place>) -> bool| {
            self.limits.iter().rev().find(|limit| limit.feature == *feature && holds(limit.place))
        };
        newest(&|at| at == Some(place)).or_else(|| newest(&|at| at.is_none_or(|at| at == feature.whole())))
    }

    pub fn words(&self) -> Words {
        Words { unit: self.setup.unit }
    }
}
