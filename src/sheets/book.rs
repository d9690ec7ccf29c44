//! The readings of a whole build with its limits, and the findings of its sheets, each worked out once.

use super::second_reading::{self, Pending};
use super::told::Told;
use super::{Background, Finding, Sheet, Slot, Take, TakeValue, Taken, Wanted, Words, complete, sheet};
use crate::engine::{FindingFeature, FindingKey, Limit, Place, Setup, SheetKey, SlotFeature, SlotKey};
use crate::metrology::{GaugeKind, KnownGauge, Measured, NotFinite, Repeatability, Rule};
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

/// Everything a sheet may ask.
pub struct Book {
    pub setup: Setup,
    pub rule: Rule,
    /// What readings are compared with beside each other.
    pub background: Background,
    /// Features that are read twice, the second time without seeing the first.
    pub read_twice: BTreeSet<SlotFeature>,
    /// By reading's id, what is said of one that stands from an earlier round: "as round 1, checked again".
    pub rechecked: BTreeMap<String, String>,
    limits: Vec<Limit>,
    taken: BTreeMap<SlotKey, Taken>,
    told: Told,
    pending: BTreeMap<SlotKey, Pending>,
    /// First readings that nobody is to see before the second is taken.
    covered: BTreeMap<SlotKey, Taken>,
    worked: BTreeMap<SheetKey, OnceCell<Vec<Finding>>>,
    /// The same readings, none brought to 20 °C; without limits. None where that makes no difference.
    as_read: OnceCell<Option<Box<Book>>>,
}

impl Book {
    /// An empty book. Later limits go before earlier ones on the same finding and place.
    pub fn new(setup: Setup, limits: Vec<Limit>, rule: Rule) -> Self {
        let worked = SheetKey::ALL.into_iter().map(|key| (key, OnceCell::new())).collect();
        Self {
            setup,
            rule,
            background: Background::default(),
            read_twice: BTreeSet::new(),
            rechecked: BTreeMap::new(),
            limits,
            taken: BTreeMap::new(),
            told: Told::default(),
            pending: BTreeMap::new(),
            covered: BTreeMap::new(),
            worked,
            as_read: OnceCell::new(),
        }
    }

    /// Enters the takes of the slots of one sheet, of the round that counts; `round` names it for the settings shared within
    /// it. Where slots were read several times with one gauge, the scatter tells its repeatability (JCGM 100:2008, 4.2.4).
    ///
    /// # Errors
    /// Slots of which a value is not finite; the others are entered.
    pub fn enter_round(
        &mut self,
        round: &str,
        mut takes: Vec<(&Slot, Vec<Take>)>,
    ) -> Result<(), Vec<(SlotKey, NotFinite)>> {
        let mut faults = Vec::new();
        for (slot, takes) in &mut takes {
            if self.read_twice.contains(&slot.key.feature) {
                faults.extend(
                    self.hold_against_each_other(slot, round, takes).err().map(|fault| (slot.key.clone(), fault)),
                );
            }
        }
        let repeats = repeatability(round, &takes);
        for (slot, takes) in &mut takes {
            for take in takes {
                let Some(known) = repeats.get(&gauge_of(slot, take)) else { continue };
                let usual = || KnownGauge::of_kind(slot.gauge);
                take.gauge.get_or_insert_with(usual).repeatability = Some(known.clone());
            }
        }
        let enter = |(slot, takes): &(&Slot, Vec<Take>)| {
            self.enter(slot, round, takes).err().map(|fault| (slot.key.clone(), fault))
        };
        faults.extend(takes.iter().filter_map(enter));
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }

    /// Leaves the takes of a slot that agree, or notes what is still wanted of it; a first reading is put aside, covered.
    fn hold_against_each_other(&mut self, slot: &Slot, round: &str, takes: &mut Vec<Take>) -> Result<(), NotFinite> {
        match second_reading::agreeing(&self.setup, slot, round, takes) {
            Ok(agreeing) => *takes = agreeing,
            Err(wanted) => {
                let ids = takes.iter().map(|take| take.id.clone()).collect();
                self.pending.insert(slot.key.clone(), Pending { wanted, label: slot.label, takes: ids });
                if wanted == Wanted::Second {
                    let covered = Taken::join(&self.setup, slot, round, takes)?;
                    self.covered.extend(covered.map(|taken| (slot.key.clone(), taken)));
                    takes.clear();
                }
            }
        }
        Ok(())
    }

