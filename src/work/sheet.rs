//! A sheet's page: every slot where it is on the engine, what was read, what follows, and which comes next.

use super::doing::{Done, Refused};
use super::except::{ExceptView, except_view};
use super::findings::{FindingView, Tally, Wording};
use super::gauge_settings::GaugeChoice;
use super::job::{JobHead, JobLook};
use super::reading_view::{ReadingView, reading_view};
use super::round_temperatures::{TemperaturesView, temperature_words, temperatures_view};
use super::rounds_compared::{RoundsCompared, compared};
use super::set_doubts::doubts;
use super::sheet_pictures as pictures;
use super::slot_view::{SlotView, slot_view};
use super::{DecisionView, PhotoView, Shop, StaleHere};
use crate::drawing::{Drawing, Mark};
use crate::engine::{Place, SheetKey, SlotKey};
use crate::record::readings::{Reading, ReadingState};
use crate::record::rounds::Round;
use crate::record::set_answers;
use crate::sheets::{Book, Depth, Finding, MADE_STALE, SetDoubt, Slot, coarse_gauges, home_of_reading, sheet};
use jiff::Timestamp;

/// A sheet with how its findings stand, for lists.
#[derive(Clone, Debug)]
pub struct SheetRow {
    pub key: SheetKey,
    pub title: &'static str,
    pub tally: Tally,
    /// Slots read in the round that counts.
    pub read: usize,
}

/// A round of a sheet.
#[derive(Clone, Debug)]
pub struct RoundView {
    pub number: i64,
    /// "trial", "as received".
    pub kind: &'static str,
    pub counts: bool,
    /// "plate: on; torque: 70 lbf·ft".
    pub condition: String,
    pub when: String,
    pub readings: usize,
    /// Files that are its record, such as the supplier's sheet, photographed.
    pub records: Vec<PhotoView>,
}

/// A place with its slots and findings.
#[derive(Clone, Debug)]
pub struct PlaceView {
    pub place: Place,
    /// Its key in addresses.
    pub key: String,
    pub label: String,
    pub mark: Mark,
    pub slots: Vec<SlotView>,
    pub findings: Vec<FindingView>,
    /// The bore's shape, enlarged; a bearing's clearance over temperature.
    pub picture: Option<Drawing>,
}

/// A sheet's page.
#[derive(Clone, Debug)]
pub struct SheetView {
    pub head: JobHead,
    pub sheet: SheetKey,
    pub title: &'static str,
    pub purpose: &'static str,
    pub caution: &'static str,
    pub edition: u32,
    pub rounds: Vec<RoundView>,
    /// The round shown; none before the first reading.
    pub shown: Option<RoundView>,
    /// The rounds side by side, in their order; empty before there are two.
    pub compared: Vec<RoundsCompared>,
    /// The engine from above; touching a place leads to its key.
    pub plan: Drawing,
    /// Every place of the sheet's main finding on one scale; none before anything is read.
    pub column: Option<Drawing>,
    /// First the place that speaks for all, then each in bench order.
    pub places: Vec<PlaceView>,
    /// Where entry goes on: the first slot not read of the group last read.
    pub armed: Option<SlotKey>,
    /// What is stale of it, change by change.
    pub stale: Vec<StaleHere>,
    /// What would make readings of it stale, and why.
    pub stale_by: Vec<(&'static str, &'static str)>,
    /// What can be chosen on it: "Choose shells"; none where there is nothing to.
    pub options: Option<&'static str>,
    /// What was chosen, newest first.
    pub decided: Vec<DecisionView>,
    /// Steps of the job that take this sheet: key and title.
    pub steps: Vec<(String, String)>,
    pub gauges: Vec<GaugeChoice>,
    /// Gauges too coarse for what they decide here, each once.
    pub coarse: Vec<String>,
    pub temperatures: TemperaturesView,
    /// What gauges were zeroed on for this job, newest first.
    pub settings: Vec<String>,
    /// What is asked of whole sets of the round shown.
    pub doubts: Vec<SetDoubt>,
    /// What of the round shown was checked again without a new figure, and what can be.
    pub except: ExceptView,
    /// Values of slots no longer asked for.
    pub unasked: Vec<(String, ReadingView)>,
}

pub(super) fn sheet_rows(look: &JobLook, keys: &[SheetKey]) -> Vec<SheetRow> {
    let row = |&key: &SheetKey| {
        let read = look.job.counting(key).map_or_else(Vec::new, |round| look.job.standing_in(round));
        SheetRow {
            key,
            title: sheet(key).title,
            tally: look.findings.tally(look.findings.by_sheet.get(&key).into_iter().flatten(), &look.calls),
            read: read.iter().map(|r| &r.slot).collect::<std::collections::BTreeSet<_>>().len(),
        }
    };
    keys.iter().map(row).collect()
}

