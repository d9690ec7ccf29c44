//! One part pressed into another: its interference cold and hot, what holds it, at what temperature it is loose, and by how
//! much its bore closes.

use super::stiffness::elastic;
use super::taken::expansion;
use super::warm_bearing::RISE_U;
use super::{Basis, Book, Finding, Words};
use crate::engine::{FindingFeature, FindingKey, Measure, Place, PressedIn, SheetKey, SlotFeature, TargetFeature};
use crate::mechanics::press_fit::{
    Grip, Joint, Pressed, heat_to_fit_k, holds_n, lost_at_rise_k, turns_nm, warm_interference_m,
};
use crate::mechanics::thermal::Warmed;
use crate::metrology::{self, Material, Measured, NotFinite, Source, propagate};
use crate::quantity::Unit;

/// Of oiled parts, the least usual: common practice, no source.
const FRICTION: f64 = 0.08;
/// Room over its size with which a part drops in, in m: one thou. Common practice, no source.
const ROOM_M: f64 = 25.4e-6;
/// A rise of temperature that no joint of an engine reaches, up or down, in K.
const FARTHEST_RISE_K: f64 = 300.0;
/// What piston pins are made of, where one is held by its rod (common practice, no source).
const PIN: Material = Material::AlloySteel;

/// A kind of part that is pressed in, and what is known of it.
pub(super) struct Fit {
    pub what: PressedIn,
    /// "sleeve".
    pub name: &'static str,
    /// What it is pressed into: "block".
    pub holder: &'static str,
    pub inside: TargetFeature,
    pub backing: TargetFeature,
    pub length: TargetFeature,
    pub warmer: TargetFeature,
    /// Of what it is pressed into, where that is not as warm.
    pub holder_warmer: Option<TargetFeature>,
}

pub(super) const FITS: [Fit; 3] = [
    Fit {
        what: PressedIn::Sleeve,
        name: "sleeve",
        holder: "block",
        inside: TargetFeature::SleeveInside,
        backing: TargetFeature::SleeveBacking,
        length: TargetFeature::SleeveLength,
        warmer: TargetFeature::BoreWarmer,
        holder_warmer: Some(TargetFeature::SleeveHolderWarmer),
    },
    Fit {
        what: PressedIn::Bush,
        name: "bush",
        holder: "rod",
        inside: TargetFeature::BushInside,
        backing: TargetFeature::SmallEndBacking,
        length: TargetFeature::SmallEndWidth,
        warmer: TargetFeature::SmallEndWarmer,
        holder_warmer: None,
    },
    Fit {
        what: PressedIn::Pin,
        name: "pin",
        holder: "rod",
        inside: TargetFeature::PinInside,
        backing: TargetFeature::SmallEndBacking,
        length: TargetFeature::SmallEndWidth,
        warmer: TargetFeature::SmallEndWarmer,
        holder_warmer: None,
    },
];

/// What was found of a fit at 20 °C: how tight, and how large it is.
struct Cold {
    interference: Measured,
    at_m: f64,
    readings: Vec<String>,
}

/// Begins a finding of a fit with the readings that it rests on.
type Begin<'a> = dyn Fn(fn(PressedIn) -> FindingFeature, Basis) -> Finding + 'a;

impl Fit {
    /// Everything that follows at a place; nothing where nothing was read of it.
    pub fn found(&self, book: &Book, place: Place) -> Vec<Finding> {
        let mut findings: Vec<Finding> = self.interference(book, place).into_iter().collect();
        let cold = match findings.first_mut() {
            Some(finding) => self.of_readings(book, place, finding),
            None if self.what == PressedIn::Pin => held_pin(book, place),
            None => None,
        };
        let Some(cold) = cold.filter(|cold| cold.interference.value() > 0.0) else { return findings };
        let begin = |feature: fn(PressedIn) -> FindingFeature, basis| Finding {
            readings: cold.readings.clone(),
            ..Finding::new(feature(self.what), place, basis)
        };
        findings.extend(self.hot(book, &cold, &begin));
        findings.extend(self.lost(book, &cold, &begin));
        findings.extend(self.pressed(book, place, &cold, &begin));
        findings
    }

