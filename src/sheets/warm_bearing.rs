//! A bearing's clearance in the heat of hot oil, and at the coldest start, from that at 20 °C.

use super::taken::expansion;
use super::{Basis, Book, Finding};
use crate::engine::{FindingFeature, Measure, Place, TargetFeature};
use crate::mechanics::thermal::{Sizes, Warmed, Warmth, cold_clearance_m, hot_clearance_m};
use crate::metrology::{Material, Measured, NotFinite, Source, propagate};
use crate::quantity::Unit;

/// Standard uncertainty of an estimated rise of temperature in K: 10 K either way, rectangular. Common practice, no source.
pub(super) const RISE_U: f64 = 5.77;

/// What carries the lining of a shell. Common practice, no source; a shell of bronze or aluminium throughout grows more.
const SHELL_BACK: Material = Material::CarbonSteel;

/// What a bearing is made of and how large it is; what is not known is named where it is asked for.
pub(super) struct Bearing<'a> {
    /// Vertical clearance at 20 °C.
    pub clearance: &'a Finding,
    pub housing_m: Option<f64>,
    /// Mean of both halves at the crown.
    pub wall_m: Option<f64>,
    pub journal_m: Option<f64>,
    /// Of the housing's half in the block or rod, and of its cap.
    pub housing: Option<Material>,
    pub cap: Option<Material>,
    pub journal: Option<Material>,
    /// "block's": whose material is asked for.
    pub whose: &'static str,
}

/// The clearance when hot, for `feature`; none where nobody said how warm its parts become, or the clearance has no figure.
/// Shells are steel-backed and follow the housing.
pub(super) fn hot(book: &Book, feature: &FindingFeature, place: Place, bearing: &Bearing) -> Option<Finding> {
    let rise = |of| book.setup.target(of, Place::Engine);
    let (housing_rise, journal_rise) = (rise(TargetFeature::HousingWarmer)?, rise(TargetFeature::JournalWarmer)?);
    let cold = bearing.clearance.value.as_ref()?;
    let begin = |basis| Finding::new(feature.clone(), place, basis);
    let known = match known(bearing) {
        Ok(known) => known,
        Err(missing) => return Some(begin(Basis::Missing { missing })),
    };
    let value = known.propagate(book, cold, housing_rise, journal_rise).ok()?;
    let words = book.words();
    let mut finding = begin(bearing.clearance.basis.clone());
    let cap = if known.cap == known.housing { String::new() } else { format!(" with a cap of {}", known.cap.word()) };
    finding.working.push(format!(
        "{} cold; housing of {}{cap} {} warmer, journal of {} {} warmer: {}",
        words.small(cold.value()),
        known.housing.word(),
        words.said(Measure::WARMER, housing_rise),
        known.journal.word(),
        words.said(Measure::WARMER, journal_rise),
        words.small(value.value())
    ));
    if let Some(start) = book.setup.target(TargetFeature::LowestStart, Place::Engine) {
        finding.remarks.extend(known.at_start(book, cold.value(), start));
    }
    if let Some(limit) = book.limit(feature, place).and_then(|limit| limit.band(None)) {
        let cold_for = |hot: Option<f64>| known.cold_for(book, hot?, housing_rise, journal_rise);
        match (cold_for(limit.min()), cold_for(limit.max())) {
            (Some(low), Some(high)) => {
                finding.remarks.push(format!("to be so hot: {} to {} cold", words.small(low), words.small(high)));
            }
            (Some(low), None) => finding.remarks.push(format!("to be so hot: at least {} cold", words.small(low))),
            (None, Some(high)) => finding.remarks.push(format!("to be so hot: at most {} cold", words.small(high))),
            (None, None) => {}
        }
    }
    finding.readings.clone_from(&bearing.clearance.readings);
    let opens = value.value() - cold.value();
    finding.value = Some(value);
    finding.set_range(bearing.clearance.range.map(|(low, high)| (low + opens, high + opens)));
    Some(finding)
}

