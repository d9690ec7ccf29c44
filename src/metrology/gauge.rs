//! What a gauge can tell: the uncertainty of one reading, and of the setting all its readings share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::NotFinite;
use super::statistics::pooled_deviation;
use super::value::{Estimate, Measured, Source};
use crate::quantity::Dimension;

/// The kinds of gauge the shop reads. Its own study of a gauge, where there is one, takes the place of the defaults.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GaugeKind {
    OutsideMicrometer,
    BoreGauge,
    DepthMicrometer,
    Indicator,
    Feeler,
    PlasticStrip,
    Burette,
    Scale,
    TorqueWrench,
    BallMicrometer,
    StretchGauge,
    SpringTester,
    Other,
}

impl GaugeKind {
    /// Every kind, in the order it is offered.
    pub const ALL: [Self; 13] = [
        Self::OutsideMicrometer,
        Self::BoreGauge,
        Self::DepthMicrometer,
        Self::BallMicrometer,
        Self::Indicator,
        Self::Feeler,
        Self::PlasticStrip,
        Self::Burette,
        Self::Scale,
        Self::TorqueWrench,
        Self::StretchGauge,
        Self::SpringTester,
        Self::Other,
    ];

    /// The key kept in the record.
    pub fn key(self) -> &'static str {
        match self {
            Self::OutsideMicrometer => "outside_micrometer",
            Self::BoreGauge => "bore_gauge",
            Self::DepthMicrometer => "depth_micrometer",
            Self::Indicator => "indicator",
            Self::Feeler => "feeler",
            Self::PlasticStrip => "plastic_strip",
            Self::Burette => "burette",
            Self::Scale => "scale",
            Self::TorqueWrench => "torque_wrench",
            Self::BallMicrometer => "ball_micrometer",
            Self::StretchGauge => "stretch_gauge",
            Self::SpringTester => "spring_tester",
            Self::Other => "other",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// Whether it is read off a sleeve and a thimble, and so can be read one turn off.
    pub fn has_thimble(self) -> bool {
        matches!(self, Self::OutsideMicrometer | Self::BallMicrometer | Self::DepthMicrometer)
    }

    /// What it is called at the bench.
    pub fn word(self) -> &'static str {
        match self {
            Self::OutsideMicrometer => "outside micrometer",
            Self::BoreGauge => "dial bore gauge",
            Self::DepthMicrometer => "depth micrometer",
            Self::Indicator => "dial indicator",
            Self::Feeler => "feeler gauge",
            Self::PlasticStrip => "plastic gauge strip",
            Self::Burette => "burette",
            Self::Scale => "scale",
            Self::TorqueWrench => "torque wrench",
            Self::BallMicrometer => "ball micrometer",
            Self::StretchGauge => "bolt stretch gauge",
            Self::SpringTester => "spring tester",
            Self::Other => "other gauge",
        }
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Burette => Dimension::Volume,
            Self::Scale => Dimension::Mass,
            Self::TorqueWrench => Dimension::Torque,
            Self::SpringTester => Dimension::Force,
            _ => Dimension::Length,
        }
    }
}

/// Standard uncertainty of one reading by itself, its repeatability in a practised hand, resolution not counted, in SI (m;
/// burette m³, scale kg, torque wrench N·m, spring tester N).
///
/// Common practice, no source, each stated as what a careful user would claim; the torque wrench is derived: the 4 %
/// allowed to a wrench (ISO 6789-1, from memory) of 100 N·m, as a rectangular distribution, 4/√3 N·m.
pub fn default_reading_u(kind: GaugeKind) -> f64 {
    match kind {
        // Half a tenth.
        GaugeKind::OutsideMicrometer | GaugeKind::BoreGauge | GaugeKind::BallMicrometer => 1.3e-6,
        // A tenth.
        GaugeKind::DepthMicrometer | GaugeKind::Indicator => 2.5e-6,
        // A quarter thou: what the drag of a leaf, or the width of a crushed strip, leaves open.
        GaugeKind::Feeler | GaugeKind::PlasticStrip => 6.4e-6,
        // A tenth of a cubic centimetre: meniscus, air under the plate, a film left behind.
        GaugeKind::Burette => 1e-7,
        // A tenth of a gram.
        GaugeKind::Scale => 1e-4,
        GaugeKind::TorqueWrench => 2.3,
        // A pound-force of feel at the height set.
        GaugeKind::SpringTester => 4.45,
        // Two tenths, of a length; the ball ends of a stretch gauge must sit in the centres the same way twice.
        GaugeKind::StretchGauge | GaugeKind::Other => 5e-6,
    }
}

