//! A job's plan as a picture: steps and what they need over the weeks, today's line, and what is late.

use super::in_shop::JobInShop;
use super::needs::Source;
use super::plan::day_after;
use super::plan_tasks::{PlanTasks, TaskOf, is_open};
use crate::drawing::Drawing;
use crate::drawing::weeks::{WeekLine, WeekRow, Weeks, weeks};
use crate::plan::{CriticalPath, Times, days_between};
use jiff::civil::Date;

/// Each step that is not done, what it needs right above it; the day to tell and the day promised as lines.
pub(super) fn picture(
    today: Date,
    job: &JobInShop,
    tasks: &PlanTasks<'_>,
    path: &CriticalPath,
    told: Option<Date>,
) -> Drawing {
    let timed: Vec<(&TaskOf<'_>, &Times)> = tasks.of.iter().zip(&path.times).collect();
    let mut rows = Vec::new();
    for (task, times) in &timed {
        let TaskOf::Step(step) = task else { continue };
        if !is_open(step) {
            continue;
        }
        let needs = timed.iter().filter_map(|(task, times)| need_row(today, task, times, step.id));
        rows.extend(needs);
        rows.push(row(&step.title, false, 0.0, times));
    }
    let from_today = |day: Date| days(days_between(today, day));
    let mut lines = vec![WeekLine { day: 0.0, words: "today".to_owned(), heavy: true }];
    let line = |day: Date, words: &str| WeekLine {
        day: from_today(day),
        words: format!("{words} {}", day.strftime("%-d %B")),
        heavy: false,
    };
    lines.extend(told.map(|day| line(day, "8 of 10 by")));
    lines.extend(job.promised.map(|day| line(day, "promised")));
    let monday = |week: i64| {
        let back = i64::from(today.weekday().to_monday_zero_offset());
        let day = 7 * week - back;
        (days(day), day_after(today, day).strftime("%-d %b").to_string())
    };
    weeks(&Weeks { title: format!("Job {} over the weeks", job.build.id), rows, lines }, &monday)
}

/// Days as they are drawn.
fn days(count: i64) -> f64 {
    i32::try_from(count).map_or(0.0, f64::from)
}

fn row(label: &str, thing: bool, since: f64, times: &Times) -> WeekRow {
    WeekRow {
        label: label.to_owned(),
        thing,
        late_since: (since < 0.0).then_some(since),
        from: times.earliest_start,
        to: times.earliest_finish,
        latest: times.latest_finish,
        decides: times.total_float == 0.0,
    }
}

/// What the step is the first to need; one late is drawn from the day it was due.
fn need_row(today: Date, task: &TaskOf<'_>, times: &Times, step: i64) -> Option<WeekRow> {
    let TaskOf::Need(needed, _, first) = task else { return None };
    let label = match needed.source {
        Source::Part { .. } | Source::Wait { .. } => needed.what.clone(),
        Source::Sent { .. } => format!("{} away", needed.what),
    };
    let due = needed.due.map_or(0, |due| days_between(today, due).min(0));
    (first.id == step).then(|| row(&label, true, days(due), times))
}