    /// Outside less bore, as read; none where neither was, or the pin's, whose home is with the rods.
    fn interference(&self, book: &Book, place: Place) -> Option<Finding> {
        let read = |slot| book.figure(slot, place);
        let (bore, outside) = (read(SlotFeature::FitBore(self.what)), read(SlotFeature::FitOutside(self.what)));
        let begin = |basis| Finding::new(FindingFeature::FitInterference(self.what), place, basis);
        let label = book.setup.architecture.label(place);
        let ((bore, of_bore), (outside, of_outside)) = match (bore, outside) {
            (Some(bore), Some(outside)) => (bore, outside),
            (None, None) => return None,
            (Some(_), None) => return Some(begin(Basis::Missing { missing: format!("{} of {label}", self.name) })),
            (None, Some(_)) => {
                let missing = format!("bore for the {} of {label}", self.name);
                return Some(begin(Basis::Missing { missing }));
            }
        };
        let words = book.words();
        let readings = of_bore.readings.iter().chain(&of_outside.readings).cloned().collect();
        let (bore_m, outside_m) = (bore.value(), outside.value());
        if (outside_m - bore_m).abs() > bore_m / 100.0 {
            let because = format!(
                "a {} of {} and a bore of {} do not belong together: look at both",
                self.name,
                words.size(outside_m),
                words.size(bore_m)
            );
            return Some(Finding { readings, ..begin(Basis::NoFigure { because }) });
        }
        let value = metrology::difference(&outside, &bore).ok()?;
        let working = format!(
            "{} {} − bore {} = {}",
            self.name,
            words.mean_number(outside_m),
            words.mean_number(bore_m),
            words.small_of_means(value.value())
        );
        let finding = begin(Basis::Readings);
        Some(Finding { value: Some(value), working: vec![working], readings, ..finding })
    }

    /// The fit by its readings, with what is said of it at first sight.
    fn of_readings(&self, book: &Book, place: Place, finding: &mut Finding) -> Option<Cold> {
        let interference = finding.value.clone()?;
        let (at, _) = book.figure(SlotFeature::FitBore(self.what), place)?;
        let cold = Cold { interference, at_m: at.value(), readings: finding.readings.clone() };
        let words = book.words();
        let tight = cold.interference.value();
        if tight <= 0.0 {
            finding.remarks.push(format!("loose by {}: the {} does not hold it", words.small(-tight), self.holder));
            return Some(cold);
        }
        let holder = self.materials(book).1.map(|holder| book.setup.expansion(holder).per_kelvin);
        if let Some(kelvin) = holder.and_then(|alpha| heat_to_fit_k(tight, ROOM_M, cold.at_m, alpha).ok()) {
            finding.remarks.push(format!(
                "the {} {} warmer than the {}, it drops in with {} of room",
                self.holder,
                words.said(Measure::WARMER, kelvin),
                self.name,
                words.small(ROOM_M)
            ));
        }
        finding.remarks.extend(usual(words, self.what, self.materials(book).1, cold.at_m));
        Some(cold)
    }

    /// What it and its holder are made of, as far as it is known.
    fn materials(&self, book: &Book) -> (Option<Material>, Option<Material>) {
        let materials = book.setup.materials;
        match self.what {
            PressedIn::Sleeve => (materials.sleeves, materials.block),
            PressedIn::Bush => (materials.bushes, materials.rods),
            PressedIn::Pin => (Some(PIN), materials.rods),
        }
    }

    /// The same, or which of them is not known.
    fn known_materials(&self, book: &Book) -> Result<(Material, Material), String> {
        match self.materials(book) {
            (Some(inner), Some(outer)) => Ok((inner, outer)),
            (None, _) => Err(format!("what the {} is made of", self.name)),
            (_, None) => Err(format!("what the {} is made of", self.holder)),
        }
    }

    /// How far above 20 °C it and what it is pressed into are when hot; none where nobody said so.
    fn rises(&self, book: &Book) -> Option<(f64, f64)> {
        let of = |feature| book.setup.target(feature, Place::Engine);
        let own = of(self.warmer)?;
        Some((own, self.holder_warmer.and_then(of).unwrap_or(own)))
    }

    /// The interference with the parts warm; none where nobody said how warm.
    fn hot(&self, book: &Book, cold: &Cold, begin: &Begin) -> Option<Finding> {
        let rises = self.rises(book)?;
        let feature = FindingFeature::FitHot;
        let (inner, outer) = match self.known_materials(book) {
            Ok(known) => known,
            Err(missing) => return Some(begin(feature, Basis::Missing { missing })),
        };
        let value = self.warm(book, cold, (inner, outer), rises).ok()?;
        let words = book.words();
        let mut finding = begin(feature, Basis::Readings);
        finding.working.push(format!(
            "{} cold; {} of {} {} warmer, {} of {} {}: {}",
            words.small(cold.interference.value()),
            self.name,
            inner.word(),
            words.said(Measure::WARMER, rises.0),
            self.holder,
            outer.word(),
            words.said(Measure::WARMER, rises.1),
            words.small(value.value())
        ));
        if value.value() <= 0.0 {
            finding.remarks.push(format!("it is loose when hot: the {} holds it only cold", self.holder));
        }
        finding.value = Some(value);
        Some(finding)
    }

