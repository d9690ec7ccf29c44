//! Everything of a job that its findings rest on, from one look at the record; and the book made of it.

use super::repeatability::Studied;
use crate::engine::{ItemRef, Place, Setup, SheetKey, SlotFeature, SlotKey};
use crate::metrology::{Expansion, GaugeSet, KnownGauge, Material, Repeatability};
use crate::record::builds::Build;
use crate::record::changes::{ChangeChecked, ChangeMade, FamilyChange};
use crate::record::engines::Engine;
use crate::record::gauges::{Gauge, GaugeSetting};
use crate::record::items::Fitted;
use crate::record::readings::{Reading, ReadingState, Says};
use crate::record::rechecks::Recheck;
use crate::record::rounds::Round;
use crate::record::targets::Target;
use crate::record::{
    Connection, Result, builds, changes, engines, expansions, gauges, items, limits, readings, rechecks, rounds,
    second_readings, studies, targets,
};
use crate::sheets::{
    Book, FamilyHistory, ON_THE_DECK, ON_THE_JOURNAL, ReadAt, Slot, Take, TakeValue, Wanted, home_of_reading, sheet,
};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::collections::{BTreeMap, BTreeSet};
use std::mem::discriminant;

/// A job as its sheets need it.
pub struct JobRecord {
    pub build: Build,
    pub engine: Engine,
    pub items: Vec<Fitted>,
    pub targets: Vec<Target>,
    pub limits: Vec<crate::engine::Limit>,
    pub rounds: Vec<Round>,
    pub readings: Vec<Reading>,
    pub gauges: Vec<Gauge>,
    /// Newest first.
    pub settings: Vec<GaugeSetting>,
    /// What was checked again without a new figure, as it stands.
    pub rechecks: Vec<Recheck>,
    /// What is read twice, the second time without seeing the first.
    pub second: BTreeSet<SlotFeature>,
    /// What earlier engines of the family read; empty where it was not asked for.
    pub family: BTreeMap<SlotFeature, FamilyHistory>,
    /// What the newest studies of gauges found.
    pub(super) studied: Studied,
    /// The shop's own.
    pub expansions: BTreeMap<Material, Expansion>,
    /// What was changed after readings were taken, as it stands.
    pub changes: Vec<ChangeMade>,
    /// What was looked at again since, as it stands.
    pub checked: Vec<ChangeChecked>,
    /// Where the engine's family differs from the map of changes.
    pub family_changes: Vec<FamilyChange>,
}

impl JobRecord {
    /// # Errors
    /// Where the record cannot be read.
    pub async fn load(db: &mut Connection, job: i64) -> Result<Option<Self>> {
        let Some(build) = builds::by_id(db, job).await? else { return Ok(None) };
        let Some(engine) = engines::by_id(db, build.engine).await? else { return Ok(None) };
        let family_changes = match engine.family {
            Some(family) => changes::of_family(db, family).await?,
            None => Vec::new(),
        };
        Ok(Some(Self {
            items: items::fitted(db, engine.id).await?,
            targets: targets::of_build(db, job).await?,
            limits: limits::of_build(db, job).await?,
            rounds: rounds::of(db, Some(job)).await?,
            readings: readings::of_build(db, job).await?,
            gauges: gauges::all(db).await?,
            settings: gauges::settings_of(db, job).await?,
            rechecks: rechecks::of_build(db, job).await?.into_iter().filter(|r| r.withdrawn.is_none()).collect(),
            second: second_readings::of_build(db, job).await?,
            family: BTreeMap::new(),
            studied: Studied::of(&studies::repeats(db).await?),
            changes: changes::of(db, Some(job)).await?.into_iter().map(|(_, c)| c).filter(|c| !c.withdrawn).collect(),
            checked: changes::checked(db, Some(job))
                .await?
                .into_iter()
                .map(|(_, c)| c)
                .filter(|c| !c.withdrawn)
                .collect(),
            family_changes,
            expansions: expansions::all(db).await?.into_iter().map(|(of, own)| (of, own.expansion)).collect(),
            engine,
            build,
        }))
    }

    pub fn setup(&self) -> Setup {
        Setup {
            architecture: self.engine.architecture.clone(),
            unit: self.build.unit,
            materials: self.engine.materials,
            expansions: self.expansions.clone(),
            targets: self.targets.iter().map(|target| (target.key, target.si)).collect(),
        }
    }

    /// The book of the rounds that count.
    pub fn book(&self) -> Book {
        self.book_of(&SheetKey::ALL.into_iter().filter_map(|key| self.counting(key)).collect::<Vec<_>>())
    }

    /// The book with another round of one sheet in the place of the one that counts.
    pub fn book_of_round(&self, round: &Round) -> Book {
        let shown = |key| if key == round.sheet { Some(round) } else { self.counting(key) };
        self.book_of(&SheetKey::ALL.into_iter().filter_map(shown).collect::<Vec<_>>())
    }

    /// The book of these rounds, one of each sheet.
    fn book_of(&self, rounds: &[&Round]) -> Book {
        let mut book = self.empty_book();
        for round in rounds {
            self.enter(&mut book, round, rounds);
        }
        book
    }

