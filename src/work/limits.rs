//! Limits of a job: set with a reason, lifted by an empty one, never overwritten.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::findings::number;
use super::job::JobHead;
use super::job_record::JobRecord;
use crate::engine::{FindingFeature, Limit, LimitKind, Place, WorkingUnit};
use crate::quantity::{Entry, HowRead, Unit, read};
use crate::record::limits;
use crate::sheets::home_of;
use jiff::Timestamp;

/// A limit as it stands.
#[derive(Clone, Debug)]
pub struct LimitView {
    pub feature: FindingFeature,
    pub title: String,
    /// "every place", or where.
    pub place: String,
    pub place_key: Option<Place>,
    /// "2.0 to 3.0 thou", "at most 0.5 thou".
    pub figures: String,
    pub condition: String,
    pub source: String,
}

/// A finding that a limit can be set on.
#[derive(Clone, Debug)]
pub struct LimitField {
    pub feature: FindingFeature,
    /// The feature's key.
    pub key: String,
    pub title: String,
    /// The unit of a bare figure: "thou", "in".
    pub unit: &'static str,
    /// Places to choose from besides all: key and words.
    pub places: Vec<(String, String)>,
    /// Whether it can be given per inch (or mm) of journal.
    pub per_diameter: bool,
}

/// The page of a job's limits.
#[derive(Clone, Debug)]
pub struct LimitsView {
    pub head: JobHead,
    pub limits: Vec<LimitView>,
    pub fields: Vec<LimitField>,
}

/// A limit as typed.
#[derive(Clone, Debug, Default)]
pub struct LimitForm {
    /// A finding feature's key.
    pub feature: String,
    /// A place's key; empty for every place.
    pub place: String,
    pub per_diameter: bool,
    /// Empty for none.
    pub least: String,
    /// Empty for none.
    pub most: String,
    pub condition: String,
    pub source: String,
    pub reason: String,
}

impl Shop {
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn limits(&self, job: i64, now: Timestamp) -> Done<LimitsView> {
        let look = self.look_at_job(job, now).await?;
        let (architecture, unit) = (&look.job.engine.architecture, look.job.build.unit);
        let places_of = |feature: &FindingFeature| -> Vec<(String, String)> {
            let places: Vec<Place> = match feature.whole() {
                _ if is_spread(feature) => Vec::new(),
                Place::AllMains => architecture.main_places().collect(),
                _ => architecture.cylinders_in_order(),
            };
            places.into_iter().map(|place| (place.to_string(), architecture.label(place))).collect()
        };
        let fields = FindingFeature::all().filter(|(_, feature)| feature.takes_limit() && home_of(feature).is_some());
        Ok(LimitsView {
            head: look.head(),
            limits: look
                .job
                .limits
                .iter()
                .map(|limit| LimitView {
                    title: limit.feature.title().to_owned(),
                    place: limit.place.map_or_else(|| "every place".to_owned(), |place| architecture.label(place)),
                    place_key: limit.place,
                    figures: figures(limit, unit),
                    condition: limit.condition.clone(),
                    source: limit.source.clone(),
                    feature: limit.feature.clone(),
                })
                .collect(),
            fields: fields
                .map(|(key, feature)| LimitField {
                    key: key.to_owned(),
                    title: feature.title().to_owned(),
                    unit: shown_unit(&feature, unit).symbol(),
                    places: places_of(&feature),
                    per_diameter: matches!(feature, FindingFeature::MainClearance(_)),
                    feature,
                })
                .collect(),
        })
    }

    /// Sets a limit, or lifts it where both figures are left empty.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn set_limit(&self, doing: &Doing, job: i64, form: &LimitForm) -> Done<()> {
        let loaded = JobRecord::load(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let unit = loaded.build.unit;
        let mut faults = Vec::new();
        let feature = FindingFeature::parse(&form.feature);
        if !feature.takes_limit() {
            faults.push(FieldFault::new("feature", "choose what the limit is on"));
        }
        let place = match form.place.as_str() {
            "" => None,
            text => match text.parse::<Place>() {
                Ok(place) if loaded.engine.architecture.has(place) => Some(place),
                _ => {
                    faults.push(FieldFault::new("place", "choose a place of this engine, or every place"));
                    None
                }
            },
        };
        if form.reason.trim().is_empty() {
            faults.push(FieldFault::new("reason", "say why: such as “piston maker's sheet” or “for the track”"));
        }
        let kind = if form.per_diameter { LimitKind::PerDiameter } else { LimitKind::Absolute };
        let bare = if form.per_diameter { Unit::ThouPerInch } else { shown_unit(&feature, unit) };
        let mut figure = |field: &str, text: &str| match text.trim() {
            "" => None,
            text => match read(text, &HowRead::plain(bare)).map(|typed| typed.entry) {
                Ok(Entry::Figure(q)) => Some(q.si),
                Ok(Entry::Range(..)) => {
                    faults.push(FieldFault::new(field, "enter one figure"));
                    None
                }
                Err(fault) => {
                    faults.push(FieldFault::new(field, fault));
                    None
                }
            },
        };
        let (min, max) = (figure("least", &form.least), figure("most", &form.most));
        let limit = Limit {
            feature,
            place,
            kind,
            min,
            max,
            condition: form.condition.trim().to_owned(),
            source: form.source.trim().to_owned(),
        };
        let lifts = form.least.trim().is_empty() && form.most.trim().is_empty();
        if let (Err(fault), false) = (limit.check(), lifts || !faults.is_empty()) {
            faults.push(FieldFault::new("least", fault));
        }
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        let Some(mut w) = self.begin(doing, "set limit", Some(job)).await? else { return Ok(()) };
        limits::insert(&mut w, job, &limit, form.reason.trim()).await?;
        Ok(w.commit().await?)
    }
}

fn is_spread(feature: &FindingFeature) -> bool {
    matches!(feature, FindingFeature::BoreSpread | FindingFeature::MainClearanceSpread)
}

/// The unit that a finding's limits are spoken of in.
fn shown_unit(feature: &FindingFeature, unit: WorkingUnit) -> Unit {
    match feature {
        FindingFeature::BoreSize | FindingFeature::SkirtDiameter => unit.size(),
        FindingFeature::MainClearanceRatio => Unit::ThouPerInch,
        _ => unit.small(),
    }
}

fn figures(limit: &Limit, unit: WorkingUnit) -> String {
    let shown = match limit.kind {
        LimitKind::PerDiameter => Unit::ThouPerInch,
        LimitKind::Absolute => shown_unit(&limit.feature, unit),
    };
    let show = |si: f64| format!("{}\u{a0}{}", number(shown, si), shown.symbol());
    match (limit.min, limit.max) {
        (Some(min), Some(max)) => format!("{} to {}", number(shown, min), show(max)),
        (Some(min), None) => format!("at least {}", show(min)),
        (None, Some(max)) => format!("at most {}", show(max)),
        (None, None) => "lifted".to_owned(),
    }
}
