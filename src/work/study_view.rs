//! What the pages show of a gauge's studies: the list, and one study with its places in the order they are read.

use super::Shop;
use super::doing::{Done, Refused};
use super::studies::{find_gauge, gauge_of};
use super::study_results::{StudyResults, results};
use super::when::When;
use crate::quantity::{Dimension, Unit};
use crate::record::gauges::Gauge;
use crate::record::studies::{self, Study, StudyReading, StudySpot};
use crate::record::{Connection, settings};
use jiff::Timestamp;
use sha2::{Digest, Sha256};

/// The gauge that is studied.
#[derive(Clone, Debug)]
pub struct StudiedGauge {
    /// Public id.
    pub id: String,
    pub name: String,
}

impl From<Gauge> for StudiedGauge {
    fn from(gauge: Gauge) -> Self {
        Self { id: gauge.public_id, name: gauge.name }
    }
}

/// The studies of a gauge.
#[derive(Clone, Debug)]
pub struct StudiesView {
    pub gauge: StudiedGauge,
    /// Newest first.
    pub studies: Vec<StudyRow>,
}

/// One study in a list.
#[derive(Clone, Debug)]
pub struct StudyRow {
    pub id: String,
    pub measured: String,
    /// "3 people × 10 parts × 3 trials".
    pub size: String,
    /// How many of how many readings stand.
    pub read: (i64, i64),
    pub when: String,
}

/// One study.
#[derive(Clone, Debug)]
pub struct StudyView {
    pub id: String,
    pub gauge: StudiedGauge,
    pub measured: String,
    /// Of a bare figure.
    pub unit: &'static str,
    /// What a bare +2 is above what the gauge was zeroed on: "2 tenths"; none where the study is not of a length.
    pub two: Option<String>,
    /// As shown, with its unit.
    pub tolerance: Option<String>,
    pub people: Vec<String>,
    pub parts: i64,
    pub trials: i64,
    pub size: String,
    pub when: String,
    pub withdrawn: bool,
    /// Every place, in the order they are read.
    pub spots: Vec<StudySpotView>,
    /// Readings that were corrected, in order of taking.
    pub corrected: Vec<StudyCorrection>,
    /// Once everyone has read every part twice.
    pub results: Option<StudyResults>,
}

/// One place of a study.
#[derive(Clone, Debug)]
pub struct StudySpotView {
    /// "part.person.trial", each from 1.
    pub key: String,
    pub part: i64,
    /// Which person, from 1.
    pub place: i64,
    pub person: String,
    pub trial: i64,
    pub reading: Option<StudyFigure>,
}

/// A reading that counts.
#[derive(Clone, Debug)]
pub struct StudyFigure {
    pub number: i64,
    /// With its unit, and without.
    pub shown: String,
    pub number_shown: String,
    pub when: String,
}

/// A reading that was corrected.
#[derive(Clone, Debug)]
pub struct StudyCorrection {
    /// "part 3, Ike, trial 1".
    pub place: String,
    pub was: String,
    pub became: String,
    pub why: String,
    /// Of the correction.
    pub when: String,
}

impl StudyView {
    pub fn read(&self) -> usize {
        self.spots.iter().filter(|spot| spot.reading.is_some()).count()
    }

    pub fn is_complete(&self) -> bool {
        self.read() == self.spots.len()
    }

    /// The place of a key.
    pub fn spot(&self, key: &str) -> Option<&StudySpotView> {
        self.spots.iter().find(|spot| spot.key == key)
    }

    /// The first place nobody has read yet.
    pub fn next(&self) -> Option<&StudySpotView> {
        self.spots.iter().find(|spot| spot.reading.is_none())
    }
}

impl Shop {
    /// The studies of a gauge.
    ///
    /// # Errors
    /// [`Refused::NotFound`] for an unknown gauge.
    pub async fn studies(&self, gauge: &str, now: Timestamp) -> Done<StudiesView> {
        let mut look = self.record.look().await?;
        let gauge = find_gauge(&mut look, gauge).await?;
        let when = zone(&mut look, now).await?;
        let known = studies::of_gauge(&mut look, gauge.id).await?;
        let row = |counted: studies::CountedStudy| StudyRow {
            size: size(counted.people, counted.study.parts, counted.study.trials),
            read: (counted.read, counted.people * counted.study.parts * counted.study.trials),
            when: when.stamp(&counted.study.stamp),
            id: counted.study.public_id,
            measured: counted.study.measured,
        };
        Ok(StudiesView { studies: known.into_iter().map(row).collect(), gauge: gauge.into() })
    }

