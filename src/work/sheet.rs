//! A sheet's page: every slot where it is on the engine, what was read, what follows, and which comes next.

use super::Shop;
use super::doing::{Done, Refused};
use super::findings::{FindingView, Tally, Wording};
use super::job::{JobHead, JobLook};
use super::sheet_pictures as pictures;
use crate::drawing::{Drawing, Mark};
use crate::engine::{Place, SheetKey, SlotKey};
use crate::quantity::{HowRead, Unit};
use crate::record::readings::{Reading, ReadingState, Says};
use crate::record::rounds::Round;
use crate::sheets::{Book, Depth, Expectation, Finding, Slot, Words, acceptance, expectation, sheet};
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
}

/// One reading, whether it counts or not.
#[derive(Clone, Debug)]
pub struct ReadingView {
    pub number: i64,
    pub take: i64,
    /// As typed.
    pub typed: String,
    /// In the working unit: "4.3775 in", "2.5 to 2.8 thou", "checked: by feel and strip".
    pub shown: String,
    /// In the other unit.
    pub other: String,
    pub state: ReadingState,
    /// Why it was corrected or moved; may be empty.
    pub why: String,
    pub when: String,
    pub gauge: Option<String>,
    /// Looked odd, and was kept as read.
    pub as_read: bool,
}

/// One reading to take, with what was read.
#[derive(Clone, Debug)]
pub struct SlotView {
    pub key: SlotKey,
    pub label: &'static str,
    /// The route or group: "shells in, cap down".
    pub group: &'static str,
    /// One figure, a range or checked good for the place; otherwise one of every reading.
    pub stated: bool,
    /// The gauge's name, or the usual kind of gauge.
    pub gauge: String,
    pub gauge_id: Option<String>,
    /// What a bare "+2" means here: "thou", "tenth", "µm".
    pub step: &'static str,
    /// The unit of a bare figure.
    pub unit: &'static str,
    pub target: Option<String>,
    /// Those that stand, latest last.
    pub readings: Vec<ReadingView>,
    /// Struck out, moved or set aside.
    pub struck: Vec<ReadingView>,
    /// Those between which somebody has to choose; empty otherwise.
    pub rivals: Vec<ReadingView>,
    /// The latest reading's number: what a post from this page has seen.
    pub saw: Option<i64>,
    /// Within which a reading looks good, in m.
    pub accept: Option<(f64, f64)>,
    /// Outside which a reading is odd, in m.
    pub expect: Option<(f64, f64)>,
    /// What one of a bare figure is, in m.
    pub bare: f64,
    /// From which bare figure on it is in the smaller unit, and what one of that is in m.
    pub bare_from: Option<(f64, f64)>,
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
    /// The bore's shape, enlarged.
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
    /// The engine from above; touching a place leads to its key.
    pub plan: Drawing,
    /// Every place of the sheet's main finding on one scale; none before anything is read.
    pub column: Option<Drawing>,
    /// First the place that speaks for all, then each in bench order.
    pub places: Vec<PlaceView>,
    /// Where entry goes on: the first slot not read of the group last read.
    pub armed: Option<SlotKey>,
    /// Steps of the job that take this sheet: key and title.
    pub steps: Vec<(String, String)>,
    /// Gauges to choose from: public id, name, what a bare step means.
    pub gauges: Vec<super::GaugeView>,
    /// What gauges were zeroed on for this job, newest first.
    pub settings: Vec<String>,
    /// Values of slots no longer asked for.
    pub unasked: Vec<(String, ReadingView)>,
}

pub(super) fn sheet_rows(look: &JobLook, keys: &[SheetKey]) -> Vec<SheetRow> {
    let row = |&key: &SheetKey| {
        let round = look.job.counting(key).map(|round| round.id);
        let read = look.job.readings.iter().filter(|r| Some(r.round) == round && r.state == ReadingState::Stands);
        SheetRow {
            key,
            title: sheet(key).title,
            tally: Tally::of(look.findings.by_sheet.get(&key).into_iter().flatten(), &look.calls),
            read: read.map(|r| &r.slot).collect::<std::collections::BTreeSet<_>>().len(),
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
        let look = self.look_at_job(job, now).await?;
        let settings = crate::record::gauges::settings_of(&mut *self.record.look().await?, job).await?;
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
            plan: pictures::plan(&look.job.engine.architecture, key, book.findings(key), &undecided),
            column: pictures::column(&book, key),
            armed: armed(&look, &slots, shown),
            steps: look
                .steps
                .iter()
                .filter(|step| step.sheets.contains(&key))
                .map(|step| (step.key.clone(), step.title.clone()))
                .collect(),
            gauges: self.gauges().await?,
            settings: settings
                .iter()
                .map(|setting| {
                    let name = look.job.gauge(setting.gauge).map_or("gauge", |gauge| gauge.name.as_str());
                    let to = if setting.typed.is_empty() { String::new() } else { format!(" to {}", setting.typed) };
                    format!("{name} zeroed on {}{to}, {}", setting.zeroed_on, look.when.stamp(&setting.made))
                })
                .collect(),
            unasked: page.unasked(key, &slots),
            places,
        })
    }
}

