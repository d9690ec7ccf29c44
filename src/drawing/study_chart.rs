//! A gauge's study to look at: what everyone read on every part, and where the scatter comes from.

use super::limit_strip::Show;
use super::{Anchor, Drawing, HAIRLINE, LINE, Point, Role, Shape, Text, at, rectangle};

const TYPE: f64 = 3.7;

/// What everyone read, in one unit.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyReadings {
    /// Names, in the order they read.
    pub people: Vec<String>,
    /// By part, person, trial.
    pub readings: Vec<Vec<Vec<f64>>>,
}

impl StudyReadings {
    fn finite(&self) -> impl Iterator<Item = f64> {
        self.readings.iter().flatten().flatten().copied().filter(|reading| reading.is_finite())
    }

    /// One person's mean on every part they read, with the part's number from 0.
    fn means_of(&self, person: usize) -> Vec<(usize, f64)> {
        let mean = |cell: &Vec<f64>| cell.iter().sum::<f64>() / cell.len().max(1) as f64;
        let cells = self.readings.iter().enumerate().filter_map(|(part, people)| Some((part, people.get(person)?)));
        cells.filter(|(_, cell)| !cell.is_empty()).map(|(part, cell)| (part, mean(cell))).collect()
    }
}

/// Where the readings lie on the sheet, mm.
struct Field {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    least: f64,
    most: f64,
    parts: usize,
    people: usize,
}

impl Field {
    fn y(&self, reading: f64) -> f64 {
        let span = self.most - self.least;
        let part = if span > 0.0 { (reading - self.least) / span } else { 0.5 };
        self.bottom - part * (self.bottom - self.top)
    }

    /// The middle of a part's column.
    fn part_x(&self, part: usize) -> f64 {
        self.left + self.column() * (part as f64 + 0.5)
    }

    /// Where a person's readings of a part stand, in the middle.
    fn x(&self, part: usize, person: usize) -> f64 {
        let beside = (person as f64 + 0.5) / self.people as f64 - 0.5;
        self.part_x(part) + beside * self.column() * 0.8
    }

    fn column(&self) -> f64 {
        (self.right - self.left) / self.parts.max(1) as f64
    }
}

/// Every reading over its part, each person with a mark of their own and a line through their means; 180 × 72 mm.
#[must_use]
pub fn study_readings(study: &StudyReadings, show: Show) -> Drawing {
    let (width, height) = (180.0, 72.0);
    let least = study.finite().fold(f64::INFINITY, f64::min);
    let most = study.finite().fold(f64::NEG_INFINITY, f64::max);
    let mut shapes = Vec::new();
    if least <= most {
        let (parts, people) = (study.readings.len(), study.people.len().max(1));
        let field = Field { left: 28.0, right: 142.0, top: 4.0, bottom: 62.0, least, most, parts, people };
        shapes.extend(scale(&field, show));
        let mut names = Vec::new();
        for (person, name) in study.people.iter().enumerate() {
            shapes.extend(read_by(study, &field, person));
            let end = study.means_of(person).last().map_or(field.bottom, |(_, mean)| field.y(*mean));
            names.push((person, name.as_str(), end));
        }
        shapes.extend(names_beside(names, &field, width));
    } else {
        shapes.push(Shape::word(at(width / 2.0, height / 2.0), "nothing read yet", TYPE, Anchor::Middle, Role::Ink));
    }
    let description = if least <= most {
        let (low, high) = (show(least), show(most));
        format!("{} parts read by {}, from {low} to {high}.", study.readings.len(), study.people.join(", "))
    } else {
        "Nothing read yet.".to_owned()
    };
    let title = "Readings by part and person".to_owned();
    Drawing { width_mm: width, height_mm: height, title, description, shapes, touches: Vec::new() }
}