/// A bearing's clearance at temperatures of its housing, in K and m: at the coldest start where one is set, at 20 °C, and hot.
/// None where it is not told hot.
pub(super) fn curve(book: &Book, bearing: &Bearing) -> Option<Vec<(f64, f64)>> {
    let rise = |of| book.setup.target(of, Place::Engine);
    let (housing_rise, journal_rise) = (rise(TargetFeature::HousingWarmer)?, rise(TargetFeature::JournalWarmer)?);
    let cold = bearing.clearance.value.as_ref()?.value();
    let known = known(bearing).ok()?;
    let warmed =
        |housing: f64, journal: f64| hot_clearance_m(cold, known.sizes, known.warmth(book, housing, journal)).ok();
    let reference = Unit::Celsius.to_si(20.0);
    let start = rise(TargetFeature::LowestStart).filter(|start| *start < reference);
    let start = start.and_then(|start| Some((start, warmed(start - reference, start - reference)?)));
    let hot = (reference + housing_rise, warmed(housing_rise, journal_rise)?);
    Some(start.into_iter().chain([(reference, cold), hot]).collect())
}

/// A bearing of which everything is known.
struct Known {
    sizes: Sizes,
    housing: Material,
    cap: Material,
    journal: Material,
}

fn known(bearing: &Bearing) -> Result<Known, String> {
    let size = |size: Option<f64>, of: &str| size.ok_or_else(|| format!("size of the {of}"));
    let material = |of: Option<Material>, whose: &str| of.ok_or_else(|| format!("the {whose} material"));
    let housing = material(bearing.housing, bearing.whose)?;
    Ok(Known {
        sizes: Sizes {
            housing_m: size(bearing.housing_m, "housing")?,
            wall_m: size(bearing.wall_m, "shells")?,
            journal_m: size(bearing.journal_m, "journal")?,
        },
        housing,
        cap: bearing.cap.unwrap_or(housing),
        journal: material(bearing.journal, "crank’s")?,
    })
}

impl Known {
    fn propagate(
        &self,
        book: &Book,
        cold: &Measured,
        housing_rise: f64,
        journal_rise: f64,
    ) -> Result<Measured, NotFinite> {
        let rise = |kelvin: f64, of: &str| {
            Measured::exact(kelvin)?.with_part(Source::Temperature(format!("hot {of}").into()), RISE_U)
        };
        let alpha = |material| expansion(&book.setup, material);
        let (block, cap) = (alpha(self.housing)?, alpha(self.cap)?);
        let (shell, journal) = (alpha(SHELL_BACK)?, alpha(self.journal)?);
        let (warm, turning) = (rise(housing_rise, "housings")?, rise(journal_rise, "journals")?);
        propagate(&[cold, &block, &cap, &shell, &journal, &warm, &turning], |x| {
            let warmed = |alpha: f64, rise_k: f64| Warmed { alpha_per_k: alpha, rise_k };
            let warmth = Warmth {
                block: warmed(x[1], x[5]),
                cap: warmed(x[2], x[5]),
                shell: warmed(x[3], x[5]),
                journal: warmed(x[4], x[6]),
            };
            hot_clearance_m(x[0], self.sizes, warmth).unwrap_or(f64::NAN)
        })
    }

    fn warmth(&self, book: &Book, housing_rise: f64, journal_rise: f64) -> Warmth {
        let warmed = |material, rise_k| Warmed { alpha_per_k: book.setup.expansion(material).per_kelvin, rise_k };
        Warmth {
            block: warmed(self.housing, housing_rise),
            cap: warmed(self.cap, housing_rise),
            shell: warmed(SHELL_BACK, housing_rise),
            journal: warmed(self.journal, journal_rise),
        }
    }

    fn cold_for(&self, book: &Book, hot: f64, housing_rise: f64, journal_rise: f64) -> Option<f64> {
        cold_clearance_m(hot, self.sizes, self.warmth(book, housing_rise, journal_rise)).ok()
    }

    /// What is left of it at a start in the cold, all parts alike.
    fn at_start(&self, book: &Book, cold: f64, start_k: f64) -> Option<String> {
        let rise = start_k - Unit::Celsius.to_si(20.0);
        let left = hot_clearance_m(cold, self.sizes, self.warmth(book, rise, rise)).ok()?;
        let words = book.words();
        let at = words.said(Measure::TEMPERATURE, start_k);
        Some(if left > 0.0 {
            format!("{} at a start at {at}", words.small(left))
        } else {
            format!("it binds at a start at {at}: {}", words.small(left))
        })
    }
}
