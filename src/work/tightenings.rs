//! Fasteners tightened, said for all of them at once: "main caps to 70 lbf·ft in three steps, in order, except bolt 4".

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::job_record::past_due;
use crate::engine::WorkingUnit;
use crate::metrology::GaugeKind;
use crate::quantity::{Dimension, Entry, HowRead, Unit, read};
use crate::record::tightenings::{self, Exception, NewTightening, TightenedTo, Tightening};

/// What is typed of fasteners tightened.
#[derive(Clone, Debug, Default)]
pub struct TighteningForm {
    /// "main caps, 1/2 in studs".
    pub fasteners: String,
    /// "70", "70 lbf·ft", "90°", "6 thou".
    pub to: String,
    /// "30, 50, 70", "three steps", "20 N·m, 90°"; may be empty.
    pub steps: String,
    pub in_order: bool,
    /// "bolt 4: 65, thread pulled; bolt 7: left out"; may be empty.
    pub exceptions: String,
    /// Public id of the wrench; empty where it is not in the register.
    pub gauge: String,
    pub lubricant: String,
}

/// Fasteners tightened, in words.
#[derive(Clone, Debug)]
pub struct TighteningView {
    pub id: i64,
    pub fasteners: String,
    /// "70 lbf·ft (95 N·m) in 3 steps: 30, 50, 70 lbf·ft; in the order specified".
    pub to: String,
    /// "bolt 4: 65 lbf·ft, thread pulled".
    pub exceptions: Vec<String>,
    /// "torque wrench 2", and whether it was past its date of calibration then.
    pub wrench: Option<(String, bool)>,
    pub lubricant: String,
    pub when: String,
}

/// What tightens fasteners, of the shop's gauges: public id and name.
pub(super) fn wrenches(look: &JobLook) -> Vec<(String, String)> {
    let tightens = |kind| matches!(kind, GaugeKind::TorqueWrench | GaugeKind::StretchGauge);
    let these = look.job.gauges.iter().filter(|gauge| tightens(gauge.kind));
    these.map(|gauge| (gauge.public_id.clone(), gauge.name.clone())).collect()
}

/// Those of a step that stand.
pub(super) fn tightened(look: &JobLook, all: &[Tightening], step: i64) -> Vec<TighteningView> {
    let standing = all.iter().filter(|one| one.withdrawn.is_none() && one.said.step == step);
    standing.map(|one| view(look, one)).collect()
}

pub(super) fn view(look: &JobLook, one: &Tightening) -> TighteningView {
    let said = &one.said;
    let last = said.steps.last();
    let mut to = last.map_or_else(|| said.typed.clone(), in_both);
    to.push_str(&in_steps(said));
    to.push_str(if said.in_order { "; in the order specified" } else { "; order not said" });
    let exception = |e: &Exception| {
        let parts: Vec<String> =
            e.to.as_ref().map(shown).into_iter().chain(Some(e.words.clone()).filter(|w| !w.is_empty())).collect();
        format!("{}: {}", e.fastener, parts.join(", "))
    };
    let gauge = said.gauge.and_then(|id| look.job.gauge(id));
    TighteningView {
        id: one.id,
        fasteners: said.fasteners.clone(),
        to,
        exceptions: said.exceptions.iter().map(exception).collect(),
        wrench: gauge.map(|gauge| (gauge.name.clone(), past_due(gauge, one.stamp.at))),
        lubricant: said.lubricant.clone(),
        when: look.when.stamp(&one.stamp),
    }
}

/// " in 3 steps: 30 lbf·ft, 50 lbf·ft, 70 lbf·ft"; empty where it was not said.
fn in_steps(said: &NewTightening) -> String {
    match (said.step_count, said.steps.len()) {
        (Some(1), 0 | 1) => " in one step".to_owned(),
        (Some(count), 0 | 1) => format!(" in {count} steps"),
        (None, 0 | 1) => String::new(),
        (_, count) => {
            let on_the_way: Vec<String> = said.steps.iter().map(shown).collect();
            format!(" in {count} steps: {}", on_the_way.join(", "))
        }
    }
}

/// A figure that was set rather than measured, with no more digits than it has.
fn figure(unit: Unit, si: f64) -> String {
    let value = unit.from_si(si);
    let decimals = (0..3).find(|d| {
        let scale = 10_f64.powi(i32::from(*d));
        ((value * scale).round() / scale - value).abs() < 1e-6
    });
    unit.show(si, decimals.unwrap_or(3))
}

fn shown(to: &TightenedTo) -> String {
    figure(to.unit, to.quantity.si)
}

/// "70 lbf·ft (95 N·m)".
fn in_both(to: &TightenedTo) -> String {
    let other = to.unit.other();
    if other == to.unit {
        return shown(to);
    }
    format!("{} ({})", shown(to), other.show(to.quantity.si, other.usual_decimals()))
}

/// The most that any fastener of an engine is tightened by: N·m, rad, m. Common practice, no source: 2 kN·m, two turns, 2 mm.
fn most(dimension: Dimension) -> Option<f64> {
    match dimension {
        Dimension::Torque => Some(2000.0),
        Dimension::Angle => Some(4.0 * std::f64::consts::PI),
        Dimension::Length => Some(0.002),
        _ => None,
    }
}