    fn warm(
        &self,
        book: &Book,
        cold: &Cold,
        (inner, outer): (Material, Material),
        (own, holder): (f64, f64),
    ) -> Result<Measured, NotFinite> {
        let [inner, outer] = [expansion(&book.setup, inner)?, expansion(&book.setup, outer)?];
        let rise = |kelvin: f64, of: &str| {
            Measured::exact(kelvin)?.with_part(Source::Temperature(format!("hot {of}").into()), RISE_U)
        };
        // Parts of which one estimate speaks are warm together.
        let alike = own.total_cmp(&holder).is_eq();
        let (own, holder) = (rise(own, self.name)?, rise(holder, if alike { self.name } else { self.holder })?);
        propagate(&[&cold.interference, &inner, &outer, &own, &holder], |x| {
            let warmed = |alpha_per_k, rise_k| Warmed { alpha_per_k, rise_k };
            warm_interference_m(x[0], cold.at_m, warmed(x[1], x[3]), warmed(x[2], x[4]))
        })
    }

    /// How much warmer than 20 °C nothing holds it, both parts alike; none where no heat or cold of an engine does that.
    fn lost(&self, book: &Book, cold: &Cold, begin: &Begin) -> Option<Finding> {
        let (inner, outer) = self.known_materials(book).ok()?;
        let reference = Unit::Celsius.to_si(20.0);
        let [of_inner, of_outer] = [expansion(&book.setup, inner).ok()?, expansion(&book.setup, outer).ok()?];
        let lost = |x: &[f64]| lost_at_rise_k(x[0], cold.at_m, x[1], x[2]).ok().flatten();
        let rise = lost(&[cold.interference.value(), of_inner.value(), of_outer.value()])?;
        if rise.abs() > FARTHEST_RISE_K || reference + rise <= 0.0 {
            return None;
        }
        let value = propagate(&[&cold.interference, &of_inner, &of_outer], |x| lost(x).unwrap_or(f64::NAN));
        let words = book.words();
        let mut finding = begin(FindingFeature::FitLost, Basis::Readings);
        finding.working.push(format!(
            "{} of {} in {}, both alike warm: loose {} {}",
            self.name,
            inner.word(),
            outer.word(),
            if rise > 0.0 { "from" } else { "below" },
            words.said(Measure::TEMPERATURE, reference + rise)
        ));
        finding.value = Some(value.ok()?);
        Some(finding)
    }

    /// What holds it and by how much its bore closes; nothing where nothing is known of its walls and length.
    fn pressed(&self, book: &Book, place: Place, cold: &Cold, begin: &Begin) -> Vec<Finding> {
        let target = |feature| book.setup.target(feature, place);
        let (inside, backing, length) = (target(self.inside), target(self.backing), target(self.length));
        if inside.is_none() && backing.is_none() {
            return Vec::new();
        }
        let known = self.known_materials(book).and_then(|materials| {
            let wanted = |figure: Option<f64>, feature: TargetFeature| figure.ok_or_else(|| feature.title().to_owned());
            Ok((materials, wanted(inside, self.inside)?, wanted(backing, self.backing)?))
        });
        let ((inner, outer), inside_m, backing_m) = match known {
            Ok(known) => known,
            Err(missing) => return vec![begin(FindingFeature::FitHolds, Basis::Missing { missing })],
        };
        let outside_m = cold.at_m + 2.0 * backing_m;
        let joint = Joint { at_m: cold.at_m, inside_m, outside_m, inner: elastic(inner), outer: elastic(outer) };
        let pressed = match joint.pressed(cold.interference.value()) {
            Ok(pressed) => pressed,
            Err(fault) => return vec![begin(FindingFeature::FitHolds, Basis::NoFigure { because: fault.to_string() })],
        };
        let mut findings = Vec::new();
        if self.what != PressedIn::Pin && inside_m > 0.0 {
            findings.extend(self.closes(book.words(), cold, &joint, pressed, begin));
        }
        findings.push(if let Some(length_m) = length {
            self.holds(book, cold, &joint, length_m, begin)
        } else {
            begin(FindingFeature::FitHolds, Basis::Missing { missing: self.length.title().to_owned() })
        });
        findings
    }