/// The slot where entry goes on: the first not read of the group last read, in bench order.
fn armed(look: &JobLook, slots: &[Slot], round: Option<&Round>) -> Option<SlotKey> {
    let first = || slots.iter().find(|slot| slot.depth == Depth::Each).map(|slot| slot.key.clone());
    let Some(round) = round else { return first() };
    let last = look.job.readings.iter().rev().find(|r| r.round == round.id && r.state == ReadingState::Stands);
    let Some(last) = last else { return first() };
    next_in_group(look, slots, round.id, &last.slot)
}

/// The next slot of the same group that is not read, walking on from one and round to the start.
pub(super) fn next_in_group(look: &JobLook, slots: &[Slot], round: i64, from: &SlotKey) -> Option<SlotKey> {
    let group = slots.iter().find(|slot| slot.key == *from)?.group;
    let in_group: Vec<&Slot> = slots.iter().filter(|slot| slot.group == group && slot.depth == Depth::Each).collect();
    let at = in_group.iter().position(|slot| slot.key == *from)?;
    let is_read = |slot: &Slot| {
        look.job.in_slot(&slot.key, round).any(|r| matches!(r.state, ReadingState::Stands | ReadingState::Rival))
    };
    let round_trip = in_group.iter().cycle().skip(at + 1).take(in_group.len());
    round_trip.copied().find(|slot| !is_read(slot)).map(|slot| slot.key.clone())
}

/// How a bare figure is read in a slot on this job.
pub(super) fn how_read(look: &super::JobRecord, slot: &Slot, set_to: Option<f64>) -> HowRead {
    slot.how(look.build.unit, step_unit(look, slot), set_to)
}

/// What a bare deviation means: by the gauge, or else by the working unit.
fn step_unit(job: &super::JobRecord, slot: &Slot) -> Unit {
    job.usual_gauge(slot.gauge).map_or_else(|| job.build.unit.small(), |gauge| gauge.step)
}

struct Page<'a> {
    look: &'a JobLook,
    wording: Wording<'a>,
    book: &'a Book,
    round: Option<&'a Round>,
}

