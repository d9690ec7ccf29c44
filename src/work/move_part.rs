//! What becomes of a part: ordered, received, inspected, fitted and on, each held against what came before.

use super::Shop;
use super::changes::{keep_change, place_of_change};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::keep_part::quantity;
use super::parts::Stock;
use super::supply::Supply;
use super::when::civil;
use crate::engine::{ItemKind, Place};
use crate::record::changes::NewChange;
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::Part;
use crate::record::readings::Reading;
use crate::record::{Writing, items, parts};
use crate::sheets::Change;
use jiff::civil::Date;

/// What is typed of what became of a part.
#[derive(Clone, Debug, Default)]
pub struct MoveForm {
    /// A kind's key.
    pub kind: String,
    pub quantity: String,
    /// Civil days, as 2027-03-01.
    pub day: String,
    pub due: String,
    pub words: String,
    /// Fitted as which item of the engine, by its key; empty for none.
    pub item: String,
    /// At which place; empty for everywhere.
    pub place: String,
    /// What it changes of what was measured, by its key; empty for nothing.
    pub change: String,
    /// That it is so, although it looks odd.
    pub sure: bool,
}

/// A move with what goes with it.
struct Understood {
    said: NewMove,
    /// As which item it is fitted.
    item: Option<ItemKind>,
    change: Option<Change>,
}

/// A part fitted as an item of the engine.
struct ItemFitted {
    kind: ItemKind,
    place: Option<Place>,
    change: Option<Change>,
}

impl MoveForm {
    fn understood(&self, look: &JobLook, part: &Part, supply: &Supply) -> Done<Understood> {
        let mut faults: Vec<FieldFault> = FieldFault::too_long("words", &self.words, 1000).into_iter().collect();
        let kind = MoveKind::from_key(&self.kind);
        if kind.is_none() {
            faults.push(FieldFault::new("kind", "choose what became of it"));
        }
        let quantity = quantity("quantity", &self.quantity).map_err(|why| faults.push(why)).ok();
        let day = day("day", &self.day).map_err(|why| faults.push(why)).ok().flatten().unwrap_or(look.when.today());
        let due = self::day("due", &self.due).map_err(|why| faults.push(why)).ok().flatten();
        let place = place_of_change(look, &self.place).map_err(|why| faults.push(why)).ok().flatten();
        if let (Some(kind), Some(quantity)) = (kind, quantity) {
            faults.extend(self.against(look, supply, kind, quantity, day, due));
        }
        let item = ItemKind::from_key(&self.item).filter(|_| kind == Some(MoveKind::Fitted));
        let change = Change::from_key(&self.change).filter(|_| kind == Some(MoveKind::Fitted));
        if let Some(item) = item {
            faults.extend(self.fitting(look, part, &ItemFitted { kind: item, place, change }));
        }
        let (Some(kind), Some(quantity), true) = (kind, quantity, faults.is_empty()) else {
            return Err(Refused::Faults(faults));
        };
        let place = place.filter(|_| kind == MoveKind::Fitted);
        let words = self.words.trim().to_owned();
        Ok(Understood { said: NewMove { part: part.id, kind, quantity, day, due, place, words }, item, change })
    }

    /// What cannot be of a thing fitted where one of its kind was; what was read of that one is asked about.
    fn fitting(&self, look: &JobLook, part: &Part, fitted: &ItemFitted) -> Vec<FieldFault> {
        let mut faults = Vec::new();
        let of_kind = look.job.items.iter().filter(|item| item.at.kind == fitted.kind);
        if let Some(place) = fitted.place {
            if !of_kind.clone().any(|item| item.at.place == place) {
                let at = look.job.engine.architecture.label(place);
                faults.push(FieldFault::new("place", format!("no {} stands at {at}", fitted.kind.word())));
            }
        } else if part.item.is_some() && of_kind.count() > 1 {
            let ask = "choose where: it is one thing, and the engine has several such places";
            faults.push(FieldFault::new("place", ask));
        }
        let by_fitting = Change::by_fitting(fitted.kind);
        let is_stale = |reading: &Reading| by_fitting.makes_stale(&reading.slot.feature).is_some();
        if fitted.change.is_none() && !self.sure && look.job.readings.iter().any(is_stale) {
            let ask = format!(
                "“{}” makes readings stale that stand here: choose it, or tick “It is so” if they are of this very thing",
                by_fitting.word()
            );
            faults.push(FieldFault::new("change", ask));
        }
        faults
    }

