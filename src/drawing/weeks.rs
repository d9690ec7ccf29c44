//! Work and what it waits for over the weeks: a bar for each, as much room as it has behind it, today's line.

use super::{Anchor, Drawing, HAIRLINE, HEAVY, LINE, Role, Shape, Text, at, rectangle, word_width};

const TYPE: f64 = 3.4;
const WIDTH: f64 = 190.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = 186.0;
const TOP: f64 = 8.0;
const ROW: f64 = 7.0;
const BAR: f64 = 3.6;
/// What was due earlier than so many days ago is drawn from there.
const EARLIEST: f64 = -42.0;
/// Weeks are named at most so often along the top.
const NAMED: f64 = 11.0;

/// One bar; days count from today.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekRow {
    pub label: String,
    /// A thing or an answer that is waited for, no work.
    pub thing: bool,
    /// It was due before today.
    pub late_since: Option<f64>,
    pub from: f64,
    pub to: f64,
    /// Until when it may last without a later end of all.
    pub latest: f64,
    /// It has no such room.
    pub decides: bool,
}

/// A day that is marked across all bars.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekLine {
    pub day: f64,
    pub words: String,
    pub heavy: bool,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Weeks {
    pub title: String,
    pub rows: Vec<WeekRow>,
    pub lines: Vec<WeekLine>,
}

/// The days that the sheet shows.
struct Span {
    first: f64,
    last: f64,
}

impl Span {
    fn of(weeks: &Weeks) -> Self {
        let rows = weeks.rows.iter();
        let late = rows.clone().filter_map(|row| row.late_since).fold(0.0, f64::min);
        let lines = weeks.lines.iter().map(|line| line.day);
        let ends = rows.map(|row| row.latest.max(row.to)).chain(lines.clone());
        let first = lines.fold(late, f64::min).max(EARLIEST) - 2.0;
        Self { first, last: ends.fold(7.0, f64::max) + 2.0 }
    }

    fn x(&self, day: f64) -> f64 {
        LEFT + (day.clamp(self.first, self.last) - self.first) / (self.last - self.first) * (RIGHT - LEFT)
    }
}

/// The plan as bars, a row each: work filled, what is waited for hollow, the room either has as a hairline behind it, what
/// decides the end in ink. `monday` tells on which day from today a week begins, counted from this one, and what it is called.
#[must_use]
pub fn weeks(plan: &Weeks, monday: &dyn Fn(i64) -> (f64, String)) -> Drawing {
    let span = Span::of(plan);
    let bottom = TOP + ROW * plan.rows.len() as f64;
    let mut shapes = scale(&span, bottom, monday);
    for (nth, row) in plan.rows.iter().enumerate() {
        shapes.extend(bar(row, &span, TOP + ROW * (nth as f64 + 0.5)));
    }
    let mut under = bottom + 4.5;
    for line in &plan.lines {
        let x = span.x(line.day);
        let width = if line.heavy { HEAVY } else { LINE };
        shapes.push(Shape::line(at(x, TOP - 1.0), at(x, under - 3.0), Role::Dye, width));
        let word = Text {
            at: at(x, under),
            text: line.words.clone(),
            size_mm: TYPE,
            anchor: Anchor::Middle,
            role: Role::Ink,
            bold: line.heavy,
        };
        shapes.push(Shape::Text(word.kept_within(WIDTH, 1.0)));
        under += 4.5;
    }
    let late: Vec<&str> = plan.rows.iter().filter(|row| row.late_since.is_some()).map(|row| &*row.label).collect();
    let late = if late.is_empty() { "nothing is late".to_owned() } else { format!("late: {}", late.join(", ")) };
    let decide: Vec<&str> = plan.rows.iter().filter(|row| row.decides).map(|row| &*row.label).collect();
    let description = format!("{} bars; {late}; what decides the end: {}.", plan.rows.len(), decide.join(", "));
    let title = plan.title.clone();
    Drawing { width_mm: WIDTH, height_mm: under, title, description, shapes, touches: Vec::new() }
}

/// A hairline for each week, named where there is room.
fn scale(span: &Span, bottom: f64, monday: &dyn Fn(i64) -> (f64, String)) -> Vec<Shape> {
    let every = ((span.last - span.first) / 7.0 / NAMED).ceil().max(1.0);
    let mut shapes = Vec::new();
    for week in -8..260_i32 {
        let (day, name) = monday(i64::from(week));
        if day < span.first || day > span.last {
            continue;
        }
        let x = span.x(day);
        let named = f64::from(week).rem_euclid(every) == 0.0;
        if named {
            shapes.push(Shape::line(at(x, TOP), at(x, bottom), Role::Faint, HAIRLINE));
            let word = Text {
                at: at(x, TOP - 2.5),
                text: name,
                size_mm: TYPE,
                anchor: Anchor::Middle,
                role: Role::Faint,
                bold: false,
            };
            shapes.push(Shape::Text(word.kept_within(WIDTH, 0.5)));
        }
    }
    shapes
}

