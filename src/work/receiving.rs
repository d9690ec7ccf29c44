//! Receiving: everything on order or away over all jobs; what came is taken in, the wrong part put aside with the reason.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::inspect::to_look_at;
use super::supplies::{AwayLine, PartLine, Supplies};
use super::supply::Supply;
use super::when::{civil, day_done};
use crate::record::Writing;
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::{Origin, Part};
use crate::record::sendings::{self, NewSending, Sending};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;

const WHAT: &str = "receive";

/// What comes, and what came and lies apart.
#[derive(Clone, Debug)]
pub struct ReceivingView {
    /// The most awaited first.
    pub awaited: Vec<PartLine>,
    pub away: Vec<AwayLine>,
    /// Here, and not looked at yet.
    pub to_look_at: Vec<PartLine>,
    /// Refused and not yet sent back: the line, and why.
    pub apart: Vec<(PartLine, String)>,
    /// Today, as a form takes it.
    pub today: String,
}

/// A part that came.
#[derive(Clone, Debug, Default)]
pub struct CameForm {
    /// Its public id.
    pub part: String,
    /// How many were awaited when the form was shown.
    pub seen: i64,
    /// How many came, and how many of them are wrong.
    pub count: String,
    pub wrong: String,
    pub why: String,
}

/// What came.
#[derive(Clone, Debug, Default)]
pub struct ReceiveForm {
    pub day: String,
    pub came: Vec<CameForm>,
    /// Work that is back: its public id, and the act that had last changed it.
    pub back: Vec<(String, i64)>,
}

/// One thing that came, understood.
enum Came<'a> {
    Part { part: &'a Part, count: i64, wrong: i64, why: String },
    Work(&'a Sending),
}

impl Came<'_> {
    fn job(&self) -> i64 {
        match self {
            Self::Part { part, .. } => part.build,
            Self::Work(one) => one.build,
        }
    }

    async fn keep(&self, w: &mut Writing, day: Date) -> Done<()> {
        match self {
            Self::Part { part, count, wrong, why } => {
                let (part, place, due) = (part.id, None, None);
                let words = String::new();
                let received = NewMove { part, kind: MoveKind::Received, quantity: *count, day, due, place, words };
                part_moves::insert(w, &received).await?;
                if *wrong > 0 {
                    let words = why.clone();
                    let refused = NewMove { part, kind: MoveKind::Refused, quantity: *wrong, day, due, place, words };
                    part_moves::insert(w, &refused).await?;
                }
            }
            Self::Work(one) => {
                sendings::update(w, one.id, &NewSending { back: Some(day), ..one.said.clone() }).await?;
            }
        }
        Ok(())
    }
}

/// A part that came, or what to enter instead.
fn part_came<'a>(
    supplies: &'a Supplies,
    form: &CameForm,
    day: Option<Date>,
    faults: &mut Vec<FieldFault>,
) -> Done<Came<'a>> {
    let id = &form.part;
    let part = supplies.parts.iter().find(|part| part.public_id == *id).ok_or(Refused::NotFound)?;
    let supply = supplies.supply(part);
    let mut refuse = |field: &str, what: String| faults.push(FieldFault::new(format!("{field}-{id}"), what));
    let called = &part.said.description;
    if supply.awaited() != form.seen {
        let now = supply.awaited();
        refuse("came", format!("{called}: {now} are awaited now, not {}; look again", form.seen));
    }
    let number = |text: &str| text.trim().parse::<i64>().ok().filter(|count| *count >= 0);
    let count = number(&form.count).filter(|count| (1..=form.seen).contains(count));
    if count.is_none() {
        let most = form.seen;
        refuse(
            "count",
            format!(
                "{called}: enter how many came, from 1 to {most}; what came beyond the order belongs on the part’s page"
            ),
        );
    }
    let wrong = if form.wrong.trim().is_empty() { Some(0) } else { number(&form.wrong) };
    let wrong = wrong.filter(|wrong| count.is_none_or(|count| *wrong <= count));
    match wrong {
        None => refuse("wrong", format!("{called}: enter how many of them are wrong, at most as many as came")),
        Some(0) if !form.why.trim().is_empty() => {
            refuse("wrong", format!("{called}: say how many of them are wrong"));
        }
        Some(wrong) if wrong > 0 && form.why.trim().is_empty() => {
            refuse("why", format!("{called}: say what is wrong with it"));
        }
        Some(_) if form.why.chars().count() > 200 => refuse("why", "enter at most 200 characters".to_owned()),
        Some(_) => {}
    }
    if let Some(ordered) = supply.first_ordered.filter(|ordered| day.is_some_and(|day| day < *ordered)) {
        let on = civil(ordered);
        refuse("came", format!("{called} was ordered on {on}: enter that day or a later one as the day it came"));
    }
    Ok(Came::Part { part, count: count.unwrap_or(0), wrong: wrong.unwrap_or(0), why: form.why.trim().to_owned() })
}

