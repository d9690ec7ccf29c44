//! A part that came in, looked at: each point good or not so; what is wrong is put apart, and the rest is inspected.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::inspection_points::{ANY, KindOfPart};
use super::job::JobHead;
use super::parts::{PartRow, Stock};
use super::supply::Supply;
use crate::record::inspections::{self, NewLookedAt, Point};
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::Part;
use jiff::Timestamp;
use jiff::civil::Date;

/// Something to look at.
#[derive(Clone, Debug)]
pub struct PointView {
    pub words: String,
    /// The number of what this shop added itself.
    pub own: Option<i64>,
}

/// Something that was looked at.
#[derive(Clone, Debug)]
pub struct LookedView {
    pub what: String,
    pub good: bool,
    pub words: String,
    pub when: String,
}

/// The page on which a part that came in is looked at.
#[derive(Clone, Debug)]
pub struct InspectionView {
    pub head: JobHead,
    pub row: PartRow,
    /// "fasteners".
    pub kind: &'static str,
    pub points: Vec<PointView>,
    /// How many are here and were not looked at.
    pub to_look_at: i64,
    /// The newest first.
    pub looked: Vec<LookedView>,
}

/// What was found of one point.
#[derive(Clone, Debug, Default)]
pub struct LookedForm {
    pub what: String,
    /// None where nothing was ticked.
    pub good: Option<bool>,
    pub words: String,
}

/// What was found of a part.
#[derive(Clone, Debug, Default)]
pub struct InspectionForm {
    pub looked: Vec<LookedForm>,
    /// How many of them are wrong; empty where all is good.
    pub wrong: String,
}

/// What is looked at on a part: what every shop looks at, then what this one added.
fn points(part: &Part, own: &[Point]) -> Vec<PointView> {
    let kind = KindOfPart::of(&part.said.description);
    let usual = kind.points().map(|words| PointView { words: words.to_owned(), own: None });
    let added = own.iter().filter(|point| point.kind == kind.key || point.kind == ANY);
    usual.chain(added.map(|point| PointView { words: point.words.clone(), own: Some(point.id) })).collect()
}

/// How many are here, not fitted and not looked at.
pub(super) fn to_look_at(supply: &Supply) -> i64 {
    (supply.here - supply.inspected.max(supply.fitted)).max(0)
}

/// What was found, understood.
struct Found {
    looked: Vec<NewLookedAt>,
    wrong: i64,
    good: i64,
    /// What is wrong: "Part number: of the later head".
    why: String,
}