/// Standard uncertainty all readings of one setting share, in SI as [`default_reading_u`]: zeroing on a standard, carrying a
/// size over from a micrometer. Zero for what is not set (a strip, a burette, a leaf, a wrench as it comes).
///
/// Common practice, no source.
pub fn default_setting_u(kind: GaugeKind) -> f64 {
    match kind {
        GaugeKind::OutsideMicrometer | GaugeKind::BallMicrometer => 1.3e-6,
        // The size is carried over by feel from a micrometer or ring.
        GaugeKind::BoreGauge => 1.5e-6,
        GaugeKind::DepthMicrometer | GaugeKind::Indicator => 2.5e-6,
        GaugeKind::Scale => 1e-4,
        GaugeKind::Other => 5e-6,
        // A change of length is read from its own zero; the others come as they are.
        GaugeKind::StretchGauge
        | GaugeKind::SpringTester
        | GaugeKind::Feeler
        | GaugeKind::PlasticStrip
        | GaugeKind::Burette
        | GaugeKind::TorqueWrench => 0.0,
    }
}

/// Standard uncertainty of a reading rounded to `step`: the true value lies anywhere within ± step/2, so step/√12 (JCGM
/// 100:2008, 4.3.7 and F.2.2.1). In the unit of `step`.
pub fn resolution_u(step: f64) -> f64 {
    step / 12_f64.sqrt()
}

/// What is known of the gauge that takes a reading. In SI, as [`default_reading_u`].
#[derive(Clone, Debug, PartialEq)]
pub struct KnownGauge {
    pub kind: GaugeKind,
    /// What the shop calls it.
    pub name: String,
    /// Names it among the sources of uncertainty; none for a gauge that is in no register.
    pub id: Option<String>,
    /// Smallest step it is read to.
    pub resolution: Option<f64>,
    /// Maximum permissible error, either way.
    pub permissible_error: Option<f64>,
    /// Its own repeatability, where that is known better than by kind.
    pub repeatability: Option<Repeatability>,
}

/// How far a gauge's readings of one thing scatter.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeatability {
    /// What it was estimated from.
    pub of: String,
    /// Standard deviation of one reading, in SI.
    pub deviation: f64,
    /// Degrees of freedom it was estimated with.
    pub freedom: f64,
}

/// From so many degrees of freedom on, what was repeated says more of a gauge than its kind does: its scatter is then known to
/// about a third of itself, 1/√(2ν) (JCGM 100:2008, E.4.3).
const ENOUGH_REPEATED: f64 = 5.0;

impl Repeatability {
    /// Pooled over `sets` of repeated readings of different things (JCGM 100:2008, 4.2.4); none where they say too little.
    pub fn pooled<'a>(of: String, sets: impl IntoIterator<Item = &'a [f64]>) -> Option<Self> {
        let (deviation, freedom) = pooled_deviation(sets)?;
        (freedom >= ENOUGH_REPEATED).then_some(Self { of, deviation, freedom })
    }
}

/// How a gauge was set.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugeSet {
    /// Names the setting among the sources of uncertainty.
    pub id: String,
    /// The gauge it was set in, whose permissible error it carries over.
    pub master: Option<Box<KnownGauge>>,
}

impl KnownGauge {
    /// Any gauge of a kind, of which no more is known.
    pub fn of_kind(kind: GaugeKind) -> Self {
        Self {
            kind,
            name: kind.word().to_owned(),
            id: None,
            resolution: None,
            permissible_error: None,
            repeatability: None,
        }
    }

    /// Standard uncertainty of what its scale may be wrong by: anywhere within the permissible error, so MPE/√3 (JCGM
    /// 100:2008, 4.3.7), under the gauge's own source.
    fn scale_part(&self) -> Option<(Source, f64)> {
        let id = self.id.clone()?;
        Some((Source::Gauge(id.into()), self.permissible_error? / 3_f64.sqrt()))
    }

    /// The step a reading is told to: the gauge's own where what was typed is finer.
    pub fn step(&self, typed_si: f64) -> f64 {
        self.resolution.filter(|own| *own > typed_si).unwrap_or(typed_si)
    }

