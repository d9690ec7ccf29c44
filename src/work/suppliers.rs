//! Suppliers and machine shops: who they are, what is there now, and how what they promised compares with what came.

use super::Shop;
use super::deliveries::{Days, Delivery, deliveries};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::supplies::{AwayLine, PartLine, Supplies};
use crate::drawing::Drawing;
use crate::drawing::lateness::{Lateness, lateness};
use crate::record::suppliers::{self, NewSupplier, Supplier};
use crate::record::{self, Connection};
use jiff::Timestamp;

/// A supplier as typed.
#[derive(Clone, Debug, Default)]
pub struct SupplierForm {
    pub name: String,
    pub phone: String,
    pub email: String,
    pub note: String,
    /// Whole days; empty where nothing is known.
    pub usual_days: String,
}

/// A supplier in the list.
#[derive(Clone, Debug)]
pub struct SupplierRow {
    pub id: String,
    pub name: String,
    pub phone: String,
    /// How many parts are on order there, how much work is there, and how many of both are late.
    pub on_order: usize,
    pub away: usize,
    pub late: usize,
    /// Of 3 deliveries …; empty before the first.
    pub kept: String,
}

/// A supplier's page.
#[derive(Clone, Debug)]
pub struct SupplierView {
    pub id: String,
    pub name: String,
    /// As its form is filled in.
    pub form: SupplierForm,
    pub on_order: Vec<PartLine>,
    pub away: Vec<AwayLine>,
    /// Promised against received, in words and as a picture; none before the first delivery with a day promised.
    pub kept: Option<(String, Drawing)>,
    /// Days from order to arrival, in words; none before the first.
    pub taken: Option<String>,
    /// How many deliveries had no day promised.
    pub unpromised: usize,
    /// The act that last changed it: what its form saw.
    pub saw: i64,
}

/// The most days that a supplier can be said to take.
const LONGEST: i64 = 730;

fn understood(form: &SupplierForm, known: &[Supplier], own: Option<i64>) -> Done<NewSupplier> {
    let text = |text: &str| text.trim().to_owned();
    let new = NewSupplier {
        name: text(&form.name),
        phone: text(&form.phone),
        email: text(&form.email),
        note: text(&form.note),
        usual_days: form.usual_days.trim().parse().ok().filter(|days| (0..=LONGEST).contains(days)),
    };
    let mut faults = Vec::new();
    let namesake = |other: &&Supplier| {
        !other.withdrawn && Some(other.id) != own && other.said.name.to_lowercase() == new.name.to_lowercase()
    };
    if new.name.is_empty() {
        faults.push(FieldFault::new("name", "enter the name as it is called in the shop"));
    } else if let Some(same) = known.iter().find(namesake) {
        faults.push(FieldFault::new("name", format!("{} is listed already: enter another name", same.said.name)));
    }
    if new.usual_days.is_none() && !form.usual_days.trim().is_empty() {
        let what = format!("enter whole days from 0 to {LONGEST}, or nothing where it is not known");
        faults.push(FieldFault::new("usual_days", what));
    }
    let texts =
        [("name", &form.name, 80), ("phone", &form.phone, 60), ("email", &form.email, 120), ("note", &form.note, 1000)];
    faults.extend(texts.iter().filter_map(|(field, text, most)| FieldFault::too_long(field, text, *most)));
    if faults.is_empty() { Ok(new) } else { Err(Refused::Faults(faults)) }
}

/// Every delivery of every job.
pub(super) async fn all_deliveries(db: &mut Connection) -> Done<Vec<Delivery>> {
    let moved = record::deliveries::moved(db).await?;
    let sent = record::deliveries::sent_and_back(db).await?;
    Ok(deliveries(&moved, &sent))
}

fn lateness_of(own: &[&Delivery]) -> Option<Days> {
    Days::of(own.iter().filter_map(|delivery| delivery.late()))
}