    /// One study.
    ///
    /// # Errors
    /// [`Refused::NotFound`] for an unknown one.
    pub async fn study(&self, public_id: &str, now: Timestamp) -> Done<StudyView> {
        let mut look = self.record.look().await?;
        let study = studies::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let gauge = gauge_of(&mut look, study.gauge).await?;
        let people = studies::people_of(&mut look, study.id).await?;
        let readings = studies::readings_of(&mut look, study.id).await?;
        let when = zone(&mut look, now).await?;
        let finest = readings.iter().map(|reading| reading.resolution).fold(f64::INFINITY, f64::min);
        let show = |reading: &StudyReading| study.unit.show(reading.si, decimals(study.unit, finest));
        let stands = |spot: StudySpot| readings.iter().find(|reading| reading.stands && reading.spot == spot);
        let name = |place: i64| usize::try_from(place - 1).ok().and_then(|at| people.get(at)).cloned();
        let spots = order(&study, people.len())
            .into_iter()
            .map(|spot| StudySpotView {
                key: key(spot),
                part: spot.part,
                place: spot.place,
                person: name(spot.place).unwrap_or_default(),
                trial: spot.trial,
                reading: stands(spot).map(|reading| StudyFigure {
                    number: reading.number,
                    shown: show(reading),
                    number_shown: study.unit.show_number(reading.si, decimals(study.unit, finest)),
                    when: when.stamp(&reading.stamp),
                }),
            })
            .collect();
        let corrected = readings
            .iter()
            .filter_map(|new| Some((new, readings.iter().find(|old| Some(old.number) == new.corrects)?)))
            .map(|(new, old)| StudyCorrection {
                place: format!(
                    "part {}, {}, trial {}",
                    old.spot.part,
                    name(old.spot.place).unwrap_or_default(),
                    old.spot.trial
                ),
                was: show(old),
                became: show(new),
                why: new.why.clone(),
                when: when.stamp(&new.stamp),
            })
            .collect();
        Ok(StudyView {
            size: size(i64::try_from(people.len()).unwrap_or(i64::MAX), study.parts, study.trials),
            tolerance: study.tolerance.map(|width| study.unit.show(width, given(study.unit, width))),
            results: results(&study, &people, &readings, finest),
            when: when.stamp(&study.stamp),
            id: study.public_id,
            measured: study.measured,
            unit: study.unit.symbol(),
            two: (study.unit.dimension() == Dimension::Length).then(|| gauge.step.show(gauge.step.to_si(2.0), 0)),
            gauge: gauge.into(),
            people,
            parts: study.parts,
            trials: study.trials,
            withdrawn: study.withdrawn,
            spots,
            corrected,
        })
    }
}

async fn zone(db: &mut Connection, now: Timestamp) -> Done<When> {
    Ok(When::new(&super::shop_settings::zone(&settings::all(db).await?), now))
}

fn size(people: i64, parts: i64, trials: i64) -> String {
    let of = |count: i64, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    format!("{} × {} × {trials} trials", of(people, "person", "people"), of(parts, "part", "parts"))
}

fn key(spot: StudySpot) -> String {
    format!("{}.{}.{}", spot.part, spot.place, spot.trial)
}

/// Trial by trial, person by person; the parts in an order of their own each time, always the same for this study, so that
/// nobody remembers what they read before.
fn order(study: &Study, people: usize) -> Vec<StudySpot> {
    let people = i64::try_from(people).unwrap_or(0);
    let mut spots = Vec::new();
    for trial in 1..=study.trials {
        for place in 1..=people {
            let mut parts: Vec<StudySpot> = (1..=study.parts).map(|part| StudySpot { part, place, trial }).collect();
            parts.sort_by_key(|spot| <[u8; 32]>::from(Sha256::digest(format!("{} {}", study.public_id, key(*spot)))));
            spots.extend(parts);
        }
    }
    spots
}

/// The decimals that show a step of this size in this unit.
pub(super) fn decimals(unit: Unit, step: f64) -> u8 {
    let shows = |decimals: &u8| unit.from_si(step) * 10_f64.powi(i32::from(*decimals)) > 1.0 - 1e-6;
    (0..=6).find(shows).unwrap_or(unit.usual_decimals())
}

/// The decimals a given width needs, at most six.
fn given(unit: Unit, width: f64) -> u8 {
    let whole = |decimals: &u8| {
        let scaled = unit.from_si(width) * 10_f64.powi(i32::from(*decimals));
        (scaled - scaled.round()).abs() < 1e-6 * scaled.abs().max(1.0)
    };
    (0..=6).find(whole).unwrap_or(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn study(public_id: &str) -> Study {
        Study {
            id: 1,
            public_id: public_id.to_owned(),
            gauge: 1,
            measured: "wrist pins".to_owned(),
            unit: Unit::Inch,
            tolerance: None,
            parts: 10,
            trials: 3,
            stamp: crate::record::Stamp { by: None, at: Timestamp::UNIX_EPOCH },
            withdrawn: false,
        }
    }

    #[test]
    fn the_order_of_reading_is_stable_complete_and_another_each_trial() {
        let spots = order(&study("a"), 3);
        assert_eq!(spots, order(&study("a"), 3));
        let mut sorted = spots.clone();
        sorted.sort();
        sorted.dedup();
        assert_eq!(sorted.len(), 90);
        assert!(spots.windows(2).all(|pair| (pair[0].trial, pair[0].place) <= (pair[1].trial, pair[1].place)));
        let parts = |from: usize| spots[from..from + 10].iter().map(|spot| spot.part).collect::<Vec<_>>();
        assert_ne!(parts(0), parts(30), "the second trial goes the same way");
        assert_ne!(parts(0), (1..=10).collect::<Vec<_>>());
        assert_ne!(spots, order(&study("b"), 3));
    }

    #[test]
    fn as_many_decimals_as_the_gauge_gave() {
        assert_eq!(decimals(Unit::Inch, 2.54e-6), 4);
        assert_eq!(decimals(Unit::Millimetre, 2e-6), 3);
        assert_eq!(decimals(Unit::Gram, 0.001), 0);
        assert_eq!(decimals(Unit::Inch, f64::INFINITY), 0);
        assert_eq!((given(Unit::Inch, 0.0254 * 0.0005), given(Unit::Gram, 0.002)), (4, 0));
    }
}
