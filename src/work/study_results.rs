//! What a study says: the figures of both methods side by side, what they mean, the working, and the pictures.

use super::study_view::decimals;
use crate::drawing::Drawing;
use crate::drawing::study_chart::{Share, StudyReadings, shares, study_readings};
use crate::metrology::{
    AverageAndRange, Component, Guide, Interaction, OfScatter, POOLED_ABOVE, Spread, Study as Analysed, VarianceRow,
    VarianceTable, range_factor,
};
use crate::quantity::Unit;
use crate::record::studies::{Study, StudyReading};

/// What a study says. Figures are text, in the small unit.
#[derive(Clone, Debug)]
pub struct StudyResults {
    /// How many trials are complete: it rests on these.
    pub trials: i64,
    pub unit: &'static str,
    /// What follows, a sentence each.
    pub says: Vec<String>,
    /// Repeatability, people, … by both methods.
    pub lines: Vec<StudyLine>,
    pub table: Vec<TableLine>,
    /// How it was worked out, with figures.
    pub working: Vec<String>,
    /// Every reading by part and person.
    pub readings: Drawing,
    /// Shares of the variance; none where parts were not varied.
    pub shares: Option<Drawing>,
}

/// One source of scatter by both methods.
#[derive(Clone, Debug)]
pub struct StudyLine {
    pub name: &'static str,
    pub by_variance: StudyShare,
    pub by_ranges: StudyShare,
}

impl StudyLine {
    /// By analysis of variance, then by average and range.
    pub fn by_both(&self) -> [&StudyShare; 2] {
        [&self.by_variance, &self.by_ranges]
    }
}

/// One source of scatter by one method; empty where there is nothing to say.
#[derive(Clone, Debug, Default)]
pub struct StudyShare {
    pub sd: String,
    /// In per cent of the total standard deviation.
    pub of_total: String,
    /// In per cent of the tolerance.
    pub of_tolerance: String,
}

/// A line of the table of variance.
#[derive(Clone, Debug)]
pub struct TableLine {
    pub of: &'static str,
    pub degrees_of_freedom: usize,
    pub sum_of_squares: String,
    pub mean_square: String,
    pub f: String,
    pub p: String,
}

/// The results of the trials that are complete; none where fewer than two are. `finest` is the finest step typed.
pub(super) fn results(
    study: &Study,
    people: &[String],
    readings: &[StudyReading],
    finest: f64,
) -> Option<StudyResults> {
    let unit = small(study.unit);
    let figures = complete_trials(study, people.len(), readings, unit);
    let trials = figures.first()?.first()?.len();
    let analysed = Analysed::new(figures.clone()).ok()?;
    let (variance, ranges) = (analysed.by_variance(POOLED_ABOVE), analysed.by_ranges());
    let tolerance = study.tolerance.map(|width| unit.from_si(width));
    let show = |x: f64| study.unit.show(unit.to_si(x), decimals(study.unit, finest));
    Some(StudyResults {
        trials: i64::try_from(trials).ok()?,
        unit: unit.symbol(),
        says: says(&variance, &analysed, unit, tolerance),
        lines: lines(&variance.spread, &ranges.spread, tolerance),
        table: variance.rows.iter().map(table_line).collect(),
        working: working(&variance, &ranges, &analysed, unit, tolerance),
        readings: study_readings(&StudyReadings { people: people.to_vec(), readings: figures }, &show),
        shares: shares_of(&variance.spread),
    })
}

/// The unit results are said in: scatter is small.
fn small(unit: Unit) -> Unit {
    match unit {
        Unit::Inch => Unit::Thou,
        Unit::Millimetre => Unit::Micrometre,
        other => other,
    }
}

