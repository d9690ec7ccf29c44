//! The register of the shop's gauges: what each is, what is known of it, and when it is due.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::photos::{self, Photo};
use crate::metrology::GaugeKind;
use crate::quantity::{Dimension, Entry, HowRead, Quantity, Unit, read};
use crate::record::gauges::{self, Characteristics, Gauge, NewGauge, STEP_UNITS};
use crate::record::{self, files};
use crate::sheets::Words;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// A gauge to choose from or change.
#[derive(Clone, Debug)]
pub struct GaugeView {
    pub id: String,
    pub name: String,
    pub kind: GaugeKind,
    pub serial: String,
    /// What a bare "+2" means on it.
    pub step: Unit,
    /// As its form is filled in.
    pub form: GaugeForm,
    /// What is known of it, in one line: "0 to 1 in, reads to 0.0001 in, error at most 0.0001 in".
    pub known: String,
    /// "due 3 March 2027".
    pub due: String,
    /// Past that day.
    pub past_due: bool,
    /// Public id of its certificate's file.
    pub certificate: Option<String>,
    /// The act that last changed it: what its form saw.
    pub saw: i64,
}

/// A gauge as typed. Dates are civil, as 2027-03-01; what is not known is empty.
#[derive(Clone, Debug, Default)]
pub struct GaugeForm {
    pub name: String,
    /// A gauge kind's key.
    pub kind: String,
    pub serial: String,
    /// `thou`, `tenth` or `micrometre`.
    pub step: String,
    pub range_low: String,
    pub range_high: String,
    pub resolution: String,
    pub permissible_error: String,
    pub calibrated: String,
    pub due: String,
}

impl Shop {
    /// Every gauge in use; due as of `now`.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn gauges(&self, now: Timestamp) -> Done<Vec<GaugeView>> {
        let mut look = self.record.look().await?;
        let all = gauges::all(&mut look).await?;
        let certificates = gauges::certificates(&mut look).await?;
        let today = now.to_zoned_datetime(TimeZone::UTC).date();
        let certificate = |gauge: &Gauge| certificates.get(&gauge.known.certificate?).cloned();
        Ok(all.into_iter().map(|gauge| view(certificate(&gauge), gauge, today)).collect())
    }

    /// Keeps a gauge, or changes one: by its public id, and the act that last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed it after the form was shown.
    pub async fn keep_gauge(&self, doing: &Doing, changes: Option<(&str, i64)>, form: &GaugeForm) -> Done<()> {
        let new = parse(form)?;
        let Some(mut w) = self.begin(doing, "keep gauge", None).await? else { return Ok(()) };
        match changes {
            Some((id, saw)) => {
                let known = gauges::all(&mut w).await?;
                let gauge = known.into_iter().find(|gauge| gauge.public_id == id).ok_or(Refused::NotFound)?;
                if gauge.act != saw {
                    return Err(Refused::Conflict { stands: gauge.name });
                }
                let known = Characteristics { certificate: gauge.known.certificate, ..new.known };
                gauges::update(&mut w, gauge.id, &NewGauge { known, ..new }).await?;
            }
            None => {
                gauges::insert(&mut w, &new).await?;
            }
        }
        w.commit().await?;
        self.memo.clear();
        Ok(())
    }

    /// Keeps the certificate of a gauge's calibration: a PDF or a picture. It takes the place of the one before, which stays
    /// in the record.
    ///
    /// # Errors
    /// [`Refused::Faults`] on field `certificate` for another kind of file.
    pub async fn keep_certificate(&self, doing: &Doing, id: &str, file: Photo) -> Done<()> {
        let known = gauges::all(&mut *self.record.look().await?).await?;
        let gauge = known.into_iter().find(|gauge| gauge.public_id == id).ok_or(Refused::NotFound)?;
        let files = self.record.files.clone();
        let one_at_a_time = self.developing.clone().acquire_owned().await;
        let stored = tokio::task::spawn_blocking(move || {
            let _turn = one_at_a_time;
            photos::store_document(&files, &file)
        })
        .await
        .map_err(|why| record::Error::File(std::io::Error::other(why)))??;
        let Some(mut w) = self.begin(doing, "keep certificate", None).await? else { return Ok(()) };
        let certificate = Some(files::insert(&mut w, &stored).await?);
        let Gauge { id, kind, name, serial, step, known, .. } = gauge;
        let known = Characteristics { certificate, ..known };
        gauges::update(&mut w, id, &NewGauge { kind, name, serial, step, known }).await?;
        Ok(w.commit().await?)
    }
}

