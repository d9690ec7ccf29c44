//! Taking a reading: what was typed is understood, compared with what is expected, kept, and never lost.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use super::job::JobLook;
use super::rounds::counting_or_first;
use super::said_for_all;
use super::sheet::next_in_group;
use super::slot_view::how_read;
use crate::engine::{SheetKey, SlotKey};
use crate::quantity::{Entry, HowRead, Typed, Unit};
use crate::record::gauges::{self, Characteristics, Gauge, GaugeSetting, NewGauge, NewGaugeSetting};
use crate::record::readings::{self, NewReading, Reading, ReadingState, Says};
use crate::record::{Writing, acts};
use crate::sheets::{Coarse, Depth, Slot, Words, coarse, home_of_reading, misread, sheet};

/// A reading as it comes from a bench page.
#[derive(Clone, Debug)]
pub struct NewEntry {
    pub sheet: SheetKey,
    pub slot: SlotKey,
    /// As typed; for "checked good", how. In a slot that speaks for all places, "2.7 except 3: 2.5" as well.
    pub text: String,
    pub checked: bool,
    /// Number of the reading that stood in the slot when this was typed.
    pub saw: Option<i64>,
    /// It looked odd, and is kept as read.
    pub as_read: bool,
    /// Public id of the gauge; none for the usual one.
    pub gauge: Option<String>,
}

/// What became of a reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Took {
    /// Kept; where entry goes on.
    Kept { number: i64, next: Option<SlotKey> },
    /// Kept beside another taken meanwhile: somebody has to choose.
    Rival { number: i64 },
    /// Nothing kept yet: it is off from what is expected. Keep as read, or read again.
    Odd { question: String },
}

/// An entry understood.
pub(super) struct Understood {
    pub says: Says,
    pub unit: Option<Unit>,
    pub resolution: f64,
    /// As it was typed and how it was meant; none for what was checked.
    figure: Option<(Typed, HowRead)>,
}

impl Understood {
    /// What is asked about it where it is odd for its slot, and whether the same was kept as read there before: then it
    /// is not asked again.
    pub fn question(&self, look: &JobLook, slot: &Slot, round: Option<i64>) -> Option<(String, bool)> {
        let (typed, how) = self.figure.as_ref()?;
        let odd = misread(&look.job.book(), slot, typed, how)?;
        let place = look.job.engine.architecture.label(slot.key.place);
        let words = Words { unit: look.job.build.unit };
        let question = format!("{place}, {}: {}", slot.label, odd.question(words, slot.measure()));
        let kept = |r: &Reading| r.as_read && r.says == self.says;
        Some((question, round.is_some_and(|round| look.job.in_slot(&slot.key, round).any(kept))))
    }
}

impl Shop {
    /// Takes a reading.
    ///
    /// # Errors
    /// [`Refused::Faults`] on field `value` for what cannot be; [`Refused::NotFound`] for an unknown job or slot.
    pub async fn take(&self, doing: &Doing, job: i64, entry: &NewEntry) -> Done<Took> {
        let look = self.look_with_family(job, doing.at).await?;
        let setup = look.job.setup();
        // A tablet may still send what it kept for the sheet that had the slot before.
        let key = home_of_reading(entry.sheet, &entry.slot.feature);
        let slots = (sheet(key).slots)(&setup);
        let slot = slots.iter().find(|slot| slot.key == entry.slot).ok_or(Refused::NotFound)?;
        let gauge = match &entry.gauge {
            Some(chosen) => look.job.gauges.iter().find(|gauge| gauge.public_id == *chosen),
            None => look.job.usual_gauge(slot),
        };
        let parts = said_for_all::parts(&look.job.engine.architecture, &slots, slot, &entry.text);
        let parts = parts.map_err(|fault| Refused::fault("value", fault))?;
        let mut figures = Vec::new();
        for (nth, (slot, text)) in parts.into_iter().enumerate() {
            let checked = entry.checked && nth == 0;
            let saw = entry.saw.filter(|_| nth == 0);
            figures.push(figure_for(&look, slot, gauge, checked, text, saw)?);
        }
        let counting = look.job.counting(key).map(|round| round.id);
        let questions: Vec<_> = figures.iter().map(|one| one.understood.question(&look, one.slot, counting)).collect();
        let open = questions.iter().flatten().find(|(_, answered)| !answered && !entry.as_read);
        if let Some((question, _)) = open {
            if self.was_done(doing).await? {
                return self.taken_by(&doing.key, &look, &slots, slot).await;
            }
            return Ok(Took::Odd { question: question.clone() });
        }
        let steps = self.steps_with(job, key).await?;
        let Some(mut w) = self.begin(doing, "take reading", Some(job)).await? else {
            return self.taken_by(&doing.key, &look, &slots, slot).await;
        };
        let round = counting_or_first(&mut w, job, key).await?;
        let (mut first, mut rivals) = (None, false);
        for (figure, question) in figures.iter().zip(&questions) {
            let (number, rival) = keep(&mut w, &look, key, round, figure, question.is_some()).await?;
            first.get_or_insert(number);
            rivals |= rival;
        }
        self.begin_for_sheet(&mut w, &steps).await?;
        w.commit().await?;
        let number = first.ok_or(Refused::NotFound)?;
        if rivals {
            return Ok(Took::Rival { number });
        }
        let after = self.look_at_job(job, doing.at).await?;
        Ok(Took::Kept { number, next: next_in_group(&after, &slots, round, &slot.key) })
    }

