//! The temperatures a round is read at: noted, shown, changed in one tap.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::rounds::counting_or_first;
use crate::engine::{SheetKey, WorkingUnit};
use crate::quantity::{Entry, HowRead, Unit, read};
use crate::record::builds;
use crate::record::rounds::{self, Round};

/// The temperatures a round is read at, as typed.
#[derive(Clone, Debug, Default)]
pub struct TemperaturesForm {
    /// Of the parts; empty where it was not noted.
    pub parts: String,
    /// Of the gauge; empty: as warm as the parts.
    pub gauge: String,
}

/// The temperatures of a round, as its page shows them.
#[derive(Clone, Debug)]
pub struct TemperaturesView {
    /// "parts 24.0 °C, gauge 21.0 °C"; none where nothing is noted, and sizes stand as read.
    pub noted: Option<String>,
    /// As the form is filled in.
    pub form: TemperaturesForm,
    /// Those most likely, for one tap, as typed.
    pub usual: Vec<String>,
}

impl Shop {
    /// Notes the temperatures a round is read at, begun as received where there is none yet: all of its readings are brought
    /// to 20 °C by them.
    ///
    /// # Errors
    /// [`Refused::Faults`] on fields `parts_at` and `gauge_at` for what cannot be; [`Refused::NotFound`] where there is no such
    /// job.
    pub async fn set_temperatures(
        &self,
        doing: &Doing,
        job: i64,
        sheet: SheetKey,
        form: &TemperaturesForm,
    ) -> Done<()> {
        builds::by_id(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let (parts, gauge) = temperatures(form, ["parts_at", "gauge_at"]).map_err(Refused::Faults)?;
        let Some(mut w) = self.begin(doing, "note temperatures", Some(job)).await? else { return Ok(()) };
        let round = counting_or_first(&mut w, job, sheet).await?;
        rounds::set_temperatures(&mut w, round, parts, gauge).await?;
        Ok(w.commit().await?)
    }
}

pub(super) fn temperatures_view(unit: WorkingUnit, round: Option<&Round>) -> TemperaturesView {
    let typed = |celsius: Option<f64>| celsius.map(|celsius| shown(celsius, 1)).unwrap_or_default();
    let parts = round.and_then(|round| round.temperature_c);
    let usual = |unit: Unit, degrees: [f64; 6]| degrees.map(|at| unit.show(unit.to_si(at), 0)).to_vec();
    TemperaturesView {
        noted: parts.and(round).map(temperature_words),
        form: TemperaturesForm { parts: typed(parts), gauge: typed(round.and_then(|round| round.gauge_temperature_c)) },
        usual: match unit {
            WorkingUnit::Inch => usual(Unit::Fahrenheit, [64.0, 68.0, 72.0, 76.0, 80.0, 84.0]),
            WorkingUnit::Millimetre => usual(Unit::Celsius, [18.0, 20.0, 22.0, 24.0, 26.0, 28.0]),
        },
    }
}

/// "parts 24.0 °C, gauge 21.0 °C"; empty where none is noted.
pub(super) fn temperature_words(round: &Round) -> String {
    let parts = round.temperature_c.map(|celsius| format!("parts {}", shown(celsius, 1)));
    let gauge = round.gauge_temperature_c.map(|celsius| format!("gauge {}", shown(celsius, 1)));
    parts.into_iter().chain(gauge).collect::<Vec<_>>().join(", ")
}

fn shown(celsius: f64, decimals: u8) -> String {
    Unit::Celsius.show(Unit::Celsius.to_si(celsius), decimals)
}

/// What was typed of the parts and the gauge, in °C; `fields` are what the form calls them.
pub(super) fn temperatures(
    form: &TemperaturesForm,
    fields: [&str; 2],
) -> Result<(Option<f64>, Option<f64>), Vec<FieldFault>> {
    let (parts, gauge) = (temperature(fields[0], &form.parts), temperature(fields[1], &form.gauge));
    let alone = matches!((&parts, &gauge), (Ok(None), Ok(Some(_))));
    let alone = alone.then(|| FieldFault::new(fields[0], "enter the parts' temperature beside the gauge's"));
    match (parts, gauge, alone) {
        (Ok(parts), Ok(gauge), None) => Ok((parts, gauge)),
        (parts, gauge, alone) => Err(parts.err().into_iter().chain(gauge.err()).chain(alone).collect()),
    }
}

/// A temperature in a workshop, in °C; none of an empty text.
pub(super) fn temperature(field: &str, text: &str) -> Result<Option<f64>, FieldFault> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let how = HowRead { from: Some(Unit::Celsius.of(0.0)), ..HowRead::plain(Unit::Celsius) };
    let typed = read(text, &how).map_err(|fault| FieldFault::new(field, fault))?;
    match typed.entry {
        Entry::Figure(q) if (-40.0..=150.0).contains(&Unit::Celsius.from_si(q.si)) => {
            Ok(Some(Unit::Celsius.from_si(q.si)))
        }
        _ => Err(FieldFault::new(field, "enter a temperature such as 21 °C or 70 °F")),
    }
}
