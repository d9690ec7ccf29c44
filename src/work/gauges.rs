//! Gauges of the shop, and what each was zeroed on.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::metrology::GaugeKind;
use crate::quantity::{Entry, HowRead, Unit, read};
use crate::record::builds;
use crate::record::gauges::{self, Gauge, NewGauge, NewGaugeSetting, STEP_UNITS};

/// A gauge to choose from or change.
#[derive(Clone, Debug)]
pub struct GaugeView {
    pub id: String,
    pub name: String,
    pub kind: GaugeKind,
    pub serial: String,
    /// What a bare "+2" means on it.
    pub step: Unit,
    /// The act that last changed it: what its form saw.
    pub saw: i64,
}

impl From<Gauge> for GaugeView {
    fn from(g: Gauge) -> Self {
        Self { id: g.public_id, name: g.name, kind: g.kind, serial: g.serial, step: g.step, saw: g.act }
    }
}

/// A gauge as typed.
#[derive(Clone, Debug, Default)]
pub struct GaugeForm {
    pub name: String,
    /// A gauge kind's key.
    pub kind: String,
    pub serial: String,
    /// `thou`, `tenth` or `micrometre`.
    pub step: String,
}

/// A setting as typed.
#[derive(Clone, Debug, Default)]
pub struct SettingForm {
    /// Public id of the gauge.
    pub gauge: String,
    /// Master, or the micrometer set to which journal.
    pub zeroed_on: String,
    /// The size it was zeroed at; empty where it was zeroed without a figure.
    pub set_to: String,
}

impl Shop {
    /// Every gauge in use.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn gauges(&self) -> Done<Vec<GaugeView>> {
        let all = gauges::all(&mut *self.record.look().await?).await?;
        Ok(all.into_iter().map(GaugeView::from).collect())
    }

    /// Keeps a gauge, or changes one: by its public id, and the act that last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed it after the form was shown.
    pub async fn keep_gauge(&self, doing: &Doing, changes: Option<(&str, i64)>, form: &GaugeForm) -> Done<()> {
        let mut faults = Vec::new();
        faults.extend(FieldFault::too_long("name", &form.name, 80));
        faults.extend(FieldFault::too_long("serial", &form.serial, 60));
        if form.name.trim().is_empty() {
            faults.push(FieldFault::new("name", "give the gauge the name it has in the shop"));
        }
        let kind = GaugeKind::from_key(&form.kind);
        if kind.is_none() {
            faults.push(FieldFault::new("kind", "choose what kind of gauge it is"));
        }
        let step = STEP_UNITS.into_iter().find(|(key, _)| *key == form.step).map(|(_, unit)| unit);
        if step.is_none() {
            faults.push(FieldFault::new("step", "choose what a bare +2 means on this gauge"));
        }
        let (Some(kind), Some(step), true) = (kind, step, faults.is_empty()) else {
            return Err(Refused::Faults(faults));
        };
        let new = NewGauge { kind, name: form.name.trim().to_owned(), serial: form.serial.trim().to_owned(), step };
        let Some(mut w) = self.begin(doing, "keep gauge", None).await? else { return Ok(()) };
        match changes {
            Some((id, saw)) => {
                let known = gauges::all(&mut w).await?;
                let gauge = known.iter().find(|gauge| gauge.public_id == id).ok_or(Refused::NotFound)?;
                if gauge.act != saw {
                    return Err(Refused::Conflict { stands: gauge.name.clone() });
                }
                gauges::update(&mut w, gauge.id, &new).await?;
            }
            None => {
                gauges::insert(&mut w, &new).await?;
            }
        }
        w.commit().await?;
        self.memo.clear();
        Ok(())
    }

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
        let gauge = known.iter().find(|gauge| gauge.public_id == form.gauge);
        if gauge.is_none() {
            faults.push(FieldFault::new("gauge", "choose the gauge"));
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
        let (Some(gauge), true) = (gauge, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let new = NewGaugeSetting {
            gauge: gauge.id,
            build: Some(job),
            zeroed_on: form.zeroed_on.trim().to_owned(),
            set_to,
            typed: form.set_to.trim().to_owned(),
        };
        let Some(mut w) = self.begin(doing, "set gauge", Some(job)).await? else { return Ok(()) };
        gauges::insert_setting(&mut w, &new).await?;
        Ok(w.commit().await?)
    }
}
