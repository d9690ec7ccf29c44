//! What a gauge was zeroed on for a job, and gauges named for the first time at the bench.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job_record::past_due;
use crate::metrology::GaugeKind;
use crate::quantity::{Entry, HowRead, read};
use crate::record::builds;
use crate::record::gauges::{self, Characteristics, Gauge, NewGauge, NewGaugeSetting};
use jiff::Timestamp;

/// A gauge to choose at the bench.
#[derive(Clone, Debug)]
pub struct GaugeChoice {
    pub id: String,
    /// "bore gauge 2", "bore gauge 2, past its date of calibration".
    pub name: String,
}

impl GaugeChoice {
    pub(super) fn of(gauge: &Gauge, now: Timestamp) -> Self {
        let due = if past_due(gauge, now) { ", past its date of calibration" } else { "" };
        Self { id: gauge.public_id.clone(), name: format!("{}{due}", gauge.name) }
    }
}

/// A setting as typed.
#[derive(Clone, Debug, Default)]
pub struct SettingForm {
    /// Public id of the gauge; empty where a new one is named.
    pub gauge: String,
    /// What a gauge that is in no register yet is called, and its kind's key.
    pub new_name: String,
    pub new_kind: String,
    /// Master, or the micrometer set to which journal.
    pub zeroed_on: String,
    /// The size it was zeroed at; empty where it was zeroed without a figure.
    pub set_to: String,
    /// Public id of the gauge it was zeroed in; empty where it was a standard.
    pub master: String,
}

/// The gauge a setting is of.
enum Chosen {
    Known(i64),
    New(NewGauge),
}

impl Shop {
    /// Notes what a gauge was zeroed on for a job.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn set_gauge(&self, doing: &Doing, job: i64, form: &SettingForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let build = builds::by_id(&mut look, job).await?.ok_or(Refused::NotFound)?;
        let known = gauges::all(&mut look).await?;
        drop(look);
        let mut faults = Vec::new();
        let by_id = |id: &str| known.iter().find(|gauge| gauge.public_id == id).map(|gauge| gauge.id);
        let chosen = match (by_id(&form.gauge), form.new_name.trim()) {
            (Some(gauge), _) => Some(Chosen::Known(gauge)),
            (None, "") => {
                faults.push(FieldFault::new("gauge", "choose the gauge, or name a new one"));
                None
            }
            (None, name) => {
                faults.extend(FieldFault::too_long("new_name", name, 80));
                // What it is can be said later, in the register: by its kind it is what the slot asks for.
                let kind = GaugeKind::from_key(&form.new_kind).unwrap_or(GaugeKind::Other);
                Some(Chosen::New(NewGauge {
                    kind,
                    name: name.to_owned(),
                    serial: String::new(),
                    step: build.unit.small(),
                    known: Characteristics::default(),
                }))
            }
        };
        let master = by_id(&form.master);
        if master.is_none() && !form.master.trim().is_empty() {
            faults.push(FieldFault::new("master", "choose the gauge it was zeroed in, or none"));
        }
        if let (Some(master), Some(Chosen::Known(gauge))) = (master, &chosen)
            && master == *gauge
        {
            faults.push(FieldFault::new("master", "a gauge is not zeroed in itself: choose another, or none"));
        }
        if form.zeroed_on.trim().is_empty() {
            faults.push(FieldFault::new("zeroed_on", "say what it was zeroed on: a ring, or the micrometer at main 3"));
        }
        let set_to = match form.set_to.trim() {
            "" => None,
            text => match read(text, &HowRead::plain(build.unit.size())).map(|typed| typed.entry) {
                Ok(Entry::Figure(q)) if q.si > 0.0 => Some(q.si),
                Ok(_) => {
                    faults.push(FieldFault::new("set_to", "enter one size, such as 4.3775"));
                    None
                }
                Err(fault) => {
                    faults.push(FieldFault::new("set_to", fault));
                    None
                }
            },
        };
        let (Some(chosen), true) = (chosen, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let Some(mut w) = self.begin(doing, "set gauge", Some(job)).await? else { return Ok(()) };
        let gauge = match chosen {
            Chosen::Known(gauge) => gauge,
            Chosen::New(new) => gauges::insert(&mut w, &new).await?,
        };
        let new = NewGaugeSetting {
            gauge,
            build: Some(job),
            zeroed_on: form.zeroed_on.trim().to_owned(),
            set_to,
            typed: form.set_to.trim().to_owned(),
            master,
        };
        gauges::insert_setting(&mut w, &new).await?;
        Ok(w.commit().await?)
    }
}