    fn enter(&mut self, slot: &Slot, round: &str, takes: &[Take]) -> Result<(), NotFinite> {
        if let Some(taken) = Taken::join(&self.setup, slot, round, takes)? {
            self.told.note(&self.setup, slot, round, takes);
            self.taken.insert(slot.key.clone(), taken);
        }
        Ok(())
    }

    /// What is known of the readings beside their values.
    pub(super) fn told(&self) -> &Told {
        &self.told
    }

    /// The same readings as they were read, none brought to 20 °C; none where that makes no difference.
    pub(super) fn as_read(&self) -> Option<&Book> {
        let left_warm = || {
            if self.taken.values().all(|taken| taken.as_read.is_none()) {
                return None;
            }
            let mut book = Self::new(self.setup.clone(), Vec::new(), self.rule);
            book.taken = self.taken.iter().map(|(key, taken)| (key.clone(), taken.left_as_read())).collect();
            Some(Box::new(book))
        };
        self.as_read.get_or_init(left_warm).as_deref()
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
        let work_out = || {
            let mut findings = (of.work_out)(self);
            if !self.pending.is_empty() {
                second_reading::cover(self, &mut findings, self.uncovered().findings(key));
            }
            complete::complete(self, key, &mut findings);
            findings
        };
        self.worked.get(&key).map_or(&[], |cell| cell.get_or_init(work_out))
    }

    /// The same readings with those that are covered: to tell which findings rest on them, never what they say.
    fn uncovered(&self) -> Self {
        let mut book = Self::new(self.setup.clone(), self.limits.clone(), self.rule);
        book.taken = self.taken.iter().chain(&self.covered).map(|(key, taken)| (key.clone(), taken.clone())).collect();
        book
    }

    /// Slots that are to be read once more before anything follows from them.
    pub(super) fn pending(&self) -> impl Iterator<Item = (&SlotKey, &Pending)> {
        self.pending.iter()
    }

    /// What is still wanted of a slot that is read twice.
    pub fn wanted(&self, slot: &SlotKey) -> Option<Wanted> {
        self.pending.get(slot).map(|pending| pending.wanted)
    }

    /// A finding of another sheet.
    pub fn finding(&self, home: SheetKey, key: &FindingKey) -> Option<&Finding> {
        self.findings(home).iter().find(|finding| finding.key == *key)
    }

    /// The figure of a finding of another sheet, in SI.
    pub(super) fn value(&self, home: SheetKey, feature: FindingFeature, place: Place) -> Option<f64> {
        self.finding(home, &FindingKey::new(feature, place))?.value.as_ref().map(Measured::value)
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

/// The gauge of a take, as far as its scatter is its own: by name, or else by kind.
fn gauge_of(slot: &Slot, take: &Take) -> (GaugeKind, Option<String>) {
    take.gauge.as_ref().map_or((slot.gauge, None), |gauge| (gauge.kind, gauge.id.clone()))
}

/// The repeatability of each gauge whose repeated figures say enough.
fn repeatability(round: &str, takes: &[(&Slot, Vec<Take>)]) -> BTreeMap<(GaugeKind, Option<String>), Repeatability> {
    let mut sets: BTreeMap<_, Vec<Vec<f64>>> = BTreeMap::new();
    for (slot, takes) in takes.iter().filter(|(_, takes)| takes.len() > 1) {
        let mut of_gauge: BTreeMap<_, Vec<f64>> = BTreeMap::new();
        for take in takes {
            if let TakeValue::Figure(value) = take.value {
                of_gauge.entry(gauge_of(slot, take)).or_default().push(value);
            }
        }
        for (gauge, figures) in of_gauge {
            sets.entry(gauge).or_default().push(figures);
        }
    }
    let pooled = |(kind, id): &(GaugeKind, Option<String>), sets: &[Vec<f64>]| {
        let of = format!("{round}, takes with {}", id.as_deref().unwrap_or(kind.key()));
        Repeatability::pooled(of, sets.iter().map(Vec::as_slice))
    };
    sets.into_iter().filter_map(|(gauge, sets)| Some((gauge.clone(), pooled(&gauge, &sets)?))).collect()
}