fn parse(form: &GaugeForm) -> Done<NewGauge> {
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
    let unit = usual_unit(kind.unwrap_or(GaugeKind::Other), step.unwrap_or(Unit::Thou));
    let mut figure = |field: &str, text: &str, least: f64| match figure(text, unit) {
        Ok(Some(si)) if si < least => {
            faults.push(FieldFault::new(field, "cannot be below zero"));
            None
        }
        Ok(si) => si,
        Err(why) => {
            faults.push(FieldFault::new(field, why));
            None
        }
    };
    let known = Characteristics {
        range_low: figure("range_low", &form.range_low, 0.0),
        range_high: figure("range_high", &form.range_high, 0.0),
        resolution: figure("resolution", &form.resolution, f64::MIN_POSITIVE),
        permissible_error: figure("permissible_error", &form.permissible_error, f64::MIN_POSITIVE),
        ..Characteristics::default()
    };
    if known.range_low.zip(known.range_high).is_some_and(|(low, high)| low >= high) {
        faults.push(FieldFault::new("range_high", "enter an end above where it begins"));
    }
    let mut date = |field: &str, text: &str| match text.trim() {
        "" => None,
        text => text.parse::<Date>().map_err(|_| faults.push(FieldFault::new(field, "enter a day as 2027-03-01"))).ok(),
    };
    let (calibrated, due) = (date("calibrated", &form.calibrated), date("due", &form.due));
    if calibrated.zip(due).is_some_and(|(calibrated, due)| due <= calibrated) {
        faults.push(FieldFault::new("due", "enter a day after the calibration"));
    }
    let known = Characteristics { calibrated, due, ..known };
    match (kind, step, faults.is_empty()) {
        (Some(kind), Some(step), true) => {
            Ok(NewGauge { kind, name: form.name.trim().to_owned(), serial: form.serial.trim().to_owned(), step, known })
        }
        _ => Err(Refused::Faults(faults)),
    }
}

/// The unit of a bare figure about a gauge.
fn usual_unit(kind: GaugeKind, step: Unit) -> Unit {
    match kind.dimension() {
        Dimension::Volume => Unit::CubicCentimetre,
        Dimension::Mass => Unit::Gram,
        Dimension::Torque if step.is_metric_length() => Unit::NewtonMetre,
        Dimension::Torque => Unit::PoundFoot,
        Dimension::Force if step.is_metric_length() => Unit::Newton,
        Dimension::Force => Unit::PoundForce,
        _ if step.is_metric_length() => Unit::Millimetre,
        _ => Unit::Inch,
    }
}

fn figure(text: &str, unit: Unit) -> Result<Option<f64>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match read(text, &HowRead::plain(unit)).map(|typed| typed.entry) {
        Ok(Entry::Figure(Quantity { si, .. })) => Ok(Some(si)),
        Ok(Entry::Range(..)) => Err("enter one figure".to_owned()),
        Err(fault) => Err(fault.to_string()),
    }
}

fn view(certificate: Option<String>, gauge: Gauge, today: Date) -> GaugeView {
    let unit = usual_unit(gauge.kind, gauge.step);
    let known = &gauge.known;
    let shown = |si: Option<f64>| si.map(|si| unit.show(si, Words::decimals_given(unit, si, 0, 5))).unwrap_or_default();
    let day = |date: Option<Date>| date.map(|date| date.to_string()).unwrap_or_default();
    let range = match (known.range_low, known.range_high) {
        (None, None) => None,
        (low, None) => Some(format!("from {}", shown(low))),
        (low, high) => Some(format!("{} to {}", low.map_or_else(|| "0".to_owned(), |_| shown(low)), shown(high))),
    };
    let said = [
        range,
        known.resolution.map(|_| format!("reads to {}", shown(known.resolution))),
        known.permissible_error.map(|_| format!("error at most ± {}", shown(known.permissible_error))),
        known.calibrated.map(|date| format!("calibrated {}", date.strftime("%-d %B %Y"))),
    ];
    let step = STEP_UNITS.into_iter().find(|(_, unit)| *unit == gauge.step).map_or("", |(key, _)| key);
    GaugeView {
        known: said.into_iter().flatten().collect::<Vec<_>>().join(", "),
        due: known.due.map(|date| format!("due {}", date.strftime("%-d %B %Y"))).unwrap_or_default(),
        past_due: known.due.is_some_and(|due| today > due),
        form: GaugeForm {
            name: gauge.name.clone(),
            kind: gauge.kind.key().to_owned(),
            serial: gauge.serial.clone(),
            step: step.to_owned(),
            range_low: shown(known.range_low),
            range_high: shown(known.range_high),
            resolution: shown(known.resolution),
            permissible_error: shown(known.permissible_error),
            calibrated: day(known.calibrated),
            due: day(known.due),
        },
        id: gauge.public_id,
        name: gauge.name,
        kind: gauge.kind,
        serial: gauge.serial,
        step: gauge.step,
        certificate,
        saw: gauge.act,
    }
}