/// By part, person and trial, in `unit`: the trials in which everyone has read every part.
fn complete_trials(study: &Study, people: usize, readings: &[StudyReading], unit: Unit) -> Vec<Vec<Vec<f64>>> {
    let everything = usize::try_from(study.parts).unwrap_or(0) * people;
    let of_trial = |trial: i64| readings.iter().filter(move |reading| reading.stands && reading.spot.trial == trial);
    let complete: Vec<i64> = (1..=study.trials).filter(|trial| of_trial(*trial).count() == everything).collect();
    let figure = |part: i64, place: i64, trial: i64| {
        let reading = of_trial(trial).find(|reading| (reading.spot.part, reading.spot.place) == (part, place));
        reading.map(|reading| unit.from_si(reading.si))
    };
    let cell = |part, place| complete.iter().filter_map(|trial| figure(part, place, *trial)).collect();
    let places = || (1_i64..).take(people);
    (1..=study.parts).map(|part| places().map(|place| cell(part, place)).collect()).collect()
}

fn says(table: &VarianceTable, study: &Analysed, unit: Unit, tolerance: Option<f64>) -> Vec<String> {
    let spread = &table.spread;
    let (sd, freedom) = table.repeatability();
    let mut says = vec![format!(
        "The same person on the same part again repeats to {} (standard deviation, {freedom} degrees of freedom).",
        in_unit(sd, unit)
    )];
    let gauge = spread.gauge_sd();
    let who = if study.people() > 1 { "Gauge and people together" } else { "The gauge in this one hand" };
    if let Some(share) = tolerance.and_then(|tolerance| Spread::of_tolerance(gauge, tolerance)) {
        says.push(format!("{who}: {} of the tolerance, {}.", per_cent(share), Guide::of(share).words()));
    }
    if let Some(share) = spread.of_total(gauge) {
        says.push(format!("{who}: {} of the total scatter, {}.", per_cent(share), Guide::of(share).words()));
    }
    if let Some(categories) = spread.categories() {
        says.push(format!("It tells {} classes of these parts apart; five or more are asked for.", categories.floor()));
    }
    if gauge <= 0.0 {
        says.push(
            "Every repeat read the same to the last digit: its steps are too coarse to show its scatter.".to_owned(),
        );
    }
    for (component, name) in
        [(spread.people, "people"), (spread.interaction, "people with parts"), (spread.parts, "parts")]
    {
        if component.is_some_and(|component| component.below_zero) {
            says.push(format!(
                "The variance of {name} came out below zero, which no scatter can be: zero stands for it."
            ));
        }
    }
    if study.people() == 1 {
        says.push("One person read: nothing is known of how people differ.".to_owned());
    }
    if study.parts() == 1 {
        says.push(
            "One part was read: nothing is known of how parts differ, so there is no share of a total.".to_owned(),
        );
    }
    says
}

fn lines(variance: &Spread, ranges: &Spread, tolerance: Option<f64>) -> Vec<StudyLine> {
    let sd = |component: Option<Component>| component.map(|component| component.sd);
    let line = |name: &'static str, of: &dyn Fn(&Spread) -> Option<f64>| {
        let share = |spread: &Spread| {
            of(spread).map_or_else(StudyShare::default, |sd| StudyShare {
                sd: figure(sd),
                of_total: spread.of_total(sd).map(per_cent).unwrap_or_default(),
                of_tolerance: tolerance.and_then(|t| Spread::of_tolerance(sd, t)).map(per_cent).unwrap_or_default(),
            })
        };
        StudyLine { name, by_variance: share(variance), by_ranges: share(ranges) }
    };
    let all = [
        line("repeatability", &|spread| Some(spread.repeatability.sd)),
        line("people", &|spread| sd(spread.people)),
        line("people with parts", &|spread| sd(spread.interaction)),
        line("gauge and people together", &|spread| Some(spread.gauge_sd())),
        line("parts", &|spread| sd(spread.parts)),
        line("all", &Spread::total_sd),
    ];
    all.into_iter().filter(|line| !(line.by_variance.sd.is_empty() && line.by_ranges.sd.is_empty())).collect()
}

fn table_line(row: &VarianceRow) -> TableLine {
    TableLine {
        of: row.of.word(),
        degrees_of_freedom: row.degrees_of_freedom,
        sum_of_squares: figure(row.sum_of_squares),
        mean_square: if row.of == OfScatter::Total { String::new() } else { figure(row.mean_square()) },
        f: row.f.map(figure).unwrap_or_default(),
        p: row.p.map(probability).unwrap_or_default(),
    }
}

