//! What was read of parts made in the shop, who carries one, and what was looked at when a part came in, as it goes out in a
//! job's document.

use super::job_parts::Stamped;
use crate::record::carried::Carried;
use crate::record::inspections::LookedAt;
use crate::record::made_sizes::{MadeReading, MadeSize};
use serde::Serialize;

/// A dimension of a part made in the shop; m.
#[derive(Serialize)]
pub(super) struct SizeOut {
    name: String,
    size: f64,
    least: Option<f64>,
    most: Option<f64>,
    typed: String,
    /// Those withdrawn as well.
    read: Vec<SizeReadOut>,
    written: Stamped,
    withdrawn: bool,
}

#[derive(Serialize)]
struct SizeReadOut {
    value: f64,
    typed: String,
    resolution: f64,
    gauge: Option<String>,
    taken: Stamped,
    withdrawn: bool,
}

impl SizeOut {
    pub fn of_part(
        part: i64,
        (sizes, readings): &(Vec<MadeSize>, Vec<MadeReading>),
        gauge: &impl Fn(i64) -> Option<String>,
    ) -> Vec<Self> {
        let of_size = |size: &MadeSize| {
            let read = readings.iter().filter(|read| read.said.size_of == size.id);
            read.map(|read| SizeReadOut::of(read, read.said.gauge.and_then(gauge))).collect()
        };
        let of_part = sizes.iter().filter(|size| size.said.part == part);
        let out = |size: &MadeSize| Self {
            name: size.said.name.clone(),
            size: size.said.size,
            least: size.said.least,
            most: size.said.most,
            typed: size.said.typed.clone(),
            read: of_size(size),
            written: Stamped::from(&size.stamp),
            withdrawn: size.withdrawn,
        };
        of_part.map(out).collect()
    }
}

impl SizeReadOut {
    fn of(read: &MadeReading, gauge: Option<String>) -> Self {
        Self {
            value: read.said.value,
            typed: read.said.typed.clone(),
            resolution: read.said.resolution,
            gauge,
            taken: Stamped::from(&read.stamp),
            withdrawn: read.withdrawn,
        }
    }
}

/// The engine of another job that carries it.
#[derive(Serialize)]
pub(super) struct CarriedOut {
    job: i64,
    words: String,
    said: Stamped,
    withdrawn: bool,
}

impl CarriedOut {
    pub fn of_part(part: i64, carried: &[Carried]) -> Vec<Self> {
        let of_part = carried.iter().filter(|one| one.part == part);
        let out = |one: &Carried| Self {
            job: one.build,
            words: one.words.clone(),
            said: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn,
        };
        of_part.map(out).collect()
    }
}

/// Something looked at on a part that came in.
#[derive(Serialize)]
pub(super) struct LookedAtOut {
    what: String,
    good: bool,
    words: String,
    looked: Stamped,
    withdrawn: bool,
}

impl LookedAtOut {
    pub fn of_part(part: i64, looked_at: &[LookedAt]) -> Vec<Self> {
        let of_part = looked_at.iter().filter(|one| one.said.part == part);
        let out = |one: &LookedAt| Self {
            what: one.said.what.clone(),
            good: one.said.good,
            words: one.said.words.clone(),
            looked: Stamped::from(&one.stamp),
            withdrawn: one.withdrawn,
        };
        of_part.map(out).collect()
    }
}