impl InspectionForm {
    /// Faults name the field of their point by its place in the list.
    fn understood(&self, part: &Part, supply: &Supply, points: &[PointView]) -> Done<Found> {
        let mut faults = Vec::new();
        let here = to_look_at(supply);
        let mut looked = Vec::new();
        for (place, point) in points.iter().enumerate() {
            let found = self.looked.iter().find(|looked| looked.what == point.words);
            let words = found.map_or("", |found| found.words.trim());
            let mut refuse = |field: &str, message: &str| {
                faults.push(FieldFault::new(format!("{field}-{place}"), format!("{}: {message}", point.words)));
            };
            let good = found.and_then(|found| found.good);
            match good {
                None => refuse("is", "say whether it is good or not so"),
                Some(false) if words.is_empty() => refuse("word", "say what is wrong with it"),
                Some(_) if words.chars().count() > 200 => refuse("word", "enter at most 200 characters"),
                Some(_) => {}
            }
            let good = good.unwrap_or_default();
            looked.push(NewLookedAt { part: part.id, what: point.words.clone(), good, words: words.to_owned() });
        }
        let not_so: Vec<&NewLookedAt> = looked.iter().filter(|one| !one.good).collect();
        let wrong = match self.wrong.trim() {
            "" if not_so.is_empty() => Some(0),
            typed => typed.parse::<i64>().ok().filter(|wrong| (0..=here).contains(wrong)),
        };
        match wrong {
            _ if here == 0 => faults.push(FieldFault::new("wrong", "none of it is here that was not looked at")),
            None if not_so.is_empty() => {
                faults.push(FieldFault::new(
                    "wrong",
                    format!("enter how many are wrong, at most {here}; empty for none"),
                ));
            }
            None => faults.push(FieldFault::new(
                "wrong",
                format!("something is not so: enter how many are put apart, from 0 to {here}"),
            )),
            Some(wrong) if wrong > 0 && not_so.is_empty() => {
                faults.push(FieldFault::new("wrong", "say above what is not so with them"));
            }
            Some(_) => {}
        }
        let (Some(wrong), true) = (wrong, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let why = not_so.iter().map(|one| format!("{}: {}", one.what, one.words)).collect::<Vec<_>>().join("; ");
        Ok(Found { looked, wrong, good: here - wrong, why })
    }
}

impl Found {
    fn moves(&self, part: &Part, day: Date) -> Vec<NewMove> {
        let of = |kind, quantity, words: &str| {
            let words = words.to_owned();
            NewMove { part: part.id, kind, quantity, day, due: None, place: None, words }
        };
        let moves = [of(MoveKind::Refused, self.wrong, &self.why), of(MoveKind::Inspected, self.good, "")];
        moves.into_iter().filter(|one| one.quantity > 0).collect()
    }
}

impl Shop {
    /// The page on which a part that came in is looked at.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has no such part.
    pub async fn inspection(&self, job: i64, public_id: &str, now: Timestamp) -> Done<InspectionView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let stock = Stock::load(&mut db, Some(job)).await?;
        let own = inspections::points(&mut db).await?;
        let looked = inspections::of(&mut db, job).await?;
        drop(db);
        let part = stock.find(public_id)?;
        let of_part = looked.iter().rev().filter(|one| one.said.part == part.id && !one.withdrawn);
        Ok(InspectionView {
            head: look.head(),
            row: look.part_row(&stock, part),
            kind: KindOfPart::of(&part.said.description).word,
            points: points(part, &own),
            to_look_at: to_look_at(&stock.supply(part)),
            looked: of_part
                .map(|one| LookedView {
                    what: one.said.what.clone(),
                    good: one.said.good,
                    words: one.said.words.clone(),
                    when: look.when.stamp(&one.stamp),
                })
                .collect(),
        })
    }

    /// Keeps what was found of a part that came in: those wrong are put apart, the others are inspected.
    ///
    /// # Errors
    /// [`Refused::Faults`] where a point was not ticked, or nobody said what is wrong.
    pub async fn inspect(&self, doing: &Doing, job: i64, public_id: &str, form: &InspectionForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "inspect part", Some(job)).await? else { return Ok(()) };
        let stock = Stock::load(&mut w, Some(job)).await?;
        let part = stock.find(public_id)?;
        let points = points(part, &inspections::points(&mut w).await?);
        let found = form.understood(part, &stock.supply(part), &points)?;
        for one in &found.looked {
            inspections::insert(&mut w, one).await?;
        }
        for one in found.moves(part, look.when.today()) {
            part_moves::insert(&mut w, &one).await?;
        }
        Ok(w.commit().await?)
    }

    /// Adds something this shop looks at, on parts such as this one or on every part.
    ///
    /// # Errors
    /// [`Refused::Faults`] where nothing is said, or it is looked at already.
    pub async fn add_point(&self, doing: &Doing, (job, part): (i64, &str), words: &str, any: bool) -> Done<()> {
        let mut db = self.record.look().await?;
        let stock = Stock::load(&mut db, Some(job)).await?;
        let part = stock.find(part)?;
        let known = points(part, &inspections::points(&mut db).await?);
        drop(db);
        let words = words.trim();
        if words.is_empty() {
            return Err(Refused::fault("point", "say what is looked at"));
        }
        if words.chars().count() > 80 {
            return Err(Refused::fault("point", "enter at most 80 characters"));
        }
        if known.iter().any(|point| point.words.eq_ignore_ascii_case(words)) {
            return Err(Refused::fault("point", "this is looked at already"));
        }
        let kind = if any { ANY } else { KindOfPart::of(&part.said.description).key };
        let Some(mut w) = self.begin(doing, "add inspection point", None).await? else { return Ok(()) };
        inspections::insert_point(&mut w, kind, words).await?;
        Ok(w.commit().await?)
    }

    /// Looks at it no more; what was found before stays.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the shop does not look at it.
    pub async fn withdraw_point(&self, doing: &Doing, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw inspection point", None).await? else { return Ok(()) };
        if !inspections::withdraw_point(&mut w, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