    /// What an act with this key took: the same post sent twice.
    async fn taken_by(&self, key: &str, look: &JobLook, slots: &[Slot], slot: &Slot) -> Done<Took> {
        let mut db = self.record.look().await?;
        let act = acts::by_key(&mut db, key).await?.ok_or(Refused::NotFound)?;
        let job = look.job.build.id;
        let number = readings::number_by_act(&mut db, job, act).await?.ok_or(Refused::NotFound)?;
        let taken = readings::by_number(&mut db, job, number).await?.ok_or(Refused::NotFound)?;
        Ok(match taken.state {
            ReadingState::Rival => Took::Rival { number },
            _ => Took::Kept { number, next: next_in_group(look, slots, taken.round, &slot.key) },
        })
    }
}

/// What an entry says in one slot.
struct FigureFor<'a> {
    slot: &'a Slot,
    gauge: Option<&'a Gauge>,
    text: String,
    understood: Understood,
    saw: Option<i64>,
}

fn figure_for<'a>(
    look: &'a JobLook,
    slot: &'a Slot,
    gauge: Option<&'a Gauge>,
    checked: bool,
    text: String,
    saw: Option<i64>,
) -> Done<FigureFor<'a>> {
    let setting = gauge.and_then(|gauge| look.job.setting(slot, gauge));
    let understood = understand(look, slot, gauge, setting, &text, checked)?;
    enough(look, slot, gauge, &understood)?;
    Ok(FigureFor { slot, gauge, text, understood, saw })
}

/// Keeps a figure in its slot; its number, and whether it is a rival of another taken meanwhile.
async fn keep(
    w: &mut Writing,
    look: &JobLook,
    sheet: SheetKey,
    round: i64,
    figure: &FigureFor<'_>,
    as_read: bool,
) -> Done<(i64, bool)> {
    let (job, slot) = (look.job.build.id, figure.slot);
    // Looked at again inside the transaction: another tablet may have been quicker.
    let now: Vec<Reading> = readings::of_build(w, job).await?;
    let live = |r: &&Reading| {
        r.round == round && r.slot == slot.key && matches!(r.state, ReadingState::Stands | ReadingState::Rival)
    };
    let latest = now.iter().rev().find(live).map(|r| r.number);
    // A second reading is to be taken without having seen the first.
    let unseen = look.job.second.contains(&slot.key.feature) && now.iter().filter(live).count() < 2;
    let rival = latest != figure.saw && latest.is_some() && !unseen;
    let gauge = gauge_of(w, look, slot, figure.gauge).await?;
    let new = NewReading {
        item: look.job.item(slot.item).ok_or(Refused::NotFound)?,
        sheet,
        slot: slot.key.clone(),
        round,
        says: figure.understood.says.clone(),
        typed: figure.text.trim().to_owned(),
        unit: figure.understood.unit,
        resolution: figure.understood.resolution,
        gauge: gauge.map(|(gauge, _)| gauge),
        gauge_setting: gauge.and_then(|(_, setting)| setting),
        saw: figure.saw,
        corrects: None,
        why: String::new(),
        as_read,
        moved_from: None,
        brought: None,
        state: if rival { ReadingState::Rival } else { ReadingState::Stands },
    };
    Ok((readings::insert(w, job, &new).await?, rival))
}

