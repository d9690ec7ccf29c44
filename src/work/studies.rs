//! Repeatability studies of gauges: planned, read one figure at a time, corrected, withdrawn.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::quantity::{Dimension, Entry, HowRead, Quantity, Unit, read};
use crate::record::gauges::{self, Gauge};
use crate::record::studies::{self, NewStudy, NewStudyReading, StudySpot};
use crate::record::{Connection, acts, people};

/// The units a study can be in; the key is the symbol.
pub const STUDY_UNITS: [Unit; 9] = [
    Unit::Inch,
    Unit::Thou,
    Unit::Millimetre,
    Unit::Micrometre,
    Unit::CubicCentimetre,
    Unit::Gram,
    Unit::PoundFoot,
    Unit::NewtonMetre,
    Unit::Degree,
];

/// What still stands on one page and in one picture.
const MOST_PARTS: i64 = 30;
const MOST_TRIALS: i64 = 10;
const MOST_PEOPLE: usize = 6;

/// A study as typed.
#[derive(Clone, Debug, Default)]
pub struct StudyForm {
    /// What is measured.
    pub measured: String,
    /// The symbol of one of [`STUDY_UNITS`].
    pub unit: String,
    /// The whole width of what is permitted; may be empty.
    pub tolerance: String,
    /// Public ids.
    pub people: Vec<String>,
    pub parts: String,
    pub trials: String,
}

/// A reading as typed.
#[derive(Clone, Debug, Default)]
pub struct StudyEntry {
    /// "part.person.trial", each from 1.
    pub spot: String,
    pub text: String,
    /// Number of the reading that stood there when this was typed: it is corrected.
    pub saw: Option<i64>,
    /// Why it is corrected.
    pub why: String,
}

impl Shop {
    /// Plans a study of a gauge; its public id.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, [`Refused::NotFound`] for an unknown gauge.
    pub async fn plan_study(&self, doing: &Doing, gauge: &str, form: &StudyForm) -> Done<String> {
        let mut look = self.record.look().await?;
        let gauge = find_gauge(&mut look, gauge).await?;
        let hands = people::all(&mut look).await?;
        drop(look);
        let mut faults = Vec::new();
        let measured = form.measured.trim();
        if measured.is_empty() {
            faults.push(FieldFault::new("measured", "say what is measured, such as wrist pins, outside diameter"));
        }
        faults.extend(FieldFault::too_long("measured", measured, 120));
        let unit = STUDY_UNITS.into_iter().find(|unit| unit.symbol() == form.unit);
        if unit.is_none() {
            faults.push(FieldFault::new("unit", "choose the unit of a bare figure"));
        }
        let tolerance = tolerance(form.tolerance.trim(), unit).unwrap_or_else(|fault| {
            faults.push(fault);
            None
        });
        let id = |public_id: &String| {
            hands.iter().find(|hand| hand.works_here && hand.public_id == *public_id).map(|hand| hand.id)
        };
        let people: Vec<i64> = form.people.iter().filter_map(id).collect();
        if people.is_empty() || people.len() > MOST_PEOPLE {
            let message = format!("tap who reads: one to {MOST_PEOPLE} people, better two or three");
            faults.push(FieldFault::new("people", message));
        }
        let parts = count("parts", &form.parts, 1, MOST_PARTS, &mut faults);
        let trials = count("trials", &form.trials, 2, MOST_TRIALS, &mut faults);
        let (Some(unit), Some(parts), Some(trials), true) = (unit, parts, trials, faults.is_empty()) else {
            return Err(Refused::Faults(faults));
        };
        let new = NewStudy {
            gauge: gauge.id,
            measured: measured.to_owned(),
            unit,
            tolerance,
            tolerance_typed: form.tolerance.trim().to_owned(),
            parts,
            trials,
            people,
        };
        let Some(mut w) = self.begin(doing, "plan study", None).await? else {
            let mut look = self.record.look().await?;
            let act = acts::by_key(&mut look, &doing.key).await?.ok_or(Refused::NotFound)?;
            return studies::planned_by(&mut look, act).await?.ok_or(Refused::NotFound);
        };
        let public_id = studies::insert(&mut w, &new).await?;
        w.commit().await?;
        Ok(public_id)
    }