fn bar(row: &WeekRow, span: &Span, y: f64) -> Vec<Shape> {
    let (from, to) = (span.x(row.from), span.x(row.to).max(span.x(row.from) + 0.8));
    let corners = rectangle(from, y - BAR / 2.0, to - from, BAR);
    let late = row.late_since.is_some();
    let words = if late { format!("{}, late", row.label) } else { row.label.clone() };
    let mut shapes = vec![Shape::Text(Text {
        at: at(LEFT - 2.0, y + 1.2),
        text: shortened(&words),
        size_mm: TYPE,
        anchor: Anchor::End,
        role: if late { Role::Out } else { Role::Ink },
        bold: row.decides,
    })];
    if let Some(since) = row.late_since {
        shapes.push(Shape::line(at(span.x(since), y), at(from, y), Role::Out, HEAVY));
    }
    if row.latest > row.to {
        shapes.push(Shape::line(at(to, y), at(span.x(row.latest), y), Role::Faint, HAIRLINE));
        let end = span.x(row.latest);
        shapes.push(Shape::line(at(end, y - 1.0), at(end, y + 1.0), Role::Faint, HAIRLINE));
    }
    match (row.thing, row.decides) {
        (true, decides) => {
            shapes.push(Shape::area(corners.clone(), Role::Paper));
            shapes.push(Shape::outline(corners, Role::Ink, if decides { HEAVY } else { LINE }));
        }
        (false, true) => shapes.push(Shape::area(corners, Role::Ink)),
        (false, false) => {
            shapes.push(Shape::area(corners.clone(), Role::Faint));
            shapes.push(Shape::outline(corners, Role::Ink, HAIRLINE));
        }
    }
    shapes
}

/// A label cut to the room left of the bars.
fn shortened(label: &str) -> String {
    let room = LEFT - 3.0;
    if word_width(label, TYPE) <= room {
        return label.to_owned();
    }
    let mut kept = String::new();
    for letter in label.chars() {
        if word_width(&kept, TYPE) + word_width("…", TYPE) * 2.0 > room {
            break;
        }
        kept.push(letter);
    }
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::assert_sound;

    fn row(label: &str, thing: bool, from: f64, to: f64, latest: f64) -> WeekRow {
        let late_since = (thing && from == 0.0 && latest > 90.0).then_some(-100.0);
        WeekRow { label: label.to_owned(), thing, late_since, from, to, latest, decides: latest <= to }
    }

    fn monday(week: i64) -> (f64, String) {
        (f64::from(i32::try_from(week).unwrap()) * 7.0 - 2.0, format!("week {week}"))
    }

    #[test]
    fn everything_stays_on_the_sheet() {
        let rows = vec![
            row("crank from a supplier with the longest name there ever was", true, 0.0, 44.0, 95.0),
            row("Main line", false, 44.0, 45.5, 45.5),
            row("Nothing at all", false, 46.0, 46.0, 60.0),
        ];
        let line = |day, words: &str| WeekLine { day, words: words.to_owned(), heavy: day == 0.0 };
        let lines = vec![line(0.0, "today"), line(400.0, "8 of 10 by 20 June"), line(-90.0, "promised 2 March")];
        let drawing = weeks(&Weeks { title: "Job 1".to_owned(), rows, lines }, &monday);
        assert_sound(&drawing);
        assert!(drawing.description.contains("late: crank from") && drawing.description.contains("end: Main line"));
        assert_sound(&weeks(&Weeks { title: "Job 2".to_owned(), rows: Vec::new(), lines: Vec::new() }, &monday));
    }

    #[test]
    fn later_is_further_right_and_what_is_waited_for_is_hollow() {
        let rows = vec![row("crank", true, 0.0, 20.0, 20.0), row("short block", false, 20.0, 25.0, 40.0)];
        let drawing = weeks(&Weeks { title: "Job".to_owned(), rows, lines: Vec::new() }, &monday);
        let areas = drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Polyline { points, fill: Some(fill), .. } => Some((points[0].x, *fill)),
            _ => None,
        });
        let areas: Vec<_> = areas.collect();
        assert_eq!(areas.iter().map(|(_, fill)| *fill).collect::<Vec<_>>(), [Role::Paper, Role::Faint]);
        assert!(areas[0].0 < areas[1].0);
    }
}