fn work_back<'a>(
    supplies: &'a Supplies,
    (id, saw): &(String, i64),
    day: Option<Date>,
    faults: &mut Vec<FieldFault>,
) -> Done<Came<'a>> {
    let one = supplies.sendings.iter().find(|one| one.public_id == *id).ok_or(Refused::NotFound)?;
    let mut refuse = |what: String| faults.push(FieldFault::new(format!("back-{id}"), what));
    let called = &one.said.what;
    if one.act != *saw || one.said.back.is_some() {
        refuse(format!("{called} was changed meanwhile: look again"));
    }
    if let Some(sent) = one.said.sent.filter(|sent| day.is_some_and(|day| day < *sent)) {
        refuse(format!("{called} went on {}: enter that day or a later one as the day it came", civil(sent)));
    }
    Ok(Came::Work(one))
}

fn understood<'a>(supplies: &'a Supplies, form: &ReceiveForm) -> Done<(Date, Vec<Came<'a>>)> {
    let mut faults = Vec::new();
    if form.came.is_empty() && form.back.is_empty() {
        faults.push(FieldFault::new("came", "tick what came"));
    }
    let day = day_done("day", &form.day, supplies.when.today()).map_err(|fault| faults.push(fault)).ok();
    let mut came = Vec::new();
    for part in &form.came {
        came.push(part_came(supplies, part, day, &mut faults)?);
    }
    for back in &form.back {
        came.push(work_back(supplies, back, day, &mut faults)?);
    }
    match day.filter(|_| faults.is_empty()) {
        Some(day) => Ok((day, came)),
        None => Err(Refused::Faults(faults)),
    }
}

impl Shop {
    /// Everything that comes, over all jobs in the shop.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn receiving(&self, now: Timestamp) -> Done<ReceivingView> {
        let supplies = Supplies::load(&mut *self.record.look().await?, now).await?;
        let all: Vec<(&Part, Supply)> = supplies.parts.iter().map(|part| (part, supplies.supply(part))).collect();
        let apart = all.iter().filter(|(_, supply)| supply.apart > 0);
        let bought = |part: &Part| part.said.origin == Origin::Bought;
        let came = all.iter().filter(|(part, supply)| bought(part) && supply.received > 0 && !supply.replaced);
        let unseen = came.map(|(part, supply)| (part, supply, to_look_at(supply))).filter(|(.., count)| *count > 0);
        let on_order = supplies.on_order();
        Ok(ReceivingView {
            awaited: on_order.iter().map(|(part, supply)| supplies.line(part, supply, supply.awaited())).collect(),
            away: supplies.away().into_iter().map(|one| supplies.away_line(one)).collect(),
            to_look_at: unseen.map(|(part, supply, count)| supplies.line(part, supply, count)).collect(),
            apart: apart
                .map(|(part, supply)| (supplies.line(part, supply, supply.apart), supplies.why_refused(part)))
                .collect(),
            today: supplies.when.today().to_string(),
        })
    }

    /// Takes in what came for several jobs, all or none.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, and where somebody else has taken some in meanwhile.
    pub async fn take_in(&self, doing: &Doing, form: &ReceiveForm) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let seen = Supplies::load(&mut *self.record.look().await?, doing.at).await?;
        let Some(first) = understood(&seen, form)?.1.iter().map(Came::job).min() else { return Ok(()) };
        let Some(mut w) = self.begin(doing, WHAT, Some(first)).await? else { return Ok(()) };
        let supplies = Supplies::load(&mut w, doing.at).await?;
        let (day, came) = understood(&supplies, form)?;
        let mut by_job: BTreeMap<i64, Vec<Came>> = BTreeMap::new();
        for one in came {
            by_job.entry(one.job()).or_default().push(one);
        }
        for (job, came) in by_job {
            if job != first {
                self.go_on(&mut w, doing, WHAT, job).await?;
            }
            for one in came {
                one.keep(&mut w, day).await?;
            }
        }
        Ok(w.commit().await?)
    }
}
