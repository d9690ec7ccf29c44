//! A job is ended or parked, with what goes where; an ending is taken back, and the job goes on.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::endings::{Thing, in_words, saw, standing, things, with_the_engine};
use super::job::JobLook;
use super::supplies::Supplies;
use super::when::{civil, day_done, typed_day};
use crate::record::endings::{self, EndingKind, EndingThing, NewEnding, Whither};
use crate::record::items::{self, Fitted};
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::{self, AsItCame, NewPart, Origin, Part, Whose};
use crate::record::{Connection, Writing, builds};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// An ending as typed.
#[derive(Clone, Debug, Default)]
pub struct EndingForm {
    /// What the form saw.
    pub saw: String,
    /// An ending's key.
    pub kind: String,
    pub day: String,
    pub words: String,
    /// The day from which storage runs; empty where none does.
    pub storage_from: String,
    /// Where each thing goes, by its key; empty: as is usual.
    pub whither: BTreeMap<String, String>,
    /// The number of the job to which things go.
    pub to_job: String,
}

/// An ending understood.
struct Understood<'a> {
    ending: NewEnding,
    /// Each thing with where it goes.
    goes: Vec<(Thing<'a>, Whither)>,
    /// The job to which some go.
    to_job: Option<i64>,
}

/// The job to which things go: another one that is in the shop.
async fn other_job(db: &mut Connection, job: i64, text: &str) -> Done<Result<i64, FieldFault>> {
    let refuse = |what: String| Ok(Err(FieldFault::new("to_job", what)));
    let Some(number) = text.trim().trim_start_matches('#').parse().ok().filter(|number| *number > 0) else {
        return refuse("enter the number of the job to which things go".to_owned());
    };
    match builds::by_id(db, number).await? {
        _ if number == job => refuse("enter the number of another job: this one ends".to_owned()),
        None => refuse(format!("there is no job {number}: enter the number of one that is in the shop")),
        Some(other) if other.closed => {
            refuse(format!("job {number} has left the shop: enter the number of one that is in it"))
        }
        Some(_) => Ok(Ok(number)),
    }
}

async fn understood<'a>(
    db: &mut Connection,
    look: &'a JobLook,
    supplies: &'a Supplies,
    form: &EndingForm,
) -> Done<Understood<'a>> {
    let mut faults = Vec::new();
    let build = &look.job.build;
    let kind = EndingKind::from_key(&form.kind);
    if kind.is_none() {
        faults.push(FieldFault::new("kind", "choose how the job ends, or that it is parked"));
    }
    let day = day_done("day", &form.day, look.when.today()).map_err(|fault| faults.push(fault)).ok();
    let opened = look.when.date(build.opened.at);
    if day.is_some_and(|day| day < opened) {
        let what = format!("the job was opened on {}: enter that day or a later one", civil(opened));
        faults.push(FieldFault::new("day", what));
    }
    faults.extend(FieldFault::too_long("words", &form.words, 1000));
    let storage = typed_day("storage_from", &form.storage_from).map_err(|fault| faults.push(fault)).ok().flatten();
    if storage.is_some() && kind.is_some_and(|kind| kind != EndingKind::Parked) {
        faults.push(FieldFault::new("storage_from", "leave it empty: storage runs only while the engine is parked"));
    } else if storage.zip(day).is_some_and(|(storage, day)| storage < day) {
        faults.push(FieldFault::new("storage_from", "enter the day on which it is parked or a later one"));
    }
    let mut goes = Vec::new();
    for thing in things(look, supplies) {
        let key = thing.key();
        let typed = form.whither.get(&key).map_or("", String::as_str);
        let usual = thing.usual().or_else(|| kind.and_then(with_the_engine));
        match (Whither::from_key(typed), typed.is_empty()) {
            (None, false) => {
                let field = format!("whither-{key}");
                faults.push(FieldFault::new(field, "choose where it goes from the list"));
            }
            (Some(Whither::Job), _) if kind == Some(EndingKind::Parked) => {
                let what = "a parked job keeps what it has: choose another ending, or leave this where it is";
                faults.push(FieldFault::new(format!("whither-{key}"), what));
            }
            (chosen, _) => goes.extend(chosen.or(usual).map(|whither| (thing, whither))),
        }
    }
    if kind == Some(EndingKind::Parked) {
        goes.clear();
    }
    let to_another = goes.iter().any(|(_, whither)| *whither == Whither::Job);
    let to_job = if to_another {
        other_job(db, build.id, &form.to_job).await?.map_err(|fault| faults.push(fault)).ok()
    } else {
        None
    };
    match kind.zip(day).filter(|_| faults.is_empty()) {
        Some((kind, day)) => {
            let ending = NewEnding { kind, day, words: form.words.trim().to_owned(), storage_from: storage };
            Ok(Understood { ending, goes, to_job })
        }
        None => Err(Refused::Faults(faults)),
    }
}