    /// What of it cannot be after what became of the part before, and what looks odd until it is said to be so.
    fn against(
        &self,
        look: &JobLook,
        supply: &Supply,
        kind: MoveKind,
        quantity: i64,
        day: Date,
        due: Option<Date>,
    ) -> Vec<FieldFault> {
        let mut faults = Vec::new();
        let mut refuse = |field: &str, words: String| faults.push(FieldFault::new(field, words));
        let is_done = !matches!(kind, MoveKind::Quoted | MoveKind::Ordered | MoveKind::Promised);
        if day > look.when.today() {
            refuse("day", "this day has not come yet: enter the day it happened".to_owned());
        }
        if let Some(ordered) = supply.first_ordered.filter(|ordered| is_done && day < *ordered) {
            refuse("day", format!("it was ordered on {}: enter a day from then on", civil(ordered)));
        }
        if due.is_some_and(|due| due < day) {
            refuse("due", "this is before the day of the order: enter the day it is promised for".to_owned());
        }
        if kind == MoveKind::Promised && due.is_none() {
            refuse("due", "enter the day it is promised for".to_owned());
        }
        let mut at_most = |most: i64, what: &str| {
            if quantity > most {
                refuse("quantity", format!("{what}: enter at most {most}"));
            }
        };
        match kind {
            MoveKind::Refused | MoveKind::Inspected => at_most(supply.here, "so many are not here"),
            MoveKind::Returned => at_most(supply.here + supply.apart, "so many are not here"),
            MoveKind::Fitted => at_most(supply.here - supply.fitted, "so many are not here to be fitted"),
            MoveKind::Quoted | MoveKind::Ordered | MoveKind::Promised | MoveKind::Received => {}
        }
        let after = supply.received + quantity;
        if kind == MoveKind::Received && supply.ordered > 0 && after > supply.ordered && !self.sure {
            refuse("quantity", format!("that makes {after} of {} ordered: tick “It is so” to keep it", supply.ordered));
        }
        faults
    }
}

/// A day as typed; none where nothing was.
pub(super) fn day(field: &str, typed: &str) -> Result<Option<Date>, FieldFault> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let sensible = |day: &Date| (2000..2200).contains(&day.year());
    let day = typed.parse::<Date>().ok().filter(sensible);
    day.map(Some).ok_or_else(|| FieldFault::new(field, "enter the day as 2027-03-01"))
}

impl Shop {
    /// Keeps what became of a part. One that is fitted as an item of the engine takes the place of the item there; what it
    /// changes makes readings stale.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be after what came before.
    pub async fn move_part(&self, doing: &Doing, job: i64, public_id: &str, form: &MoveForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?;
        let new = form.understood(&look, part, &stock.supply(part))?;
        let Some(mut w) = self.begin(doing, "move part", Some(job)).await? else { return Ok(()) };
        part_moves::insert(&mut w, &new.said).await?;
        if let Some(kind) = new.item {
            fit(&mut w, &look, part, kind, new.said.place).await?;
        }
        if let Some(change) = new.change {
            let words = new.said.words.clone();
            let said = NewChange { change, place: new.said.place, part: Some(part.id), sending: None, words };
            keep_change(&mut w, &look, &said).await?;
        }
        Ok(w.commit().await?)
    }

    /// Withdraws something noted of a part by mistake.
    ///
    /// # Errors
    /// [`Refused::Faults`] where what came after rests on it.
    pub async fn withdraw_move(&self, doing: &Doing, job: i64, public_id: &str, id: i64) -> Done<()> {
        let mut stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?.clone();
        let one = stock.moves.iter_mut().find(|one| one.id == id && one.said.part == part.id && !one.withdrawn);
        let one = one.ok_or(Refused::NotFound)?;
        let said = one.said.kind.word();
        one.withdrawn = true;
        let without = stock.supply(&part);
        if without.here < 0 || without.apart < 0 || without.fitted > without.here || without.inspected > without.here {
            let words = format!("what came after rests on it: withdraw that first, then “{said}”");
            return Err(Refused::fault("moves", words));
        }
        let Some(mut w) = self.begin(doing, "withdraw move of part", Some(job)).await? else { return Ok(()) };
        part_moves::withdraw(&mut w, part.id, id).await?;
        Ok(w.commit().await?)
    }
}

/// Fits a part as an item of the engine: at a place, or wherever the engine has one of its kind.
async fn fit(w: &mut Writing, look: &JobLook, part: &Part, kind: ItemKind, place: Option<Place>) -> Done<()> {
    let at = |item: &&items::Fitted| item.at.kind == kind && place.is_none_or(|place| item.at.place == place);
    let before: Vec<&items::Fitted> = look.job.items.iter().filter(at).collect();
    let engine = look.job.engine.id;
    for item in &before {
        items::take_out(w, engine, item.item).await?;
        let fitted = match part.item {
            Some(own) => items::fit(w, engine, own, item.at.place).await.map(|()| own)?,
            None => items::fit_new(w, engine, item.at, &part.said.serial).await?,
        };
        if before.len() == 1 {
            parts::set_item(w, part.id, fitted).await?;
        }
    }
    Ok(())
}
