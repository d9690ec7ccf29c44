//! Parts made in the shop as their page shows them: what the drawing asks for, what was read of it, which engines carry one.

use super::doing::{Done, Refused};
use super::gauge_settings::GaugeChoice;
use super::job::{JobHead, JobLook};
use super::job_record::known;
use super::parts::Stock;
use super::{PhotoView, Shop};
use crate::drawing::limit_strip::{self, LimitStrip};
use crate::drawing::{Drawing, Mark};
use crate::metrology::{Band, GaugeKind, GaugeSet, Judgement, KnownGauge, Measured, judge};
use crate::quantity::{Dimension, Unit};
use crate::record::carried::{self, Carried};
use crate::record::made_sizes::{self, MadeReading, MadeSize};
use crate::record::parts::Part;
use crate::record::{Connection, builds};
use crate::sheets::{Standing, Words, mark_of};
use jiff::Timestamp;

/// What was read of a dimension.
#[derive(Clone, Debug)]
pub struct MadeReadingView {
    pub id: i64,
    /// "4.2504 in".
    pub figure: String,
    pub typed: String,
    /// "± 0.0002 in".
    pub good_to: String,
    /// "outside micrometer 4 to 5".
    pub gauge: String,
    /// How it stands against its tolerance; none where none is given.
    pub judged: Option<(Mark, &'static str)>,
    /// Good or out is claimed, and its limit still lies within what the gauge can tell.
    pub beside: bool,
    /// From the nearer limit, positive inside: "+0.4 thou".
    pub margin: String,
    /// "today 14:05 by Ada".
    pub when: String,
}

/// A dimension of a part made in the shop.
#[derive(Clone, Debug)]
pub struct MadeSizeView {
    pub id: i64,
    pub name: String,
    /// "4.250 in".
    pub size: String,
    /// "4.2500 to 4.2520 in"; empty where no tolerance is given.
    pub limits: String,
    /// The newest against its tolerance; none while nothing was read or no tolerance is given.
    pub strip: Option<Drawing>,
    /// Public id of the gauge that read it last; empty where none did.
    pub gauge: String,
    /// The newest first: it is the one that counts.
    pub readings: Vec<MadeReadingView>,
}

/// A job whose engine carries one.
#[derive(Clone, Debug)]
pub struct CarriedView {
    pub id: i64,
    pub job: i64,
    pub title: String,
    pub words: String,
    pub when: String,
}

/// The page of a part made in the shop.
#[derive(Clone, Debug)]
pub struct MadeView {
    pub head: JobHead,
    pub part: String,
    pub description: String,
    pub sizes: Vec<MadeSizeView>,
    pub carried: Vec<CarriedView>,
    /// Jobs that may carry one: number and title.
    pub jobs: Vec<(String, String)>,
    pub gauges: Vec<GaugeChoice>,
    /// Its drawing, and photos.
    pub drawings: Vec<PhotoView>,
    /// "in", "mm".
    pub unit: &'static str,
}

/// A part made in the shop at a glance.
#[derive(Clone, Debug)]
pub struct MadeGlance {
    /// "4 dimensions: 3 good, 1 not read".
    pub sizes: String,
    /// Some dimension is out.
    pub out: bool,
    /// The jobs whose engines carry one: number and title.
    pub carried: Vec<(i64, String)>,
}

/// The dimensions of a job's parts, what was read of them and who carries one: what stands of it.
pub(super) struct Made {
    pub sizes: Vec<MadeSize>,
    pub readings: Vec<MadeReading>,
    pub carried: Vec<Carried>,
}

impl Made {
    pub async fn load(db: &mut Connection, job: i64) -> Done<Self> {
        Ok(Self {
            sizes: made_sizes::of(db, job).await?.into_iter().filter(|size| !size.withdrawn).collect(),
            readings: made_sizes::readings(db, job).await?.into_iter().filter(|read| !read.withdrawn).collect(),
            carried: carried::of(db, job).await?.into_iter().filter(|one| !one.withdrawn).collect(),
        })
    }

    pub fn size(&self, part: &Part, id: i64) -> Done<&MadeSize> {
        let of_part = self.sizes.iter().find(|size| size.id == id && size.said.part == part.id);
        of_part.ok_or(Refused::NotFound)
    }

    pub fn carried_by(&self, part: i64) -> impl Iterator<Item = &Carried> {
        self.carried.iter().filter(move |one| one.part == part)
    }
}

/// A reading with what its gauge can tell, against the tolerance.
struct Judged<'a> {
    reading: &'a MadeReading,
    value: Measured,
    judgement: Option<Judgement>,
}