impl Shop {
    /// A sheet's page, of the round that counts or of another.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job or round.
    pub async fn sheet(&self, job: i64, key: SheetKey, round: Option<i64>, now: Timestamp) -> Done<SheetView> {
        let look = self.look_with_family(job, now).await?;
        let answers = set_answers::of_build(&mut *self.record.look().await?, job).await?;
        let decided = self.decided(&look, key).await?;
        let of_sheet: Vec<&Round> = look.job.rounds.iter().filter(|r| r.sheet == key).collect();
        let shown = match round {
            Some(number) => Some(*of_sheet.iter().find(|r| r.number == number).ok_or(Refused::NotFound)?),
            None => look.job.counting(key),
        };
        let book = shown.map_or_else(|| look.job.book(), |round| look.job.book_of_round(round));
        let slots = (sheet(key).slots)(&book.setup);
        let page = Page { look: &look, wording: look.wording(), book: &book, round: shown };
        let places = page.places(key, &slots);
        let undecided = |place: &Place| {
            places.iter().any(|p| p.place == *place && p.slots.iter().any(|slot| !slot.rivals.is_empty()))
        };
        let of = sheet(key);
        Ok(SheetView {
            head: look.head(),
            sheet: key,
            title: of.title,
            purpose: of.purpose,
            caution: of.caution,
            edition: of.edition,
            rounds: of_sheet.iter().map(|round| page.round(round)).collect(),
            shown: shown.map(|round| page.round(round)),
            compared: compared(&look, key, &of_sheet),
            plan: pictures::plan(&look.job.engine.architecture, key, book.findings(key), &undecided),
            column: pictures::column(&book, key),
            armed: armed(&look, &slots, shown),
            stale: look.stale_on(key),
            stale_by: MADE_STALE
                .iter()
                .filter(|row| slots.iter().any(|slot| (row.stale)(&slot.key.feature)))
                .map(|row| (row.change.word(), row.reason))
                .collect(),
            options: of.options.as_ref().map(|options| options.title),
            decided,
            steps: look
                .steps
                .iter()
                .filter(|step| step.sheets.contains(&key))
                .map(|step| (step.key.clone(), step.title.clone()))
                .collect(),
            gauges: look.job.gauges.iter().map(|gauge| GaugeChoice::of(gauge, now)).collect(),
            coarse: coarse_gauges(&book, key),
            temperatures: temperatures_view(look.job.build.unit, shown),
            settings: look
                .job
                .settings
                .iter()
                .map(|setting| {
                    let name = look.job.gauge(setting.gauge).map_or("gauge", |gauge| gauge.name.as_str());
                    let to = if setting.typed.is_empty() { String::new() } else { format!(" to {}", setting.typed) };
                    format!("{name} zeroed on {}{to}, {}", setting.zeroed_on, look.when.stamp(&setting.made))
                })
                .collect(),
            doubts: shown.map_or_else(Vec::new, |round| doubts(&look, &book, round, &answers)),
            except: except_view(&look, shown),
            unasked: page.unasked(key, &slots),
            places,
        })
    }
}

/// The slot where entry goes on: the first not read of the group last read, in bench order.
fn armed(look: &JobLook, slots: &[Slot], round: Option<&Round>) -> Option<SlotKey> {
    let first = || {
        let to_read = |slot: &&Slot| slot.depth == Depth::Each && look.job.kept_elsewhere(&slot.key).is_empty();
        slots.iter().find(to_read).map(|slot| slot.key.clone())
    };
    let Some(round) = round else { return first() };
    let last = look.job.readings.iter().rev().find(|r| r.round == round.id && r.state == ReadingState::Stands);
    let Some(last) = last else {
        let first = first()?;
        let stands = look.job.standing_in(round).iter().any(|reading| reading.slot == first);
        return if stands { next_in_group(look, slots, round.id, &first) } else { Some(first) };
    };
    next_in_group(look, slots, round.id, &last.slot)
}