fn working(
    table: &VarianceTable,
    ranges: &AverageAndRange,
    study: &Analysed,
    unit: Unit,
    tolerance: Option<f64>,
) -> Vec<String> {
    let (p, o, n) = (study.parts(), study.people(), study.trials());
    let mut lines = Vec::new();
    let p_of_interaction =
        table.row(OfScatter::Interaction).and_then(|row| row.p).map_or_else(|| "none".to_owned(), probability);
    match table.interaction {
        Interaction::None => {}
        Interaction::Pooled => lines.push(format!(
            "People with parts: p = {p_of_interaction}, above {POOLED_ABOVE} (AIAG manual, from memory): pooled with the repeatability."
        )),
        Interaction::Kept => lines.push(format!(
            "People with parts: p = {p_of_interaction}, at most {POOLED_ABOVE} (AIAG manual, from memory): kept as a source of its own."
        )),
    }
    let spread = &table.spread;
    let gauge = spread.gauge_sd();
    if let Some(tolerance) = tolerance {
        let share = Spread::of_tolerance(gauge, tolerance).map(per_cent).unwrap_or_default();
        lines.push(format!("Of the tolerance: 6 × {} ÷ {} = {share}", figure(gauge), in_unit(tolerance, unit)));
    }
    if let (Some(parts), Some(categories)) = (spread.parts, spread.categories()) {
        lines.push(format!("Classes: 1.41 × {} ÷ {} = {}", figure(parts.sd), figure(gauge), figure(categories)));
    }
    lines.push(format!(
        "By ranges, repeatability: mean range {} × {} = {}",
        figure(ranges.mean_range),
        figure(range_factor(n, p * o)),
        in_unit(ranges.spread.repeatability.sd, unit)
    ));
    if let (Some(between), Some(people)) = (ranges.between_people, ranges.spread.people) {
        lines.push(format!(
            "By ranges, people: √(({} × {})² − {}² ÷ {}) = {}",
            figure(between),
            figure(range_factor(o, 1)),
            figure(ranges.spread.repeatability.sd),
            p * n,
            in_unit(people.sd, unit)
        ));
    }
    if let (Some(between), Some(parts)) = (ranges.between_parts, ranges.spread.parts) {
        lines.push(format!(
            "By ranges, parts: {} × {} = {}",
            figure(between),
            figure(range_factor(p, 1)),
            in_unit(parts.sd, unit)
        ));
    }
    lines
}

fn shares_of(spread: &Spread) -> Option<Drawing> {
    let sources = [
        ("repeatability", Some(spread.repeatability)),
        ("people", spread.people),
        ("people with parts", spread.interaction),
        ("parts", spread.parts),
    ];
    spread.of_variance(0.0)?;
    let share = |(name, component): (&str, Option<Component>)| {
        Some(Share { name: name.to_owned(), per_cent: spread.of_variance(component?.sd)? })
    };
    Some(shares("Where the scatter comes from", &sources.into_iter().filter_map(share).collect::<Vec<_>>()))
}

/// Three digits that count; a figure above 100 in whole numbers.
fn figure(x: f64) -> String {
    // As rounded to three digits, so that 0.09999 is 0.100.
    let rounded = format!("{x:.2e}");
    let power: i32 = rounded.rsplit('e').next().and_then(|power| power.parse().ok()).unwrap_or(0);
    let decimals = usize::try_from(2 - power).unwrap_or(0).min(9);
    if x == 0.0 { "0".to_owned() } else { format!("{x:.decimals$}") }
}

fn in_unit(x: f64, unit: Unit) -> String {
    format!("{}\u{a0}{}", figure(x), unit.symbol())
}

fn per_cent(share: f64) -> String {
    format!("{share:.1}\u{a0}%")
}

fn probability(p: f64) -> String {
    if p < 0.001 { "below 0.001".to_owned() } else { format!("{p:.3}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_digits_count() {
        let shown = [0.0, 0.099_999_9, 0.302_37, 1.05, 17.333, 536.2, 12_345.0, 0.000_123_4, f64::INFINITY].map(figure);
        assert_eq!(shown, ["0", "0.100", "0.302", "1.05", "17.3", "536", "12345", "0.000123", "inf"]);
    }
}
