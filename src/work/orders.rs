//! Orders to place: what is to order for every job, by supplier; as a table for a spreadsheet; marked as ordered.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::supplies::{PartLine, Supplies};
use super::supply::Supply;
use super::when::{day_done, typed_day};
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::{self, NewPart, Origin, Part, Whose};
use crate::record::suppliers::Supplier;
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;

const WHAT: &str = "mark ordered";

/// What is to order of one supplier.
#[derive(Clone, Debug)]
pub struct OrderGroup {
    /// Public id, name and telephone number; none while nobody is chosen.
    pub supplier: Option<(String, String, String)>,
    pub lines: Vec<PartLine>,
}

/// The orders to place.
#[derive(Clone, Debug)]
pub struct OrdersView {
    /// By the supplier's name; what nobody is chosen for last.
    pub groups: Vec<OrderGroup>,
    /// Suppliers to choose from: public id and name.
    pub suppliers: Vec<(String, String)>,
    /// Today, as a form takes it.
    pub today: String,
}

/// Parts marked as ordered of one supplier.
#[derive(Clone, Debug, Default)]
pub struct OrderForm {
    /// Each ticked part with how many were to order when the form was shown.
    pub parts: Vec<(String, i64)>,
    /// Public id of the supplier for parts that have none.
    pub from: String,
    pub day: String,
    /// The day promised; may be empty.
    pub due: String,
    /// The order's number; may be empty.
    pub words: String,
}

/// What the shop has to order of a part: what the customer brings, what came with the engine or is made here is not ordered.
fn to_order(supplies: &Supplies, part: &Part) -> Option<Supply> {
    let buys = part.said.whose == Whose::Shop && part.said.origin == Origin::Bought;
    Some(supplies.supply(part)).filter(|supply| buys && supply.to_order() > 0)
}

fn groups(supplies: &Supplies) -> Vec<OrderGroup> {
    let mut by_supplier: BTreeMap<Option<i64>, Vec<PartLine>> = BTreeMap::new();
    for part in &supplies.parts {
        if let Some(supply) = to_order(supplies, part) {
            let line = supplies.line(part, &supply, supply.to_order());
            by_supplier.entry(part.said.supplier).or_default().push(line);
        }
    }
    let called = |s: &Supplier| (s.public_id.clone(), s.said.name.clone(), s.said.phone.clone());
    let mut groups: Vec<OrderGroup> = supplies
        .suppliers
        .iter()
        .filter_map(|s| Some(OrderGroup { supplier: Some(called(s)), lines: by_supplier.remove(&Some(s.id))? }))
        .collect();
    groups.extend(by_supplier.into_values().map(|lines| OrderGroup { supplier: None, lines }));
    groups
}

/// What is ordered, understood.
struct Ordered<'a> {
    day: Date,
    due: Option<Date>,
    words: String,
    /// For parts that have no supplier.
    from: Option<i64>,
    /// Each part with how many.
    parts: Vec<(&'a Part, i64)>,
}

fn understood<'a>(supplies: &'a Supplies, form: &OrderForm) -> Done<Ordered<'a>> {
    let mut faults = Vec::new();
    if form.parts.is_empty() {
        faults.push(FieldFault::new("parts", "tick what was ordered"));
    }
    let day = day_done("day", &form.day, supplies.when.today()).map_err(|fault| faults.push(fault)).ok();
    let due = typed_day("due", &form.due).map_err(|fault| faults.push(fault)).ok().flatten();
    if day.zip(due).is_some_and(|(day, due)| due < day) {
        faults.push(FieldFault::new("due", "enter the day of the order or a later one"));
    }
    faults.extend(FieldFault::too_long("words", &form.words, 200));
    let from = supplies.supplier(&form.from).filter(|supplier| !supplier.withdrawn).map(|supplier| supplier.id);
    let mut ordered = Vec::new();
    for (id, seen) in &form.parts {
        let part = supplies.parts.iter().find(|part| part.public_id == *id).ok_or(Refused::NotFound)?;
        let now = to_order(supplies, part).map_or(0, |supply| supply.to_order());
        if now != *seen {
            let what = format!(
                "{} of job {}: {now} are to order now, not {seen}; look again and tick it where it still is right",
                part.said.description, part.build
            );
            faults.push(FieldFault::new(format!("part-{id}"), what));
        }
        ordered.push((part, now));
    }
    if from.is_none() && ordered.iter().any(|(part, _)| part.said.supplier.is_none()) {
        faults.push(FieldFault::new("from", "choose from whom it was ordered"));
    }
    match day.filter(|_| faults.is_empty()) {
        Some(day) => Ok(Ordered { day, due, words: form.words.trim().to_owned(), from, parts: ordered }),
        None => Err(Refused::Faults(faults)),
    }
}