/// The next slot of the same group that is not read, walking on from one and round to the start.
pub(super) fn next_in_group(look: &JobLook, slots: &[Slot], round: i64, from: &SlotKey) -> Option<SlotKey> {
    let group = slots.iter().find(|slot| slot.key == *from)?.group;
    let in_group: Vec<&Slot> = slots.iter().filter(|slot| slot.group == group && slot.depth == Depth::Each).collect();
    let at = in_group.iter().position(|slot| slot.key == *from)?;
    let wanted = look.job.read_once_more(round);
    // What an earlier round read and was checked again is not to be read anew.
    let standing = look.job.round(round).map_or_else(Vec::new, |round| look.job.standing_in(round));
    let is_read = |slot: &Slot| {
        if wanted.contains(&slot.key) {
            return false;
        }
        standing.iter().any(|reading| reading.slot == slot.key)
            || !look.job.kept_elsewhere(&slot.key).is_empty()
            || look.job.in_slot(&slot.key, round).any(|reading| reading.state == ReadingState::Rival)
    };
    let round_trip = in_group.iter().cycle().skip(at + 1).take(in_group.len());
    round_trip.copied().find(|slot| !is_read(slot)).map(|slot| slot.key.clone())
}

/// What a round was taken with: "plate: on; torque: 70 lbf·ft; 21.0 °C".
pub(super) fn condition_words(round: &Round) -> String {
    let condition = &round.condition;
    let mut words: Vec<String> = [
        ("plate", &condition.plate),
        ("fasteners", &condition.fasteners),
        ("lubricant", &condition.lubricant),
        ("torque", &condition.torque),
        ("shells", &condition.shells),
    ]
    .into_iter()
    .filter(|(_, text)| !text.is_empty())
    .map(|(what, text)| format!("{what}: {text}"))
    .collect();
    words.extend(round.temperature_c.map(|_| temperature_words(round)));
    words.join("; ")
}

struct Page<'a> {
    look: &'a JobLook,
    wording: Wording<'a>,
    book: &'a Book,
    round: Option<&'a Round>,
}

impl Page<'_> {
    fn round(&self, round: &Round) -> RoundView {
        RoundView {
            number: round.number,
            kind: round.kind.word(),
            counts: round.counts,
            condition: condition_words(round),
            when: self.look.when.stamp(&round.made),
            readings: self.look.job.readings.iter().filter(|r| r.round == round.id).count(),
            records: self.look.records_of(round.id),
        }
    }

    fn places(&self, key: SheetKey, slots: &[Slot]) -> Vec<PlaceView> {
        let mut places: Vec<Place> = Vec::new();
        for slot in slots {
            if !places.contains(&slot.key.place) {
                places.push(slot.key.place);
            }
        }
        let findings = self.book.findings(key);
        for finding in findings {
            if !places.contains(&finding.key.place) {
                places.push(finding.key.place);
            }
        }
        if places.is_empty() {
            places.push(Place::Engine);
        }
        places.into_iter().map(|place| self.place(key, place, slots, findings)).collect()
    }

    fn place(&self, key: SheetKey, place: Place, slots: &[Slot], findings: &[Finding]) -> PlaceView {
        let of_place: Vec<&Finding> = findings.iter().filter(|finding| finding.key.place == place).collect();
        let slots: Vec<SlotView> = slots
            .iter()
            .filter(|slot| slot.key.place == place)
            .map(|slot| slot_view(self.look, self.book, self.round, slot))
            .collect();
        let undecided = slots.iter().any(|slot| !slot.rivals.is_empty());
        PlaceView {
            place,
            key: place.to_string(),
            label: self.look.job.engine.architecture.label(place),
            mark: match (undecided, of_place.is_empty()) {
                (true, _) => Mark::Undecided,
                // What was read here and nothing follows from at this place.
                (false, true) if slots.iter().any(|slot| slot.saw.is_some()) => Mark::Taken,
                (false, _) => pictures::worst(&of_place),
            },
            slots,
            findings: of_place.iter().map(|finding| self.wording.view(finding)).collect(),
            picture: match key {
                SheetKey::CylinderBores => pictures::bore(self.book, place),
                _ => pictures::over_temperature(self.book, key, place),
            },
        }
    }

    /// Standing readings of this sheet whose slot is no longer asked for.
    fn unasked(&self, key: SheetKey, slots: &[Slot]) -> Vec<(String, ReadingView)> {
        let asked = |reading: &&Reading| !slots.iter().any(|slot| slot.key == reading.slot);
        // What its slot's home shows is not said twice.
        let job = &self.look.job;
        let shown_at_home = |r: &&Reading| {
            let home = job.counting(home_of_reading(r.sheet, &r.slot.feature));
            let stands_there =
                home.is_some_and(|round| job.in_slot(&r.slot, round.id).any(|r| r.state == ReadingState::Stands));
            !stands_there && job.kept_elsewhere(&r.slot).iter().any(|kept| kept.number == r.number)
        };
        let own = job.readings.iter().filter(|r| r.sheet == key && r.state == ReadingState::Stands);
        let own = own.filter(|r| !shown_at_home(r));
        own.filter(asked).map(|r| (r.slot.to_string(), reading_view(self.look, r, r.slot.feature.measure()))).collect()
    }
}
