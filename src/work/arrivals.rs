//! When what steps need comes: as its supplier's own history says, or by what is judged beforehand where there is little of it.

use super::deliveries::{Delivery, deliveries};
use super::doing::Done;
use super::needs::{Needed, Source};
use crate::plan::{self, Days, LATENESS_WITHIN, Lead, Promises, ThreePoint, USUAL_LATENESS, WORTH};
use crate::record::suppliers::{self, Supplier};
use crate::record::waits::Why;
use crate::record::{Connection, deliveries as kept};
use jiff::civil::Date;

/// Our own guesses, no source: days at least, likely and at most where nobody named a day. From an order to its arrival …
const PART: (f64, f64, f64) = (3.0, 14.0, 56.0);
/// … for work sent out …
const MACHINE_SHOP: (f64, f64, f64) = (5.0, 14.0, 42.0);
/// … for an answer of the customer, for his money, and for the shop itself.
const CUSTOMER: (f64, f64, f64) = (1.0, 5.0, 21.0);
const DEPOSIT: (f64, f64, f64) = (1.0, 7.0, 28.0);
const ME: (f64, f64, f64) = (1.0, 3.0, 14.0);

/// When something comes, and what says so.
#[derive(Clone, Debug)]
pub(super) struct Arrival {
    /// From today.
    pub days: Days,
    /// "by 14 deliveries of Harrow Cranks"; "nobody named a day: our guess is 1 to 21 days".
    pub by: String,
}

/// How suppliers kept what they promised, over every job.
pub(super) struct Suppliers {
    suppliers: Vec<Supplier>,
    deliveries: Vec<Delivery>,
}

impl Suppliers {
    pub async fn load(db: &mut Connection) -> Done<Self> {
        let (moved, sent) = (kept::moved(db).await?, kept::sent_and_back(db).await?);
        Ok(Self { suppliers: suppliers::all(db).await?, deliveries: deliveries(&moved, &sent) })
    }

    /// When something comes that is not here today.
    pub fn arrival(&self, needed: &Needed, today: Date) -> Arrival {
        let (since, supplier, guess) = match needed.source {
            Source::Part { supplier, ordered, .. } => (ordered, supplier, PART),
            Source::Sent { supplier, sent, .. } => (sent, supplier, MACHINE_SHOP),
            Source::Wait { why, since, .. } => (Some(since), None, wait_guess(why)),
        };
        let lead = self.lead(since, needed.due, today, supplier, guess);
        let days = since.and_then(|since| lead.0.still_out(since, today).ok()).unwrap_or_else(|| lead.0.from_order());
        Arrival { days, by: lead.1 }
    }

    /// How long it takes from the day it was ordered, and what says so.
    fn lead(
        &self,
        since: Option<Date>,
        due: Option<Date>,
        today: Date,
        supplier: Option<i64>,
        guess: (f64, f64, f64),
    ) -> (Lead, String) {
        let of: Vec<&Delivery> = self.deliveries.iter().filter(|one| Some(one.supplier) == supplier).collect();
        let name = self.suppliers.iter().find(|one| Some(one.id) == supplier).map(|one| &*one.said.name);
        let history: Vec<plan::Delivery> = of.iter().filter_map(|one| sound(one)).collect();
        let promised = due.and_then(|due| Promises::kept(&history).ok()?.lead(since.unwrap_or(today), due).ok());
        if let Some(lead) = promised {
            return (lead, promised_by(name, history.len()));
        }
        let took: Vec<u16> = of.iter().filter_map(|one| u16::try_from(one.took()).ok()).collect();
        let usual = self.suppliers.iter().find(|one| Some(one.id) == supplier).and_then(|one| one.said.usual_days);
        let own = usual.and_then(|days| ThreePoint::around(f64::from(u16::try_from(days.max(1)).ok()?)).ok());
        let guessed = || ThreePoint::new(guess.0, guess.1, guess.2).expect("a guess rises");
        let by = match (usual, took.len()) {
            (Some(days), 0) => format!("no day named: {} says {days} days", name.unwrap_or("the supplier")),
            (None, 0) => format!("nobody named a day: our guess is {} to {} days", guess.0, guess.2),
            (_, count) => format!("no day named: by {} of {}", counted(count), name.unwrap_or("the supplier")),
        };
        (Lead::usual(&own.unwrap_or_else(guessed), &took), by)
    }
}

fn wait_guess(why: Why) -> (f64, f64, f64) {
    match why {
        Why::Part => PART,
        Why::MachineShop => MACHINE_SHOP,
        Why::Customer => CUSTOMER,
        Why::Deposit => DEPOSIT,
        Why::Me => ME,
    }
}

/// A delivery of which a day was promised, as the plan takes it; one that contradicts itself teaches nothing.
fn sound(one: &Delivery) -> Option<plan::Delivery> {
    let promised = one.promised.filter(|promised| *promised >= one.ordered && one.received >= one.ordered)?;
    Some(plan::Delivery { ordered: one.ordered, promised, received: one.received })
}

fn counted(deliveries: usize) -> String {
    if deliveries == 1 { "1 delivery".to_owned() } else { format!("{deliveries} deliveries") }
}

/// What says how a promise is kept: own history, or what is judged of any supplier.
fn promised_by(name: Option<&str>, deliveries: usize) -> String {
    let any = format!(
        "what we expect of anybody: {USUAL_LATENESS} times as long as promised, nine of ten within {LATENESS_WITHIN} times"
    );
    match name {
        Some(name) if deliveries as f64 > WORTH => format!("by {} of {name}", counted(deliveries)),
        Some(name) if deliveries > 0 => format!("by {} of {name}, and as they are few by {any}", counted(deliveries)),
        _ => format!("by {any}"),
    }
}
