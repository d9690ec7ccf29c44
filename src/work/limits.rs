//! Limits of a job: set with a reason, lifted with a reason, never overwritten.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobHead;
use super::job_record::JobRecord;
use super::second_readings::{SecondField, second_fields};
use crate::engine::{FindingFeature, Limit, LimitKind, Place, WorkingUnit};
use crate::quantity::{Entry, HowRead, Unit, read};
use crate::record::limits;
use crate::sheets::{Words, home_of};
use jiff::Timestamp;

/// A limit as it stands.
#[derive(Clone, Debug)]
pub struct LimitView {
    pub feature: FindingFeature,
    pub title: String,
    /// "every place", or where.
    pub place: String,
    pub place_key: Option<Place>,
    /// "2.0 to 3.0 thou", "at most 0.5 thou"; "lifted" in the list of what was set.
    pub figures: String,
    /// Each end as it can be typed again: "2.0 thou".
    pub least: String,
    pub most: String,
    pub per_diameter: bool,
    pub condition: String,
    pub source: String,
}

/// What was set or lifted at some time.
#[derive(Clone, Debug)]
pub struct PastLimit {
    pub limit: LimitView,
    pub because: String,
    /// "today 14:05 by Ada".
    pub when: String,
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
    /// Everything that was ever set or lifted, the newest first.
    pub past: Vec<PastLimit>,
    /// What can be read twice, the second time without seeing the first.
    pub second: Vec<SecondField>,
    /// What a figure per journal diameter is spoken of in: "thou/in".
    pub ratio_unit: &'static str,
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
    /// The limit is lifted: its figures do not count.
    pub lift: bool,
}

impl Shop {
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn limits(&self, job: i64, now: Timestamp) -> Done<LimitsView> {
        let look = self.look_at_job(job, now).await?;
        let past = limits::past_of_build(&mut *self.record.look().await?, job).await?;
        let (architecture, unit) = (&look.job.engine.architecture, look.job.build.unit);
        let place_word = |place: Option<Place>| place.map_or("every place".to_owned(), |p| architecture.label(p));
        let view = |limit: &Limit| view(limit, place_word(limit.place), unit);
        let places_of = |feature: &FindingFeature| -> Vec<(String, String)> {
            let places: Vec<Place> = match feature.whole() {
                _ if feature.is_spread() => Vec::new(),
                Place::AllMains => architecture.main_places().collect(),
                _ => architecture.cylinders_in_order(),
            };
            places.into_iter().map(|place| (place.to_string(), architecture.label(place))).collect()
        };
        let fields = FindingFeature::all().filter(|(_, feature)| feature.takes_limit() && home_of(feature).is_some());
        let words = Words { unit };
        Ok(LimitsView {
            head: look.head(),
            limits: look.job.limits.iter().map(view).collect(),
            fields: fields
                .map(|(key, feature)| LimitField {
                    key: key.to_owned(),
                    title: feature.title().to_owned(),
                    unit: words.symbol(shown_unit(&feature, unit)),
                    places: places_of(&feature),
                    per_diameter: feature.is_of_diameter(),
                    feature,
                })
                .collect(),
            past: past
                .into_iter()
                .map(|past| PastLimit {
                    limit: view(&past.limit),
                    because: past.reason,
                    when: look.when.stamp(&past.stamp),
                })
                .collect(),
            second: second_fields(&look.job.setup(), &look.job.second),
            ratio_unit: words.symbol(Unit::ThouPerInch),
        })
    }

    /// Sets a limit, or lifts it.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn set_limit(&self, doing: &Doing, job: i64, form: &LimitForm) -> Done<()> {
        let loaded = JobRecord::load(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let limit = parse(&loaded, form)?;
        let Some(mut w) = self.begin(doing, "set limit", Some(job)).await? else { return Ok(()) };
        limits::insert(&mut w, job, &limit, form.reason.trim()).await?;
        Ok(w.commit().await?)
    }
}