/// The parts' columns with their numbers, and the least and the greatest reading.
fn scale(field: &Field, show: Show) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for part in 0..field.parts {
        let x = field.part_x(part);
        if part > 0 {
            let edge = x - field.column() / 2.0;
            shapes.push(Shape::line(at(edge, field.top - 2.0), at(edge, field.bottom + 2.0), Role::Faint, HAIRLINE));
        }
        // Numbers that would run into each other are left out in turn.
        let every = if field.column() < 7.0 { 2 } else { 1 };
        if part % every == 0 {
            let number = (part + 1).to_string();
            shapes.push(Shape::word(at(x, field.bottom + 6.5), number, TYPE, Anchor::Middle, Role::Ink));
        }
    }
    let ends = if field.most > field.least { vec![field.least, field.most] } else { vec![field.least] };
    for reading in ends {
        let y = field.y(reading);
        shapes.push(Shape::line(at(field.left, y), at(field.right, y), Role::Faint, HAIRLINE));
        let word = Text {
            at: at(field.left - 1.5, y + 1.3),
            text: show(reading),
            size_mm: TYPE,
            anchor: Anchor::End,
            role: Role::Ink,
            bold: false,
        };
        shapes.push(Shape::Text(word.kept_within(field.right, 0.5)));
    }
    shapes.push(Shape::word(at(field.left - 1.5, field.bottom + 6.5), "part", TYPE, Anchor::End, Role::Ink));
    shapes
}

fn read_by(study: &StudyReadings, field: &Field, person: usize) -> Vec<Shape> {
    let place = |(part, mean): (usize, f64)| at(field.x(part, person), field.y(mean));
    let means: Vec<Point> = study.means_of(person).into_iter().map(place).collect();
    let mut shapes = Vec::new();
    if means.len() > 1 {
        shapes.push(Shape::path(means, Role::Ink, HAIRLINE));
    }
    for (part, people) in study.readings.iter().enumerate() {
        let cell: &[f64] = people.get(person).map_or(&[], Vec::as_slice);
        for (trial, reading) in cell.iter().enumerate().filter(|(_, reading)| reading.is_finite()) {
            // Trials stand a little beside each other, so that one does not hide another.
            let aside = (trial as f64 + 0.5) / cell.len() as f64 - 0.5;
            let x = field.x(part, person) + aside * field.column() * 0.5 / field.people as f64;
            shapes.extend(mark(person, at(x, field.y(*reading))));
        }
    }
    shapes
}

/// Every person's own mark; outlines differ, so that they survive a photocopy.
fn mark(person: usize, centre: Point) -> Vec<Shape> {
    let r = 1.1;
    let Point { x, y } = centre;
    let tilted = vec![at(x, y - 1.3 * r), at(x + 1.3 * r, y), at(x, y + 1.3 * r), at(x - 1.3 * r, y)];
    match person % 6 {
        0 => vec![Shape::dot(centre, r, Role::Dye)],
        1 => vec![Shape::ring(centre, r, Role::Dye, LINE)],
        2 => vec![Shape::area(rectangle(x - r, y - r, 2.0 * r, 2.0 * r), Role::Dye)],
        3 => vec![Shape::outline(tilted, Role::Dye, LINE)],
        4 => vec![
            Shape::line(at(x - r, y - r), at(x + r, y + r), Role::Dye, LINE),
            Shape::line(at(x - r, y + r), at(x + r, y - r), Role::Dye, LINE),
        ],
        _ => vec![Shape::area(tilted, Role::Dye)],
    }
}

/// Names with their marks beside the ends of their lines, in the same order, none on another.
fn names_beside(mut names: Vec<(usize, &str, f64)>, field: &Field, width: f64) -> Vec<Shape> {
    names.sort_by(|a, b| a.2.total_cmp(&b.2));
    let mut free = field.top;
    // As many lines as there are names still to come stay free beneath.
    let mut lowest = field.bottom + 6.0 - LEADING * names.len() as f64;
    let mut shapes = Vec::new();
    for (person, name, end) in names {
        lowest += LEADING;
        let y = end.clamp(free, lowest.max(free));
        free = y + LEADING;
        let from = at(field.right + 1.0, y);
        shapes.extend(mark(person, at(from.x + 2.0, y)));
        let most = (width - from.x - 7.0) / (TYPE * 0.6);
        shapes.push(Shape::word(at(from.x + 5.0, y + 1.3), shortened(name, most), TYPE, Anchor::Start, Role::Ink));
    }
    shapes
}

const LEADING: f64 = 5.0;

/// A name cut to so many characters.
fn shortened(name: &str, most: f64) -> String {
    let letters = name.chars().count() as f64;
    if letters <= most {
        return name.to_owned();
    }
    let kept = name.chars().scan(1.0, |count, letter| {
        *count += 1.0;
        (*count <= most).then_some(letter)
    });
    format!("{}…", kept.collect::<String>().trim_end())
}