/// Understands what was typed for a slot, read with a gauge at a setting.
pub(super) fn understand(
    look: &JobLook,
    slot: &Slot,
    gauge: Option<&Gauge>,
    setting: Option<&GaugeSetting>,
    text: &str,
    checked: bool,
) -> Done<Understood> {
    let text = text.trim();
    if checked {
        if text.is_empty() {
            return Err(Refused::fault("value", "say how it was checked: by feel, with strip, against the limit"));
        }
        if text.chars().count() > 200 {
            return Err(Refused::fault("value", "say in at most 200 characters how it was checked"));
        }
        return Ok(Understood {
            says: Says::Checked { how: text.to_owned() },
            unit: None,
            resolution: 0.0,
            figure: None,
        });
    }
    let how = how_read(&look.job, slot, gauge, setting);
    let typed = slot.read(text, &how, look.job.build.unit).map_err(|fault| Refused::fault("value", fault))?;
    let says = match typed.entry {
        Entry::Figure(q) => Says::Figure(q.si),
        Entry::Range(low, high) => Says::Range(low.si, high.si),
    };
    Ok(Understood { says, unit: Some(typed.unit), resolution: typed.resolution_si, figure: Some((typed, how)) })
}

/// Refuses a figure of a gauge that tells more coarsely than the whole of the tightest limit it feeds: it could decide
/// nothing. Digits left away in a hurry refuse nothing; they count in what the figure is good to.
fn enough(look: &JobLook, slot: &Slot, gauge: Option<&Gauge>, understood: &Understood) -> Done<()> {
    if !matches!(understood.says, Says::Figure(_)) || slot.depth != Depth::Each {
        return Ok(());
    }
    let Some((gauge, step)) = gauge.and_then(|gauge| Some((gauge, gauge.known.resolution?))) else { return Ok(()) };
    let Coarse::Useless { tolerance } = coarse(&look.job.book(), &slot.key, step) else { return Ok(()) };
    let words = Words { unit: look.job.build.unit };
    Err(Refused::fault(
        "value",
        format!(
            "{} reads to {}, and the limit it is for is only {} wide: take a finer gauge, or record the place as checked \
             good, with how",
            gauge.name,
            words.step(step),
            words.step(tolerance)
        ),
    ))
}

/// The gauge that takes a reading and its setting. A gauge zeroed at each place is noted as zeroed there.
async fn gauge_of(
    w: &mut Writing,
    look: &JobLook,
    slot: &Slot,
    known: Option<&Gauge>,
) -> Done<Option<(i64, Option<i64>)>> {
    let job = look.job.build.id;
    let Some(on) = slot.set_at_each_place else {
        return Ok(known.map(|gauge| (gauge.id, look.job.setting(slot, gauge).map(|setting| setting.id))));
    };
    let gauge = if let Some(gauge) = known {
        gauge.id
    } else {
        // A bare "+2" goes on meaning what it meant before the gauge had a name.
        let step = look.job.build.unit.small();
        let name = slot.gauge.word().to_owned();
        let new = NewGauge { kind: slot.gauge, name, serial: String::new(), step, known: Characteristics::default() };
        gauges::insert(w, &new).await?
    };
    let zeroed_on = look.job.zeroed_at(on, slot.key.place);
    let settings = gauges::settings_of(w, job).await?;
    let same = settings.iter().find(|setting| setting.gauge == gauge && setting.zeroed_on == zeroed_on);
    let setting = if let Some(setting) = same {
        setting.id
    } else {
        let typed = String::new();
        let new = NewGaugeSetting { gauge, build: Some(job), zeroed_on, set_to: None, typed, master: None };
        gauges::insert_setting(w, &new).await?
    };
    Ok(Some((gauge, Some(setting))))
}