    /// The slots of a round that are to be read once more.
    pub fn read_once_more(&self, round: i64) -> BTreeSet<SlotKey> {
        let Some(round) = self.round(round).filter(|_| !self.second.is_empty()) else { return BTreeSet::new() };
        let book = self.book_of_round(round);
        let slots = (sheet(round.sheet).slots)(&book.setup).into_iter().map(|slot| slot.key);
        slots.filter(|slot| book.wanted(slot).is_some()).collect()
    }

    /// Whether a reading is of a slot of which nobody is to see the first before the second is taken.
    pub fn is_covered(&self, reading: &Reading) -> bool {
        let of = self.round(reading.round).filter(|_| self.second.contains(&reading.slot.feature));
        of.is_some_and(|round| self.book_of_round(round).wanted(&reading.slot) == Some(Wanted::Second))
    }

    fn empty_book(&self) -> Book {
        let mut book = Book::new(self.setup(), self.limits.clone(), self.build.rule);
        book.background.family.clone_from(&self.family);
        book.read_twice.clone_from(&self.second);
        book
    }

    /// Enters what a round of these read; what has its home on another sheet now, where that sheet's round reads none of it.
    fn enter(&self, book: &mut Book, round: &Round, rounds: &[&Round]) {
        let mut by_round: BTreeMap<(SheetKey, i64), BTreeMap<&SlotKey, Vec<Take>>> = BTreeMap::new();
        for reading in self.standing_in(round) {
            let Some(read_in) = self.round(reading.round) else { continue };
            let home = home_of_reading(round.sheet, &reading.slot.feature);
            if home != round.sheet && rounds.iter().any(|other| other.sheet == home && self.reads(other, &reading.slot))
            {
                continue;
            }
            if read_in.id != round.id {
                let again = format!("as round {}, checked again", read_in.number);
                book.rechecked.insert(reading.id(), again);
            }
            let of_round = by_round.entry((home, read_in.id)).or_default();
            of_round.entry(&reading.slot).or_default().push(self.take(reading, read_in));
        }
        if round.kind.reads_parts_as_they_came() {
            book.background.as_came.extend(by_round.keys().map(|(home, _)| *home).chain([round.sheet]));
        }
        for ((home, id), mut by_slot) in by_round {
            let slots = (sheet(home).slots)(&book.setup);
            let takes = slots.iter().filter_map(|slot| Some((slot, by_slot.remove(&slot.key)?)));
            // What entered the record was finite; a value that is not stands as missing.
            let _ = book.enter_round(&format!("round {id}"), takes.collect());
        }
    }

    /// Whether a slot's reading stands in a round, or waits to be chosen.
    fn reads(&self, round: &Round, slot: &SlotKey) -> bool {
        self.standing_in(round).iter().any(|reading| reading.slot == *slot)
            || self.in_slot(slot, round.id).any(|reading| reading.state == ReadingState::Rival)
    }

    /// Readings of a slot in the round that counts of another sheet, kept there before the slot had its home on its own.
    pub fn kept_elsewhere(&self, slot: &SlotKey) -> Vec<&Reading> {
        let of_slot = self.readings.iter().filter(|reading| reading.slot == *slot && is_kept_elsewhere(reading));
        of_slot.filter(|r| self.counting(r.sheet).is_some_and(|round| round.id == r.round)).collect()
    }

    /// The readings that stand in a round: its own, and where a slot has none, those of an earlier round checked again.
    pub fn standing_in(&self, round: &Round) -> Vec<&Reading> {
        let of = |id: i64| self.readings.iter().filter(move |r| r.round == id && r.state == ReadingState::Stands);
        let mut standing: Vec<&Reading> = of(round.id).collect();
        for recheck in self.rechecks.iter().rev().filter(|recheck| recheck.round == round.id) {
            let read: BTreeSet<&SlotKey> = standing.iter().map(|reading| &reading.slot).collect();
            let earlier = self.round(recheck.earlier).map_or_else(Vec::new, |earlier| self.standing_in(earlier));
            let more: Vec<&Reading> = earlier
                .into_iter()
                .filter(|r| recheck.place.is_none_or(|place| place == r.slot.place) && !read.contains(&r.slot))
                .collect();
            standing.extend(more);
        }
        standing
    }

    fn take(&self, reading: &Reading, round: &Round) -> Take {
        let gauge = reading.gauge.and_then(|id| self.gauge(id));
        // A reading that was moved here keeps the setting it was taken with, made for the other job.
        let master = |id: i64| {
            let setting = self.settings.iter().find(|setting| setting.id == id)?;
            self.gauge(setting.master?).map(|master| Box::new(known(master, None)))
        };
        Take {
            id: reading.id(),
            value: match &reading.says {
                Says::Figure(si) => TakeValue::Figure(*si),
                Says::Range(low, high) => TakeValue::Range(*low, *high),
                Says::Checked { how } => TakeValue::Checked { how: how.clone() },
            },
            resolution: reading.resolution,
            gauge: gauge.map(|gauge| known(gauge, self.studied.find(gauge.id, reading.stamp.by.as_deref()))),
            setting: reading.gauge_setting.map(|id| GaugeSet { id: format!("gauge setting {id}"), master: master(id) }),
            temperature: round.temperature_c.map(|part| ReadAt { part, gauge: round.gauge_temperature_c }),
            past_due: gauge.is_some_and(|gauge| past_due(gauge, reading.stamp.at)),
        }
    }