/// Reads a torque, an angle or a stretch; a bare figure is in `bare`.
fn tightened_to(text: &str, bare: Unit) -> Result<TightenedTo, String> {
    let by = |unit: Unit| read(text, &HowRead::plain(unit));
    let typed = match by(bare) {
        Err(crate::quantity::Fault::WrongDimension { given, .. }) => match given {
            Dimension::Torque => by(Unit::NewtonMetre),
            Dimension::Angle => by(Unit::Degree),
            Dimension::Length => by(Unit::Thou),
            _ => {
                return Err(format!("“{text}” is no torque, angle or stretch: enter such as 70 lbf·ft, 90° or 6 thou"));
            }
        },
        other => other,
    };
    let typed = typed.map_err(|fault| fault.to_string())?;
    let Entry::Figure(quantity) = typed.entry else { return Err("enter one figure, no range".to_owned()) };
    let most = most(quantity.dimension).unwrap_or(0.0);
    if quantity.si <= 0.0 || quantity.si > most {
        let unit = typed.unit;
        return Err(format!(
            "{} cannot be: enter above 0 and at most {}",
            figure(unit, quantity.si),
            unit.show(most, 0)
        ));
    }
    Ok(TightenedTo { quantity, unit: typed.unit })
}

/// Steps are counted so far, in words.
const COUNTED: [&str; 10] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

/// The steps typed: figures up to the final one, or how many.
fn steps(text: &str, last: TightenedTo, torque: Unit) -> Result<(Vec<TightenedTo>, Option<i64>), String> {
    if text.is_empty() {
        return Ok((vec![last], None));
    }
    let words = text.to_lowercase();
    let count = words.trim_start_matches("in ").trim_end_matches('s').trim_end_matches("step").trim();
    let counted = COUNTED.iter().position(|word| *word == count).map(|at| at + 1);
    let counted = counted.or_else(|| count.parse().ok().filter(|n| (1..=10).contains(n)));
    if let Some(count) = counted {
        return Ok((vec![last], i64::try_from(count).ok()));
    }
    let bare = if last.quantity.dimension == Dimension::Torque { last.unit } else { torque };
    let mut steps = Vec::new();
    if text.contains(',') && !text.contains(", ") && !text.contains(';') {
        return Err("put a space after the comma between two steps: without one it is a decimal comma".to_owned());
    }
    let parts = text.split(';').flat_map(|part| part.split(", ")).flat_map(|part| part.split(" then "));
    for part in parts.map(str::trim).filter(|part| !part.is_empty()) {
        steps.push(tightened_to(part, bare)?);
    }
    let of_kind = |to: &&TightenedTo| to.quantity.dimension == last.quantity.dimension;
    let near = |to: &TightenedTo| (to.quantity.si - last.quantity.si).abs() < 1e-9;
    if !steps.last().filter(of_kind).is_some_and(near) {
        steps.push(last);
    }
    let rises = |pair: &[TightenedTo]| {
        pair[0].quantity.dimension != pair[1].quantity.dimension || pair[0].quantity.si < pair[1].quantity.si
    };
    if !steps.windows(2).all(rises) {
        return Err(format!("each step is higher than the one before, and the last is {}", shown(&last)));
    }
    let count = i64::try_from(steps.len()).ok();
    Ok((steps, count))
}

/// "bolt 4: 65, thread pulled; bolt 7: left out".
fn exceptions(text: &str, bare: Unit) -> Result<Vec<Exception>, String> {
    let one = |part: &str| {
        let (fastener, rest) = part.split_once(':').map_or((part, ""), |(which, rest)| (which.trim(), rest.trim()));
        if fastener.is_empty() || rest.is_empty() {
            return Err(format!("“{part}”: enter which one, a colon, and what: bolt 4: 65, thread pulled"));
        }
        // A comma between two digits is a decimal one.
        let (first, words) = rest.split_once(", ").map_or((rest, ""), |(first, words)| (first.trim(), words.trim()));
        let fastener = fastener.to_owned();
        if first.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
            return Ok(Exception { fastener, to: Some(tightened_to(first, bare)?), words: words.to_owned() });
        }
        Ok(Exception { fastener, to: None, words: rest.to_owned() })
    };
    text.split([';', '\n']).map(str::trim).filter(|part| !part.is_empty()).map(one).collect()
}