impl Page<'_> {
    fn round(&self, round: &Round) -> RoundView {
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
        words.extend(round.temperature_c.map(|celsius| Unit::Celsius.show(Unit::Celsius.to_si(celsius), 1)));
        RoundView {
            number: round.number,
            kind: round.kind.word(),
            counts: round.counts,
            condition: words.join("; "),
            when: self.look.when.stamp(&round.made),
            readings: self.look.job.readings.iter().filter(|r| r.round == round.id).count(),
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
        places.into_iter().map(|place| self.place(place, slots, findings)).collect()
    }

    fn place(&self, place: Place, slots: &[Slot], findings: &[Finding]) -> PlaceView {
        let of_place: Vec<&Finding> = findings.iter().filter(|finding| finding.key.place == place).collect();
        PlaceView {
            place,
            key: place.to_string(),
            label: self.look.job.engine.architecture.label(place),
            mark: pictures::worst(&of_place),
            slots: slots.iter().filter(|slot| slot.key.place == place).map(|slot| self.slot(slot)).collect(),
            findings: of_place.iter().map(|finding| self.wording.view(finding)).collect(),
            picture: pictures::bore(self.book, place),
        }
    }

    fn slot(&self, slot: &Slot) -> SlotView {
        let job = &self.look.job;
        let all: Vec<&Reading> = self.round.map_or_else(Vec::new, |round| job.in_slot(&slot.key, round.id).collect());
        let in_state =
            |state: ReadingState| -> Vec<&Reading> { all.iter().filter(|r| r.state == state).copied().collect() };
        let (standing, rivals) = (in_state(ReadingState::Stands), in_state(ReadingState::Rival));
        let live = |r: &&&Reading| matches!(r.state, ReadingState::Stands | ReadingState::Rival);
        let view = |readings: &[&Reading]| readings.iter().map(|r| self.reading(slot, r)).collect();
        let gauge = job.usual_gauge(slot.gauge);
        let how = how_read(job, slot, None);
        let words = Words { unit: job.build.unit };
        let ends = |e: Expectation| (e.low, e.high);
        SlotView {
            key: slot.key.clone(),
            label: slot.label,
            group: slot.group,
            stated: slot.depth == Depth::Stated,
            gauge: gauge.map_or_else(|| slot.gauge.word().to_owned(), |gauge| gauge.name.clone()),
            gauge_id: gauge.map(|gauge| gauge.public_id.clone()),
            step: how.step.symbol(),
            unit: if slot.small { job.build.unit.small().symbol() } else { how.bare.symbol() },
            target: slot.target.map(|t| if slot.small { words.small(t) } else { words.size(t) }),
            saw: all.iter().rev().find(live).map(|r| r.number),
            readings: view(&standing),
            rivals: if rivals.is_empty() {
                Vec::new()
            } else {
                view(&standing.iter().rev().take(1).chain(&rivals).copied().collect::<Vec<_>>())
            },
            struck: view(
                &all.iter()
                    .filter(|r| !matches!(r.state, ReadingState::Stands | ReadingState::Rival))
                    .copied()
                    .collect::<Vec<_>>(),
            ),
            accept: acceptance(self.book, slot)
                .map(|band| (band.min().unwrap_or(f64::MIN), band.max().unwrap_or(f64::MAX))),
            expect: expectation(self.book, slot).map(ends),
            bare: how.bare.to_si(1.0),
            bare_from: how.bare_from.map(|(from, unit)| (from, unit.to_si(1.0))),
        }
    }

    fn reading(&self, slot: &Slot, reading: &Reading) -> ReadingView {
        reading_view(self.look, reading, slot.small)
    }

    /// Standing readings of this sheet whose slot is no longer asked for.
    fn unasked(&self, key: SheetKey, slots: &[Slot]) -> Vec<(String, ReadingView)> {
        let asked = |reading: &&Reading| !slots.iter().any(|slot| slot.key == reading.slot);
        let own = self.look.job.readings.iter().filter(|r| r.sheet == key && r.state == ReadingState::Stands);
        own.filter(asked).map(|r| (r.slot.to_string(), reading_view(self.look, r, false))).collect()
    }
}

pub(super) fn reading_view(look: &JobLook, reading: &Reading, small: bool) -> ReadingView {
    let unit = look.job.build.unit;
    let shown_in = if small { unit.small() } else { unit.size() };
    // No more digits than were typed, where they were typed in the unit shown.
    let show = |unit: Unit, si: f64| unit.show(si, digits(unit, reading));
    let both = |unit: Unit| match &reading.says {
        Says::Figure(si) => show(unit, *si),
        Says::Range(low, high) => {
            format!("{} to {}", unit.show_number(*low, digits(unit, reading)), show(unit, *high))
        }
        Says::Checked { how } => format!("checked: {how}"),
    };
    ReadingView {
        number: reading.number,
        take: reading.take,
        typed: reading.typed.clone(),
        shown: both(shown_in),
        other: if matches!(reading.says, Says::Checked { .. }) { String::new() } else { both(shown_in.other()) },
        state: reading.state,
        why: reading.why.clone(),
        when: look.when.stamp(&reading.stamp),
        gauge: reading.gauge.and_then(|id| look.job.gauge(id)).map(|gauge| gauge.name.clone()),
        as_read: reading.as_read,
    }
}

/// Digits after the point that a reading's resolution is worth in a unit, at most two more than usual.
fn digits(unit: Unit, reading: &Reading) -> u8 {
    let usual = unit.usual_decimals();
    let step = reading.resolution / unit.to_si(1.0);
    let worth = if step > 0.0 { (-step.log10() - 1e-9).ceil().max(0.0) } else { f64::from(usual) };
    (usual..=usual + 2).find(|&d| f64::from(d) >= worth).unwrap_or(usual + 2)
}