    pub fn gauge(&self, id: i64) -> Option<&Gauge> {
        self.gauges.iter().find(|gauge| gauge.id == id)
    }

    /// The gauge proposed for a slot: the one last used for readings of its feature on this job, or else for any of its kind,
    /// or one set since; or else the first of that kind in the shop.
    pub fn usual_gauge(&self, slot: &Slot) -> Option<&Gauge> {
        let of_kind = |gauge: &&Gauge| gauge.kind == slot.gauge;
        let used = |of: &dyn Fn(&Reading) -> bool| {
            let readings = self.readings.iter().rev().filter(|reading| of(reading));
            let used = readings.filter_map(|r| Some((r.stamp.at, self.gauge(r.gauge?)?)));
            used.into_iter().find(|(_, gauge)| of_kind(gauge))
        };
        let set = self.settings.iter().filter_map(|s| Some((s.made.at, self.gauge(s.gauge)?)));
        let set = set.into_iter().find(|(_, gauge)| of_kind(gauge));
        // Whatever place or height: of one kind of feature.
        let alike = |reading: &Reading| discriminant(&reading.slot.feature) == discriminant(&slot.key.feature);
        let used = used(&alike).or_else(|| used(&|_| true));
        let last = used.into_iter().chain(set).max_by_key(|(at, _)| *at).map(|(_, gauge)| gauge);
        last.or_else(|| self.gauges.iter().find(of_kind))
    }

    /// What a gauge is zeroed on for a slot: at its very place where it is zeroed at each, or else as it was last set for
    /// the whole job.
    pub fn setting(&self, slot: &Slot, gauge: &Gauge) -> Option<&GaugeSetting> {
        let mut of_gauge = self.settings.iter().filter(|setting| setting.gauge == gauge.id);
        if let Some(on) = slot.set_at_each_place {
            let here = self.zeroed_at(on, slot.key.place);
            return of_gauge.find(|setting| setting.zeroed_on == here);
        }
        let at_a_place =
            |setting: &&GaugeSetting| [ON_THE_JOURNAL, ON_THE_DECK].iter().any(|on| setting.zeroed_on.starts_with(on));
        of_gauge.find(|setting| !at_a_place(setting))
    }

    /// What a gauge is noted as zeroed on that is zeroed at each place.
    pub fn zeroed_at(&self, on: &str, place: Place) -> String {
        format!("{on} {}", self.engine.architecture.label(place))
    }

    /// The round of a sheet that counts.
    pub fn counting(&self, key: SheetKey) -> Option<&Round> {
        self.rounds.iter().find(|round| round.sheet == key && round.counts)
    }

    pub fn round(&self, id: i64) -> Option<&Round> {
        self.rounds.iter().find(|round| round.id == id)
    }

    /// The item that a slot's reading is of; the block where the engine's own has not been fitted.
    pub fn item(&self, at: ItemRef) -> Option<i64> {
        let fitted = |at: ItemRef| self.items.iter().find(|item| item.at == at).map(|item| item.item);
        fitted(at)
            .or_else(|| fitted(ItemRef { place: Place::Engine, ..at }))
            .or_else(|| self.items.first().map(|i| i.item))
    }

    /// Readings of a slot in a round that stand or wait to be chosen between, in order of taking.
    pub fn in_slot<'a>(&'a self, slot: &'a SlotKey, round: i64) -> impl Iterator<Item = &'a Reading> {
        self.readings.iter().filter(move |r| r.slot == *slot && r.round == round)
    }

    /// Slots in which rivals wait for someone to choose.
    pub fn undecided(&self) -> usize {
        let counts = |round| self.round(round).is_some_and(|round| round.counts);
        let rivals = self.readings.iter().filter(|r| r.state == ReadingState::Rival && counts(r.round));
        rivals.map(|r| &r.slot).collect::<std::collections::BTreeSet<_>>().len()
    }
}

/// Whether a reading's slot has its home on another sheet than the one it is kept on.
pub(super) fn is_kept_elsewhere(reading: &Reading) -> bool {
    home_of_reading(reading.sheet, &reading.slot.feature) != reading.sheet
}

/// What is known of a gauge, as uncertainty needs it.
pub(super) fn known(gauge: &Gauge, repeatability: Option<Repeatability>) -> KnownGauge {
    KnownGauge {
        kind: gauge.kind,
        name: gauge.name.clone(),
        id: Some(format!("gauge {}", gauge.id)),
        resolution: gauge.known.resolution,
        permissible_error: gauge.known.permissible_error,
        repeatability,
    }
}

/// Whether a gauge was past its date of calibration at a moment, by the day in UTC.
pub(super) fn past_due(gauge: &Gauge, at: Timestamp) -> bool {
    gauge.known.due.is_some_and(|due| at.to_zoned_datetime(TimeZone::UTC).date() > due)
}