fn understood(look: &JobLook, step: i64, form: &TighteningForm) -> Done<NewTightening> {
    let torque = if look.job.build.unit == WorkingUnit::Inch { Unit::PoundFoot } else { Unit::NewtonMetre };
    let mut faults = Vec::new();
    let mut refuse = |field: &str, message: String| faults.push(FieldFault::new(field, message));
    let too_long = |text: &str| text.chars().count() > 1000;
    if form.fasteners.trim().is_empty() {
        refuse("fasteners", "say which fasteners: main caps, 1/2 in studs".to_owned());
    }
    for (field, text) in
        [("fasteners", &form.fasteners), ("exceptions", &form.exceptions), ("lubricant", &form.lubricant)]
    {
        if too_long(text) {
            refuse(field, "say it in at most 1000 characters; a note holds more".to_owned());
        }
    }
    let gauge = look.job.gauges.iter().find(|gauge| gauge.public_id == form.gauge).map(|gauge| gauge.id);
    if gauge.is_none() && !form.gauge.is_empty() {
        refuse("gauge", "choose the wrench from the list".to_owned());
    }
    let last = tightened_to(form.to.trim(), torque).map_err(|why| refuse("to", why)).ok();
    let stepped = last.and_then(|last| steps(form.steps.trim(), last, torque).map_err(|why| refuse("steps", why)).ok());
    let bare = last.map_or(torque, |last| last.unit);
    let exceptions = exceptions(&form.exceptions, bare).map_err(|why| refuse("exceptions", why)).ok();
    let (Some((steps, step_count)), Some(exceptions), true) = (stepped, exceptions, faults.is_empty()) else {
        return Err(Refused::Faults(faults));
    };
    Ok(NewTightening {
        step,
        fasteners: form.fasteners.trim().to_owned(),
        typed: form.to.trim().to_owned(),
        steps,
        step_count,
        in_order: form.in_order,
        exceptions,
        gauge,
        lubricant: form.lubricant.trim().to_owned(),
    })
}

impl Shop {
    /// Keeps how fasteners were tightened at a step.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such step; [`Refused::Faults`] for what cannot be.
    pub async fn tighten(&self, doing: &Doing, job: i64, step: &str, form: &TighteningForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let step = look.steps.iter().find(|known| known.key == step).ok_or(Refused::NotFound)?.id;
        let new = understood(&look, step, form)?;
        let Some(mut w) = self.begin(doing, "tighten fasteners", Some(job)).await? else { return Ok(()) };
        tightenings::insert(&mut w, job, &new).await?;
        self.begin_step_by_id(&mut w, job, Some(step)).await?;
        Ok(w.commit().await?)
    }

    /// Withdraws what was said of fasteners tightened; it stays in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_tightening(&self, doing: &Doing, job: i64, id: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw tightening", Some(job)).await? else { return Ok(()) };
        if !tightenings::withdraw(&mut w, job, id).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn to(text: &str) -> TightenedTo {
        tightened_to(text, Unit::PoundFoot).unwrap()
    }

    #[test]
    fn a_torque_an_angle_or_a_stretch() {
        assert!((to("70").quantity.si - 70.0 * 1.355_817_948).abs() < 1e-6);
        assert_eq!(to("95 N·m").unit, Unit::NewtonMetre);
        assert_eq!(to("90°").quantity.dimension, Dimension::Angle);
        assert_eq!(to("6 thou").quantity.dimension, Dimension::Length);
        assert_eq!(in_both(&to("70")), "70\u{a0}lbf·ft (95\u{a0}N·m)");
        for wrong in ["", "tight", "0", "9000", "3 in", "20 kPa", "30 to 40"] {
            assert!(tightened_to(wrong, Unit::PoundFoot).is_err(), "{wrong}");
        }
    }

    #[test]
    fn steps_are_figures_or_counted() {
        let in_steps = |text: &str| steps(text, to("70"), Unit::PoundFoot);
        assert_eq!(in_steps("").unwrap(), (vec![to("70")], None));
        for three in ["three steps", "3", "in three steps"] {
            assert_eq!(in_steps(three).unwrap(), (vec![to("70")], Some(3)), "{three}");
        }
        let figures = (vec![to("30"), to("50"), to("70")], Some(3));
        assert_eq!(in_steps("30, 50, 70").unwrap(), figures);
        assert_eq!(in_steps("30 then 50").unwrap(), figures);
        assert!(in_steps("50, 30").is_err() && in_steps("30, 90").is_err());
        assert_eq!(in_steps("30,5, 50").unwrap().0[0], to("30.5"), "a decimal comma");
        assert!(in_steps("30,50").is_err_and(|why| why.contains("space after the comma")));
        let angle = steps("20, 90°", to("90°"), Unit::PoundFoot).unwrap();
        assert_eq!(angle, (vec![to("20"), to("90°")], Some(2)));
    }

    #[test]
    fn an_exception_has_a_figure_or_words() {
        let found = exceptions("bolt 4: 65, thread pulled; bolt 7: left out", Unit::PoundFoot).unwrap();
        let of = |fastener: &str, to, words: &str| Exception { fastener: fastener.into(), to, words: words.into() };
        assert_eq!(found, [of("bolt 4", Some(to("65")), "thread pulled"), of("bolt 7", None, "left out")]);
        let comma = exceptions("bolt 4: 65,5, thread pulled", Unit::PoundFoot).unwrap();
        assert_eq!(comma, [of("bolt 4", Some(to("65.5")), "thread pulled")]);
        assert!(
            exceptions("bolt 4", Unit::PoundFoot).is_err() && exceptions("bolt 4: 99000", Unit::PoundFoot).is_err()
        );
    }
}
