//! A part of a job written down, changed or withdrawn.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::parts::{Stock, fitted_at};
use super::when::civil;
use crate::record::part_moves::{self, MoveKind, NewMove};
use crate::record::parts::{self, AsItCame, NewPart, Origin, Part, Whose};

/// More of one part than any engine takes.
const MOST: i64 = 10_000;

/// What is typed of a part.
#[derive(Clone, Debug, Default)]
pub struct PartForm {
    pub description: String,
    pub maker: String,
    pub part_number: String,
    pub quantity: String,
    /// Serials or lot.
    pub serial: String,
    /// Public id; empty for none.
    pub supplier: String,
    /// Keys.
    pub whose: String,
    pub origin: String,
    pub as_it_came: String,
    pub shelf: String,
    /// A step's key; empty for none.
    pub step: String,
    /// Of one.
    pub cost: String,
    pub price: String,
    /// Deposit for the old part in exchange.
    pub core: String,
    /// Public id of the part it takes the place of; empty for none.
    pub replaces: String,
    pub note: String,
}

impl PartForm {
    /// As a part's form shows it.
    pub(super) fn of(look: &JobLook, stock: &Stock, part: &Part) -> Self {
        let said = &part.said;
        let replaces = stock.parts.iter().find(|other| Some(other.id) == said.replaces);
        Self {
            description: said.description.clone(),
            maker: said.maker.clone(),
            part_number: said.part_number.clone(),
            quantity: said.quantity.to_string(),
            serial: said.serial.clone(),
            supplier: stock.supplier(said.supplier).map(|one| one.public_id.clone()).unwrap_or_default(),
            whose: said.whose.key().to_owned(),
            origin: said.origin.key().to_owned(),
            as_it_came: said.as_it_came.key().to_owned(),
            shelf: said.shelf.clone(),
            step: look.steps.iter().find(|s| Some(s.id) == said.step).map(|s| s.key.clone()).unwrap_or_default(),
            cost: stock.purse.typed(said.cost),
            price: stock.purse.typed(said.price),
            core: stock.purse.typed(said.core),
            replaces: replaces.map(|other| other.public_id.clone()).unwrap_or_default(),
            note: said.note.clone(),
        }
    }

    fn understood(&self, look: &JobLook, stock: &Stock, itself: Option<&Part>) -> Done<NewPart> {
        let mut faults = Vec::new();
        if self.description.trim().is_empty() {
            faults.push(FieldFault::new("description", "say what it is: connecting rod bolts"));
        }
        for (field, text, most) in [
            ("description", &self.description, 200),
            ("maker", &self.maker, 200),
            ("part_number", &self.part_number, 200),
            ("serial", &self.serial, 500),
            ("shelf", &self.shelf, 100),
            ("note", &self.note, 2000),
        ] {
            faults.extend(FieldFault::too_long(field, text, most));
        }
        let quantity = quantity("quantity", &self.quantity).map_err(|why| faults.push(why)).unwrap_or(1);
        let supplier = stock.suppliers.iter().find(|one| one.public_id == self.supplier).map(|one| one.id);
        if supplier.is_none() && !self.supplier.is_empty() {
            faults.push(FieldFault::new("supplier", "choose the supplier from the list"));
        }
        let step = look.steps.iter().find(|step| step.key == self.step).map(|step| step.id);
        if step.is_none() && !self.step.is_empty() {
            faults.push(FieldFault::new("step", "choose the step from the list"));
        }
        let replaces = match &*self.replaces {
            "" => None,
            id => match stock.parts.iter().find(|part| part.public_id == id) {
                None => {
                    faults.push(FieldFault::new("replaces", "choose the part from the list"));
                    None
                }
                Some(other) if itself.is_some_and(|part| leads_to(stock, other, part.id)) => {
                    faults.push(FieldFault::new("replaces", "a part does not take the place of itself"));
                    None
                }
                Some(other) => Some(other.id),
            },
        };
        let whose = Whose::from_key(&self.whose).unwrap_or(Whose::Shop);
        let cost = stock.purse.amount("cost", &self.cost).map_err(|why| faults.push(why)).ok().flatten();
        let price = stock.purse.amount("price", &self.price).map_err(|why| faults.push(why)).ok().flatten();
        if whose == Whose::Customer && price.is_some_and(|price| price > 0) {
            faults.push(FieldFault::new("price", "the customer's own part is not charged: leave the price empty"));
        }
        let core = stock.purse.amount("core", &self.core).map_err(|why| faults.push(why)).ok().flatten();
        if whose == Whose::Customer && core.is_some_and(|core| core > 0) {
            faults.push(FieldFault::new("core", "his own part is no exchange: leave the core deposit empty"));
        }
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        Ok(NewPart {
            description: self.description.trim().to_owned(),
            maker: self.maker.trim().to_owned(),
            part_number: self.part_number.trim().to_owned(),
            quantity,
            serial: self.serial.trim().to_owned(),
            supplier,
            whose,
            origin: Origin::from_key(&self.origin).unwrap_or(Origin::Bought),
            as_it_came: AsItCame::from_key(&self.as_it_came).unwrap_or(AsItCame::New),
            shelf: self.shelf.trim().to_owned(),
            step,
            cost,
            price,
            core: core.filter(|core| *core > 0),
            replaces,
            note: self.note.trim().to_owned(),
        })
    }
}

