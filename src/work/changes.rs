//! What was changed after readings were taken: noted, with what it makes stale; looked at again and found the same.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::{JobHead, JobLook};
use crate::engine::{Place, SheetKey};
use crate::record::changes::{self, ChangeMade, NewChange};
use crate::record::{Writing, parts};
use crate::sheets::{Change, sheet};
use jiff::Timestamp;
use std::collections::BTreeSet;

/// What is typed of a change.
#[derive(Clone, Debug, Default)]
pub struct ChangeForm {
    /// A change's key.
    pub change: String,
    /// A place's key; empty for everywhere.
    pub place: String,
    /// Public id of the part that brought it; empty for none.
    pub part: String,
    pub words: String,
}

/// What of one sheet a change makes stale still.
#[derive(Clone, Debug)]
pub struct StaleSheet {
    pub key: SheetKey,
    pub title: &'static str,
    /// "8 readings at cylinder 1, cylinder 2".
    pub what: String,
}

/// A change as its page shows it.
#[derive(Clone, Debug)]
pub struct ChangeView {
    pub id: i64,
    /// "other rod bolts".
    pub what: &'static str,
    /// "everywhere", "cylinder 3".
    pub place: String,
    pub words: String,
    /// What brought it: a part, or work sent out.
    pub brought_by: Option<String>,
    pub when: String,
    /// Nothing: all was taken anew or looked at again.
    pub stale: Vec<StaleSheet>,
    /// "Deck and compression: looked at again, the same; today 14:05 by Ada", with its id.
    pub checked: Vec<(i64, String)>,
}

/// The page of a job's changes.
#[derive(Clone, Debug)]
pub struct ChangesView {
    pub head: JobHead,
    /// Newest first.
    pub changes: Vec<ChangeView>,
    /// What can change: key and words.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// Where: key and label; the empty key is everywhere.
    pub places: Vec<(String, String)>,
    /// The job's parts: public id and description; the empty id is none.
    pub parts: Vec<(String, String)>,
}

/// What is stale on a sheet by one change, as the sheet's page says it.
#[derive(Clone, Debug)]
pub struct StaleHere {
    pub change: i64,
    /// "other rod bolts, cylinder 3".
    pub what: String,
    pub words: String,
    pub when: String,
    /// "8 readings at cylinder 1, cylinder 2".
    pub which: String,
}

impl JobLook {
    fn place_words(&self, place: Option<Place>) -> String {
        place.map_or_else(|| "everywhere".to_owned(), |place| self.job.engine.architecture.label(place))
    }

    fn which(&self, readings: usize, places: &BTreeSet<Place>) -> String {
        let labels: Vec<String> = places.iter().map(|&place| self.job.engine.architecture.label(place)).collect();
        let counted = if readings == 1 { "1 reading".to_owned() } else { format!("{readings} readings") };
        format!("{counted} at {}", labels.join(", "))
    }

    /// What is stale on a sheet, change by change.
    pub(super) fn stale_on(&self, key: SheetKey) -> Vec<StaleHere> {
        let of = |change: &ChangeMade| {
            let (readings, places) = self.findings.stale.by_change(change.id).remove(&key)?;
            let place =
                change.said.place.map_or_else(String::new, |place| format!(", {}", self.place_words(Some(place))));
            Some(StaleHere {
                change: change.id,
                what: format!("{}{place}", change.said.change.word()),
                words: change.said.words.clone(),
                when: self.when.stamp(&change.stamp),
                which: self.which(readings, &places),
            })
        };
        self.job.changes.iter().filter_map(of).collect()
    }

    fn change_view(&self, change: &ChangeMade, parts: &[parts::Part], sendings: &[(i64, String)]) -> ChangeView {
        let said = &change.said;
        let part = said.part.and_then(|id| parts.iter().find(|part| part.id == id));
        let part = part.map(|part| part.said.description.clone());
        let sent =
            said.sending.and_then(|id| sendings.iter().find(|(known, _)| *known == id)).map(|(_, what)| what.clone());
        let stale = self.findings.stale.by_change(change.id);
        let checked = self.job.checked.iter().filter(|checked| checked.change == change.id);
        ChangeView {
            id: change.id,
            what: said.change.word(),
            place: self.place_words(said.place),
            words: said.words.clone(),
            brought_by: part.or(sent),
            when: self.when.stamp(&change.stamp),
            stale: stale
                .into_iter()
                .map(|(key, (readings, places))| StaleSheet {
                    key,
                    title: sheet(key).title,
                    what: self.which(readings, &places),
                })
                .collect(),
            checked: checked
                .map(|checked| {
                    let title = sheet(checked.sheet).title;
                    (checked.id, format!("{title}: looked at again, the same; {}", self.when.stamp(&checked.stamp)))
                })
                .collect(),
        }
    }
}