impl Shop {
    /// Every supplier in use, by name.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn suppliers(&self, now: Timestamp) -> Done<Vec<SupplierRow>> {
        let mut look = self.record.look().await?;
        let supplies = Supplies::load(&mut look, now).await?;
        let all = all_deliveries(&mut look).await?;
        let (on_order, away) = (supplies.on_order(), supplies.away());
        let row = |supplier: &Supplier| {
            let own: Vec<&Delivery> = all.iter().filter(|delivery| delivery.supplier == supplier.id).collect();
            let there = on_order.iter().filter(|(part, _)| part.said.supplier == Some(supplier.id));
            let work = away.iter().filter(|one| one.said.supplier == Some(supplier.id));
            let late = there.clone().filter(|(_, supply)| supply.is_late(supplies.when.today())).count();
            SupplierRow {
                id: supplier.public_id.clone(),
                name: supplier.said.name.clone(),
                phone: supplier.said.phone.clone(),
                on_order: there.count(),
                away: work.clone().count(),
                late: late + work.filter(|one| supplies.away_line(one).late).count(),
                kept: lateness_of(&own).map(|days| days.lateness_in_words()).unwrap_or_default(),
            }
        };
        Ok(supplies.suppliers.iter().filter(|supplier| !supplier.withdrawn).map(row).collect())
    }

    /// A supplier's page.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none of this public id.
    pub async fn supplier(&self, id: &str, now: Timestamp) -> Done<SupplierView> {
        let mut look = self.record.look().await?;
        let supplies = Supplies::load(&mut look, now).await?;
        let supplier = supplies.supplier(id).filter(|supplier| !supplier.withdrawn).ok_or(Refused::NotFound)?;
        let all = all_deliveries(&mut look).await?;
        let own: Vec<&Delivery> = all.iter().filter(|delivery| delivery.supplier == supplier.id).collect();
        let (on_order, away) = there(&supplies, supplier);
        let drawn = |days: Days| {
            let said = days.lateness_in_words();
            let late = Lateness {
                label: supplier.said.name.clone(),
                days: days.all().to_vec(),
                half: days.within(5),
                most: days.within(8),
                said: said.clone(),
            };
            (said, lateness(&late))
        };
        let said = &supplier.said;
        Ok(SupplierView {
            id: supplier.public_id.clone(),
            name: said.name.clone(),
            form: SupplierForm {
                name: said.name.clone(),
                phone: said.phone.clone(),
                email: said.email.clone(),
                note: said.note.clone(),
                usual_days: said.usual_days.map(|days| days.to_string()).unwrap_or_default(),
            },
            on_order,
            away,
            kept: lateness_of(&own).map(drawn),
            taken: Days::of(own.iter().map(|delivery| delivery.took())).map(|days| days.taken_in_words()),
            unpromised: own.iter().filter(|delivery| delivery.promised.is_none()).count(),
            saw: supplier.act,
        })
    }

    /// Keeps a supplier, or changes one: by its public id, and the act that last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed it after the form was shown.
    pub async fn keep_supplier(&self, doing: &Doing, changes: Option<(&str, i64)>, form: &SupplierForm) -> Done<()> {
        let Some(mut w) = self.begin(doing, "keep supplier", None).await? else { return Ok(()) };
        let known = suppliers::all(&mut w).await?;
        match changes {
            Some((id, saw)) => {
                let stands = |supplier: &&Supplier| supplier.public_id == id && !supplier.withdrawn;
                let own = known.iter().find(stands).ok_or(Refused::NotFound)?;
                let new = understood(form, &known, Some(own.id))?;
                if own.act != saw {
                    return Err(Refused::Conflict { stands: own.said.name.clone() });
                }
                suppliers::update(&mut w, own.id, &new).await?;
            }
            None => {
                suppliers::insert(&mut w, &understood(form, &known, None)?).await?;
            }
        }
        Ok(w.commit().await?)
    }

    /// Takes a supplier off the list; what came from there keeps its name.
    ///
    /// # Errors
    /// [`Refused::Faults`] on field `withdraw`, saying where, while something is on order or away there.
    pub async fn withdraw_supplier(&self, doing: &Doing, id: &str) -> Done<()> {
        if self.was_done(doing).await? {
            return Ok(());
        }
        let supplies = Supplies::load(&mut *self.record.look().await?, doing.at).await?;
        let supplier = supplies.supplier(id).filter(|supplier| !supplier.withdrawn).ok_or(Refused::NotFound)?;
        let (on_order, away) = there(&supplies, supplier);
        let parts = on_order.iter().map(|line| format!("{} for job {}", line.description, line.job));
        let held: Vec<String> =
            parts.chain(away.iter().map(|line| format!("{} of job {}", line.what, line.job))).collect();
        if !held.is_empty() {
            let why = format!("still there: {}; take it in, or choose another supplier for it first", held.join(", "));
            return Err(Refused::fault("withdraw", why));
        }
        let Some(mut w) = self.begin(doing, "withdraw supplier", None).await? else { return Ok(()) };
        suppliers::withdraw(&mut w, supplier.id).await?;
        Ok(w.commit().await?)
    }
}

/// What is on order and away at a supplier.
fn there(supplies: &Supplies, supplier: &Supplier) -> (Vec<PartLine>, Vec<AwayLine>) {
    let on_order = supplies.on_order();
    let parts = on_order.iter().filter(|(part, _)| part.said.supplier == Some(supplier.id));
    let away = supplies.away().into_iter().filter(|one| one.said.supplier == Some(supplier.id));
    (
        parts.map(|(part, supply)| supplies.line(part, supply, supply.awaited())).collect(),
        away.map(|one| supplies.away_line(one)).collect(),
    )
}