impl JobLook {
    /// None where the record's figure is none.
    fn judged<'a>(&self, size: &MadeSize, reading: &'a MadeReading) -> Option<Judged<'a>> {
        let said = &reading.said;
        let gauge = said.gauge.and_then(|id| self.job.gauge(id));
        let gauge = match gauge {
            Some(gauge) => known(gauge, self.job.studied.find(gauge.id, reading.stamp.by.as_deref())),
            None => KnownGauge::of_kind(GaugeKind::Other),
        };
        let set = GaugeSet { id: format!("made {}", reading.id), master: None };
        let value = gauge.reading(said.value, said.resolution, &format!("made {}", reading.id), Some(&set)).ok()?;
        let band = Band::new(size.said.least, size.said.most).ok();
        let judgement = band.map(|band| judge(&value, &band, self.job.build.rule));
        Some(Judged { reading, value, judgement })
    }

    fn made_reading(&self, judged: &Judged<'_>) -> MadeReadingView {
        let said = &judged.reading.said;
        let words = Words { unit: self.job.build.unit };
        let small = self.job.build.unit.small();
        let standing = judged.judgement.as_ref().map(|judgement| Standing::of(judgement.verdict));
        MadeReadingView {
            id: judged.reading.id,
            figure: words.size(judged.value.value()),
            typed: said.typed.clone(),
            good_to: format!("± {}", words.small_of_means(judged.value.expanded(2.0))),
            gauge: said
                .gauge
                .and_then(|id| self.job.gauge(id))
                .map_or("no gauge named", |gauge| &gauge.name)
                .to_owned(),
            judged: standing.map(|standing| (mark_of(standing), standing.word())),
            beside: judged.judgement.is_some_and(|j| j.on_the_line) && standing != Some(Standing::OnTheLine),
            margin: judged.judgement.map(|j| small.show_signed(j.margin, small.usual_decimals())).unwrap_or_default(),
            when: self.when.stamp(&judged.reading.stamp),
        }
    }

    fn made_size(&self, made: &Made, size: &MadeSize) -> MadeSizeView {
        let (said, unit) = (&size.said, self.job.build.unit.size());
        let of_size = made.readings.iter().filter(|reading| reading.said.size_of == size.id);
        let judged: Vec<Judged<'_>> = of_size.rev().filter_map(|reading| self.judged(size, reading)).collect();
        let number = |si: f64| unit.show_number(si, unit.usual_decimals());
        let strip = judged.first().and_then(|newest| {
            let strip = LimitStrip {
                min: said.least,
                max: said.most,
                value: Some(newest.value.value()),
                expanded: newest.value.expanded(2.0),
                target: Some(said.size),
                spread: None,
                mark: mark_of(Standing::of(newest.judgement?.verdict)),
            };
            Some(limit_strip::compact(&strip, &said.name, &number))
        });
        MadeSizeView {
            id: size.id,
            name: said.name.clone(),
            size: given(unit, said.size),
            limits: Words { unit: self.job.build.unit }.limits(unit, said.least, said.most),
            strip,
            gauge: judged
                .first()
                .and_then(|newest| self.job.gauge(newest.reading.said.gauge?))
                .map(|gauge| gauge.public_id.clone())
                .unwrap_or_default(),
            readings: judged.iter().map(|judged| self.made_reading(judged)).collect(),
        }
    }
}

impl JobLook {
    pub(super) fn made_glance(&self, made: &Made, part: &Part) -> MadeGlance {
        let sizes = made.sizes.iter().filter(|size| size.said.part == part.id);
        let standing = |size: &MadeSize| {
            let newest = made.readings.iter().rev().find(|reading| reading.said.size_of == size.id)?;
            let verdict = self.judged(size, newest)?.judgement.map(|judgement| judgement.verdict);
            Some(verdict.map_or(Standing::Figure, Standing::of))
        };
        let standings: Vec<Option<Standing>> = sizes.map(standing).collect();
        let count = |of: Option<Standing>| standings.iter().filter(|standing| **standing == of).count();
        let words = [
            (count(Some(Standing::Good)), "good"),
            (count(Some(Standing::OnTheLine)), "on the line"),
            (count(Some(Standing::Out)), "out"),
            (count(Some(Standing::Figure)), "read, without a tolerance"),
            (count(None), "not read"),
        ];
        let said: Vec<String> =
            words.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
        MadeGlance {
            sizes: match standings.len() {
                0 => "no dimension is written down".to_owned(),
                all => format!("{}: {}", Words::counted(all, "dimension"), said.join(", ")),
            },
            out: count(Some(Standing::Out)) > 0,
            carried: made.carried_by(part.id).map(|one| (one.build, one.title.clone())).collect(),
        }
    }
}

/// A size as it was given, with its unit.
pub(super) fn given(unit: Unit, si: f64) -> String {
    format!("{}\u{a0}{}", Words::given(unit, si), unit.symbol())
}

impl Shop {
    /// The page of a part made in the shop.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has no such part.
    pub async fn made(&self, job: i64, public_id: &str, now: Timestamp) -> Done<MadeView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let stock = Stock::load(&mut db, Some(job)).await?;
        let made = Made::load(&mut db, job).await?;
        let jobs = builds::all(&mut db).await?;
        drop(db);
        let part = stock.find(public_id)?;
        let lengths = look.job.gauges.iter().filter(|gauge| gauge.kind.dimension() == Dimension::Length);
        let carries = |number: i64| made.carried_by(part.id).any(|one| one.build == number);
        let free = jobs.iter().filter(|build| build.id != job && !carries(build.id));
        Ok(MadeView {
            head: look.head(),
            part: part.public_id.clone(),
            description: part.said.description.clone(),
            sizes: made
                .sizes
                .iter()
                .filter(|size| size.said.part == part.id)
                .map(|size| look.made_size(&made, size))
                .collect(),
            carried: made
                .carried_by(part.id)
                .map(|one| CarriedView {
                    id: one.id,
                    job: one.build,
                    title: one.title.clone(),
                    words: one.words.clone(),
                    when: look.when.stamp(&one.stamp),
                })
                .collect(),
            jobs: std::iter::once((String::new(), "choose the job".to_owned()))
                .chain(free.map(|build| (build.id.to_string(), format!("{} {}", build.id, build.title))))
                .collect(),
            gauges: lengths.map(|gauge| GaugeChoice::of(gauge, now)).collect(),
            drawings: look.photos_of(Some(part.id), None),
            unit: look.job.build.unit.size().symbol(),
        })
    }
}
