//! How a job ended, with what went where, and who supplied it, as it goes out in its document.

use super::job_parts::Stamped;
use crate::record::endings::{Ending, KeptGone, KeptThing};
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
    /// That it has gone; what was withdrawn as well.
    gone: Vec<GoneOut>,
}

#[derive(Serialize)]
struct GoneOut {
    day: Date,
    words: String,
    said: Stamped,
    withdrawn: bool,
}

impl From<&KeptGone> for GoneOut {
    fn from(kept: &KeptGone) -> Self {
        let said = &kept.said;
        Self { day: said.day, words: said.words.clone(), said: Stamped::from(&kept.stamp), withdrawn: kept.withdrawn }
    }
}

impl EndingOut {
    /// `items` and `parts` are public ids by the record's own.
    pub fn of(
        ending: &Ending,
        things: &[KeptThing],
        gone: &[KeptGone],
        items: &BTreeMap<i64, String>,
        parts: &BTreeMap<i64, String>,
    ) -> Self {
        let public = |known: &BTreeMap<i64, String>, id: Option<i64>| id.and_then(|id| known.get(&id).cloned());
        let thing = |KeptThing { id, said, .. }: &KeptThing| ThingOut {
            what: said.what.clone(),
            item: public(items, said.item),
            part: public(parts, said.part),
            whither: said.whither.key(),
            to_job: said.to_build,
            words: said.words.clone(),
            gone: gone.iter().filter(|gone| gone.said.thing == *id).map(GoneOut::from).collect(),
        };
        Self {
            kind: ending.said.kind.key(),
            day: ending.said.day,
            words: ending.said.words.clone(),
            storage_from: ending.said.storage_from,
            things: things.iter().filter(|thing| thing.ending == ending.id).map(thing).collect(),
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