fn parse(loaded: &JobRecord, form: &LimitForm) -> Done<Limit> {
    let unit = loaded.build.unit;
    let mut faults = Vec::new();
    let feature = FindingFeature::parse(&form.feature);
    if !feature.takes_limit() {
        faults.push(FieldFault::new("feature", "choose what the limit is on"));
    }
    let belongs = |place: &Place| {
        loaded.engine.architecture.has(*place) && place.whole() == feature.whole() && !feature.is_spread()
    };
    let place = match form.place.as_str() {
        "" => None,
        text => {
            let place = text.parse().ok().filter(belongs);
            if place.is_none() {
                faults.push(FieldFault::new("place", "choose one of the places it is found at, or every place"));
            }
            place
        }
    };
    let kind = if form.per_diameter { LimitKind::PerDiameter } else { LimitKind::Absolute };
    let how = if form.per_diameter { HowRead::plain(Unit::ThouPerInch) } else { feature.how_read(unit) };
    let mut typed = |field: &str, text: &str| {
        let text = if form.lift { "" } else { text };
        figure(field, text, &how, feature.may_be_below_zero()).map_err(|fault| faults.push(fault)).ok().flatten()
    };
    let (min, max) = (typed("least", &form.least), typed("most", &form.most));
    let words = |text: &str| text.trim().to_owned();
    let (condition, source) = (words(&form.condition), words(&form.source));
    let limit = Limit { feature, place, kind, min, max, condition, source };
    let figures_refused = faults.iter().any(|fault| ["least", "most", "feature"].contains(&&*fault.field));
    if let (Err(fault), false) = (limit.check(), form.lift || figures_refused) {
        faults.push(FieldFault::new("least", fault));
    }
    if form.reason.trim().is_empty() {
        faults.push(FieldFault::new("reason", "say why: such as “piston maker's sheet” or “for the track”"));
    }
    let texts = [("condition", &form.condition), ("source", &form.source), ("reason", &form.reason)];
    faults.extend(texts.iter().filter_map(|(field, text)| FieldFault::too_long(field, text, 200)));
    if faults.is_empty() { Ok(limit) } else { Err(Refused::Faults(faults)) }
}

/// One end of what a finding may be, as typed; none where nothing was.
pub(super) fn figure(field: &str, text: &str, how: &HowRead, below_zero: bool) -> Result<Option<f64>, FieldFault> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match read(text.trim(), how).map(|typed| typed.entry) {
        Ok(Entry::Figure(q)) if q.si >= 0.0 || below_zero => Ok(Some(q.si)),
        Ok(Entry::Figure(_)) => Err(FieldFault::new(field, "enter a figure that is not below zero")),
        Ok(Entry::Range(..)) => {
            Err(FieldFault::new(field, "enter one figure here: the lowest and the highest have a field each"))
        }
        Err(fault) => Err(FieldFault::new(field, fault)),
    }
}

/// The unit that a finding's limits are spoken of in: its own.
fn shown_unit(feature: &FindingFeature, unit: WorkingUnit) -> Unit {
    unit.of(feature.measure())
}

/// A limit in words; one without figures was lifted.
pub(super) fn view(limit: &Limit, place: String, unit: WorkingUnit) -> LimitView {
    let words = Words { unit };
    let shown = match limit.kind {
        LimitKind::PerDiameter => Unit::ThouPerInch,
        LimitKind::Absolute => shown_unit(&limit.feature, unit),
    };
    let typed = |si| format!("{} {}", Words::given(shown, si), shown.symbol());
    let figures = words.limits(shown, limit.min, limit.max);
    LimitView {
        title: limit.feature.title().to_owned(),
        place,
        place_key: limit.place,
        figures: if figures.is_empty() { "lifted".to_owned() } else { figures },
        least: limit.min.map(typed).unwrap_or_default(),
        most: limit.max.map(typed).unwrap_or_default(),
        per_diameter: limit.kind == LimitKind::PerDiameter,
        condition: limit.condition.clone(),
        source: limit.source.clone(),
        feature: limit.feature.clone(),
    }
}