    fn closes(&self, words: Words, cold: &Cold, joint: &Joint, pressed: Pressed, begin: &Begin) -> Option<Finding> {
        let closes =
            propagate(&[&cold.interference], |x| joint.pressed(x[0]).map_or(f64::NAN, |pressed| pressed.bore_closes_m));
        let mut finding = begin(FindingFeature::FitCloses, Basis::Readings);
        finding.working.push(format!(
            "{} between them; round in the {} {}, in the {} {}",
            words.stress(pressed.pressure_pa),
            self.name,
            words.stress(pressed.inner_hoop_pa),
            self.holder,
            words.stress(pressed.outer_hoop_pa)
        ));
        finding.remarks.push("size the bore after it is pressed in, not before".to_owned());
        finding.value = Some(closes.ok()?);
        Some(finding)
    }

    /// The force that moves it: hot where it is said how warm, or else cold.
    fn holds(&self, book: &Book, cold: &Cold, joint: &Joint, length_m: f64, begin: &Begin) -> Finding {
        let target = |feature| book.setup.target(feature, Place::Engine);
        let friction = target(TargetFeature::FitFriction).unwrap_or(FRICTION);
        let grip = Grip { length_m, friction, bond_pa: target(TargetFeature::FitBond).unwrap_or(0.0) };
        let holds = |interference_m: f64| {
            let pressed = joint.pressed(interference_m)?;
            holds_n(joint.at_m, pressed.pressure_pa, grip)
        };
        let cold_n = match holds(cold.interference.value()) {
            Ok(newton) => newton,
            Err(fault) => return begin(FindingFeature::FitHolds, Basis::NoFigure { because: fault.to_string() }),
        };
        let warm = self.rises(book).zip(self.known_materials(book).ok());
        let warm = warm.and_then(|(rises, materials)| self.warm(book, cold, materials, rises).ok());
        let words = book.words();
        let mut finding = begin(FindingFeature::FitHolds, Basis::Readings);
        finding.working.push(format!(
            "friction {} over {}{}: {} cold, or {} to turn it",
            Unit::One.show_number(friction, 2),
            words.size(length_m),
            if grip.bond_pa > 0.0 { format!(", bond {}", words.stress(grip.bond_pa)) } else { String::new() },
            words.said(Measure::FORCE, cold_n),
            words.said(Measure::TORQUE, turns_nm(cold_n, joint.at_m))
        ));
        match &warm {
            Some(hot) if hot.value() <= 0.0 => finding.remarks.push("loose when hot: no friction holds it".to_owned()),
            Some(_) => finding.remarks.push("when hot".to_owned()),
            None => {}
        }
        let interference = warm.as_ref().unwrap_or(&cold.interference);
        finding.value = propagate(&[interference], |x| holds(x[0]).unwrap_or(f64::NAN)).ok();
        if target(TargetFeature::FitFriction).is_none() {
            finding.remarks.push("friction of oiled parts taken (common practice, no source)".to_owned());
        }
        finding.remarks.push(
            "two long rings are reckoned with: a boss in a casting holds less where its metal is thin".to_owned(),
        );
        finding
    }
}

/// A pin that its rod holds, as the rods' sheet found it.
fn held_pin(book: &Book, place: Place) -> Option<Cold> {
    let fit = book.finding(SheetKey::Rods, &FindingKey::new(FindingFeature::PinInRod, place))?;
    let interference = propagate(&[fit.value.as_ref()?], |x| -x[0]).ok()?;
    let read = book.figure(SlotFeature::Pin, place).map(|(pin, _)| pin.value());
    let at_m = read.or_else(|| book.setup.target(TargetFeature::Pin, place))?;
    Some(Cold { interference, at_m, readings: fit.readings.clone() })
}

/// What is usual in aluminium, beside which a builder holds his own.
fn usual(words: Words, what: PressedIn, holder: Option<Material>, at_m: f64) -> Option<String> {
    let aluminium = matches!(holder, Some(Material::CastAluminium | Material::WroughtAluminium));
    let (low, high) = match what {
        PressedIn::Sleeve if aluminium => (25e-6, 75e-6),
        PressedIn::Bush if aluminium => (1e-3 * at_m, 1.5e-3 * at_m),
        _ => return None,
    };
    let (low, high) = (words.small(low), words.small(high));
    Some(format!("usual in aluminium: {low} to {high} (common practice, no source)"))
}
