//! How a job ended, with what went where, and who supplied it, as it goes out in its document.

use super::job_parts::Stamped;
use crate::record::endings::{Ending, EndingThing};
use crate::record::suppliers::Supplier;
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeMap;

/// An ending: how, when, and what went where.
#[derive(Serialize)]
pub(super) struct EndingOut {
    kind: &'static str,
    day: Date,
    words: String,
    storage_from: Option<Date>,
    things: Vec<ThingOut>,
    said: Stamped,
    withdrawn: bool,
}

#[derive(Serialize)]
struct ThingOut {
    what: String,
    /// By their public ids.
    item: Option<String>,
    part: Option<String>,
    whither: &'static str,
    to_job: Option<i64>,
    words: String,
}

impl EndingOut {
    /// `items` and `parts` are public ids by the record's own.
    pub fn of(
        ending: &Ending,
        things: &[(i64, EndingThing)],
        items: &BTreeMap<i64, String>,
        parts: &BTreeMap<i64, String>,
    ) -> Self {
        let public = |known: &BTreeMap<i64, String>, id: Option<i64>| id.and_then(|id| known.get(&id).cloned());
        let thing = |(_, thing): &(i64, EndingThing)| ThingOut {
            what: thing.what.clone(),
            item: public(items, thing.item),
            part: public(parts, thing.part),
            whither: thing.whither.key(),
            to_job: thing.to_build,
            words: thing.words.clone(),
        };
        Self {
            kind: ending.said.kind.key(),
            day: ending.said.day,
            words: ending.said.words.clone(),
            storage_from: ending.said.storage_from,
            things: things.iter().filter(|(of, _)| *of == ending.id).map(thing).collect(),
            said: Stamped::from(&ending.stamp),
            withdrawn: ending.withdrawn,
        }
    }
}

/// A supplier that the job names: by public id and name; how to reach them stays in the record.
#[derive(Serialize)]
pub(super) struct SupplierOut {
    id: String,
    name: String,
    usual_days: Option<i64>,
}

impl From<&Supplier> for SupplierOut {
    fn from(supplier: &Supplier) -> Self {
        Self { id: supplier.public_id.clone(), name: supplier.said.name.clone(), usual_days: supplier.said.usual_days }
    }
}