/// One share of the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// "repeatability".
    pub name: String,
    /// In per cent.
    pub per_cent: f64,
}

/// Shares as bars beneath each other, each with its name and figure; 120 mm wide.
#[must_use]
pub fn shares(title: &str, shares: &[Share]) -> Drawing {
    let (left, full, row) = (44.0, 58.0, 8.0);
    let mut shapes = Vec::new();
    let mut y = 2.0;
    for share in shares {
        let part = if share.per_cent.is_finite() { share.per_cent.clamp(0.0, 100.0) } else { 0.0 };
        shapes.push(Shape::word(at(1.0, y + 4.6), share.name.clone(), TYPE, Anchor::Start, Role::Ink));
        shapes.push(Shape::outline(rectangle(left, y + 1.0, full, row - 3.0), Role::Faint, HAIRLINE));
        shapes.push(Shape::area(rectangle(left, y + 1.0, full * part / 100.0, row - 3.0), Role::Dye));
        shapes.push(Shape::Text(Text {
            at: at(119.0, y + 4.6),
            text: in_per_cent(part),
            size_mm: TYPE,
            anchor: Anchor::End,
            role: Role::Ink,
            bold: true,
        }));
        y += row;
    }
    let said: Vec<String> =
        shares.iter().map(|share| format!("{} {}", share.name, in_per_cent(share.per_cent))).collect();
    Drawing {
        width_mm: 120.0,
        height_mm: y + 2.0,
        title: title.to_owned(),
        description: format!("{}.", said.join(", ")),
        shapes,
        touches: Vec::new(),
    }
}

/// "7.8 %".
fn in_per_cent(share: f64) -> String {
    format!("{share:.1}\u{a0}%")
}

#[cfg(test)]
mod tests {
    use super::super::soundness::assert_sound;
    use super::*;

    fn readings(parts: usize, people: usize, trials: usize) -> StudyReadings {
        let read = |part: usize, person: usize, trial: usize| part as f64 + person as f64 * 0.2 + trial as f64 * 0.01;
        let cell = |part, person| (0..trials).map(|trial| read(part, person, trial)).collect();
        let names = ["Ada", "Bo", "Cornelia van der Featherstonehaugh", "Di", "Ed", "Flo"];
        StudyReadings {
            people: names[..people].iter().map(ToString::to_string).collect(),
            readings: (0..parts).map(|part| (0..people).map(|person| cell(part, person)).collect()).collect(),
        }
    }

    #[test]
    fn every_size_of_study_stays_on_the_sheet() {
        for (parts, people, trials) in [(1, 1, 2), (10, 3, 3), (2, 6, 2), (30, 6, 10)] {
            let drawing = study_readings(&readings(parts, people, trials), &|x| format!("{x:.4} in"));
            assert_sound(&drawing);
            let words = drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Text(_))).count();
            assert!(words > people, "{parts} parts: {words} words");
        }
    }

    #[test]
    fn nothing_and_all_the_same_can_be_drawn() {
        assert_sound(&study_readings(&StudyReadings { people: Vec::new(), readings: Vec::new() }, &|x| x.to_string()));
        let same = StudyReadings { people: vec!["Ada".into()], readings: vec![vec![vec![1.0, 1.0, f64::NAN]]] };
        assert_sound(&study_readings(&same, &|x| x.to_string()));
    }

    #[test]
    fn bars_are_as_long_as_their_shares() {
        let share = |name: &str, per_cent| Share { name: name.to_owned(), per_cent };
        let drawing = shares("Where it comes from", &[share("repeatability", 25.0), share("parts", 75.0)]);
        assert_sound(&drawing);
        let bars: Vec<f64> = drawing
            .shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Polyline { points, fill: Some(Role::Dye), .. } => Some(points[1].x - points[0].x),
                _ => None,
            })
            .collect();
        assert!((bars[1] - 3.0 * bars[0]).abs() < 1e-9, "{bars:?}");
        assert_eq!(drawing.description, "repeatability 25.0\u{a0}%, parts 75.0\u{a0}%.");
        assert_sound(&shares("Odd", &[share("x", f64::NAN), share("y", 250.0), share("z", -1.0)]));
    }
}
