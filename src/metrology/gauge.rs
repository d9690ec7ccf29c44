//! What a gauge can tell: the uncertainty of one reading, and of the setting all its readings share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::NotFinite;
use super::value::{Measured, Source};

/// The kinds of gauge the shop reads. Its own study of a gauge, where there is one, takes the place of the defaults.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
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
    Other,
}

impl GaugeKind {
    /// Every kind, in the order it is offered.
    pub const ALL: [Self; 11] = [
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
            Self::Other => "other gauge",
        }
    }
}

/// Standard uncertainty of one reading by itself, its repeatability in a practised hand, resolution not counted, in SI (m;
/// burette m³, scale kg, torque wrench N·m).
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
        // Two tenths, of a length.
        GaugeKind::Other => 5e-6,
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
        GaugeKind::Feeler | GaugeKind::PlasticStrip | GaugeKind::Burette | GaugeKind::TorqueWrench => 0.0,
    }
}

/// Standard uncertainty of a reading rounded to `step`: the true value lies anywhere within ± step/2, so step/√12 (JCGM
/// 100:2008, 4.3.7 and F.2.2.1). In the unit of `step`.
pub fn resolution_u(step: f64) -> f64 {
    step / 12_f64.sqrt()
}

/// A reading as a value: `value_si` told to a step of `resolution_si`, under its own id and, where the gauge was set, the
/// id of that setting. Its own part is √(repeatability² + resolution²); the setting's is shared.
///
/// # Errors
/// [`NotFinite`] if `value_si` or `resolution_si` is not finite.
pub fn reading(
    value_si: f64,
    resolution_si: f64,
    kind: GaugeKind,
    reading_id: &str,
    setting_id: Option<&str>,
) -> Result<Measured, NotFinite> {
    let own = default_reading_u(kind).hypot(resolution_u(resolution_si));
    let mut parts = BTreeMap::from([(Source::Reading(reading_id.to_owned()), own)]);
    if let Some(setting) = setting_id {
        parts.insert(Source::Setting(setting.to_owned()), default_setting_u(kind));
    }
    Measured::new(value_si, parts)
}

#[cfg(test)]
mod tests {
    use super::super::value::difference;
    use super::*;

    /// Repeatability 1.3 µm, setting 1.5 µm and a step of one tenth: √(1.3² + 1.5² + 0.733²) µm.
    #[test]
    fn a_bore_gauge_reading() {
        let bore = reading(0.1, 2.54e-6, GaugeKind::BoreGauge, "1", Some("s")).unwrap();
        assert!((bore.u() - 2.116e-6).abs() < 1e-9, "{}", bore.u());
        let unset = reading(0.1, 2.54e-6, GaugeKind::BoreGauge, "1", None).unwrap();
        assert!((unset.u() - 1.4925e-6).abs() < 1e-9, "{}", unset.u());
    }

    #[test]
    fn two_readings_of_one_setting_differ_by_their_own_parts_only() {
        let a = reading(0.1, 0.0, GaugeKind::BoreGauge, "1", Some("s")).unwrap();
        let b = reading(0.1, 0.0, GaugeKind::BoreGauge, "2", Some("s")).unwrap();
        assert!((difference(&a, &b).unwrap().u() - 1.3e-6 * 2_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_coarser_step_is_never_surer() {
        for kind in GaugeKind::ALL {
            let fine = reading(1.0, 1e-6, kind, "1", None).unwrap();
            let coarse = reading(1.0, 1e-3, kind, "1", None).unwrap();
            assert!(fine.u() < coarse.u(), "{}", kind.word());
        }
        assert_eq!(reading(1.0, f64::NAN, GaugeKind::Scale, "1", None), Err(NotFinite));
    }
}