/// What a thing is as a part of the job to which it goes: its readings travel with it, as it is the same thing.
fn as_part(thing: &Thing, what: &str, from: i64) -> (NewPart, Option<i64>) {
    let (item, of): (Option<i64>, NewPart) = match thing {
        Thing::Item(item) => {
            let of = NewPart {
                description: what.to_owned(),
                maker: String::new(),
                part_number: String::new(),
                quantity: 1,
                serial: item.serial.clone(),
                supplier: None,
                whose: Whose::Shop,
                origin: Origin::Found,
                as_it_came: AsItCame::Used,
                shelf: String::new(),
                step: None,
                cost: None,
                price: None,
                core: None,
                replaces: None,
                note: String::new(),
            };
            (Some(item.item), of)
        }
        Thing::Part(part, here) => {
            (part.item, NewPart { quantity: *here, step: None, replaces: None, ..part.said.clone() })
        }
    };
    (NewPart { origin: Origin::Found, note: format!("from job {from}"), ..of }, item)
}

impl Shop {
    /// Ends a job, or parks it. Whatever it is but parked, the job is closed. What goes to another job is taken out of this
    /// engine and is a part of that job from then on.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be; a conflict where somebody has ended it or changed it meanwhile.
    pub async fn end_job(&self, doing: &Doing, job: i64, form: &EndingForm) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "end job", Some(job)).await? else { return Ok(()) };
        let stands = standing(&mut w, job).await?;
        let act = builds::by_id(&mut w, job).await?.ok_or(Refused::NotFound)?.act;
        if form.saw != saw(act, stands.as_ref()) {
            let now = stands.map_or_else(|| "changed meanwhile".to_owned(), |ending| in_words(&ending));
            return Err(Refused::Conflict { stands: format!("Job {job}: {now}") });
        }
        let supplies = Supplies::of(&mut w, Some(job), doing.at).await?;
        let Understood { ending, goes, to_job } = understood(&mut w, &look, &supplies, form).await?;
        let disposed = |(thing, whither): &(Thing, Whither)| EndingThing {
            what: thing.what(&look),
            item: if let Thing::Item(item) = thing { Some(item.item) } else { None },
            part: if let Thing::Part(part, _) = thing { Some(part.id) } else { None },
            whither: *whither,
            to_build: to_job.filter(|_| *whither == Whither::Job),
            words: String::new(),
        };
        let all: Vec<EndingThing> = goes.iter().map(disposed).collect();
        endings::withdraw(&mut w, job).await?;
        endings::insert(&mut w, job, &ending, &all).await?;
        let given: Vec<&Thing> = goes.iter().filter(|(_, to)| *to == Whither::Job).map(|(thing, _)| thing).collect();
        for thing in &given {
            give_away(&mut w, look.job.engine.id, thing, ending.day, to_job).await?;
        }
        if ending.kind != EndingKind::Parked {
            builds::close(&mut w, job).await?;
        }
        if let Some(other) = to_job {
            self.go_on(&mut w, doing, "take over parts", other).await?;
            for thing in given {
                let (new, item) = as_part(thing, &thing.what(&look), job);
                take_over(&mut w, other, &new, item, ending.day).await?;
            }
        }
        Ok(w.commit().await?)
    }

    /// Takes an ending back: the job goes on. A thing that went to another job comes back, unless it was fitted there; other
    /// parts that went there stay.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none stands; [`Refused::Faults`] on field `withdraw` where a thing is fitted elsewhere.
    pub async fn take_ending_back(&self, doing: &Doing, job: i64) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "take ending back", Some(job)).await? else { return Ok(()) };
        if standing(&mut w, job).await?.is_none() {
            return Err(Refused::NotFound);
        }
        self.go_on_with(&mut w, doing, &look).await?;
        Ok(w.commit().await?)
    }

    /// Takes a job up again that was closed by mistake; an ending that stands is taken back.
    ///
    /// # Errors
    /// As [`Shop::take_ending_back`]; [`Refused::NotFound`] where there is no such job.
    pub async fn reopen_job(&self, doing: &Doing, job: i64) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "reopen job", Some(job)).await? else { return Ok(()) };
        self.go_on_with(&mut w, doing, &look).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws the ending that stands, opens the job again, and brings back what went to another job.
    async fn go_on_with(&self, w: &mut Writing, doing: &Doing, look: &JobLook) -> Done<()> {
        let (job, engine) = (look.job.build.id, look.job.engine.id);
        let stands = standing(w, job).await?.map(|ending| ending.id);
        let went = endings::things(w, Some(job)).await?.into_iter().filter(|thing| Some(thing.ending) == stands);
        let went: Vec<EndingThing> = went.map(|thing| thing.said).collect();
        let out = items::taken_out(w, engine).await?;
        endings::withdraw(w, job).await?;
        if look.job.build.closed {
            builds::reopen(w, job).await?;
        }
        let mut back: BTreeMap<i64, Vec<&Fitted>> = BTreeMap::new();
        for thing in &went {
            let (Some(other), Some(item)) = (thing.to_build, out.iter().find(|item| Some(item.item) == thing.item))
            else {
                continue;
            };
            if items::engine_of(w, item.item).await?.is_some() {
                let what = format!("{} is fitted on job {other} now: take it out there first", thing.what);
                return Err(Refused::fault("withdraw", what));
            }
            items::fit(w, engine, item.item, item.at.place).await?;
            back.entry(other).or_default().push(item);
        }
        for (other, items) in back {
            self.go_on(w, doing, "give parts back", other).await?;
            let is_of = |part: &Part| !part.withdrawn && items.iter().any(|item| part.item == Some(item.item));
            for part in parts::of(w, Some(other)).await?.iter().filter(|part| is_of(part)) {
                parts::withdraw(w, part.id).await?;
            }
        }
        Ok(())
    }
}

/// A thing leaves the engine or the job's shelf.
async fn give_away(w: &mut Writing, engine: i64, thing: &Thing<'_>, day: Date, to: Option<i64>) -> Done<()> {
    match thing {
        Thing::Item(item) => items::take_out(w, engine, item.item).await?,
        Thing::Part(part, here) => {
            let words = to.map_or_else(String::new, |job| format!("to job {job}"));
            let (part, quantity) = (part.id, *here);
            let new = NewMove { part, kind: MoveKind::Returned, quantity, day, due: None, place: None, words };
            part_moves::insert(w, &new).await?;
        }
    }
    Ok(())
}

/// A thing is a part of another job from then on, and here.
async fn take_over(w: &mut Writing, job: i64, new: &NewPart, item: Option<i64>, day: Date) -> Done<()> {
    let part = parts::insert(w, job, new).await?;
    if let Some(item) = item {
        parts::set_item(w, part, item).await?;
    }
    let (quantity, words) = (new.quantity, new.note.clone());
    let came = NewMove { part, kind: MoveKind::Received, quantity, day, due: None, place: None, words };
    part_moves::insert(w, &came).await?;
    Ok(())
}