/// How many, as typed.
pub(super) fn quantity(field: &str, typed: &str) -> Result<i64, FieldFault> {
    let count = typed.trim().parse::<i64>().ok().filter(|count| (1..=MOST).contains(count));
    count.ok_or_else(|| FieldFault::new(field, format!("enter how many: a whole number from 1 to {MOST}")))
}

/// Whether a part takes the place of another, by itself or by way of others.
fn leads_to(stock: &Stock, from: &Part, to: i64) -> bool {
    let mut at = Some(from);
    while let Some(part) = at {
        if part.id == to {
            return true;
        }
        at = stock.parts.iter().find(|other| Some(other.id) == part.said.replaces);
    }
    false
}

impl Shop {
    /// Writes down a part. What came with the engine is here from the start.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn add_part(&self, doing: &Doing, job: i64, form: &PartForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let new = form.understood(&look, &stock, None)?;
        let Some(mut w) = self.begin(doing, "add part", Some(job)).await? else { return Ok(()) };
        let part = parts::insert(&mut w, job, &new).await?;
        if new.origin == Origin::Found {
            let came = NewMove {
                part,
                kind: MoveKind::Received,
                quantity: new.quantity,
                day: look.when.today(),
                due: None,
                place: None,
                words: String::new(),
            };
            part_moves::insert(&mut w, &came).await?;
        }
        Ok(w.commit().await?)
    }

    /// Changes what is said of a part; `saw` is the act that had last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, [`Refused::Conflict`] where it was changed since.
    pub async fn change_part(
        &self,
        doing: &Doing,
        job: i64,
        public_id: &str,
        saw: Option<i64>,
        form: &PartForm,
    ) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?;
        let new = form.understood(&look, &stock, Some(part))?;
        let Some(mut w) = self.begin(doing, "change part", Some(job)).await? else { return Ok(()) };
        let now = parts::of(&mut w, Some(job)).await?.into_iter().find(|other| other.id == part.id);
        if now.is_none_or(|now| saw.is_some_and(|saw| saw != now.act)) {
            let stands = format!("{} was changed meanwhile: look at it again", part.said.description);
            return Err(Refused::Conflict { stands });
        }
        parts::update(&mut w, part.id, &new).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws a part that was never used.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it is used, saying where.
    pub async fn withdraw_part(&self, doing: &Doing, job: i64, public_id: &str) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?;
        let used = used(&look, &stock, part);
        if !used.is_empty() {
            return Err(Refused::fault("withdraw", format!("it cannot be withdrawn: {}", used.join("; "))));
        }
        let Some(mut w) = self.begin(doing, "withdraw part", Some(job)).await? else { return Ok(()) };
        parts::withdraw(&mut w, part.id).await?;
        Ok(w.commit().await?)
    }
}

/// Where a part is used, in words.
fn used(look: &JobLook, stock: &Stock, part: &Part) -> Vec<String> {
    let mut used = Vec::new();
    if let Some(place) = fitted_at(look, part) {
        used.push(format!("it is fitted at {}", look.job.engine.architecture.label(place)));
    } else if let Some(fitted) = stock.moves_of(part.id).find(|one| one.said.kind == MoveKind::Fitted) {
        used.push(format!("it was fitted on {}", civil(fitted.said.day)));
    }
    if let Some(other) = stock.replaced_by(part) {
        used.push(format!("{} takes its place", other.said.description));
    }
    let named = look.job.changes.iter().filter(|change| change.said.part == Some(part.id));
    used.extend(named.map(|change| format!("the change “{}” names it", change.said.change.word())));
    let supply = stock.supply(part);
    if supply.awaited() > 0 {
        used.push(format!("{} are on order: note them as returned or received first", supply.awaited()));
    }
    used
}