/// A cell of a table for a spreadsheet. One that begins as a formula does is kept a text by an apostrophe before it.
fn cell(text: &str) -> String {
    let begins = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    if begins { format!("'{text}") } else { text.to_owned() }
}

fn table(groups: &[OrderGroup]) -> Result<Vec<u8>, csv::Error> {
    let mut rows = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    rows.write_record(["Supplier", "Quantity", "Part", "Maker", "Part number", "Job", "What it is", "Needed for"])?;
    for group in groups {
        let supplier = group.supplier.as_ref().map_or("", |(_, name, _)| name);
        for line in &group.lines {
            let step = line.step.as_ref().map_or("", |step| &step.title);
            rows.write_record([
                cell(supplier),
                line.quantity.to_string(),
                cell(&line.description),
                cell(&line.maker),
                cell(&line.part_number),
                line.job.to_string(),
                cell(&line.title),
                cell(step),
            ])?;
        }
    }
    rows.into_inner().map_err(|why| why.into_error().into())
}

impl Shop {
    /// What is to order, for every job in the shop.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn orders(&self, now: Timestamp) -> Done<OrdersView> {
        let supplies = Supplies::load(&mut *self.record.look().await?, now).await?;
        let in_use = supplies.suppliers.iter().filter(|supplier| !supplier.withdrawn);
        Ok(OrdersView {
            groups: groups(&supplies),
            suppliers: in_use.map(|supplier| (supplier.public_id.clone(), supplier.said.name.clone())).collect(),
            today: supplies.when.today().to_string(),
        })
    }

    /// The same as a table for a spreadsheet: RFC 4180, UTF-8. A text that a spreadsheet would take for a formula has an apostrophe
    /// before it.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn orders_table(&self, now: Timestamp) -> Done<Vec<u8>> {
        let supplies = Supplies::load(&mut *self.record.look().await?, now).await?;
        let table = table(&groups(&supplies)).map_err(|why| crate::record::Error::File(std::io::Error::other(why)))?;
        Ok(table)
    }

    /// Marks parts of several jobs as ordered, all or none.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, and where somebody else has ordered some meanwhile.
    pub async fn mark_ordered(&self, doing: &Doing, form: &OrderForm) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let seen = Supplies::load(&mut *self.record.look().await?, doing.at).await?;
        let Some(first) = understood(&seen, form)?.parts.iter().map(|(part, _)| part.build).min() else {
            return Ok(());
        };
        let Some(mut w) = self.begin(doing, WHAT, Some(first)).await? else { return Ok(()) };
        let supplies = Supplies::load(&mut w, doing.at).await?;
        let ordered = understood(&supplies, form)?;
        let mut by_job: BTreeMap<i64, Vec<(&Part, i64)>> = BTreeMap::new();
        for (part, quantity) in ordered.parts {
            by_job.entry(part.build).or_default().push((part, quantity));
        }
        for (job, parts) in by_job {
            if job != first {
                self.go_on(&mut w, doing, WHAT, job).await?;
            }
            for (part, quantity) in parts {
                let (day, due, words) = (ordered.day, ordered.due, ordered.words.clone());
                let new = NewMove { part: part.id, kind: MoveKind::Ordered, quantity, day, due, place: None, words };
                part_moves::insert(&mut w, &new).await?;
                if part.said.supplier.is_none() {
                    parts::update(&mut w, part.id, &NewPart { supplier: ordered.from, ..part.said.clone() }).await?;
                }
            }
        }
        Ok(w.commit().await?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_takes_for_a_formula_stays_a_text() {
        for (text, kept) in [
            ("rod bolts", "rod bolts"),
            ("=HYPERLINK(\"x\")", "'=HYPERLINK(\"x\")"),
            ("+1", "'+1"),
            ("-1", "'-1"),
            ("@SUM(1)", "'@SUM(1)"),
            ("", ""),
        ] {
            assert_eq!(cell(text), kept);
        }
    }
}