/// The places that a change can be at, and everywhere first.
pub(super) fn places_of_change(look: &JobLook) -> Vec<(String, String)> {
    let engine = &look.job.engine.architecture;
    let mains = engine.main_places();
    let each = engine.cylinders_in_order().into_iter().chain(mains).chain(engine.bank_places());
    let named = each.map(|place| (place.to_string(), engine.label(place)));
    std::iter::once((String::new(), "everywhere".to_owned())).chain(named).collect()
}

/// What can change: key and words.
pub(super) fn kinds_of_change() -> Vec<(&'static str, &'static str)> {
    Change::ALL.iter().map(|change| (change.key(), change.word())).collect()
}

/// The place typed for a change of this job's engine; none for everywhere.
pub(super) fn place_of_change(look: &JobLook, typed: &str) -> Result<Option<Place>, FieldFault> {
    if typed.is_empty() {
        return Ok(None);
    }
    let place = typed.parse().ok().filter(|place| look.job.engine.architecture.has(*place));
    place.map(Some).ok_or_else(|| FieldFault::new("place", "choose the place from the list"))
}

/// Keeps a change: what was read until now is stale by it.
pub(super) async fn keep_change(w: &mut Writing, look: &JobLook, new: &NewChange) -> Done<()> {
    let newest = look.job.readings.iter().map(|reading| reading.number).max().unwrap_or(0);
    changes::insert(w, look.job.build.id, new, newest).await?;
    Ok(())
}

impl Shop {
    /// What was changed on a job, and what is stale by it.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn changes(&self, job: i64, now: Timestamp) -> Done<ChangesView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let own = parts::of(&mut db, Some(job)).await?;
        let sendings = crate::record::sendings::of(&mut db, Some(job)).await?;
        let sendings: Vec<(i64, String)> =
            sendings.into_iter().map(|sending| (sending.id, sending.said.what)).collect();
        let named = own.iter().filter(|part| !part.withdrawn);
        let named = named.map(|part| (part.public_id.clone(), part.said.description.clone()));
        Ok(ChangesView {
            head: look.head(),
            changes: look.job.changes.iter().rev().map(|change| look.change_view(change, &own, &sendings)).collect(),
            kinds: kinds_of_change(),
            places: places_of_change(&look),
            parts: std::iter::once((String::new(), "no part".to_owned())).chain(named).collect(),
        })
    }

    /// Notes that something was changed.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what is not in the lists.
    pub async fn note_change(&self, doing: &Doing, job: i64, form: &ChangeForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let own = parts::of(&mut *self.record.look().await?, Some(job)).await?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("words", &form.words, 1000).into_iter().collect();
        let change = Change::from_key(&form.change);
        if change.is_none() {
            faults.push(FieldFault::new("change", "choose what was changed"));
        }
        let place = place_of_change(&look, &form.place).map_err(|fault| faults.push(fault)).ok().flatten();
        let part = own.iter().find(|part| part.public_id == form.part).map(|part| part.id);
        if part.is_none() && !form.part.is_empty() {
            faults.push(FieldFault::new("part", "choose the part from the list"));
        }
        let (Some(change), true) = (change, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let new = NewChange { change, place, part, sending: None, words: form.words.trim().to_owned() };
        let Some(mut w) = self.begin(doing, "note change", Some(job)).await? else { return Ok(()) };
        keep_change(&mut w, &look, &new).await?;
        Ok(w.commit().await?)
    }

    /// "Re-checked, same": what a change made stale on a sheet was looked at again and stands.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the change is not of this job.
    pub async fn check_after_change(&self, doing: &Doing, job: i64, change: i64, key: SheetKey) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        look.job.changes.iter().find(|known| known.id == change).ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "check after change", Some(job)).await? else { return Ok(()) };
        changes::check(&mut w, job, change, key, None).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws that something was looked at again.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_check(&self, doing: &Doing, job: i64, checked: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw check", Some(job)).await? else { return Ok(()) };
        if !changes::check_no_more(&mut w, job, checked).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// Withdraws a change: it was not made.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_change(&self, doing: &Doing, job: i64, change: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw change", Some(job)).await? else { return Ok(()) };
        if !changes::withdraw(&mut w, job, change).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