    /// A reading as a value: `value_si` told to a step of `typed_si`, under its own id. Its own part is √(repeatability² +
    /// resolution²); what the setting, the gauge's scale and its master may be wrong by is shared with all that rests on them.
    ///
    /// # Errors
    /// [`NotFinite`] if a figure is not finite.
    pub fn reading(
        &self,
        value_si: f64,
        typed_si: f64,
        reading_id: &str,
        set: Option<&GaugeSet>,
    ) -> Result<Measured, NotFinite> {
        let repeats = self.repeatability.as_ref().map_or_else(|| default_reading_u(self.kind), |known| known.deviation);
        let own = repeats.hypot(resolution_u(self.step(typed_si)));
        let source = Source::Reading(reading_id.into());
        let mut parts = BTreeMap::from([(source.clone(), own)]);
        parts.extend(self.scale_part());
        if let Some(set) = set {
            parts.insert(Source::Setting(set.id.as_str().into()), default_setting_u(self.kind));
            // What is set too large by its master's error reads as much too large as the master itself.
            parts.extend(set.master.as_ref().and_then(|master| master.scale_part()));
        }
        let read = Measured::new(value_si, parts)?;
        Ok(match self.repeatability.clone() {
            // The resolution is known for certain.
            Some(known) if own > 0.0 => {
                let share = (repeats / own).powi(2);
                read.estimated(&source, Estimate { of: known.of, share, freedom: known.freedom })
            }
            _ => read,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::value::difference;
    use super::*;

    /// Repeatability 1.3 µm, setting 1.5 µm and a step of one tenth: √(1.3² + 1.5² + 0.733²) µm.
    #[test]
    fn a_bore_gauge_reading() {
        let gauge = KnownGauge::of_kind(GaugeKind::BoreGauge);
        let bore = gauge.reading(0.1, 2.54e-6, "1", Some(&set("s"))).unwrap();
        assert!((bore.u() - 2.116e-6).abs() < 1e-9, "{}", bore.u());
        let unset = gauge.reading(0.1, 2.54e-6, "1", None).unwrap();
        assert!((unset.u() - 1.4925e-6).abs() < 1e-9, "{}", unset.u());
    }

    #[test]
    fn two_readings_of_one_setting_differ_by_their_own_parts_only() {
        let gauge = KnownGauge::of_kind(GaugeKind::BoreGauge);
        let [a, b] = ["1", "2"].map(|id| gauge.reading(0.1, 0.0, id, Some(&set("s"))).unwrap());
        assert!((difference(&a, &b).unwrap().u() - 1.3e-6 * 2_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_coarser_step_is_never_surer() {
        for kind in GaugeKind::ALL {
            let gauge = KnownGauge::of_kind(kind);
            let fine = gauge.reading(1.0, 1e-6, "1", None).unwrap();
            let coarse = gauge.reading(1.0, 1e-3, "1", None).unwrap();
            assert!(fine.u() < coarse.u(), "{}", kind.word());
            let of_coarse_gauge = KnownGauge { resolution: Some(1e-3), ..gauge };
            assert_eq!(
                of_coarse_gauge.reading(1.0, 1e-6, "1", None).unwrap(),
                coarse,
                "typed more finely than it reads"
            );
        }
        assert_eq!(KnownGauge::of_kind(GaugeKind::Scale).reading(1.0, f64::NAN, "1", None), Err(NotFinite));
    }

    /// A bore gauge zeroed in a micrometer, less a journal read with that micrometer: its scale error is in both, and goes.
    #[test]
    fn the_error_of_a_micrometer_cancels_where_the_bore_gauge_was_zeroed_in_it() {
        let micrometer = KnownGauge {
            id: Some("m".to_owned()),
            permissible_error: Some(4e-6),
            ..KnownGauge::of_kind(GaugeKind::OutsideMicrometer)
        };
        let journal = micrometer.reading(0.065, 0.0, "1", None).unwrap();
        assert!((journal.parts()[&Source::Gauge("m".into())] - 4e-6 / 3_f64.sqrt()).abs() < 1e-15);
        let set = GaugeSet { id: "s".to_owned(), master: Some(Box::new(micrometer)) };
        let bore = KnownGauge::of_kind(GaugeKind::BoreGauge).reading(0.06506, 0.0, "2", Some(&set)).unwrap();
        let clearance = difference(&bore, &journal).unwrap();
        assert!((clearance.u() - (1.3_f64.powi(2) * 2.0 + 1.5_f64.powi(2)).sqrt() * 1e-6).abs() < 1e-12);
    }

    #[test]
    fn a_repeatability_found_in_few_readings_says_so() {
        let known = Repeatability { of: "study".to_owned(), deviation: 2e-6, freedom: 9.0 };
        let gauge = KnownGauge { repeatability: Some(known), ..KnownGauge::of_kind(GaugeKind::BoreGauge) };
        let bore = gauge.reading(0.1, 0.0, "1", None).unwrap();
        assert!((bore.u() - 2e-6).abs() < 1e-15);
        assert!((bore.effective_freedom().unwrap() - 9.0).abs() < 1e-9);
        let with_step = gauge.reading(0.1, 1e-5, "1", None).unwrap();
        assert!(with_step.effective_freedom().unwrap() > 9.0, "the resolution is known for certain");
        assert_eq!(
            KnownGauge::of_kind(GaugeKind::BoreGauge).reading(0.1, 0.0, "1", None).unwrap().effective_freedom(),
            None
        );
    }

    fn set(id: &str) -> GaugeSet {
        GaugeSet { id: id.to_owned(), master: None }
    }
}
