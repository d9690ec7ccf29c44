//! The gauges of a job's document: with their papers, what each was set to, and every reading of their studies.

use super::job_parts::Stamped;
use crate::metrology::GaugeKind;
use crate::quantity::Unit;
use crate::record::gauges::{self, Gauge, GaugeSetting};
use crate::record::studies::{self, Study, StudyReading};
use crate::record::{Connection, Result};
use crate::work::JobRecord;
use jiff::civil::Date;
use serde::Serialize;

/// A gauge. Figures are in the SI unit of what it measures.
#[derive(Serialize)]
pub(super) struct GaugeOut {
    id: String,
    kind: GaugeKind,
    name: String,
    serial: String,
    step: Unit,
    range_low: Option<f64>,
    range_high: Option<f64>,
    resolution: Option<f64>,
    permissible_error: Option<f64>,
    calibrated: Option<Date>,
    due: Option<Date>,
    /// Public id of the certificate's file.
    certificate: Option<String>,
    studies: Vec<StudyOut>,
}

#[derive(Serialize)]
struct StudyOut {
    id: String,
    measured: String,
    unit: Unit,
    tolerance: Option<f64>,
    parts: i64,
    trials: i64,
    planned: Stamped,
    /// Who reads, by name; `person` of a reading counts them from 1.
    people: Vec<String>,
    readings: Vec<StudyReadingOut>,
}

#[derive(Serialize)]
struct StudyReadingOut {
    number: i64,
    part: i64,
    person: i64,
    trial: i64,
    figure: f64,
    typed: String,
    resolution: f64,
    stands: bool,
    corrects: Option<i64>,
    why: String,
    taken: Stamped,
}

impl From<&StudyReading> for StudyReadingOut {
    fn from(reading: &StudyReading) -> Self {
        Self {
            number: reading.number,
            part: reading.spot.part,
            person: reading.spot.place,
            trial: reading.spot.trial,
            figure: reading.si,
            typed: reading.typed.clone(),
            resolution: reading.resolution,
            stands: reading.stands,
            corrects: reading.corrects,
            why: reading.why.clone(),
            taken: Stamped::from(&reading.stamp),
        }
    }
}

async fn study(db: &mut Connection, study: &Study) -> Result<StudyOut> {
    Ok(StudyOut {
        id: study.public_id.clone(),
        measured: study.measured.clone(),
        unit: study.unit,
        tolerance: study.tolerance,
        parts: study.parts,
        trials: study.trials,
        planned: Stamped::from(&study.stamp),
        people: studies::people_of(db, study.id).await?,
        readings: studies::readings_of(db, study.id).await?.iter().map(StudyReadingOut::from).collect(),
    })
}

/// The gauges that readings of the job name, those also used, and those that they were zeroed in.
pub(super) async fn gauges_of(db: &mut Connection, job: &JobRecord, also_used: &[i64]) -> Result<Vec<GaugeOut>> {
    let masters: Vec<i64> = job.settings.iter().filter_map(|setting| setting.master).collect();
    let named = |gauge: &&Gauge| {
        job.readings.iter().any(|reading| reading.gauge == Some(gauge.id))
            || also_used.contains(&gauge.id)
            || masters.contains(&gauge.id)
    };
    let certificates = gauges::certificates(db).await?;
    let mut out = Vec::new();
    for gauge in job.gauges.iter().filter(named) {
        let mut studied = Vec::new();
        for counted in studies::of_gauge(db, gauge.id).await? {
            studied.push(study(db, &counted.study).await?);
        }
        let known = &gauge.known;
        out.push(GaugeOut {
            id: gauge.public_id.clone(),
            kind: gauge.kind,
            name: gauge.name.clone(),
            serial: gauge.serial.clone(),
            step: gauge.step,
            range_low: known.range_low,
            range_high: known.range_high,
            resolution: known.resolution,
            permissible_error: known.permissible_error,
            calibrated: known.calibrated,
            due: known.due,
            certificate: known.certificate.and_then(|file| certificates.get(&file).cloned()),
            studies: studied,
        });
    }
    Ok(out)
}

#[derive(Serialize)]
pub(super) struct GaugeSettingOut {
    id: i64,
    gauge: Option<String>,
    zeroed_on: String,
    /// The gauge it was zeroed in, where it was one.
    master: Option<String>,
    set_to: Option<f64>,
    typed: String,
    made: Stamped,
}

impl GaugeSettingOut {
    pub fn of(job: &JobRecord, setting: &GaugeSetting) -> Self {
        let public_id = |id: i64| job.gauge(id).map(|gauge| gauge.public_id.clone());
        Self {
            id: setting.id,
            gauge: public_id(setting.gauge),
            zeroed_on: setting.zeroed_on.clone(),
            master: setting.master.and_then(public_id),
            set_to: setting.set_to,
            typed: setting.typed.clone(),
            made: Stamped::from(&setting.made),
        }
    }
}