    /// Takes a reading of a study, or corrects the one that was seen.
    ///
    /// # Errors
    /// [`Refused::Faults`] on `value` and `why`; a conflict where somebody else read there meanwhile; not found for an unknown
    /// study or place in it.
    pub async fn take_in_study(&self, doing: &Doing, study: &str, entry: &StudyEntry) -> Done<()> {
        let mut look = self.record.look().await?;
        let study = studies::by_public_id(&mut look, study).await?.ok_or(Refused::NotFound)?;
        let people = studies::people_of(&mut look, study.id).await?;
        let gauge = gauge_of(&mut look, study.gauge).await?;
        drop(look);
        let spot = spot(&entry.spot).filter(|spot| {
            let people = i64::try_from(people.len()).unwrap_or(i64::MAX);
            (1..=study.parts).contains(&spot.part)
                && (1..=people).contains(&spot.place)
                && (1..=study.trials).contains(&spot.trial)
        });
        let spot = spot.filter(|_| !study.withdrawn).ok_or(Refused::NotFound)?;
        let mut faults = Vec::new();
        let typed = read(&entry.text, &how(study.unit, gauge.step)).map_err(|fault| FieldFault::new("value", fault));
        let figure = typed.and_then(|typed| match typed.entry {
            Entry::Figure(figure) => Ok((figure.si, typed.resolution_si)),
            Entry::Range(..) => Err(FieldFault::new("value", "enter one figure, what was read this time")),
        });
        let figure = figure.map_err(|fault| faults.push(fault)).ok();
        let why = entry.why.trim();
        if entry.saw.is_some() && why.is_empty() {
            faults.push(FieldFault::new("why", "say why: such as “thimble misread”"));
        }
        faults.extend(FieldFault::too_long("why", why, 200));
        let (Some((si, resolution)), true) = (figure, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let Some(mut w) = self.begin(doing, "take reading of study", None).await? else { return Ok(()) };
        // Looked at inside the transaction: another tablet may have been quicker.
        let known = studies::readings_of(&mut w, study.id).await?;
        let stands = known.iter().find(|reading| reading.stands && reading.spot == spot);
        if stands.map(|reading| reading.number) != entry.saw {
            let stands = stands.map_or_else(|| "nothing".to_owned(), |reading| reading.typed.clone());
            return Err(Refused::Conflict { stands });
        }
        let typed = entry.text.trim().to_owned();
        let corrects = entry.saw.map(|number| (number, why.to_owned()));
        let new = NewStudyReading { spot, si, typed, resolution, corrects };
        studies::insert_reading(&mut w, study.id, &new).await?;
        w.commit().await?;
        // Every job read with this gauge may rest on it.
        self.memo.clear();
        Ok(())
    }

    /// Withdraws a study; it stays in the record and can still be looked at.
    ///
    /// # Errors
    /// [`Refused::NotFound`] for an unknown study.
    pub async fn withdraw_study(&self, doing: &Doing, study: &str) -> Done<()> {
        let known = studies::by_public_id(&mut *self.record.look().await?, study).await?.ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "withdraw study", None).await? else { return Ok(()) };
        studies::withdraw(&mut w, known.id).await?;
        w.commit().await?;
        // Every job read with this gauge may rest on it.
        self.memo.clear();
        Ok(())
    }
}

/// How a reading of a study is meant. A signed length counts from what the gauge was zeroed on: only differences matter here.
pub(super) fn how(unit: Unit, step: Unit) -> HowRead {
    let zero = Quantity { si: 0.0, dimension: Dimension::Length };
    let length = unit.dimension() == Dimension::Length;
    HowRead { step: if length { step } else { unit }, from: length.then_some(zero), ..HowRead::plain(unit) }
}

/// A place in a study from its key.
pub(super) fn spot(key: &str) -> Option<StudySpot> {
    let mut numbers = key.split('.').map(|number| number.parse().ok());
    let spot = StudySpot { part: numbers.next()??, place: numbers.next()??, trial: numbers.next()?? };
    numbers.next().is_none().then_some(spot)
}

pub(super) async fn find_gauge(db: &mut Connection, public_id: &str) -> Done<Gauge> {
    gauges::all(db).await?.into_iter().find(|gauge| gauge.public_id == public_id).ok_or(Refused::NotFound)
}

pub(super) async fn gauge_of(db: &mut Connection, id: i64) -> Done<Gauge> {
    gauges::all(db).await?.into_iter().find(|gauge| gauge.id == id).ok_or(Refused::NotFound)
}

fn tolerance(text: &str, unit: Option<Unit>) -> Result<Option<f64>, FieldFault> {
    let (Some(unit), false) = (unit, text.is_empty()) else { return Ok(None) };
    let fault = |message: String| FieldFault::new("tolerance", message);
    match read(text, &HowRead::plain(unit)).map_err(|why| fault(why.to_string()))?.entry {
        Entry::Figure(width) if width.si > 0.0 => Ok(Some(width.si)),
        _ => Err(fault("enter its whole width as one figure above zero, or leave it empty".to_owned())),
    }
}

fn count(field: &str, text: &str, least: i64, most: i64, faults: &mut Vec<FieldFault>) -> Option<i64> {
    let count = text.trim().parse().ok().filter(|count| (least..=most).contains(count));
    if count.is_none() {
        faults.push(FieldFault::new(field, format!("enter a whole number from {least} to {most}")));
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spot_is_three_numbers() {
        assert_eq!(spot("3.1.2"), Some(StudySpot { part: 3, place: 1, trial: 2 }));
        for odd in ["", "3", "3.1", "3.1.2.4", "a.1.2", "3..2", "99999999999999999999.1.1"] {
            assert_eq!(spot(odd), None, "{odd}");
        }
    }

    #[test]
    fn a_signed_figure_counts_from_the_gauges_zero() {
        let figure = |text: &str| match read(text, &how(Unit::Inch, Unit::Tenth)).unwrap().entry {
            Entry::Figure(figure) => figure.si,
            Entry::Range(..) => panic!("{text}: a range"),
        };
        assert!((figure("-2") + 2.0 * 2.54e-6).abs() < 1e-15);
        assert!(figure("0").abs() < f64::EPSILON);
        assert!((figure("0.8662") - 0.8662 * 0.0254).abs() < 1e-15);
    }
}
